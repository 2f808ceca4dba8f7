//! Entries, and what happened to a bar, in a keeper's words.

use comb::contents::{Attachment, Fill, Straightness};
use comb::{Contents, FaceContents, ToldIn, Volume};
use health::told::{certainty, label_period};
use hive::entry::{ClosingWord, Decision, End, Hanging, Harvest, Piece, Weather};
use hive::numbers::ranges;
use hive::{BarId, EntryId, Happened, HiveId, Known, What, Yard};
use serde_json::{Map, Value};

/// Mites as they are counted: "1 mite", "3 mites".
pub fn mites(count: u32) -> String {
    if count == 1 {
        "1 mite".to_owned()
    } else {
        format!("{count} mites")
    }
}

/// A recorded comb's judgement.
pub fn contents(contents: &Contents, told_in: ToldIn) -> String {
    let mut parts = Vec::new();
    let (left, right) = (face(&contents.left), face(&contents.right));
    match (left.is_empty(), right.is_empty()) {
        (false, false) if left == right => parts.push(format!("{left} both sides")),
        _ => {
            if !left.is_empty() {
                parts.push(format!("left-facing {left}"));
            }
            if !right.is_empty() {
                parts.push(format!("right-facing {right}"));
            }
        }
    }
    let kinds = |kinds: &[comb::contents::Holding]| {
        kinds
            .iter()
            .map(|kind| kind.word())
            .collect::<Vec<_>>()
            .join(", ")
    };
    if !contents.present.is_empty() {
        parts.push(kinds(&contents.present));
    }
    if !contents.absent.is_empty() {
        parts.push(format!("no {}", kinds(&contents.absent)));
    }
    parts.extend(contents.fill.map(|fill| match fill {
        Fill::Full => "full".to_owned(),
        Fill::Part => "part full".to_owned(),
        Fill::Light => "light".to_owned(),
    }));
    parts.extend(contents.attachment.map(|a| match a {
        Attachment::Attached => "attached".to_owned(),
        Attachment::Free => "free of the walls".to_owned(),
    }));
    parts.extend(contents.straightness.map(|s| match s {
        Straightness::Straight => "straight".to_owned(),
        Straightness::Crossed => "crossed".to_owned(),
    }));
    parts.extend(contents.mass_kg.map(|mass| told_in.mass_words(mass)));
    parts.extend(
        contents
            .thickness_mm
            .map(|thick| format!("{} thick", told_in.length_words(thick))),
    );
    parts.extend(
        contents
            .moisture
            .map(|m| format!("{:.1} % water", m.to_percent())),
    );
    if parts.is_empty() {
        "nothing said".to_owned()
    } else {
        parts.join("; ")
    }
}

fn face(face: &FaceContents) -> String {
    let named = [
        (face.capped_honey, "capped honey"),
        (face.unripe, "unripe"),
        (face.eggs, "eggs"),
        (face.larvae, "larvae"),
        (face.capped_brood, "capped brood"),
        (face.drone_brood, "drone brood"),
        (face.pollen, "pollen"),
        (face.empty, "empty"),
        (face.bare, "bare"),
    ];
    let capped = face.capped_of_honey.map(|share| format!("{share} capped"));
    let shares = named
        .into_iter()
        .filter_map(|(share, name)| Some(format!("{} {name}", share?)));
    let kinds = face.present.iter().map(|kind| kind.word().to_owned());
    capped
        .into_iter()
        .chain(shares)
        .chain(kinds)
        .collect::<Vec<_>>()
        .join(", ")
}

/// The keeper's word.
pub const fn decision(decision: Decision) -> &'static str {
    match decision {
        Decision::Take => "take",
        Decision::Leave => "leave",
        Decision::Undecided => "not decided",
    }
}

/// What became of a comb.
pub const fn harvest(how: Harvest) -> &'static str {
    match how {
        Harvest::Cut => "cut, a strip left on the bar",
        Harvest::Whole => "carried away on its bar",
        Harvest::Broken => "broke off and was carried away",
    }
}

/// How an event of the honey house is told; what it means is the honey crate's matter.
pub type HoneyHouseWords<'a> = &'a dyn Fn(&Map<String, Value>) -> String;

/// How is told what entries alone do not tell.
#[derive(Clone, Copy)]
pub struct Manner<'a> {
    /// The events of the honey house.
    pub honey_house: HoneyHouseWords<'a>,
    /// The units.
    pub told_in: ToldIn,
}

