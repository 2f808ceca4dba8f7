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
            now: "2026-07-01T01:00:00Z".parse().unwrap(),
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
        self.now = instant.parse().unwrap();
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
        yard.hive(self.hive).unwrap().clone()
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

fn share(percent: f64) -> Option<Share> {
    Some(Share::clamped(percent / 100.0))
}

/// Honey on a face: how much of it is capped.
pub fn capped(percent: f64) -> FaceContents {
    FaceContents {
        capped_of_honey: share(percent),
        ..FaceContents::default()
    }
}

/// A face by shares in percent: capped honey, unripe, pollen, capped brood, larvae, eggs, drone, empty.
pub fn face(shares: [f64; 8]) -> FaceContents {
    let some = |i: usize| (shares[i] > 0.0).then(|| Share::clamped(shares[i] / 100.0));
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

/// Ironbark: entrance at the left end, brood there, honey to the right, the right end open. Most was
/// judged, the rest shows each way of not knowing.
pub fn ironbark() -> Teller {
    let mut t = Teller::new("Ironbark", Body::default());
    for number in 1..=22 {
        let hanging = match number {
            17 => Hanging::Strip,
            21 | 22 => Hanging::Nothing,
            _ => Hanging::Comb,
        };
        t.add(number, hanging);
    }
    let mut row: Vec<Piece> = (1..=22).map(in_row).collect();
    row.insert(20, follower());
    row.push(shim(5.0));
    t.arrange(row);
    t.on("2026-09-12T02:00:00Z").open(End::Right);
    let unknown = FaceContents::default;
    t.see(
        20,
        Contents {
            fill: Some(Fill::Part),
            ..comb(capped(0.0), capped(0.0))
        },
    );
    t.see(19, comb(capped(50.0), capped(33.0)));
    t.see(
        18,
        Contents {
            thickness_mm: Some(Length::mm(31.0)),
            attachment: Some(Attachment::Attached),
            fill: Some(Fill::Full),
            ..comb(capped(75.0), capped(66.0))
        },
    );
    t.see(
        16,
        Contents {
            thickness_mm: Some(Length::mm(30.0)),
            ..comb(
                face([90.0, 10.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]),
                face([80.0, 15.0, 0.0, 0.0, 0.0, 0.0, 0.0, 5.0]),
            )
        },
    );
    t.see(
        15,
        Contents {
            straightness: Some(Straightness::Crossed),
            ..comb(capped(100.0), capped(90.0))
        },
    );
    t.see(14, comb(capped(95.0), unknown()));
    t.see(
        13,
        comb(
            face([55.0, 25.0, 10.0, 0.0, 0.0, 0.0, 0.0, 10.0]),
            face([50.0, 20.0, 20.0, 0.0, 0.0, 0.0, 0.0, 10.0]),
        ),
    );
    t.see(
        12,
        comb(
            face([30.0, 10.0, 40.0, 0.0, 0.0, 0.0, 0.0, 20.0]),
            face([25.0, 10.0, 20.0, 30.0, 10.0, 0.0, 0.0, 5.0]),
        ),
    );
    t.see(
        11,
        comb(
            face([20.0, 5.0, 10.0, 45.0, 15.0, 5.0, 0.0, 0.0]),
            face([15.0, 5.0, 10.0, 50.0, 15.0, 5.0, 0.0, 0.0]),
        ),
    );
    t.see(
        10,
        comb(
            face([15.0, 0.0, 10.0, 60.0, 10.0, 5.0, 0.0, 0.0]),
            face([10.0, 0.0, 10.0, 35.0, 30.0, 15.0, 0.0, 0.0]),
        ),
    );
    t.see(
        9,
        comb(
            face([10.0, 0.0, 5.0, 30.0, 30.0, 25.0, 0.0, 0.0]),
            face([10.0, 0.0, 5.0, 65.0, 10.0, 0.0, 10.0, 0.0]),
        ),
    );
    t.see(
        8,
        comb(
            face([10.0, 0.0, 10.0, 60.0, 0.0, 0.0, 20.0, 0.0]),
            FaceContents {
                capped_brood: share(50.0),
                ..FaceContents::default()
            },
        ),
    );
    t.see(
        7,
        Contents {
            present: vec![Holding::WorkerBrood, Holding::Pollen],
            ..Contents::default()
        },
    );
    t.see(
        6,
        Contents {
            present: vec![Holding::Honey, Holding::WorkerBrood],
            ..comb(
                unknown(),
                FaceContents {
                    present: vec![Holding::Eggs],
                    ..FaceContents::default()
                },
            )
        },
    );
    t.see(
        4,
        Contents {
            present: vec![Holding::Honey],
            ..Contents::default()
        },
    );
    t.see(
        3,
        Contents {
            present: vec![Holding::Empty],
            ..Contents::default()
        },
    );
    t.tell(Known::SetAside { bar: bar(19) });
    t
}

/// Banksia: closed up, bars in another order than their numbers, worked from the left.
pub fn banksia() -> Teller {
    let body = comb::BodyMeasures {
        cavity_length_mm: Length::mm(900.0),
        entrance: comb::Entrance::RightEnd,
        ..Body::default().measures()
    };
    let mut t = Teller::new("Banksia", Body::new(body).unwrap());
    for number in 1..=14 {
        t.add(
            number,
            if number == 9 {
                Hanging::Nothing
            } else {
                Hanging::Comb
            },
        );
    }
    let mut row = vec![shim(8.0), follower()];
    row.extend([3, 9, 1, 2, 14, 5, 4, 6, 7, 8, 10, 11, 12, 13].map(in_row));
    t.arrange(row);
    t.on("2026-08-02T02:00:00Z").open(End::Left);
    t.see(3, comb(capped(10.0), capped(0.0)));
    t.see(1, comb(capped(30.0), capped(20.0)));
    t.close();
    t.on("2026-08-20T02:00:00Z").open(End::Left);
    t.see(3, comb(capped(60.0), capped(45.0)));
    t.see(1, comb(capped(90.0), capped(85.0)));
    t.see(
        2,
        comb(
            face([60.0, 30.0, 0.0, 0.0, 0.0, 0.0, 0.0, 10.0]),
            face([40.0, 40.0, 10.0, 0.0, 0.0, 0.0, 0.0, 10.0]),
        ),
    );
    for (n, brood) in [
        (14, 40.0),
        (5, 55.0),
        (4, 60.0),
        (6, 60.0),
        (7, 50.0),
        (8, 45.0),
    ] {
        t.see(
            n,
            comb(
                face([15.0, 5.0, 10.0, brood, 10.0, 0.0, 0.0, 0.0]),
                face([20.0, 0.0, 15.0, brood - 20.0, 10.0, 5.0, 5.0, 0.0]),
            ),
        );
    }
    t.close();
    t
}
