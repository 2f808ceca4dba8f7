//! What is typed of a new hive, and what it comes to.

use std::collections::BTreeMap;

use comb::{Body, BodyFault, BodyMeasures, CombError, Entrance, Length, Section};
use hive::entry::End;
use hive::founding::Founding;
use hive::{ApiaryId, HiveError, Yard};
use leptos::prelude::*;

use crate::parts::place_form::PlaceDraft;
use crate::preferences::Units;
use crate::texts::new_hive as words;

/// Key of "a new apiary" among the places.
pub(super) const NEW_PLACE: &str = "new";
/// Key of "not told" among the places.
pub(super) const NOWHERE: &str = "nowhere";
/// Keys of the entrance.
pub(super) const ENTRANCES: [&str; 3] = ["left", "right", "side"];

/// What is typed. Copies are the same draft.
#[derive(Clone, Copy)]
pub(super) struct Draft {
    pub(super) name: RwSignal<String>,
    pub(super) section: RwSignal<String>,
    pub(super) length: RwSignal<String>,
    pub(super) top: RwSignal<String>,
    pub(super) bottom: RwSignal<String>,
    pub(super) depth: RwSignal<String>,
    pub(super) bar: RwSignal<String>,
    pub(super) entrance: RwSignal<String>,
    pub(super) entrance_at: RwSignal<String>,
    pub(super) count: RwSignal<String>,
    pub(super) numbered: RwSignal<bool>,
    pub(super) first: RwSignal<String>,
    pub(super) count_from: RwSignal<String>,
    pub(super) combs_from: RwSignal<String>,
    pub(super) combs_to: RwSignal<String>,
    pub(super) left_board: RwSignal<bool>,
    pub(super) right_board: RwSignal<bool>,
    pub(super) board: RwSignal<String>,
    pub(super) place: RwSignal<String>,
    pub(super) new_place: PlaceDraft,
    pub(super) law_note: RwSignal<bool>,
}

/// What a draft comes to.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Told {
    pub(super) founding: Founding,
    pub(super) bars: u32,
}

/// What is wrong, by the field's id.
pub(super) type Faults = BTreeMap<&'static str, String>;

/// A cross-section as its key in the form.
pub(super) const fn section_key(section: Section) -> &'static str {
    match section {
        Section::Sloped => "sloped",
        Section::Rectangular => "rectangular",
        Section::Rounded => "rounded",
    }
}

/// The cross-sections, in the order shown.
pub(super) const SECTIONS: [Section; 3] = [Section::Sloped, Section::Rectangular, Section::Rounded];

impl Draft {
    /// The first published outline, everything else as usual; in the place where the last hive stands.
    pub(super) fn usual(yard: &Yard, units: Units) -> Self {
        let place = yard
            .apiaries()
            .last()
            .map_or_else(|| NEW_PLACE.to_owned(), |apiary| apiary.id.to_string());
        let text = |text: &str| RwSignal::new(text.to_owned());
        let draft = Self {
            name: text(""),
            section: text(""),
            length: text(""),
            top: text(""),
            bottom: text(""),
            depth: text(""),
            bar: text(""),
            entrance: text(ENTRANCES[0]),
            entrance_at: text(""),
            count: text(""),
            numbered: RwSignal::new(true),
            first: text("1"),
            count_from: text("left"),
            combs_from: text(""),
            combs_to: text(""),
            left_board: RwSignal::new(true),
            right_board: RwSignal::new(true),
            board: RwSignal::new(units.typed_length(hive::founding::USUAL_FOLLOWER)),
            place: RwSignal::new(place),
            new_place: PlaceDraft::empty(),
            law_note: RwSignal::new(true),
        };
        draft.take_body(&Body::default(), units);
        draft
    }

    /// Takes a body's measures over; the bars become as many as fit.
    pub(super) fn take_body(self, body: &Body, units: Units) {
        self.section.set(section_key(body.section()).to_owned());
        self.length.set(units.typed_length(body.cavity_length()));
        self.top.set(units.typed_length(body.top_width()));
        self.bottom.set(units.typed_length(body.bottom_width()));
        self.depth.set(units.typed_length(body.depth()));
        self.bar.set(units.typed_length(body.bar_width()));
        self.count.set(String::new());
    }

    /// Whether a new apiary, if one is asked for, can be written down.
    pub(super) fn place_is_told(self) -> bool {
        let asked = self.place.with_untracked(|place| place == NEW_PLACE);
        !asked || self.new_place.read(ApiaryId(uuid::Uuid::nil())).is_ok()
    }

    /// What it comes to.
    pub(super) fn read(self, yard: &Yard, units: Units) -> Result<Told, Faults> {
        let mut faults = Faults::new();
        let name = self.name(yard, &mut faults);
        self.told(name, units, faults)
    }

    /// The hive to draw while it has no name yet.
    pub(super) fn without_name(self, units: Units) -> Option<Founding> {
        let told = self.told(String::from("-"), units, Faults::new());
        told.ok().map(|told| told.founding)
    }

