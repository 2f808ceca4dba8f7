//! All English words of the pictures, in one place.

use comb::contents::{Fill, Holding};
use comb::{Contents, FaceContents, Length, Share, ToldIn};
use hive::entry::{End, Hanging};
use jiff::civil::Date;

use crate::section::{DrawnBar, HiveSection};
use crate::{Kind, Mark};

pub(crate) const LEFT_FACE: &str = "left-facing side";
pub(crate) const RIGHT_FACE: &str = "right-facing side";
pub(crate) const THIS_SIDE: &str = "this side";
pub(crate) const NOT_LOOKED_AT: &str = "not looked at";
/// Something was said of the comb, and not of which side.
pub(crate) const NOT_BY_SIDE: &str = "not told by side";
/// In place of a name that cannot be seen.
pub(crate) const NAMELESS: &str = "Hive";
pub(crate) const ENTRANCE: &str = "entrance";
pub(crate) const UNSURE_EDGE: &str = "dashed edge: how much was not said";
pub(crate) const PLACE: &str = "place";
pub(crate) const FOLLOWER: &str = "follower board";
pub(crate) const SHIM: &str = "shim";
pub(crate) const STRIP: &str = "cut bar";
pub(crate) const NOTHING: &str = "empty bar";
pub(crate) const CROSSED: &str = "crossed";
pub(crate) const ATTACHED: &str = "built to the wall";
pub(crate) const NO_BARS: &str = "No bars are recorded in this hive yet.";

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// "12 September 2026".
pub(crate) fn date(date: Date) -> String {
    format!("{} {} {}", date.day(), month(date), date.year())
}

/// "12 Sep 2026".
pub(crate) fn short_date(date: Date) -> String {
    format!("{} {} {}", date.day(), &month(date)[..3], date.year())
}

fn month(date: Date) -> &'static str {
    MONTHS[date.month().clamp(1, 12) as usize - 1]
}

/// A kind, as in a legend.
pub(crate) const fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::CappedHoney => "capped honey",
        Kind::Honey => "honey, caps not said",
        Kind::Unripe => "unripe honey",
        Kind::Pollen => "pollen",
        Kind::CappedBrood => "capped brood",
        Kind::Brood => "worker brood",
        Kind::Larvae => "larvae",
        Kind::Eggs => "eggs",
        Kind::DroneBrood => "drone brood",
        Kind::Empty => "empty cells",
        Kind::Unknown => "not known",
    }
}

pub(crate) const fn mark(mark: Mark) -> &'static str {
    match mark {
        Mark::Take => "may be taken",
        Mark::Ripening => "ripening",
        Mark::Stays => "stays",
        Mark::LookAgain => "look at the other side",
        Mark::SetAside => "set aside",
        Mark::Lifted => "lifted",
    }
}

/// One letter in drawn text.
pub(crate) const fn mark_letter(mark: Mark) -> char {
    match mark {
        Mark::Take => 'T',
        Mark::Ripening => 'r',
        Mark::Stays => 's',
        Mark::LookAgain => 'o',
        Mark::SetAside => 'a',
        Mark::Lifted => '^',
    }
}

pub(crate) const fn hanging(hanging: Hanging) -> &'static str {
    match hanging {
        Hanging::Comb => "comb",
        Hanging::Strip => STRIP,
        Hanging::Nothing => NOTHING,
    }
}

pub(crate) const fn fill(fill: Fill) -> &'static str {
    match fill {
        Fill::Light => "light",
        Fill::Part => "part full",
        Fill::Full => "full",
    }
}

/// "Left end open." or nothing.
pub(crate) fn opened(ends: &[End]) -> Option<&'static str> {
    match ends {
        [] => None,
        [End::Left] => Some("left end open"),
        [End::Right] => Some("right end open"),
        _ => Some("both ends open"),
    }
}

