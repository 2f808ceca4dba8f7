//! How well a comb met fits an expected bar, against a comb that could hold anything.

use comb::contents::{Fill, Holding};
use comb::{Contents, FaceContents, Share};

use crate::entry::Hanging;
use crate::matching::{Expected, Met};

/// Spread of one judgement of a share by eye: a keeper is within 0.15 nearly always; the standard
/// deviation of an even spread over -0.15..0.15 is 0.087 (computed; that it is even is our own
/// choice). Two judgements, then and now, make it 1.41 times that.
const JUDGEMENT: f64 = 0.087 * std::f64::consts::SQRT_2;
/// Share of judgements that are off altogether (our own choice).
const SLIP: f64 = 0.02;
/// Share of combs without any brood, and of combs without any pollen (our own choice): that both
/// then and now there was none says little.
const NO_BROOD: f64 = 0.55;
const NO_POLLEN: f64 = 0.5;
/// What a part drifts by itself, apart from what both faces share; standard deviation a day, and
/// the most (our own choice).
const DRIFT_A_DAY: f64 = 0.007;
const DRIFT_AT_MOST: f64 = 0.3;

/// How fast unripe honey is capped, as the days in which all but 37 % of it are: one to two weeks
/// (common practice, no source), or hardly at all in a dearth. Each as probable as the others.
const CAPPED_IN_DAYS: [f64; 5] = [6.0, 12.0, 20.0, 40.0, 1000.0];
/// How far the brood of a comb, both faces alike, has grown or shrunk once its cells were emptied
/// and laid anew, after three weeks in full (development-times.csv: a worker takes 21 days).
const BROOD_SHIFTS: [f64; 5] = [-0.4, -0.2, 0.0, 0.2, 0.4];
const BROOD_CYCLE_DAYS: f64 = 21.0;

/// Logarithm of how much more probable the words on a comb met are if it is this bar than if it is
/// any comb; 0 where nothing can be compared.
pub(super) fn log_ratio(expected: &Expected, met: &Met, turned: f64) -> f64 {
    let as_it_hung = of_contents(&expected.contents, &met.contents, expected.days);
    let other_way = of_contents(
        &expected.contents.clone().turned(),
        &met.contents,
        expected.days,
    );
    let either = libm::log(
        (1.0 - turned) * libm::exp(as_it_hung) + turned * libm::exp(other_way) + f64::MIN_POSITIVE,
    );
    either + of_hanging(expected, met)
}

fn of_contents(then: &Contents, now: &Contents, days: f64) -> f64 {
    let faces = [(&then.left, &now.left), (&then.right, &now.right)];
    let both = |of_face: &dyn Fn(&FaceContents, &FaceContents) -> f64| -> f64 {
        faces.iter().map(|(then, now)| of_face(then, now)).sum()
    };
    // what both faces of a comb share is summed over, so that it is not counted twice
    let honey = mean_exp(CAPPED_IN_DAYS.map(|capped_in| {
        let capped = 1.0 - libm::exp(-days / capped_in);
        both(&|then, now| of_honey(then, now, capped, days))
    }));
    let brood = mean_exp(BROOD_SHIFTS.map(|shift| {
        let shift = shift * (days / BROOD_CYCLE_DAYS).min(1.0);
        both(&|then, now| of_brood(then, now, shift, days))
    }));
    let other = both(&|then, now| {
        of_part_among(then.pollen, now.pollen, 0.0, days, NO_POLLEN)
            + of_part(then.empty, now.empty, 0.0, days)
            + of_part(then.bare, now.bare, 0.0, days)
    });
    honey + brood + other + of_kinds(then, now, days) + of_body(then, now, days)
}

/// Logarithm of the mean of what these are the logarithms of.
fn mean_exp(logs: [f64; 5]) -> f64 {
    let best = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let sum: f64 = logs.iter().map(|log| libm::exp(log - best)).sum();
    best + libm::log(sum / logs.len() as f64)
}

