//! A journal of one hive, Banksia, to which combs are taken and honey-house entries are written.

use comb::{Body, BodyMeasures, Entrance, Length, Section};
use hive::entry::{Hanging, Harvest};
use hive::pen::{Pen, Stamp, Subject};
use hive::{BarId, DeviceId, EntryId, HiveId, Known, Yard};
use house::{Batch, HouseError, Kept, Planned, Standing, plan};
use jiff::civil::{Date, Time};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};
use uuid::Uuid;

const BANKSIA: HiveId = HiveId(Uuid::from_u128(0xa1));

/// Days are counted in UTC.
pub(crate) fn day(at: Timestamp, _: &str) -> Date {
    TimeZone::UTC.to_datetime(at).date()
}

/// The journal, and the day on which it is told.
pub(crate) struct Told {
    pub(crate) yard: Yard,
    pen: Pen,
    now: ZonedDateTime,
    ids: u128,
}

impl Told {
    pub(crate) fn at(today: Date) -> Self {
        let device = DeviceId(Uuid::from_u128(7));
        let now = today
            .to_datetime(Time::constant(18, 0, 0, 0))
            .to_zoned_datetime(TimeZone::UTC)
            .expect("a day of the calendar");
        let mut told = Self {
            yard: Yard::default(),
            pen: Pen::new(device, 1, "Mara".to_owned(), "UTC".to_owned()),
            now,
            ids: 0x1000,
        };
        let body = Body::new(BodyMeasures {
            cavity_length_mm: Length::mm(1200.0),
            top_width_mm: Length::mm(381.0),
            bottom_width_mm: Length::mm(127.0),
            depth_mm: Length::mm(305.0),
            section: Section::Sloped,
            entrance: Entrance::LeftEnd,
            bar_width_mm: Length::mm(35.0),
        });
        told.say(
            told.at_hour(date_before(today), 8),
            Subject::hive(BANKSIA),
            Known::HiveStarted {
                name: "Banksia".to_owned(),
                apiary: None,
                body: body.expect("a body that can be"),
                numbered: true,
            },
        );
        told
    }

    fn at_hour(&self, on: Date, hour: i8) -> Timestamp {
        let at = on.to_datetime(Time::constant(hour, 0, 0, 0));
        let zoned = at.to_zoned_datetime(self.now.time_zone().clone());
        zoned.expect("an hour of the day").timestamp()
    }

    fn say(&mut self, at: Timestamp, about: Subject, what: Known) -> EntryId {
        self.ids += 1;
        let id = EntryId(Uuid::from_u128(self.ids));
        let recorded = self.now.timestamp();
        let stamp = Stamp { id, at, recorded };
        let entry = self.pen.write(stamp, about, what.into());
        self.yard.add(entry);
        id
    }

    /// Takes the combs of these bars on that morning; gives the entries that say so.
    pub(crate) fn take_combs(&mut self, bars: &[u32], on: Date) -> Vec<EntryId> {
        let at = self.at_hour(on, 9);
        let about = Subject::hive(BANKSIA);
        let take = |number: &u32| {
            let bar = BarId(Uuid::from_u128(0xb00 + u128::from(*number)));
            let added = Known::BarAdded {
                bar,
                number: *number,
                width_mm: Length::mm(35.0),
                hanging: Hanging::Comb,
                drawn: None,
            };
            self.say(at, about, added);
            let how = Harvest::Cut;
            self.say(at, about, Known::CombTaken { bar, how })
        };
        bars.iter().map(take).collect()
    }

    pub(crate) fn rename(&mut self, name: &str) {
        let name = name.to_owned();
        let now = self.now.timestamp();
        self.say(now, Subject::hive(BANKSIA), Known::HiveRenamed { name });
    }

    pub(crate) fn kept(&self) -> Kept {
        Kept::of(&self.yard, &day)
    }

    pub(crate) fn plan(
        &self,
        on: Option<Date>,
        make: &mut dyn FnMut(&Standing<'_>) -> Result<Batch, HouseError>,
    ) -> Result<Planned, HouseError> {
        plan(&self.yard, &self.now, on, &day, make)
    }

    /// Plans it and writes it.
    pub(crate) fn does(
        &mut self,
        on: Option<Date>,
        make: &mut dyn FnMut(&Standing<'_>) -> Result<Batch, HouseError>,
    ) -> Planned {
        let planned = self.plan(on, make).expect("it can be");
        for what in planned.says.clone() {
            self.say(planned.at, Subject::YARD, what);
        }
        planned
    }
}

fn date_before(today: Date) -> Date {
    today.yesterday().expect("no test begins with the calendar")
}
