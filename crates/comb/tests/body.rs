//! Which bodies can be, and what is said of those that cannot.

use comb::{Body, BodyFault, BodyMeasures, CombError, Entrance, Length, Section};

fn usual() -> BodyMeasures {
    Body::default().measures()
}

fn fault(measures: BodyMeasures) -> BodyFault {
    match Body::new(measures) {
        Err(CombError::Body(fault)) => fault,
        other => panic!("{measures:?} gave {other:?}"),
    }
}

/// Every refusal names the field, quotes the value and ends in something to do.
fn check_words(measures: BodyMeasures, words: &[&str]) {
    let said = fault(measures).to_string();
    for word in words {
        assert!(said.contains(word), "{word:?} is missing in {said:?}");
    }
}

#[test]
fn lengths_that_are_no_lengths_are_refused() {
    for bad in [0.0, -381.0, f64::NAN, f64::INFINITY] {
        let mm = Length::mm(bad);
        for measures in [
            BodyMeasures {
                cavity_length_mm: mm,
                ..usual()
            },
            BodyMeasures {
                top_width_mm: mm,
                ..usual()
            },
            BodyMeasures {
                bottom_width_mm: mm,
                ..usual()
            },
            BodyMeasures {
                depth_mm: mm,
                ..usual()
            },
            BodyMeasures {
                bar_width_mm: mm,
                ..usual()
            },
        ] {
            assert!(
                matches!(fault(measures), BodyFault::NotPositive { .. }),
                "{measures:?}"
            );
        }
    }
    check_words(
        BodyMeasures {
            depth_mm: Length::ZERO,
            ..usual()
        },
        &["depth is 0 mm", "above 0", "measure it again"],
    );
}

#[test]
fn another_unit_is_named() {
    // the same plan in inches and in centimetres
    check_words(
        BodyMeasures {
            depth_mm: Length::mm(12.0),
            ..usual()
        },
        &[
            "depth is 12 mm",
            "between 100 and 700",
            "if measured in inches, write 305",
        ],
    );
    check_words(
        BodyMeasures {
            top_width_mm: Length::mm(38.1),
            ..usual()
        },
        &[
            "top width is 38.1 mm",
            "if measured in centimetres, write 381",
        ],
    );
    check_words(
        BodyMeasures {
            cavity_length_mm: Length::mm(1.2),
            ..usual()
        },
        &[
            "cavity length is 1.2 mm",
            "if measured in metres, write 1200",
        ],
    );
    check_words(
        BodyMeasures {
            cavity_length_mm: Length::mm(12_000.0),
            ..usual()
        },
        &["12000 mm", "one digit too many, write 1200"],
    );
}

#[test]
fn published_measures_in_inches_or_centimetres_never_pass_for_millimetres() {
    for body in Body::published() {
        for factor in [25.4, 10.0] {
            let BodyMeasures {
                cavity_length_mm,
                top_width_mm,
                depth_mm,
                ..
            } = body.measures();
            let slip = BodyMeasures {
                cavity_length_mm: cavity_length_mm / factor,
                top_width_mm: top_width_mm / factor,
                depth_mm: depth_mm / factor,
                ..body.measures()
            };
            assert!(
                matches!(fault(slip), BodyFault::OutOfSize { .. }),
                "{body} / {factor}"
            );
        }
    }
}

#[test]
fn a_floor_wider_than_the_top_or_the_depth_is_refused() {
    let wide = BodyMeasures {
        bottom_width_mm: Length::mm(400.0),
        ..usual()
    };
    check_words(
        wide,
        &["bottom width is 400 mm", "top width of 381 mm", "swapped"],
    );
    let shallow = BodyMeasures {
        bottom_width_mm: Length::mm(320.0),
        ..usual()
    };
    check_words(
        shallow,
        &[
            "bottom width is 320 mm",
            "deep (305 mm)",
            "rectangular body",
        ],
    );
}

#[test]
fn an_upright_body_may_be_wider_than_deep() {
    let upright = BodyMeasures {
        top_width_mm: Length::mm(430.0),
        bottom_width_mm: Length::mm(430.0),
        section: Section::Rectangular,
        ..usual()
    };
    assert!(Body::new(upright).is_ok());
    let leaning = BodyMeasures {
        bottom_width_mm: Length::mm(300.0),
        ..upright
    };
    check_words(
        leaning,
        &["430 mm above", "300 mm below", "choose sloped sides"],
    );
}

#[test]
fn only_a_rounded_body_may_come_to_a_line() {
    let line = BodyMeasures {
        bottom_width_mm: Length::ZERO,
        ..usual()
    };
    assert!(matches!(fault(line), BodyFault::NotPositive { .. }));
    assert!(
        Body::new(BodyMeasures {
            section: Section::Rounded,
            ..line
        })
        .is_ok()
    );
}

#[test]
fn the_entrance_is_in_the_body() {
    let at = |mm: f64| BodyMeasures {
        entrance: Entrance::Side {
            from_left_mm: Length::mm(mm),
        },
        ..usual()
    };
    assert_eq!(
        Body::new(at(600.0)).unwrap().entrance_from_left(),
        Length::mm(600.0)
    );
    for outside in [-1.0, 1200.1, f64::NAN] {
        assert!(
            matches!(fault(at(outside)), BodyFault::EntranceOutside { .. }),
            "{outside}"
        );
    }
}

#[test]
fn a_half_barrel_has_the_area_of_half_a_circle() {
    // area of a circle: pi r^2, with r = 280 mm
    let barrel = BodyMeasures {
        top_width_mm: Length::mm(560.0),
        bottom_width_mm: Length::ZERO,
        depth_mm: Length::mm(280.0),
        section: Section::Rounded,
        ..usual()
    };
    let half_circle = std::f64::consts::PI * 2.8 * 2.8 / 2.0;
    let barrel = Body::new(barrel).unwrap();
    assert!((barrel.section_area().to_dm2() - half_circle).abs() < 1e-9);
    assert_eq!(barrel.half_width_at(Length::mm(280.0)), Length::ZERO);
}

#[test]
fn a_body_is_written_with_its_units_and_read_back_checked() {
    let body = Body::default();
    let written = serde_json::to_value(body).unwrap();
    assert_eq!(
        written,
        serde_json::json!({
            "cavity_length_mm": 1200.0,
            "top_width_mm": 381.0,
            "bottom_width_mm": 127.0,
            "depth_mm": 305.0,
            "section": "sloped",
            "entrance": { "place": "left_end" },
            "bar_width_mm": 35.0,
        })
    );
    assert_eq!(
        serde_json::from_value::<Body>(written.clone()).unwrap(),
        body
    );
    let mut broken = written;
    broken["depth_mm"] = serde_json::json!(12.0);
    let error = serde_json::from_value::<Body>(broken)
        .unwrap_err()
        .to_string();
    assert!(
        error.contains("if measured in inches, write 305"),
        "{error}"
    );
}
