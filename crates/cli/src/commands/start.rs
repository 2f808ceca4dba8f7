//! `combwright` alone: the app on this machine, with the journal behind it.

use std::io::{BufRead, IsTerminal, Write};
use std::path::Path;
use std::sync::Arc;

use kept::Kept;
use serde_json::json;
use server::welcome::{Phones, spaced};
use server::{Config, Embedded, Lan, News, Offer, Server, ServerError, has_app};
use sha2::{Digest as _, Sha256};
use store::Journal;

use super::Context;
use crate::args::Start;
use crate::calendar::DueThings;
use crate::failure::Failure;
use crate::journal::Open;
use crate::{out, surroundings};

/// Starts the app and runs until it is told to stop.
pub(crate) async fn start(
    context: &Context,
    args: Start,
    app: &'static [Embedded],
) -> Result<(), Failure> {
    let open = Open::to_write(&context.folder).await?;
    // writes nothing unless this is a new place, but would fail where nothing can be written
    open.store().device().await?;
    let kept = Arc::new(Kept::new(open.store().clone()));
    let json = context.json;
    let config = Config {
        app,
        ..config(context, &args)?
    };
    let offer = Offer {
        journal: kept,
        calendar: Some(Arc::new(DueThings {
            journal: open.store().clone(),
            folder: context.folder.clone(),
        })),
        further: None,
    };
    let server = Server::bind_with(&config, offer, move |news| tell(&news, json))?;
    let brought = if open.store().is_empty().await? && wanted(context, &args)? {
        crate::demo::bring(&open, context.now()).await?;
        true
    } else {
        false
    };
    let entries = open.store().len().await?;
    let started = Started {
        context,
        app,
        server: &server,
        brought,
        entries,
    };
    // before it says that it runs: whoever reads that may end it at once
    let stop = told_to_stop()?;
    started.tell(&args);
    if !args.no_browser {
        open_browser(&server.welcome().here);
    }
    let proving = tokio::spawn(prove(open.store().clone(), json));
    server.run(stop).await?;
    proving.abort();
    open.close().await;
    if !json {
        out::line("Stopped. Everything recorded is kept.");
    }
    Ok(())
}

fn config(context: &Context, args: &Start) -> Result<Config, Failure> {
    let mut config = Config::new(context.folder.clone());
    config.port = args.port.unwrap_or_else(|| port(&context.folder));
    if args.lan {
        if config.port == u16::MAX {
            return Err(Failure::input(format!(
                "--port {} leaves no port above it for the phones",
                config.port
            ))
            .help("Choose a lower one."));
        }
        config.lan = Lan::On {
            also: args.lan_name.clone(),
        };
    }
    Ok(config)
}

/// The port of the app on a journal when nothing else is said.
pub(crate) fn port(folder: &Path) -> u16 {
    let usual = surroundings::data_folder(None).ok();
    if usual.as_deref() == Some(folder) {
        Config::PORT
    } else {
        port_of(folder)
    }
}

/// The port of a journal in another place than the usual one, the same at each start. A browser keeps
/// what it holds by address and port: at one port for all, it would carry the entries of one
/// journal into the next.
fn port_of(folder: &Path) -> u16 {
    let place = folder.canonicalize();
    let place = place.unwrap_or_else(|_| folder.to_path_buf());
    let digest = Sha256::digest(place.as_os_str().as_encoded_bytes());
    // two by two, since phones come in at the next one
    Config::PORT + 2 + 2 * u16::from(digest[0])
}

/// Whether Wattle Bend is to come into a journal that is empty: as told, else as the person at the
/// terminal says; where nobody sits there, a keeper's own journal is not begun with invented hives.
fn wanted(context: &Context, args: &Start) -> Result<bool, Failure> {
    if args.no_demo || args.demo {
        return Ok(!args.no_demo);
    }
    let person = std::io::stdin().is_terminal() && std::io::stdout().is_terminal();
    if !person || context.json {
        return Ok(false);
    }
    out::folded(
        "",
        &format!(
            "The journal in {} is empty. Wattle Bend is an invented yard: five hives over one \
             season, to try things on. It can only come first, and stays in this journal.",
            context.folder.display()
        ),
    );
    let mut page = std::io::stdout().lock();
    let _ = write!(page, "Bring Wattle Bend? [Y/n] ");
    let _ = page.flush();
    let mut said = String::new();
    let read = std::io::stdin()
        .lock()
        .read_line(&mut said)
        .map_err(|why| Failure::input(format!("the terminal cannot be read: {why}")))?;
    let said = said.trim().to_lowercase();
    Ok(read > 0 && (said.is_empty() || said.starts_with('y')))
}

/// What is told once it runs.
struct Started<'a> {
    app: &'static [Embedded],
    context: &'a Context,
    server: &'a Server,
    brought: bool,
    entries: u64,
}

