//! Printing: text within 80 columns or JSON on standard output, failures on standard error.

use std::io::{IsTerminal, Write};

use serde::Serialize;

use crate::failure::Failure;

/// Text is folded to this many columns.
pub(crate) const COLUMNS: usize = 80;

/// Prints one line. A reader that has gone away (`| head`) is no failure.
pub(crate) fn line(text: impl AsRef<str>) {
    let _ = writeln!(std::io::stdout().lock(), "{}", text.as_ref());
}

/// Prints text folded to the width of the page, its further lines set in under the first.
pub(crate) fn folded(first: &str, text: &str) {
    for line in fold(first, text) {
        self::line(line);
    }
}

/// Prints a value as JSON.
pub(crate) fn json(value: &impl Serialize) -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(value)?;
    line(text);
    Ok(())
}

/// Tells a failure on standard error.
pub(crate) fn failure(failure: &Failure, json: bool) {
    if json {
        let _ = writeln!(std::io::stderr().lock(), "{}", failure.to_json());
        return;
    }
    let theme = if in_colour(std::io::stderr().is_terminal()) {
        miette::GraphicalTheme::unicode()
    } else {
        miette::GraphicalTheme::none()
    };
    let handler = miette::GraphicalReportHandler::new_themed(theme).with_width(COLUMNS);
    let mut told = String::new();
    let report: &dyn miette::Diagnostic = failure;
    if handler.render_report(&mut told, report).is_err() {
        told = failure.to_string();
    }
    let _ = writeln!(std::io::stderr().lock(), "{}", told.trim_end());
}

/// Colour on a terminal, unless NO_COLOR says otherwise (no-color.org) or the terminal is dumb.
pub(crate) fn in_colour(terminal: bool) -> bool {
    let unwanted = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    terminal && !unwanted && !dumb
}

/// Emphasis on a terminal in colour, plain text elsewhere.
pub(crate) fn strong(text: &str) -> String {
    if in_colour(std::io::stdout().is_terminal()) {
        format!("\u{1b}[1m{text}\u{1b}[0m")
    } else {
        text.to_owned()
    }
}

/// Text as lines of at most [`COLUMNS`], the first led by `first`, the others by as many blanks.
pub(crate) fn fold(first: &str, text: &str) -> Vec<String> {
    let inset = first.chars().count();
    let mut lines = Vec::new();
    let mut line = first.to_owned();
    let mut filled = false;
    for word in text.split_whitespace() {
        let wider = line.chars().count() + usize::from(filled) + word.chars().count();
        if filled && wider > COLUMNS {
            lines.push(std::mem::replace(&mut line, " ".repeat(inset)));
            filled = false;
        }
        if filled {
            line.push(' ');
        }
        line.push_str(word);
        filled = true;
    }
    lines.push(line);
    lines
}

/// A name as it is typed in a shell.
pub(crate) fn quoted(name: &str) -> String {
    if name.contains(' ') {
        format!("\"{name}\"")
    } else {
        name.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folded_text_keeps_to_the_page() {
        let text = "one two three four five six seven eight nine ten ".repeat(9);
        let lines = fold("  7  ", &text);
        assert!(
            lines.iter().all(|line| line.chars().count() <= COLUMNS),
            "{lines:?}"
        );
        assert!(lines[1..].iter().all(|line| line.starts_with("     ")));
    }
}
