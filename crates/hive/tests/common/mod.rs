//! A small yard to test with: fixed ids, a pen, and random journals.
#![allow(dead_code, reason = "each test file uses a part of it")]

use comb::{Body, BodyMeasures, Contents, Entrance, FaceContents, Length, Section, Share};
use hive::entry::{Decision, End, Hanging, Harvest, Match, Piece, Weather};
use hive::pen::{Stamp, Subject};
use hive::sign::{Certainty, Clearing, Sign};
use hive::treatment::{LabelPeriod, Treatment, TreatmentEnd};
use hive::{BarId, DeviceId, Entry, EntryId, HiveId, Known, Pen, What};
use jiff::civil::Date;
use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;
use uuid::Uuid;

pub(crate) const IRONBARK: HiveId = HiveId(Uuid::from_u128(0xA1));
pub(crate) const BANKSIA: HiveId = HiveId(Uuid::from_u128(0xA2));

pub(crate) fn bar(n: u128) -> BarId {
    BarId(Uuid::from_u128(0xB00 + n))
}

pub(crate) fn device(n: u128) -> DeviceId {
    DeviceId(Uuid::from_u128(0xD00 + n))
}

pub(crate) fn start() -> Timestamp {
    "2026-09-12T00:00:00Z".parse().expect("a timestamp")
}

pub(crate) fn minutes(n: i64) -> Timestamp {
    start() + SignedDuration::from_mins(n)
}

pub(crate) fn body() -> Body {
    Body::new(BodyMeasures {
        cavity_length_mm: Length::mm(1000.0),
        top_width_mm: Length::mm(430.0),
        bottom_width_mm: Length::mm(200.0),
        depth_mm: Length::mm(300.0),
        section: Section::Sloped,
        entrance: Entrance::LeftEnd,
        bar_width_mm: Length::mm(35.0),
    })
    .expect("a body that can be")
}

pub(crate) fn share(percent: f64) -> Share {
    Share::percent(percent).expect("a share")
}

/// A look at the capped shares of both faces; `None` is not said.
pub(crate) fn capped(left: Option<f64>, right: Option<f64>) -> Contents {
    let face = |percent: Option<f64>| FaceContents {
        capped_of_honey: percent.map(share),
        ..FaceContents::default()
    };
    Contents {
        left: face(left),
        right: face(right),
        ..Contents::default()
    }
}

/// Writes a journal minute by minute.
pub(crate) struct Journal {
    pub(crate) pen: Pen,
    pub(crate) now: Timestamp,
    pub(crate) about: Subject,
    pub(crate) entries: Vec<Entry>,
    next_id: u128,
}

impl Journal {
    pub(crate) fn new() -> Self {
        Self {
            pen: Pen::new(device(1), 1, "keeper", "+10:00"),
            now: start(),
            about: Subject::hive(IRONBARK),
            entries: Vec::new(),
            next_id: 0x1000,
        }
    }

    /// Hive Ironbark with bars numbered from 1, all with combs, in their order from the left end.
    pub(crate) fn with_bars(count: u128) -> Self {
        let mut journal = Self::new();
        journal.start_hive(IRONBARK, "Ironbark");
        for n in 1..=count {
            journal.add_bar(n, Hanging::Comb);
        }
        journal.arrange(&(1..=count).collect::<Vec<_>>());
        journal
    }

    pub(crate) fn say(&mut self, known: Known) -> EntryId {
        self.next_id += 1;
        self.now += SignedDuration::from_mins(1);
        let id = EntryId(Uuid::from_u128(self.next_id));
        let entry = self
            .pen
            .write(Stamp::now(id, self.now), self.about, known.into());
        self.entries.push(entry);
        id
    }

    pub(crate) fn later(&mut self, span: SignedDuration) {
        self.now += span;
    }

    pub(crate) fn start_hive(&mut self, hive: HiveId, name: &str) {
        self.about = Subject::hive(hive);
        self.say(Known::HiveStarted {
            name: name.into(),
            apiary: None,
            body: body(),
            numbered: true,
        });
    }

    pub(crate) fn add_bar(&mut self, n: u128, hanging: Hanging) {
        self.say(Known::BarAdded {
            bar: bar(n),
            number: n as u32,
            width_mm: Length::mm(35.0),
            hanging,
            drawn: None,
        });
    }

