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
    pub(crate) fn set(mut self, name: &str, value: impl AsRef<str>) -> Self {
        self.attributes.push(' ');
        self.attributes.push_str(name);
        self.attributes.push_str("=\"");
        escape_into(value.as_ref(), &mut self.attributes);
        self.attributes.push('"');
        self
    }

    /// With a number.
    pub(crate) fn num(self, name: &str, value: f64) -> Self {
        self.set(name, number(value))
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
    let hundredths = libm::round(value * 100.0);
    if !hundredths.is_finite() || hundredths.abs() < 0.5 {
        return "0".to_owned();
    }
    let text = format!("{:.2}", hundredths / 100.0);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
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
        path.push_str(&number(*x));
        path.push(' ');
        path.push_str(&number(*y));
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
            (f64::NAN, "0"),
        ];
        for (value, text) in cases {
            assert_eq!(number(value), text);
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