/// What happened, in a few words.
pub fn what(yard: &Yard, what: &What, manner: Manner<'_>) -> String {
    match what.known() {
        Some(known) => known_words(yard, known, manner),
        None => format!("something a newer program wrote ({})", what.kind()),
    }
}

/// The temperature; the words where none was told, since they are often those that told it.
fn weather_words(weather: &Weather, told_in: ToldIn) -> Option<String> {
    let degrees = weather
        .temperature_c
        .map(|air| told_in.temperature_words(air));
    degrees.or_else(|| weather.words.clone())
}

#[expect(clippy::too_many_lines, reason = "one arm a kind, each a few words")]
fn known_words(yard: &Yard, known: &Known, manner: Manner<'_>) -> String {
    let told_in = manner.told_in;
    let bar = |id: &BarId| bar_words(yard, *id);
    match known {
        Known::Apiary { name, .. } => format!("apiary {name}"),
        Known::HiveStarted { name, body, .. } => {
            format!("hive {name} begins, {}", told_in.body_words(body))
        }
        Known::HiveRenamed { name } => format!("called {name} from now on"),
        Known::HiveMoved { apiary } => format!(
            "moved to {}",
            yard.apiary(*apiary)
                .map_or("another apiary", |a| a.name.as_str())
        ),
        Known::BodyMeasured { body } => format!("body measured: {}", told_in.body_words(body)),
        Known::ReserveSet { reserve } => match reserve {
            Some(hive::entry::Reserve::Combs(combs)) => format!("{combs} combs must stay"),
            Some(hive::entry::Reserve::Kg(kg)) => format!("{} must stay", told_in.mass_words(*kg)),
            None => "the place's rule of thumb says what must stay".to_owned(),
        },
        Known::RipenessSet { mean_capped } => format!("ripe from {mean_capped} capped"),
        Known::HiveEnded { why } => format!("the hive ends: {why}"),
        Known::BarAdded {
            number,
            hanging,
            width_mm,
            ..
        } => {
            let hangs = match hanging {
                Hanging::Comb => "with comb",
                Hanging::Strip => "with a strip of comb",
                Hanging::Nothing => "empty",
            };
            format!(
                "bar {number} added, {}, {hangs}",
                told_in.length_words(*width_mm)
            )
        }
        Known::Arranged { row } => {
            let bars = row
                .iter()
                .filter(|p| matches!(p, Piece::Bar { .. }))
                .count();
            format!("the whole row, {bars} bars")
        }
        Known::EndArranged { end, row, .. } => {
            let pieces = row_words(yard, row, told_in);
            format!("{} end closed, outward: {pieces}", end_word(*end))
        }
        Known::BarHangs { bar: of, hanging } => {
            let bears = match hanging {
                Hanging::Comb => "bears a comb",
                Hanging::Strip => "bears a strip of comb",
                Hanging::Nothing => "is empty",
            };
            format!("{} {bears}", bar(of))
        }
        Known::BarMoved {
            bar: moved,
            beside,
            side,
        } => {
            format!("{} set {} of {}", bar(moved), end_word(*side), bar(beside))
        }
        Known::BarTurned { bar: turned } => format!("{} turned end for end", bar(turned)),
        Known::SetAside { bar: aside } => format!("{} set aside", bar(aside)),
        Known::PutBack { bar: back } => format!("{} put back", bar(back)),
        Known::CombTaken { bar: taken, how } => format!("{} {}", bar(taken), harvest(*how)),
        Known::BarRemoved { bar: removed } => format!("{} removed", bar(removed)),
        Known::SplitTo { bars, to } => {
            let bars: Vec<String> = bars.iter().map(bar).collect();
            let to = yard
                .hive(*to)
                .map_or("another hive", |hive| hive.name.as_str());
            format!("{} to {to}", bars.join(", "))
        }
        Known::VisitOpened { aim, weather } => {
            let mut words = vec!["visit".to_owned()];
            words.extend(aim.clone());
            words.extend(weather_words(weather, told_in));
            words.join(", ")
        }
        Known::EndOpened { end } => format!("{} end opened", end_word(*end)),
        Known::WeatherNoted { weather } => {
            weather_words(weather, told_in).unwrap_or_else(|| "weather".to_owned())
        }
        Known::CombSeen {
            bar: seen,
            contents,
        } => {
            format!("{}: {}", bar(seen), self::contents(contents, told_in))
        }
        Known::Decided {
            bar: about,
            decision,
            ..
        } => {
            format!("{}: {}", bar(about), self::decision(*decision))
        }
        Known::QueenSeen { bar: on } => match on {
            Some(on) => format!("queen seen on {}", bar(on)),
            None => "queen seen".to_owned(),
        },
        Known::QueenCells { count, .. } => queen_cells(*count),
        Known::MiteWash { mites, bees } => format!("{} in {bees} bees", self::mites(*mites)),
        Known::Fed {
            food,
            litres,
            mass_kg,
        } => {
            let litres = litres
                .map(|litres| format!("{} of ", told_in.volume_words(Volume::litres(litres))));
            let kg = mass_kg.map(|m| format!("{} of ", told_in.mass_words(m)));
            format!("fed {}{food}", litres.or(kg).unwrap_or_default())
        }
        Known::Matched { bars } => {
            let sure = bars
                .iter()
                .filter(|m| m.sure.get() >= hive::matching::SURE)
                .count();
            format!("{sure} of {} combs recognised for sure", bars.len())
        }
        Known::TakenCounted { count } => format!("{count} taken by the keeper's count"),
        Known::ClosingSaid { end, order } => {
            let words: Vec<&str> = order.iter().map(|w| closing_word(*w)).collect();
            format!(
                "{} end closed, said outward: {}",
                end_word(*end),
                words.join(", ")
            )
        }
        Known::VisitClosed {} => "visit ends".to_owned(),
        Known::Note { text } => format!("note: {text}"),
        Known::HoneyHouse { event } => (manner.honey_house)(event),
        health @ (Known::TreatmentBegun(_)
        | Known::TreatmentEnded(_)
        | Known::SignSeen(_)
        | Known::SignReported(_)
        | Known::SignCleared(_)
        | Known::MedicineBought(_)
        | Known::MedicineDisposed(_)) => health_words(yard, health),
        Known::Corrected { what, .. } => {
            format!("corrected to: {}", self::what(yard, what, manner))
        }
        Known::Undone { target } => {
            let what = yard
                .entry(*target)
                .map(|entry| self::what(yard, &entry.what, manner));
            format!(
                "taken back: {}",
                what.unwrap_or_else(|| "an entry not here".to_owned())
            )
        }
    }
}

