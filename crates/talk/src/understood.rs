//! What was understood, in a keeper's words: shown at the hive beside what was heard.

use comb::{Length, Mass, Temperature, ToldIn, Volume};

use crate::act::{Act, Decision, End, Fill, Hold, Noted, Side};
use crate::listener::Heard;

/// What was understood, in the order said; two sides alike are told once, a share without a side last.
pub fn understood(heard: &Heard, told_in: ToldIn) -> Vec<String> {
    let mut words: Vec<String> = heard.about.iter().cloned().collect();
    let mut before: Option<&Act> = None;
    let holds = |noted: &Noted| matches!(noted.act, Act::Holds(_));
    let says_so = heard.acts.iter().any(holds);
    for noted in &heard.acts {
        // with brood on it: told already
        if says_so && noted.act == Act::HoldsNot(Hold::Empty) {
            continue;
        }
        let alike = match (before, &noted.act) {
            (Some(Act::Capped(one, a)), Act::Capped(other, b)) => {
                one != other && (a - b).abs() < f64::EPSILON
            }
            _ => false,
        };
        if alike && let Act::Capped(_, share) = noted.act {
            words.pop();
            words.push(format!("{:.0} % capped both sides", share * 100.0));
        } else {
            words.extend(act_words(&noted.act, told_in));
        }
        before = Some(&noted.act);
    }
    words.extend(heard.loose.map(loose_words));
    words
}

/// A capped share that was said without a side.
pub fn loose_words(share: f64) -> String {
    format!("{:.0} % capped, side not said", share * 100.0)
}

fn mites_words(count: u32) -> String {
    if count == 1 {
        "1 mite".to_owned()
    } else {
        format!("{count} mites")
    }
}

/// One thing understood, as it is answered at the hive; nothing for what says no news.
pub fn act_words(act: &Act, told_in: ToldIn) -> Option<String> {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    Some(match act {
        Act::EndOpened(Some(End::Left)) => "left end".to_owned(),
        Act::EndOpened(Some(End::Right)) => "right end".to_owned(),
        Act::EndOpened(None) => "an end not named".to_owned(),
        Act::CombMet { bar: Some(bar) } => format!("bar {bar}"),
        Act::CombMet { bar: None } => "the next comb".to_owned(),
        Act::Renumbered(bar) => format!("it is bar {bar}"),
        Act::Capped(Side::This, share) => format!("{} capped this side", percent(*share)),
        Act::Capped(Side::Other, share) => format!("{} capped the other side", percent(*share)),
        Act::Holds(hold) => hold.word().to_owned(),
        Act::HoldsNot(Hold::Empty) => "not empty".to_owned(),
        Act::HoldsNot(hold) => format!("no {}", hold.word()),
        Act::Filled(fill) => fill_word(*fill).to_owned(),
        Act::Attached(true) => "attached".to_owned(),
        Act::Attached(false) => "free of the walls".to_owned(),
        Act::Straight(true) => "straight".to_owned(),
        Act::Straight(false) => "crossed".to_owned(),
        Act::Decided(Some(Decision::Take)) => "TAKE".to_owned(),
        Act::Decided(Some(Decision::Leave)) => "leave".to_owned(),
        Act::Decided(None) => "set aside".to_owned(),
        Act::Broke => "it broke off".to_owned(),
        Act::TakenWhole => "TAKE, on its bar".to_owned(),
        Act::Turned => "turned end for end".to_owned(),
        Act::Weighs(kg) => told_in.mass_words(Mass::kg(*kg)),
        Act::Thick(mm) => format!("{} thick", told_in.length_words(Length::mm(*mm))),
        Act::QueenSeen => "the queen".to_owned(),
        Act::QueenNotSeen => "the queen not seen".to_owned(),
        Act::EggsSeen => return None,
        Act::QueenCells(0) => "no queen cells".to_owned(),
        Act::QueenCells(1) => "1 queen cell".to_owned(),
        Act::QueenCells(count) => format!("{count} queen cells"),
        Act::Temperature(degrees) => told_in.temperature_words(Temperature::celsius(*degrees)),
        Act::Mites { count, bees } => match (count, bees) {
            (Some(mites), Some(bees)) => format!("{} in {bees} bees", mites_words(*mites)),
            (Some(mites), None) => mites_words(*mites),
            (None, Some(bees)) => format!("{bees} bees"),
            (None, None) => return None,
        },
        Act::Fed { litres, kg, kind } => {
            let litres = litres
                .map(|litres| format!("{} of ", told_in.volume_words(Volume::litres(litres))));
            let amount =
                litres.or_else(|| kg.map(|kg| format!("{} of ", told_in.mass_words(Mass::kg(kg)))));
            let kind = kind.as_deref().unwrap_or("syrup");
            format!("fed {}{kind}", amount.unwrap_or_default())
        }
        Act::Closed(row) => {
            let words: Vec<&str> = row.iter().map(|piece| piece.word()).collect();
            format!("closed from the nest outward: {}", words.join(", "))
        }
        Act::TakenBack => "taken back".to_owned(),
    })
}

/// How full, in a word or two.
pub const fn fill_word(fill: Fill) -> &'static str {
    match fill {
        Fill::Full => "full",
        Fill::Part => "part full",
        Fill::Light => "light",
    }
}
