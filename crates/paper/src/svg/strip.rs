//! The row along the hive as strips of the picture: which pieces stand where.

use comb::Length;
use hive::entry::End;

use crate::section::{Drawn, DrawnBar, HiveSection};

/// How a strip ends on one side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    /// At the end wall.
    Wall,
    /// At an opened end.
    Open,
    /// The hive goes on in another strip, or outside the picture.
    GoesOn,
}

/// A stretch of the hive that is drawn in one strip; lengths from the inside of the left end wall.
#[derive(Debug, Clone)]
pub(crate) struct Strip<'a> {
    pub(crate) pieces: Vec<(Length, &'a Drawn)>,
    pub(crate) from: Length,
    pub(crate) to: Length,
    pub(crate) left: Side,
    pub(crate) right: Side,
}

impl<'a> Strip<'a> {
    /// The whole hive.
    pub(crate) fn whole(section: &'a HiveSection) -> Self {
        let free = section.free_length().max(Length::ZERO);
        let mut at = match section.gap_end() {
            End::Left => free,
            End::Right => Length::ZERO,
        };
        let mut pieces = Vec::with_capacity(section.pieces.len());
        for piece in &section.pieces {
            pieces.push((at, piece));
            at = at + piece.width();
        }
        let side = |end| {
            if section.opened.contains(&end) {
                Side::Open
            } else {
                Side::Wall
            }
        };
        Self {
            pieces,
            from: Length::ZERO,
            to: section.body.cavity_length().max(at),
            left: side(End::Left),
            right: side(End::Right),
        }
    }

    pub(crate) fn length(&self) -> Length {
        self.to - self.from
    }

    /// Broken between pieces into so many strips of about one length.
    pub(crate) fn broken(self, strips: usize) -> Vec<Self> {
        if strips <= 1 || self.pieces.len() < strips {
            return vec![self];
        }
        let aim = self.length() / strips as f64;
        let cuts: Vec<Length> = (1..strips)
            .filter_map(|i| self.boundary_near(self.from + aim * i as f64))
            .collect();
        let mut from = self.from;
        let mut broken = Vec::with_capacity(strips);
        for to in cuts.into_iter().chain(std::iter::once(self.to)) {
            if to > from {
                broken.push(self.between(from, to));
                from = to;
            }
        }
        broken
    }

    /// The strip between two boundaries of pieces.
    pub(crate) fn between(&self, from: Length, to: Length) -> Self {
        let inside = |(at, piece): &&(Length, &Drawn)| {
            let middle = *at + piece.width() / 2.0;
            middle >= from && middle < to
        };
        Self {
            pieces: self.pieces.iter().filter(inside).copied().collect(),
            from,
            to,
            left: if from > self.from {
                Side::GoesOn
            } else {
                self.left
            },
            right: if to < self.to {
                Side::GoesOn
            } else {
                self.right
            },
        }
    }

    fn boundary_near(&self, wanted: Length) -> Option<Length> {
        let starts = self.pieces.iter().skip(1).map(|(at, _)| *at);
        starts.min_by(|a, b| (*a - wanted).abs().total_cmp(&(*b - wanted).abs()))
    }

    pub(crate) fn bars(&self) -> impl Iterator<Item = (Length, &'a DrawnBar)> + '_ {
        self.pieces
            .iter()
            .filter_map(|(at, piece)| Some((*at, piece.bar()?)))
    }
}
