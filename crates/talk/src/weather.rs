//! The temperature.

use crate::act::Act;
use crate::concept::Concept as C;
use crate::ear::{Ear, Fact};
use crate::mark::Mark;

/// Above this, a temperature without a scale is in Fahrenheit: no keeper opens a hive at 45 degrees
/// Celsius. Common practice, no source.
const HOTTEST_C: f64 = 45.0;

impl Ear<'_> {
    /// Hears "twenty one degrees", "68 F", "twenty two the shed says"; gives the marks it did not use.
    pub(crate) fn temperature(&mut self, marks: Vec<Mark>) -> Vec<Mark> {
        let unit = |i: &usize| {
            marks
                .get(i + 1)
                .is_some_and(|u| matches!(u.concept, C::Degrees | C::Fahrenheit | C::Celsius))
        };
        // "it is almost six in the evening and the temperature is twenty six"
        let named = |i: &usize| {
            let from = marks[*i].from;
            let before = |k: usize| self.word(from.wrapping_sub(k));
            let degrees = |word: &str| matches!(word, "temperature" | "temp" | "ambient");
            degrees(before(1)) && from <= 3
                || matches!(before(1), "is" | "of" | "at" | "about") && degrees(before(2))
        };
        let explicit = (0..marks.len())
            .filter(|i| unit(i) || named(i))
            .find_map(|i| self.degrees(&marks, i).map(|(used, t)| (i, used, t)));
        let found = explicit.or_else(|| {
            (0..marks.len()).find_map(|i| self.degrees(&marks, i).map(|(used, t)| (i, used, t)))
        });
        let Some((at, used, celsius)) = found else {
            return marks;
        };
        let (used, celsius) = self
            .read_better(&marks, at + used)
            .filter(|(_, better)| (better - celsius).abs() < 8.0)
            .map_or((used, celsius), |(to, better)| (to - at, better));
        let words = marks[at..at + used].to_vec();
        self.note("temperature", Act::Temperature(celsius), None, &words);
        self.state.fact = Fact::Temperature;
        let mut marks = marks;
        marks.drain(at..at + used);
        marks
    }

    /// "nineteen degrees no the other one says twenty": the last figure is meant.
    fn read_better(&self, marks: &[Mark], from: usize) -> Option<(usize, f64)> {
        let start = marks.get(from.checked_sub(1)?)?.to;
        if let Some(better) = self.at_once_better(marks, from) {
            return Some(better);
        }
        let last = marks.last().filter(|m| m.concept == C::Num)?;
        let taken_back = (start..last.from)
            .any(|i| matches!(self.word(i), "no" | "wait" | "sorry" | "actually" | "nope"));
        (taken_back && from < marks.len())
            .then(|| (marks.len(), scale(last.value, last.value > HOTTEST_C)))
    }

    /// "thirteen degrees no fourteen and it's windy": put right at once, and the talk goes on.
    fn at_once_better(&self, marks: &[Mark], from: usize) -> Option<(usize, f64)> {
        let at = (from..marks.len()).find(|&i| marks[i].concept == C::Num)?;
        let m = &marks[at];
        let no = matches!(
            self.word(m.from.wrapping_sub(1)),
            "no" | "nope" | "sorry" | "wait" | "actually" | "rather"
        ) && m.from <= marks[from - 1].to + 3;
        let over = |m: Option<&Mark>| {
            m.is_none_or(|n| matches!(n.concept, C::And | C::But | C::Stop | C::Weather | C::That))
        };
        let unit = marks
            .get(at + 1)
            .is_some_and(|u| matches!(u.concept, C::Degrees | C::Celsius));
        let to = at + 1 + usize::from(unit);
        (no && over(marks.get(to))).then(|| (to, scale(m.value, m.value > HOTTEST_C)))
    }

    fn degrees(&self, marks: &[Mark], at: usize) -> Option<(usize, f64)> {
        let m = marks
            .get(at)
            .filter(|m| m.concept == C::Num || self.zero(marks, at, m))?;
        let mut value = m.value;
        let minus = m.from > 0 && matches!(self.word(m.from - 1), "minus" | "negative");
        let below = self.word(m.to) == "below" || self.word(m.to + 1) == "below";
        if minus || below && self.state.visit.combs.is_empty() {
            value = -value;
        }
        if below
            && self.state.visit.combs.is_empty()
            && value < 0.0
            && marks
                .get(at + 1)
                .is_none_or(|u| u.concept == C::Word || u.concept == C::Stop)
        {
            return Some((1, value));
        }
        // "minus two on the porch"
        if minus
            && self.state.visit.combs.is_empty()
            && marks.get(at + 1).is_none_or(|u| {
                matches!(u.concept, C::Word | C::Stop | C::Weather | C::And | C::But)
            })
        {
            return Some((1, value));
        }
        // "fifteen or sixteen degrees": the middle
        if let Some(n) = marks
            .get(at + 1)
            .filter(|n| n.concept == C::Num && self.between(m, n, &["or", "to"]))
        {
            let (used, _) = self.degrees(marks, at + 1).filter(|_| {
                marks
                    .get(at + 2)
                    .is_some_and(|u| matches!(u.concept, C::Degrees | C::Fahrenheit | C::Celsius))
            })?;
            let mid = f64::midpoint(m.value, n.value);
            return Some((
                used + 1,
                scale(
                    mid,
                    mid > HOTTEST_C || marks[at + 2].concept == C::Fahrenheit,
                ),
            ));
        }
        let unit = marks.get(at + 1).map(|u| u.concept);
        match unit {
            Some(C::Fahrenheit) => Some((2, scale(value, true))),
            Some(C::Celsius) => Some((2, value)),
            Some(C::Degrees) => {
                let fahrenheit = marks.iter().any(|u| u.concept == C::Fahrenheit);
                Some((2, scale(value, fahrenheit || value > HOTTEST_C)))
            }
            // "what's the temp", a pause, "twenty one"
            _ => self
                .asked_for(at, value)
                .or_else(|| self.without_unit(marks, at, value)),
        }
    }

    /// "zero degrees" is a share of nothing elsewhere.
    fn zero(&self, marks: &[Mark], at: usize, m: &Mark) -> bool {
        m.concept == C::Share
            && self.said(m, "zero")
            && marks
                .get(at + 1)
                .is_some_and(|u| matches!(u.concept, C::Degrees | C::Celsius | C::Fahrenheit))
    }

    /// "it's", "makes", "reads" before the number.
    fn reading_before(&self, m: &Mark) -> bool {
        matches!(
            self.word(m.from.saturating_sub(1)),
            "it" | "'s"
                | "is"
                | "said"
                | "says"
                | "reads"
                | "um"
                | "about"
                | "at"
                | "makes"
                | "like"
                | "ambient"
                | "gone"
                | "around"
                | "uh"
                | "erm"
                | "only"
                | "nearly"
        )
    }

    /// "josie says seventeen": looked at again.
    fn read_again(&self, marks: &[Mark], value: f64, told: f64) -> bool {
        self.state.fact == Fact::Temperature
            && self.state.visit.combs.is_empty()
            && (scale(value, value > HOTTEST_C) - told).abs() < 6.0
            && marks.iter().all(|m| {
                matches!(
                    m.concept,
                    C::Num | C::Weather | C::That | C::Word | C::Stop | C::But | C::Not | C::Here
                )
            })
            && marks.iter().any(|m| m.concept == C::Weather)
    }

    /// "going in at the left and it's eighteen".
    fn as_it_was_opened(&self, marks: &[Mark], at: usize) -> bool {
        self.word(marks[at].from.wrapping_sub(1)) == "'s"
            && marks
                .iter()
                .any(|m| matches!(m.concept, C::OpenEnd | C::End | C::Left | C::Right))
    }

    /// "left end, twenty": the last word before any comb was met.
    fn after_the_end(&self, m: &Mark) -> bool {
        let mut end = m.from;
        while end > 0 && self.tokens[end - 1].is_stop() {
            end -= 1;
        }
        m.to == self.tokens.len() && matches!(self.word(end.wrapping_sub(1)), "end" | "side")
    }

    /// "nineteen and hardly a breath", "it's eighty eight already": the remark that a visit begins
    /// with, before any comb was met, where the figure counts nothing.
    fn opening_remark(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let begins = (0..m.from).all(|i| {
            matches!(
                self.word(i),
                "it" | "'s"
                    | "is"
                    | "about"
                    | "only"
                    | "just"
                    | "nearly"
                    | "and"
                    | "well"
                    | "um"
                    | "maybe"
                    | "a"
                    | "say"
                    | "call"
                    | "around"
                    | "roughly"
                    | "so"
                    | "barely"
                    | "'ll"
                    | "be"
                    | "must"
            )
        });
        // "five above"
        let above = self.word(m.to) == "above"
            && matches!(self.word(m.to + 1), "" | "zero" | "freezing" | "and" | ",");
        if above {
            return true;
        }
        let alone = self.word(m.to).is_empty() && self.state.visit.ends.is_empty();
        let goes_on = matches!(
            self.word(m.to),
            "and"
                | "already"
                | "by"
                | "give"
                | "just"
                | "if"
                | "in"
                | "with"
                | "but"
                | "now"
                | "today"
                | "or"
                | ","
        ) && !marks[at + 1..].iter().any(|n| {
            n.concept.is_held()
                || matches!(
                    n.concept,
                    C::Comb | C::Bar | C::Ord | C::Mites | C::Bees | C::Kg | C::Pound | C::Litre
                )
        }) && !of_a_look(&marks[at + 1..]);
        let first = marks[..at].iter().all(|m| m.concept == C::That);
        first && begins && (alone || goes_on)
    }

    /// A number that begins the phrase after the one in which the temperature was asked for.
    fn asked_for(&self, at: usize, value: f64) -> Option<(usize, f64)> {
        let answers = self.state.temperature_due && at == 0 && (5.0..=110.0).contains(&value);
        answers.then(|| (1, scale(value, value > HOTTEST_C)))
    }

    /// "seventy two out", before an end is opened: nothing else is said.
    fn out_alone(&self, m: &Mark) -> bool {
        m.from == 0 && m.to + 1 == self.tokens.len() && self.state.visit.ends.is_empty()
    }

    /// Before the first comb, a number beside a word of weather.
    fn without_unit(&self, marks: &[Mark], at: usize, value: f64) -> Option<(usize, f64)> {
        if let Some(told) = self.state.visit.temperature_c
            && !(self.correcting && self.state.fact == Fact::Temperature)
        {
            return self
                .read_again(marks, value, told)
                .then(|| (1, scale(value, value > HOTTEST_C)));
        }
        let early = self.state.visit.combs.is_empty() && !self.state.bar_due;
        let weather = self.as_it_was_opened(marks, at)
            || early && (10.0..=40.0).contains(&value) && self.after_the_end(&marks[at])
            || marks.iter().any(|m| m.concept == C::Weather)
            || matches!(self.word(marks[at].to), "out" | "outside")
                && (matches!(self.word(marks[at].to + 1), "here" | "there")
                    || at + 1 == marks.len() && self.reading_before(&marks[at])
                    || self.out_alone(&marks[at]));
        let named = ["ambient", "temperature", "thermometer", "temp", "mercury"]
            .iter()
            .any(|w| marks.iter().any(|m| self.said(m, w)));
        let said_so = at == 0 || self.reading_before(&marks[at]);
        let taken = marks.get(at + 1).is_some_and(|m| {
            matches!(
                m.concept,
                C::Comb
                    | C::Bar
                    | C::Num
                    | C::Kg
                    | C::Pound
                    | C::Mites
                    | C::Bees
                    | C::Litre
                    | C::Ord
            )
        }) || at > 0 && matches!(marks[at - 1].concept, C::Bar | C::Number | C::Num)
            || marks[at].from > 0
                && matches!(
                    self.word(marks[at].from - 1),
                    "past" | "to" | "hive" | "number" | "box" | "at"
                )
                && !(named && self.word(marks[at].from - 1) == "at")
            || matches!(
                self.word(marks[at].to),
                "minutes"
                    | "days"
                    | "weeks"
                    | "months"
                    | "past"
                    | "o'clock"
                    | "oclock"
                    | "hives"
                    | "years"
                    | "bars"
                    | "to"
                    | "times"
            );
        let plausible = value.fract() == 0.0 && (5.0..=110.0).contains(&value);
        let corrected = self.correcting && self.state.fact == Fact::Temperature;
        let mut back = marks[at].from;
        while back > 0
            && matches!(
                self.word(back - 1),
                "about"
                    | "around"
                    | "roughly"
                    | "only"
                    | "just"
                    | "nearly"
                    | "maybe"
                    | "um"
                    | "uh"
                    | "like"
            )
        {
            back -= 1;
        }
        let alone = early
            && marks.iter().all(|m| {
                matches!(
                    m.concept,
                    C::Num | C::That | C::Weather | C::Stop | C::But | C::Here
                )
            })
            && back > 0
            && matches!(self.word(back - 1), "'s" | "is");
        let of_comb = marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Ord | C::Brood | C::SealedBrood | C::QueenCell | C::Cells | C::Bees | C::Mites
            )
        });
        let makes = alone
            || early && self.opening_remark(marks, at)
            || !of_comb && at > 0 && self.word(marks[at].from - 1) == "'s" && early
            || marks[at].from > 0 && self.word(marks[at].from - 1) == "makes";
        ((early && (weather && said_so || makes || marks.len() > 1 && weather)
            || named
            || corrected)
            && plausible
            && !taken)
            .then(|| (1, scale(value, value > HOTTEST_C)))
    }
}

/// "half capped", "this side a third": what is told of a comb; the figure before it names the bar.
fn of_a_look(marks: &[Mark]) -> bool {
    let has = |is: fn(C) -> bool| marks.iter().any(|m| is(m.concept));
    let caps = has(|c| matches!(c, C::Capped | C::Uncapped | C::WhiteCap));
    let share = has(|c| c == C::Share);
    let face = has(|c| matches!(c, C::This | C::Other | C::Both));
    let comb = has(|c| {
        matches!(
            c,
            C::Empty | C::NewComb | C::AttachedYes | C::StraightYes | C::StraightNo
        )
    });
    // "half cloudy", "a still empty sky"
    (caps || share && face || comb) && !has(|c| c == C::Weather)
}

fn scale(value: f64, fahrenheit: bool) -> f64 {
    if fahrenheit {
        (value - 32.0) * 5.0 / 9.0
    } else {
        value
    }
}
