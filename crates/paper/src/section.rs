//! The hive's section as a scene: every piece of the row with its width, every comb with its faces.

use comb::contents::{Attachment, Straightness};
use comb::order::InOrder as _;
use comb::pitch::BETWEEN_FACES;
use comb::{Body, Contents, Length, Outline};
use hive::entry::{End, Hanging, Piece};
use hive::{Bar, BarId, Hive, Lies};
use jiff::civil::Date;
use jiff::tz::TimeZone;

use crate::face::{FacePicture, both};

/// What is said about a bar beside what it holds: advice, or what becomes of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mark {
    /// May be taken.
    Take,
    /// Ripening; it stays until it is ripe.
    Ripening,
    /// Stays, as stores or as brood.
    Stays,
    /// Cannot be said before the other side was looked at.
    LookAgain,
    /// Lifted out and leaned somewhere.
    SetAside,
    /// Lifted while closing up; the others only slide.
    Lifted,
}

impl Mark {
    /// All marks, in the order of a legend.
    pub const ALL: [Self; 6] = [
        Self::Take,
        Self::Ripening,
        Self::Stays,
        Self::LookAgain,
        Self::SetAside,
        Self::Lifted,
    ];
}

/// A hive's section, ready to be drawn: pieces in their places, left end first.
///
/// Made with [`HiveSection::of`]; then marks, opened ends and a highlight may be added. All fields
/// are plain, so that a picture of what is planned can be made as well.
#[derive(Debug, Clone, PartialEq)]
pub struct HiveSection {
    /// The hive's name, as the keeper wrote it.
    pub name: String,
    /// The day whose picture this is; `None` leaves the date out.
    pub date: Option<Date>,
    /// The body.
    pub body: Body,
    /// Ends that are open.
    pub opened: Vec<End>,
    /// Bars, follower boards and shims, left end first.
    pub pieces: Vec<Drawn>,
}

/// One piece of the row.
#[derive(Debug, Clone, PartialEq)]
#[expect(
    clippy::large_enum_variant,
    reason = "nearly all pieces of a row are bars"
)]
pub enum Drawn {
    /// A bar with what hangs from it.
    Bar(DrawnBar),
    /// A follower board.
    Follower {
        /// Its width along the row.
        width: Length,
    },
    /// A shim.
    Shim {
        /// Its width along the row.
        width: Length,
    },
}

/// One bar and the comb on it.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnBar {
    /// Its identity.
    pub id: BarId,
    /// Its number.
    pub number: u32,
    /// Its place, counted from the left end, the first is 1.
    pub place: u32,
    /// Its width along the row.
    pub width: Length,
    /// What hangs from it.
    pub hanging: Hanging,
    /// True when it leans somewhere outside and only its place is kept.
    pub aside: bool,
    /// The latest known word on each part of its comb.
    pub contents: Contents,
    /// The day of the latest look at this comb.
    pub seen: Option<Date>,
    /// What is said about it.
    pub mark: Option<Mark>,
}

impl HiveSection {
    /// The hive as it stands; for an earlier day fold the journal up to it first. Days are counted
    /// in `zone`. An end is open when the latest visit opened it and is not closed.
    pub fn of(hive: &Hive, zone: &TimeZone) -> Self {
        let opened = hive.open_visit().map(|visit| visit.ends.clone());
        let mut section = Self {
            name: hive.name.clone(),
            date: None,
            body: hive.body,
            opened: Vec::new(),
            pieces: pieces(hive, hive.row.pieces(), zone),
        };
        section.opened = ends(opened.unwrap_or_default());
        section
    }

    /// With the day that stands beside the name.
    #[must_use]
    pub fn dated(mut self, date: Date) -> Self {
        self.date = Some(date);
        self
    }

    /// With these ends open, and no others.
    #[must_use]
    pub fn with_opened(mut self, opened: impl IntoIterator<Item = End>) -> Self {
        self.opened = ends(opened.into_iter().collect());
        self
    }

    /// With marks on bars; bars that are not in the row are passed over, later marks win.
    #[must_use]
    pub fn with_marks(mut self, marks: impl IntoIterator<Item = (BarId, Mark)>) -> Self {
        for (id, mark) in marks {
            if let Some(bar) = self.bars_mut().find(|bar| bar.id == id) {
                bar.mark = Some(mark);
            }
        }
        self
    }

