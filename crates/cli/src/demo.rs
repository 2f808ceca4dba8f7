//! Wattle Bend: five invented hives over one season of spoken visits, for trying things on.
//!
//! The season is told in `demo/*.toml`: what was said at the hives, word for word, what was typed at
//! the desk and what was done in the honey house. It goes through the same listening and the same checks as a keeper's own
//! notes; nothing of the record is prepared beforehand.

mod bottled;
mod form;
mod typed;

use hive::entry::{Climate, Hanging, Piece, Place};
use hive::{ApiaryId, BarId, HiveId, Known, Yard};
use jiff::civil::Time;
use jiff::{Span, ZonedDateTime};
use talk::record::{Recording, Transcript};

use crate::commands::hear::{Heard, Until, record_visit};
use crate::failure::Failure;
use crate::journal::{Desk, Open, Saying, Writer, hive_named};
use crate::surroundings::fresh_id;
use form::{HiveTold, HouseTold, PieceTold, Stepped, Typed, VisitTold, When, YardTold};

/// On a mild coast, so that the season can be reckoned; the point lies at sea, where no yard is.
const PLACE: Place = Place {
    latitude: -35.0,
    longitude: 151.5,
    altitude_m: Some(40.0),
};
const YARD: &str = include_str!("../demo/yard.toml");
const HIVES: [&str; 5] = [
    include_str!("../demo/banksia.toml"),
    include_str!("../demo/grevillea.toml"),
    include_str!("../demo/ironbark.toml"),
    include_str!("../demo/stringybark.toml"),
    include_str!("../demo/tea_tree.toml"),
];
const HONEY_HOUSE: &str = include_str!("../demo/honey_house.toml");

/// Brings the yard into a journal, its season ending a few days before `today`; all of it or
/// nothing. Gives the yard as it then stands.
pub(crate) async fn bring(open: &Open, today: &ZonedDateTime) -> Result<Yard, Failure> {
    let (yard, ()) = open.write(|desk| tell(desk, today, |_, _| ())).await?;
    Ok(yard)
}

/// Tells the season at the desk; `on_visit` sees what was understood of each visit.
fn tell(
    desk: &mut Desk,
    today: &ZonedDateTime,
    on_visit: impl FnMut(&VisitTold, &Recording),
) -> Result<(), Failure> {
    let mut teller = Teller {
        today,
        yard: toml_of(YARD)?,
        on_visit,
    };
    let hives = HIVES
        .iter()
        .map(|text| toml_of::<HiveTold>(text))
        .collect::<Result<Vec<_>, _>>()?;
    let house = toml_of::<HouseTold>(HONEY_HOUSE)?;
    let apiary = teller.begin_yard(desk)?;
    for (when, telling) in teller.in_order(&hives, &house)? {
        match telling {
            Telling::OfHive(hive, of) => teller.tell(desk, apiary, hive, of, &when)?,
            Telling::Bottled(step) => teller.bottle(desk, step, &when)?,
        }
    }
    Ok(())
}

/// What is shipped is tested; a slip of the pen there is told like any other input.
fn toml_of<T: serde::de::DeserializeOwned>(text: &str) -> Result<T, Failure> {
    toml::from_str(text).map_err(|why| Failure::input(format!("the demo's season: {why}")))
}

/// One thing to tell.
#[derive(Clone, Copy)]
enum Telling<'a> {
    OfHive(&'a HiveTold, OfHive<'a>),
    Bottled(&'a Stepped),
}

/// One thing to tell of a hive.
#[derive(Clone, Copy)]
enum OfHive<'a> {
    Begins,
    Visit(&'a VisitTold),
    Typed(&'a Typed),
}

/// Who tells the season, and from which day back.
struct Teller<'a, F> {
    today: &'a ZonedDateTime,
    yard: YardTold,
    on_visit: F,
}

