//! The page obeys the policy that the server sends with it, and the manifest names what is there.

use std::path::Path;

const PAGE: &str = include_str!("../assets/index.html");

#[test]
fn nothing_in_the_page_needs_inline_script_or_style() {
    assert!(!PAGE.contains("<style") && !PAGE.contains(" style="));
    for script in PAGE.split("<script").skip(1) {
        assert!(
            script.trim_start().starts_with("type=\"module\" src="),
            "{script}"
        );
    }
}

#[test]
fn every_file_that_the_manifest_names_is_there() {
    let manifest: serde_json::Value =
        serde_json::from_str(include_str!("../assets/manifest.webmanifest")).expect("JSON");
    let icons = manifest["icons"].as_array().expect("icons");
    assert!(icons.iter().any(|icon| icon["purpose"] == "maskable"));
    for icon in icons {
        let name = icon["src"]
            .as_str()
            .expect("a path")
            .trim_start_matches('/');
        let file = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("assets")
            .join(name);
        assert!(file.exists(), "{name} is missing");
    }
}
