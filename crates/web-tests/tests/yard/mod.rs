//! A small yard to work in: a journal as a file, and the visit that is spoken and tapped in it.
#![allow(dead_code, reason = "each test uses a part of it")]

use std::path::{Path, PathBuf};

use comb::{Body, BodyMeasures, Contents, Entrance, FaceContents, Length, Section, Share};
use exchange::{Hash, Record, lines};
use hive::entry::{Climate, End, Hanging, Piece, Weather};
use hive::pen::{Pen, Stamp, Subject};
use hive::{ApiaryId, BarId, DeviceId, EntryId, HiveId, Known};
use jiff::Timestamp;
use uuid::Uuid;

/// The hive that is visited.
pub(crate) const IRONBARK: HiveId =
    HiveId(Uuid::from_u128(0x0190_0000_0000_7000_8000_0000_0000_00a1));

const APIARY: ApiaryId = ApiaryId(Uuid::from_u128(0x0190_0000_0000_7000_8000_0000_0000_0c01));

/// Entries of the yard with Ironbark alone.
pub(crate) const ENTRIES: u32 = BARS + 3;

/// Bars of each hive, all with comb but the two at the right end.
pub(crate) const BARS: u32 = 22;

/// A bar of Ironbark by its number.
pub(crate) fn bar(number: u32) -> BarId {
    bar_of(0, number)
}

fn bar_of(hive: usize, number: u32) -> BarId {
    BarId(Uuid::from_u128(
        0x0190_0000_0000_7000_8000_0000_0000_0b00 + hive as u128 * 0x100 + u128::from(number),
    ))
}

/// How many hives there are, where there are many entries.
pub(crate) const HIVES: usize = NAMES.len();

const NAMES: [&str; 5] = [
    "Ironbark",
    "Banksia",
    "Tea-tree",
    "Grevillea",
    "Stringybark",
];

/// The yard's journal, as an export in a folder: hive Ironbark, and earlier visits to five hives until
/// there are so many entries.
pub(crate) fn journal(folder: &Path, entries: usize) -> PathBuf {
    let mut writer = Writer::new();
    writer.apiary();
    let hives = if entries > 0 { NAMES.len() } else { 1 };
    for hive in 0..hives {
        writer.hive(hive);
    }
    let mut visits = 0;
    while writer.records.len() < entries {
        writer.visit(visits % hives, visits);
        visits += 1;
    }
    let file = folder.join("yard.jsonl");
    std::fs::write(&file, lines::export(writer.records)).expect("written");
    file
}

/// A yard in which a split is made: Ironbark and Banksia with their combs, Tea-tree with a visit that is
/// open, and Grevillea, begun with no bar.
pub(crate) fn journal_before_a_split(folder: &Path) -> (PathBuf, usize) {
    let mut writer = Writer::new();
    writer.apiary();
    for hive in 0..3 {
        writer.hive(hive);
    }
    let about = Subject::visit(hive_of(2), writer.next_id());
    let weather = Weather::default();
    writer.say(about, Known::VisitOpened { aim: None, weather });
    writer.begin(3);
    let entries = writer.records.len();
    let file = folder.join("yard.jsonl");
    std::fs::write(&file, lines::export(writer.records)).expect("written");
    (file, entries)
}

/// A hive by its place in [`NAMES`].
pub(crate) const fn hive_of(nth: usize) -> HiveId {
    HiveId(Uuid::from_u128(IRONBARK.0.as_u128() + nth as u128))
}

struct Writer {
    pen: Pen,
    prev: Hash,
    millis: i64,
    records: Vec<Record>,
}

impl Writer {
    fn new() -> Self {
        Self {
            pen: Pen::new(DeviceId(Uuid::from_u128(7)), 1, "keeper", "+10:00"),
            prev: Hash::ORIGIN,
            millis: 1_700_000_000_000,
            records: Vec::new(),
        }
    }

    fn next_id(&self) -> EntryId {
        EntryId(Uuid::from_u64_pair(
            0x0190_0000_0000_7000,
            0x8000_0000_0001_0000 + self.records.len() as u64,
        ))
    }

