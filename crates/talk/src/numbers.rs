//! Numbers as they are said and written.

use crate::token::Token;

/// What a run of words says as a number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Said {
    /// "twenty two", "2.4", "two and a half".
    Cardinal(f64),
    /// "third", "twenty first", "3rd".
    Ordinal(f64),
    /// "two thirds", "3/4": a part of one.
    Part(f64),
    /// "one to one", "2:1": sugar to water.
    Ratio(f64),
}

/// Whether a word can begin or go on with a number.
pub(crate) fn is_number_word(word: &str) -> bool {
    small(word).is_some()
        || tens(word).is_some()
        || word.starts_with(|c: char| c.is_ascii_digit())
        || matches!(word, "hundred")
}

/// "twenty", "thirty": another figure may follow.
pub(crate) fn is_tens(word: &str) -> bool {
    tens(word).is_some()
}

fn small(word: &str) -> Option<f64> {
    Some(match word {
        "oh" | "zero" | "nought" => 0.0,
        "one" | "wan" => 1.0,
        "two" => 2.0,
        "three" => 3.0,
        "four" => 4.0,
        "five" => 5.0,
        "six" => 6.0,
        "seven" => 7.0,
        "eight" => 8.0,
        "nine" => 9.0,
        "ten" => 10.0,
        "eleven" => 11.0,
        "twelve" => 12.0,
        "thirteen" => 13.0,
        "fourteen" => 14.0,
        "fifteen" => 15.0,
        "sixteen" => 16.0,
        "seventeen" => 17.0,
        "eighteen" => 18.0,
        "nineteen" => 19.0,
        _ => return None,
    })
}

fn tens(word: &str) -> Option<f64> {
    Some(match word {
        "twenty" => 20.0,
        "thirty" => 30.0,
        "forty" | "fourty" => 40.0,
        "fifty" => 50.0,
        "sixty" => 60.0,
        "seventy" => 70.0,
        "eighty" => 80.0,
        "ninety" => 90.0,
        _ => return None,
    })
}

/// "third" is 3; "3rd" too.
pub(crate) fn ordinal(word: &str) -> Option<f64> {
    Some(match word {
        "first" => 1.0,
        "second" => 2.0,
        "third" => 3.0,
        "fourth" => 4.0,
        "fifth" => 5.0,
        "sixth" => 6.0,
        "seventh" => 7.0,
        "eighth" => 8.0,
        "ninth" => 9.0,
        "tenth" => 10.0,
        "eleventh" => 11.0,
        "twelfth" => 12.0,
        "thirteenth" => 13.0,
        "fourteenth" => 14.0,
        "fifteenth" => 15.0,
        "sixteenth" => 16.0,
        "seventeenth" => 17.0,
        "eighteenth" => 18.0,
        "nineteenth" => 19.0,
        "twentieth" => 20.0,
        _ => return None,
    })
}

fn digits(word: &str) -> Option<f64> {
    (word.len() < 9 && word.starts_with(|c: char| c.is_ascii_digit()))
        .then(|| word.replace(',', "").parse().ok())
        .flatten()
}

