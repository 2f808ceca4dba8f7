//! Take, leave, aside: for the comb in hand or the ones named.

use crate::act::{Act, Decision};
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;
use crate::opening::Named;
use crate::verbs::MANNER;

/// A decision as said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Said {
    Take,
    Leave,
    Aside,
    Lost,
}

impl Ear<'_> {
    /// "leave bar two and bar three": a decision with combs named after it. Gives how many marks.
    pub(crate) fn decision_ahead(&mut self, marks: &[Mark], at: usize) -> Option<usize> {
        let said = said(marks, at)?;
        let mut i = at + 1;
        let mut combs = Vec::new();
        loop {
            // "in the crate three combs, bars three and five and seventeen": how many, and then which
            let count = combs.is_empty()
                && marks.get(i).is_some_and(|m| m.concept == C::Num)
                && marks.get(i + 1).is_some_and(|m| m.concept == C::Comb)
                && marks
                    .get(i + 2)
                    .is_some_and(|m| matches!(m.concept, C::Bar | C::Number));
            if count {
                i += 2;
            }
            while marks.get(i).is_some_and(|m| {
                matches!(m.concept, C::Then | C::And | C::AfterAll | C::That)
                    || m.concept == C::Stop
                        && !combs.is_empty()
                        && marks.get(i + 1).is_some_and(|n| n.from <= m.to + 1)
                        && m.from <= marks[i - 1].to
            }) {
                i += 1;
            }
            let named = self
                .named(marks, i)
                .or_else(|| self.known_number(marks, i))
                .or_else(|| self.known_ordinal(marks, i));
            let Some((used, named)) = named else { break };
            // "leaving the next too", and what it is comes after
            let new = match named {
                Named::Next(1) | Named::Last => self.state.verdict_first,
                // "leave the second": the one in hand has its verdict
                Named::Ordinal(n) => {
                    let begins = marks[..at].iter().all(|m| {
                        matches!(m.concept, C::And | C::Then | C::But)
                            || m.concept == marks[at].concept
                    });
                    begins
                        && n == self.here() + 1
                        && (self.state.verdict_first
                            || self.comb().is_none_or(|c| c.decision.is_some()))
                }
                _ => false,
            };
            if new && combs.is_empty() {
                self.state.verdict_first = true;
                self.meet("verdict first", &[None], &marks[at..i + used]);
                combs.clone_from(&self.state.hand);
                i += used;
                continue;
            }
            let Some(mut found) = self.known(&named) else {
                break;
            };
            combs.append(&mut found);
            i += used;
        }
        // "bar two comes off and bar one stays": each has its own verb
        let own_verb = at > 0
            && matches!(marks[at - 1].concept, C::Num | C::Ord)
            && marks.get(at + 1).is_some_and(|m| {
                matches!(
                    m.concept,
                    C::And | C::Then | C::But | C::Stop | C::Num | C::Ord
                )
            })
            && marks.get(i).is_some_and(|m| m.concept.is_verdict());
        if combs.is_empty() || own_verb {
            return None;
        }
        // "go back to the one before": where the talk goes
        let goes_to = said == Said::Leave
            && ["go", "going"].iter().any(|w| self.said(&marks[at], w))
            && self.word(marks[at].to) == "to";
        if !goes_to {
            self.settle("decided by name", said, &combs, &marks[at..i]);
        }
        self.state.reviewing |= combs != self.state.hand;
        self.back_to(combs);
        Some(i - at)
    }

    /// A number that is on a bar met before: "leave sixteen".
    fn known_number(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let n = crate::opening::whole(marks.get(at)?)?;
        let unit = marks.get(at + 1).is_some_and(|m| {
            matches!(
                m.concept,
                C::Kg | C::Pound | C::Mm | C::Inch | C::Degrees | C::Comb
            )
        });
        // "leave it, two's plenty for us": how many are enough
        let to = marks[at].to;
        let enough = (to..to + 2).any(|i| matches!(self.word(i), "plenty" | "enough"));
        (!unit && !enough && self.bar_index(n).is_some()).then(|| (1, Named::Bars(vec![n])))
    }

    /// "taking the first and leaving the second".
    fn known_ordinal(&self, marks: &[Mark], at: usize) -> Option<(usize, Named)> {
        let m = marks.get(at).filter(|m| m.concept == C::Ord)?;
        let n = m.value as usize;
        let article = m.from > 0 && self.word(m.from - 1) == "the";
        (article && n >= 1 && n <= self.here()).then_some((1, Named::Ordinal(n)))
    }

    /// The combs of a name, if all were met before.
    pub(crate) fn known(&self, named: &Named) -> Option<Vec<usize>> {
        match named {
            Named::Bars(bars) => bars.iter().map(|&b| self.bar_index(b)).collect(),
            Named::Ordinal(n) => self
                .in_group(*n)
                .or_else(|| (*n <= self.here()).then(|| self.state.end_start + n - 1))
                .map(|c| vec![c]),
            Named::Aside
                if self.state.visit.combs.iter().filter(|c| c.aside).count() > 1
                    && self
                        .tokens
                        .iter()
                        .any(|t| matches!(&*t.text, "two" | "both" | "ones" | "maybes")) =>
            {
                let combs = &self.state.visit.combs;
                Some((0..combs.len()).filter(|&c| combs[c].aside).collect())
            }
            Named::Ordinals(all) => Some(
                all.iter()
                    .map(|&n| self.in_group(n).unwrap_or(self.state.end_start + n - 1))
                    .collect(),
            ),
            Named::Aside => self
                .state
                .visit
                .combs
                .iter()
                .rposition(|c| c.aside)
                .map(|c| vec![c]),
            Named::OtherOfTwo => Some(
                self.state
                    .group
                    .iter()
                    .copied()
                    .filter(|c| !self.state.hand.contains(c))
                    .collect(),
            ),
            Named::Previous => self
                .state
                .hand
                .first()
                .and_then(|h| h.checked_sub(1))
                .map(|c| vec![c]),
            Named::Last => self.state.hand.last().map(|&h| vec![h]),
            Named::Next(_) => None,
            Named::FirstFew(n) if self.in_group(*n).is_some() => {
                Some(self.state.group[..*n].to_vec())
            }
            Named::FirstFew(n) => {
                let first = self.state.end_start;
                (*n <= self.here()).then(|| (first..first + n).collect())
            }
        }
    }

    /// Hears the decision of a stretch of talk.
    pub(crate) fn decisions(&mut self, marks: &[Mark]) {
        let verdict =
            |&i: &usize| said(marks, i).is_some_and(|said| !self.no_verdict(marks, i, said));
        if !(0..marks.len()).any(|i| verdict(&i))
            && (0..marks.len()).any(|i| said(marks, i).is_some())
        {
            return;
        }
        let Some(at) = (0..marks.len()).rev().find(verdict) else {
            self.as_well_decided(marks);
            self.last_word(marks);
            self.last_word_back(marks);
            self.all_without_verb(marks);
            self.only_back(marks);
            self.only_no(marks);
            self.only_comes(marks);
            return;
        };
        let Some(mut last) = said(marks, at) else {
            return;
        };
        let mut at = at;
        // "having that, it's on the stand", "broke off and it's laying on the floor": where it lies
        if last == Said::Aside && marks[at].concept == C::Aside {
            let lies = ["on", "by", "against"]
                .iter()
                .any(|w| self.said(&marks[at], w));
            let gone = (0..at)
                .rev()
                .find(|&i| matches!(said(marks, i), Some(Said::Take | Said::Lost)));
            let doubt = |i: usize| {
                marks[i..at]
                    .iter()
                    .any(|m| matches!(m.concept, C::But | C::Unsure | C::Not))
            };
            if let Some(i) = gone.filter(|&i| lies && !doubt(i)) {
                at = i;
                last = said(marks, i).unwrap_or(last);
            }
        }
        // "tempting but no"
        if last == Said::Aside
            && let [.., but, no] = marks
            && but.concept == C::But
            && no.concept == C::Not
            && self.word(no.from) == "no"
            && no.to == self.tokens.len()
        {
            let combs = self.state.hand.clone();
            self.settle("no", Said::Leave, &combs, &[*no]);
            return;
        }
        if last == Said::Aside
            && self.only_wonders(&marks[at])
            && self.comb().is_some_and(|c| c.decision.is_some())
        {
            return;
        }
        if last == Said::Aside && self.a_thing_put_down(marks, at) {
            return;
        }
        for m in marks.iter().filter(|m| m.concept == C::Aside) {
            self.put_on(&[*m]);
        }
        // "the first one I'm having and the others stay"
        let rest = marks[..at]
            .iter()
            .rposition(|m| matches!(m.concept, C::All | C::Rest));
        if last == Said::Leave
            && let Some(rest) = rest
            && let Some(take) = (0..rest).find(|&i| said(marks, i) == Some(Said::Take))
        {
            let hand = self.state.hand.clone();
            self.settle("decided", Said::Take, &hand, &marks[take..=take]);
        }
        let mut combs = self.targets(marks, last);
        if last == Said::Leave {
            // what fell from its bar hangs no more
            combs.retain(|&c| !self.state.visit.combs[c].broke);
        }
        self.settle("decided", last, &combs, &marks[at..=at]);
    }

    /// "that as well", "him too": decided as the comb before.
    fn as_well_decided(&mut self, marks: &[Mark]) {
        let also = self
            .tokens
            .iter()
            .any(|t| matches!(&*t.text, "too" | "also" | "likewise"))
            || self
                .tokens
                .windows(2)
                .any(|w| w[0].is("as") && w[1].is("well"));
        let only = marks.iter().all(|m| {
            matches!(
                m.concept,
                C::That | C::But | C::And | C::Then | C::Stop | C::Comb | C::BothOf | C::Same
            ) || m.concept == C::Word && matches!(self.word(m.from), "keeping" | "doing" | "same")
        }) && marks.iter().any(|m| m.concept == C::That)
            && self.tokens.len() <= 7;
        let open = self
            .comb()
            .is_some_and(|c| c.decision.is_none() && !c.aside && c.described());
        let first = self.state.hand.first().copied().unwrap_or(0);
        let before = self.state.visit.combs[..first]
            .last()
            .and_then(|c| c.decision);
        if let Some(decision) = before.filter(|_| also && only && open) {
            let combs = self.state.hand.clone();
            self.decide("as well", Some(decision), &combs, marks);
        }
    }

    /// "all sealed both sides yes", "half sealed no": the last word is the verdict.
    fn last_word(&mut self, marks: &[Mark]) {
        let Some(last) = self.tokens.last() else {
            return;
        };
        let told = marks.iter().any(|m| {
            matches!(
                m.concept,
                C::Share | C::Both | C::Brood | C::SealedBrood | C::Unripe | C::Pollen
            )
        });
        let said = match &*last.text {
            "yes" | "yep" | "yup" => Said::Take,
            "no" | "nope" => Said::Leave,
            _ => return,
        };
        let beside = self
            .tokens
            .len()
            .checked_sub(2)
            .map_or("", |i| self.word(i));
        let open = self
            .comb()
            .is_some_and(|c| c.decision.is_none() && !c.aside);
        let plain = !matches!(
            beside,
            "capped" | "sealed" | "is" | "or" | "say" | "says" | "closed"
        );
        if told && open && plain && self.tokens.len() > 3 {
            let combs = self.state.hand.clone();
            self.settle("last word", said, &combs, marks);
        }
    }

    /// "number two no also", "still wet so no": a verdict on what was not yet settled.
    fn only_no(&mut self, marks: &[Mark]) {
        let Some(at) = marks.iter().rposition(|m| m.concept == C::Not) else {
            return;
        };
        // "pollen", a pause, "no": she is not there
        if self.state.hunting && !self.state.visit.queen_seen {
            return;
        }
        let no = &marks[at];
        let last = marks[at + 1..]
            .iter()
            .all(|m| matches!(m.concept, C::Stop | C::Word | C::That | C::Then))
            && marks.len() <= at + 2;
        // "set aside", a pause, "no": that is taken back, and nothing decided
        let just = self
            .state
            .last_acts
            .iter()
            .any(|(_, act)| matches!(act, Act::Decided(None)));
        let verdict = at == 0
            && self.acts.iter().all(|n| !matches!(n.act, Act::Decided(_)))
            && self.comb().is_some_and(|c| c.aside)
            || at > 0
                && marks[at - 1].concept == C::But
                && matches!(self.word(marks[at - 1].from), "so" | "but")
            || self.tokens.len() <= 2
                && self
                    .state
                    .last_acts
                    .iter()
                    .any(|(_, a)| matches!(a, Act::Capped(..)));
        let verdict = verdict && !just;
        let open = self
            .comb()
            .is_some_and(|c| c.decision.is_none() && (c.described() || c.aside));
        if self.word(no.from) == "no" && no.to == no.from + 1 && last && verdict && open {
            let combs = self.state.hand.clone();
            self.settle("no", Said::Leave, &combs, &marks[at..=at]);
        }
    }

    /// "bar nine comes": said of a comb called by name.
    fn only_comes(&mut self, marks: &[Mark]) {
        let [m] = marks else { return };
        let verb = m.concept == C::Word
            && matches!(self.word(m.from), "come" | "comes" | "coming" | "going");
        if verb && self.comb().is_some_and(|c| c.described() || c.aside) {
            let combs = self.state.hand.clone();
            self.settle("comes", Said::Take, &combs, &marks[..1]);
        }
    }

    /// "let me think", "maybe": takes back no decision that was clear.
    fn only_wonders(&self, m: &Mark) -> bool {
        m.concept == C::Unsure
            || m.concept == C::Aside
                && [
                    "think", "see", "decide", "perhaps", "possibly", "possible", "mind",
                ]
                .iter()
                .any(|w| self.said(m, w))
    }

    /// "brood back", "capped none either side back": a verdict where no face is told.
    fn last_word_back(&mut self, marks: &[Mark]) {
        let (marks, back) = match marks {
            // "so quickly back"
            [told @ .., how, back]
                if how.concept == C::Word && MANNER.contains(&self.word(how.from)) =>
            {
                (told, back)
            }
            [told @ .., back] => (told, back),
            [] => return,
        };
        let marks = match marks {
            [told @ .., so] if so.concept == C::But => told,
            _ => marks,
        };
        let Some(before) = marks.last() else { return };
        // "nectar the back": a face
        let face = self.word(back.from.wrapping_sub(1)) == "the";
        let plain = back.concept == C::Other
            && !face
            && back.to == back.from + 1
            && self.word(back.from) == "back"
            && back.to == self.tokens.len()
            && back.from <= before.to + 3;
        let clause = back.concept == C::Other
            && self.word(back.from) == "back"
            && back.to == self.tokens.len()
            && before.concept == C::Stop;
        let plain = plain || clause;
        let told = clause
            || matches!(
                before.concept,
                C::Brood
                    | C::SealedBrood
                    | C::Drone
                    | C::Eggs
                    | C::Pollen
                    | C::Empty
                    | C::Both
                    | C::NewComb
                    | C::Unripe
            );
        if plain && told {
            let combs = self.state.hand.clone();
            self.state.face = None;
            self.settle("back", Said::Leave, &combs, &[*back]);
        }
    }

    /// "back", alone: it goes back.
    fn only_back(&mut self, marks: &[Mark]) {
        // "back up to bar seven": where the talk goes
        let goes_to = |m: &Mark| {
            self.word(m.to) == "to" || self.word(m.to) == "up" && self.word(m.to + 1) == "to"
        };
        let back = marks.iter().position(|m| {
            m.concept == C::Other
                && m.to == m.from + 1
                && self.said(m, "back")
                && !goes_to(m)
                && !matches!(
                    self.word(m.from.wrapping_sub(1)),
                    "the" | "on" | "over" | "round" | "its" | "around" | "at"
                )
        });
        let alone = marks.iter().all(|m| {
            matches!(
                m.concept,
                C::Other
                    | C::Both
                    | C::BothOf
                    | C::Stop
                    | C::But
                    | C::That
                    | C::Word
                    | C::Then
                    | C::And
                    | C::Comb
            )
        });
        // "back nearly", a pause, "nearly all"
        let begun = marks
            .last()
            .is_some_and(|m| matches!(self.word(m.to - 1), "nearly" | "almost" | "about" | "say"));
        // "front two thirds, back": the face, where the other was called the front
        let turns = matches!(self.word(0), "then" | "now" | "next") && self.tokens.len() == 2;
        let face = (self.state.says_front && marks.len() == 1 || turns || begun)
            && self
                .comb()
                .is_some_and(|c| c.this.is_some() && c.other.is_none() && c.decision.is_none());
        if face && back.is_some() {
            self.state.back_open = true;
            self.state.face = Some(crate::ear::Faces::Other);
            return;
        }
        if let Some(at) = back.filter(|_| alone && marks.len() <= 3) {
            let mut combs = self.state.hand.clone();
            let n = self.state.visit.combs.len();
            if self.tokens.iter().any(|t| t.is("both")) && combs.len() == 1 && self.here() >= 2 {
                combs = vec![n - 2, n - 1];
            }
            let perhaps_face = marks.len() == 1
                && self
                    .comb()
                    .is_some_and(|c| c.this.is_some() && c.other.is_none() && c.decision.is_none());
            self.state.face = None;
            self.settle("goes back", Said::Leave, &combs, &marks[at..=at]);
            // "a quarter capped this side", "back", "a little": the face after all
            self.state.back_open = perhaps_face;
        }
    }

    /// "not taking anything today", "all the rest": they stay.
    fn all_without_verb(&mut self, marks: &[Mark]) {
        let all = marks
            .iter()
            .position(|m| m.concept == C::All && self.means_none(m));
        if let Some(at) = all {
            let combs = self.open_combs();
            self.settle("all stay", Said::Leave, &combs, &marks[at..=at]);
        }
    }

    pub(crate) fn means_none(&self, mark: &Mark) -> bool {
        [
            "keep", "leave", "nobody", "stay", "stays", "staying", "taking", "take", "back",
            "taken", "out", "off", "harvest",
        ]
        .iter()
        .any(|w| self.said(mark, w))
            || ["not", "nothing", "no", "none"]
                .iter()
                .any(|w| self.said(mark, w))
    }

    fn targets(&self, marks: &[Mark], said: Said) -> Vec<usize> {
        let has = |c: C| marks.iter().any(|m| m.concept == c);
        let hand = self.state.hand.clone();
        let lot = !has(C::Capped)
            && !has(C::Honey)
            && !has(C::This)
            && !has(C::Other)
            && self.says_all(marks);
        // "put the rest back"
        let rest = marks
            .iter()
            .any(|m| m.concept == C::Leave && self.said(m, "rest") && m.to > m.from + 1);
        let whole = has(C::All) || lot || rest || has(C::Rest) && Self::rest_decided(marks);
        if whole && said == Said::Leave && !has(C::Both) {
            return self.open_combs();
        }
        if has(C::All)
            && said == Said::Take
            && hand.len() < 2
            && marks.iter().any(|m| {
                m.concept == C::All
                    && (self.said(m, "three")
                        || self.said(m, "four")
                        || self.said(m, "five")
                        || self.said(m, "six")
                        || self.said(m, "those")
                        || self.said(m, "these")
                        || self.said(m, "them")
                        || self.said(m, "everything"))
            })
        {
            let open: Vec<usize> = self
                .open_combs()
                .into_iter()
                .filter(|&c| self.state.visit.combs[c].decision.is_none())
                .collect();
            return open;
        }
        if self.both_meant(marks) && hand.len() < 2 {
            let combs = &self.state.visit.combs;
            let aside: Vec<usize> = (0..combs.len()).filter(|&c| combs[c].aside).collect();
            let n = combs.len();
            if aside.len() == 2 {
                return aside;
            }
            let mut pair: Vec<usize> = (n.saturating_sub(2).max(self.state.end_start)..n).collect();
            // "so that pair stays": the comb before, which was taken, is none of it
            if said == Said::Leave && !self.correcting && pair.len() == 2 {
                pair.retain(|&c| c + 1 == n || combs[c].decision != Some(Decision::Take));
            }
            return pair;
        }
        hand
    }

    /// "leave both", "the pair of them stay": two combs, not two faces.
    fn both_meant(&self, marks: &[Mark]) -> bool {
        let has = |c: C| marks.iter().any(|m| m.concept == c);
        let faces =
            has(C::Capped) || has(C::Share) || has(C::Uncapped) || has(C::Brood) || has(C::Honey);
        let both = marks
            .iter()
            .any(|m| m.concept == C::Both && m.to == m.from + 1 && self.said(m, "both"));
        // "it has to come off both bars": one comb
        let bars_of_one = self
            .tokens
            .windows(3)
            .any(|w| w[0].is("off") && w[1].is("both") && w[2].is("bars"));
        let both = both && !bars_of_one;
        let with_verb = marks.iter().any(|m| {
            matches!(m.concept, C::Take | C::Leave)
                && ["both", "two", "pair"].iter().any(|w| self.said(m, w))
        });
        both && !faces || has(C::BothOf) || with_verb
    }

    /// "it's joined on to the next one", "leave the pair of them": the next one is met so.
    pub(crate) fn meets_the_joined(&mut self, marks: &[Mark]) {
        let last = self.state.visit.combs.len().checked_sub(1);
        let hand = self.state.hand.clone();
        let settles = marks
            .iter()
            .any(|m| matches!(m.concept, C::Take | C::Leave));
        if !settles
            || !self.both_meant(marks)
            || last.is_none()
            || self.state.into_next != last
            || hand.last().copied() != last
        {
            return;
        }
        self.state.into_next = None;
        self.meet("joined to the one before", &[None], marks);
        self.note_hand("joined", &Act::Straight(false), marks);
        self.state.hand.splice(0..0, hand);
    }

    /// "leave the rest", not "the rest is nectar, leave it".
    fn rest_decided(marks: &[Mark]) -> bool {
        let rest = marks.iter().position(|m| m.concept == C::Rest);
        let says = |m: &Mark| matches!(m.concept, C::Leave | C::Take | C::Aside);
        let Some((rest, decided)) = rest.zip(marks.iter().rposition(says)) else {
            return true;
        };
        let (a, b) = (rest.min(decided), rest.max(decided));
        !marks[a + 1..b].iter().any(|m| {
            matches!(
                m.concept,
                C::Honey
                    | C::Unripe
                    | C::Open
                    | C::Brood
                    | C::Pollen
                    | C::Empty
                    | C::Capped
                    | C::Uncapped
                    | C::Share
                    | C::Drone
                    | C::Eggs
            )
        })
    }

    /// "leave the lot", "all of that can stay".
    fn says_all(&self, marks: &[Mark]) -> bool {
        let verb = marks.iter().find(|m| m.concept == C::Leave);
        let Some(m) = verb else { return false };
        let near = m.from.saturating_sub(4)..m.to + 3;
        near.clone().any(|i| {
            self.word(i) == "lot" && self.word(i.wrapping_sub(1)) == "the"
                || self.word(i) == "all"
                    && matches!(self.word(i + 1), "of" | "that" | "this" | "these" | "those")
        })
    }

    /// Combs that are not taken.
    fn open_combs(&self) -> Vec<usize> {
        let combs = &self.state.visit.combs;
        (0..combs.len())
            .filter(|&c| combs[c].decision != Some(Decision::Take))
            .collect()
    }

    fn goes_to_a_hive(&self, mark: &Mark) -> bool {
        [
            "hive", "nuc", "nucleus", "split", "over", "across", "colony",
        ]
        .iter()
        .any(|w| self.said(mark, w))
    }

    pub(crate) fn settle(
        &mut self,
        rule: &'static str,
        said: Said,
        combs: &[usize],
        words: &[Mark],
    ) {
        match said {
            Said::Take => {
                self.decide(rule, Some(Decision::Take), combs, words);
                let away = words
                    .iter()
                    .any(|m| m.concept == C::Take && self.goes_to_a_hive(m));
                for &comb in combs.iter().filter(|_| away) {
                    self.state.visit.combs[comb].to_other_hive = true;
                }
            }
            Said::Leave => self.decide(rule, Some(Decision::Leave), combs, words),
            Said::Aside => {
                self.decide("aside", None, combs, words);
            }
            Said::Lost => {
                for &comb in combs {
                    self.note("broke", Act::Broke, Some(comb), words);
                }
            }
        }
    }
}

/// The decision that a mark says, a "not" before it taken into account.
pub(crate) fn said(marks: &[Mark], at: usize) -> Option<Said> {
    // "no I leave it" is no "not"
    let no =
        |m: &Mark| m.concept == C::Not && m.value < 0.5 || m.concept == C::Share && m.value < 0.01;
    let not = at > 0 && no(&marks[at - 1]) && marks[at - 1].to + 1 >= marks[at].from;
    match marks.get(at)?.concept {
        C::Take if not => Some(Said::Leave),
        C::Take => Some(Said::Take),
        C::Leave if not => None,
        C::Leave => Some(Said::Leave),
        // "maybe sixty percent" is a guess at a share
        C::Aside | C::Unsure
            if marks[at].to < marks[at].from + 4
                && marks.get(at + 1).is_some_and(|m| {
                    matches!(m.concept, C::Share | C::Num | C::Other | C::This)
                }) =>
        {
            None
        }
        C::Aside | C::Unsure => Some(Said::Aside),
        // "they have enough honey on the floor"
        C::Lost if at > 0 && marks[at - 1].concept == C::Honey => None,
        C::Lost => Some(Said::Lost),
        _ => None,
    }
}
