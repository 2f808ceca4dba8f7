//! Made-up hives of Wattle Bend, told as a journal and folded.

// each test uses a part of it
#![allow(dead_code, unreachable_pub, missing_docs)]

use comb::contents::{Attachment, Fill, Holding, Straightness};
use comb::{Body, Contents, FaceContents, Length, Share};
use hive::entry::{End, Hanging, Harvest, Piece};
use hive::pen::{Pen, Stamp, Subject};
use hive::{BarId, DeviceId, Entry, EntryId, Hive, HiveId, Known, Yard};
use jiff::Timestamp;
use uuid::Uuid;

/// A hive being told.
pub struct Teller {
    pen: Pen,
    pub entries: Vec<Entry>,
    hive: HiveId,
    visit: Option<EntryId>,
    now: Timestamp,
    next: u128,
}

impl Teller {
    pub fn new(name: &str, body: Body) -> Self {
        let mut teller = Self {
            pen: Pen::new(DeviceId(Uuid::from_u128(1)), 1, "keeper", "+10:00"),
            entries: Vec::new(),
            hive: HiveId(Uuid::from_u128(7)),
            visit: None,
            now: "2026-07-01T01:00:00Z".parse().expect("an instant"),
            next: 1000,
        };
        let name = name.to_owned();
        teller.tell(Known::HiveStarted {
            name,
            apiary: None,
            body,
            numbered: true,
        });
        teller
    }

    pub fn on(&mut self, instant: &str) -> &mut Self {
        self.now = instant.parse().expect("an instant");
        self
    }

    pub fn tell(&mut self, what: Known) -> EntryId {
        self.next += 1;
        let id = EntryId(Uuid::from_u128(self.next));
        self.now += jiff::SignedDuration::from_secs(1);
        let about = Subject {
            hive: Some(self.hive),
            visit: self.visit,
        };
        let entry = self.pen.write(Stamp::now(id, self.now), about, what.into());
        self.entries.push(entry);
        id
    }

    pub fn open(&mut self, end: End) -> &mut Self {
        let opened = Known::VisitOpened {
            aim: None,
            weather: hive::entry::Weather::default(),
        };
        self.visit = Some(self.tell(opened));
        self.tell(Known::EndOpened { end });
        self
    }

    pub fn close(&mut self) -> &mut Self {
        self.tell(Known::VisitClosed {});
        self.visit = None;
        self
    }

    pub fn add(&mut self, number: u32, hanging: Hanging) -> &mut Self {
        self.tell(Known::BarAdded {
            bar: bar(number),
            number,
            width_mm: Length::mm(35.0),
            hanging,
            drawn: None,
        });
        self
    }

    pub fn arrange(&mut self, row: Vec<Piece>) -> &mut Self {
        self.tell(Known::Arranged { row });
        self
    }

    pub fn see(&mut self, number: u32, contents: Contents) -> &mut Self {
        self.tell(Known::CombSeen {
            bar: bar(number),
            contents,
        });
        self
    }

    pub fn cut(&mut self, number: u32) -> &mut Self {
        self.tell(Known::CombTaken {
            bar: bar(number),
            how: Harvest::Cut,
        });
        self
    }

    pub fn hive(&self) -> Hive {
        let yard = Yard::fold(self.entries.iter().cloned());
        let faults: Vec<_> = yard.faults().collect();
        assert!(faults.is_empty(), "{faults:?}");
        yard.hive(self.hive).expect("it was started").clone()
    }
}

pub fn bar(number: u32) -> BarId {
    BarId(Uuid::from_u128(u128::from(number)))
}

pub fn in_row(number: u32) -> Piece {
    Piece::Bar { bar: bar(number) }
}

pub fn follower() -> Piece {
    Piece::Follower {
        width_mm: Length::mm(19.0),
    }
}

pub fn shim(mm: f64) -> Piece {
    Piece::Shim {
        width_mm: Length::mm(mm),
    }
}

fn share(percent: f64) -> Share {
    Share::clamped(percent / 100.0)
}

/// Honey on a face: how much of it is capped, percent.
pub fn capped(percent: f64) -> FaceContents {
    FaceContents {
        capped_of_honey: Some(share(percent)),
        ..FaceContents::default()
    }
}

/// Shares of a face in percent: capped honey, unripe, pollen, capped brood, larvae, eggs, drone
/// brood, empty. 0 is not said.
type Shares = [u8; 8];

fn face(shares: Shares) -> FaceContents {
    let some = |i: usize| (shares[i] > 0).then(|| share(f64::from(shares[i])));
    FaceContents {
        capped_honey: some(0),
        unripe: some(1),
        pollen: some(2),
        capped_brood: some(3),
        larvae: some(4),
        eggs: some(5),
        drone_brood: some(6),
        empty: some(7),
        ..FaceContents::default()
    }
}

pub fn comb(left: FaceContents, right: FaceContents) -> Contents {
    Contents {
        left,
        right,
        ..Contents::default()
    }
}

fn body(cavity_mm: f64, entrance: comb::Entrance) -> Body {
    let measures = comb::BodyMeasures {
        cavity_length_mm: Length::mm(cavity_mm),
        entrance,
        ..Body::default().measures()
    };
    Body::new(measures).expect("a body that can be")
}

