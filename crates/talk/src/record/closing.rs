//! The closing order as it was said, and as a row where it is plain which bars are meant.

use hive::entry::{ClosingWord, End, Hanging, Piece};
use hive::{BarId, Hive, Known};

use super::Writing;
use super::bars::Resolved;
use crate::act::{self, Act};
use crate::visit::Visit;

impl Writing<'_> {
    /// The order said, the row if it can be told, and the end of the visit.
    pub(super) fn closing(&mut self, visit: &Visit, told: &Resolved) {
        let phrase = self.transcript.last(|act, _| matches!(act, Act::Closed(_)));
        let phrase = phrase.filter(|_| !visit.closing.is_empty());
        let end = phrase.and_then(|phrase| self.end_closed(phrase));
        let end = end.or(told.ends.last().copied());
        if let (Some(phrase), None) = (phrase, end) {
            // an order is of an end; the words must not be lost for that
            let order: Vec<&str> = visit.closing.iter().map(|word| word.word()).collect();
            let text = format!("closed in this order: {}", order.join(", "));
            self.write(Some(phrase), Known::Note { text });
        }
        if let (Some(phrase), Some(end)) = (phrase, end) {
            let order: Vec<ClosingWord> = visit.closing.iter().map(|w| word(*w)).collect();
            let row = row_said(self.hive, visit, told, end, &order);
            self.write(Some(phrase), Known::ClosingSaid { end, order });
            if let Some((beyond, row)) = row {
                self.write(
                    Some(phrase),
                    Known::EndArranged {
                        end,
                        beyond: Some(beyond),
                        row,
                    },
                );
            }
        }
        let last = self.transcript.phrases.len().checked_sub(1);
        // with the last words, so that taking these back opens the visit again
        self.write(last, Known::VisitClosed {});
    }

    /// "closing up the right end": the end named in the phrases of the closing.
    fn end_closed(&self, phrase: usize) -> Option<End> {
        let near = phrase.saturating_sub(2)..=phrase;
        near.rev().find_map(|at| {
            let words = self.transcript.words(at)?.to_ascii_lowercase();
            let has = |side: &str| words.split(|c: char| !c.is_alphabetic()).any(|w| w == side);
            match (has("left"), has("right")) {
                (true, false) => Some(End::Left),
                (false, true) => Some(End::Right),
                _ => None,
            }
        })
    }
}

const fn word(closing: act::Closing) -> ClosingWord {
    match closing {
        act::Closing::Full => ClosingWord::Full,
        act::Closing::Cut => ClosingWord::Cut,
        act::Closing::Empty => ClosingWord::Empty,
        act::Closing::Shim => ClosingWord::Shim,
        act::Closing::Follower => ClosingWord::Follower,
    }
}

/// The row that the words stand for, outward from the innermost comb met, when each word has exactly
/// one bar that it can mean: as many full combs, cut bars and empty bars said as there are.
fn row_said(
    hive: &Hive,
    visit: &Visit,
    told: &Resolved,
    end: End,
    order: &[ClosingWord],
) -> Option<(BarId, Vec<Piece>)> {
    let from_end = hive.row.bars_from(end);
    let met = |bar: &BarId| told.bars.contains(bar);
    let innermost = from_end.iter().rposition(met)?;
    let edge = from_end[innermost];
    let comb_on = |bar: BarId| {
        told.bars
            .iter()
            .position(|b| *b == bar)
            .map(|c| &visit.combs[c])
    };
    let taken = |bar: BarId| comb_on(bar).map(|c| c.decision == Some(act::Decision::Take));
    let broke = |bar: BarId| comb_on(bar).is_some_and(|comb| comb.broke);
    // the edge stays where it is: a nest comb met last, never one that was taken
    if taken(edge) == Some(true) {
        return None;
    }
    let mut full = Vec::new();
    let mut cut = Vec::new();
    let mut empty = Vec::new();
    for bar in from_end[..innermost].iter().rev() {
        let hanging = hive.bar(*bar)?.hanging;
        match (taken(*bar), hanging) {
            (Some(true), _) if broke(*bar) => empty.push(*bar),
            (Some(true), _) | (None, Hanging::Strip) => cut.push(*bar),
            (Some(false), _) | (None, Hanging::Comb) => full.push(*bar),
            (None, Hanging::Nothing) => empty.push(*bar),
        }
    }
    let said = |word: ClosingWord| order.iter().filter(|w| **w == word).count();
    // empty bars beyond the board are lid, and seldom spoken of
    let lid = empty.len().checked_sub(said(ClosingWord::Empty))?;
    let plain = said(ClosingWord::Full) == full.len() && said(ClosingWord::Cut) == cut.len();
    if !plain || said(ClosingWord::Shim) > 0 {
        return None;
    }
    let follower = hive
        .row
        .pieces()
        .iter()
        .find(|p| matches!(p, Piece::Follower { .. }))
        .cloned();
    let (mut full, mut cut, mut inside) = (full.into_iter(), cut.into_iter(), empty.into_iter());
    let mut row = Vec::new();
    for word in order {
        row.push(match word {
            ClosingWord::Full => Piece::Bar { bar: full.next()? },
            ClosingWord::Cut => Piece::Bar { bar: cut.next()? },
            ClosingWord::Empty => Piece::Bar {
                bar: inside.next()?,
            },
            ClosingWord::Follower => follower.clone()?,
            ClosingWord::Shim => return None,
        });
    }
    row.extend(inside.take(lid).map(|bar| Piece::Bar { bar }));
    Some((edge, row))
}
