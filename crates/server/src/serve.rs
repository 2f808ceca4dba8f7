//! Binds and runs.

use std::net::{Ipv4Addr, SocketAddr, TcpListener};
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum_server::Handle;
use axum_server::tls_rustls::RustlsConfig;
use rustls::ServerConfig;
use time::OffsetDateTime;

use crate::addresses::{bracketed, names};
use crate::api;
use crate::authority::Authority;
use crate::calendar::{Calendar, FeedKey};
use crate::config::{Config, Lan};
use crate::error::ServerError;
use crate::exchange::Exchange;
use crate::guard::limits::AT_ONCE;
use crate::guard::rate::Rates;
use crate::pairing::Pairing;
use crate::phone::PhonePage;
use crate::state::State;
use crate::welcome::{Phones, Welcome};

/// How long open connections may finish after the word to stop.
const GRACE: Duration = Duration::from_secs(3);

/// Longest wait for a connection's first request.
const FIRST_REQUEST: Duration = Duration::from_secs(20);

/// What the person at the server's screen should know, as it happens.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum News {
    /// A device was let in; the code on the screen is another one now.
    Paired {
        /// What it calls itself.
        name: String,
        /// The code that is good from now on.
        next_code: String,
    },
    /// Too many wrong tries; the code on the screen is another one now.
    CodeRenewed {
        /// The code that is good from now on.
        next_code: String,
    },
    /// A device was taken off the list.
    Revoked {
        /// What it called itself.
        name: String,
    },
}

/// What a server offers.
pub struct Offer {
    /// The journal that it exchanges.
    pub journal: Arc<dyn Exchange>,
    /// Due things for calendar programs; `None` leaves the feed out.
    pub calendar: Option<Arc<dyn Calendar>>,
    /// Further routes, open to the desk and to paired devices only.
    pub further: Option<Router>,
}

/// A server that listens already and is about to run.
pub struct Server {
    plain: TcpListener,
    app: Router,
    secure: Option<Secure>,
    welcome: Welcome,
}

/// What is beside it for the local network.
struct Secure {
    listener: TcpListener,
    tls: Arc<ServerConfig>,
    page: Arc<PhonePage>,
}

impl Server {
    /// Takes the ports, makes the certificate where needed, and knows its addresses.
    ///
    /// `news` is called from within requests: it should be quick.
    ///
    /// # Errors
    /// [`ServerError::Listen`] when the port is taken; the rest concern the data folder.
    pub fn bind(
        config: &Config,
        journal: Arc<dyn Exchange>,
        news: impl Fn(News) + Send + Sync + 'static,
    ) -> Result<Self, ServerError> {
        let offer = Offer {
            journal,
            calendar: None,
            further: None,
        };
        Self::bind_with(config, offer, news)
    }

    /// The same with all that it may offer.
    ///
    /// # Errors
    /// As [`Server::bind`].
    pub fn bind_with(
        config: &Config,
        offer: Offer,
        news: impl Fn(News) + Send + Sync + 'static,
    ) -> Result<Self, ServerError> {
        let Offer {
            journal,
            calendar,
            further,
        } = offer;
        std::fs::create_dir_all(&config.data).map_err(|source| ServerError::File {
            act: "write",
            path: config.data.clone(),
            source,
        })?;
        let outside = config.lan != Lan::Off;
        let plain = listen(outside, config.port)?;
        let port = port(&plain, config.port)?;
        let pairing = Pairing::open(&config.data)?;
        let (secure, phones) = match &config.lan {
            Lan::Off => (None, None),
            Lan::On { also } => {
                let (secure, phones) = open_network(config, also, port, pairing.code())?;
                (Some(secure), Some(phones))
            }
        };
        let state = Arc::new(State {
            journal,
            calendar,
            feed_key: FeedKey::in_folder(&config.data),
            pairing,
            rates: Rates::default(),
            at_work: tokio::sync::Semaphore::new(AT_ONCE),
            name: config.name.clone(),
            app: config.app,
            secure: phones
                .as_ref()
                .map(|phones| phones.app.clone())
                .unwrap_or_default(),
            explains: phones
                .as_ref()
                .map(|phones| phones.explains.clone())
                .unwrap_or_default(),
            news: Arc::new(news),
        });
        let page = secure.as_ref().map(|secure| Arc::clone(&secure.page));
        let app = api::router(&state, page, further.unwrap_or_default());
        let welcome = Welcome {
            here: format!("http://localhost:{port}/"),
            phones,
        };
        Ok(Self {
            plain,
            app,
            secure,
            welcome,
        })
    }

    /// Where it is, for the screen.
    pub const fn welcome(&self) -> &Welcome {
        &self.welcome
    }