/// Ironbark's combs of which both faces were judged by shares.
const IRONBARK: [(u32, Shares, Shares); 8] = [
    (8, [10, 0, 10, 60, 0, 0, 20, 0], [0, 0, 0, 50, 0, 0, 0, 0]),
    (
        9,
        [10, 0, 5, 30, 30, 25, 0, 0],
        [10, 0, 5, 65, 10, 0, 10, 0],
    ),
    (
        10,
        [15, 0, 10, 60, 10, 5, 0, 0],
        [10, 0, 10, 35, 30, 15, 0, 0],
    ),
    (
        11,
        [20, 5, 10, 45, 15, 5, 0, 0],
        [15, 5, 10, 50, 15, 5, 0, 0],
    ),
    (
        12,
        [30, 10, 40, 0, 0, 0, 0, 20],
        [25, 10, 20, 30, 10, 0, 0, 5],
    ),
    (
        13,
        [55, 25, 10, 0, 0, 0, 0, 10],
        [50, 20, 20, 0, 0, 0, 0, 10],
    ),
    (16, [90, 10, 0, 0, 0, 0, 0, 0], [80, 15, 0, 0, 0, 0, 0, 5]),
    (19, [50, 50, 0, 0, 0, 0, 0, 0], [30, 60, 0, 0, 0, 0, 0, 10]),
];

/// Ironbark: entrance at the left end, brood there, honey to the right, the right end open. Most was
/// judged, the rest shows each way of not knowing.
pub fn ironbark() -> Teller {
    let mut t = Teller::new("Ironbark", body(1180.0, comb::Entrance::LeftEnd));
    for number in 1..=33 {
        let hanging = match number {
            17 => Hanging::Strip,
            21.. => Hanging::Nothing,
            _ => Hanging::Comb,
        };
        t.add(number, hanging);
    }
    let mut row: Vec<Piece> = (1..=33).map(in_row).collect();
    row.insert(20, follower());
    row.push(shim(5.0));
    t.arrange(row);
    t.on("2026-09-12T02:00:00Z").open(End::Right);
    for (number, left, right) in IRONBARK {
        t.see(number, comb(face(left), face(right)));
    }
    see_honey(&mut t);
    see_words(&mut t);
    t.tell(Known::SetAside { bar: bar(19) });
    t
}

/// Honey combs as a keeper says them: how much is capped, and what is odd.
fn see_honey(t: &mut Teller) {
    let part = Contents {
        fill: Some(Fill::Part),
        ..comb(capped(0.0), capped(0.0))
    };
    let attached = Contents {
        thickness_mm: Some(Length::mm(31.0)),
        attachment: Some(Attachment::Attached),
        fill: Some(Fill::Full),
        ..comb(capped(75.0), capped(66.0))
    };
    let crossed = Contents {
        straightness: Some(Straightness::Crossed),
        ..comb(capped(100.0), capped(90.0))
    };
    t.see(20, part).see(18, attached).see(15, crossed);
    t.see(14, comb(capped(95.0), FaceContents::default()));
}

/// Combs of which only words are known.
fn see_words(t: &mut Teller) {
    let words = |present: &[Holding]| Contents {
        present: present.to_vec(),
        ..Contents::default()
    };
    let eggs = FaceContents {
        present: vec![Holding::Eggs],
        ..FaceContents::default()
    };
    t.see(7, words(&[Holding::WorkerBrood, Holding::Pollen]));
    let right = Contents {
        right: eggs,
        ..words(&[Holding::Honey, Holding::WorkerBrood])
    };
    t.see(6, right);
    t.see(4, words(&[Holding::Honey]));
    t.see(3, words(&[Holding::Empty]));
}

/// Banksia: closed up, bars in another order than their numbers, worked from the left.
pub fn banksia() -> Teller {
    let mut t = Teller::new("Banksia", body(868.0, comb::Entrance::RightEnd));
    for number in 1..=24 {
        let empty = number == 9 || number > 14;
        t.add(
            number,
            if empty {
                Hanging::Nothing
            } else {
                Hanging::Comb
            },
        );
    }
    let mut row = vec![shim(8.0)];
    row.extend((15..=24).map(in_row));
    row.push(follower());
    row.extend([3, 9, 1, 2, 14, 5, 4, 6, 7, 8, 10, 11, 12, 13].map(in_row));
    t.arrange(row);
    t.on("2026-08-02T02:00:00Z").open(End::Left);
    t.see(3, comb(capped(10.0), capped(0.0)));
    t.see(1, comb(capped(30.0), capped(20.0)));
    t.close();
    t.on("2026-08-20T02:00:00Z").open(End::Left);
    t.see(3, comb(capped(60.0), capped(45.0)));
    t.see(1, comb(capped(90.0), capped(85.0)));
    let two = (
        face([60, 30, 0, 0, 0, 0, 0, 10]),
        face([40, 40, 10, 0, 0, 0, 0, 10]),
    );
    t.see(2, comb(two.0, two.1));
    for (number, brood) in [(14, 40), (5, 55), (4, 60), (6, 60), (7, 50), (8, 45)] {
        let left = face([15, 5, 10, brood, 10, 0, 0, 0]);
        let right = face([20, 0, 15, brood - 20, 10, 5, 5, 0]);
        t.see(number, comb(left, right));
    }
    t.close();
    t
}
