//! A small yard to work in: a journal as a file, and the visit that is spoken and tapped in it.
#![allow(dead_code, reason = "each test uses a part of it")]

use std::path::{Path, PathBuf};

use comb::{Body, BodyMeasures, Entrance, Length, Section};
use exchange::{Hash, Record, lines};
use hive::entry::{Climate, Hanging, Piece};
use hive::pen::{Pen, Stamp, Subject};
use hive::{ApiaryId, BarId, DeviceId, EntryId, HiveId, Known};
use jiff::Timestamp;
use uuid::Uuid;

/// The hive that is visited.
pub(crate) const IRONBARK: HiveId =
    HiveId(Uuid::from_u128(0x0190_0000_0000_7000_8000_0000_0000_00a1));

/// Bars of the hive, all with comb but the two at the right end.
pub(crate) const BARS: u32 = 22;

/// A bar by its number.
pub(crate) fn bar(number: u32) -> BarId {
    BarId(Uuid::from_u128(
        0x0190_0000_0000_7000_8000_0000_0000_0b00 + u128::from(number),
    ))
}

/// The yard's journal, as an export in a folder: hive Ironbark, and `notes` entries beside it.
pub(crate) fn journal(folder: &Path, notes: u64) -> PathBuf {
    let mut writer = Writer::new();
    writer.ironbark();
    for n in 0..notes {
        let text = format!("comb {n}: two thirds capped on this side, brood on the other");
        writer.say(Subject::YARD, Known::Note { text });
    }
    let file = folder.join("yard.jsonl");
    std::fs::write(&file, lines::export(writer.records)).expect("written");
    file
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
            millis: 1_780_000_000_000,
            records: Vec::new(),
        }
    }

    fn say(&mut self, about: Subject, known: Known) {
        self.millis += 1000;
        let at = Timestamp::from_millisecond(self.millis).expect("in range");
        let id = EntryId(Uuid::from_u64_pair(
            0x0190_0000_0000_7000,
            0x8000_0000_0001_0000 + self.records.len() as u64,
        ));
        let entry = self.pen.write(Stamp::now(id, at), about, known.into());
        let (record, _) = Record::written(&entry, self.prev).expect("sound");
        self.prev = record.hash;
        self.records.push(record);
    }

    fn ironbark(&mut self) {
        let apiary = ApiaryId(Uuid::from_u128(0x0190_0000_0000_7000_8000_0000_0000_0c01));
        self.say(
            Subject::YARD,
            Known::Apiary {
                apiary,
                name: "Wattle Bend".into(),
                place: None,
                climate: Some(Climate::MildCoast),
            },
        );
        let about = Subject::hive(IRONBARK);
        let body = Body::new(BodyMeasures {
            cavity_length_mm: Length::mm(900.0),
            top_width_mm: Length::mm(430.0),
            bottom_width_mm: Length::mm(200.0),
            depth_mm: Length::mm(300.0),
            section: Section::Sloped,
            entrance: Entrance::LeftEnd,
            bar_width_mm: Length::mm(38.0),
        });
        self.say(
            about,
            Known::HiveStarted {
                name: "Ironbark".into(),
                apiary: Some(apiary),
                body: body.expect("a body that can be"),
                numbered: true,
            },
        );
        for number in 1..=BARS {
            let hanging = if number > BARS - 2 {
                Hanging::Nothing
            } else {
                Hanging::Comb
            };
            self.say(
                about,
                Known::BarAdded {
                    bar: bar(number),
                    number,
                    width_mm: Length::mm(38.0),
                    hanging,
                    drawn: None,
                },
            );
        }
        let piece = |number| Piece::Bar { bar: bar(number) };
        let mut row: Vec<Piece> = (1..=BARS - 2).map(piece).collect();
        row.push(Piece::Follower {
            width_mm: Length::mm(19.0),
        });
        row.extend((BARS - 1..=BARS).map(piece));
        self.say(about, Known::Arranged { row });
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
