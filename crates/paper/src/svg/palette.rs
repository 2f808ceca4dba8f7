//! Colours, each for paper and for the dark, and as a property of the page.
//!
//! Lightness, not hue, tells kinds apart first, then the pattern, then the hue: amber, slate and
//! brown stay apart for eyes without red or green. tests/palette.rs holds the contrasts.

use super::Theme;
use crate::Kind;

/// What a colour is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ink {
    Paper,
    Cavity,
    Text,
    Quiet,
    Line,
    Wood,
    WoodLight,
    WoodLine,
    Highlight,
    /// The ground of a kind's band.
    Ground(Kind),
    /// The pattern on it.
    Figure(Kind),
}

/// Name of the property, on paper, in the dark.
type Colour = (&'static str, &'static str, &'static str);

const fn colour(ink: Ink) -> Colour {
    match ink {
        Ink::Paper => ("paper", "#fbf8f1", "#1c1915"),
        Ink::Cavity => ("cavity", "#f1eadb", "#2a251e"),
        Ink::Text => ("text", "#2a2520", "#f3ecdf"),
        Ink::Quiet => ("quiet", "#5e564b", "#b9ae9d"),
        Ink::Line => ("line", "#3b332b", "#d8cdbb"),
        Ink::Wood => ("wood", "#d5bd97", "#7b6648"),
        Ink::WoodLight => ("wood-light", "#f4ead6", "#3d3427"),
        Ink::WoodLine => ("wood-line", "#7c6748", "#b79c74"),
        Ink::Highlight => ("highlight", "#0b5a8a", "#7cc4f0"),
        Ink::Ground(kind) => ground(kind),
        Ink::Figure(kind) => figure(kind),
    }
}

const fn ground(kind: Kind) -> Colour {
    match kind {
        Kind::CappedHoney => ("capped-honey", "#dd9f2e", "#d2942a"),
        Kind::Honey => ("honey", "#ebc478", "#c79b4e"),
        Kind::Unripe => ("unripe", "#fbeebd", "#f0dc9a"),
        Kind::Pollen => ("pollen", "#7688b0", "#7f92bd"),
        Kind::CappedBrood => ("capped-brood", "#8c5a3c", "#8f5d40"),
        Kind::Brood => ("brood", "#b58463", "#a97b5c"),
        Kind::Larvae => ("larvae", "#d3ab8d", "#c49c7f"),
        Kind::Eggs => ("eggs", "#efdfd2", "#dccabb"),
        Kind::DroneBrood => ("drone-brood", "#54301f", "#5a3524"),
        Kind::Empty => ("empty", "#fbf5e6", "#4a4235"),
        Kind::Unknown => ("unknown", "#fbf8f1", "#1c1915"),
    }
}

const fn figure(kind: Kind) -> Colour {
    match kind {
        Kind::CappedHoney => ("capped-honey-figure", "#b87a12", "#9c6509"),
        Kind::Honey => ("honey-figure", "#b87a12", "#7d5308"),
        Kind::Unripe => ("unripe-figure", "#b8860f", "#8a6204"),
        Kind::Pollen => ("pollen-figure", "#e4e9f5", "#e8edf8"),
        Kind::CappedBrood => ("capped-brood-figure", "#d5ab8a", "#dcb495"),
        Kind::Brood => ("brood-figure", "#6d432a", "#5c3823"),
        Kind::Larvae => ("larvae-figure", "#fffaf3", "#fff6ea"),
        Kind::Eggs => ("eggs-figure", "#80563b", "#74492e"),
        Kind::DroneBrood => ("drone-brood-figure", "#c79a7c", "#cfa284"),
        Kind::Empty => ("empty-figure", "#a3906d", "#a4937a"),
        Kind::Unknown => ("unknown-figure", "#8b8171", "#8f8575"),
    }
}

/// Every ink, once.
fn all() -> Vec<Ink> {
    let mut inks = vec![
        Ink::Paper,
        Ink::Cavity,
        Ink::Text,
        Ink::Quiet,
        Ink::Line,
        Ink::Wood,
        Ink::WoodLight,
        Ink::WoodLine,
        Ink::Highlight,
    ];
    for kind in Kind::ALL {
        inks.extend([Ink::Ground(kind), Ink::Figure(kind)]);
    }
    inks
}

impl Theme {
    /// The colour as an attribute's value.
    pub(crate) fn of(self, ink: Ink) -> String {
        let (name, light, dark) = colour(ink);
        match self {
            Self::Light => light.to_owned(),
            Self::Dark => dark.to_owned(),
            Self::Page => format!("var(--paper-{name}, {light})"),
        }
    }
}

/// The style sheet for pictures of [`Theme::Page`]: custom properties `--paper-..`, dark where the
/// reader prefers it or where the root element says `data-light="dark"`.
pub fn page_css() -> String {
    let list = |pick: fn(Colour) -> &'static str| -> String {
        let colours = all().into_iter().map(colour);
        let set: Vec<String> = colours
            .map(|c| format!("--paper-{}:{};", c.0, pick(c)))
            .collect();
        set.concat()
    };
    let (light, dark) = (list(|c| c.1), list(|c| c.2));
    format!(
        ":root{{{light}}}\n\
         @media screen and (prefers-color-scheme:dark){{:root:not([data-light=light]){{{dark}}}}}\n\
         @media screen{{:root[data-light=dark]{{{dark}}}}}\n"
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance. Source: WCAG 2.2, definition of relative luminance (from memory).
    fn luminance(hex: &str) -> f64 {
        let part = |i: usize| {
            let byte = u8::from_str_radix(&hex[i..i + 2], 16).expect("a hex colour");
            let c = f64::from(byte) / 255.0;
            if c <= 0.040_45 {
                c / 12.92
            } else {
                libm::pow((c + 0.055) / 1.055, 2.4)
            }
        };
        0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
    }

    fn contrast(a: &str, b: &str) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    /// Text 4.5 to 1, lines that carry meaning 3 to 1. Source: WCAG 2.2, 1.4.3 and 1.4.11.
    #[test]
    fn text_and_lines_stand_out_from_their_ground() {
        let pairs = [
            (Ink::Text, Ink::Paper, 7.0),
            (Ink::Quiet, Ink::Paper, 4.5),
            (Ink::Text, Ink::Cavity, 7.0),
            (Ink::Quiet, Ink::Cavity, 4.5),
            (Ink::Line, Ink::Cavity, 3.0),
            (Ink::WoodLine, Ink::Paper, 3.0),
            (Ink::Highlight, Ink::Paper, 4.5),
            (Ink::Figure(Kind::Unknown), Ink::Paper, 3.0),
        ];
        for theme in [Theme::Light, Theme::Dark] {
            for (over, under, least) in pairs {
                let got = contrast(&theme.of(over), &theme.of(under));
                assert!(got >= least, "{theme:?} {over:?} on {under:?}: {got:.2}");
            }
        }
    }

    /// The pairs that a decision hangs on must differ in grey as well.
    #[test]
    fn kinds_that_decide_differ_in_lightness() {
        let pairs = [
            (Kind::CappedHoney, Kind::Unripe),
            (Kind::CappedHoney, Kind::CappedBrood),
            (Kind::Unripe, Kind::CappedBrood),
            (Kind::Unripe, Kind::Brood),
            (Kind::Pollen, Kind::Unripe),
            (Kind::DroneBrood, Kind::CappedBrood),
        ];
        for theme in [Theme::Light, Theme::Dark] {
            for (a, b) in pairs {
                let got = contrast(&theme.of(Ink::Ground(a)), &theme.of(Ink::Ground(b)));
                assert!(got >= 1.5, "{theme:?} {a:?} beside {b:?}: {got:.2}");
            }
        }
    }

    #[test]
    fn the_page_style_names_every_property_once_a_theme() {
        let css = page_css();
        assert_eq!(css.matches("--paper-capped-honey:").count(), 3);
        assert_eq!(css.matches("--paper-unknown-figure:").count(), 3);
    }
}
