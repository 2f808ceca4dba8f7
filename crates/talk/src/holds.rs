//! What a comb holds, how full it is, how it hangs.

use crate::act::{Act, Fill, Hold};
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;

impl Ear<'_> {
    /// Hears contents and shape of the combs in hand.
    pub(crate) fn holds(&mut self, marks: &[Mark]) {
        let mut not = false;
        for (i, m) in marks.iter().enumerate() {
            match m.concept {
                C::Not => not = true,
                C::Share if m.value < 0.01 => not = true,
                C::Stop | C::But | C::Then | C::See => not = false,
                _ => {}
            }
            let words = std::slice::from_ref(m);
            let holds: &[Hold] = match m.concept {
                C::Honey => &[Hold::Honey],
                C::Unripe => &[Hold::Unripe],
                C::Brood | C::SealedBrood => &[Hold::WorkerBrood],
                C::Drone => &[Hold::DroneBrood],
                C::DroneAndWorker => &[Hold::WorkerBrood, Hold::DroneBrood],
                C::Eggs => &[Hold::Eggs],
                C::Pollen => &[Hold::Pollen],
                C::Empty => &[Hold::Empty],
                C::NewComb => &[Hold::NewComb],
                _ => {
                    self.shape(m, not, words);
                    if crate::opening::describes(m.concept) && m.concept != C::Not {
                        not = false;
                    }
                    continue;
                }
            };
            if Self::elsewhere(marks, i) {
                continue;
            }
            for &hold in holds {
                self.hold(hold, not, words);
            }
            not = not
                && marks
                    .get(i + 1)
                    .is_some_and(|n| self.between(m, n, &["or", "nor"]) || n.concept == C::And);
        }
    }

    fn hold(&mut self, hold: Hold, not: bool, words: &[Mark]) {
        if not {
            self.note_hand("holds not", &Act::HoldsNot(hold), words);
            return;
        }
        if hold == Hold::Eggs {
            self.note("eggs seen", Act::EggsSeen, None, words);
        }
        self.note_hand("holds", &Act::Holds(hold), words);
        if hold == Hold::Honey || hold == Hold::WorkerBrood {
            self.note_hand("not empty", &Act::HoldsNot(Hold::Empty), words);
        }
    }

    /// "the brood starts after this", "five with honey".
    fn elsewhere(marks: &[Mark], at: usize) -> bool {
        at > 0 && marks[at - 1].concept == C::Num && marks[at].concept == C::Honey
    }

    fn shape(&mut self, m: &Mark, not: bool, words: &[Mark]) {
        match m.concept {
            C::FillFull if !not => self.note_hand("fill", &Act::Filled(Fill::Full), words),
            C::FillFull | C::FillPart => self.note_hand("fill", &Act::Filled(Fill::Part), words),
            C::FillLight => self.note_hand("fill", &Act::Filled(Fill::Light), words),
            C::AttachedYes => self.note_hand("attached", &Act::Attached(!not), words),
            C::AttachedNo => self.note_hand("attached", &Act::Attached(false), words),
            C::StraightYes => self.note_hand("straight", &Act::Straight(!not), words),
            C::StraightNo => self.note_hand("straight", &Act::Straight(not), words),
            _ => {}
        }
    }
}
