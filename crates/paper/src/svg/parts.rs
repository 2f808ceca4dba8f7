//! A picture taken apart again, so that a page can change only what differs.

/// The elements that stand directly in a picture made here, in their order, after its start tag;
/// `None` for a text that no picture here looks like.
///
/// Pictures are written one tag a line, or one element with its text, and no text holds a line's end
/// (`element.rs`): that is all this relies on.
///
/// ```
/// let picture = "<svg>\n<title>A hive</title>\n<g>\n<path/>\n</g>\n</svg>\n";
/// let (start, parts) = paper::svg::parts(picture).unwrap();
/// assert_eq!(start, "<svg>");
/// assert_eq!(parts, ["<title>A hive</title>\n", "<g>\n<path/>\n</g>\n"]);
/// ```
pub fn parts(picture: &str) -> Option<(&str, Vec<&str>)> {
    let (start, inside) = picture.split_once('\n')?;
    let inside = inside.strip_suffix("</svg>\n")?;
    if !start.starts_with("<svg") {
        return None;
    }
    let mut parts = Vec::new();
    let (mut from, mut at, mut depth) = (0, 0, 0_usize);
    for line in inside.split_inclusive('\n') {
        at += line.len();
        if line.starts_with("</") {
            depth = depth.checked_sub(1)?;
        } else if !line.contains("</") && !line.ends_with("/>\n") {
            depth += 1;
        }
        if depth == 0 {
            parts.push(&inside[from..at]);
            from = at;
        }
    }
    (depth == 0).then_some((start, parts))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_picture_is_not_taken_apart() {
        for text in [
            "",
            "a hive",
            "<svg>\n<g>\n</svg>\n",
            "<svg>\n</g>\n</svg>\n",
            "<svg>\n<path/>",
        ] {
            assert_eq!(parts(text), None, "{text}");
        }
    }
}
