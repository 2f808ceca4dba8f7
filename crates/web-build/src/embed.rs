//! Writes the files and a Rust table of them, which the crate `app` includes.

use std::fmt::Write as _;
use std::path::Path;

use crate::error::BuildError;
use crate::pack::Packed;

/// The table's file name in `OUT_DIR`: one expression, an array of `Embedded`.
pub const TABLE: &str = "embedded.rs";

/// Writes all below `OUT_DIR`.
pub fn write(out: &Path, files: &[Packed]) -> Result<(), BuildError> {
    let folder = out.join("embedded");
    std::fs::create_dir_all(&folder).map_err(|why| cannot(&folder, why))?;
    let mut table = String::from("[\n");
    for (number, packed) in files.iter().enumerate() {
        let raw = put(&folder, &format!("{number}.raw"), &packed.file.bytes)?;
        let gzip = put_some(&folder, &format!("{number}.gz"), packed.gzip.as_deref())?;
        let brotli = put_some(&folder, &format!("{number}.br"), packed.brotli.as_deref())?;
        let (path, immutable) = (&packed.file.path, packed.file.immutable);
        let _ = writeln!(
            table,
            "Embedded {{ path: {path:?}, immutable: {immutable}, raw: {raw}, gzip: {gzip}, brotli: {brotli} }},"
        );
    }
    table.push_str("]\n");
    put(out, TABLE, table.as_bytes()).map(drop)
}

fn put_some(folder: &Path, name: &str, bytes: Option<&[u8]>) -> Result<String, BuildError> {
    match bytes {
        Some(bytes) => put(folder, name, bytes).map(|include| format!("Some({include})")),
        None => Ok("None".to_owned()),
    }
}

/// Writes one file, unless it is there already just so, and gives the expression that includes it.
fn put(folder: &Path, name: &str, bytes: &[u8]) -> Result<String, BuildError> {
    let path = folder.join(name);
    if !std::fs::read(&path).is_ok_and(|held| held == bytes) {
        std::fs::write(&path, bytes).map_err(|why| cannot(&path, why))?;
    }
    Ok(format!("include_bytes!({:?})", path.display().to_string()))
}

fn cannot(path: &Path, source: std::io::Error) -> BuildError {
    BuildError::Write {
        path: path.to_path_buf(),
        source,
    }
}
