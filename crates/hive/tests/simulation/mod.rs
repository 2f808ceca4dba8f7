//! Invented hives of unmarked bars through a season of visits, to measure the matching.
//!
//! Between two visits, unseen and unrecorded, two neighbours change places and one bar goes to a
//! place up to five further on; depending on the case a bar is taken out and a foreign comb put in.
//! The keeper judges every share within 0.15. Combs ripen, brood comes and goes, and at each visit
//! the two ripest combs are cut, which the record knows.

use std::collections::BTreeMap;

use comb::contents::Holding;
use comb::{Contents, FaceContents, Share};
use hive::BarId;
use hive::entry::Hanging;
use hive::matching::{Expected, Habits, Met, match_combs};
use rand::seq::SliceRandom;
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;
use uuid::Uuid;

/// How much the keeper says of a comb.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Talk {
    /// The parts of both faces.
    Full,
    /// The capped share of the honey on both faces, brood and pollen yes or no.
    Spare,
}

/// When a bar is taken out and a foreign comb put in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Changes {
    /// Once in the ten visits.
    Once,
    /// Before every visit.
    EveryVisit,
}

/// How combs look and change.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Combs {
    /// As in a hive through a season: brood combs alike, honey combs that ripen until they are
    /// alike, ripe ones cut.
    Ripening,
    /// Each face unlike the others and hardly changing: what can be told when contents do tell.
    Unlike,
}

/// Which bars change places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Moves {
    /// Combs outside the brood nest, whose order a keeper leaves alone.
    OutsideNest,
    /// Any.
    Anywhere,
}

/// One case to measure.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Case {
    pub(crate) combs: Combs,
    pub(crate) talk: Talk,
    pub(crate) changes: Changes,
    pub(crate) moves: Moves,
    /// How many combs are met from the opened end; the rest of the row is not looked at.
    pub(crate) met: usize,
}

/// What came of it.
#[derive(Debug, Clone, Default)]
pub(crate) struct Tally {
    /// For each match: its probability and whether it was right.
    pub(crate) matches: Vec<(f64, bool)>,
    /// Of bars that were there from first to last: how many the record still calls by their name.
    pub(crate) kept: usize,
    pub(crate) there_throughout: usize,
}

impl Tally {
    pub(crate) fn right(&self) -> f64 {
        share(
            self.matches.iter().filter(|m| m.1).count(),
            self.matches.len(),
        )
    }
    pub(crate) fn kept_right(&self) -> f64 {
        share(self.kept, self.there_throughout)
    }
    /// Matches with a probability in a band: how many, their mean probability, their share right.
    pub(crate) fn band(&self, from: f64, to: f64) -> (usize, f64, f64) {
        let band: Vec<_> = self
            .matches
            .iter()
            .filter(|m| (from..to).contains(&m.0))
            .collect();
        let right = band.iter().filter(|m| m.1).count();
        let mean = band.iter().map(|m| m.0).sum::<f64>() / band.len().max(1) as f64;
        (band.len(), mean, share(right, band.len()))
    }
}

fn share(part: usize, of: usize) -> f64 {
    part as f64 / of.max(1) as f64
}

const BARS: usize = 20;
const NEST: usize = 9;
const VISITS: usize = 10;
const DAYS: f64 = 10.0;
const WITHIN: f64 = 0.15;

/// One face as it truly is.
#[derive(Debug, Clone, Copy, Default)]
struct Face {
    honey: f64,
    capped: f64,
    brood: f64,
    pollen: f64,
}

#[derive(Debug, Clone, Copy)]
struct Truth {
    id: u128,
    faces: [Face; 2],
    nest: bool,
    cut: bool,
}

/// What the record knows of one bar.
#[derive(Debug, Clone)]
struct Known {
    id: u128,
    /// The true bar that it was last taken to be.
    is: u128,
    contents: Contents,
    cut: bool,
    days: f64,
}

