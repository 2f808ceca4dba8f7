//! What was typed at the desk, as entries.

use comb::{Contents, FaceContents, Mass, Share};
use hive::entry::{Hanging, Piece, Reserve};
use hive::sign::{Certainty, Sign};
use hive::treatment::{LabelPeriod, Treatment, TreatmentEnd};
use hive::undo::Scope;
use hive::{BarId, Entry, Hive, HiveId, Known, Yard};
use jiff::ToSpan;
use jiff::civil::Date;
use serde_json::Map;

use super::form::{Bars, Doing, PieceTold, Typed};
use crate::failure::Failure;
use crate::journal::{Desk, Saying, Writer};
use crate::surroundings::fresh_id;

/// Lays what was typed on the desk.
pub(super) fn tell(
    desk: &mut Desk,
    hive: HiveId,
    typed: &Typed,
    writer: &Writer,
) -> Result<(), Failure> {
    let there = desk
        .yard()
        .hive(hive)
        .ok_or_else(|| Failure::input("the hive is gone"))?;
    let visit = there
        .last_visit()
        .map(|visit| visit.id)
        .filter(|_| typed.in_visit);
    let on = writer.now.date();
    for what in entries(desk.yard(), there, &typed.doing, on)? {
        let saying = Saying {
            visit,
            ..Saying::of_hive(hive, writer.now.timestamp(), what)
        };
        desk.say(saying, writer)?;
    }
    Ok(())
}

fn entries(yard: &Yard, hive: &Hive, doing: &Doing, on: Date) -> Result<Vec<Known>, Failure> {
    let bar = |number: &u32| hive.bar_numbered(*number).map(|bar| bar.id);
    let one = match doing {
        Doing::Note { text } => Known::Note { text: text.clone() },
        Doing::Seen {
            bar: number,
            capped_percent,
            moisture_percent,
            present,
        } => Known::CombSeen {
            bar: bar(number)?,
            contents: contents(*capped_percent, *moisture_percent, present)?,
        },
        Doing::Correct { bar: of, mass_kg } => correction(yard, hive, bar(of)?, *mass_kg)?,
        Doing::Turned { bar: turned } => Known::BarTurned { bar: bar(turned)? },
        Doing::Moved {
            bar: moved,
            beside,
            side,
        } => Known::BarMoved {
            bar: bar(moved)?,
            beside: bar(beside)?,
            side: *side,
        },
        Doing::BarsAdded { bars: [from, to] } => {
            return Ok((*from..=*to).map(|number| new_bar(hive, number)).collect());
        }
        Doing::Arranged { row } => Known::Arranged {
            row: pieces(hive, row)?,
        },
        Doing::EndArranged { end, beyond, row } => Known::EndArranged {
            end: *end,
            beyond: Some(bar(beyond)?),
            row: pieces(hive, row)?,
        },
        Doing::Renamed { name } => Known::HiveRenamed { name: name.clone() },
        Doing::Fed { food, litres } => Known::Fed {
            food: food.clone(),
            litres: Some(*litres),
            mass_kg: None,
        },
        treated @ Doing::Treated { .. } => treatment(treated, on)?,
        Doing::TreatmentOver { left } => Known::TreatmentEnded(TreatmentEnd {
            treatment: hive
                .treatments_on()
                .next()
                .map(|treated| treated.when.entry)
                .ok_or_else(|| Failure::input("no treatment is on"))?,
            on,
            left: Some(left.clone()),
            more: Map::new(),
        }),
        Doing::Sign {
            condition,
            bar: number,
            seen,
        } => Known::SignSeen(Sign {
            bar: Some(bar(number)?),
            seen: Some(seen.clone()),
            ..Sign::new(on, condition.as_str(), Certainty::Suspected)
        }),
        Doing::MiteWash { mites, bees } => Known::MiteWash {
            mites: *mites,
            bees: *bees,
        },
        Doing::ReserveCombs { combs } => Known::ReserveSet {
            reserve: Some(Reserve::Combs(*combs)),
        },
        Doing::ReserveKg { kg } => Known::ReserveSet {
            reserve: Some(Reserve::Kg(Mass::kg(*kg))),
        },
        Doing::RipeFrom { percent } => Known::RipenessSet {
            mean_capped: Share::percent(*percent)?,
        },
        Doing::Undo => return Ok(hive::undo_last(yard, Scope::Hive(hive.id), 1)?),
    };
    Ok(vec![one])
}

