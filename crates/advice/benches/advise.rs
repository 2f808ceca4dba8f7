//! How long all advice on a hive takes that was visited often.

use std::hint::black_box;
use std::sync::Arc;

use advice::advise::{Surroundings, advise, running};
use advice::closing_plan::AtHand;
use advice::returning::{Ahead, WORTH_THE_TRIP};
use advice::stores::Scales;
use comb::{Body, BodyMeasures, Contents, Entrance, FaceContents, Length, Section, Share};
use criterion::{Criterion, criterion_group, criterion_main};
use hive::entry::{Hanging, Piece, Weather};
use hive::pen::{Stamp, Subject};
use hive::{BarId, DeviceId, Entry, EntryId, HiveId, Known, Pen, Yard};
use jiff::{SignedDuration, Timestamp, tz::TimeZone};
use season::ripening::Flow;
use uuid::Uuid;

const BARS: u32 = 20;
const VISITS: u32 = 48;
const HIVE: HiveId = HiveId(Uuid::from_u128(1));

struct Writing {
    pen: Pen,
    now: Timestamp,
    entries: Vec<Arc<Entry>>,
}

impl Writing {
    fn say(&mut self, about: Subject, known: Known) -> EntryId {
        self.now += SignedDuration::from_secs(20);
        let id = EntryId(Uuid::from_u128(0x1000 + self.entries.len() as u128));
        let entry = self
            .pen
            .write(Stamp::now(id, self.now), about, known.into());
        self.entries.push(Arc::new(entry));
        id
    }
}

fn bar(number: u32) -> BarId {
    BarId(Uuid::from_u128(0x100 + u128::from(number)))
}

/// A hive of twenty combs, twelve of them looked at every six days, each in another state.
fn yard() -> (Yard, Timestamp) {
    let mut writing = Writing {
        pen: Pen::new(DeviceId(Uuid::from_u128(1)), 1, "keeper", "+10:00"),
        now: "2026-01-12T00:00:00Z".parse().expect("a timestamp"),
        entries: Vec::new(),
    };
    let about = Subject::hive(HIVE);
    let body = Body::new(BodyMeasures {
        cavity_length_mm: Length::mm(1000.0),
        top_width_mm: Length::mm(430.0),
        bottom_width_mm: Length::mm(200.0),
        depth_mm: Length::mm(300.0),
        section: Section::Sloped,
        entrance: Entrance::LeftEnd,
        bar_width_mm: Length::mm(35.0),
    });
    let started = Known::HiveStarted {
        name: "Ironbark".into(),
        apiary: None,
        body: body.expect("a body that can be"),
        numbered: true,
    };
    writing.say(about, started);
    for number in 1..=BARS {
        let added = Known::BarAdded {
            bar: bar(number),
            number,
            width_mm: Length::mm(35.0),
            hanging: Hanging::Comb,
            drawn: None,
        };
        writing.say(about, added);
    }
    let row = (1..=BARS).map(|n| Piece::Bar { bar: bar(n) }).collect();
    writing.say(about, Known::Arranged { row });
    for visit in 1..=VISITS {
        writing.now += SignedDuration::from_hours(24 * 6);
        let weather = Weather::default();
        let opened = writing.say(about, Known::VisitOpened { aim: None, weather });
        let about = Subject::visit(HIVE, opened);
        for number in (9..=BARS).rev() {
            let face = |eighths: u32| FaceContents {
                capped_of_honey: Some(Share::eighths((eighths % 9) as u8)),
                ..FaceContents::default()
            };
            let contents = Contents {
                left: face(visit + number),
                right: face(visit * 3 + number),
                ..Contents::default()
            };
            let bar = bar(number);
            writing.say(about, Known::CombSeen { bar, contents });
        }
        writing.say(about, Known::VisitClosed {});
    }
    (Yard::fold(writing.entries), writing.now)
}

fn advice(c: &mut Criterion) {
    let (yard, last) = yard();
    let hive = yard.hive(HIVE).expect("it was begun");
    let now = last + SignedDuration::from_hours(24 * 4);
    let around = Surroundings {
        ahead: Ahead {
            today: now.to_zoned_datetime(TimeZone::UTC).date(),
            now,
            flow: Flow::Good,
            wanted: WORTH_THE_TRIP,
            suitable_days: Vec::new(),
        },
        climate: None,
        season_model: None,
        legal_moisture: None,
        at_hand: AtHand::default(),
        withheld_by_others: Vec::new(),
    };
    let scales = Scales::of(hive, yard.hives());
    c.bench_function("all advice on a hive of 48 visits", |b| {
        b.iter(|| advise(black_box(hive), yard.hives(), &around));
    });
    c.bench_function("the advice of each phrase", |b| {
        b.iter(|| running(black_box(hive), &scales, &around));
    });
}

criterion_group!(benches, advice);
criterion_main!(benches);
