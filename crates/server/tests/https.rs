//! The secure listener, asked by a TLS client that trusts the authority and nothing else.

mod support;

use std::io::{Read as _, Write as _};
use std::net::TcpStream;
use std::sync::Arc;

use rustls::pki_types::ServerName;
use rustls::{ClientConfig, ClientConnection, RootCertStore, StreamOwned};
use server::authority::Authority;
use server::memory::MemoryJournal;
use server::{Lan, Server};
use support::{config, folder};
use time::OffsetDateTime;

/// Asks for a path over TLS; `trusted` are the authorities that the client knows.
fn get(port: u16, name: &str, path: &str, trusted: &[u8]) -> Result<String, String> {
    let mut roots = RootCertStore::empty();
    roots
        .add(trusted.to_vec().into())
        .map_err(|why| why.to_string())?;
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let client = ClientConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .map_err(|why| why.to_string())?
        .with_root_certificates(roots)
        .with_no_client_auth();
    let name = ServerName::try_from(name.to_owned()).map_err(|why| why.to_string())?;
    let connection =
        ClientConnection::new(Arc::new(client), name).map_err(|why| why.to_string())?;
    let socket = TcpStream::connect(("127.0.0.1", port)).map_err(|why| why.to_string())?;
    let mut stream = StreamOwned::new(connection, socket);
    write!(
        stream,
        "GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\n\r\n"
    )
    .map_err(|why| why.to_string())?;
    let mut text = String::new();
    // the end without a farewell is not what is tested here
    let _ = stream.read_to_string(&mut text);
    Ok(text)
}

#[tokio::test(flavor = "multi_thread")]
async fn a_client_that_trusts_the_authority_gets_in_and_another_does_not() {
    let data = folder();
    let mut config = config(data.clone());
    config.lan = Lan::On {
        also: vec!["hut.local".into()],
    };
    let journal = Arc::new(MemoryJournal::new());
    let server = Server::bind(&config, journal, |_| {}).expect("binds");
    let port = server.secure_address().expect("on the network").port();
    let (stop, stopped) = tokio::sync::oneshot::channel::<()>();
    let running = tokio::spawn(server.run(async {
        let _ = stopped.await;
    }));
    let now = OffsetDateTime::now_utc();
    let authority = Authority::open(&data, now).expect("opens").der().to_vec();
    let other = Authority::open(&folder_made(), now)
        .expect("is made")
        .der()
        .to_vec();
    let asked = tokio::task::spawn_blocking(move || {
        [
            get(port, "127.0.0.1", "/health", &authority),
            get(port, "hut.local", "/health", &authority),
            get(port, "elsewhere.local", "/health", &authority),
            get(port, "127.0.0.1", "/health", &other),
        ]
    })
    .await
    .expect("no panic");
    let _ = stop.send(());
    running.await.expect("no panic").expect("stops well");
    let [by_address, by_name, wrong_name, wrong_authority] = asked;
    assert!(by_address.expect("trusted").starts_with("HTTP/1.1 200 OK"));
    assert!(by_name.expect("trusted").contains("\"status\":\"ok\""));
    assert!(
        wrong_name
            .expect_err("not its name")
            .contains("not valid for name")
    );
    assert!(
        wrong_authority
            .expect_err("not its authority")
            .contains("UnknownIssuer")
    );
}

fn folder_made() -> std::path::PathBuf {
    let folder = folder();
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

#[test]
fn the_authority_is_made_once_and_kept() {
    let (data, now) = (folder_made(), OffsetDateTime::now_utc());
    let first = Authority::open(&data, now).expect("is made").fingerprint();
    let later = now + time::Duration::days(400);
    assert_eq!(
        Authority::open(&data, later)
            .expect("is kept")
            .fingerprint(),
        first
    );
}

#[cfg(unix)]
#[test]
fn only_the_owner_may_read_the_authoritys_key() {
    use std::os::unix::fs::PermissionsExt as _;
    let data = folder_made();
    Authority::open(&data, OffsetDateTime::now_utc()).expect("is made");
    let key = std::fs::metadata(data.join("authority-key.pem")).expect("is there");
    assert_eq!(key.permissions().mode() & 0o777, 0o600);
}
