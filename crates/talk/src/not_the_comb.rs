//! Words for what a comb holds, said of something else: a full pail, one fat drone, eggs seen before.

use crate::act::{Act, Hold};
use crate::concept::Concept as C;
use crate::ear::{Ear, Fact};
use crate::mark::Mark;

/// What can be full and is no comb.
const VESSELS: [&str; 11] = [
    "pail", "jar", "bucket", "tub", "feeder", "tin", "can", "jug", "kettle", "hands", "bottle",
];

impl Ear<'_> {
    /// Whether the mark is not about the comb in hand. `not`: a word of denial stands before it.
    pub(crate) fn of_something_else_here(&self, marks: &[Mark], i: usize, not: bool) -> bool {
        let m = &marks[i];
        if m.concept.is_held() && (self.not_seen_after(m) || self.on_somebody(m)) {
            return true;
        }
        match m.concept {
            // "all drawn, nothing in it": built, however far
            C::FillFull if self.said(m, "drawn") && marks.iter().any(|n| n.concept == C::Empty) => {
                true
            }
            C::FillFull => {
                self.full_of_else(marks, i)
                    || self.of_vessel(m)
                    || self.of_colony(m)
                    || self.packed_with_bees(m)
                    // "one and a half, it is full now": the feeder
                    || self.state.fact == Fact::Litres && self.word(m.to) == "now"
            }
            // "this one is a piece of wax": what lies among the mites
            C::FillLight => {
                let begins = self.said(m, "starting") || self.said(m, "started");
                // "drone brood just starting at the edge"
                let brood = i > 0 && marks[i - 1].concept.is_brood() && marks[i - 1].to == m.from;
                self.of_colony(m)
                    || self.state.washing
                    || self.patch_of_brood(marks, m)
                    || begins && brood
            }
            C::Drone | C::DroneBees => self.one_bee(m),
            C::Brood | C::SealedBrood if self.only_where(m) => true,
            C::Brood => self.in_worker_cells(marks, i) || not && self.keeper_is_not(m),
            C::StraightNo => {
                self.curled_grubs(marks, i)
                    || self.goes_into_a_box(marks, i)
                    || self.vessel_leans(m)
            }
            C::Eggs => self.known_by_eggs(m) || not && self.keeper_is_not(m),
            C::Honey => Self::five_with(marks, i) || not && self.keeper_is_not(m),
            C::Empty => self.empty_patch(m) || self.of_a_cup(marks),
            C::Weather => self.of_a_cup(marks),
            C::NewComb => self.fresh_stores(marks, i) || self.white_caps(marks, i),
            // "there's enough of it straight"
            C::StraightYes => {
                self.word(m.from.wrapping_sub(1)) == "it"
                    && self.word(m.from.wrapping_sub(2)) == "of"
            }
            _ => false,
        }
    }

    /// "eggs I don't see", "the eggs I did not see without my glasses".
    fn not_seen_after(&self, m: &Mark) -> bool {
        let not = |i: usize| matches!(self.word(i), "not" | "n't" | "never");
        let see = |i: usize| matches!(self.word(i), "see" | "seeing" | "seen" | "saw" | "find");
        // "eggs can't say": no more than that they were looked for
        let cannot = matches!(self.word(m.to), "ca" | "could" | "can" | "couldn't")
            && not(m.to + 1)
            && matches!(self.word(m.to + 2), "say" | "tell");
        cannot
            || matches!(self.word(m.to), "i" | "we")
                && (m.to + 1..m.to + 4).any(|i| not(i) && (see(i + 1) || see(i + 2)))
    }

    /// "that's pollen on my thumb", "on her": on no comb.
    pub(crate) fn on_somebody(&self, m: &Mark) -> bool {
        let whose = self.word(m.to + 1);
        let part = matches!(
            self.word(m.to + 2),
            "thumb"
                | "glove"
                | "gloves"
                | "finger"
                | "fingers"
                | "hand"
                | "hands"
                | "sleeve"
                | "arm"
                | "legs"
                | "back"
                | "boot"
                | "nose"
                | "veil"
        );
        self.word(m.to) == "on"
            && (matches!(whose, "my" | "your" | "his" | "their") && part
                || whose == "her" && (part || self.word(m.to + 2).is_empty()))
    }

    /// "this side's all sealed, it's all white": the caps.
    fn white_caps(&self, marks: &[Mark], i: usize) -> bool {
        let m = &marks[i];
        self.said(m, "white")
            && !["comb", "wax", "new"].iter().any(|w| self.said(m, w))
            && (marks[..i].iter().any(|n| n.concept == C::Capped)
                // "all the white lids"
                || marks
                    .get(i + 1)
                    .is_some_and(|n| n.concept == C::Capped && n.from == m.to))
    }

    /// "it's only a cup, dry as anything".
    fn of_a_cup(&self, marks: &[Mark]) -> bool {
        let comb = |m: &Mark| matches!(m.concept, C::Comb | C::Bar | C::Ord | C::Honey | C::Num);
        let cup = self
            .tokens
            .iter()
            .any(|t| matches!(&*t.text, "cup" | "cups"));
        cup && !marks.iter().any(comb)
    }

    /// "full of flowers".
    fn full_of_else(&self, marks: &[Mark], i: usize) -> bool {
        let m = &marks[i];
        m.to == m.from + 1
            && self.word(m.to) == "of"
            && marks
                .get(i + 1)
                .is_some_and(|n| n.concept == C::Word && n.from <= m.to + 3)
    }

    /// "the pail wasn't full".
    fn of_vessel(&self, m: &Mark) -> bool {
        (m.from.saturating_sub(4)..m.from).any(|k| VESSELS.contains(&self.word(k)))
    }

    /// "where the bees are packed in".
    fn packed_with_bees(&self, m: &Mark) -> bool {
        (m.from.saturating_sub(3)..m.from).any(|k| self.word(k) == "bees")
    }

    /// "no, the bucket's leaning on it".
    fn vessel_leans(&self, m: &Mark) -> bool {
        (m.from.saturating_sub(3)..m.from).any(|k| {
            VESSELS.contains(&self.word(k)) && matches!(self.word(k + 1), "'s" | "is" | "was")
        })
    }

    /// "they're light": the colony.
    fn of_colony(&self, m: &Mark) -> bool {
        self.state.hand.len() < 2
            && (m.from.saturating_sub(4)..m.from).any(|k| {
                matches!(self.word(k), "they" | "hive" | "colony")
                    && matches!(self.word(k + 1), "'re" | "are" | "is" | "'s" | "feel")
            })
    }

    /// "goes into the small box": the comb does, not its line.
    fn goes_into_a_box(&self, marks: &[Mark], i: usize) -> bool {
        let m = &marks[i];
        (self.said(m, "goes") || self.said(m, "go"))
            && marks.get(i + 1).is_some_and(|n| {
                n.concept == C::Take
                    && matches!(self.word(n.to - 1), "box" | "nuc" | "bucket" | "tub")
            })
    }

    /// "sealed worker brood", a pause, "a small patch".
    fn patch_of_brood(&self, marks: &[Mark], m: &Mark) -> bool {
        let comb = marks
            .iter()
            .any(|n| matches!(n.concept, C::Comb | C::NewComb | C::Honey));
        let held = self
            .state
            .last_acts
            .iter()
            .rev()
            .find_map(|(_, act)| match act {
                Act::Holds(hold) => Some(*hold),
                _ => None,
            });
        // "a patch like the palm of my hand"
        let patch = self.said(m, "patch")
            || (m.from.saturating_sub(4)..m.from).any(|i| self.word(i) == "patch");
        patch && !comb && matches!(held, Some(Hold::WorkerBrood | Hold::DroneBrood))
    }

    /// "that's only a fat drone".
    fn one_bee(&self, m: &Mark) -> bool {
        self.word(m.to - 1) == "drone"
            && !matches!(
                self.word(m.to),
                "brood"
                    | "comb"
                    | "cells"
                    | "cell"
                    | "larvae"
                    | "larva"
                    | "patch"
                    | "eggs"
                    | "brewed"
                    | "and"
                    | "pupae"
            )
            && (m.from.saturating_sub(2)..m.to)
                .any(|k| matches!(self.word(k), "a" | "one" | "the" | "another"))
            && !(m.from.saturating_sub(2)..m.to)
                .any(|k| matches!(self.word(k), "of" | "few" | "patch" | "bit" | "some"))
    }

    /// "drone brood in worker cells".
    fn in_worker_cells(&self, marks: &[Mark], i: usize) -> bool {
        let m = &marks[i];
        self.word(m.to - 1).starts_with("cell")
            && m.from > 0
            && self.word(m.from - 1) == "in"
            && marks[..i].iter().any(|n| n.concept == C::Drone)
    }

    /// "four combs before the brood", "an empty bar in behind the brood": where they hang; "can we look
    /// at the brood": what is gone to.
    fn only_where(&self, m: &Mark) -> bool {
        let mut the = m.from.wrapping_sub(1);
        while matches!(self.word(the), "sealed" | "worker" | "open" | "capped") {
            the = the.wrapping_sub(1);
        }
        let before = self.word(the.wrapping_sub(1));
        let place = matches!(
            before,
            "before" | "until" | "till" | "reach" | "to" | "toward" | "towards" | "past"
        );
        let put = |i: usize| {
            matches!(
                self.word(i),
                "put" | "bar" | "bars" | "hang" | "hung" | "slid" | "slide" | "moved" | "move"
            )
        };
        let beside = matches!(
            before,
            "behind" | "beside" | "against" | "outside" | "beyond"
        ) && (0..m.from).any(put);
        let looks = before == "at"
            && matches!(
                self.word(the.wrapping_sub(2)),
                "look" | "looking" | "get" | "getting" | "peek" | "looked"
            )
            && !(0..m.from).any(|i| self.word(i) == "'m" || self.word(i) == "am");
        matches!(self.word(the), "the" | "their") && (place || beside || looks)
    }

    /// "grubs curled up": not the comb.
    fn curled_grubs(&self, marks: &[Mark], i: usize) -> bool {
        let m = &marks[i];
        i > 0
            && marks[i - 1].concept == C::Brood
            && marks[i - 1].to + 1 >= m.from
            && (m.from..m.to).any(|k| self.word(k).starts_with("curl"))
    }

    /// "I'm not here for honey", "I'm not carrying honey through that".
    fn keeper_is_not(&self, m: &Mark) -> bool {
        (m.from.saturating_sub(6)..m.from).any(|k| {
            matches!(self.word(k), "'m" | "am" | "'re" | "ain't")
                && matches!(self.word(k.wrapping_sub(1)), "i" | "we")
                && (k..m.from).any(|j| {
                    matches!(
                        self.word(j),
                        "for"
                            | "carrying"
                            | "leaving"
                            | "wasting"
                            | "risking"
                            | "here"
                            | "cutting"
                            | "harvesting"
                            | "robbing"
                            | "breaking"
                            | "straining"
                            | "strain"
                    )
                })
        })
    }

    /// "with those eggs she was here this week", "the eggs will do": told before, of another comb.
    fn known_by_eggs(&self, m: &Mark) -> bool {
        let told = self.state.visit.eggs_seen
            && m.from > 1
            && matches!(
                self.word(m.from - 1),
                "those" | "these" | "them" | "the" | "her"
            )
            && matches!(self.word(m.from - 2), "with" | "from" | "by" | "given");
        let enough = matches!(self.word(m.to), "will" | "'ll" | "would")
            && matches!(self.word(m.to + 1), "do" | "tell" | "say")
            || matches!(self.word(m.to), "are" | "is")
                && matches!(self.word(m.to + 1), "enough" | "proof")
            || matches!(
                self.word(m.to),
                "do" | "tell" | "say" | "mean" | "prove" | "means"
            );
        told || enough
    }

    /// "five with honey".
    fn five_with(marks: &[Mark], i: usize) -> bool {
        i > 0 && marks[i - 1].concept == C::Num
    }

    /// "nectar, that's fresh": what was stored.
    fn fresh_stores(&self, marks: &[Mark], i: usize) -> bool {
        let m = &marks[i];
        let stored = |n: &Mark| matches!(n.concept, C::Unripe | C::Pollen | C::Eggs | C::Honey);
        let before = |(_, act): &(Option<usize>, Act)| {
            matches!(act, Act::Holds(Hold::Pollen | Hold::Unripe | Hold::Eggs))
        };
        // "there's pollen in it", a pause, "fresh too"
        let told_before = self.state.last_acts.last().is_some_and(before)
            && m.from == 0
            && matches!(self.word(m.from), "fresh")
            && !["comb", "wax"].iter().any(|w| self.said(m, w));
        told_before
            || self.word(m.to - 1) == "fresh"
                && i > 0
                && (stored(&marks[i - 1]) && marks[i - 1].to + 1 >= m.from
                // "pollen all over it, that's fresh"
                || ["that", "it"].iter().any(|w| self.said(m, w))
                    && marks[..i].iter().any(stored))
                && !(m.from..m.to).any(|k| matches!(self.word(k), "comb" | "wax" | "and" | "also"))
    }

    /// "an empty patch in the middle".
    fn empty_patch(&self, m: &Mark) -> bool {
        m.to == m.from + 1
            && matches!(
                self.word(m.to),
                "patch"
                    | "area"
                    | "spot"
                    | "hole"
                    | "holes"
                    | "centre"
                    | "center"
                    | "ring"
                    | "space"
                    | "spots"
            )
    }
}
