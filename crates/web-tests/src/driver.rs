//! Starts chromedriver and ends it with everything that it started.

use std::ffi::OsString;
use std::io::{BufRead as _, BufReader};
use std::os::unix::process::CommandExt as _;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::time::Duration;

/// How often it is started before the test gives up.
const TRIES: usize = 3;

/// A running chromedriver.
pub struct Driver {
    child: Child,
    /// Its port.
    pub port: u16,
}

impl Driver {
    /// Starts one on a free port. `home` is its home folder, so that the browser keeps nothing of
    /// this machine's user and trusts what that folder says; the environment gets these variables, too.
    pub fn start(home: &Path, environment: &[(OsString, OsString)]) -> Self {
        // it looks for a port that is free, and gives up when another takes it meanwhile
        let mut tries = (0..TRIES).map(|_| Self::begin(home, environment));
        tries
            .find_map(Result::ok)
            .expect("chromedriver says its port when it has started")
    }

    fn begin(home: &Path, environment: &[(OsString, OsString)]) -> Result<Self, RecvTimeoutError> {
        let mut child = Command::new("chromedriver")
            .arg("--port=0")
            .envs(environment.iter().map(|(name, value)| (name, value)))
            .env("HOME", home)
            .env("XDG_CONFIG_HOME", home.join("config"))
            .env("XDG_CACHE_HOME", home.join("cache"))
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            // a group of its own, so that the browser ends with it
            .process_group(0)
            .spawn()
            .expect("chromedriver must be installed (Debian: chromium-driver)");
        let output = child.stdout.take().expect("it was piped");
        let (tell, told) = mpsc::channel();
        // read to the end, so that it never writes into a closed pipe
        std::thread::spawn(move || {
            for line in BufReader::new(output).lines().map_while(Result::ok) {
                let port = line.split_once("started successfully on port ");
                if let Some(port) =
                    port.and_then(|(_, port)| port.trim_end_matches('.').parse().ok())
                {
                    let _ = tell.send(port);
                }
            }
        });
        let mut driver = Self { child, port: 0 };
        driver.port = told.recv_timeout(Duration::from_secs(30))?;
        Ok(driver)
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        // the group, by the id that was given to it here
        let group = format!("-{}", self.child.id());
        let _ = Command::new("kill").args(["-KILL", "--", &group]).status();
        let _ = self.child.wait();
    }
}
