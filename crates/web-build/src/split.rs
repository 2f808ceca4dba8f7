//! Takes the module apart where its source says so (`wasm_split_helpers`): what is needed from the
//! start, and parts that the page fetches when they are first asked for.

use std::path::{Path, PathBuf};

use walrus::ModuleConfig;
use wasm_split_cli_support::{Options, transform};

use crate::error::BuildError;

/// The script that fetches the parts; the module imports it.
pub const LOADER: &str = "parts.js";

/// Writes the main module, which wasm-bindgen finishes, to `main`, and the others and their loader into
/// `folder`, where `web.js` will stand beside them.
pub fn split(wasm: &Path, main: &Path, folder: &Path) -> Result<(), BuildError> {
    let module = std::fs::read(wasm).map_err(|source| BuildError::Read {
        path: wasm.to_path_buf(),
        source,
    })?;
    let loader = format!("./{LOADER}");
    let mut options = Options::new(&module);
    options.output_dir = folder;
    options.main_out_path = main;
    options.link_name = &loader;
    options.main_module = "./web.js";
    let parts = transform(options).map_err(|why| BuildError::Split(format!("{why:#}")))?;
    parts.split_modules.iter().try_for_each(tighten)
}

/// Drops names and whatever nothing uses, and writes indices as short as they go: the splitter leaves
/// them as wide as the linker made them.
fn tighten(part: &PathBuf) -> Result<(), BuildError> {
    let mut config = ModuleConfig::new();
    config
        .generate_name_section(false)
        .generate_producers_section(false);
    let tightened = config.parse_file(part).and_then(|mut module| {
        walrus::passes::gc::run(&mut module);
        module.emit_wasm_file(part)
    });
    tightened.map_err(|why| BuildError::Split(format!("{}: {why:#}", part.display())))
}
