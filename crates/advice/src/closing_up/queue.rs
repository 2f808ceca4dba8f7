//! Classes of combs in a line, packed: two bits a comb, the longest in line lowest.

use super::row::Class;

/// A line of at most 64 combs, of which only the classes matter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Queue(u128);

/// 01 in every pair of bits.
const ONES: u128 = u128::MAX / 3;

/// The two bits of a class; 00 is the end of the line.
fn code(class: Class) -> u128 {
    class as u128 + 1
}

impl Queue {
    pub(super) const EMPTY: Self = Self(0);

    pub(super) fn is_empty(self) -> bool {
        self.0 == 0
    }

    pub(super) fn len(self) -> usize {
        ((128 - self.0.leading_zeros()) as usize).div_ceil(2)
    }

    #[must_use]
    pub(super) fn push(self, class: Class) -> Self {
        Self(self.0 | code(class) << (2 * self.len()))
    }

    /// 01 where a comb of the class stands.
    fn places(self, class: Class) -> u128 {
        let differs = self.0 ^ (code(class) * ONES);
        !(differs | differs >> 1) & ONES
    }

    pub(super) fn count(self, class: Class) -> usize {
        self.places(class).count_ones() as usize
    }

    /// How many stand before the first of the class, and the line without it.
    pub(super) fn take(self, class: Class) -> Option<(usize, Self)> {
        let places = self.places(class);
        if places == 0 {
            return None;
        }
        let low = places.trailing_zeros();
        let before = self.0 & ((1 << low) - 1);
        let after = (self.0 >> low) >> 2 << low;
        Some((low as usize / 2, Self(before | after)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use Class::{Capped, Crooked, Open};

    #[test]
    fn the_first_of_a_class_leaves_the_line() {
        let line = Queue::EMPTY
            .push(Open)
            .push(Capped)
            .push(Crooked)
            .push(Capped);
        assert_eq!(
            (line.len(), line.count(Capped), line.count(Crooked)),
            (4, 2, 1)
        );
        let (before, rest) = line.take(Capped).unwrap();
        assert_eq!(
            (before, rest),
            (1, Queue::EMPTY.push(Open).push(Crooked).push(Capped))
        );
        assert_eq!(
            rest.take(Capped),
            Some((2, Queue::EMPTY.push(Open).push(Crooked)))
        );
        assert_eq!(Queue::EMPTY.push(Open).take(Capped), None);
    }

    #[test]
    fn sixty_four_fit() {
        let line = (0..64).fold(Queue::EMPTY, |line, _| line.push(Crooked));
        assert_eq!(
            (line.len(), line.count(Crooked), line.count(Capped)),
            (64, 64, 0)
        );
    }
}
