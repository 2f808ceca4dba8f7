//! The visit.

use advice::count::Count;
use advice::opening::Caution;
use advice::taking::{Combs, Taking};
use hive::entry::End;
use live::answer::tenths;
use live::concern::Concern;
use talk::act::{Decision, Hold};
use talk::record::RecordError;

use super::days::spelled;
use super::sentence;
use crate::preferences::Units;
use crate::room::{Carried, Command, InHand, Keeping};

/// Heading of the choice of a hive.
pub const CHOOSE: &str = "Which hive?";
/// Beside a hive whose visit was broken off.
pub const GOES_ON: &str = "visit goes on";
/// While a visit is read.
pub const OPENING: &str = "Opening the visit ..";
/// The visit goes on in another tab.
pub const ELSEWHERE: [&str; 2] = [
    "This visit is open in another tab",
    "Close it there, and it goes on here.",
];
/// An address with a hive that is not in the journal.
pub const NO_HIVE: [&str; 2] = [
    "This hive is not in the journal",
    "It may not have arrived on this device yet.",
];
/// A hive that has ended.
pub const ENDED: [&str; 2] = [
    "This hive has ended",
    "No visit of it is opened any more. If it ended by mistake, take that back in Records.",
];
/// Leads to what is known of it.
pub const TO_RECORD: &str = "Its record";
/// Before anything was said.
pub const WHICH_END: &str = "Which end do you open?";
/// Under it.
pub const WHICH_END_MORE: &str =
    "Left and right as you stand. You can say it, too: \"right end, twenty degrees\".";