/// Honey of one face when this share of what was unripe has been capped since.
fn of_honey(then: &FaceContents, now: &FaceContents, capped: f64, days: f64) -> f64 {
    if let (Some(_), Some(unripe)) = (then.capped_honey, then.unripe)
        && now.capped_honey.is_some()
        && now.unripe.is_some()
    {
        let moved = capped * unripe.get();
        return of_part(then.capped_honey, now.capped_honey, moved, days)
            + of_part(then.unripe, now.unripe, -moved, days);
    }
    let (before, after) = (then.capped_share(), now.capped_share());
    let rise = before.map_or(0.0, |before| capped * before.rest().get());
    of_part(before, after, rise, days)
}

fn of_brood(then: &FaceContents, now: &FaceContents, shift: f64, days: f64) -> f64 {
    let part = |of: fn(&FaceContents) -> Option<Share>| {
        let none = of(then).is_some_and(|share| share.get() < 0.03);
        // where there was none, none has shrunk
        let shift = if none { shift.max(0.0) / 2.0 } else { shift };
        of_part_among(of(then), of(now), shift, days, NO_BROOD)
    };
    part(|face| face.eggs)
        + part(|face| face.larvae)
        + part(|face| face.capped_brood)
        + part(|face| face.drone_brood)
}

/// Density of a share judged now, given what was judged then and by how much it should have
/// changed, over that of the same share on any comb; 0 (in logarithms) when either was not said.
fn of_part(then: Option<Share>, now: Option<Share>, change: f64, days: f64) -> f64 {
    of_part_among(then, now, change, days, 0.0)
}

/// The same for a part that so many combs have none of.
fn of_part_among(
    then: Option<Share>,
    now: Option<Share>,
    change: f64,
    days: f64,
    none: f64,
) -> f64 {
    let (Some(then), Some(now)) = (then, now) else {
        return 0.0;
    };
    let middle = (then.get() + change).clamp(0.0, 1.0);
    let spread = libm::hypot(JUDGEMENT, (DRIFT_A_DAY * days).min(DRIFT_AT_MOST));
    let fits = (1.0 - SLIP) * density(now.get(), middle, spread) + SLIP;
    let on_any = none * density(now.get(), 0.0, JUDGEMENT) + 1.0 - none;
    libm::log(fits / on_any)
}

/// A normal curve cut off at 0 and 1.
fn density(at: f64, middle: f64, spread: f64) -> f64 {
    let root = spread * std::f64::consts::SQRT_2;
    let inside = libm::erf((1.0 - middle) / root) + libm::erf(middle / root);
    let z = (at - middle) / spread;
    let area = spread * inside * libm::sqrt(std::f64::consts::FRAC_PI_2);
    libm::exp(-z * z / 2.0) / area
}

/// Kinds said to be there or not to be there, on the comb as a whole.
fn of_kinds(then: &Contents, now: &Contents, days: f64) -> f64 {
    Holding::ALL
        .iter()
        .filter_map(|kind| Some(of_kind(said(then, *kind)?, said(now, *kind)?, days)))
        .sum()
}

/// The same is more probable than the other, less and less so with time; shares that were said
/// are compared as shares, so this counts only words without them.
fn of_kind(then: bool, now: bool, days: f64) -> f64 {
    let same = 0.5 + 0.42 * libm::exp(-days / 40.0);
    libm::log(2.0 * if then == now { same } else { 1.0 - same })
}

fn said(contents: &Contents, kind: Holding) -> Option<bool> {
    let there = |list: fn(&FaceContents) -> &Vec<Holding>, whole: &[Holding]| {
        whole.contains(&kind)
            || list(&contents.left).contains(&kind)
            || list(&contents.right).contains(&kind)
    };
    if there(|face| &face.present, &contents.present) {
        Some(true)
    } else if there(|face| &face.absent, &contents.absent) {
        Some(false)
    } else {
        None
    }
}

