//! The app started: what it says, what it serves, how it ends, and what keeps it from starting.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::Path;
use std::process::{Child, ChildStdout, Command, Stdio};

use serde_json::Value;

use crate::support::Desk;

/// A running app; ended by its id when the test ends otherwise.
struct Running {
    child: Child,
    out: BufReader<ChildStdout>,
    said: Value,
}

impl Running {
    fn start(data: &Path, args: &[&str]) -> Self {
        Self::start_as(&mut Self::command(data, args))
    }

    fn command(data: &Path, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_combwright"));
        command
            .args(["--json", "--port", "0"])
            .args(args)
            .env("COMBWRIGHT_DATA", data)
            .env_remove("COMBWRIGHT_DEMO")
            .env_remove("DISPLAY")
            .env_remove("WAYLAND_DISPLAY")
            .stdin(Stdio::null())
            .stdout(Stdio::piped());
        command
    }

    fn start_as(command: &mut Command) -> Self {
        let mut child = command.spawn().expect("the binary runs");
        let mut out = BufReader::new(child.stdout.take().expect("it was piped"));
        let mut line = String::new();
        out.read_line(&mut line).expect("it says where it is");
        let said = serde_json::from_str(&line).unwrap_or_else(|why| panic!("{why}: {line}"));
        Self { child, out, said }
    }

    fn entries(&self) -> u64 {
        self.said["entries"].as_u64().expect("a count")
    }

    /// The host and port of its address.
    fn host(&self) -> String {
        let address = self.said["address"].as_str().expect("an address");
        let host = address.trim_start_matches("http://");
        host.trim_end_matches('/').to_owned()
    }

    /// Asks for a path as the browser of this machine; gives head and body.
    fn get(&self, path: &str) -> (String, String) {
        let host = self.host();
        let port = host.rsplit(':').next().and_then(|port| port.parse().ok());
        let at = (Ipv4Addr::LOCALHOST, port.expect("a port"));
        let mut stream = TcpStream::connect(at).expect("it listens");
        write!(
            stream,
            "GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"
        )
        .expect("it takes the question");
        let mut answer = String::new();
        stream.read_to_string(&mut answer).expect("it answers");
        let (head, body) = answer.split_once("\r\n\r\n").expect("head and body");
        (head.to_owned(), body.to_owned())
    }

    fn held(&self) -> u64 {
        let (_, body) = self.get("/api/v1/journal");
        let about: Value = serde_json::from_str(&body).expect("JSON");
        about["entries"].as_u64().expect("a count")
    }

