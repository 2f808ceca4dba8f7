//! Which part of a phrase is not about this hive today: hypotheticals, stories, plans, advice.

use crate::concept::Concept as C;
use crate::mark::Mark;
use crate::token::Token;

/// Leaves out the marks that must not count. Each stretch left out becomes one [`C::Stop`].
pub(crate) fn in_scope(tokens: &[Token<'_>], marks: &[Mark]) -> Vec<Mark> {
    let mut out: Vec<Mark> = Vec::with_capacity(marks.len());
    let mut clause = 0;
    let mut at = 0;
    while at < marks.len() {
        let mark = marks[at];
        match mark.concept {
            C::If => {
                // "if it was me I would": the words after it, and a "would" before it
                if out[clause..].iter().any(|m| m.concept == C::Would) {
                    out.truncate(clause);
                }
                let bare = until_told(tokens, marks, at);
                at = bare.unwrap_or_else(|| skip(marks, at, true));
                out.push(stop(mark));
                clause = out.len();
                continue;
            }
            C::Would | C::Past | C::Elsewhere | C::People | C::Advice => {
                out.truncate(clause);
                at = skip(marks, at, false);
                out.push(stop(mark));
                clause = out.len();
                continue;
            }
            C::Future => {
                // "leave that for next week" is said today; "I'll take it next week" is not
                let kept: Vec<Mark> = out[clause..]
                    .iter()
                    .copied()
                    .filter(|m| keeps(m.concept))
                    .collect();
                let leave = kept.iter().any(|m| m.concept == C::Leave);
                out.truncate(clause);
                if leave {
                    out.extend(kept);
                }
                at = skip(marks, at, false);
                out.push(stop(mark));
                clause = out.len();
                continue;
            }
            C::Stop | C::But => {
                out.push(mark);
                clause = out.len();
            }
            _ => out.push(mark),
        }
        at += 1;
    }
    out
}

/// "I'll straighten it when it's warmer leave it": a plain order ends the clause of time.
fn until_told(tokens: &[Token<'_>], marks: &[Mark], at: usize) -> Option<usize> {
    let time = tokens
        .get(marks[at].from)
        .is_some_and(|t| matches!(&*t.text, "when" | "once" | "till" | "until"));
    let order = |m: &Mark| {
        m.concept == C::Leave
            && tokens.get(m.from).is_some_and(|t| {
                matches!(
                    &*t.text,
                    "leave" | "back" | "put" | "stays" | "it" | "that" | "pop" | "so"
                )
            })
    };
    let rest = &marks[at + 1..];
    let found = rest.iter().position(order)?;
    let would = rest[..found]
        .iter()
        .any(|m| matches!(m.concept, C::Would | C::Future | C::If | C::Take));
    (time && !would && found + 1 == rest.len()).then_some(at + 1 + found)
}

fn keeps(concept: C) -> bool {
    concept != C::Take
}

fn stop(mark: Mark) -> Mark {
    Mark {
        concept: C::Stop,
        value: 0.0,
        phrase: None,
        ..mark
    }
}

/// "if it were full I'd take it but it stays": what is said after the but is meant.
fn meant(marks: &[Mark], but: usize) -> bool {
    let rest = &marks[but + 1..];
    let decided = |m: &Mark| matches!(m.concept, C::Take | C::Leave | C::Aside);
    let not_meant = |m: &Mark| {
        matches!(
            m.concept,
            C::Would | C::If | C::Future | C::Past | C::People | C::Advice | C::Elsewhere
        )
    };
    rest.iter().any(decided) && !rest.iter().any(not_meant)
}

/// The place after the clause that begins at `at`.
fn skip(marks: &[Mark], at: usize, whole: bool) -> usize {
    let mut i = at + 1;
    while i < marks.len() {
        let ends = match marks[i].concept {
            C::But => !whole || meant(marks, i),
            C::Stop => !whole || marks[i].value > 0.5,
            _ => false,
        };
        if ends {
            break;
        }
        i += 1;
    }
    i
}
