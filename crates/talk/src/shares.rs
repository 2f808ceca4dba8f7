//! How much of a face: a share in words, in percent, as a range; and whether it is of the honey.

use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;

impl Ear<'_> {
    /// A share at this place, ranges by their middle: how many marks, and the share.
    pub(crate) fn share_at(&self, marks: &[Mark], at: usize, capped: bool) -> Option<(usize, f64)> {
        let (n, a) = self.one_share(marks, at, capped)?;
        let Some(next) = marks.get(at + n) else {
            return Some((n, a));
        };
        let before = &marks[at + n - 1];
        let joined = self.between(before, next, &["to", "or"])
            || before.to > 0 && self.word(before.to) == "or"
            || matches!(next.concept, C::Then | C::And)
                && (0..before.from)
                    .rev()
                    .take(3)
                    .any(|i| self.word(i) == "between");
        if joined {
            let skip = usize::from(matches!(next.concept, C::Then | C::And));
            if let Some((more, b)) = self.one_share(marks, at + n + skip, capped) {
                return Some((n + skip + more, f64::midpoint(a, b)));
            }
        }
        Some((n, a))
    }

    /// "capped this side, call it sixty": how much, in percent.
    fn called_so_much(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        let guess = matches!(
            (
                self.word(m.from.wrapping_sub(2)),
                self.word(m.from.wrapping_sub(1))
            ),
            ("call" | "make" | "calling", "it" | "that") | (_, "say" | "maybe" | "about")
        );
        let face = marks[..at]
            .iter()
            .any(|n| matches!(n.concept, C::This | C::Other | C::Both));
        let one_told = |c: &crate::visit::Comb| c.this.is_some() || c.other.is_some();
        let capped = marks[..at].iter().any(|n| n.concept == C::Capped)
            || self.state.face.is_some()
            || self.comb().is_some_and(one_told);
        guess && face && capped && m.to == self.tokens.len()
    }

    fn one_share(&self, marks: &[Mark], at: usize, _capped: bool) -> Option<(usize, f64)> {
        let m = marks.get(at)?;
        match m.concept {
            C::Share => Some((1, m.value)),
            C::Num => {
                let percent = matches!(self.word(m.to), "percent" | "%")
                    || self.word(m.to) == "per" && self.word(m.to + 1) == "cent";
                let part = m.value <= 100.0;
                if percent && part && (m.value >= 10.0 || m.value % 5.0 == 0.0) {
                    let used = 1 + marks[at + 1..]
                        .iter()
                        .take_while(|w| w.concept == C::Word && w.from < m.to + 2)
                        .count();
                    return Some((used, m.value / 100.0));
                }
                if (self.word(m.to) == "out"
                    && self.word(m.to + 1) == "of"
                    && self.word(m.to + 2) == "ten"
                    || self.word(m.to) == "tenths")
                    && m.value <= 10.0
                {
                    let used = 1 + marks[at + 1..]
                        .iter()
                        .take_while(|w| w.from < m.to + 3)
                        .count();
                    return Some((used, m.value / 10.0));
                }
                // "eighty this side sixty the other", "fifty to sixty percent"
                let beside = marks.get(at + 1).is_some_and(|n| {
                    matches!(n.concept, C::This | C::Other | C::Both)
                        || n.concept == C::That
                            && self.that_side(n, marks.get(at + 2).map(|x| x.concept))
                            && marks.iter().any(|x| x.concept == C::This)
                }) || at > 0
                    && matches!(marks[at - 1].concept, C::This | C::Other | C::Both)
                    && marks.get(at + 1).is_none_or(|n| {
                        matches!(
                            n.concept,
                            C::Stop
                                | C::Take
                                | C::Leave
                                | C::Capped
                                | C::Then
                                | C::This
                                | C::Other
                                | C::Both
                        )
                    });
                let tens = m.value >= 10.0 && m.value <= 100.0 && m.value % 5.0 == 0.0;
                // "between sixty and seventy percent"
                let between = self.word(m.to) == "and"
                    && (m.from.saturating_sub(2)..m.from).any(|i| self.word(i) == "between");
                let to = at + 1 + usize::from(between);
                let to_percent = tens
                    && (between || matches!(self.word(m.to), "to" | "or"))
                    && marks.get(to).is_some_and(|n| n.concept == C::Num)
                    && (matches!(self.word(marks[to].to), "percent" | "per") || beside);
                let like = |n: Option<&Mark>| {
                    n.is_some_and(|n| {
                        n.concept == C::Num
                            && (10.0..=100.0).contains(&n.value)
                            && n.value % 5.0 == 0.0
                    })
                };
                let joint =
                    |n: Option<&Mark>| n.is_some_and(|n| matches!(n.concept, C::And | C::Then));
                let ahead = if joint(marks.get(at + 1)) {
                    at + 2
                } else {
                    at + 1
                };
                let behind = if at > 0 && joint(marks.get(at - 1)) {
                    at.checked_sub(2)
                } else {
                    at.checked_sub(1)
                };
                let unit = marks.get(at + 1).is_some_and(|u| {
                    matches!(
                        u.concept,
                        C::Kg | C::Pound | C::Mm | C::Gram | C::Degrees | C::Ounce | C::Comb
                    )
                });
                let pair = !unit
                    && (like(marks.get(ahead)) || behind.is_some_and(|b| like(marks.get(b))))
                    && !marks.iter().any(|u| {
                        matches!(
                            u.concept,
                            C::Mites | C::Bees | C::Bar | C::Number | C::Mm | C::Gram
                        )
                    });
                let called = !unit && self.called_so_much(marks, at);
                (tens && (beside || to_percent || pair || called)).then_some((1, m.value / 100.0))
            }
            _ => None,
        }
    }

    /// The share is of brood, pollen, nectar or building, not of capped honey.
    pub(crate) fn of_something_else(&self, marks: &[Mark], at: usize, after: usize) -> bool {
        let next = marks.get(after);
        let unit = |m: Option<&Mark>| {
            m.is_some_and(|m| {
                matches!(
                    m.concept,
                    C::Kg
                        | C::Gram
                        | C::Pound
                        | C::Ounce
                        | C::Inch
                        | C::Cm
                        | C::Litre
                        | C::Gallon
                        | C::Quart
                        | C::Pint
                )
            })
        };
        let before = marks[..at]
            .iter()
            .rev()
            .find(|m| !matches!(m.concept, C::And | C::Then));
        if unit(next)
            || unit(before)
                && before.is_some_and(|b| {
                    marks[at].from <= b.to + 3 && self.between(b, &marks[at], &["and"])
                })
        {
            return true;
        }
        let noun = |c: C| {
            matches!(
                c,
                C::Brood
                    | C::SealedBrood
                    | C::Drone
                    | C::DroneBees
                    | C::DroneAndWorker
                    | C::Eggs
                    | C::Pollen
                    | C::Empty
                    | C::NewComb
                    | C::CombMade
                    | C::Unripe
                    | C::Bees
            )
        };
        // "a quarter, the rest is wet": how much is capped
        let of_the_rest = next.is_some_and(|n| n.concept == C::Unripe && self.said(n, "rest"));
        if of_the_rest {
            return false;
        }
        if next.is_some_and(|n| noun(n.concept)) {
            // "all capped" before it belongs to honey: "half capped, pollen ..." has a stop between
            return true;
        }
        // "a little honey"
        if next.is_some_and(|n| n.concept == C::Honey)
            && !marks.get(after + 1).is_some_and(|n| {
                matches!(
                    n.concept,
                    C::Capped | C::This | C::Other | C::Both | C::Uncapped
                )
            })
        {
            return true;
        }
        // "pollen mostly", "brood all sealed"
        if at > 0
            && noun(marks[at - 1].concept)
            && marks[at - 1].concept != C::Unripe
            && !next.is_some_and(|n| matches!(n.concept, C::Capped | C::This | C::Other | C::Both))
        {
            return true;
        }
        if at > 0 && matches!(marks[at - 1].concept, C::Brood | C::SealedBrood | C::Drone) {
            return true;
        }
        if self.of_the_building(marks, at) || self.a_bit_so(marks, at) {
            return true;
        }
        let capped = marks.iter().any(|m| m.concept == C::Capped);
        let after = self.word(marks[after - 1].to);
        matches!(
            after,
            "built"
                | "drawn"
                | "full"
                | "empty"
                | "domed"
                | "torn"
                | "chewed"
                | "sunken"
                | "sunk"
                | "tan"
                | "brown"
                | "raised"
                | "perforated"
                | "broken"
                | "ripped"
                | "wet"
        ) || after == "down" && !capped
    }

    /// "a bit green", "a little early": how it is, not how much.
    fn a_bit_so(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        m.value < 0.15
            && matches!(self.word(m.to - 1), "bit" | "little" | "tad" | "touch")
            && matches!(
                self.word(m.to),
                "green"
                    | "early"
                    | "soon"
                    | "wet"
                    | "thin"
                    | "heavy"
                    | "rich"
                    | "much"
                    | "young"
                    | "far"
                    | "cross"
                    | "windy"
                    | "tight"
                    | "sticky"
                    | "runny"
                    | "late"
                    | "slow"
                    | "breezy"
                    | "cold"
                    | "warm"
            )
    }

    /// "built two thirds".
    fn of_the_building(&self, marks: &[Mark], at: usize) -> bool {
        let built = (1..=2).any(|k| {
            marks[at]
                .from
                .checked_sub(k)
                .is_some_and(|i| matches!(self.word(i), "built" | "drawn" | "grown"))
        });
        built && !marks.iter().any(|m| m.concept == C::Capped)
    }
}
