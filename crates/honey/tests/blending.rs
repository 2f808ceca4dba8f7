//! Blending by hand, against a linear program, and as laws.

use comb::Mass;
use honey::blend::{PourPlan, Vessel, batch, bring_to_target, mixed, square};
use honey::{HoneyError, Moisture};
use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome};
use proptest::prelude::*;

fn water(percent: f64) -> Moisture {
    Moisture::percent(percent).expect("a possible moisture")
}

fn vessel(name: &str, kg: f64, percent: f64) -> Vessel {
    Vessel {
        name: name.to_owned(),
        mass_kg: Mass::kg(kg),
        moisture_pct: water(percent),
    }
}

#[test]
fn the_square_comes_out_as_by_hand() {
    // reference notes, section 7: wet 19.4, dry 16.8, target 18.0: 1.2 : 1.4
    let (wet, dry) = square(water(19.4), water(16.8), water(18.0)).unwrap();
    assert!((wet - 1.2).abs() < 1e-9 && (dry - 1.4).abs() < 1e-9);
    assert!((10.0 * dry / wet - 11.667).abs() < 0.0005);
    for (wet, dry, target) in [(19.4, 16.8, 16.8), (19.4, 16.8, 19.4), (18.0, 18.0, 18.0)] {
        assert!(square(water(wet), water(dry), water(target)).is_err());
    }
}

#[test]
fn ten_wet_kilograms_need_eleven_and_two_thirds_dry_ones() {
    // by hand: 10.0 kg at 19.4 and 11.667 kg at 16.8 make 21.667 kg at 18.0. Pouring the 10 kg
    // wet into the dry vessel moves less than the other way round
    let plan = bring_to_target(
        &[vessel("wet", 10.0, 19.4), vessel("dry", 35.0 / 3.0, 16.8)],
        water(18.0),
    )
    .unwrap();
    assert_eq!(plan.pours.len(), 1);
    assert_eq!(
        (plan.pours[0].from.as_str(), plan.pours[0].into.as_str()),
        ("wet", "dry")
    );
    assert!((plan.moved_kg.to_kg() - 10.0).abs() < 1e-9);
    assert!((plan.after[1].mass_kg.to_kg() - 65.0 / 3.0).abs() < 1e-9);
    assert!((plan.after[1].moisture_pct.to_percent() - 18.0).abs() < 1e-9);
}

#[test]
fn a_very_dry_lot_is_poured_into_the_wet_one() {
    // by hand: 20 kg at 18.5 is 0.5 over 18.0; honey at 15.0 is 3.0 under: 20 x 0.5 / 3.0 = 3.333
    let plan = bring_to_target(
        &[vessel("tank", 20.0, 18.5), vessel("pail", 8.0, 15.0)],
        water(18.0),
    )
    .unwrap();
    assert_eq!(plan.pours[0].from, "pail");
    assert!((plan.moved_kg.to_kg() - 10.0 / 3.0).abs() < 1e-9);
}

#[test]
fn what_cannot_be_reached_is_said_with_what_is_missing() {
    // by hand: 10 x 19.4 and 5 x 16.8 mix to 18.5333; excess 14 - 6 = 8 kg points; 8/1.2 = 6.667
    let error = bring_to_target(
        &[vessel("wet", 10.0, 19.4), vessel("dry", 5.0, 16.8)],
        water(18.0),
    )
    .unwrap_err();
    let HoneyError::BlendTooWet {
        reachable, more, ..
    } = &error
    else {
        panic!("{error}");
    };
    assert!((reachable.to_percent() - 278.0 / 15.0).abs() < 1e-9);
    let (kg, _) = more.unwrap();
    assert!((kg.to_kg() - 20.0 / 3.0).abs() < 1e-9);
    assert!(
        error.to_string().contains("6.667 kg more honey of 16.8 %"),
        "{error}"
    );
    let all_wet = bring_to_target(&[vessel("wet", 10.0, 19.4)], water(18.0)).unwrap_err();
    assert!(all_wet.to_string().contains("drier honey"), "{all_wet}");
    assert!(bring_to_target(&[vessel("none", 0.0, 19.4)], water(18.0)).is_err());
}

#[test]
fn honey_at_the_target_stays_where_it_is() {
    let plan = bring_to_target(
        &[vessel("a", 4.0, 17.0), vessel("b", 4.0, 18.0)],
        water(18.0),
    );
    assert!(plan.unwrap().pours.is_empty());
}

#[test]
fn a_batch_takes_the_wettest_that_may_go_in() {
    // by hand: 18.0 from 19.0 and 17.0 in equal parts
    let lots = [vessel("dry", 30.0, 17.0), vessel("wet", 30.0, 19.0)];
    let (portions, moisture) = batch(&lots, Mass::kg(20.0), water(18.0)).unwrap();
    assert_eq!(portions.len(), 2);
    for portion in &portions {
        assert!(
            (portion.mass_kg.to_kg() - 10.0).abs() < 1e-9,
            "{portions:?}"
        );
    }
    assert!((moisture.to_percent() - 18.0).abs() < 1e-9);
    // nothing drier is used up when the wettest will do
    let (portions, _) = batch(&lots, Mass::kg(20.0), water(19.0)).unwrap();
    assert_eq!((portions.len(), portions[0].from.as_str()), (1, "wet"));
    let too_much = batch(&lots, Mass::kg(61.0), water(18.5)).unwrap_err();
    assert!(too_much.to_string().contains("60.000"), "{too_much}");
    let too_wet = batch(&lots, Mass::kg(20.0), water(16.5)).unwrap_err();
    assert!(
        matches!(too_wet, HoneyError::BlendTooWet { .. }),
        "{too_wet}"
    );
}