fn treatment(treated: &Doing, on: Date) -> Result<Known, Failure> {
    let Doing::Treated {
        product,
        active,
        batch,
        quantity,
        how,
        supplier,
        out_after,
        withheld_after: days,
    } = treated
    else {
        return Err(Failure::input("it is no treatment"));
    };
    let out = on
        .checked_add(out_after.days())
        .map_err(|why| Failure::input(why.to_string()))?;
    let words = |words: &String| Some(words.clone());
    Ok(Known::TreatmentBegun(Treatment {
        active: words(active),
        batch: words(batch),
        quantity: words(quantity),
        how: words(how),
        against: Some("varroa".to_owned()),
        supplier: words(supplier),
        planned_removal: Some(out),
        withholding: Some(LabelPeriod::Days { days: *days }),
        ..Treatment::new(on, product.as_str())
    }))
}

fn contents(
    capped: Option<[f64; 2]>,
    moisture: Option<f64>,
    present: &[comb::contents::Holding],
) -> Result<Contents, Failure> {
    let face = |percent: f64| {
        Share::percent(percent).map(|share| FaceContents {
            capped_of_honey: Some(share),
            ..FaceContents::default()
        })
    };
    let mut contents = Contents {
        moisture: moisture.map(Share::percent).transpose()?,
        present: present.to_vec(),
        ..Contents::default()
    };
    if let Some([left, right]) = capped {
        contents.left = face(left)?;
        contents.right = face(right)?;
    }
    Ok(contents)
}

fn new_bar(hive: &Hive, number: u32) -> Known {
    Known::BarAdded {
        bar: BarId(fresh_id().0),
        number,
        width_mm: hive.body.bar_width(),
        hanging: Hanging::Nothing,
        drawn: None,
    }
}

fn pieces(hive: &Hive, row: &[PieceTold]) -> Result<Vec<Piece>, Failure> {
    let bars = |bars: &Bars| -> Result<Vec<Piece>, Failure> {
        let numbers = bars.numbers().into_iter();
        numbers
            .map(|number| {
                let bar = hive.bar_numbered(number)?.id;
                Ok(Piece::Bar { bar })
            })
            .collect()
    };
    let mut all = Vec::new();
    for piece in row {
        match piece {
            PieceTold::Bars(run) => all.extend(bars(run)?),
            PieceTold::Other(other) => all.push(other.piece()),
        }
    }
    Ok(all)
}

/// The latest spoken look at the bar, with another weight.
fn correction(yard: &Yard, hive: &Hive, of: BarId, mass_kg: f64) -> Result<Known, Failure> {
    let look = |entry: &Entry| match entry.what.known() {
        Some(Known::CombSeen { bar, contents })
            if *bar == of && entry.hive == Some(hive.id) && contents.mass_kg.is_some() =>
        {
            Some((entry.id, contents.clone()))
        }
        _ => None,
    };
    let mut looks = yard.acts().iter().rev();
    let (target, contents) = looks
        .find_map(|act| look(act.entry()))
        .ok_or_else(|| Failure::input("no comb of this bar was weighed"))?;
    let right = Known::CombSeen {
        bar: of,
        contents: Contents {
            mass_kg: Some(Mass::kg(mass_kg)),
            ..contents
        },
    };
    Ok(Known::Corrected {
        target,
        what: right.into(),
    })
}