/// Runs a case over many hives.
pub(crate) fn run(case: Case, hives: u64, seed: u64) -> Tally {
    let mut tally = Tally::default();
    for hive in 0..hives {
        let mut rng = ChaCha8Rng::seed_from_u64(seed.wrapping_mul(1_000_003).wrapping_add(hive));
        one_hive(case, &mut rng, &mut tally);
    }
    tally
}

fn one_hive(case: Case, rng: &mut ChaCha8Rng, tally: &mut Tally) {
    let mut row: Vec<Truth> = (0..BARS)
        .map(|place| comb(case.combs, place as u128, place, rng))
        .collect();
    let mut next_id = 1000;
    let mut record: Vec<Known> = row
        .iter()
        .map(|bar| first_known(bar, case.talk, rng))
        .collect();
    let once = rng.random_range(1..VISITS);
    for visit in 1..=VISITS {
        for bar in &mut row {
            match case.combs {
                Combs::Ripening => ripen(bar, rng),
                Combs::Unlike => linger(bar, rng),
            }
        }
        for known in &mut record {
            known.days += DAYS;
        }
        disturb(&mut row, case.moves, rng);
        if case.changes == Changes::EveryVisit || visit == once {
            // a bar of the outer combs goes, an outer comb comes
            let nest = row.iter().position(|bar| bar.nest).unwrap_or(row.len());
            row.remove(rng.random_range(0..nest));
            let place = rng.random_range(0..nest);
            row.insert(place, comb(case.combs, next_id, place, rng));
            next_id += 1;
        }
        record = visit_hive(case, &mut row, record, rng, tally);
    }
    let names: BTreeMap<u128, u128> = record.iter().map(|k| (k.is, k.id)).collect();
    for bar in row.iter().filter(|bar| bar.id < 1000) {
        tally.there_throughout += 1;
        tally.kept += usize::from(names.get(&bar.id) == Some(&bar.id));
    }
}

fn comb(combs: Combs, id: u128, place: usize, rng: &mut ChaCha8Rng) -> Truth {
    match combs {
        Combs::Ripening => new_comb(id, place, rng),
        Combs::Unlike => unlike_comb(id, place, rng),
    }
}

fn unlike_comb(id: u128, place: usize, rng: &mut ChaCha8Rng) -> Truth {
    let nest = place >= BARS - NEST;
    let mut face = || {
        let brood = if nest {
            rng.random_range(0.0..0.9)
        } else {
            0.0
        };
        let honey = rng.random_range(0.0..1.0) * (1.0 - brood);
        Face {
            honey,
            capped: rng.random_range(0.0..1.0),
            brood,
            pollen: rng.random_range(0.0..1.0) * (1.0 - brood - honey),
        }
    };
    Truth {
        id,
        faces: [face(), face()],
        nest,
        cut: false,
    }
}

fn linger(bar: &mut Truth, rng: &mut ChaCha8Rng) {
    for face in &mut bar.faces {
        face.honey = wobble(face.honey, 0.03, rng);
        face.capped = wobble(face.capped, 0.03, rng);
        face.pollen = wobble(face.pollen, 0.03, rng);
        if bar.nest {
            face.brood = wobble(face.brood, 0.03, rng).max(0.03);
        }
    }
}