    pub(crate) fn arrange(&mut self, bars: &[u128]) -> EntryId {
        self.say(Known::Arranged { row: row(bars) })
    }

    pub(crate) fn open_visit(&mut self) -> EntryId {
        let visit = self.say(Known::VisitOpened {
            aim: None,
            weather: Weather::default(),
        });
        self.about.visit = Some(visit);
        visit
    }

    pub(crate) fn close_visit(&mut self) {
        self.say(Known::VisitClosed {});
        self.about.visit = None;
    }

    pub(crate) fn see(&mut self, n: u128, contents: Contents) -> EntryId {
        self.say(Known::CombSeen {
            bar: bar(n),
            contents,
        })
    }

    pub(crate) fn turn(&mut self, n: u128) -> EntryId {
        self.say(Known::BarTurned { bar: bar(n) })
    }

    pub(crate) fn take(&mut self, n: u128, how: Harvest) -> EntryId {
        self.say(Known::CombTaken { bar: bar(n), how })
    }

    pub(crate) fn undo(&mut self, target: EntryId) -> EntryId {
        self.say(Known::Undone { target })
    }

    pub(crate) fn correct(&mut self, target: EntryId, known: Known) -> EntryId {
        let what = known.into();
        self.say(Known::Corrected { target, what })
    }

    pub(crate) fn fold(&self) -> hive::Yard {
        hive::Yard::fold(self.entries.clone())
    }
}

pub(crate) fn row(bars: &[u128]) -> Vec<Piece> {
    bars.iter().map(|n| Piece::Bar { bar: bar(*n) }).collect()
}

/// Bars of a hive's row by the number in their id, left end first.
pub(crate) fn order(hive: &hive::Hive) -> Vec<u128> {
    hive.row.bars().map(|bar| bar.0.as_u128() - 0xB00).collect()
}

// --- random journals ------------------------------------------------------------------------

/// One random act: which device, which hive, which kind, three small numbers, and its clock.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Act {
    pub(crate) device: u128,
    pub(crate) hive: HiveId,
    pub(crate) kind: u8,
    pub(crate) a: u128,
    pub(crate) b: u128,
    pub(crate) percent: f64,
    /// Minutes since the act before; clocks may jump back.
    pub(crate) step: i64,
    /// Minutes between happening and writing.
    pub(crate) late: i64,
    pub(crate) in_visit: bool,
}

pub(crate) const BARS: u128 = 8;

pub(crate) fn act() -> impl Strategy<Value = Act> {
    (
        1..=3u128,
        prop_oneof![4 => Just(IRONBARK), 1 => Just(BANKSIA)],
        0..26u8,
        1..=BARS + 1,
        1..=BARS,
        (0..=4u8).prop_map(|q| f64::from(q) * 25.0),
        prop_oneof![8 => 0..5i64, 1 => Just(-600i64), 1 => 60..3000i64],
        prop_oneof![6 => Just(0i64), 1 => 1..9i64, 1 => 20..2000i64],
        any::<bool>(),
    )
        .prop_map(
            |(device, hive, kind, a, b, percent, step, late, in_visit)| Act {
                device,
                hive,
                kind,
                a,
                b,
                percent,
                step,
                late,
                in_visit,
            },
        )
}

/// A journal of three devices: two hives and their bars first, then random acts, many of them
/// impossible where they stand.
pub(crate) fn journal() -> impl Strategy<Value = Vec<Entry>> {
    prop::collection::vec(act(), 0..60).prop_map(|acts| write(&acts))
}

