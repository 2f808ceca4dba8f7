//! What has the form of a telling and tells nothing of the comb: the numbers of a checklist, the
//! keeper's own rule, a strip left on the bar, a wait of minutes, days gone by.

use crate::act::Decision;
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::visit::Comb;

impl Ear<'_> {
    /// Whether the mark stands in such a place.
    pub(crate) fn tells_nothing(&self, m: &Mark) -> bool {
        match m.concept {
            C::Num => self.item_of_a_checklist(m) || self.of_a_rule(m),
            C::Share => self.of_a_rule(m) || self.days_back_before(m),
            C::Leave => {
                self.leaves_a_strip(m)
                    || self.waits_minutes(m)
                    || self.shooed(m)
                    || self.for_those_in_the_other_hive(m)
            }
            C::StraightYes => self.true_as_told(m),
            C::Aside => self.somebody_stands(m),
            C::Extent => self.over_somebody(m),
            C::FillLight => self.leaves_a_strip(m),
            C::Take => self.asked_how_many(m) || self.took_to(m),
            C::Other => self.days_back(m),
            _ => false,
        }
    }

    /// "item eleven queen cells none": which line of the list is read.
    fn item_of_a_checklist(&self, m: &Mark) -> bool {
        matches!(
            self.word(m.from.wrapping_sub(1)),
            "item" | "step" | "question"
        ) && m.from <= 2
    }

    /// "my rule is eighty percent": of no face.
    fn of_a_rule(&self, m: &Mark) -> bool {
        let is = m.from.wrapping_sub(1);
        matches!(self.word(is), "is" | "'s" | "says" | "at")
            && (is.saturating_sub(5)..is).any(|i| {
                matches!(
                    self.word(i),
                    "rule" | "limit" | "threshold" | "mark" | "cutoff" | "minimum"
                )
            })
    }

    /// "leave an inch on the bar for a start": of a comb that is cut off.
    fn leaves_a_strip(&self, m: &Mark) -> bool {
        let leave = (0..=m.from).rfind(|&i| matches!(self.word(i), "leave" | "leaving"));
        let Some(leave) = leave else { return false };
        let little = (leave + 2..leave + 5).any(|i| {
            matches!(
                self.word(i),
                "inch" | "finger" | "strip" | "centimetre" | "row" | "thumb" | "ridge"
            )
        });
        let on_the_bar = (leave + 3..leave + 9).any(|i| {
            matches!(self.word(i), "on" | "along" | "under")
                && matches!(self.word(i + 1), "the" | "each" | "every")
                && matches!(self.word(i + 2), "bar" | "bars")
        });
        matches!(self.word(leave + 1), "a" | "an" | "one" | "about" | "some")
            && little
            && on_the_bar
    }

    /// "leave it two minutes to dry": it is waited for.
    fn waits_minutes(&self, m: &Mark) -> bool {
        let so_long = |i: usize| {
            matches!(self.word(i), "minutes" | "seconds" | "moment")
                || matches!(self.word(i), "minute" | "second") && self.word(i - 1) == "a"
        };
        self.said(m, "leave") && (m.to + 1..m.to + 3).any(so_long)
    }

    /// "get down biscuit, leave that": said to the dog.
    fn shooed(&self, m: &Mark) -> bool {
        self.word(0) == "get"
            && matches!(self.word(1), "out" | "off" | "down" | "away")
            && m.from > 2
            && !self.said(m, "back")
    }

    /// "that's for the little hive", a pause, "not for you, for the bees": who is to have it.
    fn for_those_in_the_other_hive(&self, m: &Mark) -> bool {
        let goes = |comb: &Comb| comb.to_other_hive && comb.decision == Some(Decision::Take);
        self.said(m, "for")
            && (self.said(m, "bees") || self.said(m, "them"))
            && self.comb().is_some_and(goes)
    }

    /// "true as I stand here": of a story.
    fn true_as_told(&self, m: &Mark) -> bool {
        self.word(m.from) == "true"
            && self.word(m.from + 1) == "as"
            && matches!(self.word(m.from + 2), "i" | "we")
    }

    /// "pat is standing on the board", while the hive is closed: no comb stands there.
    fn somebody_stands(&self, m: &Mark) -> bool {
        self.state.closing && self.said(m, "standing") && self.said(m, "on")
    }

    /// "wax all down my front": how far on somebody.
    fn over_somebody(&self, m: &Mark) -> bool {
        matches!(self.word(m.to), "me" | "my" | "us" | "your" | "you" | "his")
            && !matches!(self.word(m.to + 1), "side" | "face" | "way" | "end")
    }

    /// "number of combs taken", "how many were taken": asked, and the answer comes after.
    fn asked_how_many(&self, m: &Mark) -> bool {
        self.word(m.from) == "taken"
            && (m.from.saturating_sub(4)..m.from).any(|i| {
                matches!(self.word(i), "number" | "count") && self.word(i + 1) == "of"
                    || self.word(i) == "how" && self.word(i + 1) == "many"
            })
    }

    /// "the swifts have taken to nesting in the shed".
    fn took_to(&self, m: &Mark) -> bool {
        matches!(self.word(m.to - 1), "taken" | "took" | "taking")
            && self.word(m.to) == "to"
            && self.word(m.to + 1).len() > 4
            && self.word(m.to + 1).ends_with("ing")
    }

    /// "she was here three days back": no face.
    fn days_back(&self, m: &Mark) -> bool {
        self.word(m.from) == "back"
            && matches!(
                self.word(m.from.wrapping_sub(1)),
                "days" | "day" | "weeks" | "week" | "hours" | "years" | "year" | "months"
            )
    }

    /// "... three days back at the most".
    fn days_back_before(&self, m: &Mark) -> bool {
        self.word(m.to - 1) == "most"
            && (m.from.saturating_sub(5)..m.from).any(|i| {
                matches!(
                    self.word(i),
                    "days" | "weeks" | "hours" | "minutes" | "years"
                )
            })
    }
}
