//! A desk that writes and checks a visit as a device does.
#![allow(dead_code, reason = "each test file uses its part")]

use comb::{Body, BodyMeasures, Entrance, Length, Section};
use hive::entry::{End, Hanging, Piece};
use hive::pen::{Pen, Stamp, Subject};
use hive::{BarId, DeviceId, EntryId, HiveId, Known, Yard, check};
use jiff::{SignedDuration, Timestamp};
use live::{Did, Due, Live, Session, Step, Upto};
use uuid::Uuid;

pub(crate) const HIVE: HiveId = HiveId(Uuid::from_u128(0xA1));
pub(crate) const VISIT: EntryId = EntryId(Uuid::from_u128(0xF1));

pub(crate) fn bar(n: u128) -> BarId {
    BarId(Uuid::from_u128(0xB00 + n))
}

/// A journal that is written and checked like a device's own.
#[derive(Clone)]
pub(crate) struct Desk {
    pub(crate) yard: Yard,
    pen: Pen,
    pub(crate) now: Timestamp,
    pub(crate) ids: u128,
}

impl Desk {
    pub(crate) fn new(numbered: bool) -> Self {
        let now = "2026-09-12T00:00:00Z".parse().expect("a timestamp");
        let mut desk = Self {
            yard: Yard::default(),
            pen: Pen::new(DeviceId(Uuid::from_u128(1)), 1, "keeper", "+10:00"),
            now,
            ids: 0x1000,
        };
        let body = Body::new(BodyMeasures {
            cavity_length_mm: Length::mm(1100.0),
            top_width_mm: Length::mm(430.0),
            bottom_width_mm: Length::mm(200.0),
            depth_mm: Length::mm(300.0),
            section: Section::Sloped,
            entrance: Entrance::LeftEnd,
            bar_width_mm: Length::mm(35.0),
        });
        let about = Subject::hive(HIVE);
        desk.say(
            about,
            Known::HiveStarted {
                name: "Ironbark".into(),
                apiary: None,
                body: body.expect("a body that can be"),
                numbered,
            },
        );
        for n in 1..=28 {
            desk.say(
                about,
                Known::BarAdded {
                    bar: bar(n),
                    number: n as u32,
                    width_mm: Length::mm(35.0),
                    hanging: Hanging::Comb,
                    drawn: None,
                },
            );
        }
        let mut row: Vec<Piece> = (1..=28).map(|n| Piece::Bar { bar: bar(n) }).collect();
        row.push(Piece::Follower {
            width_mm: Length::mm(19.0),
        });
        desk.say(about, Known::Arranged { row });
        desk
    }

    pub(crate) fn fresh(&mut self) -> EntryId {
        self.ids += 1;
        EntryId(Uuid::from_u128(self.ids))
    }

    pub(crate) fn say(&mut self, about: Subject, known: Known) {
        let id = self.fresh();
        self.now += SignedDuration::from_secs(1);
        self.write(id, self.now, about, known);
    }

    pub(crate) fn write(&mut self, id: EntryId, at: Timestamp, about: Subject, known: Known) {
        let stamp = Stamp {
            id,
            at,
            recorded: self.now,
        };
        let entry = self.pen.write(stamp, about, known.into());
        check::check(&self.yard, &entry, self.now).expect("the journal takes it");
        self.yard.add(entry);
    }

    pub(crate) fn keep(&mut self, due: &Due) {
        for writing in &due.writings {
            let about = Subject::visit(HIVE, VISIT);
            let at = writing.at.unwrap_or(self.now);
            self.write(writing.id, at, about, writing.known.clone());
        }
    }

    /// Keeps all of another visit than [`VISIT`].
    pub(crate) fn flush_of(&mut self, visit: EntryId, live: &mut Live) {
        live.mind(&self.yard);
        let mut ids = self.ids;
        let due = live.due(Upto::All, || {
            ids += 1;
            EntryId(Uuid::from_u128(ids))
        });
        self.ids = ids;
        for writing in &due.writings {
            let at = writing.at.unwrap_or(self.now);
            self.write(
                writing.id,
                at,
                Subject::visit(HIVE, visit),
                writing.known.clone(),
            );
        }
        live.wrote(&due);
    }

    pub(crate) fn flush(&mut self, live: &mut Live, upto: Upto) -> usize {
        live.mind(&self.yard);
        let mut ids = self.ids;
        let due = live.due(upto, || {
            ids += 1;
            EntryId(Uuid::from_u128(ids))
        });
        self.ids = ids;
        self.keep(&due);
        live.wrote(&due);
        due.writings.len()
    }

    /// What the visit came to, without ids and times.
    pub(crate) fn outcome(&self) -> String {
        let hive = self.yard.hive(HIVE).expect("the hive");
        let bars: Vec<_> = hive
            .bars
            .values()
            .map(|b| (b.number, b.hanging, b.lies, b.known_contents(), b.decision))
            .collect();
        let visit = hive.last_visit().map(|v| {
            let mut taken: Vec<_> = v.taken.iter().map(|t| (t.bar, t.how)).collect();
            // which of two combs was taken first says nothing about the hive
            taken.sort_by_key(|(bar, _)| *bar);
            let told = (
                &v.weather,
                &v.ends,
                &v.seen,
                &v.decisions,
                taken,
                &v.closings,
            );
            format!("{told:?} {:?} {:?}", v.matched, v.closed.is_some())
        });
        let counted = (
            hive.queen_seen.len(),
            hive.queen_cells.last().map(|q| q.count),
        );
        let fed: Vec<_> = hive.feeds.iter().map(|f| (&f.food, f.litres)).collect();
        let washes: Vec<_> = hive.washes.iter().map(|w| (w.mites, w.bees)).collect();
        format!(
            "{:?}\n{bars:?}\n{visit:?}\n{counted:?} {fed:?} {washes:?}",
            hive.row
        )
    }
}

pub(crate) fn said(desk: &mut Desk, words: &str) -> Step {
    desk.now += SignedDuration::from_secs(4);
    Step {
        at: desk.now,
        did: Did::Said(words.to_owned()),
    }
}

pub(crate) fn live_at(desk: &Desk) -> Live {
    let mut live = Live::new(
        Session::begin(HIVE, VISIT),
        live::session::before(&desk.yard, HIVE, VISIT).expect("the hive"),
    );
    live.set_end(Some(End::Right));
    live
}
