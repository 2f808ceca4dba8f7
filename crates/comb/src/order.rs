//! Putting things in order, with one sort for all kinds of things.
//!
//! The standard library compiles its sort anew for each kind of thing and each comparison, 5 kB a time in
//! the app; that was a twentieth of what a phone had to fetch. Here what is sorted are places, by one sort,
//! and then the things are moved there.

use std::cmp::Ordering;

/// Things that can be put in order. What is equal stays in the order that it had.
pub trait InOrder<T> {
    /// Puts them in order by a comparison.
    fn order_by(&mut self, compare: impl FnMut(&T, &T) -> Ordering);

    /// Puts them in order by what the key gives.
    fn order_by_key<K: Ord>(&mut self, mut key: impl FnMut(&T) -> K) {
        self.order_by(|one, other| key(one).cmp(&key(other)));
    }

    /// Puts them in their own order.
    fn put_in_order(&mut self)
    where
        T: Ord,
    {
        self.order_by(T::cmp);
    }
}

impl<T> InOrder<T> for [T] {
    fn order_by(&mut self, mut compare: impl FnMut(&T, &T) -> Ordering) {
        let mut goes_to = places(self.len(), &mut |one, other| {
            compare(&self[one], &self[other])
        });
        for place in 0..self.len() {
            while goes_to[place] != place {
                let to = goes_to[place];
                self.swap(place, to);
                goes_to.swap(place, to);
            }
        }
    }
}

/// To which place each of `count` things goes.
fn places(count: usize, compare: &mut dyn FnMut(usize, usize) -> Ordering) -> Vec<usize> {
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|one, other| compare(*one, *other));
    let mut goes_to = vec![0; count];
    for (place, from) in order.into_iter().enumerate() {
        goes_to[from] = place;
    }
    goes_to
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn the_order_is_the_one_of_the_standard_library(
            mut things in prop::collection::vec((0_u8..9, any::<u16>()), 0..200)
        ) {
            let mut sorted = things.clone();
            sorted.sort_by_key(|(key, _)| *key);
            things.order_by_key(|(key, _)| *key);
            prop_assert_eq!(&things, &sorted);
            sorted.sort_unstable();
            things.put_in_order();
            prop_assert_eq!(things, sorted);
        }
    }
}