/// An end, on its button.
pub const fn end_button(end: End) -> &'static str {
    match end {
        End::Left => "Left end",
        End::Right => "Right end",
    }
}
/// The other end, opened later.
pub const fn other_end(end: End) -> &'static str {
    match end {
        End::Left => "Open the left end too",
        End::Right => "Open the right end too",
    }
}
/// The running count, for those who hear the page.
pub const COUNT: &str = "Running count";
/// One figure of the count.
pub const TAKEN: &str = "taken";
/// Combs set aside.
pub const ASIDE: &str = "aside";
/// Combs ripening.
pub const RIPENING: &str = "ripening";
/// Combs with brood.
pub const BROOD: &str = "brood";
/// Stores against the reserve.
pub const STORES: &str = "stores of reserve";
/// The same while there are combs that nobody has looked at.
pub const STORES_SEEN: &str = "stores seen, of reserve";
/// Stores against the reserve, the figures.
pub fn stores(count: &Count) -> String {
    format!(
        "{} / {}",
        tenths(count.stores_combs),
        tenths(count.reserve_combs)
    )
}
/// The count in a sentence.
pub fn count(count: &Count) -> String {
    live::answer::count_words(count)
}
/// What may be taken, in a line.
pub fn may_take(bars: &[u32], taken: usize) -> String {
    match bars {
        [] if taken > 0 => "Nothing more may be taken.".to_owned(),
        [] => "Nothing may be taken yet.".to_owned(),
        [bar] => format!("May be taken: bar {bar}."),
        bars => {
            let bars: Vec<String> = bars.iter().map(ToString::to_string).collect();
            format!("May be taken: bars {}.", bars.join(", "))
        }
    }
}
/// Heading of the comb in hand.
pub fn in_hand(comb: &InHand) -> String {
    match comb.number {
        Some(number) => format!("Bar {number}"),
        None => format!("Comb {}", comb.nth + 1),
    }
}
/// Without a comb in hand.
pub const NO_COMB: &str = "No comb in hand";
/// Under it.
pub const NO_COMB_MORE: &str = "Say \"bar fourteen\" or \"next one\", or tap Next comb.";
/// The verdict in a word or two.
pub const fn taking(taking: Taking) -> &'static str {
    match taking {
        Taking::MayBeTaken => "May be taken",
        Taking::NeededForReserve => "Stays: the reserve needs it",
        Taking::BehindBrood => "Stays: brood before it",
        Taking::LeftByKeeper => "You leave it",
        Taking::LookFirst => "Look first",
        Taking::Withheld => "Withheld: do not take",
        Taking::Stays => "Stays",
    }
}
/// The keeper's word on the comb in hand.
pub const fn decided(comb: &InHand) -> &'static str {
    match comb.decision {
        Some(Decision::Take) if comb.whole => "You take it on its bar",
        Some(Decision::Take) => "You take it",
        Some(Decision::Leave) => "You leave it",
        None if comb.aside => "Set aside",
        None => "Not decided",
    }
}
/// The face toward the keeper.
pub const THIS_SIDE: &str = "This side";
/// The far one.
pub const OTHER_SIDE: &str = "Other side";
/// What the slider of a face is about.
pub fn capped_share(side: &str) -> String {
    format!("{side}: capped share of the honey, in eighths")
}
/// The share of a face.
pub fn share(share: Option<f64>) -> String {
    let Some(share) = share else {
        return "not said".to_owned();
    };
    format!("{:.0} % capped", share * 100.0)
}
/// One eighth less.
pub fn less(side: &str) -> String {
    format!("{side}: one eighth less")
}
/// One eighth more.
pub fn more(side: &str) -> String {
    format!("{side}: one eighth more")
}
/// The button that turns a figure down.
pub fn turn_down(figure: &str) -> String {
    format!("{figure}: less")
}
/// The button that turns it up.
pub fn turn_up(figure: &str) -> String {
    format!("{figure}: more")
}
/// Legend of what the comb holds.
pub const HOLDS: &str = "On it";
/// What a comb may hold, in the order shown.
pub const HOLD_CHOICES: [(Hold, &str); 8] = [
    (Hold::Honey, "honey"),
    (Hold::Unripe, "unripe"),
    (Hold::WorkerBrood, "brood"),
    (Hold::DroneBrood, "drone"),
    (Hold::Eggs, "eggs"),
    (Hold::Pollen, "pollen"),
    (Hold::Empty, "empty"),
    (Hold::NewComb, "new comb"),
];
/// The queen was seen on it.
pub const QUEEN: &str = "queen";
/// Legend of what is done with the comb.
pub const DO: &str = "With this comb";
/// Take it: cut, a strip stays on the bar.
pub const TAKE: &str = "Take";
/// Under it.
pub const TAKE_MORE: &str = "cut, strip stays";
/// Take it on its bar.
pub const TAKE_WHOLE: &str = "Take whole";
/// Under it.
pub const TAKE_WHOLE_MORE: &str = "with its bar";
/// Leave it, or put it back.
pub const LEAVE: &str = "Leave";
/// Under it.
pub const LEAVE_MORE: &str = "put it back";
/// Lean it somewhere.
pub const SET_ASIDE: &str = "Set aside";
/// Under it.
pub const SET_ASIDE_MORE: &str = "decide later";
/// Turn it end for end.
pub const TURN: &str = "Turn";
/// Under it.
pub const TURN_MORE: &str = "end for end";
/// It came off its bar.
pub const CAME_OFF: &str = "Came off";
/// Under it.
pub const CAME_OFF_MORE: &str = "broke, taken";
/// Combs carried away on their bars, over the choice of the hive that they go to.
pub fn carried(bars: &[u32]) -> String {
    match bars {
        [bar] => format!("Carried away on its bar: comb {bar}"),
        bars => format!("Carried away on their bars: combs {}", listed(bars)),
    }
}
/// Before the hives.
pub fn they_go_to(bars: &[u32]) -> &'static str {
    if bars.len() == 1 {
        "It goes to"
    } else {
        "They go to"
    }
}
/// No hive, the choice while nothing is said.
pub const NO_HIVE_OF_YARD: &str = "no hive of this yard";
/// Further hives.
pub const MORE_HIVES: &str = "Other hives";
/// What the choice comes to; `fresh` is a hive with no other bars in its row.
pub fn carried_more(carried: &Carried, fresh: bool) -> String {
    let one = carried.bars.len() == 1;
    match (&carried.name, fresh, one) {
        (Some(name), true, true) => format!("It hangs in {name} from now on, with its record."),
        (Some(name), true, false) => {
            format!("They hang in {name} from now on, in this order, with their record.")
        }
        (Some(name), false, true) => format!(
            "It is a bar of {name} from now on, with its record. At the next \
             closing-up there, order the combs yourself to give it its place."
        ),
        (Some(name), false, false) => format!(
            "They are bars of {name} from now on, with their record. At the next \
             closing-up there, order the combs yourself to give them their places."
        ),
        (None, ..) => {
            "Noted as taken. A new hive is begun under Apiary, then it can be chosen here."
                .to_owned()
        }
    }
}
/// Where they go, said back; nothing when none was carried.
pub fn carried_to(carried: &Carried) -> Option<String> {
    let to = carried.name.as_deref().unwrap_or(NO_HIVE_OF_YARD);
    match carried.bars.as_slice() {
        [] => None,
        [bar] => Some(format!("Comb {bar} goes to {to}.")),
        bars => Some(format!("Combs {} go to {to}.", listed(bars))),
    }
}
/// The same as a step in the list.
pub fn goes_to(name: Option<&str>) -> String {
    format!(
        "what is carried on its bar goes to {}",
        name.unwrap_or(NO_HIVE_OF_YARD)
    )
}
/// "4, 5 and 6".
fn listed(bars: &[u32]) -> String {
    let bars: Vec<String> = bars.iter().map(ToString::to_string).collect();
    match bars.as_slice() {
        [] => String::new(),
        [bar] => bar.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
/// Figures by taps.
pub const MEASURES: &str = "Weigh, measure, count, feed";
/// The button that notes what was set.
pub const NOTE_IT: &str = "Note it";
/// Weight.
pub const WEIGHT: &str = "Weight";
/// Of which comb.
pub const OF_COMB_IN_HAND: &str = "of the comb in hand";
/// No comb in hand.
pub const WEIGHT_NEEDS_COMB: &str = "Take a comb in hand to note its weight.";
/// Air.
pub const AIR: &str = "Air temperature";
/// Degrees.
pub fn temperature(celsius: i32, fahrenheit: bool) -> String {
    if fahrenheit {
        format!("{:.0} \u{b0}F", f64::from(celsius) * 1.8 + 32.0)
    } else {
        format!("{celsius} \u{b0}C")
    }
}
/// Queen cells.
pub const QUEEN_CELLS: &str = "Queen cells";
/// Mites in the wash.
pub const MITES: &str = "Mites";
/// Bees in the wash.
pub const BEES: &str = "Bees in the sample";
/// The wash.
pub const WASH: &str = "the mite wash";
/// Feed.
pub const FED: &str = "Feed given";
/// Kinds of feed as the talk knows them, and whether each is told in litres.
pub const FEEDS: [(usize, &str, bool); 4] = [
    (0, "1:1 syrup", true),
    (1, "2:1 syrup", true),
    (2, "fondant", false),
    (3, "dry sugar", false),
];
/// Litres.
pub const LITRES: &str = "Litres";
/// An amount of syrup.
pub fn litres(litres: f64) -> String {
    format!("{litres:.1} l")
}
/// The next comb.
pub const NEXT: &str = "Next comb";
/// Which one that is.
pub fn next(bar: Option<u32>) -> String {
    bar.map_or_else(|| "not numbered".to_owned(), |bar| format!("bar {bar}"))
}
/// Take back the last step.
pub const UNDO: &str = "Undo";
/// Said when it is done; `what` may be nothing that has words.
pub fn undone(what: &str) -> String {
    if what.is_empty() {
        "Taken back: the last step.".to_owned()
    } else {
        format!("Taken back: {what}.")
    }
}
/// There is nothing to take back.
pub const NOTHING_TO_UNDO: &str = "Nothing to take back.";
/// A phrase that took back another, in the list; `what` may be unknown.
pub fn took_back(what: &str) -> String {
    if what.is_empty() {
        "taken back".to_owned()
    } else {
        format!("taken back: {what}")
    }
}
/// What must be minded of what was taken, in a short line.
pub fn concern(concern: &Concern) -> String {
    match concern {
        Concern::Brood { bar } => format!("Mind: bar {bar} has brood."),
        Concern::NoComb { bar } => format!("Mind: no comb is known on bar {bar}."),
        Concern::Reserve {
            stays,
            must_stay,
            not_looked_at: 0,
            ..
        } => format!(
            "Mind: below the reserve, {} of {} stay.",
            tenths(*stays),
            Combs(*must_stay)
        ),
        // nobody knows that it is short
        Concern::Reserve {
            stays,
            must_stay,
            not_looked_at,
            ..
        } => format!(
            "Mind: {} of the reserve's {} seen, {not_looked_at} not looked at.",
            tenths(*stays),
            Combs(*must_stay)
        ),
    }
}
/// What the weather, a feed or the hive's health says against the work.
pub fn caution(caution: &Caution, units: Units) -> String {
    sentence(&spelled(&caution.text_in(units.told_in())))
}
/// A phrase to the program, in the line of what was heard.
pub const fn command(command: Command) -> &'static str {
    match command {
        Command::Undo => "undo",
        Command::Quiet => "no more answers aloud",
        Command::Speak => "answers aloud",
        Command::StopListening => "listening ends",
        Command::CloseUp => "closing up",
        Command::Done => "done",
        Command::Back => "one step back",
        Command::Again => "said again",
    }
}
/// End of looking: on to the closing-up.
pub const STOP: &str = "Stop here, close up";
/// Field for a phrase.
pub const PHRASE: &str = "Say or type";
/// In the field.
pub const PHRASE_EXAMPLE: &str = "two thirds capped this side";
/// Its button.
pub const ENTER: &str = "Enter";
/// Of a phrase kept whole.
pub const NOTED: &str = "kept as a note; enter treatments and signs on the hive's screen";
/// Heading of what was heard.
pub const HEARD: &str = "Heard and understood";
/// Under it, once there are phrases.
pub const HEARD_MORE: &str =
    "Misheard? Tap a phrase to put it right; what follows is understood anew.";
/// Beside a phrase that was put right.
pub fn was_heard(words: &str) -> String {
    format!("heard as \u{201c}{words}\u{201d}")
}
/// Beside a phrase that was left out.
pub const LEFT_OUT: &str = "left out";
/// Over what else the recogniser took a phrase for.
pub const OTHER_READINGS: &str = "It may have been";
/// The field for the right words.
pub const RIGHT_WORDS: &str = "What you said";
/// Puts a phrase right.
pub const PUT_RIGHT: &str = "Put right";
/// Leaves a phrase out.
pub const LEAVE_OUT: &str = "Leave out";
/// Leaves it as it is.
pub const AS_IT_IS: &str = "Keep as it is";
/// Words for a step that put a phrase right, where it is taken back.
pub fn put_right_with(words: Option<&str>) -> String {
    match words {
        Some(words) => format!("\u{201c}{words}\u{201d} put right"),
        None => "a phrase left out".to_owned(),
    }
}
/// What a phrase comes to now.
pub fn was_put_right(understood: &str) -> String {
    if understood.is_empty() {
        "Put right: nothing about the hive.".to_owned()
    } else {
        format!("Put right: {understood}.")
    }
}
/// A phrase is left out now.
pub const WAS_LEFT_OUT: &str = "Left out.";
/// A phrase that asked the program.
pub const A_QUESTION: &str = "a question";
/// A phrase that said nothing about the hive.
pub const NOT_ABOUT_THE_HIVE: &str = "nothing about the hive";
/// Whether what is shown is kept.
pub fn keeping(keeping: &Keeping) -> String {
    match keeping {
        Keeping::Kept => "Kept on this device".to_owned(),
        Keeping::Busy => "Keeping ..".to_owned(),
        Keeping::Failed(words) => words.clone(),
    }
}
/// Why what was said cannot be recorded as it is.
pub fn refused(why: &RecordError) -> String {
    match why {
        RecordError::EndNotSaid { .. } => "Which end is open: left or right?".to_owned(),
        RecordError::NoSuchBar { number, have, .. } => {
            format!(
                "Nothing is recorded since: there is no bar {number}, bars are {have}. \
                 Say \"that's not {number}, that's\" and the number, or tap the phrase and put it right."
            )
        }
        RecordError::TooManyCombs { met, bars, .. } => {
            format!(
                "Nothing is recorded since: that would be {met} combs, and there are {bars} bars. \
                 Say the bar's number, tap a phrase and put it right, or undo."
            )
        }
        other => format!("{other}. Tap the phrase and put it right, or undo."),
    }
}
/// The same, for as long as it stands; nothing where the screen asks for it anyway.
pub fn stands_unrecorded(why: &RecordError) -> Option<String> {
    let asked = matches!(why, RecordError::EndNotSaid { .. });
    (!asked).then(|| refused(why))
}
/// What this visit wrote was changed in Records, in another tab or on another device.
pub const CHANGED_ELSEWHERE: &str =
    "What was recorded of this visit was changed in Records. It stands here as it does there.";
/// Combs on which the word was said elsewhere; what is said of them here is not recorded.
pub fn told_elsewhere(bars: &[u32]) -> String {
    let (bar, of) = if bars.len() == 1 {
        ("bar", "it")
    } else {
        ("bars", "them")
    };
    format!(
        "Corrected in Records: {bar} {}. What you say of {of} here is not recorded; change {of} there.",
        listed(bars)
    )
}
/// What to mind before closing.
pub const DOUBTS: &str = "Before you close";
/// For those who hear the page: the long section.
pub const SECTION: &str = "The hive from your side";
/// Dismisses the safety lines for today.
pub const DISMISS: &str = "Seen for today";
/// A safety line without a heading of its own.
pub const SAFETY: &str = "Mind";
/// Opens the safety lines.
pub const SAFETY_SUMMARY: &str = "Mind: stings, fire, heat, lifting, knives";
/// Under them.
pub const SAFETY_MORE: &str =
    "Local law, product labels and licensed practice come before anything said here.";
/// Closes a visit in which nothing was said.
pub const COMBS_STAY: &str = "combs stay";
/// Stores in words.
pub fn combs(combs: f64) -> String {
    Combs(combs).to_string()
}

/// A capped share was said without a side.
pub fn loose(share: f64) -> String {
    format!(
        "{:.0} % capped was said, of no side. Say \"both sides\" or \"this side\", or set it below.",
        share * 100.0
    )
}