    fn told(self, name: String, units: Units, mut faults: Faults) -> Result<Told, Faults> {
        let body = self.body(units, &mut faults);
        let board = self.board(units, &mut faults);
        let first = whole(self.first, "first", &mut faults).unwrap_or(1);
        let count = if self.count.with(|count| count.trim().is_empty()) {
            None
        } else {
            whole(self.count, "count", &mut faults)
        };
        let (Some(body), Some(board)) = (body, board) else {
            return Err(faults);
        };
        let mut founding = Founding {
            apiary: self.place.with(|place| place.parse().ok()),
            numbered: self.numbered.get(),
            bars: count,
            first_number: first,
            count_from: if self.count_from.with(|end| end == "right") {
                End::Right
            } else {
                End::Left
            },
            followers: self.boards(),
            follower_width: board,
            ..Founding::usual(name, body)
        };
        let bars = match founding.bar_count() {
            Ok(bars) => bars,
            Err(HiveError::BarsDoNotFit { fit, .. }) => {
                faults.insert("count", words::bars_do_not_fit(fit));
                return Err(faults);
            }
            Err(why) => {
                faults.insert("count", why.to_string());
                return Err(faults);
            }
        };
        let last = first.saturating_add(bars - 1);
        founding.combs = self.combs(first, last, &mut faults);
        if faults.is_empty() {
            Ok(Told { founding, bars })
        } else {
            Err(faults)
        }
    }

    fn name(self, yard: &Yard, faults: &mut Faults) -> String {
        let name = self.name.get().trim().to_owned();
        if name.is_empty() {
            faults.insert("hive-name", words::NO_NAME.to_owned());
        } else if yard.hive_named(&name).is_ok_and(hive::Hive::is_living) {
            faults.insert("hive-name", words::name_taken(&name));
        }
        name
    }

    /// The body, as far as its measures can be.
    pub(super) fn body(self, units: Units, faults: &mut Faults) -> Option<Body> {
        let mut measure = |signal: RwSignal<String>, id: &'static str| {
            let length = units.length(&signal.get());
            if length.is_none() {
                faults.insert(id, words::NO_NUMBER.to_owned());
            }
            length
        };
        let section = self.section.with(|key| {
            SECTIONS
                .into_iter()
                .find(|section| section_key(*section) == key)
                .unwrap_or_default()
        });
        let length = measure(self.length, "length");
        let top = measure(self.top, "top");
        // upright sides have one width
        let bottom = if section == Section::Rectangular {
            top
        } else {
            measure(self.bottom, "bottom")
        };
        let depth = measure(self.depth, "depth");
        let bar = measure(self.bar, "bar");
        let entrance = match self.entrance.get().as_str() {
            "right" => Some(Entrance::RightEnd),
            "side" => measure(self.entrance_at, "entrance-at")
                .map(|from_left_mm| Entrance::Side { from_left_mm }),
            _ => Some(Entrance::LeftEnd),
        };
        let measures = BodyMeasures {
            cavity_length_mm: length?,
            top_width_mm: top?,
            bottom_width_mm: bottom?,
            depth_mm: depth?,
            section,
            entrance: entrance?,
            bar_width_mm: bar?,
        };
        match Body::new(measures) {
            Ok(body) => Some(body),
            Err(CombError::Body(fault)) => {
                faults.insert(field_of(&fault), words::body_fault(&fault, units));
                None
            }
            Err(why) => {
                faults.insert("length", why.to_string());
                None
            }
        }
    }

    fn board(self, units: Units, faults: &mut Faults) -> Option<Length> {
        let [least, greatest] = words::FOLLOWER_RANGE;
        let width = units
            .length(&self.board.get())
            .filter(|width| (least..=greatest).contains(width));
        if width.is_none() {
            faults.insert("board", words::follower_out_of_range(units));
        }
        width
    }

    fn boards(self) -> Vec<End> {
        let left = self.left_board.get().then_some(End::Left);
        let right = self.right_board.get().then_some(End::Right);
        left.into_iter().chain(right).collect()
    }

    /// The bars with combs; an empty range, which holds no number, where none hangs.
    fn combs(
        self,
        first: u32,
        last: u32,
        faults: &mut Faults,
    ) -> Option<std::ops::RangeInclusive<u32>> {
        let (from, to) = (self.combs_from.get(), self.combs_to.get());
        #[expect(
            clippy::reversed_empty_ranges,
            reason = "the range that holds no number is meant"
        )]
        let none = 1..=0;
        if from.trim().is_empty() && to.trim().is_empty() {
            return Some(none);
        }
        // one end alone may mean one comb or all the rest: it is asked for
        if from.trim().is_empty() || to.trim().is_empty() {
            faults.insert("combs-from", words::combs_half_told(first, last));
            return None;
        }
        let number = |typed: &str| typed.trim().parse::<u32>().ok();
        match (number(&from), number(&to)) {
            (Some(from), Some(to)) if first <= from && from <= to && to <= last => Some(from..=to),
            (from, _) => {
                let right = from.is_some_and(|from| (first..=last).contains(&from));
                let wrong = if right { "combs-to" } else { "combs-from" };
                faults.insert(wrong, words::combs_out_of_range(first, last));
                None
            }
        }
    }
}

fn whole(signal: RwSignal<String>, id: &'static str, faults: &mut Faults) -> Option<u32> {
    let number = signal.with(|typed| typed.trim().parse().ok());
    if number.is_none() {
        faults.insert(id, words::NO_WHOLE_NUMBER.to_owned());
    }
    number
}

/// Beside which field a body's fault is told.
fn field_of(fault: &BodyFault) -> &'static str {
    match fault {
        BodyFault::NotPositive { field, .. } | BodyFault::OutOfSize { field, .. } => match *field {
            "top width" => "top",
            "bottom width" => "bottom",
            "depth" => "depth",
            "bar width" => "bar",
            _ => "length",
        },
        BodyFault::BottomWiderThanTop { .. }
        | BodyFault::BottomWiderThanDeep { .. }
        | BodyFault::NotRectangular { .. } => "bottom",
        BodyFault::EntranceOutside { .. } => "entrance-at",
        _ => "length",
    }
}
