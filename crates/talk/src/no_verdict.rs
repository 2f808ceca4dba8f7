//! What has the words of a verdict and is none: a comb lifted out to be looked at, a bowl that mites are
//! counted in, the dog in the truck.

use crate::act::{Act, Decision};
use crate::concept::Concept as C;
use crate::decisions::Said;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::visit::Comb;

/// What is left where it is, and is no comb.
const THINGS: [&str; 22] = [
    "smoker", "knife", "dog", "cat", "lid", "roof", "gate", "door", "tool", "gloves", "glove",
    "veil", "hat", "ladder", "camera", "phone", "feeder", "radio", "bucket", "pail", "cloth",
    "entrance",
];

impl Ear<'_> {
    /// "cut it, strip stays": what stays is on the bar of a comb that is taken.
    pub(crate) fn but_a_strip(&self, marks: &[Mark]) -> Option<Vec<Mark>> {
        let taken = marks.iter().position(|m| m.concept == C::Take)?;
        let strip = marks.windows(2).position(|pair| {
            let [strip, stays] = pair else { return false };
            strip.concept == C::Cut && self.said(strip, "strip") && stays.concept == C::Leave
        })?;
        (taken < strip).then(|| [&marks[..strip], &marks[strip + 2..]].concat())
    }

    /// Whether the verdict at this mark is none on the comb in hand.
    pub(crate) fn no_verdict(&self, marks: &[Mark], at: usize, said: Said) -> bool {
        match said {
            Said::Take => {
                self.lifted_out(&marks[at])
                    || self.in_a_bowl(&marks[at])
                    || self.of_somebody(marks, at)
                    || self.of_a_thing(&marks[at])
                    || self.a_thing_is_taken(&marks[at])
                    || self.somebody_comes(&marks[at])
                    || self.stays_in_it(marks, at)
                    || self.puts_the_queen(&marks[at])
                    || self.taken_by_none(&marks[at])
            }
            Said::Aside => {
                self.weighed_there(marks, at)
                    || self.another_day(&marks[at])
                    || self.where_somebody_is(&marks[at])
                    || self.put_with_the_taken(marks, at)
            }
            Said::Leave => {
                self.put_in_the_other_box(&marks[at])
                    || self.a_thing_is_left(marks, at)
                    || self.a_thing_said_again(&marks[at])
                    || self.we_go_back(&marks[at])
                    || self.they_do_not(&marks[at])
                    || self.points_at_a_thing(&marks[at])
                    || self.not_right_out(&marks[at])
                    || self.we_stop(&marks[at])
                    || self.kept_elsewhere(marks, at)
            }
            Said::Lost => false,
        }
    }

    /// "leave the gate, I said leave it": still the gate.
    fn a_thing_said_again(&self, m: &Mark) -> bool {
        let said = matches!(self.word(m.from.wrapping_sub(1)), "said" | "say")
            && matches!(self.word(m.from.wrapping_sub(2)), "i" | "we");
        let verb = self.word(m.from);
        let thing = |i: usize| {
            self.word(i) == verb
                && matches!(self.word(i + 1), "the" | "that" | "my" | "your" | "this")
                && THINGS.contains(&self.word(i + 2))
        };
        said && matches!(self.word(m.from + 1), "it" | "that" | "him" | "her")
            && (0..m.from.saturating_sub(2)).any(thing)
    }

    /// "we take the board out": what closes the hive or lies about it.
    fn a_thing_is_taken(&self, m: &Mark) -> bool {
        let word = self.word(m.to + 1);
        let board = matches!(
            word,
            "board" | "follower" | "divider" | "stone" | "brick" | "mat"
        );
        let article = matches!(self.word(m.to), "the" | "that" | "my" | "your" | "this");
        article && (board || THINGS.contains(&word))
    }

    /// "rain's coming over the hill", "you can come now" when the hive is shut.
    fn somebody_comes(&self, m: &Mark) -> bool {
        let comes = (m.from..m.to).any(|i| matches!(self.word(i), "come" | "comes" | "coming"));
        let weather = matches!(
            self.word(m.from.wrapping_sub(1)),
            "rain" | "storm" | "cloud" | "clouds" | "winter" | "night" | "wind" | "autumn" | "it's"
        );
        let you = self.word(m.from.wrapping_sub(1)) == "you" || self.word(m.from) == "you";
        let shut = self
            .state
            .visit
            .closing
            .contains(&crate::act::Closing::Follower);
        comes && (weather || you && shut)
    }

    /// "the queen stays in the old house", "I'm not having grubs in the kitchen": not into it.
    fn stays_in_it(&self, marks: &[Mark], at: usize) -> bool {
        let stays = |m: &Mark| {
            m.concept == C::Leave
                && ["stays", "stay", "staying", "remains", "having"]
                    .iter()
                    .any(|w| self.said(m, w))
        };
        let clause = marks[..at]
            .iter()
            .rev()
            .take_while(|m| !matches!(m.concept, C::Stop | C::But | C::And | C::Then | C::Take));
        let into = ["into", "goes", "take", "cut"]
            .iter()
            .any(|w| self.said(&marks[at], w));
        let place = !["house", "kitchen", "box", "hive"]
            .iter()
            .all(|w| self.word(marks[at].to - 1) != *w);
        place && !into && clause.into_iter().any(stays)
    }

    /// "I put her in the small box", of the queen that was found on the comb in hand.
    fn puts_the_queen(&self, m: &Mark) -> bool {
        let her = (m.from.saturating_sub(6)..m.from).any(|i| {
            self.word(i) == "her"
                && matches!(self.word(i.wrapping_sub(1)), "put" | "carry" | "drop")
        });
        let found = self.state.visit.queen_on.is_some()
            && self.state.visit.queen_on == self.state.hand.last().copied();
        her && found
    }

    /// "we go back": where the talk goes.
    fn we_go_back(&self, m: &Mark) -> bool {
        let go = (m.from..m.to).any(|i| matches!(self.word(i), "go" | "going"));
        let back = self.word(m.to - 1) == "back";
        let ends = matches!(self.word(m.to), "" | "to" | "again" | "now" | "," | "and");
        go && back && ends && matches!(self.word(m.from.wrapping_sub(1)), "we" | "i")
    }

    /// "behind the board so they don't rob it": the bees.
    fn they_do_not(&self, m: &Mark) -> bool {
        let not = matches!(self.word(m.from), "n't" | "not" | "do");
        let rob = (m.from..m.to).any(|i| matches!(self.word(i), "rob" | "robbing"));
        let they = (m.from.saturating_sub(2)..m.from).any(|i| self.word(i) == "they");
        not && rob && they
    }

    /// "leave the smoker alone": of a thing, not of the comb.
    fn a_thing_is_left(&self, marks: &[Mark], at: usize) -> bool {
        let left = |m: &Mark| {
            let article = matches!(self.word(m.to), "the" | "that" | "my" | "your" | "this");
            m.to == m.from + 1 && article && THINGS.contains(&self.word(m.to + 1))
        };
        let alone = self.word(marks[at].from) == "alone";
        let before = at.checked_sub(2).map(|i| &marks[i]);
        left(&marks[at]) || alone && (before.is_some_and(left) || at > 0 && left(&marks[at - 1]))
    }

    /// "that's for the little box", a pause, "in with it": into the box that was spoken of.
    fn put_in_the_other_box(&self, m: &Mark) -> bool {
        let taken =
            |(_, act): &(Option<usize>, Act)| matches!(act, Act::Decided(Some(Decision::Take)));
        let back = ["back", "again", "home", "down"]
            .iter()
            .any(|w| self.said(m, w));
        self.word(m.from) == "in"
            && !back
            && self.state.last_acts.iter().any(taken)
            && self
                .comb()
                .is_some_and(|c| c.decision == Some(Decision::Take))
    }

    /// "I'm cutting it free", "okay, it's out": lifted, and nothing is told of it yet.
    fn lifted_out(&self, m: &Mark) -> bool {
        let untold = |c: &Comb| {
            c.attached == Some(true)
                && c.this.is_none()
                && c.other.is_none()
                && c.kg.is_none()
                && c.decision.is_none()
        };
        self.said(m, "out")
            && ["it", "that", "he", "she"].iter().any(|w| self.said(m, w))
            && self.comb().is_some_and(untold)
    }

    /// "I look now in the white bowl": where mites are counted.
    fn in_a_bowl(&self, m: &Mark) -> bool {
        let vessel = self.word(m.to - 1);
        self.state.washing && matches!(vessel, "bowl" | "jar" | "tray" | "lid" | "cup")
    }

    /// "rex in the truck", after a comb that stays.
    fn of_somebody(&self, marks: &[Mark], at: usize) -> bool {
        let who = at == 1
            && marks[0].concept == C::Word
            && marks[0].from == 0
            && self.word(marks[0].to) == "in";
        let stays = |c: &Comb| c.decision == Some(Decision::Leave);
        who && self.comb().is_some_and(stays)
    }

    /// "in the tin on top of the fridge", after a comb that stays.
    fn of_a_thing(&self, m: &Mark) -> bool {
        let stays = |c: &Comb| c.decision == Some(Decision::Leave);
        m.to == m.from + 1
            && self.word(0) == "in"
            && matches!(self.word(m.to), "on" | "under" | "behind" | "by" | "beside")
            && self.comb().is_some_and(stays)
    }

    /// "one point eight on the hook": where it is weighed.
    fn weighed_there(&self, marks: &[Mark], at: usize) -> bool {
        let amount = |m: &Mark| matches!(m.concept, C::Num | C::Kg | C::Pound);
        self.said(&marks[at], "hook") && marks[..at].iter().any(amount)
    }

    /// "wet sack on the roof", when the comb in hand is settled.
    pub(crate) fn a_thing_put_down(&self, marks: &[Mark], at: usize) -> bool {
        let little = |m: &Mark| matches!(m.concept, C::Word | C::Open | C::And | C::Then);
        at > 0
            && self.word(marks[at].from) == "on"
            && self.comb().is_some_and(|c| c.decision.is_some())
            && marks[..at].iter().all(little)
    }
}