/// Treatments, signs and medicines.
fn health_words(yard: &Yard, known: &Known) -> String {
    let with = |what: &str, rest: &[Option<String>]| {
        let rest: Vec<&str> = rest.iter().filter_map(Option::as_deref).collect();
        if rest.is_empty() {
            what.to_owned()
        } else {
            format!("{what}, {}", rest.join(", "))
        }
    };
    match known {
        Known::TreatmentBegun(given) => with(
            &format!("treated with {}", given.product),
            &[
                given.quantity.clone(),
                given.how.clone(),
                given.batch.as_ref().map(|batch| format!("batch {batch}")),
                given
                    .planned_removal
                    .map(|day| format!("to come out {day}")),
                Some(label_period(given.withholding)),
            ],
        ),
        Known::TreatmentEnded(end) => with(
            &format!(
                "treatment with {} over",
                treated(yard, end.treatment).unwrap_or("something not here")
            ),
            std::slice::from_ref(&end.left),
        ),
        Known::SignSeen(sign) => {
            let on = sign.bar.map(|bar| bar_words(yard, bar));
            with(
                &format!("{} {}", sign.condition, certainty(sign.certainty)),
                &[on, sign.seen.clone(), sign.method.clone()],
            )
        }
        Known::SignReported(report) => with(
            &format!(
                "{} reported to {}",
                condition_of(yard, report.sign),
                report.to
            ),
            std::slice::from_ref(&report.answer),
        ),
        Known::SignCleared(clearing) => format!(
            "{} cleared: {}",
            condition_of(yard, clearing.sign),
            clearing.why
        ),
        Known::MedicineBought(bought) => with(
            &format!("bought {}", bought.product),
            &[
                bought.quantity.clone(),
                bought.batch.as_ref().map(|batch| format!("batch {batch}")),
                bought.supplier.as_ref().map(|from| format!("from {from}")),
            ],
        ),
        Known::MedicineDisposed(disposed) => with(
            &format!("disposed of {}", disposed.product),
            &[disposed.quantity.clone(), Some(disposed.how.clone())],
        ),
        _ => String::new(),
    }
}

fn treated(yard: &Yard, treatment: EntryId) -> Option<&str> {
    let hive = yard.hive(yard.entry(treatment)?.hive?)?;
    Some(&hive.treatment(treatment)?.given.product)
}