    /// The bars, left end first.
    pub fn bars(&self) -> impl DoubleEndedIterator<Item = &DrawnBar> {
        self.pieces.iter().filter_map(Drawn::bar)
    }

    fn bars_mut(&mut self) -> impl Iterator<Item = &mut DrawnBar> {
        self.pieces.iter_mut().filter_map(|piece| match piece {
            Drawn::Bar(bar) => Some(bar),
            Drawn::Follower { .. } | Drawn::Shim { .. } => None,
        })
    }

    /// One bar.
    pub fn bar(&self, id: BarId) -> Option<&DrawnBar> {
        self.bars().find(|bar| bar.id == id)
    }

    /// The outline of a full comb in this body.
    pub fn outline(&self) -> Outline {
        Outline::of(&self.body)
    }

    /// Length of all pieces together.
    pub fn row_length(&self) -> Length {
        self.pieces.iter().map(Drawn::width).sum()
    }

    /// What the row leaves free of the cavity; negative when the row is too long for it.
    pub fn free_length(&self) -> Length {
        self.body.cavity_length() - self.row_length()
    }

    /// The end at which the row leaves its gap: an opened end, else the one away from the entrance.
    pub fn gap_end(&self) -> End {
        match self.opened.as_slice() {
            [End::Left] => End::Left,
            [End::Right] => End::Right,
            _ if self.body.entrance_from_left() > self.body.cavity_length() / 2.0 => End::Left,
            _ => End::Right,
        }
    }

    /// True when some bar's number is not its place.
    pub fn numbers_differ_from_places(&self) -> bool {
        self.bars().any(|bar| bar.number != bar.place)
    }
}

fn ends(mut opened: Vec<End>) -> Vec<End> {
    opened.put_in_order();
    opened.dedup();
    opened
}

/// The pieces of a row of this hive; bars that the hive does not have are passed over.
pub(crate) fn pieces(hive: &Hive, row: &[Piece], zone: &TimeZone) -> Vec<Drawn> {
    let mut place = 0;
    let drawn = row.iter().filter_map(|piece| match piece {
        Piece::Bar { bar } => {
            let bar = hive.bar(*bar)?;
            place += 1;
            Some(Drawn::Bar(DrawnBar::of(bar, place, zone)))
        }
        Piece::Follower { width_mm } => Some(Drawn::Follower { width: *width_mm }),
        Piece::Shim { width_mm } => Some(Drawn::Shim { width: *width_mm }),
    });
    drawn.collect()
}

impl Drawn {
    /// Its width along the row.
    pub const fn width(&self) -> Length {
        match self {
            Self::Bar(bar) => bar.width,
            Self::Follower { width } | Self::Shim { width } => *width,
        }
    }

    /// The bar, if it is one.
    pub const fn bar(&self) -> Option<&DrawnBar> {
        match self {
            Self::Bar(bar) => Some(bar),
            Self::Follower { .. } | Self::Shim { .. } => None,
        }
    }
}

impl DrawnBar {
    /// A bar in this place.
    pub fn of(bar: &Bar, place: u32, zone: &TimeZone) -> Self {
        let aside = bar.lies == Lies::Aside;
        Self {
            id: bar.id,
            number: bar.number,
            place,
            width: bar.width_mm,
            hanging: bar.hanging,
            aside,
            contents: bar.known_contents(),
            seen: bar.seen.map(|at| zone.to_datetime(at).date()),
            mark: aside.then_some(Mark::SetAside),
        }
    }

    /// True when it bears a comb.
    pub fn has_comb(&self) -> bool {
        self.hanging == Hanging::Comb
    }

    /// The faces, the left-facing first; `None` without a comb.
    pub fn faces(&self) -> Option<[FacePicture; 2]> {
        self.has_comb().then(|| both(&self.contents))
    }

    /// Thickness to draw: as said, else what fits its bar.
    pub fn drawn_thickness(&self) -> Length {
        let fits = (self.width - BETWEEN_FACES).max(self.width * 0.5);
        self.contents.thickness_mm.unwrap_or(fits)
    }

    /// True when it is known to run off its bar.
    pub fn is_crossed(&self) -> bool {
        self.contents.straightness == Some(Straightness::Crossed)
    }

    /// True when it is known to be built to the body.
    pub fn is_attached(&self) -> bool {
        self.contents.attachment == Some(Attachment::Attached)
    }
}