pub(crate) fn write(acts: &[Act]) -> Vec<Entry> {
    let mut opening = Journal::new();
    opening.start_hive(IRONBARK, "Ironbark");
    for n in 1..=BARS {
        opening.add_bar(
            n,
            if n < BARS {
                Hanging::Comb
            } else {
                Hanging::Strip
            },
        );
    }
    opening.arrange(&(1..=BARS).collect::<Vec<_>>());
    opening.start_hive(BANKSIA, "Banksia");
    let mut entries = opening.entries;
    let mut pens: Vec<_> = (1..=3)
        .map(|n| Pen::new(device(n), 1, "keeper", "+10:00"))
        .collect();
    pens[0] = opening.pen;
    let mut now = opening.now;
    let mut visits = vec![];
    for (n, act) in (0u128..).zip(acts) {
        now += SignedDuration::from_mins(act.step);
        let id = EntryId(Uuid::from_u128(0x9000 + n));
        let target = entries[(act.a * 7 + act.b * 3 + n) as usize % entries.len()].id;
        let what = what(act, target, id);
        let visit = visits.last().copied().filter(|_| act.in_visit);
        if what.kind() == "visit_opened" {
            visits.push(id);
        }
        let stamp = Stamp {
            id,
            at: now - SignedDuration::from_mins(act.late),
            recorded: now,
        };
        let about = Subject {
            hive: Some(act.hive),
            visit,
        };
        entries.push(pens[act.device as usize - 1].write(stamp, about, what));
    }
    entries
}

fn day(n: u128) -> Date {
    Date::constant(2026, 9, 1 + (n % 28) as i8)
}

fn what(act: &Act, target: EntryId, own: EntryId) -> What {
    let (bar, beside) = (bar(act.a), bar(act.b));
    let side = if act.b.is_multiple_of(2) {
        End::Left
    } else {
        End::Right
    };
    match act.kind {
        0 => Known::VisitOpened {
            aim: None,
            weather: Weather::default(),
        },
        1 => Known::VisitClosed {},
        2..=4 => Known::CombSeen {
            bar,
            contents: capped(
                (!act.b.is_multiple_of(3)).then_some(act.percent),
                (act.b % 3 != 1).then_some(100.0 - act.percent),
            ),
        },
        5 => Known::BarTurned { bar },
        6 | 7 => Known::BarMoved { bar, beside, side },
        8 => Known::Arranged {
            row: row(&(1..=BARS).filter(|n| n % act.a != 1).collect::<Vec<_>>()),
        },
        9 => Known::EndArranged {
            end: side,
            beyond: Some(beside),
            row: row(&[act.a]),
        },
        10 => Known::CombTaken {
            bar,
            how: [Harvest::Cut, Harvest::Whole, Harvest::Broken][act.b as usize % 3],
        },
        11 => Known::SetAside { bar },
        12 => Known::PutBack { bar },
        13 => Known::Decided {
            bar,
            decision: Decision::Take,
            advised: None,
        },
        14 => Known::SplitTo {
            bars: vec![bar],
            to: BANKSIA,
        },
        15 => Known::BarAdded {
            bar: self::bar(20 + act.a),
            number: act.b as u32,
            width_mm: Length::mm(35.0),
            hanging: Hanging::Nothing,
            drawn: None,
        },
        16 | 17 => Known::Undone {
            target: if act.a == 1 { own } else { target },
        },
        18 => Known::Corrected {
            target,
            what: Known::CombSeen {
                bar: beside,
                contents: capped(Some(act.percent), None),
            }
            .into(),
        },
        19 => Known::Matched {
            bars: vec![Match {
                bar: Some(bar),
                sure: share(act.percent),
            }],
        },
        20 => Known::BarRemoved { bar },
        21 => Known::TreatmentBegun(Treatment {
            withholding: act
                .b
                .is_multiple_of(2)
                .then_some(LabelPeriod::Days { days: act.a as u16 }),
            ..Treatment::new(day(act.b), "Acme Strips")
        }),
        22 => Known::TreatmentEnded(TreatmentEnd {
            treatment: target,
            on: day(act.a + act.b),
            left: None,
            more: serde_json::Map::new(),
        }),
        23 => Known::SignSeen(Sign {
            bar: (!act.b.is_multiple_of(3)).then_some(bar),
            ..Sign::new(day(act.b), "chalkbrood", Certainty::Suspected)
        }),
        24 => Known::SignCleared(Clearing {
            sign: target,
            on: day(act.a + act.b),
            why: "gone".into(),
            more: serde_json::Map::new(),
        }),
        _ => {
            let map = serde_json::json!({"kind": "sung_to", "song": act.a});
            return What::Foreign(map.as_object().cloned().unwrap_or_default());
        }
    }
    .into()
}