fn condition_of(yard: &Yard, sign: EntryId) -> &str {
    let hive = yard.entry(sign).and_then(|entry| yard.hive(entry.hive?));
    hive.and_then(|hive| hive.sign(sign))
        .map_or("a sign not here", |seen| &seen.sign.condition)
}

fn bar_words(yard: &Yard, id: BarId) -> String {
    let number = yard
        .hive_of_bar(id)
        .and_then(|hive| hive.bar(id))
        .map(|bar| bar.number);
    number.map_or_else(
        || "a bar not here".to_owned(),
        |number| format!("bar {number}"),
    )
}

/// A row in its order, runs of bars shortened: "bar 17, 16, follower board, bar 13 to 1".
fn row_words(yard: &Yard, row: &[Piece], told_in: ToldIn) -> String {
    let number = |id: BarId| yard.hive_of_bar(id).and_then(|hive| hive.bar(id));
    let mut words = Vec::new();
    let mut run: Vec<u32> = Vec::new();
    for piece in row {
        let other = match piece {
            Piece::Bar { bar } => {
                run.extend(number(*bar).map(|bar| bar.number));
                continue;
            }
            Piece::Follower { .. } => "follower board".to_owned(),
            Piece::Shim { width_mm } => format!("{} shim", told_in.length_words(*width_mm)),
        };
        words.extend(bars_words(&std::mem::take(&mut run)));
        words.push(other);
    }
    words.extend(bars_words(&run));
    words.join(", ")
}

fn bars_words(numbers: &[u32]) -> Option<String> {
    (!numbers.is_empty()).then(|| format!("bar {}", ranges(numbers)))
}

const fn end_word(end: End) -> &'static str {
    match end {
        End::Left => "left",
        End::Right => "right",
    }
}

const fn closing_word(word: ClosingWord) -> &'static str {
    match word {
        ClosingWord::Full => "full",
        ClosingWord::Cut => "cut",
        ClosingWord::Empty => "empty",
        ClosingWord::Follower => "follower board",
        ClosingWord::Shim => "shim",
    }
}

/// What happened to a bar `there`, told to who looks at the hive `here`.
pub fn happened(
    yard: &Yard,
    there: HiveId,
    here: HiveId,
    what: &Happened,
    told_in: ToldIn,
) -> String {
    let name = |id| {
        yard.hive(id)
            .map_or("another hive", |hive| hive.name.as_str())
    };
    let elsewhere = if there == here {
        String::new()
    } else {
        format!(" in {}", name(there))
    };
    let words = match what {
        Happened::Added { number } => format!("came as bar {number}"),
        Happened::Placed { from: Some(from) } => format!("moved from place {from}"),
        Happened::Placed { from: None } => "set in".to_owned(),
        Happened::LeftOut { .. } => "left the row".to_owned(),
        Happened::Turned => "turned end for end".to_owned(),
        Happened::Hangs { hanging } => match hanging {
            Hanging::Comb => "bears a comb".to_owned(),
            Hanging::Strip => "bears a strip of comb".to_owned(),
            Hanging::Nothing => "empty".to_owned(),
        },
        Happened::SetAside => "set aside".to_owned(),
        Happened::PutBack => "put back".to_owned(),
        Happened::Seen { contents } => {
            format!("seen: {}", self::contents(contents, told_in))
        }
        Happened::Decided { decision } => {
            format!("decided: {}", self::decision(*decision))
        }
        Happened::Taken { how } => harvest(*how).to_owned(),
        Happened::Returned => "came back".to_owned(),
        Happened::Removed => "removed".to_owned(),
        Happened::Split {
            from,
            old_number,
            number,
        } => {
            format!(
                "came from {}, bar {old_number} there, {number} here",
                name(*from)
            )
        }
        Happened::QueenSeen => "the queen was on it".to_owned(),
        Happened::QueenCells { count } => queen_cells(*count),
        Happened::SignSeen {
            condition,
            certainty,
        } => format!("{condition} {}", health::told::certainty(*certainty)),
        Happened::Matched { sure } => format!("recognised, {sure} sure"),
    };
    words + &elsewhere
}

/// With a capital and a full stop.
pub fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first: String = letters
        .next()
        .map(|letter| letter.to_uppercase().collect())
        .unwrap_or_default();
    let text = format!("{first}{}", letters.as_str());
    if text.ends_with(['.', '!', '?']) {
        text
    } else {
        format!("{text}.")
    }
}

/// None is told too: they were looked for.
fn queen_cells(count: u32) -> String {
    match count {
        0 => "no queen cells found".to_owned(),
        count => crate::words::count(count as usize, "queen cell", "queen cells"),
    }
}
