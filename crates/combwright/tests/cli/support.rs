//! A data folder of its own for each test, and the binary run in it.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;
use tempfile::TempDir;

/// A day on which the yard is brought, so that dates in snapshots stand still.
pub(crate) const TODAY: &str = "2025-03-20T16:00";

/// A data folder.
pub(crate) struct Desk {
    folder: TempDir,
}

/// What a run gave.
pub(crate) struct Ran {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Desk {
    pub(crate) fn empty() -> Self {
        let folder = tempfile::tempdir().expect("a folder for the test");
        Self { folder }
    }

    pub(crate) fn at_wattle_bend() -> Self {
        let desk = Self::empty();
        desk.does(&["yard", "demo", "--on", TODAY]);
        desk
    }

    pub(crate) fn path(&self) -> &Path {
        self.folder.path()
    }

    pub(crate) fn file(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path().join(name);
        std::fs::write(&path, bytes).expect("the folder can be written");
        path
    }

    pub(crate) fn run(&self, args: &[&str]) -> Ran {
        self.run_with(args, None)
    }

    pub(crate) fn run_with(&self, args: &[&str], input: Option<&str>) -> Ran {
        let mut child = Command::new(env!("CARGO_BIN_EXE_combwright"))
            .args(args)
            .env("COMBWRIGHT_DATA", self.path())
            .env("COMBWRIGHT_BY", "Mara")
            .env("TZ", "UTC")
            .env_remove("NO_COLOR")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the binary runs");
        let mut stdin = child.stdin.take().expect("it was piped");
        // a command that does not read may have gone already
        let _ = stdin.write_all(input.unwrap_or_default().as_bytes());
        drop(stdin);
        let output = child.wait_with_output().expect("it ends");
        Ran::of(&output)
    }

    /// Runs what must succeed; gives standard output.
    pub(crate) fn does(&self, args: &[&str]) -> String {
        let ran = self.run(args);
        assert_eq!(ran.code, 0, "{args:?}: {}", ran.err);
        ran.out
    }

    /// Runs what must succeed and print JSON.
    pub(crate) fn json(&self, args: &[&str]) -> Value {
        let out = self.does(&[&["--json"], args].concat());
        serde_json::from_str(&out).unwrap_or_else(|why| panic!("{args:?}: {why}\n{out}"))
    }

    /// How many entries the journal holds.
    pub(crate) fn length(&self) -> u64 {
        let found = self.json(&["journal", "verify"]);
        found["entries"].as_u64().expect("a count")
    }

    /// Runs what must be refused with this code: told on standard error, the journal as it was.
    pub(crate) fn refuses(&self, code: i32, args: &[&str]) -> String {
        let before = self.length();
        let ran = self.run(args);
        assert_eq!(ran.code, code, "{args:?}: {}{}", ran.out, ran.err);
        assert_eq!(ran.out, "", "{args:?} printed on standard output");
        assert!(
            ran.err.lines().all(|l| l.chars().count() <= 80),
            "{}",
            ran.err
        );
        assert_eq!(self.length(), before, "{args:?} recorded something");
        words(&ran.err)
    }
}

impl Ran {
    fn of(output: &Output) -> Self {
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        Self {
            code: output.status.code().expect("it was not killed"),
            out: text(&output.stdout),
            err: text(&output.stderr),
        }
    }
}

/// An error's words in one line, without the marks down its left edge.
fn words(err: &str) -> String {
    let inner = err
        .lines()
        .map(|line| line.trim_start_matches([' ', 'x', '|', '×', '│']));
    inner
        .collect::<Vec<_>>()
        .join(" ")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}
