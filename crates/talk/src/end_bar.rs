//! "left end bar ten": the end that is opened, and the bar by its number; not "the end bar" of it.

use crate::concept::Concept as C;
use crate::mark::Mark;
use crate::token::Token;

/// Parts "end bar" where a side stands right before it: the end belongs to the side. With a number
/// the rest names the bar; with none it is the first comb of that end.
pub(crate) fn end_and_bar(tokens: &[Token<'_>], marks: &[Mark]) -> Vec<Mark> {
    let word = |i: usize| tokens.get(i).map_or("", |t| &*t.text);
    let mut out: Vec<Mark> = Vec::with_capacity(marks.len() + 1);
    for (at, m) in marks.iter().enumerate() {
        let sided = out
            .last()
            .is_some_and(|side| matches!(side.concept, C::Left | C::Right) && side.to == m.from);
        let end_bar = m.concept == C::First
            && m.to == m.from + 2
            && word(m.from) == "end"
            && matches!(word(m.from + 1), "bar" | "comb");
        if !(sided && end_bar) {
            out.push(*m);
            continue;
        }
        let numbered = marks
            .get(at + 1)
            .is_some_and(|n| n.from == m.to && matches!(n.concept, C::Num | C::Number));
        let named = match word(m.from + 1) {
            _ if !numbered => C::First,
            "bar" => C::Bar,
            _ => C::Comb,
        };
        out.push(Mark::of_words(C::End, m.from, m.from + 1));
        out.push(Mark::of_words(named, m.from + 1, m.to));
    }
    out
}
