//! Writing XML: elements with attributes, escaped, numbers short and always alike.

/// One element's start: its name and attributes.
#[derive(Debug, Clone)]
pub(crate) struct Element {
    name: &'static str,
    attributes: String,
}

impl Element {
    pub(crate) const fn new(name: &'static str) -> Self {
        Self {
            name,
            attributes: String::new(),
        }
    }

    /// With a text attribute.
    pub(crate) fn set(self, name: &str, value: impl AsRef<str>) -> Self {
        self.with(name, |out| escape_into(value.as_ref(), out))
    }

    /// With a number.
    pub(crate) fn num(self, name: &str, value: f64) -> Self {
        self.with(name, |out| number_into(value, out))
    }

    fn with(mut self, name: &str, write: impl FnOnce(&mut String)) -> Self {
        self.attributes.push(' ');
        self.attributes.push_str(name);
        self.attributes.push_str("=\"");
        write(&mut self.attributes);
        self.attributes.push('"');
        self
    }
}

/// A document that is being written; what was opened is closed in order.
#[derive(Debug, Default)]
pub(crate) struct Document {
    out: String,
    open: Vec<&'static str>,
}

impl Document {
    /// An element without anything in it.
    pub(crate) fn leaf(&mut self, element: &Element) {
        self.start(element);
        self.out.push_str("/>\n");
    }

    /// An element that what follows stands in, until [`Document::close`].
    pub(crate) fn open(&mut self, element: &Element) {
        self.start(element);
        self.out.push_str(">\n");
        self.open.push(element.name);
    }

    /// Closes what was opened last.
    pub(crate) fn close(&mut self) {
        if let Some(name) = self.open.pop() {
            self.out.push_str("</");
            self.out.push_str(name);
            self.out.push_str(">\n");
        }
    }

    /// An element with text in it.
    pub(crate) fn text(&mut self, element: &Element, text: &str) {
        self.start(element);
        self.out.push('>');
        escape_into(text, &mut self.out);
        self.out.push_str("</");
        self.out.push_str(element.name);
        self.out.push_str(">\n");
    }

    /// Everything that another document holds.
    pub(crate) fn append(&mut self, other: Self) {
        self.out.push_str(&other.finish());
    }

    /// The document, everything closed.
    pub(crate) fn finish(mut self) -> String {
        while !self.open.is_empty() {
            self.close();
        }
        self.out
    }

    fn start(&mut self, element: &Element) {
        self.out.push('<');
        self.out.push_str(element.name);
        self.out.push_str(&element.attributes);
    }
}

/// Escapes markup and drops what XML 1.0 cannot carry (production `Char`; from memory).
fn escape_into(text: &str, out: &mut String) {
    // numbers, paths and most words: nothing to look at sign by sign
    let plain = |b: u8| matches!(b, b' '..=b'~') && !matches!(b, b'&' | b'<' | b'>' | b'"');
    if text.bytes().all(plain) {
        out.push_str(text);
        return;
    }
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\t' | '\n' | '\r' => out.push(' '),
            '\u{0}'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{fffe}' | '\u{ffff}' => {}
            c => out.push(c),
        }
    }
}

/// At most two decimals, no trailing zeros, no negative zero.
pub(crate) fn number(value: f64) -> String {
    let mut text = String::new();
    number_into(value, &mut text);
    text
}

/// A picture is mostly numbers: as whole hundredths they are written several times as fast as the
/// general way.
fn number_into(value: f64, out: &mut String) {
    let hundredths = libm::round(value * 100.0);
    if !hundredths.is_finite() {
        out.push('0');
        return;
    }
    // no picture is so large that its hundredths are cut off here
    let hundredths = hundredths as i64;
    if hundredths < 0 {
        out.push('-');
    }
    let (whole, part) = (
        hundredths.unsigned_abs() / 100,
        (hundredths.unsigned_abs() % 100) as u8,
    );
    out.push_str(itoa::Buffer::new().format(whole));
    if part > 0 {
        out.push('.');
        out.push(char::from(b'0' + part / 10));
        if !part.is_multiple_of(10) {
            out.push(char::from(b'0' + part % 10));
        }
    }
}

/// A path from points, closed.
pub(crate) fn closed_path(points: &[(f64, f64)]) -> String {
    let mut path = open_path(points);
    path.push('Z');
    path
}

/// A path from points, open.
pub(crate) fn open_path(points: &[(f64, f64)]) -> String {
    let mut path = String::new();
    for (i, (x, y)) in points.iter().enumerate() {
        path.push(if i == 0 { 'M' } else { 'L' });
        number_into(*x, &mut path);
        path.push(' ');
        number_into(*y, &mut path);
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_never_negative_zero() {
        let cases = [
            (1.0, "1"),
            (0.005, "0.01"),
            (-0.001, "0"),
            (12.345, "12.35"),
            (100.0, "100"),
            (-3.5, "-3.5"),
            (0.1, "0.1"),
            (-0.07, "-0.07"),
            (1234.996, "1235"),
            (f64::NAN, "0"),
            (f64::INFINITY, "0"),
        ];
        for (value, text) in cases {
            assert_eq!(number(value), text);
        }
    }

    #[test]
    fn numbers_are_what_the_standard_library_writes() {
        for n in (-200_000..200_000).chain([i64::from(i32::MAX), i64::from(i32::MIN)]) {
            let value = n as f64 / 100.0;
            let standard = format!("{value:.2}");
            let standard = standard.trim_end_matches('0').trim_end_matches('.');
            assert_eq!(number(value), if n == 0 { "0" } else { standard });
        }
    }

    #[test]
    fn names_cannot_break_out() {
        let mut document = Document::default();
        document.open(&Element::new("g").set("aria-label", "\"><x & \u{0}y"));
        document.text(&Element::new("text"), "</g>\u{1b}");
        let written = document.finish();
        assert!(written.contains("&quot;&gt;&lt;x &amp; y"), "{written}");
        assert!(written.contains("&lt;/g&gt;<"), "{written}");
        assert!(written.ends_with("</g>\n"));
    }
}