impl<F: FnMut(&VisitTold, &Recording)> Teller<'_, F> {
    /// Everything told, by its time.
    fn in_order<'h>(
        &self,
        hives: &'h [HiveTold],
        house: &'h HouseTold,
    ) -> Result<Vec<(ZonedDateTime, Telling<'h>)>, Failure> {
        let mut all = Vec::new();
        for hive in hives {
            let mut push = |when: &When, of| -> Result<(), Failure> {
                all.push((self.at(when)?, Telling::OfHive(hive, of)));
                Ok(())
            };
            push(&hive.began, OfHive::Begins)?;
            for visit in &hive.visit {
                push(&visit.when, OfHive::Visit(visit))?;
            }
            for typed in &hive.typed {
                push(&typed.when, OfHive::Typed(typed))?;
            }
        }
        for step in &house.step {
            all.push((self.at(&step.when)?, Telling::Bottled(step)));
        }
        all.sort_by_key(|(when, _)| when.timestamp());
        Ok(all)
    }

    fn at(&self, told: &When) -> Result<ZonedDateTime, Failure> {
        let time: Time = told
            .time
            .parse()
            .map_err(|_| Failure::input(format!("the demo's season: {} is no time", told.time)))?;
        Span::new()
            .try_days(told.days_ago)
            .and_then(|span| self.today.date().checked_sub(span))
            .and_then(|date| {
                let zone = self.today.time_zone().clone();
                date.to_datetime(time).to_zoned_datetime(zone)
            })
            .map_err(|why| Failure::input(format!("the demo's season: {why}")))
    }

    fn writer(&self, by: Option<&String>, when: &ZonedDateTime) -> Writer {
        Writer {
            by: by.unwrap_or(&self.yard.keeper).clone(),
            now: when.clone(),
        }
    }

    fn begin_yard(&self, desk: &mut Desk) -> Result<ApiaryId, Failure> {
        let when = self.at(&self.yard.began)?;
        let apiary = ApiaryId(fresh_id().0);
        let what = Known::Apiary {
            apiary,
            name: self.yard.name.clone(),
            place: Some(PLACE),
            climate: Some(Climate::MildCoast),
        };
        let saying = Saying::of_yard(when.timestamp(), what);
        desk.say(saying, &self.writer(None, &when))?;
        Ok(apiary)
    }

    fn tell(
        &mut self,
        desk: &mut Desk,
        apiary: ApiaryId,
        told: &HiveTold,
        of: OfHive<'_>,
        when: &ZonedDateTime,
    ) -> Result<(), Failure> {
        let days = (self.today.date() - when.date()).get_days();
        let at = |why: Failure| Failure::input(format!("{}, {days} days ago: {why}", told.name));
        match of {
            OfHive::Begins => self.begin(desk, apiary, told, when),
            OfHive::Visit(visit) => self.visit(desk, told, visit, when),
            OfHive::Typed(typed) => {
                let hive = living(desk, told)?;
                let writer = self.writer(typed.by.as_ref(), when);
                typed::tell(desk, hive, typed, &writer)
            }
        }
        .map_err(at)
    }

    fn bottle(&self, desk: &mut Desk, step: &Stepped, when: &ZonedDateTime) -> Result<(), Failure> {
        let days = (self.today.date() - when.date()).get_days();
        bottled::tell(desk, step, &self.writer(None, when))
            .map_err(|why| Failure::input(format!("the honey house, {days} days ago: {why}")))
    }

    fn visit(
        &mut self,
        desk: &mut Desk,
        told: &HiveTold,
        visit: &VisitTold,
        when: &ZonedDateTime,
    ) -> Result<(), Failure> {
        let split_to = match &visit.split_to {
            Some(name) => Some(hive_named(desk.yard(), name)?.id),
            None => None,
        };
        let heard = Heard {
            transcript: &Transcript::of(&visit.spoken),
            when,
            end: None,
            split_to,
            until: Until::Closed,
        };
        let hive = living(desk, told)?;
        let writer = self.writer(visit.by.as_ref(), when);
        let recording = record_visit(desk, hive, &heard, &writer)?;
        (self.on_visit)(visit, &recording);
        Ok(())
    }

    fn begin(
        &self,
        desk: &mut Desk,
        apiary: ApiaryId,
        told: &HiveTold,
        when: &ZonedDateTime,
    ) -> Result<(), Failure> {
        let writer = self.writer(None, when);
        let hive = HiveId(fresh_id().0);
        let mut say = |what| desk.say(Saying::of_hive(hive, when.timestamp(), what), &writer);
        say(Known::HiveStarted {
            name: told.name.clone(),
            apiary: Some(apiary),
            body: told.body,
            numbered: told.numbered,
        })?;
        let mut row = Vec::new();
        for piece in &told.row {
            let bars = match piece {
                PieceTold::Bars(bars) => bars,
                PieceTold::Other(other) => {
                    row.push(other.piece());
                    continue;
                }
            };
            for number in bars.numbers() {
                let bar = BarId(fresh_id().0);
                say(Known::BarAdded {
                    bar,
                    number,
                    width_mm: told.body.bar_width(),
                    hanging: bars.hanging.unwrap_or(Hanging::Nothing),
                    drawn: None,
                })?;
                row.push(Piece::Bar { bar });
            }
        }
        say(Known::Arranged { row })
    }
}

/// The hive told of, by the name that it bears at the time.
fn living(desk: &Desk, told: &HiveTold) -> Result<HiveId, Failure> {
    let names = [Some(&told.name), told.renamed()];
    let found = names
        .into_iter()
        .flatten()
        .find_map(|name| desk.yard().hive_named(name).ok());
    found
        .map(|hive| hive.id)
        .ok_or_else(|| Failure::input("it has not begun yet"))
}

#[cfg(test)]
mod tests;
