//! Starts the WebDriver of a browser and ends it with everything that it started.

use std::ffi::OsString;
use std::io::{BufRead as _, BufReader};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::os::unix::process::CommandExt as _;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::time::{Duration, Instant};

use crate::engine::Engine;

/// How often it is started before the test gives up.
const TRIES: usize = 3;

/// How long it may take to start.
const PATIENCE: Duration = Duration::from_secs(30);

/// A running WebDriver.
pub struct Driver {
    child: Child,
    /// Its port.
    pub port: u16,
}

impl Driver {
    /// Starts an engine's on a free port. `home` is its home folder, so that the browser keeps nothing of
    /// this machine's user and trusts what that folder says; the environment gets these variables, too.
    pub fn start(engine: Engine, home: &Path, environment: &[(OsString, OsString)]) -> Self {
        // it looks for a port that is free, and gives up when another takes it meanwhile
        let mut tries = (0..TRIES).map(|_| Self::begin(engine, home, environment));
        tries
            .find_map(Result::ok)
            .expect("the driver says its port when it has started")
    }

    fn begin(
        engine: Engine,
        home: &Path,
        environment: &[(OsString, OsString)],
    ) -> Result<Self, RecvTimeoutError> {
        let port = engine.port_to_ask_for();
        let mut child = Command::new(engine.driver())
            .arg(format!("--port={port}"))
            .envs(environment.iter().map(|(name, value)| (name, value)))
            .env("HOME", home)
            .env("XDG_CONFIG_HOME", home.join("config"))
            .env("XDG_CACHE_HOME", home.join("cache"))
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            // a group of its own, so that the browser ends with it
            .process_group(0)
            .spawn()
            .unwrap_or_else(|why| panic!("{} must be installed: {why}", engine.driver()));
        let output = child.stdout.take().expect("it was piped");
        let (tell, told) = mpsc::channel();
        // read to the end, so that it never writes into a closed pipe
        std::thread::spawn(move || {
            for line in BufReader::new(output).lines().map_while(Result::ok) {
                if let Some(port) = engine.port_told(&line) {
                    let _ = tell.send(port);
                }
            }
        });
        // made before anything may fail, so that it ends whatever comes
        let mut driver = Self { child, port };
        driver.port = match port {
            0 => told.recv_timeout(PATIENCE)?,
            port if answers(port) => port,
            _ => return Err(RecvTimeoutError::Timeout),
        };
        Ok(driver)
    }
}

/// Whether someone answers at this port before long.
fn answers(port: u16) -> bool {
    let until = Instant::now() + PATIENCE;
    while Instant::now() < until {
        if TcpStream::connect((Ipv4Addr::LOCALHOST, port)).is_ok() {
            return true;
        }
        std::thread::sleep(Duration::from_millis(20));
    }
    false
}

impl Engine {
    /// Its WebDriver.
    const fn driver(self) -> &'static str {
        match self {
            Self::Chromium => "chromedriver",
            Self::WebKit => "WebKitWebDriver",
            Self::Firefox => "geckodriver",
        }
    }

    /// 0 where it chooses one itself and tells it.
    fn port_to_ask_for(self) -> u16 {
        match self {
            Self::Chromium | Self::Firefox => 0,
            Self::WebKit => TcpListener::bind((Ipv4Addr::LOCALHOST, 0))
                .and_then(|free| free.local_addr())
                .map(|address| address.port())
                .expect("a free port"),
        }
    }

    /// The port that a line of its output tells.
    fn port_told(self, line: &str) -> Option<u16> {
        let port = match self {
            Self::Chromium => line.split_once("started successfully on port ")?.1,
            Self::Firefox => line.split_once("Listening on 127.0.0.1:")?.1,
            Self::WebKit => return None,
        };
        port.trim_end_matches('.').parse().ok()
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
