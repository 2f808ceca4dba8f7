//! The shortest whole use of the server: a journal in memory, gone when it ends.
//!
//! `cargo run -p server --example serve -- [PORT] [lan]`; `COMBWRIGHT_SKIP_WEB=0` builds the app
//! into it. Data (authority, paired devices) goes to a folder of the system's temporary files,
//! or to `COMBWRIGHT_DATA`.
#![expect(clippy::print_stdout, reason = "an example speaks on the terminal")]

use std::sync::Arc;

use server::memory::MemoryJournal;
use server::{Config, Lan, Server, ServerError};

fn main() -> Result<(), ServerError> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let data = std::env::var_os("COMBWRIGHT_DATA").map_or_else(
        || std::env::temp_dir().join("combwright-example"),
        Into::into,
    );
    let mut config = Config::new(data);
    if let Some(port) = words.iter().find_map(|word| word.parse().ok()) {
        config.port = port;
    }
    if words.iter().any(|word| word == "lan") {
        config.lan = Lan::On { also: Vec::new() };
    }
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .map_err(ServerError::Stopped)?;
    runtime.block_on(async {
        let journal = Arc::new(MemoryJournal::new());
        let server = Server::bind(&config, journal, |news| println!("{news:?}"))?;
        print!("{}", server.welcome().text());
        server
            .run(async {
                let _ = tokio::signal::ctrl_c().await;
            })
            .await
    })
}
