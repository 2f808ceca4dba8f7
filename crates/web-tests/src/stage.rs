//! A server of the test's own, with the journal in its file as the program keeps it, that can be
//! stopped and started again on the same port with the same data.

use std::net::{Ipv4Addr, TcpListener};
use std::path::PathBuf;
use std::sync::Arc;

use exchange::wire::MOST_RECORDS;
use exchange::{Pull, Pulled, Record};
use hive::DeviceId;
use kept::Kept;
use server::welcome::Welcome;
use server::{Config, Lan, Server};
use store::{FILE_NAME, Journal, OpenOptions};
use tempfile::TempDir;
use tokio::sync::oneshot;
use tokio::task::JoinHandle;
use uuid::Uuid;

/// The file of the journal that a server begins with.
pub const FIRST: &str = FILE_NAME;

/// A server whose data folder outlives it.
pub struct Stage {
    /// The journal's file, to be looked into, whether the server runs or not.
    pub journal: Looking,
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
            server::has_app(app::FILES),
            "the app was left out of this build: run with COMBWRIGHT_SKIP_WEB=0"
        );
        let data = tempfile::tempdir().expect("a folder for the server");
        let config = Config {
            port: free_pair(),
            lan,
            data: data.path().into(),
            name: "the shed".into(),
            app: app::FILES,
        };
        let here = String::new();
        let welcome = Welcome { here, phones: None };
        let mut stage = Self {
            journal: Looking {
                file: data.path().join(FILE_NAME),
            },
            config,
            running: None,
            welcome,
            _data: data,
        };
        stage.start_again();
        stage
    }

    /// Starts it again on the port that it had, with the data that it had.
    pub fn start_again(&mut self) {
        let journal = here_and_now(Journal::open(&self.journal.file, options()));
        let journal = journal.expect("the journal opens");
        let kept = Arc::new(Kept::new(journal.clone()));
        let server = Server::bind(&self.config, kept, |_| {}).expect("the server starts");
        self.welcome = server.welcome().clone();
        let (stop, stopped) = oneshot::channel();
        let running = tokio::spawn(async move {
            let done = server.run(async {
                let _ = stopped.await;
            });
            done.await.expect("the server runs");
            journal.close().await;
        });
        self.running = Some((stop, running));
    }

    /// Has it keep another journal in its data folder from the next start on: a file of this name, empty
    /// at first. [`FIRST`] is the one that it began with.
    pub fn keep_in(&mut self, name: &str) {
        self.journal.file = self.config.data.join(name);
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

/// A journal's file as another program sees it.
#[derive(Debug)]
pub struct Looking {
    file: PathBuf,
}

impl Looking {
    /// All records in order of arrival. For tests on a runtime with several threads.
    pub fn records(&self) -> Vec<Record> {
        here_and_now(async {
            let journal = Journal::open(&self.file, OpenOptions::read());
            let journal = journal.await.expect("the journal is there");
            let (mut since, mut all) = (None, Vec::new());
            loop {
                let pull = Pull {
                    since,
                    limit: MOST_RECORDS,
                };
                let Pulled::Page {
                    records,
                    next,
                    more,
                } = journal.pull(pull).await.expect("the journal is read")
                else {
                    panic!("the journal does not know its own places");
                };
                all.extend(records);
                since = next;
                if !more {
                    break;
                }
            }
            journal.close().await;
            all
        })
    }
}

/// How the server's journal is opened.
fn options() -> OpenOptions {
    OpenOptions::write(|| DeviceId(Uuid::now_v7()))
}

/// Waits within a plain function, while the runtime's other threads go on.
fn here_and_now<T>(work: impl Future<Output = T>) -> T {
    tokio::task::block_in_place(|| tokio::runtime::Handle::current().block_on(work))
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
