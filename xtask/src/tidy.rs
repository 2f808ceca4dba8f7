//! What no compiler checks: documents that say what the code is, pure crates that stay pure,
//! nothing of one machine in the tree.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;
use std::process::Command;

/// Words that have no place in a pure crate's sources, with the reason.
const IMPURE: &[(&str, &str)] = &[
    (
        "std::time::",
        "no clock in a pure crate: the instant is an argument",
    ),
    (
        "Timestamp::now",
        "no clock in a pure crate: the instant is an argument",
    ),
    (
        "Zoned::now",
        "no clock in a pure crate: the instant is an argument",
    ),
    ("Uuid::now_v7", "ids come from outside"),
    ("std::fs", "no files in a pure crate"),
    ("std::net", "no network in a pure crate"),
    ("std::env::", "no surroundings in a pure crate"),
    ("thread_rng", "randomness comes from a seed"),
    ("rand::rng()", "randomness comes from a seed"),
];

/// Checks all; every fault is named before it fails.
pub fn tidy(root: &Path) -> Result<(), String> {
    let mut faults = String::new();
    let arrows = arrows(root)?;
    code_map(root, &arrows, &mut faults);
    pure_crates(root, &mut faults);
    tracked_text(root, &mut faults)?;
    for page in [
        "README.md",
        "ARCHITECTURE.md",
        "CHANGELOG.md",
        "BENCHMARKS.md",
        "CONTRIBUTING.md",
    ] {
        if !root.join(page).exists() {
            let _ = writeln!(faults, "{page} is missing");
        }
    }
    if faults.is_empty() {
        println!("tidy: {} crates, nothing out of place", arrows.len());
        Ok(())
    } else {
        Err(faults)
    }
}

/// Each workspace crate and the workspace crates that it builds on.
fn arrows(root: &Path) -> Result<BTreeMap<String, BTreeSet<String>>, String> {
    let output = Command::new("cargo")
        .args([
            "metadata",
            "--no-deps",
            "--format-version",
            "1",
            "--offline",
        ])
        .current_dir(root)
        .output()
        .map_err(|e| format!("cargo metadata: {e}"))?;
    let metadata: serde_json::Value =
        serde_json::from_slice(&output.stdout).map_err(|e| format!("cargo metadata: {e}"))?;
    let packages = metadata["packages"].as_array().cloned().unwrap_or_default();
    let names: BTreeSet<String> = packages.iter().filter_map(|p| text(&p["name"])).collect();
    Ok(packages
        .iter()
        .filter_map(|package| {
            let ours = package["dependencies"]
                .as_array()?
                .iter()
                .filter(|d| d["kind"].is_null())
                .filter_map(|d| text(&d["name"]))
                .filter(|d| names.contains(d))
                .collect();
            Some((text(&package["name"])?, ours))
        })
        .filter(|(name, _)| name != "xtask")
        .collect())
}

fn text(value: &serde_json::Value) -> Option<String> {
    value.as_str().map(str::to_owned)
}

/// ARCHITECTURE.md holds one line a crate: "- `name` pure|edge -> a, b: what it is".
fn code_map(root: &Path, arrows: &BTreeMap<String, BTreeSet<String>>, faults: &mut String) {
    let page = std::fs::read_to_string(root.join("ARCHITECTURE.md")).unwrap_or_default();
    for (name, uses) in arrows {
        let start = format!("- `{name}` ");
        let Some(line) = page.lines().find(|line| line.starts_with(&start)) else {
            let _ = writeln!(
                faults,
                "ARCHITECTURE.md: no line \"{start}..\" for this crate"
            );
            continue;
        };
        let head = line[start.len()..].split(':').next().unwrap_or_default();
        let told: BTreeSet<String> = head
            .split_once("->")
            .map(|(_, list)| list.split(',').map(|n| n.trim().to_owned()).collect())
            .unwrap_or_default();
        if told != *uses {
            let _ = writeln!(
                faults,
                "ARCHITECTURE.md: `{name}` -> {told:?} is told, the manifest says {uses:?}"
            );
        }
    }
}

fn pure_crates(root: &Path, faults: &mut String) {
    let page = std::fs::read_to_string(root.join("ARCHITECTURE.md")).unwrap_or_default();
    for line in page
        .lines()
        .filter(|l| l.starts_with("- `") && l.contains("` pure"))
    {
        let name = line
            .trim_start_matches("- `")
            .split('`')
            .next()
            .unwrap_or_default();
        each_source(
            &root.join("crates").join(name).join("src"),
            &mut |path, source| {
                // tests at the foot of a file may do as they like
                let source = source.split("#[cfg(test)]").next().unwrap_or_default();
                for (number, line) in source.lines().enumerate() {
                    let code = line.split("//").next().unwrap_or_default();
                    for (word, reason) in IMPURE {
                        if code.contains(word) {
                            let place = path.strip_prefix(root).unwrap_or(path).display();
                            let _ = writeln!(faults, "{place}:{}: {word}: {reason}", number + 1);
                        }
                    }
                }
            },
        );
    }
}

fn each_source(folder: &Path, look: &mut dyn FnMut(&Path, &str)) {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return;
    };
    let mut paths: Vec<_> = entries.flatten().map(|entry| entry.path()).collect();
    paths.sort();
    for path in paths {
        if path.is_dir() {
            each_source(&path, look);
        } else if path.extension().is_some_and(|e| e == "rs")
            && let Ok(source) = std::fs::read_to_string(&path)
        {
            look(&path, &source);
        }
    }
}

/// No path of one machine in what git keeps.
fn tracked_text(root: &Path, faults: &mut String) -> Result<(), String> {
    let listed = Command::new("git")
        .args(["ls-files", "-z"])
        .current_dir(root)
        .output()
        .map_err(|e| format!("git ls-files: {e}"))?;
    let home = std::env::var("HOME")
        .ok()
        .filter(|h| h.len() > 1)
        .map(|h| format!("{h}/"));
    let here = root
        .parent()
        .map(|p| format!("{}/", p.display()))
        .filter(|p| p.len() > 2);
    for name in String::from_utf8_lossy(&listed.stdout)
        .split('\0')
        .filter(|n| !n.is_empty())
    {
        let Ok(content) = std::fs::read_to_string(root.join(name)) else {
            continue;
        };
        for path in [&home, &here].into_iter().flatten() {
            if content.contains(path.as_str()) {
                let _ = writeln!(faults, "{name}: holds the path {path} of this machine");
            }
        }
    }
    Ok(())
}