    fn say(&mut self, about: Subject, known: Known) {
        self.millis += 1000;
        let at = Timestamp::from_millisecond(self.millis).expect("in range");
        let id = self.next_id();
        let entry = self.pen.write(Stamp::now(id, at), about, known.into());
        let (record, _) = Record::written(&entry, self.prev).expect("sound");
        self.prev = record.hash;
        self.records.push(record);
    }

    fn apiary(&mut self) {
        let known = Known::Apiary {
            apiary: APIARY,
            name: "Wattle Bend".into(),
            place: None,
            climate: Some(Climate::MildCoast),
        };
        self.say(Subject::YARD, known);
    }

    /// A hive without bars.
    fn begin(&mut self, nth: usize) {
        let about = Subject::hive(hive_of(nth));
        let body = Body::new(BodyMeasures {
            cavity_length_mm: Length::mm(900.0),
            top_width_mm: Length::mm(430.0),
            bottom_width_mm: Length::mm(200.0),
            depth_mm: Length::mm(300.0),
            section: Section::Sloped,
            entrance: Entrance::LeftEnd,
            bar_width_mm: Length::mm(38.0),
        });
        let started = Known::HiveStarted {
            name: NAMES[nth].into(),
            apiary: Some(APIARY),
            body: body.expect("a body that can be"),
            numbered: true,
        };
        self.say(about, started);
    }

    fn hive(&mut self, nth: usize) {
        self.begin(nth);
        let about = Subject::hive(hive_of(nth));
        for number in 1..=BARS {
            let hanging = if number > BARS - 2 {
                Hanging::Nothing
            } else {
                Hanging::Comb
            };
            let added = Known::BarAdded {
                bar: bar_of(nth, number),
                number,
                width_mm: Length::mm(38.0),
                hanging,
                drawn: None,
            };
            self.say(about, added);
        }
        let piece = |number| Piece::Bar {
            bar: bar_of(nth, number),
        };
        let mut row: Vec<Piece> = (1..=BARS - 2).map(piece).collect();
        row.push(Piece::Follower {
            width_mm: Length::mm(19.0),
        });
        row.extend((BARS - 1..=BARS).map(piece));
        self.say(about, Known::Arranged { row });
    }

    /// Twelve combs looked at from the right end.
    fn visit(&mut self, hive: usize, nth: usize) {
        // days apart
        self.millis += 100_000_000;
        let visit = self.next_id();
        let about = Subject::visit(hive_of(hive), visit);
        let weather = Weather::default();
        self.say(about, Known::VisitOpened { aim: None, weather });
        self.say(about, Known::EndOpened { end: End::Right });
        for number in (9..=BARS - 2).rev() {
            let share = |n: usize| FaceContents {
                capped_of_honey: Some(Share::clamped((n % 9) as f64 / 8.0)),
                ..FaceContents::default()
            };
            let contents = Contents {
                left: share(nth + number as usize),
                right: share(nth * 3 + number as usize),
                ..Contents::default()
            };
            let bar = bar_of(hive, number);
            self.say(about, Known::CombSeen { bar, contents });
        }
        self.say(about, Known::VisitClosed {});
    }
}

/// A visit of twelve combs, as it is spoken, a phrase a pause.
pub(crate) const SPOKEN: [&str; 36] = [
    "ironbark right end twenty three degrees",
    "bar twenty all capped both sides",
    "um take it",
    "two point one kilos",
    "bar nineteen nine tenths capped this side",
    "three quarters on the other",
    "take it",
    "what may I take",
    "bar eighteen two thirds capped this side half the other",
    "hang on the phone is ringing",
    "leave it",
    "bar seventeen all capped both sides leave that",
    "bar sixteen half capped both sides leave it",
    "how many so far",
    "bar fifteen unripe no caps at all leave it",
    "bar fourteen all capped both sides",
    "set it aside",
    "bar thirteen pollen and brood",
    "leave it",
    "bar twelve all brood",
    "leave that",
    "bar fourteen again",
    "put it back leave it",
    "bar eleven brood and eggs",
    "leave it",
    "saw the queen there",
    "bar ten brood",
    "leave it",
    "bar nine capped brood both sides",
    "leave",
    "no queen cells",
    "what was that",
    "smoke please",
    "how many are left",
    "that will do",
    "two in the bucket",
];
