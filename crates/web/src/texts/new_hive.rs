//! The new-hive screen.

use comb::error::BodyFault;
use comb::{Length, Section};
use hive::entry::{Climate, End};

use crate::preferences::Units;

/// The screen's name.
pub const TITLE: &str = "New hive";
/// What this is.
pub const LEAD: &str = "Measure inside the body. Everything can be told anew later; what you write here is \
    the beginning of the record.";
/// Name field.
pub const NAME: &str = "Name";
/// Its hint.
pub const NAME_HINT: &str = "Short and easy to say: you will call it aloud.";
/// Body.
pub const BODY: &str = "Body";
/// Begin from a plan.
pub const BEGIN_FROM: &str = "Begin from a published outline";
/// Shape.
pub const SHAPE: &str = "Cross-section";
/// Shapes in words.
pub const fn shape(section: Section) -> &'static str {
    match section {
        Section::Sloped => "Sides lean in",
        Section::Rectangular => "Upright sides",
        Section::Rounded => "Rounded trough",
    }
}
/// Inside length.
pub const LENGTH: &str = "Inside length, end wall to end wall";
/// Top width.
pub const TOP: &str = "Inside width right under the bars";
/// Bottom width.
pub const BOTTOM: &str = "Inside width at the floor";
/// Depth.
pub const DEPTH: &str = "Depth, underside of the bars to the floor";
/// Bar width.
pub const BAR: &str = "Width of one bar";
/// Entrance.
pub const ENTRANCE: &str = "Entrance";
/// Entrance in the left end.
pub const ENTRANCE_LEFT: &str = "In the left end";
/// In the right end.
pub const ENTRANCE_RIGHT: &str = "In the right end";
/// In a long side.
pub const ENTRANCE_SIDE: &str = "In a long side";
/// How far along.
pub const ENTRANCE_AT: &str = "Middle of the entrance, from the inside of the left end";
/// As you stand.
pub const AS_YOU_STAND: &str = "Left and right are as you stand when you work the hive.";
/// Bars.
pub const BARS: &str = "Bars";
/// How many.
pub const COUNT: &str = "How many bars lie in it";
/// As many as fit.
pub fn fit(bars: u32) -> String {
    format!("{bars} fit with the follower boards.")
}
/// Numbered or not.
pub const NUMBERED: &str = "Numbers are painted on the bars";
/// Why.
pub const NUMBERED_HINT: &str = "Without numbers, combs are recognised by what they hold.";
/// First number.
pub const FIRST: &str = "Number of the first bar";
/// From which end.
pub const COUNT_FROM: &str = "Numbers begin at the";
/// An end.
pub const fn end(end: End) -> &'static str {
    match end {
        End::Left => "Left end",
        End::Right => "Right end",
    }
}
/// Combs, from.
pub const COMBS_FROM: &str = "Combs hang on bars, from number";
/// Combs, to.
pub const COMBS_TO: &str = "to number";
/// No comb at all.
pub const COMBS_HINT: &str = "Leave both empty when no comb hangs in it yet.";
/// Follower boards.
pub const FOLLOWERS: &str = "Follower boards";
/// Width of one.
pub const FOLLOWER: &str = "Width of a follower board";
/// Where it stands.
pub const PLACE: &str = "Where it stands";
/// The choice of an apiary.
pub const APIARY: &str = "Apiary";
/// No apiary.
pub const NOWHERE: &str = "Not told";
/// A new apiary.
pub const NEW_PLACE: &str = "A new apiary";
/// The apiary's name.
pub const PLACE_NAME: &str = "Name of the apiary";
/// Winter.
pub const WINTER: &str = "Its winter";
/// Why it is asked.
pub const WINTER_HINT: &str = "It sets how many combs must stay until you settle it yourself.";
/// Winters in words.
pub const fn winter(climate: Option<Climate>) -> &'static str {
    match climate {
        None => "Not told",
        Some(Climate::MildCoast) => "Mild coast, winter forage",
        Some(Climate::RealWinter) => "Frost, no winter forage",
        Some(Climate::HardWinter) => "Hard and long",
    }
}
/// Latitude.
pub const LATITUDE: &str = "Latitude in degrees, south negative";
/// Longitude.
pub const LONGITUDE: &str = "Longitude in degrees, west negative";
/// Altitude.
pub const ALTITUDE: &str = "Metres above the sea";
/// Optional.
pub const COORDINATES_HINT: &str = "Latitude and longitude may stay empty; the season's outlook needs them. \
    They are kept in your journal and go nowhere else.";
/// The question on the law.
pub const LAW: &str = "Ask your local authority";
/// What to ask.
pub const LAW_LEAD: &str = "Rules differ from place to place, and this program does not know yours. Some \
    places ask by law for:";
/// The questions. Source: reference/health.md, 0 and 5.
pub const LAW_QUESTIONS: [&str; 4] = [
    "movable frames, or combs that come out one by one for inspection: does a bar count?",
    "a sheet of foundation in every frame: may combs be built free?",
    "registration of the keeper or of each hive, and a mark on it",
    "records and a yearly inspection: what must be written down, and how often?",
];
/// Note it.
pub const LAW_NOTE: &str = "Write these questions into the hive's notes";
/// The note as it is written.
pub fn law_note() -> String {
    format!("To ask the local authority: {}", LAW_QUESTIONS.join(" "))
}
/// The drawing.
pub const DRAWING: &str = "To scale";
/// When the measures make no body.
pub const LAST_DRAWING: &str = "The drawing shows the last measures that can be.";
/// The button.
pub const BEGIN: &str = "Begin this hive";
/// Something must be mended first.
pub const MEND: &str = "Not begun yet: look at the words in red beside the fields.";

