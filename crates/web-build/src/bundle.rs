//! The browser's files: the module in its parts, its glue, the app's own files with their placeholders filled.
//!
//! What changes with the app lies in a folder named for its content, `/app/<digest>/`, and may be
//! kept by the browser for ever; what must keep its name (the page, the service worker, the
//! manifest, icons) lies at the root and is asked for anew each time.

use std::path::Path;

use wasm_bindgen_cli_support::Bindgen;

use crate::error::BuildError;
use crate::split;

/// One file as the server will hand it out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct File {
    /// Its path on the server, from `/`.
    pub path: String,
    /// What is in it.
    pub bytes: Vec<u8>,
    /// Whether its name changes with its content.
    pub immutable: bool,
}

/// Files of `assets/` that change with the app; all others keep their names.
const IN_APP_FOLDER: [&str; 2] = ["start.js", "style.css"];

/// Makes the browser's files.
pub fn bundle(wasm: &Path, assets: &Path, out: &Path) -> Result<Vec<File>, BuildError> {
    let glue = out.join("glue");
    // what an older run left must not be embedded
    if glue.exists() {
        std::fs::remove_dir_all(&glue).map_err(|source| BuildError::Write {
            path: glue.clone(),
            source,
        })?;
    }
    let main = out.join("web.wasm");
    split::split(wasm, &main, &glue)?;
    bindgen(&main, &glue).map_err(|why| BuildError::Bindgen(format!("{why:#}")))?;
    let mut app = read_all(&glue, "")?;
    let (own, mut root): (Vec<_>, Vec<_>) = read_all(assets, "")?
        .into_iter()
        .partition(|(name, _)| IN_APP_FOLDER.contains(&name.as_str()));
    app.extend(own);
    let folder = format!("/app/{}", digest(app.iter()));
    let version = digest(app.iter().chain(&root));
    let kept: Vec<String> = app
        .iter()
        .map(|(name, _)| format!("{folder}/{name}"))
        .chain(
            root.iter()
                .filter(|(name, _)| offline(name))
                .map(|(name, _)| at_root(name)),
        )
        .collect();
    for (name, bytes) in root.iter_mut().filter(|(name, _)| has_placeholders(name)) {
        let text = String::from_utf8_lossy(bytes);
        let known = [
            ("folder", folder.clone()),
            ("version", version.clone()),
            (
                "files",
                kept.iter()
                    .map(|path| format!("\"{path}\""))
                    .collect::<Vec<_>>()
                    .join(","),
            ),
        ];
        *bytes = filled(name, &text, &known)?.into_bytes();
    }
    Ok(app
        .into_iter()
        .map(|(name, bytes)| File {
            path: format!("{folder}/{name}"),
            bytes,
            immutable: true,
        })
        .chain(root.into_iter().map(|(name, bytes)| File {
            path: at_root(&name),
            bytes,
            immutable: false,
        }))
        .collect())
}

/// The one page of a build without the app.
pub fn plain_page() -> File {
    File {
        path: "/".into(),
        bytes: include_bytes!("left_out.html").to_vec(),
        immutable: false,
    }
}

fn bindgen(wasm: &Path, glue: &Path) -> Result<(), impl std::fmt::Display + use<>> {
    Bindgen::new()
        .input_path(wasm)
        .web(true)?
        .typescript(false)
        // the parts call functions of the main module through its table
        .keep_lld_exports(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate(glue)
}

/// Whether the service worker keeps this file of the root for work without a network.
fn offline(name: &str) -> bool {
    name != "sw.js"
}

fn has_placeholders(name: &str) -> bool {
    ["index.html", "sw.js"].contains(&name)
}

fn at_root(name: &str) -> String {
    if name == "index.html" {
        "/".to_owned()
    } else {
        format!("/{name}")
    }
}

/// All files below a folder by relative name, in order.
fn read_all(folder: &Path, under: &str) -> Result<Vec<(String, Vec<u8>)>, BuildError> {
    let read = |path: &Path, source| BuildError::Read {
        path: path.to_path_buf(),
        source,
    };
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder)
        .map_err(|why| read(folder, why))?
        .flatten()
    {
        let path = entry.path();
        let name = format!("{under}{}", entry.file_name().to_string_lossy());
        if path.is_dir() {
            found.extend(read_all(&path, &format!("{name}/"))?);
        } else {
            let bytes = std::fs::read(&path).map_err(|why| read(&path, why))?;
            found.push((name, bytes));
        }
    }
    found.sort();
    Ok(found)
}

/// Replaces each `{{name}}`.
fn filled(file: &str, text: &str, known: &[(&str, String)]) -> Result<String, BuildError> {
    let mut parts = text.split("{{");
    let mut filled = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let (name, rest) = part.split_once("}}").unwrap_or((part, ""));
        let Some((_, value)) = known.iter().find(|(key, _)| *key == name) else {
            let name = name.chars().take(30).collect();
            return Err(BuildError::Placeholder {
                file: file.to_owned(),
                name,
            });
        };
        filled.push_str(value);
        filled.push_str(rest);
    }
    Ok(filled)
}

/// A short name for what is in the files: 64-bit FNV-1a, to tell versions apart, not to resist a
/// forger.
fn digest<'a>(files: impl Iterator<Item = &'a (String, Vec<u8>)>) -> String {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for (name, bytes) in files {
        for byte in name
            .bytes()
            .chain([0])
            .chain(bytes.iter().copied())
            .chain([0])
        {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }
    format!("{hash:016x}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn placeholders_are_filled_and_unknown_ones_refused() {
        let known = [("folder", "/app/1".to_owned())];
        assert_eq!(
            filled("x", "a {{folder}}/b {{folder}}", &known).expect("known"),
            "a /app/1/b /app/1"
        );
        assert!(filled("x", "{{other}}", &known).is_err());
    }

    #[test]
    fn the_digest_tells_names_and_contents_apart() {
        let of =
            |name: &str, text: &str| digest([(name.to_owned(), text.as_bytes().to_vec())].iter());
        assert_ne!(of("a", "bc"), of("ab", "c"));
        assert_ne!(of("a", "b"), of("a", "c"));
        assert_eq!(of("a", "b"), of("a", "b"));
    }
}
