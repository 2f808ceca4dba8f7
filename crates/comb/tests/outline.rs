//! A comb's outline keeps its distance, whatever the body.

use comb::{Area, BeeSpace, Body, BodyMeasures, Length, Outline, Point, Section, Share};
use proptest::prelude::*;

/// Any body that can be.
fn bodies() -> impl Strategy<Value = Body> {
    let sections = prop_oneof![
        Just(Section::Sloped),
        Just(Section::Rectangular),
        Just(Section::Rounded)
    ];
    (sections, 150.0..800.0, 0.0..=1.0, 120.0..600.0).prop_map(|(section, top, part, depth)| {
        let widest = f64::min(top, depth);
        let bottom = match section {
            Section::Rectangular => top,
            Section::Rounded if part < 0.3 => 0.0,
            Section::Sloped | Section::Rounded => 40.0 + part * (widest - 40.0),
        };
        Body::new(BodyMeasures {
            top_width_mm: Length::mm(top),
            bottom_width_mm: Length::mm(bottom),
            depth_mm: Length::mm(depth),
            section,
            ..Body::default().measures()
        })
        .expect("measures chosen in range")
    })
}

/// Distance from a point to the nearest of many points of both walls, floor left out.
fn distance_to_walls(body: &Body, point: Point) -> f64 {
    const STEPS: u32 = 4000;
    let depth = body.depth().to_mm();
    let distance = |i: u32| {
        // denser towards the floor, where a rounded wall turns
        let y = depth * libm::sin(f64::from(i) / f64::from(STEPS) * std::f64::consts::FRAC_PI_2);
        let x = body.half_width_at(Length::mm(y)).to_mm();
        libm::hypot(x - point.x_mm.to_mm().abs(), y - point.y_mm.to_mm())
    };
    (0..=STEPS).map(distance).fold(f64::INFINITY, f64::min)
}

fn shoelace_dm2(points: &[Point]) -> f64 {
    let mut doubled = 0.0;
    for (i, p) in points.iter().enumerate() {
        let q = points[(i + 1) % points.len()];
        doubled += p.x_mm.to_mm() * q.y_mm.to_mm() - q.x_mm.to_mm() * p.y_mm.to_mm();
    }
    doubled.abs() / 2.0 / 10_000.0
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_comb_leaves_the_bee_space(body in bodies()) {
        let outline = Outline::of(&body);
        for &point in outline.points() {
            prop_assert!(distance_to_walls(&body, point) >= 8.0 - 0.05, "{body}: {point:?}");
            prop_assert!(point.y_mm.to_mm() <= body.depth().to_mm() - 12.0 + 1e-9, "{body}");
        }
    }

    #[test]
    fn areas_are_positive_and_in_order(body in bodies()) {
        let outline = Outline::of(&body);
        prop_assert!(outline.face_area() > Area::ZERO);
        prop_assert!(outline.face_area() <= outline.net_area());
        prop_assert!(outline.net_area() < body.section_area());
    }

    #[test]
    fn the_drawn_outline_has_the_area_of_the_face(body in bodies(), drawn in 0.0..=1.0) {
        let outline = Outline::of(&body);
        let face = outline.face_area().to_dm2();
        prop_assert!((shoelace_dm2(outline.points()) / face - 1.0).abs() < 1e-6, "{body}");
        let part = outline.points_drawn(Share::clamped(drawn));
        prop_assert!((shoelace_dm2(&part) - drawn * face).abs() < 1e-6, "{body}");
    }

    #[test]
    fn a_comb_hangs_straight_and_narrows_downward(body in bodies()) {
        let outline = Outline::of(&body);
        let mut last = outline.top_width() / 2.0;
        for step in 0..=50 {
            let y = outline.depth() * (f64::from(step) / 50.0);
            let half = outline.half_width_at(y);
            prop_assert!(half <= last, "{body} at {y:?}");
            last = half;
        }
        for point in outline.points() {
            let mirrored = Point { x_mm: -point.x_mm, ..*point };
            prop_assert!(outline.points().contains(&mirrored) || point.x_mm == Length::ZERO);
        }
    }

    #[test]
    fn more_bee_space_never_makes_a_larger_comb(body in bodies(), side in 0.0..20.0, under in 0.0..30.0) {
        let with = |side: f64, under: f64| {
            let space = BeeSpace { side_mm: Length::mm(side), under_mm: Length::mm(under) };
            Outline::with_bee_space(&body, space).unwrap().net_area().to_dm2()
        };
        let area = with(side, under);
        prop_assert!(with(side + 1.0, under) <= area + 1e-9);
        prop_assert!(with(side, under + 1.0) <= area + 1e-9);
    }
}

#[test]
fn a_half_barrel_keeps_a_smaller_half_barrel() {
    // inside a half circle of 280 mm the parallel at 8 mm is a half circle of 272 mm
    let barrel = Body::new(BodyMeasures {
        top_width_mm: Length::mm(560.0),
        bottom_width_mm: Length::ZERO,
        depth_mm: Length::mm(280.0),
        section: Section::Rounded,
        ..Body::default().measures()
    })
    .unwrap();
    let outline = Outline::of(&barrel);
    for y in [0.0, 50.0, 150.0, 250.0] {
        let circle = libm::sqrt(272.0 * 272.0 - y * y);
        let half = outline.half_width_at(Length::mm(y)).to_mm();
        assert!(
            (half - circle).abs() < 0.05,
            "{half} at {y} instead of {circle}"
        );
    }
}

#[test]
fn a_space_that_is_none_is_refused() {
    for bad in [-1.0, 41.0, f64::NAN] {
        let space = BeeSpace {
            side_mm: Length::mm(bad),
            ..BeeSpace::USUAL
        };
        assert!(
            Outline::with_bee_space(&Body::default(), space).is_err(),
            "{bad}"
        );
    }
}
