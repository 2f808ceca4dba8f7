//! The goal of closing up as a picture: the end as it stands above, as it will stand below, and a line
//! from each bar that is lifted to where it goes.

use comb::{Length, ToldIn};

use super::PictureOptions;
use super::element::{Element, number};
use super::legend;
use super::palette::Ink;
use super::pattern;
use super::row::{self, RowPlan, wall_width};
use super::row_comb::{SMALL, tile};
use super::section_picture::{heading, title};
use super::sheet::{Anchor, SERIF, Sheet};
use super::strip::Strip;
use crate::closing::ClosingGoal;
use crate::section::{Drawn, HiveSection};
use crate::{Kind, words};
use hive::BarId;
use hive::entry::End;

/// Bars drawn inward of the last bar that is not moved, for the eye to hold on to.
const INWARD: usize = 2;

/// One end before and after closing up.
pub fn closing_goal(goal: &ClosingGoal, options: &PictureOptions) -> String {
    let mut sheet = Sheet::new(options);
    let (now, then) = (worked(&goal.now, goal), worked(&goal.goal, goal));
    let room = sheet.width() - 2.0 * (sheet.margin() + wall_width(&sheet));
    let longest = now.length().max(then.length()).to_mm().max(1.0);
    // a short end would come out as large as a barn door
    let scale = (room / longest).min(0.9);
    let pattern_size = tile(&sheet, &goal.goal, scale);
    pattern::define(&mut sheet, SMALL, pattern_size, &Kind::ALL);
    let y = heading(&mut sheet, &goal.goal);
    let size = sheet.text_size();
    let places = Places {
        sheet_room: room,
        scale,
    };
    let (above, y) = strip(
        &mut sheet,
        (&goal.now, &now),
        words::NOW,
        &places,
        (y, goal.end),
    );
    let (under, y) = strip(
        &mut sheet,
        (&goal.goal, &then),
        words::THEN,
        &places,
        (y + size * 2.2, goal.end),
    );
    for bar in &goal.lifted {
        join(
            &mut sheet,
            (above.middle(*bar), above.floor),
            (under.middle(*bar), under.top),
        );
    }
    let mut y = y;
    if options.with_legend {
        y = legend::draw(&mut sheet, &[&goal.now, &goal.goal], y + size * 0.4);
    }
    let picture = sheet.take_document();
    let height = y + sheet.margin();
    let title = format!("{}: {}", words::THEN, title(&goal.goal));
    sheet.framed(
        height,
        &title,
        &describe(goal, &then, options.told_in),
        picture,
    )
}

/// The stretch that is worked, with a few bars inward.
fn worked<'a>(section: &'a HiveSection, goal: &ClosingGoal) -> Strip<'a> {
    let whole = Strip::whole(section);
    let Some(edge) = goal.beyond else {
        return whole;
    };
    let Some(at) = whole
        .pieces
        .iter()
        .position(|(_, piece)| piece.bar().is_some_and(|bar| bar.id == edge))
    else {
        return whole;
    };
    match goal.end {
        End::Right => {
            let first = whole.pieces[at.saturating_sub(INWARD)].0;
            whole.between(if at <= INWARD { Length::ZERO } else { first }, whole.to)
        }
        End::Left => {
            let next = at + INWARD + 1;
            let to = whole.pieces.get(next).map_or(whole.to, |piece| piece.0);
            whole.between(Length::ZERO, to)
        }
    }
}

struct Places {
    sheet_room: f64,
    scale: f64,
}

/// Where the bars of a drawn strip are.
struct DrawnStrip {
    middles: Vec<(BarId, f64)>,
    top: f64,
    floor: f64,
}

impl DrawnStrip {
    fn middle(&self, bar: BarId) -> Option<f64> {
        self.middles
            .iter()
            .find(|(id, _)| *id == bar)
            .map(|(_, x)| *x)
    }
}

fn strip(
    sheet: &mut Sheet<'_>,
    (section, strip): (&HiveSection, &Strip<'_>),
    name: &str,
    places: &Places,
    (y, end): (f64, End),
) -> (DrawnStrip, f64) {
    let size = sheet.text_size();
    let left = sheet.margin() + wall_width(sheet);
    let label = sheet.label_element(
        (sheet.margin(), y + size),
        Anchor::Start,
        size * 1.2,
        Ink::Text,
    );
    sheet.document.text(&label.set("font-family", SERIF), name);
    let long = strip.length().to_mm() * places.scale;
    // both strips keep to the wall of the end that is worked
    let x = match end {
        End::Left => left,
        End::Right => left + places.sheet_room - long,
    };
    let plan = RowPlan {
        x,
        y: y + size * 1.4,
        scale: places.scale,
        with_marks: section.bars().any(|bar| bar.mark.is_some()),
        with_places: false,
    };
    let heights = row::draw(sheet, section, strip, plan);
    let middles = strip.pieces.iter().filter_map(|(at, piece)| {
        let bar = piece.bar()?;
        let middle = *at + bar.width / 2.0 - strip.from;
        Some((bar.id, x + middle.to_mm() * places.scale))
    });
    let drawn = DrawnStrip {
        middles: middles.collect(),
        top: plan.y - 2.0,
        floor: heights.end,
    };
    (drawn, heights.end)
}

fn join(sheet: &mut Sheet<'_>, (from, top): (Option<f64>, f64), (to, bottom): (Option<f64>, f64)) {
    let (Some(from), Some(to)) = (from, to) else {
        return;
    };
    let middle = f64::midpoint(top, bottom);
    let path = format!(
        "M{} {}C{} {m} {} {m} {} {}",
        number(from),
        number(top),
        number(from),
        number(to),
        number(to),
        number(bottom),
        m = number(middle)
    );
    let path = Element::new("path").set("d", path).set("fill", "none");
    let ink = sheet.ink(Ink::Highlight);
    sheet.document.leaf(
        &path
            .set("stroke", ink)
            .num("stroke-width", 2.0 * sheet.print()),
    );
}

fn describe(goal: &ClosingGoal, then: &Strip<'_>, told_in: ToldIn) -> String {
    let names: Vec<String> = then
        .pieces
        .iter()
        .map(|(_, piece)| piece_name(piece, told_in))
        .collect();
    let lifted: Vec<String> = goal
        .lifted
        .iter()
        .filter_map(|id| goal.goal.bar(*id))
        .map(|bar| bar.number.to_string())
        .collect();
    let lifted = if lifted.is_empty() {
        words::NONE_LIFTED.to_owned()
    } else {
        format!("{} {}.", words::LIFTED_BARS, lifted.join(", "))
    };
    format!("{} {}. {lifted}", words::FROM_LEFT, names.join(", "))
}

fn piece_name(piece: &Drawn, told_in: ToldIn) -> String {
    match piece {
        Drawn::Bar(bar) => format!(
            "{} {} ({})",
            words::BAR.to_lowercase(),
            bar.number,
            words::hanging(bar.hanging)
        ),
        Drawn::Follower { .. } => words::FOLLOWER.to_owned(),
        Drawn::Shim { width } => format!("{} {}", words::SHIM, told_in.length_words(*width)),
    }
}