fn new_comb(id: u128, place: usize, rng: &mut ChaCha8Rng) -> Truth {
    let nest = place >= BARS - NEST;
    let mut face = if nest {
        let brood = rng.random_range(0.3..0.75);
        Face {
            honey: rng.random_range(0.05..0.3_f64).min(1.0 - brood),
            capped: rng.random_range(0.2..1.0),
            brood,
            pollen: rng.random_range(0.0..0.2),
        }
    } else {
        // the nearer to the nest, the fuller and the riper, on the whole
        let inward = place as f64 / (BARS - NEST) as f64;
        let around = |middle: f64, rng: &mut ChaCha8Rng| {
            (middle + rng.random_range(-0.3..0.3_f64)).clamp(0.0, 1.0)
        };
        Face {
            honey: around(0.5 + 0.4 * inward, rng).max(0.1),
            capped: around(0.2 + 0.5 * inward, rng),
            brood: 0.0,
            pollen: if rng.random_bool(0.2) {
                rng.random_range(0.0..0.2)
            } else {
                0.0
            },
        }
    };
    let first = face;
    face.honey = wobble(face.honey, 0.1, rng);
    face.capped = wobble(face.capped, 0.2, rng);
    face.brood = if nest {
        wobble(face.brood, 0.15, rng)
    } else {
        0.0
    };
    Truth {
        id,
        faces: [first, face],
        nest,
        cut: false,
    }
}

fn wobble(share: f64, by: f64, rng: &mut ChaCha8Rng) -> f64 {
    (share + rng.random_range(-by..by)).clamp(0.0, 1.0)
}

/// Ten days go by.
fn ripen(bar: &mut Truth, rng: &mut ChaCha8Rng) {
    if bar.cut {
        // a strip is drawn anew and filled in part
        bar.cut = false;
        let honey = rng.random_range(0.1..0.6);
        for face in &mut bar.faces {
            *face = Face {
                honey,
                ..Face::default()
            };
        }
        return;
    }
    let ripening = rng.random_range(0.05..0.5);
    let brood = rng.random_range(-0.2..0.2);
    for face in &mut bar.faces {
        face.capped = wobble(face.capped + ripening * (1.0 - face.capped), 0.05, rng);
        face.honey = wobble(face.honey + 0.05, 0.05, rng);
        if bar.nest {
            face.brood = (face.brood + brood).clamp(0.05, 0.85);
            face.honey = face.honey.min(0.3).min(1.0 - face.brood);
            face.capped = wobble(face.capped, 0.2, rng);
        }
    }
}

/// Two neighbours change places, and one bar goes up to five places further.
fn disturb(row: &mut Vec<Truth>, moves: Moves, rng: &mut ChaCha8Rng) {
    let free = match moves {
        Moves::OutsideNest => row.iter().position(|bar| bar.nest).unwrap_or(row.len()),
        Moves::Anywhere => row.len(),
    };
    let here = rng.random_range(0..free - 1);
    row.swap(here, here + 1);
    let from = rng.random_range(0..free);
    let bar = row.remove(from);
    let to = (from + rng.random_range(0..=10))
        .saturating_sub(5)
        .min(free - 1);
    row.insert(to, bar);
}

fn judge(bar: &Truth, talk: Talk, rng: &mut ChaCha8Rng) -> Contents {
    let mut seen = |share: f64| Some(Share::clamped(wobble(share, WITHIN, rng)));
    let mut face = |face: &Face| match talk {
        Talk::Full => FaceContents {
            capped_honey: seen(face.honey * face.capped),
            unripe: seen(face.honey * (1.0 - face.capped)),
            capped_brood: seen(face.brood),
            pollen: seen(face.pollen),
            ..FaceContents::default()
        },
        Talk::Spare => FaceContents {
            capped_of_honey: if face.honey > 0.1 {
                seen(face.capped)
            } else {
                None
            },
            ..FaceContents::default()
        },
    };
    let mut contents = Contents {
        left: face(&bar.faces[0]),
        right: face(&bar.faces[1]),
        ..Contents::default()
    };
    if talk == Talk::Spare {
        let brood = bar.faces.iter().any(|face| face.brood > 0.02);
        let list = if brood {
            &mut contents.present
        } else {
            &mut contents.absent
        };
        list.push(Holding::WorkerBrood);
        if bar.faces.iter().any(|face| face.pollen > 0.05) {
            contents.present.push(Holding::Pollen);
        }
    }
    contents
}

