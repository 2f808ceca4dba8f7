//! A hive as it begins: its body, its bars in their places, which of them bear comb.

use std::ops::RangeInclusive;

use comb::{Body, Length};

use crate::HiveError;
use crate::entry::{End, Hanging, Known, Piece};
use crate::id::{ApiaryId, BarId};

/// The usual follower board: 19 mm (3/4 in) wood. Common practice, no source.
pub const USUAL_FOLLOWER: Length = Length::mm(19.0);

/// What is told when a hive begins.
#[derive(Debug, Clone, PartialEq)]
pub struct Founding {
    /// Its name.
    pub name: String,
    /// Where it stands.
    pub apiary: Option<ApiaryId>,
    /// Its body; its usual bar is the width of every bar here.
    pub body: Body,
    /// True when numbers are painted on the bars.
    pub numbered: bool,
    /// How many bars lie in it; `None` is as many as fit.
    pub bars: Option<u32>,
    /// The number of the first bar.
    pub first_number: u32,
    /// The end at which the numbers begin.
    pub count_from: End,
    /// Numbers of the bars that bear comb; `None` is all of them.
    pub combs: Option<RangeInclusive<u32>>,
    /// Ends at which a follower board stands outside the bars.
    pub followers: Vec<End>,
    /// Width of a follower board along the row.
    pub follower_width: Length,
}

impl Founding {
    /// A hive of this name and body, everything else as usual: all bars that fit, numbered from the
    /// left, all with comb, a follower board at each end.
    pub fn usual(name: impl Into<String>, body: Body) -> Self {
        Self {
            name: name.into(),
            apiary: None,
            body,
            numbered: true,
            bars: None,
            first_number: 1,
            count_from: End::Left,
            combs: None,
            followers: vec![End::Left, End::Right],
            follower_width: USUAL_FOLLOWER,
        }
    }

    /// How many bars the body has room for beside the follower boards.
    pub fn bars_that_fit(&self) -> u32 {
        let boards = self.follower_width * self.boards();
        let free = self.body.cavity_length() - boards;
        (free / self.body.bar_width()).floor().max(0.0) as u32
    }

    /// How many bars lie in it.
    ///
    /// # Errors
    /// [`HiveError::BarsDoNotFit`] for none, or more than fit.
    pub fn bar_count(&self) -> Result<u32, HiveError> {
        let fit = self.bars_that_fit();
        let bars = self.bars.unwrap_or(fit);
        if bars > 0 && bars <= fit {
            return Ok(bars);
        }
        let needed = self.body.bar_width() * f64::from(bars) + self.follower_width * self.boards();
        Err(HiveError::BarsDoNotFit {
            bars,
            bar_mm: self.body.bar_width().to_mm(),
            needed_mm: needed.to_mm(),
            length_mm: self.body.cavity_length().to_mm(),
            fit,
        })
    }

    /// The entries to write for it, in order, all about the hive that begins; `fresh` makes the bars'
    /// identities.
    ///
    /// ```
    /// use hive::founding::Founding;
    /// use hive::BarId;
    /// let founding = Founding { bars: Some(3), ..Founding::usual("Banksia", comb::Body::default()) };
    /// let mut made = 0;
    /// let entries = founding.entries(|| {
    ///     made += 1;
    ///     BarId(uuid::Uuid::from_u128(made))
    /// })?;
    /// let kinds: Vec<_> = entries.iter().map(|known| known.kind()).collect();
    /// assert_eq!(kinds, ["hive_started", "bar_added", "bar_added", "bar_added", "arranged"]);
    /// # Ok::<(), hive::HiveError>(())
    /// ```
    ///
    /// # Errors
    /// [`HiveError::BarsDoNotFit`], see [`Founding::bar_count`].
    pub fn entries(&self, mut fresh: impl FnMut() -> BarId) -> Result<Vec<Known>, HiveError> {
        let bars = self.bar_count()?;
        let mut entries = vec![Known::HiveStarted {
            name: self.name.clone(),
            apiary: self.apiary,
            body: self.body,
            numbered: self.numbered,
        }];
        let follower = |end| {
            let width_mm = self.follower_width;
            self.followers
                .contains(&end)
                .then_some(Piece::Follower { width_mm })
        };
        let mut row: Vec<Piece> = follower(End::Left).into_iter().collect();
        for place in 1..=bars {
            let bar = fresh();
            let number = self.number_at(place, bars);
            entries.push(Known::BarAdded {
                bar,
                number,
                width_mm: self.body.bar_width(),
                hanging: self.hanging(number),
                drawn: None,
            });
            row.push(Piece::Bar { bar });
        }
        row.extend(follower(End::Right));
        entries.push(Known::Arranged { row });
        Ok(entries)
    }

    fn number_at(&self, place: u32, bars: u32) -> u32 {
        let count = match self.count_from {
            End::Left => place,
            End::Right => bars + 1 - place,
        };
        self.first_number.saturating_add(count - 1)
    }

    fn hanging(&self, number: u32) -> Hanging {
        let comb = self
            .combs
            .as_ref()
            .is_none_or(|combs| combs.contains(&number));
        if comb {
            Hanging::Comb
        } else {
            Hanging::Nothing
        }
    }

    fn boards(&self) -> f64 {
        let ends = [End::Left, End::Right];
        ends.iter()
            .filter(|end| self.followers.contains(end))
            .count() as f64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numbers(founding: &Founding) -> Vec<(u32, Hanging)> {
        let mut made = 0;
        let entries = founding
            .entries(|| {
                made += 1;
                BarId(uuid::Uuid::from_u128(made))
            })
            .expect("it fits");
        entries
            .iter()
            .filter_map(|known| match known {
                Known::BarAdded {
                    number, hanging, ..
                } => Some((*number, *hanging)),
                _ => None,
            })
            .collect()
    }

    #[test]
    fn numbers_begin_at_the_end_told_and_combs_are_those_told() {
        let founding = Founding {
            bars: Some(3),
            first_number: 5,
            count_from: End::Right,
            combs: Some(6..=7),
            ..Founding::usual("Banksia", Body::default())
        };
        let told = [
            (7, Hanging::Comb),
            (6, Hanging::Comb),
            (5, Hanging::Nothing),
        ];
        assert_eq!(numbers(&founding), told);
    }

    #[test]
    fn follower_boards_take_their_room() {
        // 1200 mm: 34 bars of 35 mm; 38 mm of boards leave 1162, 33 bars
        let with = Founding::usual("Banksia", Body::default());
        let without = Founding {
            followers: Vec::new(),
            ..with.clone()
        };
        assert_eq!((without.bars_that_fit(), with.bars_that_fit()), (34, 33));
        for bars in [0, 34] {
            let wrong = Founding {
                bars: Some(bars),
                ..with.clone()
            };
            assert!(matches!(
                wrong.bar_count(),
                Err(HiveError::BarsDoNotFit { fit: 33, .. })
            ));
        }
    }
}
