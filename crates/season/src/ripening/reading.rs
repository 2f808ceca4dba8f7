//! What a keeper says of a comb's capping, as a number with an error.

use comb::Share;
use serde::{Deserialize, Serialize};

use crate::SeasonError;

/// Which part of a comb a reading speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Looked {
    /// The left-facing face.
    Left,
    /// The right-facing face.
    Right,
    /// Both faces in one figure, their mean.
    Both,
}

/// The coarse words of a visit. Shares and errors: common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Word {
    /// Nothing capped.
    Open,
    /// Capping has begun along the top.
    Begun,
    /// A quarter.
    Quarter,
    /// A third.
    Third,
    /// Half.
    Half,
    /// Two thirds.
    TwoThirds,
    /// Three quarters.
    ThreeQuarters,
    /// Most of it.
    Most,
    /// All of it.
    All,
}

impl Word {
    /// Every word, least capped first.
    pub const EVERY: [Self; 9] = [
        Self::Open,
        Self::Begun,
        Self::Quarter,
        Self::Third,
        Self::Half,
        Self::TwoThirds,
        Self::ThreeQuarters,
        Self::Most,
        Self::All,
    ];

    /// The share that the word stands for and the standard deviation of its error.
    /// "Half" is 0.5 within 0.1; we take "within" as one standard deviation, the cautious reading.
    pub const fn share_and_spread(self) -> (f64, f64) {
        match self {
            Self::Open => (0.0, 0.06),
            Self::Begun => (0.1, 0.08),
            Self::Quarter => (0.25, 0.1),
            Self::Third => (1.0 / 3.0, 0.1),
            Self::Half => (0.5, 0.1),
            Self::TwoThirds => (2.0 / 3.0, 0.1),
            Self::ThreeQuarters => (0.75, 0.1),
            Self::Most => (0.88, 0.08),
            Self::All => (1.0, 0.06),
        }
    }
}

/// One reading of one comb: what part was looked at, the capped share of the honey there, and how
/// far such a reading is usually out.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    looked: Looked,
    capped: Share,
    spread: f64,
}

impl Reading {
    /// The error of a share that was tapped in eighths or said as a number: half an eighth and a
    /// little for the eye (common practice, no source).
    pub const SPREAD_OF_A_NUMBER: f64 = 0.08;

    /// A share with the standard deviation of its error, in shares.
    ///
    /// # Errors
    /// [`SeasonError::ReadingSpread`] unless `spread` lies in 0.01..=0.5.
    pub fn new(looked: Looked, capped: Share, spread: f64) -> Result<Self, SeasonError> {
        if (0.01..=0.5).contains(&spread) {
            Ok(Self {
                looked,
                capped,
                spread,
            })
        } else {
            Err(SeasonError::ReadingSpread(spread))
        }
    }
    /// A share said or tapped as a number.
    pub const fn number(looked: Looked, capped: Share) -> Self {
        Self {
            looked,
            capped,
            spread: Self::SPREAD_OF_A_NUMBER,
        }
    }
    /// A coarse word.
    pub fn word(looked: Looked, word: Word) -> Self {
        let (share, spread) = word.share_and_spread();
        Self {
            looked,
            capped: Share::clamped(share),
            spread,
        }
    }
    /// The part that was looked at.
    pub const fn looked(self) -> Looked {
        self.looked
    }
    /// The capped share as read.
    pub const fn capped(self) -> Share {
        self.capped
    }

    /// How likely this reading is when the part's true capped share is `truth`, up to a factor that
    /// does not depend on `truth`.
    ///
    /// The error is normal; a reading at the end of the scale also stands for every reading that
    /// would have fallen beyond it. One reading in thirty is about another comb or a slip of the
    /// tongue and says nothing.
    pub(super) fn likelihood(self, truth: f64) -> f64 {
        const SLIP: f64 = 1.0 / 30.0;
        let (read, spread) = (self.capped.get(), self.spread);
        let off = (read - truth) / spread;
        let density = libm::exp(-0.5 * off * off) / (spread * libm::sqrt(std::f64::consts::TAU));
        let tail = |beyond: f64| super::normal_cdf(beyond) / (spread * 1.25);
        let clean = if read < 0.02 {
            density + tail(off)
        } else if read > 0.98 {
            density + tail(-off)
        } else {
            density
        };
        (1.0 - SLIP) * clean + SLIP
    }
}
