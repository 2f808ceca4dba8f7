//! Questions that the keeper asks at the hive, and answers of one short sentence.

use comb::{Mass, ToldIn};

use crate::act::Decision;
use crate::numbers::{self, Said};
use crate::token::{Token, tokens};
use crate::understood::loose_words;
use crate::visit::{Comb, Visit};

/// A question to the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Question {
    /// "How many so far?"
    HowMany,
    /// "How many are left?"
    HowManyStay,
    /// "What may I take?"
    WhatMayITake,
    /// "What was that?"
    WhatWasThat,
    /// "What did I say about bar twelve?"
    AboutBar(u32),
}

/// What the answers need from outside.
pub trait Advice {
    /// One sentence on what may be taken, given the visit so far.
    fn may_take(&self, visit: &Visit) -> Option<String>;

    /// In which units answers are told.
    fn told_in(&self) -> ToldIn {
        ToldIn::Metric
    }
}

/// No advice to be had.
#[derive(Debug, Clone, Copy, Default)]
pub struct NoAdvice;

impl Advice for NoAdvice {
    fn may_take(&self, _: &Visit) -> Option<String> {
        None
    }
}

/// The question that a phrase asks, if it asks one of the program.
pub fn question(phrase: &str) -> Option<Question> {
    let lower = phrase.get(..160).unwrap_or(phrase).to_ascii_lowercase();
    let words: Vec<Token<'_>> = tokens(&lower)
        .into_iter()
        .filter(|t| !t.is_stop())
        .collect();
    let text = words.iter().map(|t| &*t.text).collect::<Vec<_>>().join(" ");
    let says = |parts: &[&str]| parts.iter().any(|p| text.contains(p));
    let starts = |parts: &[&str]| {
        parts
            .iter()
            .any(|p| text == *p || text.starts_with(&format!("{p} ")))
    };
    if words.len() > 12 {
        return None;
    }
    if says(&[
        "what did i say about",
        "what do you have for",
        "what about bar",
        "tell me about bar",
        "what was bar",
        "how was bar",
        "what 's on bar",
    ]) {
        return bar_in(&words).map(Question::AboutBar);
    }
    if starts(&["how many"]) && says(&["left", "stay", "remain", "staying", "still in"]) {
        return Some(Question::HowManyStay);
    }
    if starts(&[
        "how many so far",
        "how many have i",
        "how many do i have",
        "how many is that so far",
        "how many 's that so far",
        "how many taken",
        "how many are out",
        "how many combs so far",
        "how many combs have i",
        "what 's the count",
        "what is the count",
        "count so far",
        "where are we up to",
    ]) {
        return Some(Question::HowMany);
    }
    if starts(&[
        "what may i take",
        "what can i take",
        "what should i take",
        "how many may i take",
        "how many can i take",
        "may i take it",
        "may i take this",
        "may i take that",
        "can i take this",
        "can i take this one",
        "can i take that one",
        "can i have this one",
        "should i take this",
        "should i take it",
        "which can i take",
        "which may i take",
        "which ones can i take",
        "what may be taken",
        "what can be taken",
        "how many may be taken",
        "how many can be taken",
        "which may be taken",
        "which can be taken",
        "which ones may be taken",
        "which ones can be taken",
        "may this be taken",
        "can this be taken",
        "should this be taken",
        "may this one be taken",
        "can this one be taken",
        "should this one be taken",
        "is there anything to take",
        "can anything be taken",
        "may anything be taken",
    ]) {
        return Some(Question::WhatMayITake);
    }
    if starts(&[
        "what was that",
        "what did you hear",
        "what did you get",
        "what have you got",
        "read that back",
        "read it back",
        "say that again",
        "repeat that",
        "did you get that",
        "did you hear that",
    ]) && words.len() < 8
    {
        return Some(Question::WhatWasThat);
    }
    None
}