/// The longest number that begins at `at`: how many words, and what they say.
pub(crate) fn number(tokens: &[Token<'_>], at: usize) -> Option<(usize, Said)> {
    let word = |i: usize| tokens.get(at + i).map_or("", |t| &*t.text);
    if let Some(found) = written(word(0), word(1)) {
        return Some(after_written(found, &word));
    }
    // "an eighth", "one sixth": never "a sixth comb"
    if matches!(word(0), "a" | "an" | "one")
        && matches!(word(1), "sixth" | "eighth" | "tenth")
        && !matches!(word(2), "comb" | "bar" | "one" | "combs")
        && let Some(parts) = ordinal(word(1))
    {
        return Some((2, Said::Part(1.0 / parts)));
    }
    if let (Some(t), Some(o)) = (tens(word(0)), ordinal(word(1)))
        && o < 10.0
    {
        return Some((2, Said::Ordinal(t + o)));
    }
    if let Some(o) = ordinal(word(0)) {
        return Some((1, Said::Ordinal(o)));
    }
    // "point eight of a kilo": where it is weighed or said alone, not "to the point one more time"
    if word(0) == "point"
        && let Some((n, part)) = decimals(&word, 1)
    {
        let of = 1 + n + 2 * usize::from(word(1 + n) == "of" && word(2 + n) == "a");
        let alone = at == 0 && word(of).is_empty();
        return (alone || weighs(word(of))).then_some((1 + n, Said::Cardinal(libm_round(part))));
    }
    let (mut n, value) = whole(&word)?;
    // "one point eight", "two point two five"
    if matches!(word(n), "point" | "decimal" | "comma")
        && let Some((more, part)) = decimals(&word, n + 1)
    {
        return Some((n + 1 + more, Said::Cardinal(libm_round(value + part))));
    }
    if let Some((more, part)) = and_part(&word, n) {
        return Some((n + more, Said::Cardinal(value + part)));
    }
    if word(n) == "to" && word(n + 1) == "one" && value <= 2.5 {
        return Some((n + 2, Said::Ratio(value)));
    }
    // "one on one", "two is to one": never "one on one side"
    if value <= 2.5
        && matches!(word(n), "on" | "by")
        && word(n + 1) == "one"
        && !matches!(
            word(n + 2),
            "side" | "face" | "wall" | "of" | "end" | "bar" | "comb"
        )
    {
        return Some((n + 2, Said::Ratio(value)));
    }
    if value <= 2.5 && word(n) == "is" && word(n + 1) == "to" && word(n + 2) == "one" {
        return Some((n + 3, Said::Ratio(value)));
    }
    if word(n) == "to" && word(n + 1) == "two" && (value - 3.0).abs() < 1e-9 {
        return Some((n + 2, Said::Ratio(1.5)));
    }
    // "eight eighths" is the whole of it
    if let Some(d) = denominator(word(n))
        && value > 0.0
        && value <= d
    {
        return Some((n + 1, Said::Part(value / d)));
    }
    if let Some((more, whole)) = parts_of(&word, n)
        && value > 0.0
        && value < whole
    {
        return Some((n + more, Said::Part(value / whole)));
    }
    // "eighty odd"
    if word(n) == "odd" && n == 1 && value >= 20.0 {
        n += 1;
    }
    Some((n, Said::Cardinal(value)))
}

/// "eight", "two five" after the point: how many words, and the part of one.
fn decimals<'w>(word: &impl Fn(usize) -> &'w str, at: usize) -> Option<(usize, f64)> {
    let (mut n, mut part, mut scale) = (0, 0.0, 0.1);
    while let Some(d) = small(word(at + n)).filter(|&d| d < 10.0 && scale > 1e-4) {
        part += d * scale;
        scale /= 10.0;
        n += 1;
    }
    (n > 0).then_some((n, part))
}

fn weighs(word: &str) -> bool {
    matches!(
        word,
        "kilo"
            | "kilos"
            | "kg"
            | "kilogram"
            | "kilograms"
            | "pound"
            | "pounds"
            | "litre"
            | "litres"
    )
}

fn libm_round(x: f64) -> f64 {
    (x * 10_000.0).round() / 10_000.0
}

fn denominator(word: &str) -> Option<f64> {
    Some(match word {
        "thirds" => 3.0,
        "quarters" | "fourths" => 4.0,
        "fifths" => 5.0,
        "sixths" => 6.0,
        "eighths" => 8.0,
        "tenths" => 10.0,
        _ => return None,
    })
}

/// " parts in four", " out of ten": how many words, and the whole.
fn parts_of<'w>(word: &impl Fn(usize) -> &'w str, n: usize) -> Option<(usize, f64)> {
    let parts = matches!(word(n), "parts" | "part");
    let at = n + usize::from(parts);
    let link = match (word(at), word(at + 1)) {
        ("out", "of") => 2,
        ("of" | "in", _) if parts => 1,
        _ => return None,
    };
    let whole = small(word(at + link)).filter(|&w| (2.0..=10.0).contains(&w))?;
    Some((at + link + 1 - n, whole))
}

/// " and a half", " and three quarters", " and a quarter", "-and-a-bit".
fn and_part<'w>(word: &impl Fn(usize) -> &'w str, n: usize) -> Option<(usize, f64)> {
    if word(n) != "and" {
        return None;
    }
    let (skip, one) = if matches!(word(n + 1), "a" | "one" | "an") {
        (2, true)
    } else {
        (1, false)
    };
    match word(n + skip) {
        "half" => Some((skip + 1, 0.5)),
        "quarter" if one => Some((skip + 1, 0.25)),
        "third" if one => Some((skip + 1, 1.0 / 3.0)),
        "eighth" if one => Some((skip + 1, 0.125)),
        "three" if word(n + skip + 1) == "quarter" => Some((skip + 2, 0.75)),
        // "and three quarters", "and five eighths"
        count => {
            let (count, parts) = (small(count)?, denominator(word(n + skip + 1))?);
            (count > 0.0 && count < parts).then_some((skip + 2, count / parts))
        }
    }
}

