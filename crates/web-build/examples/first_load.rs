//! Builds the app as the server's build does and prints what each of its files weighs.
//!
//! `cargo run -p web-build --example first_load`, or, for files that are there already:
//! `.. -- WASM` (as cargo made it). What the page names is fetched before the first screen, the parts
//! when they are first asked for; the service worker keeps all of them.
#![expect(clippy::print_stdout, reason = "an example speaks on the terminal")]

use std::path::PathBuf;

use web_build::pack::{Packed, pack};
use web_build::{BuildError, Places, bundle};

fn main() -> Result<(), BuildError> {
    let workspace = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../..");
    // where a build script's folder would be, so that the app is compiled once for both
    let program = std::env::current_exe().unwrap_or_default();
    let target = program.ancestors().nth(3).unwrap_or(&workspace);
    let places = Places {
        out: target.join("release/build/first-load/out"),
        workspace,
    };
    let module = match std::env::args_os().nth(1) {
        Some(wasm) => PathBuf::from(wasm),
        None => web_module::build(&places.workspace, &places.target())?.wasm,
    };
    let files = bundle::bundle(&module, &places.web().join("assets"), &places.out)?;
    let files = pack(files);
    let (first, later): (Vec<_>, Vec<_>) = files.iter().partition(|packed| at_once(&files, packed));
    for (title, files) in [("before the first screen", first), ("later", later)] {
        println!("{:>9} {:>9} {:>9}  {title}", "raw", "gzip", "brotli");
        let rows = files
            .iter()
            .map(|packed| (weights(packed), packed.file.path.as_str()));
        let rows: Vec<_> = rows.collect();
        let all = rows.iter().fold([0; 3], |sum, (weights, _)| {
            std::array::from_fn(|form| sum[form] + weights[form])
        });
        for ([raw, gzip, brotli], path) in rows.into_iter().chain([(all, "all")]) {
            println!("{raw:9} {gzip:9} {brotli:9}  {path}");
        }
    }
    Ok(())
}

/// Whether it is the page or named in it.
fn at_once(files: &[Packed], packed: &Packed) -> bool {
    let page = files.iter().find(|packed| packed.file.path == "/");
    let named = |page: &Packed| {
        String::from_utf8_lossy(&page.file.bytes).contains(&format!("\"{}\"", packed.file.path))
    };
    packed.file.path == "/" || page.is_some_and(named)
}

/// Bytes as it is, as gzip and as brotli.
fn weights(packed: &Packed) -> [usize; 3] {
    let raw = packed.file.bytes.len();
    let of = |form: &Option<Vec<u8>>| form.as_ref().map_or(raw, Vec::len);
    [raw, of(&packed.gzip), of(&packed.brotli)]
}
