//! What a keeper does with a finger instead of the voice; it goes the same way as words.

use serde::{Deserialize, Serialize};

use crate::act::{Act, End};
use crate::ear::Ear;

/// One tap.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Tap {
    /// An end is opened.
    OpenEnd(End),
    /// A comb not met before is taken in hand.
    Meet {
        /// Its number, where it is known.
        bar: Option<u32>,
    },
    /// A comb met before is taken in hand again, by the order met. One that was not met does nothing.
    BackTo(usize),
    /// Something about the comb in hand, or about the visit. Without a comb in hand, what is about
    /// combs does nothing.
    Tell(Act),
}

impl Ear<'_> {
    pub(crate) fn tapped(&mut self, tap: &Tap) {
        const RULE: &str = "tap";
        match tap {
            Tap::OpenEnd(end) => self.open_end(RULE, Some(*end), &[]),
            Tap::Meet { bar } => match bar.and_then(|number| self.bar_index(number)) {
                Some(comb) => self.back_to(vec![comb]),
                None => self.meet(RULE, &[*bar], &[]),
            },
            Tap::BackTo(comb) if *comb < self.state.visit.combs.len() => self.back_to(vec![*comb]),
            Tap::BackTo(_)
            | Tap::Tell(Act::CombMet { .. } | Act::EndOpened(_) | Act::TakenBack) => {}
            Tap::Tell(act) => self.tell(RULE, act),
        }
    }

    fn tell(&mut self, rule: &'static str, act: &Act) {
        let comb = self.state.hand.last().copied();
        if of_the_visit(act) {
            self.note(rule, act.clone(), comb, &[]);
            if *act == Act::QueenSeen {
                self.state.visit.queen_on = comb;
            }
        } else if let Some(comb) = comb {
            // of several in hand the screen shows the last
            self.back_to(vec![comb]);
            self.note(rule, act.clone(), Some(comb), &[]);
        }
    }
}

/// Acts that are not about a comb.
const fn of_the_visit(act: &Act) -> bool {
    matches!(
        act,
        Act::QueenSeen
            | Act::EggsSeen
            | Act::QueenCells(_)
            | Act::Temperature(_)
            | Act::Mites { .. }
            | Act::Fed { .. }
            | Act::Closed(_)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Listener;
    use crate::act::{Decision, Side};

    #[test]
    fn taps_and_words_go_one_way() {
        let mut spoken = Listener::new();
        for phrase in [
            "opened the right end",
            "bar twelve",
            "three quarters capped this side",
            "half on the other side",
            "take it",
        ] {
            spoken.hear(phrase);
        }
        let mut tapped = Listener::new();
        for tap in [
            Tap::OpenEnd(End::Right),
            Tap::Meet { bar: Some(12) },
            Tap::Tell(Act::Capped(Side::This, 0.75)),
            Tap::Tell(Act::Capped(Side::Other, 0.5)),
            Tap::Tell(Act::Decided(Some(Decision::Take))),
        ] {
            assert_eq!(tapped.tap(&tap).acts.len(), 1, "{tap:?}");
        }
        assert_eq!(spoken.visit(), tapped.visit());
        // and one after the other
        tapped.hear("next one all brood");
        assert_eq!(tapped.visit().combs.len(), 2);
        tapped.tap(&Tap::BackTo(0));
        tapped.hear("leave that one");
        assert_eq!(tapped.visit().combs[0].decision, Some(Decision::Leave));
    }

    #[test]
    fn a_tap_without_a_comb_in_hand_tells_of_none() {
        let mut listener = Listener::new();
        assert_eq!(listener.tap(&Tap::Tell(Act::Turned)).acts, []);
        assert_eq!(listener.tap(&Tap::BackTo(3)).acts, []);
        assert_eq!(
            listener.tap(&Tap::Tell(Act::Temperature(22.0))).acts.len(),
            1
        );
    }

    #[test]
    fn a_bar_met_twice_is_one_comb() {
        let mut listener = Listener::new();
        listener.tap(&Tap::Meet { bar: Some(7) });
        listener.tap(&Tap::Meet { bar: Some(8) });
        listener.tap(&Tap::Meet { bar: Some(7) });
        assert_eq!(listener.visit().combs.len(), 2);
        assert_eq!(listener.in_hand(), Some(0));
    }
}