    /// Sends a signal and waits for the end; gives the exit code and what else it said.
    fn end_by(mut self, signal: &str) -> (Option<i32>, String) {
        let id = self.child.id().to_string();
        let sent = Command::new("kill").args(["-s", signal, &id]).status();
        assert!(sent.expect("kill runs").success());
        let mut rest = String::new();
        self.out.read_to_string(&mut rest).expect("it ends");
        (self.child.wait().expect("it ends").code(), rest)
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// What is due reaches calendar programs: read by a parser that is not ours, over HTTP.
#[test]
fn the_calendar_is_handed_out_as_it_stands() {
    use icalendar::{Calendar, CalendarComponent, Component as _};
    let desk = Desk::at_wattle_bend();
    let running = Running::start(desk.path(), &["--no-browser"]);
    let due = || {
        let (head, body) = running.get("/calendar.ics");
        assert!(head.starts_with("HTTP/1.1 200"), "{head}");
        assert!(head.contains("text/calendar; charset=utf-8"), "{head}");
        let read: Calendar = body.parse().expect("icalendar reads it");
        let events = read
            .components
            .iter()
            .filter_map(CalendarComponent::as_event);
        events
            .filter_map(|event| event.get_summary().map(str::to_owned))
            .collect::<Vec<_>>()
    };
    let before = due();
    assert!(
        before.iter().any(|s| s.contains("come back for honey")),
        "{before:?}"
    );
    // what the command line records meanwhile is there at the next question
    desk.does(&[
        "health",
        "treat",
        "Banksia",
        "Acme Strips",
        "--withhold",
        "14",
        "--out-by",
        "2099-01-01",
    ]);
    let after = due();
    let returns = |all: &[String]| all.iter().filter(|s| s.starts_with("Banksia: co")).count();
    assert_eq!(
        (returns(&before), returns(&after)),
        (1, 0),
        "while strips are in"
    );
    assert!(
        after.contains(&"Banksia: take Acme Strips out".to_owned()),
        "{after:?}"
    );
}

#[test]
fn wattle_bend_comes_into_an_empty_journal_and_is_still_there_after_a_restart() {
    let desk = Desk::empty();
    let first = Running::start(desk.path(), &["--demo"]);
    assert_eq!(first.said["wattle_bend_brought"], true);
    assert!(first.entries() > 100);
    assert_eq!(first.held(), first.entries(), "and it is served");
    let (head, health) = first.get("/health");
    assert!(head.starts_with("HTTP/1.1 200"), "{head}");
    assert!(health.contains("\"status\":\"ok\""), "{health}");
    // the command line writes into the same journal meanwhile
    desk.does(&["journal", "note", "Banksia", "wattle in flower"]);
    assert_eq!(first.held(), first.entries() + 1);
    let before = first.entries();
    let (code, rest) = first.end_by("INT");
    assert_eq!((code, rest.as_str()), (Some(0), ""));

    let again = Running::start(desk.path(), &["--demo"]);
    assert_eq!(again.said["wattle_bend_brought"], false);
    assert_eq!(again.entries(), before + 1, "nothing lost, nothing twice");
    assert_eq!(again.end_by("TERM").0, Some(0));
    desk.does(&["journal", "verify"]);
}

#[test]
fn a_keepers_own_journal_does_not_begin_with_invented_hives() {
    for args in [&["--no-demo"][..], &["--demo", "--no-demo"], &[]] {
        let desk = Desk::empty();
        let running = Running::start(desk.path(), args);
        assert_eq!((running.entries(), running.held()), (0, 0), "{args:?}");
        assert_eq!(running.said["phones"], Value::Null);
    }
    let desk = Desk::empty();
    desk.does(&["yard", "apiary", "Home yard"]);
    let running = Running::start(desk.path(), &["--demo"]);
    assert_eq!(running.entries(), 1);
}

/// The variable as `./run` sets it, and as people write yes and no.
#[test]
fn the_run_script_brings_wattle_bend_by_a_variable() {
    let script = include_str!("../../../../run");
    let set = script.split("COMBWRIGHT_DEMO:-").nth(1);
    let set = set.and_then(|rest| rest.split('}').next());
    for (value, brought) in [(set.expect("it is set"), true), ("1", true), ("0", false)] {
        let desk = Desk::empty();
        let mut command = Running::command(desk.path(), &[]);
        let running = Running::start_as(command.env("COMBWRIGHT_DEMO", value));
        assert_eq!(running.said["wattle_bend_brought"], brought, "{value}");
    }
}

#[test]
fn phones_are_let_in_on_demand_only() {
    let desk = Desk::empty();
    let running = Running::start(desk.path(), &["--lan", "--lan-name", "hut.local"]);
    let phones = &running.said["phones"];
    let app = phones["app"].as_array().expect("addresses");
    let named = |at: &Value| {
        at.as_str()
            .is_some_and(|at| at.starts_with("https://hut.local:"))
    };
    assert!(app.iter().any(named), "{phones}");
    assert_eq!(phones["code"].as_str().expect("a code").len(), 8);
    assert!(desk.path().join("authority.pem").exists());
}

#[test]
fn in_words_it_says_where_it_is_and_how_phones_get_in() {
    let desk = Desk::empty();
    let command = Running::command(desk.path(), &["--lan", "--lan-name", "hut.local"]);
    // as text: the same without --json, which comes first
    let args: Vec<_> = command.get_args().skip(1).map(ToOwned::to_owned).collect();
    let mut child = Command::new(env!("CARGO_BIN_EXE_combwright"));
    child.args(args).env("COMBWRIGHT_DATA", desk.path());
    child.env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY");
    child.stdin(Stdio::null()).stdout(Stdio::piped());
    drop(command);
    let mut child = child.spawn().expect("the binary runs");
    let mut out = BufReader::new(child.stdout.take().expect("it was piped"));
    let mut text = String::new();
    while !text.contains("Ctrl-C stops it.") {
        assert!(out.read_line(&mut text).expect("it speaks") > 0, "{text}");
    }
    let id = child.id().to_string();
    let sent = Command::new("kill").args(["-s", "INT", &id]).status();
    assert!(sent.expect("kill runs").success());
    out.read_to_string(&mut text).expect("it ends");
    assert!(child.wait().expect("it ends").success());
    let parts = [
        "Combwright is at http://localhost:",
        "/phone",
        "\u{2588}",
        "Code to pair with: ",
        "Journal: ",
        "Stopped. Everything recorded is kept.",
    ];
    let places: Vec<_> = parts.iter().map(|part| text.find(part)).collect();
    assert!(
        places.iter().all(Option::is_some) && places.is_sorted(),
        "{places:?} {text}"
    );
}

#[test]
fn the_browser_is_opened_where_there_is_a_screen() {
    let desk = Desk::empty();
    let opened = desk.path().join("opened");
    let tool = desk.file(
        "xdg-open",
        format!("#!/bin/sh\necho \"$1\" > {}\n", opened.display()),
    );
    let mode = std::os::unix::fs::PermissionsExt::from_mode(0o755);
    std::fs::set_permissions(&tool, mode).expect("it may be run");
    let path = format!(
        "{}:{}",
        desk.path().display(),
        std::env::var("PATH").expect("a path")
    );
    let start = |args: &[&str], screen: bool| {
        let mut command = Running::command(desk.path(), args);
        command.env("PATH", &path);
        if screen {
            command.env("DISPLAY", ":9");
        }
        Running::start_as(&mut command)
    };
    let waited = |running: &Running| {
        // a page was asked for and answered since, so the tool had its turn many times over
        for _ in 0..20 {
            running.get("/health");
            std::thread::sleep(std::time::Duration::from_millis(50));
        }
        std::fs::read_to_string(&opened).ok()
    };
    assert_eq!(waited(&start(&[], false)), None, "no screen");
    assert_eq!(waited(&start(&["--no-browser"], true)), None, "not wanted");
    let running = start(&[], true);
    let address = running.said["address"].as_str().expect("an address");
    assert_eq!(waited(&running), Some(format!("{address}\n")));
}

#[test]
fn a_port_in_use_is_told_with_what_to_do() {
    let desk = Desk::empty();
    let taken = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).expect("a port");
    let port = taken.local_addr().expect("its address").port().to_string();
    let err = desk.refuses(1, &["--port", &port, "--demo"]);
    assert!(err.contains(&format!("port {port} is in use")), "{err}");
    assert!(err.contains("may be running already"), "{err}");
    desk.refuses(1, &["--lan", "--port", "65535"]);
}

#[test]
fn a_journal_of_a_newer_version_is_left_alone() {
    let desk = Desk::empty();
    desk.does(&["yard", "apiary", "Home yard"]);
    let file = desk.path().join("journal.sqlite");
    let mut bytes = std::fs::read(&file).expect("the journal is there");
    // "The Database Header", section 1.3 of the SQLite file format: user version at 60
    bytes[60..64].copy_from_slice(&99_u32.to_be_bytes());
    std::fs::write(&file, &bytes).expect("it can be changed");
    let ran = desk.run(&["--port", "0"]);
    assert_eq!(ran.code, 3, "{}", ran.err);
    assert!(ran.err.contains("newer version"), "{}", ran.err);
    let mut bytes = std::fs::read(&file).expect("reads");
    assert_eq!(bytes[60..64], 99_u32.to_be_bytes(), "left as it was");
    bytes[60..64].copy_from_slice(&store::FILE_VERSION.to_be_bytes());
    std::fs::write(&file, &bytes).expect("it can be changed");
    assert_eq!(desk.length(), 1);
}

#[test]
fn a_data_folder_that_cannot_be_written_is_told() {
    let desk = Desk::empty();
    let file = desk.file("a-file", "not a folder");
    let ran = desk.run(&["--port", "0", "--data", file.to_str().expect("text")]);
    assert_eq!(ran.code, 3, "{}", ran.err);
    assert!(ran.err.contains("a-file"), "{}", ran.err);
}

#[test]
fn options_of_the_app_do_not_go_with_a_command() {
    let desk = Desk::empty();
    for option in ["--lan", "--no-demo", "--no-browser"] {
        let ran = desk.run(&[option, "yard"]);
        assert_eq!(ran.code, 2, "{}", ran.err);
        assert!(ran.err.contains("is for starting the app"), "{}", ran.err);
    }
}

/// The notes that the README gives to try are understood as a reader would expect.
#[test]
fn the_readmes_visit_is_understood() {
    let readme = include_str!("../../../../README.md");
    let notes = readme.split("```text\n").nth(1).unwrap();
    let notes = notes.split("```").next().unwrap();
    let desk = Desk::at_wattle_bend();
    let file = desk.file("visit.txt", notes);
    let told = desk.json(&["hear", "--summary", file.to_str().unwrap()]);
    let bars: Vec<_> = told["combs"].as_array().unwrap().iter().collect();
    let numbers: Vec<_> = bars.iter().map(|c| c["bar"].as_u64().unwrap()).collect();
    assert_eq!(numbers, [10, 11, 9, 15]);
    assert_eq!(bars[3]["holds"][0], "worker brood");
    let shown: Vec<_> = bars.iter().map(|c| c["decision"].as_str()).collect();
    assert_eq!(shown, [Some("take"), Some("leave"), Some("leave"), None]);
    desk.json(&["hear", file.to_str().unwrap(), "--into", "Ironbark"]);
}
