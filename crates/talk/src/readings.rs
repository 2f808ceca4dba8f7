//! Which of several readings of one phrase to hear.
//!
//! A recogniser that knows nothing of hives hears "our twelve" and "bar twelve" alike; which of them was said,
//! the talk so far tells better than it does. What this gains is measured from sound to understanding with a
//! general recogniser: see BENCHMARKS.md.

use crate::act::Act;
use crate::concept::Concept as C;
use crate::listener::Listener;
use crate::mark;
use crate::slips;
use crate::token::tokens;

/// What speaks against a reading, the weightiest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Against {
    kind: Kind,
    /// Words that stand for nothing in the talk of hives.
    strange: usize,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    /// It comes to something.
    Sense,
    /// It names a bar that the hive does not have.
    NoSuchBar,
    /// It comes to nothing, or is mostly words that stand for nothing: talk of other things.
    Chatter,
}

impl Listener {
    /// The place of the reading to hear, of those that a recogniser gives for one phrase, its likeliest
    /// first; `None` when none of them comes to anything, and the first is as good as any.
    ///
    /// The likeliest that comes to something, with the fewest words that stand for nothing.
    pub fn likeliest(&self, readings: &[impl AsRef<str>]) -> Option<usize> {
        let mut best: Option<(Against, usize)> = None;
        for (at, reading) in readings.iter().enumerate() {
            let against = self.against(reading.as_ref());
            if best.is_none_or(|(least, _)| against < least) {
                best = Some((against, at));
            }
            if best.is_some_and(|(least, _)| least.is_nothing()) {
                break;
            }
        }
        best.filter(|(least, _)| least.kind != Kind::Chatter)
            .map(|(_, at)| at)
    }

    fn against(&self, reading: &str) -> Against {
        let lower = reading.to_ascii_lowercase();
        let tokens = slips::repair(&tokens(&lower));
        let marks = mark::marks(&tokens);
        let strange = marks.iter().filter(|m| m.concept == C::Word).count();
        let heard = self.to_try().hear(reading);
        // "the other side", and its share after a pause; "scratch that"
        let begins = !marks.is_empty()
            && marks.iter().all(|m| {
                matches!(
                    m.concept,
                    C::This
                        | C::Other
                        | C::Both
                        | C::Bar
                        | C::Number
                        | C::Undo
                        | C::Correct
                        | C::Not
                )
            });
        let nothing = heard.acts.is_empty()
            && heard.question.is_none()
            && heard.loose.is_none()
            && !heard.noted
            && !begins;
        let no_bar = heard.acts.iter().any(|noted| match noted.act {
            Act::CombMet { bar: Some(bar) } | Act::Renumbered(bar) => self.lacks(bar),
            _ => false,
        });
        let kind = if nothing || 2 * strange > tokens.len() {
            Kind::Chatter
        } else if no_bar {
            Kind::NoSuchBar
        } else {
            Kind::Sense
        };
        Against { kind, strange }
    }
}

impl Against {
    const fn is_nothing(self) -> bool {
        matches!(self.kind, Kind::Sense) && self.strange == 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chosen<'a>(listener: &Listener, readings: &[&'a str]) -> Option<&'a str> {
        listener.likeliest(readings).map(|at| readings[at])
    }

    /// What a general recogniser (PocketSphinx 0.8, its own English model) made of phrases spoken by Flite
    /// (`examples/spoken.rs`), its likeliest first, up to the one to be heard.
    #[test]
    fn a_reading_that_makes_sense_at_a_hive_is_heard() {
        let listener = Listener::new();
        let said = [
            &["barr nineteen is funny", "bar nineteen is honey"][..],
            &[
                "bar seventeen is funny as well",
                "barr seventeen is funny as well",
                "are seventeen is funny as well",
                "our seventeen is funny as well",
                "bahr seventeen is funny as well",
                "bar seventeen is honey as well",
            ],
            &["third chrome has palin", "third comb has pollen"],
            &["bar for is mostly palin", "bar four is mostly pollen"],
        ];
        for readings in said {
            assert_eq!(
                chosen(&listener, readings),
                readings.last().copied(),
                "{readings:?}"
            );
        }
    }

    #[test]
    fn the_first_that_makes_sense_stays() {
        let listener = Listener::new();
        let readings = ["bar twelve all capped", "bar twenty all capped"];
        assert_eq!(chosen(&listener, &readings), Some(readings[0]));
        assert_eq!(chosen(&listener, &[""; 0]), None);
    }

    #[test]
    fn what_is_only_begun_or_taken_back_makes_sense() {
        let mut listener = Listener::new();
        listener.hear("bar twelve half capped this side");
        for readings in [
            ["the other side", "the other side half"],
            ["scratch that", "scratch that leave it"],
            ["bar", "bar eleven"],
        ] {
            assert_eq!(chosen(&listener, &readings), Some(readings[0]));
        }
    }

    #[test]
    fn a_bar_that_the_hive_has_is_likelier() {
        let listener = Listener::with_bars(1..=24);
        let readings = ["bar fifty all capped", "bar fifteen all capped"];
        assert_eq!(chosen(&listener, &readings), Some(readings[1]));
        // with no other, it is heard and asked about
        assert_eq!(chosen(&listener, &readings[..1]), Some(readings[0]));
    }

    #[test]
    fn talk_of_other_things_stays_so() {
        let listener = Listener::new();
        let readings = [
            "my sister rang about the wedding on saturday",
            "my sister brood about the wedding on saturday",
        ];
        assert_eq!(chosen(&listener, &readings), None);
    }
}
