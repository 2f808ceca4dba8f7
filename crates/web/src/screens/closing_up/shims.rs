//! Shims at hand: typed and shown in the keeper's units, kept on this device in millimetres.

use comb::Length;

use crate::browser::storage;
use crate::preferences::Units;

/// Under which name they are kept.
const SHIMS: &str = "shims-mm";

/// Narrower and wider ones are slips, mm. Common practice, no source.
const WIDTHS_MM: std::ops::RangeInclusive<f64> = 1.0..=200.0;

/// Inches are shown as sixteenths where they are as near as this: a shim is cut no closer.
const NEAR: Length = Length::mm(0.127);

/// As kept; none where nothing is, or what is cannot be read.
pub(super) fn kept() -> Vec<Length> {
    let kept = storage::get(SHIMS).unwrap_or_default();
    let each = kept
        .split_whitespace()
        .map(|word| Units::Metric.length(word));
    each.collect::<Option<_>>().unwrap_or_default()
}

/// Keeps them.
pub(super) fn keep(shims: &[Length]) {
    let told = shims.iter().map(|shim| format!("{:.3}", shim.to_mm()));
    storage::set(SHIMS, &told.collect::<Vec<_>>().join(" "));
}

/// As they were typed; else the word that is none.
pub(super) fn typed(told: &str, units: Units) -> Result<Vec<Length>, &str> {
    let signs = ["mm", "in", "\"", "\u{2033}"];
    told.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';'))
        .filter(|word| !word.is_empty() && !signs.contains(word))
        .map(|word| {
            let bare = signs
                .iter()
                .fold(word, |bare, sign| bare.trim_end_matches(sign));
            let shim = units.length(bare).ok_or(word)?;
            // the plan reckons in whole millimetres
            if units == Units::Metric && bare.parse::<u32>().is_err() {
                return Err(word);
            }
            WIDTHS_MM
                .contains(&shim.to_mm())
                .then_some(shim)
                .ok_or(word)
        })
        .collect()
}

/// As they are shown.
pub(super) fn shown(shims: &[Length], units: Units) -> String {
    let each = shims.iter().map(|shim| match units {
        Units::Metric => units.typed_length(*shim),
        Units::Inches => units.told_in().shim(*shim, NEAR),
    });
    each.collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 25.4 mm to the inch by definition: an eighth is 3.175 mm.
    #[test]
    fn shims_read_back_as_they_were_typed() {
        for (units, told) in [
            (Units::Metric, "3 5 8"),
            (Units::Inches, "1/8 3/16 1/4 0.55"),
        ] {
            let shims = typed(told, units).expect("shims");
            assert_eq!(shown(&shims, units), told);
        }
        let eighth = typed("1/8\"", Units::Inches).expect("a shim");
        assert!((eighth[0].to_mm() - 3.175).abs() < 1e-9);
        assert_eq!(shown(&eighth, Units::Metric), "3.2");
    }

    #[test]
    fn what_is_no_shim_is_named() {
        assert_eq!(typed("3 wide 5", Units::Metric), Err("wide"));
        assert_eq!(typed("0", Units::Metric), Err("0"));
        assert_eq!(typed("3 3.5", Units::Metric), Err("3.5"));
        // millimetres typed where inches are asked
        assert_eq!(typed("10", Units::Inches), Err("10"));
    }
}
