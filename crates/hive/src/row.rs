//! What lies side by side under the roof: bars, follower boards and shims, left end first.

use comb::Length;
use serde::Serialize;

use crate::entry::{End, Piece};
use crate::id::BarId;

/// The row of a hive, left end first. Places are those of the bars alone, counted from the left
/// end, the first is 1.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Row(Vec<Piece>);

impl Row {
    /// A row of these pieces, left end first.
    pub const fn new(pieces: Vec<Piece>) -> Self {
        Self(pieces)
    }

    /// All pieces, left end first.
    pub fn pieces(&self) -> &[Piece] {
        &self.0
    }

    /// True when nothing lies in it.
    pub const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The bars, left end first.
    pub fn bars(&self) -> impl DoubleEndedIterator<Item = BarId> + '_ {
        self.0.iter().filter_map(Piece::bar)
    }

    /// The bars as they are met from an end inward.
    pub fn bars_from(&self, end: End) -> Vec<BarId> {
        match end {
            End::Left => self.bars().collect(),
            End::Right => self.bars().rev().collect(),
        }
    }

    /// How many bars lie in it.
    pub fn bar_count(&self) -> usize {
        self.bars().count()
    }

    /// True when this bar lies in it.
    pub fn has(&self, bar: BarId) -> bool {
        self.bars().any(|b| b == bar)
    }

    /// The place of a bar, counted from the left end, the first bar is 1.
    pub fn place_of(&self, bar: BarId) -> Option<u32> {
        (1..)
            .zip(self.bars())
            .find(|(_, b)| *b == bar)
            .map(|(place, _)| place)
    }

    /// The bar in a place counted from the left end.
    pub fn at_place(&self, place: u32) -> Option<BarId> {
        self.bars().nth((place as usize).checked_sub(1)?)
    }

    /// The next bar on one side; `None` at the end of the row and where a follower board stands
    /// between. Shims do not part neighbours.
    pub fn neighbour(&self, bar: BarId, side: End) -> Option<BarId> {
        let here = self.index_of(bar)?;
        let next = |piece: &Piece| !matches!(piece, Piece::Shim { .. });
        match side {
            End::Left => self.0[..here].iter().rev().find(|p| next(p)),
            End::Right => self.0[here + 1..].iter().find(|p| next(p)),
        }?
        .bar()
    }

    /// Length of the row, given each bar's width; `None` when a bar's width is not known.
    pub fn length(&self, width_of: impl Fn(BarId) -> Option<Length>) -> Option<Length> {
        self.0
            .iter()
            .map(|piece| match piece {
                Piece::Bar { bar } => width_of(*bar),
                Piece::Follower { width_mm } | Piece::Shim { width_mm } => Some(*width_mm),
            })
            .sum_all()
    }

    fn index_of(&self, bar: BarId) -> Option<usize> {
        self.0.iter().position(|piece| piece.bar() == Some(bar))
    }

    pub(crate) fn push(&mut self, bar: BarId) {
        self.0.push(Piece::Bar { bar });
    }

    pub(crate) fn take_out(&mut self, bar: BarId) {
        self.0.retain(|piece| piece.bar() != Some(bar));
    }

    /// Sets a bar beside another that is in the row; false when the neighbour is not.
    pub(crate) fn put_beside(&mut self, bar: BarId, beside: BarId, side: End) -> bool {
        if bar == beside || !self.has(beside) {
            return false;
        }
        self.take_out(bar);
        let Some(neighbour) = self.index_of(beside) else {
            return false;
        };
        let index = match side {
            End::Left => neighbour,
            End::Right => neighbour + 1,
        };
        self.0.insert(index, Piece::Bar { bar });
        true
    }

    /// The row with everything from `beyond` outward replaced by `outward`, whose last piece lies
    /// at the end wall; the whole row when `beyond` is `None`. `None` when `beyond` is not in it.
    pub fn with_end(&self, end: End, beyond: Option<BarId>, outward: &[Piece]) -> Option<Self> {
        let kept = match (beyond, end) {
            (None, _) => &[][..],
            (Some(bar), End::Right) => &self.0[..=self.index_of(bar)?],
            (Some(bar), End::Left) => &self.0[self.index_of(bar)?..],
        };
        let outward = outward.iter().cloned();
        Some(Self(match end {
            End::Right => kept.iter().cloned().chain(outward).collect(),
            End::Left => outward.rev().chain(kept.iter().cloned()).collect(),
        }))
    }

    /// The first bar that lies in it more than once.
    pub(crate) fn first_twice(&self) -> Option<BarId> {
        let mut met = std::collections::BTreeSet::new();
        self.bars().find(|bar| !met.insert(*bar))
    }
}

impl Piece {
    /// The bar, if it is one.
    pub const fn bar(&self) -> Option<BarId> {
        match self {
            Self::Bar { bar } => Some(*bar),
            Self::Follower { .. } | Self::Shim { .. } => None,
        }
    }
}

impl FromIterator<BarId> for Row {
    fn from_iter<I: IntoIterator<Item = BarId>>(bars: I) -> Self {
        Self(bars.into_iter().map(|bar| Piece::Bar { bar }).collect())
    }
}

trait SumAll {
    fn sum_all(self) -> Option<Length>;
}

impl<I: Iterator<Item = Option<Length>>> SumAll for I {
    fn sum_all(mut self) -> Option<Length> {
        self.try_fold(Length::ZERO, |sum, width| Some(sum + width?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use uuid::Uuid;

    fn bar(n: u128) -> BarId {
        BarId(Uuid::from_u128(n))
    }

    fn follower() -> Piece {
        Piece::Follower {
            width_mm: Length::mm(19.0),
        }
    }

    #[test]
    fn places_count_bars_from_the_left_end() {
        let mut pieces = vec![follower()];
        pieces.extend((1..=3).map(|n| Piece::Bar { bar: bar(n) }));
        let row = Row::new(pieces);
        assert_eq!(row.place_of(bar(1)), Some(1));
        assert_eq!(row.at_place(3), Some(bar(3)));
        assert_eq!(row.at_place(0), None);
        assert_eq!(row.neighbour(bar(1), End::Left), None);
        assert_eq!(row.neighbour(bar(1), End::Right), Some(bar(2)));
    }

    #[test]
    fn an_end_is_arranged_from_the_edge_outward() {
        let row: Row = (1..=5).map(bar).collect();
        let outward = [
            Piece::Bar { bar: bar(2) },
            Piece::Bar { bar: bar(1) },
            follower(),
        ];
        let left = row.with_end(End::Left, Some(bar(3)), &outward);
        let bars = |row: Option<Row>| row.map(|r| r.bars().collect::<Vec<_>>());
        assert_eq!(
            bars(left.clone()),
            Some(vec![bar(1), bar(2), bar(3), bar(4), bar(5)])
        );
        assert_eq!(left.map(|r| r.pieces()[0].clone()), Some(follower()));
        let right = row.with_end(End::Right, Some(bar(3)), &[Piece::Bar { bar: bar(5) }]);
        assert_eq!(bars(right), Some(vec![bar(1), bar(2), bar(3), bar(5)]));
        assert_eq!(row.with_end(End::Right, Some(bar(9)), &[]), None);
    }
}