/// "24 combs on 26 bars".
pub(crate) fn counts(section: &HiveSection) -> String {
    let bars = section.bars().count();
    let combs = section.bars().filter(|bar| bar.has_comb()).count();
    format!(
        "{} on {}",
        count(combs, "comb", "combs"),
        count(bars, "bar", "bars")
    )
}

pub(crate) fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// The hive's name on one line; a name without anything to see has a word in its place.
pub(crate) fn name(section: &HiveSection) -> String {
    let name = crate::text::clean(&section.name);
    if name.is_empty() {
        NAMELESS.to_owned()
    } else {
        name
    }
}

/// What stands beside the name: the day, the open ends, how many combs.
pub(crate) fn subtitle(section: &HiveSection) -> String {
    let parts = [
        section.date.map(date),
        Some(counts(section)),
        opened(&section.opened).map(str::to_owned),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// What the row leaves of the cavity, in words; a gap that bees do not mind is passed over.
/// Source: closing-up.md, tolerance 3 mm.
pub(crate) fn gap(free: Length, told_in: ToldIn) -> Option<String> {
    let mm = free.to_mm();
    let told = told_in.length_words(free.abs());
    if mm > 3.0 {
        Some(format!("{told} of the hive's length are free."))
    } else if mm <= -0.5 {
        Some(format!(
            "The row is {told} longer than the hive's inside: measure again."
        ))
    } else {
        None
    }
}

/// Which faces nobody looked at, by bar number; `None` when all are known at least in part.
pub(crate) fn not_looked_at(section: &HiveSection) -> Option<String> {
    let sides: [(&str, [bool; 2]); 3] = [
        ("both sides of", [true, true]),
        ("left-facing side of", [true, false]),
        ("right-facing side of", [false, true]),
    ];
    let unknown: Vec<(u32, [bool; 2])> = section
        .bars()
        .filter_map(|bar| Some((bar.number, bar.faces()?.map(|face| face.is_unknown()))))
        .collect();
    let parts: Vec<String> = sides
        .iter()
        .filter_map(|(words, which)| {
            let of = unknown.iter().filter(|(_, sides)| sides == which);
            let numbers: Vec<String> = of.map(|(number, _)| number.to_string()).collect();
            (!numbers.is_empty()).then(|| format!("{words} {}", list(&numbers)))
        })
        .collect();
    (!parts.is_empty()).then(|| format!("Not looked at: {}.", parts.join("; ")))
}

fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

fn percent(share: Share) -> String {
    format!("{:.0}%", share.to_percent())
}

/// What was said of one face of this comb, in one line: shares as they were said, then words.
pub(crate) fn face(face: &FaceContents, comb: &Contents) -> String {
    if face.is_unknown() {
        let said_of_comb = !comb.present.is_empty();
        return (if said_of_comb {
            NOT_BY_SIDE
        } else {
            NOT_LOOKED_AT
        })
        .to_owned();
    }
    let shares = [
        ("capped honey", face.capped_honey),
        ("unripe", face.unripe),
        ("pollen", face.pollen),
        ("capped brood", face.capped_brood),
        ("larvae", face.larvae),
        ("eggs", face.eggs),
        ("drone brood", face.drone_brood),
        ("empty", face.empty),
        ("not built", face.bare),
    ];
    let mut parts: Vec<String> = Vec::new();
    if let Some(capped) = face.capped_of_honey {
        parts.push(format!("honey {} capped", percent(capped)));
    }
    for (word, share) in shares {
        if let Some(share) = share {
            parts.push(format!("{word} {}", percent(share)));
        }
    }
    parts.extend(kinds(&face.present, &face.absent));
    parts.join(", ")
}

/// "some pollen, no brood".
pub(crate) fn kinds(present: &[Holding], absent: &[Holding]) -> Vec<String> {
    let there = present.iter().map(|kind| match kind {
        Holding::Empty => "empty cells".to_owned(),
        kind => format!("some {}", kind.word()),
    });
    let missing = absent.iter().map(|kind| match kind {
        Holding::Empty => "no empty cells".to_owned(),
        kind => format!("no {}", kind.word()),
    });
    there.chain(missing).collect()
}

/// What was said of the whole comb: words, size, thickness, mass, attachments.
pub(crate) fn whole_comb(contents: &Contents, told_in: ToldIn) -> Vec<String> {
    use comb::contents::{Attachment, Straightness};
    let mut parts = kinds(&contents.present, &contents.absent);
    parts.extend(contents.fill.map(|f| fill(f).to_owned()));
    parts.extend(
        contents
            .thickness_mm
            .map(|t| format!("{} thick", told_in.length_words(t))),
    );
    parts.extend(contents.mass_kg.map(|m| told_in.mass_words(m)));
    parts.extend(
        contents
            .moisture
            .map(|m| format!("{:.1}% water", m.to_percent())),
    );
    parts.extend(contents.straightness.map(|s| match s {
        Straightness::Straight => "straight".to_owned(),
        Straightness::Crossed => CROSSED.to_owned(),
    }));
    parts.extend(contents.attachment.map(|a| match a {
        Attachment::Free => "hangs free".to_owned(),
        Attachment::Attached => ATTACHED.to_owned(),
    }));
    parts
}

/// One bar in one sentence, for a screen reader or a tooltip.
pub(crate) fn bar(bar: &DrawnBar, told_in: ToldIn) -> String {
    let mut text = format!("Bar {}, place {}: ", bar.number, bar.place);
    if bar.has_comb() {
        let faces = [
            (LEFT_FACE, &bar.contents.left),
            (RIGHT_FACE, &bar.contents.right),
        ];
        let said =
            faces.map(|(name, contents)| format!("{name} {}", face(contents, &bar.contents)));
        text.push_str(&said.join("; "));
        let whole = whole_comb(&bar.contents, told_in);
        if !whole.is_empty() {
            text.push_str("; ");
            text.push_str(&whole.join(", "));
        }
    } else {
        text.push_str(hanging(bar.hanging));
    }
    if let Some(m) = bar.mark {
        text.push_str("; ");
        text.push_str(mark(m));
    }
    text.push('.');
    text
}

/// The whole picture in words, for those who do not see it.
pub(crate) fn description(section: &HiveSection, told_in: ToldIn) -> String {
    let mut sentences = vec![format!(
        "The hive's section from the left end to the right, {} long inside. {}.",
        told_in.length_words(section.body.cavity_length()),
        capital(&subtitle(section))
    )];
    sentences.extend(section.bars().map(|drawn| bar(drawn, told_in)));
    sentences.extend(gap(section.free_length(), told_in));
    sentences.extend(not_looked_at(section));
    sentences.join(" ")
}

pub(crate) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(chars).collect()
    })
}

pub(crate) const TURNED: &str = "turned";
pub(crate) const MOVED: &str = "moved";
pub(crate) const SPLIT: &str = "to this hive";
pub(crate) const RETURNED: &str = "came back";

pub(crate) const fn harvest(how: hive::entry::Harvest) -> &'static str {
    use hive::entry::Harvest;
    match how {
        Harvest::Cut => "cut",
        Harvest::Whole => "taken whole",
        Harvest::Broken => "broke off",
    }
}

pub(crate) const HALVES: &str = "left half: left-facing side, right half: right-facing side";
pub(crate) const OPEN: &str = "open";
pub(crate) const BAR: &str = "Bar";
pub(crate) const NOW: &str = "As it stands";
pub(crate) const THEN: &str = "To close up";
pub(crate) const FROM_LEFT: &str = "From left to right:";
pub(crate) const LIFTED_BARS: &str = "Lifted: bars";
pub(crate) const NONE_LIFTED: &str = "No comb is lifted.";
pub(crate) const NEVER_LOOKED: &str = "This comb was not looked at yet.";
