//! A server of the test's own that can be stopped and started again on the same port.

use std::net::{Ipv4Addr, TcpListener};
use std::path::PathBuf;
use std::sync::Arc;

use server::memory::MemoryJournal;
use server::welcome::Welcome;
use server::{Config, Lan, Server};
use tempfile::TempDir;
use tokio::sync::oneshot;
use tokio::task::JoinHandle;

/// A server with a journal in memory that outlives it.
pub struct Stage {
    /// The journal, to be looked into.
    pub journal: Arc<MemoryJournal>,
    config: Config,
    running: Option<(oneshot::Sender<()>, JoinHandle<()>)>,
    /// Its addresses.
    pub welcome: Welcome,
    _data: TempDir,
}

impl Stage {
    /// Starts one on loopback.
    pub fn start() -> Self {
        Self::start_with(Lan::Off)
    }

    /// Starts one that lets the local network in.
    pub fn start_on_the_network() -> Self {
        Self::start_with(Lan::On { also: Vec::new() })
    }

    fn start_with(lan: Lan) -> Self {
        assert!(
            server::embedded::has_app(),
            "the app was left out of this build: run with COMBWRIGHT_SKIP_WEB=0"
        );
        let data = tempfile::tempdir().expect("a folder for the server");
        let config = Config {
            port: free_pair(),
            lan,
            data: data.path().into(),
            name: "the shed".into(),
        };
        let here = String::new();
        let welcome = Welcome { here, phones: None };
        let journal = Arc::new(MemoryJournal::new());
        let mut stage = Self {
            journal,
            config,
            running: None,
            welcome,
            _data: data,
        };
        stage.start_again();
        stage
    }

    /// Starts it again on the port that it had.
    pub fn start_again(&mut self) {
        let server = Server::bind(&self.config, Arc::clone(&self.journal) as _, |_| {})
            .expect("the server starts");
        self.welcome = server.welcome().clone();
        let (stop, stopped) = oneshot::channel();
        let running = tokio::spawn(async move {
            let done = server.run(async {
                let _ = stopped.await;
            });
            done.await.expect("the server runs");
        });
        self.running = Some((stop, running));
    }

    /// Stops it; its port refuses from now on.
    pub async fn stop(&mut self) {
        if let Some((stop, running)) = self.running.take() {
            let _ = stop.send(());
            running.await.expect("it stops");
        }
    }

    /// The address of a screen for this machine's browser.
    pub fn at(&self, path: &str) -> String {
        format!("{}{}", self.welcome.here.trim_end_matches('/'), path)
    }

    /// The authority's certificate, when the local network is let in.
    pub fn authority(&self) -> PathBuf {
        self.config.data.join("authority.pem")
    }
}

/// A port that is free with the one above it, so that both are the same after a restart.
fn free_pair() -> u16 {
    let bind = |port: u16| TcpListener::bind((Ipv4Addr::UNSPECIFIED, port));
    (0..100)
        .find_map(|_| {
            let first = bind(0).ok()?;
            let port = first.local_addr().ok()?.port();
            bind(port.checked_add(1)?).ok().map(|_| port)
        })
        .expect("two free ports side by side")
}
