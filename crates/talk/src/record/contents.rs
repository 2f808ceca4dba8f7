//! What was judged of a comb, with faces that stay true.

use comb::contents::{Attachment, Fill, Holding, Straightness};
use comb::order::InOrder as _;
use comb::{Contents, FaceContents, Length, Mass, Share};
use hive::entry::{End, Face};

use super::RecordError;
use crate::act;
use crate::visit::{Comb, Visit};

/// One comb's judgement, the faces still as the keeper spoke of them.
pub(super) struct Seen {
    near: Option<Share>,
    far: Option<Share>,
    rest: Contents,
}

/// Of every comb, in the order met.
pub(super) fn seen(visit: &Visit) -> Result<Vec<Seen>, RecordError> {
    let numbered = |(index, comb)| {
        of(comb).map_err(|why| RecordError::Figure {
            comb: index + 1,
            why,
        })
    };
    visit.combs.iter().enumerate().map(numbered).collect()
}

fn of(comb: &Comb) -> Result<Seen, String> {
    let share = |said: Option<f64>| {
        said.map(Share::new)
            .transpose()
            .map_err(|why| why.to_string())
    };
    let mut present: Vec<Holding> = comb.all_holds().into_iter().map(holding).collect();
    present.put_in_order();
    present.dedup();
    Ok(Seen {
        near: share(comb.this)?,
        far: share(comb.other)?,
        rest: Contents {
            present,
            fill: comb.fill.map(|fill| match fill {
                act::Fill::Full => Fill::Full,
                act::Fill::Part => Fill::Part,
                act::Fill::Light => Fill::Light,
            }),
            thickness_mm: comb.mm.map(Length::mm),
            mass_kg: comb.kg.map(Mass::kg),
            attachment: comb.attached.map(|yes| {
                if yes {
                    Attachment::Attached
                } else {
                    Attachment::Free
                }
            }),
            straightness: comb.straight.map(|yes| {
                if yes {
                    Straightness::Straight
                } else {
                    Straightness::Crossed
                }
            }),
            ..Contents::default()
        },
    })
}

impl Seen {
    pub(super) fn says_something(&self) -> bool {
        self.near.is_some() || self.far.is_some() || self.rest != Contents::default()
    }

    /// With faces named by the end that they look to: "this side" looks at the opened gap.
    pub(super) fn contents(&self, opened: End) -> Contents {
        let face = |capped: Option<Share>| FaceContents {
            capped_of_honey: capped,
            ..FaceContents::default()
        };
        let (left, right) = match opened.near_face() {
            Face::Left => (self.near, self.far),
            Face::Right => (self.far, self.near),
        };
        Contents {
            left: face(left),
            right: face(right),
            ..self.rest.clone()
        }
    }
}

fn holding(hold: act::Hold) -> Holding {
    match hold {
        act::Hold::Honey => Holding::Honey,
        act::Hold::Unripe => Holding::Unripe,
        act::Hold::WorkerBrood => Holding::WorkerBrood,
        act::Hold::DroneBrood => Holding::DroneBrood,
        act::Hold::Eggs => Holding::Eggs,
        act::Hold::Pollen => Holding::Pollen,
        act::Hold::Empty => Holding::Empty,
        act::Hold::NewComb => Holding::NewComb,
    }
}
