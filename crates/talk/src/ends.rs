//! Which end is opened.

use crate::act::End;
use crate::concept::Concept as C;
use crate::ear::Ear;
use crate::mark::Mark;

impl Ear<'_> {
    /// Hears "left end", "in from the right", "the other end now"; gives the marks it did not use.
    pub(crate) fn ends(&mut self, mut marks: Vec<Mark>) -> Vec<Mark> {
        // "first the right side": no face, where no comb was met
        for m in &mut marks {
            let face = matches!(m.concept, C::This | C::Other);
            if face && self.state.visit.combs.is_empty() && self.said(m, "side") {
                m.concept = match (self.said(m, "left"), self.said(m, "right")) {
                    (true, false) => C::Left,
                    (false, true) => C::Right,
                    _ => m.concept,
                };
            }
        }
        let last = self.named_last(&marks);
        let Some((from, to, end)) = self
            .find_end(&marks[last..])
            .map(|(from, to, end)| (if last > 0 { 0 } else { from }, to + last, end))
            .or_else(|| (last > 0).then(|| (0, last + 1, Some(side(&marks[last])))))
        else {
            return marks;
        };
        // "right", a phrase by itself after the end was said: the keeper's word for "now then"
        let filler = self.tokens.len() == 1
            && end == Some(End::Right)
            && !self.correcting
            && matches!(self.state.visit.ends.as_slice(), [Some(_)]);
        if filler {
            return without(marks, from, to);
        }
        if self.state.visit.combs.is_empty() && end.is_some() {
            // no comb met yet: what was said before was no end opened
            self.state.visit.ends.clear();
        }
        let first = self.state.visit.ends.is_empty();
        if self.closing_talk(&marks) && !first {
            return without(marks, from, to);
        }
        let end = end.or_else(|| self.opposite());
        if first || self.state.visit.ends.last() != Some(&end) && Self::switches(&marks, from) {
            let words = marks[from..to].to_vec();
            self.open_end(if first { "end opened" } else { "end turned" }, end, &words);
        }
        without(marks, from, to)
    }

    /// "left or right, well the right", "left end, no, the right": before the first comb, the end
    /// that is named last is the one; from which mark on.
    fn named_last(&self, marks: &[Mark]) -> usize {
        let end = |m: &Mark| matches!(m.concept, C::Left | C::Right) && !self.where_something_is(m);
        // "because the left's all nettles"
        let told = marks
            .iter()
            .position(|m| m.concept == C::But && self.word(m.from) != "but")
            .unwrap_or(marks.len());
        let ends: Vec<usize> = (0..told).filter(|&i| end(&marks[i])).collect();
        let (Some(&first), Some(&last)) = (ends.first(), ends.last()) else {
            return 0;
        };
        let doubt = (marks[first].to..marks[last].from)
            .any(|i| matches!(self.word(i), "or" | "no" | "wait" | "nope"));
        let named = |i: usize| {
            marks.get(i + 1).is_some_and(|m| m.concept == C::End)
                || self.word(marks[i].from.wrapping_sub(1)) == "the"
        };
        if self.state.visit.combs.is_empty() && doubt && named(last) {
            last
        } else {
            0
        }
    }

    fn find_end(&self, marks: &[Mark]) -> Option<(usize, usize, Option<End>)> {
        for (i, m) in marks.iter().enumerate() {
            let end = match m.concept {
                C::Left => Some(End::Left),
                C::Right => Some(End::Right),
                C::HiveSide if !self.state.visit.ends.is_empty() => {
                    // "the other side of the hive the right side": the second name is surer
                    if marks[i..]
                        .iter()
                        .any(|m| matches!(m.concept, C::Left | C::Right))
                    {
                        continue;
                    }
                    return Some((i, i + 1, None));
                }
                _ => continue,
            };
            if self.where_something_is(m) {
                continue;
            }
            // "the left end's propped against the fence"
            let told = |n: &Mark| self.word(n.to) == "'s" && !self.word(n.to + 1).is_empty();
            let named = marks
                .get(i + 1)
                .is_some_and(|n| n.concept == C::End && n.from <= m.to + 1 && !(told(n) && i > 0));
            let side_word = self.said(m, "side") || self.said(m, "hand");
            let opened = marks[..i].iter().any(|o| o.concept == C::OpenEnd)
                || marks.get(i + 1).is_some_and(|o| o.concept == C::OpenEnd);
            let walled = marks[..i]
                .iter()
                .rev()
                .take(3)
                .any(|o| matches!(o.concept, C::AttachedYes | C::AttachedNo | C::StraightNo));
            let first = self.state.visit.ends.is_empty() || self.state.visit.combs.is_empty();
            let discourse = m.concept == C::Right
                && i == 0
                && !named
                && !side_word
                && self.word(m.from.wrapping_sub(1)) != "the";
            let detail = self.state.hand_in_detail(marks) && !(named && leads_to_a_comb(marks, i));
            if walled || discourse && self.tokens.len() > 1 || detail {
                continue;
            }
            let preposition = m.from > 0
                && matches!(
                    self.word(m.from - 1),
                    "from" | "the" | "at" | "on" | "to" | "by" | "in"
                );
            // "the other side of the hive the right side", "other end now that's the left"
            let turned = marks[..i].iter().any(|o| o.concept == C::HiveSide)
                || !first && side_word && self.walks(m)
                || !first && self.tokens.len() <= 5 && self.turns(m);
            let bare = first
                && self.state.visit.combs.is_empty()
                && (self.tokens.len() == 1
                    || preposition
                        && self.any_before(
                            m,
                            &[
                                "start", "begin", "heading", "head", "enter", "entered", "go",
                                "going", "in", "come", "coming", "work", "working", "at", "from",
                            ],
                        )
                    || preposition && self.word(m.to) == "today"
                    || preposition && self.put_right(m)
                    || preposition && self.word(m.to) == "one" && self.answers(m)
                    || m.to == self.tokens.len()
                        && (self.any_before(m, &["begin", "start", "enter", "open"])
                            || self.plainly_named(m))
                    || i > 0 && marks[i - 1].concept == C::Stop && self.word(m.from - 1) == ":"
                    || i > 1 && marks[i - 1].concept == C::Stop && marks[i - 2].concept == C::End);
            if bare {
                return Some((i, i + 1, end));
            }
            let told = opened && (preposition || side_word || first);
            if named || told || turned || first && side_word {
                let to = if named { i + 2 } else { i + 1 };
                return Some((i, to, end));
            }
            if preposition
                && first
                && self.word(m.from.saturating_sub(1)) != "on"
                && (self.word(m.from - 1) == "from"
                    || m.from > 1 && self.word(m.from - 2) == "from")
            {
                return Some((i, i + 1, end));
            }
        }
        None
    }

    /// "right, the left one": which end it is, and nothing before it.
    fn answers(&self, m: &Mark) -> bool {
        (0..m.from).all(|i| {
            matches!(
                self.word(i),
                "the"
                    | "right"
                    | "okay"
                    | "so"
                    | "well"
                    | "yes"
                    | "yeah"
                    | "it"
                    | "'s"
                    | "is"
                    | "this"
            )
        })
    }

    /// "no, the right": after an end was said, before any comb was met.
    fn put_right(&self, m: &Mark) -> bool {
        let no = (0..m.from).any(|i| matches!(self.word(i), "no" | "sorry" | "wait" | "nope"));
        let only = (0..m.from).all(|i| {
            matches!(
                self.word(i),
                "no" | "sorry"
                    | "wait"
                    | "nope"
                    | "the"
                    | ","
                    | "hang"
                    | "on"
                    | "i"
                    | "mean"
                    | "'s"
                    | "it"
            )
        });
        !self.state.visit.ends.is_empty() && no && only
    }

    /// "which is the left", "the left it is".
    fn plainly_named(&self, m: &Mark) -> bool {
        let before = |n: usize| m.from.checked_sub(n).map_or("", |i| self.word(i));
        matches!(before(1), "is" | "be" | "'s")
            || before(1) == "the" && !matches!(before(2), "on" | "to" | "" | "my")
    }

    /// "now the right", "left side now": nothing else is said.
    fn turns(&self, m: &Mark) -> bool {
        let turn = [
            "now", "round", "around", "over", "then", "next", "swap", "switch", "other",
        ];
        let told = self.tokens.iter().any(|t| turn.contains(&&*t.text));
        let article = m.from > 0 && matches!(self.word(m.from - 1), "the" | "to");
        told && (article || m.to > m.from + 1)
    }

    /// "now we go round to the left side".
    fn walks(&self, m: &Mark) -> bool {
        self.any_before(
            m,
            &[
                "round",
                "around",
                "go",
                "going",
                "walk",
                "walking",
                "move",
                "moving",
                "over",
                "switch",
                "switching",
                "swap",
                "now",
                "try",
                "peek",
                "look",
                "start",
                "open",
                "begin",
                "across",
                "turn",
                "then",
            ],
        )
    }

    fn any_before(&self, m: &Mark, words: &[&str]) -> bool {
        (0..m.from).any(|i| words.contains(&self.word(i)))
    }

    fn opposite(&self) -> Option<End> {
        match self.state.visit.ends.last() {
            Some(Some(End::Left)) => Some(End::Right),
            Some(Some(End::Right)) => Some(End::Left),
            _ => None,
        }
    }

    /// A second end is opened only when the phrase is about that and not about a comb.
    fn switches(marks: &[Mark], from: usize) -> bool {
        // "third brood staying so across to the right end": what was said before is another clause
        let clause = marks[..from]
            .iter()
            .rposition(|m| matches!(m.concept, C::But | C::Then))
            .map_or(0, |i| i + 1);
        !marks[clause..from].iter().any(|m| {
            matches!(
                m.concept,
                C::Bar | C::Ord | C::Capped | C::Share | C::Brood | C::Take | C::Leave
            )
        })
    }

    fn closing_talk(&self, marks: &[Mark]) -> bool {
        self.state.closing
            || marks
                .iter()
                .any(|m| matches!(m.concept, C::Close | C::FromNest))
    }
}

impl crate::ear::State {
    /// The phrase describes a comb: "left" and "right" are walls or places on it.
    fn hand_in_detail(&self, marks: &[Mark]) -> bool {
        !self.hand.is_empty()
            && marks
                .iter()
                .any(|m| matches!(m.concept, C::Capped | C::Uncapped | C::AttachedYes | C::Bar))
    }
}

/// "right end bar two half capped": the end opens the phrase, and a comb of it is told at once.
fn leads_to_a_comb(marks: &[Mark], at: usize) -> bool {
    let first = marks[..at].iter().all(|m| {
        matches!(
            m.concept,
            C::But | C::Then | C::And | C::Settled | C::OpenEnd | C::Stop
        )
    });
    let comb = marks[at + 2..].iter().find(|m| m.concept != C::Stop);
    first && comb.is_some_and(|m| matches!(m.concept, C::Bar | C::Ord | C::First))
}

fn side(m: &Mark) -> End {
    if m.concept == C::Left {
        End::Left
    } else {
        End::Right
    }
}

fn without(mut marks: Vec<Mark>, from: usize, to: usize) -> Vec<Mark> {
    marks.drain(from..to);
    marks
}
