//! Figures from outside the program: one loop a table, the row named when it fails.

use comb::honey_mass::{CombPlace, full_comb_honey, honey_mass};
use comb::{
    Area, BeeSpace, Body, BodyMeasures, Calibration, Contents, Length, Mass, Outline, Pitch,
    Section, Share, cells, contents::Fill,
};
use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table<R> {
    row: Vec<R>,
}

/// What every row says beside its own measures.
#[derive(Deserialize)]
struct Expected {
    name: String,
    value: f64,
    unit: String,
    #[serde(default)]
    tolerance: f64,
    source: String,
    status: String,
}

impl Expected {
    fn check(&self, computed: f64) {
        assert!(
            !self.source.is_empty() && !self.status.is_empty(),
            "{}",
            self.name
        );
        assert!(self.tolerance > 0.0, "{} has no tolerance", self.name);
        assert!(
            (computed - self.value).abs() <= self.tolerance,
            "{}: computed {computed} {unit}, expected {} +/- {} {unit} ({})",
            self.name,
            self.value,
            self.tolerance,
            self.source,
            unit = self.unit,
        );
    }
}

fn rows<R: for<'a> Deserialize<'a>>(table: &str, least: usize) -> Vec<R> {
    let rows = toml::from_str::<Table<R>>(table)
        .expect("a readable table")
        .row;
    assert!(rows.len() >= least, "only {} rows", rows.len());
    rows
}

fn sloped(top_mm: f64, bottom_mm: f64, depth_mm: f64) -> Body {
    Body::new(BodyMeasures {
        top_width_mm: Length::mm(top_mm),
        bottom_width_mm: Length::mm(bottom_mm),
        depth_mm: Length::mm(depth_mm),
        ..Body::default().measures()
    })
    .expect("a published body can be")
}

#[test]
fn outlines_of_published_plans_agree() {
    #[derive(Deserialize)]
    struct Row {
        quantity: String,
        top_mm: f64,
        bottom_mm: f64,
        depth_mm: f64,
        #[serde(flatten)]
        expected: Expected,
    }
    for row in rows::<Row>(include_str!("reference/outline.toml"), 12) {
        let body = sloped(row.top_mm, row.bottom_mm, row.depth_mm);
        let outline = Outline::of(&body);
        row.expected.check(match row.quantity.as_str() {
            "slope" => body.slope().to_degrees(),
            "section" => body.section_area().to_dm2(),
            "net" => outline.net_area().to_dm2(),
            "face" => outline.face_area().to_dm2(),
            other => panic!("no such quantity: {other}"),
        });
    }
}

#[test]
fn full_combs_weigh_what_the_table_says() {
    #[derive(Deserialize)]
    struct Row {
        face_dm2: Option<f64>,
        top_mm: Option<f64>,
        bottom_mm: Option<f64>,
        depth_mm: Option<f64>,
        thickness_mm: f64,
        #[serde(flatten)]
        expected: Expected,
    }
    for row in rows::<Row>(include_str!("reference/mass.toml"), 20) {
        let face = match (row.face_dm2, row.top_mm, row.bottom_mm, row.depth_mm) {
            (Some(dm2), ..) => Area::dm2(dm2),
            (None, Some(top), Some(bottom), Some(depth)) => {
                Outline::of(&sloped(top, bottom, depth)).face_area()
            }
            _ => panic!("{} has neither area nor measures", row.expected.name),
        };
        let honey = full_comb_honey(face, Length::mm(row.thickness_mm), Share::ONE);
        row.expected.check(honey.to_kg());
    }
}

#[test]
fn a_full_deep_frame_spans_what_others_weighed() {
    // a frame as a body: comb to all four sides, one face 8.8 dm2 (reference/comb-facts.csv)
    let frame = Body::new(BodyMeasures {
        top_width_mm: Length::mm(435.0),
        bottom_width_mm: Length::mm(435.0),
        depth_mm: Length::mm(220.0),
        section: Section::Rectangular,
        ..Body::default().measures()
    })
    .unwrap();
    let space = BeeSpace {
        side_mm: Length::ZERO,
        under_mm: Length::ZERO,
    };
    let outline = Outline::with_bee_space(&frame, space).unwrap();
    assert!((outline.face_area().to_dm2() - 8.8).abs() < 0.01);
    let place = CombPlace {
        outline: &outline,
        pitch: Some(Pitch::of_bars(Length::mm(35.0))),
        calibration: &Calibration::PRIOR,
    };
    let mut full = Contents {
        fill: Some(Fill::Full),
        ..Contents::default()
    };
    for face in [&mut full.left, &mut full.right] {
        face.capped_of_honey = Some(Share::ONE);
    }
    let honey = honey_mass(&full, &place).total;
    for row in rows::<Expected>(include_str!("reference/frames.toml"), 5) {
        let seen = Mass::kg(row.value);
        assert!(
            honey.contains(seen),
            "{}: {seen:?} is outside {honey} ({})",
            row.name,
            row.source
        );
    }
}

#[test]
fn cells_agree_with_tables_and_with_a_count() {
    #[derive(Deserialize)]
    struct Row {
        quantity: String,
        width_mm: f64,
        #[serde(flatten)]
        expected: Expected,
    }
    for row in rows::<Row>(include_str!("reference/cells.toml"), 10) {
        let one_face = cells::per_dm2(Length::mm(row.width_mm));
        row.expected.check(match row.quantity.as_str() {
            "one_face" => one_face,
            "both_faces" => 2.0 * one_face,
            other => panic!("no such quantity: {other}"),
        });
        // Betts' own formula is the same law
        let betts = cells::both_faces_per_dm2(100.0 / row.width_mm);
        assert!(
            (betts / (2.0 * one_face) - 1.0).abs() < 1e-3,
            "{}",
            row.expected.name
        );
    }
}

#[test]
fn bars_and_shims_leave_room_for_the_comb() {
    #[derive(Deserialize)]
    struct Row {
        bar_mm: f64,
        shims_mm: f64,
        #[serde(flatten)]
        expected: Expected,
    }
    for row in rows::<Row>(include_str!("reference/pitch.toml"), 4) {
        let bar = Length::mm(row.bar_mm);
        let pitch = Pitch::between(bar, Length::mm(row.shims_mm), bar);
        let greatest = pitch.greatest_thickness();
        row.expected.check(greatest.to_mm());
        assert_eq!(
            Pitch::for_thickness(greatest),
            pitch,
            "{}",
            row.expected.name
        );
        assert!(pitch.check(greatest).is_ok(), "{}", row.expected.name);
        let thicker = greatest + Length::mm(2.0);
        assert!(pitch.check(thicker).is_err(), "{}", row.expected.name);
    }
}
