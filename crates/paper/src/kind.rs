//! What a part of a face is drawn as.

/// One kind of band on a drawn face, in the order in which bees store: honey highest, brood below.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Capped honey.
    CappedHoney,
    /// Honey of which it was not said whether it is capped.
    Honey,
    /// Unripe honey or nectar.
    Unripe,
    /// Pollen.
    Pollen,
    /// Capped worker brood.
    CappedBrood,
    /// Worker brood of which the age was not said.
    Brood,
    /// Worker larvae.
    Larvae,
    /// Worker eggs.
    Eggs,
    /// Drone brood.
    DroneBrood,
    /// Drawn and empty cells.
    Empty,
    /// Not looked at, or not said.
    Unknown,
}

impl Kind {
    /// All kinds, from the bar down.
    pub const ALL: [Self; 11] = [
        Self::CappedHoney,
        Self::Honey,
        Self::Unripe,
        Self::Pollen,
        Self::CappedBrood,
        Self::Brood,
        Self::Larvae,
        Self::Eggs,
        Self::DroneBrood,
        Self::Empty,
        Self::Unknown,
    ];

    /// Its glyph in drawn text.
    pub const fn glyph(self) -> char {
        match self {
            Self::CappedHoney => '█',
            Self::Honey => '▓',
            Self::Unripe => '░',
            Self::Pollen => '∴',
            Self::CappedBrood => '●',
            Self::Brood => '◍',
            Self::Larvae => '○',
            Self::Eggs => '◦',
            Self::DroneBrood => '◆',
            Self::Empty => '·',
            Self::Unknown => '?',
        }
    }

    /// Its glyph where only ASCII can be printed.
    pub const fn ascii(self) -> char {
        match self {
            Self::CappedHoney => '#',
            Self::Honey => 'H',
            Self::Unripe => '~',
            Self::Pollen => 'p',
            Self::CappedBrood => 'B',
            Self::Brood => 'b',
            Self::Larvae => 'c',
            Self::Eggs => 'e',
            Self::DroneBrood => 'D',
            Self::Empty => '.',
            Self::Unknown => '?',
        }
    }
}