fn bar_in(words: &[Token<'_>]) -> Option<u32> {
    (0..words.len()).find_map(|i| match numbers::number(words, i) {
        Some((_, Said::Cardinal(n))) if (1.0..100.0).contains(&n) && n.fract() == 0.0 => {
            Some(n as u32)
        }
        _ => None,
    })
}

/// The answer, one short sentence.
pub fn answer(
    question: Question,
    visit: &Visit,
    in_hand: Option<usize>,
    advice: &dyn Advice,
) -> String {
    let taken = visit.taken();
    match question {
        Question::HowMany => {
            let aside = visit.combs.iter().filter(|c| c.aside).count();
            let aside = if aside > 0 {
                format!(", {aside} aside")
            } else {
                String::new()
            };
            format!(
                "{taken} taken{aside}, {} looked at and staying.",
                stay(visit)
            )
        }
        Question::HowManyStay => {
            format!("{} of {} looked at stay.", stay(visit), visit.combs.len())
        }
        Question::WhatMayITake => advice
            .may_take(visit)
            .unwrap_or_else(|| "I cannot say without the hive's record.".to_owned()),
        Question::WhatWasThat => {
            match in_hand.and_then(|c| visit.combs.get(c).map(|comb| (c, comb))) {
                Some((at, comb)) => {
                    format!("{}: {}.", name(at, comb), told(comb, advice.told_in()))
                }
                None => "No comb in hand yet.".to_owned(),
            }
        }
        Question::AboutBar(bar) => match visit
            .combs
            .iter()
            .enumerate()
            .find(|(_, c)| c.bar == Some(bar))
        {
            Some((at, comb)) => format!("{}: {}.", name(at, comb), told(comb, advice.told_in())),
            None => format!("Nothing was said of bar {bar} today."),
        },
    }
}

fn stay(visit: &Visit) -> usize {
    visit
        .combs
        .iter()
        .filter(|c| c.decision != Some(Decision::Take) && !c.aside)
        .count()
}

pub(crate) fn name(at: usize, comb: &Comb) -> String {
    comb.bar
        .map_or_else(|| format!("Comb {}", at + 1), |b| format!("Bar {b}"))
}

/// What is known of a comb, in a few words.
fn told(comb: &Comb, told_in: ToldIn) -> String {
    let mut parts = Vec::new();
    let percent = |s: f64| format!("{:.0} %", s * 100.0);
    match (comb.this, comb.other) {
        (Some(a), Some(b)) if (a - b).abs() < 0.005 => {
            parts.push(format!("{} capped both sides", percent(a)));
        }
        (a, b) => {
            parts.extend(a.map(|a| format!("this side {} capped", percent(a))));
            parts.extend(b.map(|b| format!("other side {} capped", percent(b))));
        }
    }
    parts.extend(comb.loose.map(loose_words));
    let holds: Vec<&str> = comb.holds.iter().map(|h| h.word()).collect();
    if !holds.is_empty() {
        parts.push(holds.join(", "));
    }
    parts.extend(comb.kg.map(|kg| told_in.mass_words(Mass::kg(kg))));
    parts.push(
        match comb.decision {
            Some(Decision::Take) => "taken",
            Some(Decision::Leave) => "stays",
            None if comb.aside => "aside",
            None => "not decided",
        }
        .to_owned(),
    );
    parts.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn questions_are_told_from_talk() {
        assert_eq!(question("how many so far"), Some(Question::HowMany));
        assert_eq!(question("How many are left?"), Some(Question::HowManyStay));
        assert_eq!(question("what may I take"), Some(Question::WhatMayITake));
        assert_eq!(question("what was that"), Some(Question::WhatWasThat));
        assert_eq!(
            question("what did I say about bar twelve"),
            Some(Question::AboutBar(12))
        );
        for talk in [
            "what's that weigh three kilos",
            "how many's that in the nuc one two three",
            "take that",
        ] {
            assert_eq!(question(talk), None, "{talk}");
        }
    }
}