impl Started<'_> {
    fn tell(&self, args: &Start) {
        let welcome = self.server.welcome();
        let folder = self.context.folder.display().to_string();
        if self.context.json {
            // one line, so that a program need not wait for the end
            out::line(
                json!({
                    "address": welcome.here,
                    "data": folder,
                    "entries": self.entries,
                    "wattle_bend_brought": self.brought,
                    "phones": welcome.phones.as_ref().map(phones),
                })
                .to_string(),
            );
            return;
        }
        out::line(welcome.text().trim_end());
        out::line("");
        let held = match (self.entries, self.brought) {
            (entries, true) => format!("Wattle Bend, five invented hives in {entries} entries"),
            (0, false) => "nothing yet".to_owned(),
            (1, false) => "one entry".to_owned(),
            (entries, false) => format!("{entries} entries"),
        };
        out::folded("Journal: ", &format!("{folder} ({held})"));
        if !args.lan {
            out::line("Phones:  not let in; `combwright --lan` lets them in, paired by a code");
        }
        if !has_app(self.app) {
            out::line("The app itself was left out of this build: see the page.");
        }
        out::line(format!(
            "Due:     {}, for a calendar program; `combwright paper feed`",
            server::calendar::here(&welcome.here)
        ));
        out::line("Ctrl-C stops it.");
    }
}

fn phones(phones: &Phones) -> serde_json::Value {
    json!({
        "explains": phones.explains,
        "app": phones.app,
        "code": phones.code,
        "fingerprint_sha256": phones.fingerprint,
    })
}

/// What the person at the screen should know, as it happens.
fn tell(news: &News, json: bool) {
    let (words, object) = match news {
        News::Paired { name, next_code } => (
            format!(
                "Paired: {name}. Code for the next one: {}",
                spaced(next_code)
            ),
            json!({ "paired": name, "code": next_code }),
        ),
        News::CodeRenewed { next_code } => (
            format!(
                "Too many wrong codes. The code is now {}",
                spaced(next_code)
            ),
            json!({ "code": next_code }),
        ),
        News::Revoked { name } => (
            format!("No longer let in: {name}"),
            json!({ "revoked": name }),
        ),
        _ => return,
    };
    out::line(if json { object.to_string() } else { words });
}

/// Proves the journal while the app runs already, and says so when something is wrong with it.
async fn prove(journal: Journal, json: bool) {
    let told = match journal.verify().await {
        Ok(found) if found.is_sound() => return,
        Ok(found) => {
            let faults = found.faults.iter().map(ToString::to_string);
            faults.chain(found.structure).collect::<Vec<_>>().join("; ")
        }
        Err(why) => why.to_string(),
    };
    let failure = Failure::found(format!("the journal is not whole: {told}"))
        .help("See `combwright journal verify`. The app goes on with what is sound.");
    out::failure(&failure, json);
}

/// Opens the page where there is a screen to open it on; where there is none, the address was told.
fn open_browser(address: &str) {
    let screen = cfg!(not(all(unix, not(target_os = "macos"))))
        || ["DISPLAY", "WAYLAND_DISPLAY"]
            .iter()
            .any(|name| std::env::var_os(name).is_some_and(|value| !value.is_empty()));
    if screen {
        let _ = open::that_detached(address);
    }
}

/// Listens from now on for the person or the system to end the program; done when they do.
#[cfg(unix)]
fn told_to_stop() -> Result<impl Future<Output = ()>, Failure> {
    use tokio::signal::unix::{SignalKind, signal};
    let listen = |kind| {
        signal(kind).map_err(|why| Failure::input(format!("this system gives no signals: {why}")))
    };
    let mut interrupted = listen(SignalKind::interrupt())?;
    let mut terminated = listen(SignalKind::terminate())?;
    Ok(async move {
        tokio::select! {
            _ = interrupted.recv() => {}
            _ = terminated.recv() => {}
        }
    })
}

/// Done when the person ends the program.
#[cfg(not(unix))]
#[expect(clippy::unnecessary_wraps, reason = "one shape for every system")]
fn told_to_stop() -> Result<impl Future<Output = ()>, Failure> {
    Ok(async {
        let _ = tokio::signal::ctrl_c().await;
    })
}

impl From<ServerError> for Failure {
    fn from(why: ServerError) -> Self {
        match &why {
            ServerError::Listen { port, source } => match source.kind() {
                std::io::ErrorKind::AddrInUse => Self::input(format!("port {port} is in use"))
                    .help(format!(
                        "Combwright may be running already: look at http://localhost:{port}/. \
                         Otherwise choose another port with --port, or 0 for any that is free."
                    )),
                std::io::ErrorKind::PermissionDenied => {
                    Self::input(format!("this login may not listen on port {port}"))
                        .help("Choose a port above 1023 with --port.")
                }
                _ => Self::input(why.to_string()).help("Choose another port with --port."),
            },
            ServerError::File { .. } => Self::journal(why.to_string())
                .help("Name a folder that you may write to with --data."),
            ServerError::Damaged { .. } => Self::journal(why.to_string()),
            _ => Self::input(why.to_string()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_journal_in_another_place_has_a_port_of_its_own_and_keeps_it() {
        let ports = ["try", "mine", "wattle-bend"].map(|name| port_of(Path::new(name)));
        assert_eq!(
            ports,
            ["try", "mine", "wattle-bend"].map(|name| port_of(Path::new(name)))
        );
        assert!(ports[0] != ports[1] && ports[1] != ports[2] && ports[0] != ports[2]);
        for port in ports {
            assert!(
                port > Config::PORT + 1 && port % 2 == Config::PORT % 2,
                "{port}"
            );
        }
    }
}
