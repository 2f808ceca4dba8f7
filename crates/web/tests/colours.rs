//! The style sheet's colours against WCAG 2.2.
//!
//! Source: W3C, Web Content Accessibility Guidelines 2.2, definitions "relative luminance" and
//! "contrast ratio"; criteria 1.4.3 (text 4.5:1) and 1.4.11 (what carries meaning 3:1).

use std::collections::BTreeMap;

const STYLE: &str = include_str!("../assets/style.css");

type Colours = BTreeMap<String, String>;

/// Text and the ground that it stands on.
const TEXT: [(&str, &str); 12] = [
    ("ink", "paper"),
    ("ink", "sheet"),
    ("ink", "wax"),
    ("ink", "alert-paper"),
    ("ink-soft", "paper"),
    ("ink-soft", "sheet"),
    ("go", "paper"),
    ("go-ink", "go"),
    ("here", "paper"),
    ("there", "paper"),
    ("alert", "alert-paper"),
    ("alert", "paper"),
];

/// Lines that carry a meaning: the edge of a field, of an empty state.
const LINES: [(&str, &str); 2] = [("line", "paper"), ("line", "sheet")];

/// The variables that hold a colour, of each block that sets `--paper`.
fn palettes() -> Vec<Colours> {
    STYLE
        .split('{')
        .filter_map(|part| part.split_once('}').map(|(block, _)| block))
        .filter(|block| block.contains("--paper:"))
        .map(|block| {
            block
                .split(';')
                .filter_map(|line| line.trim().strip_prefix("--")?.split_once(':'))
                .map(|(name, value)| (name.to_owned(), value.trim().to_owned()))
                .filter(|(_, value)| value.starts_with('#'))
                .collect()
        })
        .collect()
}

fn luminance(colour: &str) -> f64 {
    let part = |at: usize| {
        let byte = u8::from_str_radix(&colour[at..at + 2], 16).expect("six hexadecimal digits");
        let part = f64::from(byte) / 255.0;
        if part <= 0.04045 {
            part / 12.92
        } else {
            ((part + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
}

fn contrast(one: &str, other: &str) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

#[test]
fn the_measure_is_that_of_the_guidelines() {
    // black on white is 21:1 by definition; #767676 is the lightest grey that passes on white
    // (4.54:1, WebAIM's contrast page, from memory)
    assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
    assert!((contrast("#767676", "#ffffff") - 4.54).abs() < 0.005);
}

#[test]
fn text_and_lines_stand_out_on_light_and_dark_paper() {
    let mut palettes = palettes();
    assert_eq!(
        palettes.len(),
        4,
        "light, dark by the device, dark by choice, on paper"
    );
    // what paper does not set is as in the light
    for (name, value) in palettes[0].clone() {
        palettes[3].entry(name).or_insert(value);
    }
    for palette in &palettes {
        for (pairs, least) in [(&TEXT[..], 4.5), (&LINES[..], 3.0)] {
            for (front, ground) in pairs {
                let ratio = contrast(&palette[*front], &palette[*ground]);
                assert!(
                    ratio >= least,
                    "{front} on {ground}: {ratio:.2}, at least {least}"
                );
            }
        }
    }
}

#[test]
fn dark_by_the_device_and_dark_by_choice_are_the_same() {
    let palettes = palettes();
    assert_eq!(palettes[1], palettes[2]);
}

#[test]
fn the_pictures_have_the_colours_of_paper() {
    assert!(
        STYLE.contains(&paper::svg::page_css()),
        "put this into style.css:\n{}",
        paper::svg::page_css()
    );
}