fn first_known(bar: &Truth, talk: Talk, rng: &mut ChaCha8Rng) -> Known {
    Known {
        id: bar.id,
        is: bar.id,
        contents: judge(bar, talk, rng),
        cut: false,
        days: 0.0,
    }
}

/// The keeper meets the combs, the record takes them for bars, two ripe ones are cut.
fn visit_hive(
    case: Case,
    row: &mut [Truth],
    record: Vec<Known>,
    rng: &mut ChaCha8Rng,
    tally: &mut Tally,
) -> Vec<Known> {
    let met_count = case.met.min(row.len());
    let met: Vec<Met> = row[..met_count]
        .iter()
        .map(|bar| Met {
            hanging: Some(Hanging::Comb),
            contents: judge(bar, case.talk, rng),
        })
        .collect();
    let expected: Vec<Expected> = record.iter().map(expect).collect();
    let habits = Habits {
        whole_row: met_count == row.len(),
        ..Habits::default()
    };
    let matching = match_combs(&expected, &met, &habits);
    let known: BTreeMap<u128, u128> = record.iter().map(|k| (k.is, k.id)).collect();
    let mut after = Vec::new();
    for ((bar, met), guess) in row.iter().zip(met).zip(&matching.guesses) {
        let given = guess.bar.map(|bar| bar.0.as_u128());
        tally
            .matches
            .push((guess.sure.get(), given == known.get(&bar.id).copied()));
        after.push(Known {
            id: given.unwrap_or(1_000_000 + rng.random_range(0..u128::from(u64::MAX))),
            is: bar.id,
            contents: met.contents,
            cut: false,
            days: 0.0,
        });
    }
    // what was not met stays in the record, behind what was met
    if !habits.whole_row {
        let used: Vec<u128> = after.iter().map(|k| k.id).collect();
        after.extend(record.into_iter().filter(|k| !used.contains(&k.id)));
    }
    if case.combs == Combs::Ripening {
        cut_ripest(row, &mut after);
    }
    after
}

fn expect(known: &Known) -> Expected {
    Expected {
        bar: BarId(Uuid::from_u128(known.id)),
        hanging: if known.cut {
            Hanging::Strip
        } else {
            Hanging::Comb
        },
        contents: known.contents.clone(),
        days: known.days,
    }
}

fn cut_ripest(row: &mut [Truth], record: &mut [Known]) {
    let ripe =
        |bar: &Truth| !bar.nest && bar.faces.iter().all(|face| face.capped * face.honey > 0.7);
    let ripest: Vec<u128> = row
        .iter()
        .filter(|bar| ripe(bar))
        .map(|bar| bar.id)
        .take(2)
        .collect();
    for bar in row.iter_mut().filter(|bar| ripest.contains(&bar.id)) {
        bar.cut = true;
    }
    for known in record.iter_mut().filter(|known| ripest.contains(&known.is)) {
        known.cut = true;
        known.contents = Contents::default();
    }
}

/// A shuffled row, for a case where order tells nothing.
#[allow(dead_code, reason = "the example alone uses it")]
pub(crate) fn shuffled_once(talk: Talk, hives: u64, seed: u64) -> Tally {
    let mut tally = Tally::default();
    for hive in 0..hives {
        let mut rng = ChaCha8Rng::seed_from_u64(seed.wrapping_mul(7_000_003).wrapping_add(hive));
        let mut row: Vec<Truth> = (0..BARS)
            .map(|place| new_comb(place as u128, place, &mut rng))
            .collect();
        let record: Vec<Known> = row
            .iter()
            .map(|bar| first_known(bar, talk, &mut rng))
            .collect();
        row.shuffle(&mut rng);
        let case = Case {
            combs: Combs::Ripening,
            talk,
            changes: Changes::Once,
            moves: Moves::Anywhere,
            met: BARS,
        };
        visit_hive(case, &mut row, record, &mut rng, &mut tally);
    }
    tally
}