    /// Every route with its guards, to be asked within the process; a request must carry the
    /// peer's address as `ConnectInfo<SocketAddr>`.
    pub fn routes(&self) -> Router {
        self.app.clone()
    }

    /// The plain listener's address.
    pub fn address(&self) -> Option<SocketAddr> {
        self.plain.local_addr().ok()
    }

    /// The secure listener's address, when the local network is let in.
    pub fn secure_address(&self) -> Option<SocketAddr> {
        self.secure.as_ref()?.listener.local_addr().ok()
    }

    /// Runs until `stop` is done, then lets open requests finish for a moment. Needs a tokio
    /// runtime with time and I/O.
    ///
    /// # Errors
    /// [`ServerError::Stopped`] when a listener breaks off.
    pub async fn run(self, stop: impl Future<Output = ()>) -> Result<(), ServerError> {
        let (plain_handle, secure_handle) = (Handle::new(), Handle::new());
        let outside = self.secure.is_some();
        let page = self.secure.as_ref().map(|secure| Arc::clone(&secure.page));
        let plain_app = match page {
            Some(page) => api::plain_on_the_network(self.app.clone(), page),
            None => self.app.clone(),
        };
        let plain = axum_server::from_tcp(self.plain)
            .map_err(ServerError::Stopped)?
            .first_request_timeout(FIRST_REQUEST)
            .handle(plain_handle.clone())
            .serve(plain_app.into_make_service_with_connect_info::<SocketAddr>());
        let secure = async {
            let Some(Secure { listener, tls, .. }) = self.secure else {
                return Ok(());
            };
            axum_server::from_tcp_rustls(listener, RustlsConfig::from_config(tls))?
                .first_request_timeout(FIRST_REQUEST)
                .handle(secure_handle.clone())
                .serve(self.app.into_make_service_with_connect_info::<SocketAddr>())
                .await
        };
        let stopping = async {
            stop.await;
            plain_handle.graceful_shutdown(Some(GRACE));
            if outside {
                secure_handle.graceful_shutdown(Some(GRACE));
            }
            Ok(())
        };
        tokio::try_join!(plain, secure, stopping).map_err(ServerError::Stopped)?;
        Ok(())
    }
}

/// Everything for the local network: listener, certificate, page, addresses.
fn open_network(
    config: &Config,
    also: &[String],
    plain_port: u16,
    code: String,
) -> Result<(Secure, Phones), ServerError> {
    let wanted = if config.port == 0 {
        0
    } else {
        config.port.saturating_add(1)
    };
    let listener = listen(true, wanted)?;
    let secure_port = port(&listener, wanted)?;
    let now = OffsetDateTime::now_utc();
    let authority = Authority::open(&config.data, now)?;
    let names = names(also);
    let vouched: Vec<String> = names
        .iter()
        .cloned()
        .chain([
            "localhost".to_owned(),
            "127.0.0.1".to_owned(),
            "::1".to_owned(),
        ])
        .collect();
    let certificate = authority.server_certificate(&vouched, now)?;
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let mut tls = ServerConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .and_then(|builder| {
            builder
                .with_no_client_auth()
                .with_single_cert(certificate.chain, certificate.key)
        })
        .map_err(|why| ServerError::Certificate(why.to_string()))?;
    tls.alpn_protocols = vec![b"h2".to_vec(), b"http/1.1".to_vec()];
    let at = |scheme: &str, port: u16, path: &str| {
        names
            .iter()
            .map(|name| format!("{scheme}://{}:{port}{path}", bracketed(name)))
            .collect()
    };
    let phones = Phones {
        explains: at("http", plain_port, "/phone"),
        app: at("https", secure_port, "/"),
        code,
        fingerprint: authority.fingerprint(),
    };
    let page = Arc::new(PhonePage {
        certificate: authority.der().to_vec(),
        fingerprint: authority.fingerprint(),
        app: phones.app.clone(),
    });
    Ok((
        Secure {
            listener,
            tls: Arc::new(tls),
            page,
        },
        phones,
    ))
}

fn listen(outside: bool, port: u16) -> Result<TcpListener, ServerError> {
    let address = if outside {
        Ipv4Addr::UNSPECIFIED
    } else {
        Ipv4Addr::LOCALHOST
    };
    TcpListener::bind((address, port)).map_err(|source| ServerError::Listen { port, source })
}

fn port(listener: &TcpListener, asked: u16) -> Result<u16, ServerError> {
    let address = listener
        .local_addr()
        .map_err(|source| ServerError::Listen {
            port: asked,
            source,
        })?;
    Ok(address.port())
}
