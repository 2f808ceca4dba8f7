//! What has the words of a verdict and is said of others or of afterwards: bees that come out, bees that carry
//! honey up, two that are plenty for us, the pan with the lid, a cellar where a taken comb is kept.

use crate::act::Decision;
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;

/// Where a comb is kept that was taken. Common usage, no source.
const KEPT_IN: [&str; 20] = [
    "cellar",
    "freezer",
    "fridge",
    "shed",
    "kitchen",
    "pantry",
    "garage",
    "larder",
    "cupboard",
    "loft",
    "attic",
    "barn",
    "jar",
    "tin",
    "bag",
    "storeroom",
    "basement",
    "cold",
    "workshop",
    "icebox",
];

/// Days that a "maybe" looks forward to. Common usage, no source.
const DAYS: [&str; 12] = [
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
    "weekend",
    "tomorrow",
    "tonight",
    "evening",
    "afternoon",
];

impl Ear<'_> {
    /// Whether a word for taking says what bees do, or how much is enough.
    pub(crate) fn taken_by_none(&self, m: &Mark) -> bool {
        self.bees_come_out(m)
            || self.bees_carry(m)
            || self.plenty_for_us(m)
            || self.keeper_goes(m)
            || self.cuts_a_bit(m)
    }

    /// "I'll cut that bit", of a comb that is attached: what holds it to the wall.
    fn cuts_a_bit(&self, m: &Mark) -> bool {
        let cut = matches!(
            self.word(m.from),
            "cut" | "cutting" | "i" | "we" | "slice" | "trim" | "just"
        ) && ["cut", "cutting", "slice", "trim"]
            .iter()
            .any(|w| self.said(m, w));
        let bit = (m.to - 1..m.to + 2).any(|i| {
            matches!(
                self.word(i),
                "bit" | "bits" | "bridge" | "brace" | "attachment"
            )
        });
        cut && bit && self.comb().is_some_and(|c| c.attached == Some(true))
    }

    /// "they come out right where you're standing": bees.
    fn bees_come_out(&self, m: &Mark) -> bool {
        let come = matches!(self.word(m.from), "come" | "comes" | "coming");
        let they = self.word(m.from.wrapping_sub(1)) == "they" || self.word(m.from) == "they";
        come && they && self.state.hand.len() < 2 && self.state.group.is_empty()
    }

    /// "they will carry it up", "they can clean it out": bees.
    fn bees_carry(&self, m: &Mark) -> bool {
        let verb = (m.from..m.to).find(|&i| {
            matches!(
                self.word(i),
                "carry" | "move" | "clean" | "clear" | "shift" | "take" | "rob" | "haul"
            )
        });
        let Some(verb) = verb else { return false };
        let they = (verb.saturating_sub(3)..verb).any(|i| {
            matches!(self.word(i), "they" | "bees" | "girls")
                && (i + 1..verb).all(|k| {
                    matches!(
                        self.word(k),
                        "will"
                            | "'ll"
                            | "can"
                            | "may"
                            | "shall"
                            | "must"
                            | "should"
                            | "just"
                            | "then"
                    )
                })
        });
        they && !matches!(self.word(m.to - 1), "off" | "home")
    }

    /// "two's plenty for us", "that's enough for me".
    fn plenty_for_us(&self, m: &Mark) -> bool {
        let us = (m.from..m.to).find(|&i| self.word(i) == "for");
        us.is_some_and(|at| {
            matches!(self.word(at + 1), "us" | "me" | "you" | "everyone")
                && matches!(
                    self.word(at.wrapping_sub(1)),
                    "plenty" | "enough" | "much" | "ample" | "loads" | "lots" | "do"
                )
        })
    }

    /// "away in for my tea", "off home for some lunch": the keeper.
    fn keeper_goes(&self, m: &Mark) -> bool {
        let went = (1..=m.to)
            .find(|&i| self.word(i) == "for")
            .is_some_and(|at| {
                matches!(
                    self.word(at - 1),
                    "away" | "off" | "home" | "in" | "back" | "inside"
                ) && matches!(
                    self.word(at + 1),
                    "my" | "a"
                        | "some"
                        | "the"
                        | "tea"
                        | "lunch"
                        | "dinner"
                        | "supper"
                        | "breakfast"
                )
            });
        went && matches!(
            self.word(0),
            "away" | "off" | "home" | "in" | "back" | "right"
        )
    }

    /// "we'll stop there": the keeper, not the comb.
    pub(crate) fn we_stop(&self, m: &Mark) -> bool {
        let stop = ["stop", "finish"].iter().any(|w| self.said(m, w));
        stop && (m.from.saturating_sub(2)..m.to).any(|i| matches!(self.word(i), "we" | "i"))
    }

    /// "I'm not pulling that right out": looked at where it hangs.
    pub(crate) fn not_right_out(&self, m: &Mark) -> bool {
        let lifted = ["pulling", "pull", "lifting", "lift"]
            .iter()
            .any(|w| self.said(m, w));
        let right_out = |i: usize| {
            matches!(self.word(i), "right" | "all" | "fully" | "clean")
                && matches!(self.word(i + 1), "out" | "the" | "up")
        };
        lifted && (m.from + 1..m.to + 3).any(right_out)
    }

    /// "not that one, the one with the lid": what a helper is to hand over.
    pub(crate) fn points_at_a_thing(&self, m: &Mark) -> bool {
        let Some(not) = (m.from..m.to).find(|&i| self.word(i) == "not") else {
            return false;
        };
        let that = matches!(self.word(not + 1), "that" | "this" | "those");
        let after = not + 2 + usize::from(matches!(self.word(not + 2), "one" | "ones"));
        that && m.to <= after + 1 && matches!(self.word(after), "the" | "other" | "his" | "my")
    }

    /// "this I take away and I keep it in the cellar": of a comb that is taken.
    pub(crate) fn kept_elsewhere(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let keep = ["keep", "leave", "put"].iter().any(|w| self.said(m, w));
        let inside = (m.to - 1..=m.to).find(|&i| matches!(self.word(i), "in" | "into"));
        let place = inside.is_some_and(|i| {
            matches!(self.word(i + 1), "the" | "my" | "our" | "a")
                && (i + 2..i + 4).any(|k| KEPT_IN.contains(&self.word(k)))
        });
        let taken = marks[..at].iter().any(|m| m.concept == C::Take)
            || self
                .comb()
                .is_some_and(|c| c.decision == Some(Decision::Take));
        keep && place && taken
    }

    /// "maybe sunday", "perhaps at the weekend": another day, and nothing of the comb in hand.
    pub(crate) fn another_day(&self, m: &Mark) -> bool {
        let mut at = m.to;
        while matches!(self.word(at), "on" | "at" | "the" | "this" | "next") {
            at += 1;
        }
        m.to == m.from + 1 && DAYS.contains(&self.word(at))
    }

    /// "just where you've parked": a helper, not the comb.
    pub(crate) fn where_somebody_is(&self, m: &Mark) -> bool {
        let mut at = m.from;
        while matches!(
            self.word(at.wrapping_sub(1)),
            "'ve" | "have" | "'re" | "are" | "just"
        ) {
            at -= 1;
        }
        matches!(self.word(at.wrapping_sub(1)), "you" | "they" | "he")
            && self.word(at.wrapping_sub(2)) == "where"
    }

    /// "take it and put it in the vessel": what it is put into, whatever that is called.
    pub(crate) fn put_with_the_taken(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let put = matches!(
            self.word(m.from),
            "put"
                | "putting"
                | "pop"
                | "popping"
                | "stick"
                | "set"
                | "lay"
                | "drop"
                | "place"
                | "stow"
        );
        let into = (m.from..m.to).any(|i| matches!(self.word(i), "in" | "into" | "inside"));
        let taken = marks[..at].iter().any(|m| m.concept == C::Take)
            || self
                .comb()
                .is_some_and(|c| c.decision == Some(Decision::Take));
        put && into && taken
    }
}