/// Least honey moved as a linear program: a pour between every two vessels.
fn least_moved(vessels: &[Vessel], target: f64) -> Option<f64> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let n = vessels.len();
    let pours: Vec<Vec<_>> = (0..n)
        .map(|_| {
            (0..n)
                .map(|_| problem.add_var(1.0, (0.0, f64::INFINITY)))
                .collect()
        })
        .collect();
    let over = |i: usize| vessels[i].moisture_pct.to_percent() - target;
    for v in 0..n {
        let mass = vessels[v].mass_kg.to_kg();
        let others = || (0..n).filter(move |u| *u != v);
        let out: Vec<_> = others().map(|u| (pours[v][u], 1.0)).collect();
        problem.add_constraint(&out, ComparisonOp::Le, mass);
        // (mass - out) over_v + sum(in over_u) <= 0
        let mut excess: Vec<_> = others().map(|u| (pours[v][u], -over(v))).collect();
        excess.extend(others().map(|u| (pours[u][v], over(u))));
        problem.add_constraint(&excess, ComparisonOp::Le, -mass * over(v));
    }
    match problem.solve() {
        Ok(SolveOutcome::Solution(solved)) => Some(solved.objective()),
        _ => None,
    }
}

fn any_vessels() -> impl Strategy<Value = Vec<Vessel>> {
    let one = (10_u32..800, 140_u32..220)
        .prop_map(|(kg, percent)| vessel("", f64::from(kg) / 10.0, f64::from(percent) / 10.0));
    proptest::collection::vec(one, 1..7).prop_map(|mut vessels| {
        for (at, vessel) in vessels.iter_mut().enumerate() {
            vessel.name = format!("lot {at}");
        }
        vessels
    })
}

fn total(vessels: &[Vessel]) -> (f64, f64) {
    let kg = vessels.iter().map(|v| v.mass_kg.to_kg()).sum();
    let water = vessels
        .iter()
        .map(|v| v.moisture_pct.water_in(v.mass_kg).to_kg())
        .sum();
    (kg, water)
}

/// Pours carried out one by one must be possible with what is in the vessel, and of the honey
/// that stood there first.
fn follow(vessels: &[Vessel], plan: &PourPlan) {
    let mut left: Vec<f64> = vessels.iter().map(|v| v.mass_kg.to_kg()).collect();
    let mut stirred = vec![false; vessels.len()];
    for pour in &plan.pours {
        let at = |name: &str| {
            vessels
                .iter()
                .position(|v| v.name == name)
                .expect("a vessel of the plan")
        };
        let (from, into) = (at(&pour.from), at(&pour.into));
        assert!(
            !stirred[from],
            "{} was stirred before it was drawn from",
            pour.from
        );
        left[from] -= pour.mass_kg.to_kg();
        assert!(left[from] > -1e-6, "{} is overdrawn", pour.from);
        stirred[into] = true;
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_plan_moves_as_little_as_a_linear_program_finds(
        vessels in any_vessels(), target in 150_u32..210,
    ) {
        let target = f64::from(target) / 10.0;
        let plan = bring_to_target(&vessels, water(target));
        let solved = least_moved(&vessels, target);
        match plan {
            Ok(plan) => {
                let least = solved.expect("a plan exists, so the program must find one");
                let moved = plan.moved_kg.to_kg();
                prop_assert!((moved - least).abs() < 1e-5 * (1.0 + least), "{} {}", moved, least);
                for vessel in plan.after.iter().filter(|v| v.mass_kg.to_kg() > 1e-6) {
                    prop_assert!(vessel.moisture_pct.to_percent() < target + 1e-5, "{:?}", vessel);
                }
                let ((kg_before, water_before), (kg, wet)) = (total(&vessels), total(&plan.after));
                prop_assert!((kg - kg_before).abs() < 1e-9);
                prop_assert!((wet - water_before).abs() < 1e-6);
                follow(&vessels, &plan);
            }
            Err(HoneyError::BlendTooWet { reachable, .. }) => {
                prop_assert!(reachable.to_percent() > target - 1e-6);
            }
            Err(other) => prop_assert!(false, "{}", other),
        }
    }

    #[test]
    fn a_mixture_lies_between_its_parts(vessels in any_vessels()) {
        let parts: Vec<_> = vessels.iter().map(|v| (v.mass_kg, v.moisture_pct)).collect();
        let all = mixed(&parts).unwrap().to_percent();
        let each = || vessels.iter().map(|v| v.moisture_pct.to_percent());
        prop_assert!(all <= each().fold(0.0, f64::max) + 1e-9);
        prop_assert!(all >= each().fold(100.0, f64::min) - 1e-9);
    }

    #[test]
    fn a_batch_weighs_what_was_asked_and_keeps_its_ceiling(
        vessels in any_vessels(), tenths in 5_u32..900, ceiling in 150_u32..210,
    ) {
        let (kg, ceiling) = (f64::from(tenths) / 10.0, f64::from(ceiling) / 10.0);
        if let Ok((portions, moisture)) = batch(&vessels, Mass::kg(kg), water(ceiling)) {
            let sum: f64 = portions.iter().map(|p| p.mass_kg.to_kg()).sum();
            prop_assert!((sum - kg).abs() < 1e-6, "{} {}", sum, kg);
            prop_assert!(moisture.to_percent() < ceiling + 1e-6);
            for portion in &portions {
                let lot = vessels.iter().find(|v| v.name == portion.from).unwrap();
                prop_assert!(portion.mass_kg.to_kg() <= lot.mass_kg.to_kg() + 1e-9);
            }
        }
    }
}