/// A name is missing.
pub const NO_NAME: &str = "Give the hive a name.";
/// A name is in use.
pub fn name_taken(name: &str) -> String {
    format!("There is a living hive named {name} already.")
}
/// An apiary without a name.
pub const NO_PLACE_NAME: &str = "Give the apiary a name.";
/// A figure that is none.
pub const NO_NUMBER: &str = "Give a number, for example 381 or 15 1/2.";
/// A whole number is needed.
pub const NO_WHOLE_NUMBER: &str = "Give a whole number.";
/// Out of range.
pub const NO_LATITUDE: &str = "Latitude runs from -90 to 90.";
/// Out of range.
pub const NO_LONGITUDE: &str = "Longitude runs from -180 to 180.";
/// One without the other.
pub const BOTH_COORDINATES: &str = "Give both latitude and longitude, or neither.";
/// More bars than fit.
pub fn bars_do_not_fit(fit: u32) -> String {
    if fit == 0 {
        "No bar fits beside the follower boards: look at the length.".to_owned()
    } else {
        format!("From 1 to {fit}: more do not fit beside the follower boards.")
    }
}
/// Comb numbers out of range.
pub fn combs_out_of_range(first: u32, last: u32) -> String {
    format!("The bars bear the numbers {first} to {last}; from must not be above to.")
}
/// One end of the combs is missing.
pub fn combs_half_told(first: u32, last: u32) -> String {
    format!(
        "Fill in both, from and to, within {first} to {last}; the same number twice for one comb, both \
         empty for none."
    )
}
/// A follower board out of range.
pub fn follower_out_of_range(units: Units) -> String {
    format!(
        "From {} to {}.",
        units.length_words(FOLLOWER_RANGE[0]),
        units.length_words(FOLLOWER_RANGE[1])
    )
}
/// Widths that are taken for a follower board. Common practice, no source.
pub const FOLLOWER_RANGE: [Length; 2] = [Length::mm(3.0), Length::mm(100.0)];

/// What is wrong with a body, in the keeper's units.
pub fn body_fault(fault: &BodyFault, units: Units) -> String {
    let words = |mm: f64| units.length_words(Length::mm(mm));
    match fault {
        BodyFault::NotPositive { .. } => NO_NUMBER.to_owned(),
        BodyFault::OutOfSize {
            value_mm,
            least_mm,
            greatest_mm,
            ..
        } => {
            let other = other_unit(*value_mm, (*least_mm, *greatest_mm), units);
            format!(
                "From {} to {}.{other}",
                words(*least_mm),
                words(*greatest_mm)
            )
        }
        BodyFault::BottomWiderThanTop { top_mm, .. } => format!(
            "Wider than the top ({}): a comb would not come out. Are the two swapped?",
            words(*top_mm)
        ),
        BodyFault::BottomWiderThanDeep { depth_mm, .. } => format!(
            "Wider than the body is deep ({}). Are the two swapped? For upright sides choose that shape.",
            words(*depth_mm)
        ),
        BodyFault::NotRectangular { top_mm, .. } => format!(
            "Upright sides are as wide below as above ({}); or choose sides that lean in.",
            words(*top_mm)
        ),
        BodyFault::EntranceOutside { length_mm, .. } => {
            format!("From 0 to {}, the inside length.", words(*length_mm))
        }
        other => format!("{other}."),
    }
}

/// A slip of the unit, when the figure would do in the other one.
fn other_unit(value_mm: f64, (least, greatest): (f64, f64), units: Units) -> String {
    let typed = match units {
        Units::Metric => value_mm,
        Units::Inches => Length::mm(value_mm).to_inches(),
    };
    let (mm, name) = match units {
        Units::Metric => (Length::inches(typed).to_mm(), "inches"),
        Units::Inches => (typed, "millimetres"),
    };
    if (least..=greatest).contains(&mm) {
        format!(
            " If you measured in {name}, write {}, or choose {name} in Settings.",
            units.typed_length(Length::mm(mm))
        )
    } else {
        String::new()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use comb::{Body, BodyMeasures, CombError};

    #[test]
    fn a_slip_of_the_unit_is_named_with_the_figure_that_would_be_right() {
        let slip = BodyMeasures {
            top_width_mm: Length::mm(15.0),
            ..Body::default().measures()
        };
        let Err(CombError::Body(fault)) = Body::new(slip) else {
            panic!("15 mm is no width");
        };
        let words = body_fault(&fault, Units::Metric);
        assert!(
            words.contains("If you measured in inches, write 381"),
            "{words}"
        );
        let slip = BodyMeasures {
            top_width_mm: Length::inches(381.0),
            ..Body::default().measures()
        };
        let Err(CombError::Body(fault)) = Body::new(slip) else {
            panic!("381 inches is no width");
        };
        let words = body_fault(&fault, Units::Inches);
        assert!(
            words.contains("If you measured in millimetres, write 15,"),
            "{words}"
        );
    }
}
