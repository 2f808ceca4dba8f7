//! Fitting words into columns.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// A name on one line: control and other characters without a place of their own become blanks.
pub(crate) fn clean(name: &str) -> String {
    let visible = |c: char| {
        if c.width().is_some_and(|w| w > 0) {
            c
        } else {
            ' '
        }
    };
    let spaced: String = name.chars().map(visible).collect();
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Columns that a text takes.
pub(crate) fn width(text: &str) -> usize {
    text.width()
}

/// The text cut to so many columns, with a mark where it was cut.
pub(crate) fn cut(text: &str, columns: usize) -> String {
    if width(text) <= columns {
        return text.to_owned();
    }
    let mut kept = String::new();
    for c in text.chars() {
        if width(&kept) + c.width().unwrap_or(0) + 2 > columns {
            break;
        }
        kept.push(c);
    }
    kept.push_str("..");
    kept
}

/// The text filled up with blanks to so many columns, or cut to them.
pub(crate) fn padded(text: &str, columns: usize) -> String {
    let mut text = cut(text, columns);
    let missing = columns.saturating_sub(width(&text));
    text.extend(std::iter::repeat_n(' ', missing));
    text
}

/// The text broken at blanks into lines of so many columns; a longer word is broken.
pub(crate) fn wrapped(text: &str, columns: usize) -> Vec<String> {
    let columns = columns.max(2);
    let mut lines = vec![String::new()];
    for word in text.split(' ') {
        let mut line = lines.pop().unwrap_or_default();
        if !line.is_empty() && width(&line) + 1 + width(word) > columns {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        for c in word.chars() {
            if width(&line) + c.width().unwrap_or(0) > columns {
                lines.push(std::mem::take(&mut line));
            }
            line.push(c);
        }
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_wrapped_and_long_ones_broken() {
        assert_eq!(wrapped("a bb cccccc d", 4), ["a bb", "cccc", "cc d"]);
        assert_eq!(wrapped("", 4), [""]);
    }

    #[test]
    fn a_name_keeps_to_one_line_and_its_columns() {
        assert_eq!(clean("Iron\tbark\u{7}\n"), "Iron bark");
        assert_eq!(width(&padded("蜂蜜蜂蜜", 5)), 5);
    }
}
