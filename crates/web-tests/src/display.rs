//! A screen that nobody sees, for a browser that must have one.

use std::io::{BufRead as _, BufReader};
use std::process::{Child, Command, Stdio};

/// The screen; it ends with this.
pub struct Display {
    child: Child,
    number: String,
}

impl Display {
    /// Starts one under a free number.
    pub(crate) fn start() -> Self {
        let mut child = Command::new("Xvfb")
            .args(["-displayfd", "1", "-screen", "0", "1400x1000x24"])
            .args(["-nolisten", "tcp"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("Xvfb must be installed (Debian: xvfb)");
        let output = child.stdout.take().expect("it was piped");
        let mut number = String::new();
        // it writes this one line when it is ready
        let told = BufReader::new(output).read_line(&mut number);
        // made before anything may fail, so that it ends whatever comes
        let display = Self {
            child,
            number: number.trim().to_owned(),
        };
        assert!(
            told.is_ok() && !display.number.is_empty(),
            "Xvfb says its number"
        );
        display
    }

    /// Its name for programs.
    pub(crate) fn name(&self) -> String {
        format!(":{}", self.number)
    }
}

impl Drop for Display {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