/// A whole number in words: how many words, and its value.
fn whole<'w>(word: &impl Fn(usize) -> &'w str) -> Option<(usize, f64)> {
    let below_hundred = |i: usize| -> Option<(usize, f64)> {
        if let Some(t) = tens(word(i)) {
            return Some(
                match small(word(i + 1)).filter(|&d| (1.0..10.0).contains(&d)) {
                    Some(d) => (2, t + d),
                    None => (1, t),
                },
            );
        }
        small(word(i)).filter(|_| word(i) != "oh").map(|v| (1, v))
    };
    let (mut n, mut value) = if word(0) == "a" && matches!(word(1), "hundred" | "thousand") {
        (1, 1.0)
    } else if matches!(word(0), "hundred" | "thousand") {
        (0, 1.0)
    } else {
        below_hundred(0)?
    };
    if word(n) == "hundred" && value < 20.0 {
        value *= 100.0;
        n += 1;
        let skip = usize::from(word(n) == "and");
        if let Some((more, rest)) = below_hundred(n + skip) {
            value += rest;
            n += skip + more;
        }
    }
    // "one thousand six hundred"
    if word(n) == "thousand" && value < 100.0 {
        value *= 1000.0;
        n += 1;
        let skip = usize::from(word(n) == "and");
        if let Some((more, mut rest)) = below_hundred(n + skip) {
            n += skip + more;
            if word(n) == "hundred" {
                rest *= 100.0;
                n += 1;
                let skip = usize::from(word(n) == "and");
                if let Some((more, last)) = below_hundred(n + skip) {
                    rest += last;
                    n += skip + more;
                }
            }
            value += rest;
        }
    }
    Some((n, value))
}

/// Digits: "2.4", "3/4", "1:1", "3rd".
fn written(word: &str, next: &str) -> Option<(usize, Said)> {
    if let Some((a, b)) = word.split_once('/') {
        let (a, b) = (digits(a)?, digits(b)?);
        return (b > 0.0).then(|| {
            (
                1,
                if a < b {
                    Said::Part(a / b)
                } else {
                    Said::Cardinal(a / b)
                },
            )
        });
    }
    if let Some((a, b)) = word.split_once(':') {
        let (a, b) = (digits(a)?, digits(b)?);
        return (b > 0.0).then_some((1, Said::Ratio(a / b)));
    }
    let value = digits(word)?;
    if matches!(next, "st" | "nd" | "rd" | "th") {
        return Some((2, Said::Ordinal(value)));
    }
    Some((1, Said::Cardinal(value)))
}

/// What may follow a written number: "1 1/8", "2 and a half", "2 to 1".
fn after_written<'w>(found: (usize, Said), word: &impl Fn(usize) -> &'w str) -> (usize, Said) {
    let (n, Said::Cardinal(value)) = found else {
        return found;
    };
    if let Some((1, Said::Part(part))) = written(word(n), "") {
        return (n + 1, Said::Cardinal(value + part));
    }
    if let Some((more, part)) = and_part(word, n) {
        return (n + more, Said::Cardinal(value + part));
    }
    if word(n) == "to" && matches!(word(n + 1), "1" | "one") && value <= 2.5 {
        return (n + 2, Said::Ratio(value));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::token::tokens;

    fn said(text: &str) -> Option<(usize, Said)> {
        number(&tokens(text), 0)
    }

    #[test]
    fn numbers_are_read_as_they_are_said() {
        assert_eq!(said("twenty two"), Some((2, Said::Cardinal(22.0))));
        assert_eq!(said("two point four kilos"), Some((3, Said::Cardinal(2.4))));
        assert_eq!(said("two and a half kilo"), Some((4, Said::Cardinal(2.5))));
        assert_eq!(said("three hundred bees"), Some((2, Said::Cardinal(300.0))));
        assert_eq!(said("1 1/8 in"), Some((2, Said::Cardinal(1.125))));
        assert_eq!(said("two to one"), Some((3, Said::Ratio(2.0))));
        assert_eq!(said("twenty first"), Some((2, Said::Ordinal(21.0))));
        assert_eq!(said("2/3"), Some((1, Said::Part(2.0 / 3.0))));
        assert_eq!(said("comb"), None);
    }
}
