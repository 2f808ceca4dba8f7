//! Combs called by name while the order of closing is told: "nine's cut, ten full", "twelve and
//! thirteen cut", "the fifth full", "the pollen one is full".

use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::opening::whole;

impl Ear<'_> {
    /// The number of a bar that was met, and not how many combs follow in the row.
    pub(crate) fn bar_in_the_row(&self, marks: &[Mark], at: usize) -> bool {
        let numbered = self.state.visit.combs.iter().any(|c| c.bar.is_some());
        let known = |m: &Mark| {
            whole(m)
                .filter(|&n| self.bar_index(n).is_some() || !numbered && n as usize <= self.here())
        };
        let Some(n) = known(&marks[at]) else {
            return false;
        };
        let m = &marks[at];
        let is = matches!(self.word(m.to), "'s" | "is" | "has" | "call" | "goes");
        let named = at > 0 && matches!(marks[at - 1].concept, C::Bar | C::Number);
        let beside = |n: u32, o: &Mark| known(o).is_some_and(|o| o.abs_diff(n) == 1);
        // "seven full and one empty" counts; nobody closes with so many of a kind
        let many = n > 6
            && (n as usize > self.state.visit.combs.len()
                || marks.iter().any(|o| o.from != m.from && beside(n, o)));
        // "six full five full four cut": each with its own word, one after the other
        let told = |i: usize| {
            marks[i].concept == C::Num && marks.get(i + 1).is_some_and(|o| in_row(o.concept))
        };
        let turns: Vec<u32> = (0..marks.len())
            .filter(|&i| told(i))
            .filter_map(|i| known(&marks[i]))
            .collect();
        let in_turn = turns.len() > 2 && turns.windows(2).all(|w| w[0].abs_diff(w[1]) == 1);
        is || named || many || in_turn && turns.contains(&n)
    }

    /// A comb that was met and is called here: by its bar, its place, what it holds.
    pub(crate) fn named_in_the_row(&self, marks: &[Mark], at: usize) -> bool {
        let m = &marks[at];
        match m.concept {
            C::Num => self.bar_in_the_row(marks, at),
            C::Ord => m.value as usize <= self.here() && self.row_follows(marks, at),
            C::Take => self.is_cut(m) && at > 0 && self.named_in_the_row(marks, at - 1),
            c if c.is_held() || c == C::NewComb => {
                self.word(m.to) == "one" && self.row_follows(marks, at)
            }
            _ => false,
        }
    }

    /// "the sixth I've cut".
    pub(crate) fn is_cut(&self, m: &Mark) -> bool {
        m.concept == C::Take && self.word(m.to - 1) == "cut"
    }

    /// What the comb counts as stands behind its name.
    fn row_follows(&self, marks: &[Mark], at: usize) -> bool {
        let told = marks[at + 1..].iter().find(|m| {
            !matches!(
                m.concept,
                C::Word | C::Num | C::Comb | C::That | C::And | C::Ord | C::But
            )
        });
        self.state.closing && told.is_some_and(|m| in_row(m.concept) || self.is_cut(m))
    }

    /// "three's got pollen, that's a full as well": a comb that is named, and then what it counts as;
    /// from which mark on.
    pub(crate) fn counted_at_last(&self, marks: &[Mark]) -> Option<usize> {
        let name = marks
            .iter()
            .position(|m| !matches!(m.concept, C::Then | C::And))?;
        let named = self.bar_in_the_row(marks, name)
            || marks[name].concept == C::Ord && marks[name].value as usize <= self.here();
        let that = marks.iter().rposition(|m| m.concept == C::That)?;
        let tail = &marks[that + 1..];
        let row = tail.iter().filter(|m| in_row(m.concept)).count() == 1
            && tail
                .iter()
                .all(|m| in_row(m.concept) || matches!(m.concept, C::Word | C::Stop));
        (named && that > name && row).then_some(that + 1)
    }

    /// "full full, then the two I cut, so cut cut": what they are is told, and then how they count.
    /// The marks of the row without what is told.
    pub(crate) fn told_and_counted(&self, marks: &[Mark]) -> Option<Vec<Mark>> {
        let so = marks
            .iter()
            .rposition(|m| m.concept == C::But && self.word(m.from) == "so")?;
        let then = (0..so)
            .rev()
            .find(|&i| (1..3).any(|k| self.word(marks[i].from.wrapping_sub(k)) == "then"))?;
        let row = |m: &Mark| in_row(m.concept) || matches!(m.concept, C::And | C::Then);
        let (before, after) = (&marks[..then], &marks[so + 1..]);
        let both = !before.is_empty() && !after.is_empty();
        (both && before.iter().chain(after).all(row)).then(|| [before, after].concat())
    }

    /// What names before it make of one word of the row: as many combs as were named, and one where
    /// each has a word of its own.
    pub(crate) fn of_names(marks: &[Mark], at: usize, names: usize) -> usize {
        let spelled = names > 1 && marks.get(at + 1).is_some_and(|m| in_row(m.concept));
        if spelled { 1 } else { names }
    }
}

fn in_row(concept: C) -> bool {
    matches!(
        concept,
        C::FillFull | C::Cut | C::Empty | C::EmptyBar | C::NoComb | C::Shim | C::Follower
    )
}