/// Fill, straightness, attachment, thickness and mass.
fn of_body(then: &Contents, now: &Contents, days: f64) -> f64 {
    let mut log = 0.0;
    if let (Some(then), Some(now)) = (then.straightness, now.straightness) {
        log += libm::log(2.0 * if then == now { 0.93 } else { 0.07 });
    }
    if let (Some(then), Some(now)) = (then.attachment, now.attachment) {
        // combs are cut free and grow fast again
        log += libm::log(2.0 * if then == now { 0.65 } else { 0.35 });
    }
    if let (Some(then), Some(now)) = (then.fill, now.fill) {
        log += libm::log(3.0 * of_fill(then, now, days));
    }
    if let (Some(then), Some(now)) = (then.thickness_mm, now.thickness_mm) {
        // bees thicken honey combs; a judgement by eye is good to some 4 mm
        log += of_measure((now - then).to_mm(), 4.0, 0.5 * days, 60.0);
    }
    if let (Some(then), Some(now)) = (then.mass_kg, now.mass_kg) {
        log += of_measure((now - then).to_kg(), 0.3, 0.06 * days, 3.5);
    }
    log
}

fn of_fill(then: Fill, now: Fill, days: f64) -> f64 {
    let fuller = 0.3 * (1.0 - libm::exp(-days / 10.0));
    match (then as i8) - (now as i8) {
        0 => 0.8 - fuller,
        -1 => 0.1 + fuller * 0.7,
        -2 => 0.03 + fuller * 0.3,
        1 => 0.09,
        _ => 0.03,
    }
}

/// A difference against an even spread over `range`; it grows rather than shrinks.
fn of_measure(difference: f64, judgement: f64, growth: f64, range: f64) -> f64 {
    let up = libm::hypot(judgement, growth);
    let z = difference / if difference >= 0.0 { up } else { judgement };
    let area = (up + judgement) * libm::sqrt(std::f64::consts::FRAC_PI_2);
    libm::log((1.0 - SLIP) * libm::exp(-z * z / 2.0) / area * range + SLIP)
}

/// What hangs from the bar. Of all bars met, most bear a comb.
fn of_hanging(expected: &Expected, met: &Met) -> f64 {
    let Some(now) = met.hanging else {
        return 0.0;
    };
    let drawn = 1.0 - libm::exp(-expected.days / 14.0);
    let fits = match (expected.hanging, now) {
        (Hanging::Comb, Hanging::Comb) => 0.97,
        (Hanging::Comb, Hanging::Strip) => 0.02,
        (Hanging::Comb, Hanging::Nothing) => 0.01,
        (Hanging::Strip | Hanging::Nothing, Hanging::Comb) => 0.05 + 0.9 * drawn,
        (Hanging::Strip, Hanging::Strip) | (Hanging::Nothing, Hanging::Nothing) => {
            0.85 - 0.82 * drawn
        }
        (Hanging::Strip, Hanging::Nothing) | (Hanging::Nothing, Hanging::Strip) => {
            0.1 - 0.08 * drawn
        }
    };
    let among_all = match now {
        Hanging::Comb => 0.8,
        Hanging::Strip | Hanging::Nothing => 0.1,
    };
    libm::log(fits / among_all)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_curve_of_a_share_has_area_one() {
        for then in [0.0, 0.1, 0.5, 0.95, 1.0] {
            for days in [0.0, 7.0, 40.0] {
                let steps = 2000;
                let area: f64 = (0..steps)
                    .map(|i| {
                        let now = (f64::from(i) + 0.5) / f64::from(steps);
                        let (then, now) = (Share::clamped(then), Share::clamped(now));
                        let ratio = of_part(Some(then), Some(now), 0.1, days);
                        libm::exp(ratio) / f64::from(steps)
                    })
                    .sum();
                assert!(
                    (area - 1.0).abs() < 1e-3,
                    "{then} after {days} days: {area}"
                );
            }
        }
    }

    #[test]
    fn what_was_not_said_tells_nothing() {
        let expected = Expected {
            bar: crate::BarId(uuid::Uuid::nil()),
            hanging: Hanging::Comb,
            contents: Contents::default(),
            days: 10.0,
        };
        let ratio = log_ratio(&expected, &Met::default(), 0.01);
        assert!(ratio.abs() < 1e-9, "{ratio}");
    }
}
