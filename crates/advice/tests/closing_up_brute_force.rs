//! The solver against trying everything: every order of the combs, every place for every loose bar,
//! every choice of shims, scored by the separate checker. Small problems of every make.
//!
//! `PROPTEST_CASES=20000 STANDING=6 cargo test --release -p advice --test closing_up_brute_force`
//! tries more and larger ones.

use advice::closing_up::{
    Edge, Kind, Layout, Loose, LooseKind, Outcome, Problem, Score, Standing, Step, Where, WholeMm,
    score, solve, steps,
};
use comb::{Mass, Share};
use proptest::prelude::*;

fn from_environment(name: &str, default: u32) -> u32 {
    std::env::var(name)
        .ok()
        .and_then(|text| text.parse().ok())
        .unwrap_or(default)
}

/// The best score there is, by trying everything.
fn best_of_all(problem: &Problem) -> Option<Score> {
    let combs: Vec<usize> = (0..problem.standing.len()).collect();
    let mut best = None;
    permutations(&combs, &mut Vec::new(), &mut |order| {
        try_loose(problem, order, &mut best);
    });
    best
}

fn permutations(left: &[usize], order: &mut Vec<usize>, visit: &mut impl FnMut(&[usize])) {
    if left.is_empty() {
        visit(order);
    }
    for (i, comb) in left.iter().enumerate() {
        let rest: Vec<usize> = left[..i].iter().chain(&left[i + 1..]).copied().collect();
        order.push(*comb);
        permutations(&rest, order, visit);
        order.pop();
    }
}

/// Each loose bar is left out (0), outside (1), or follows the n-th comb (2 + n).
fn try_loose(problem: &Problem, order: &[usize], best: &mut Option<Score>) {
    let choices = order.len() + 3;
    for code in 0..choices.pow(problem.loose.len() as u32) {
        let mut digits = code;
        let places: Vec<usize> = problem
            .loose
            .iter()
            .map(|_| {
                let digit = digits % choices;
                digits /= choices;
                digit
            })
            .collect();
        try_shims(problem, order, &places, best);
    }
}

fn try_shims(problem: &Problem, order: &[usize], places: &[usize], best: &mut Option<Score>) {
    let loose = |place: usize| {
        let bars = problem
            .loose
            .iter()
            .zip(places)
            .filter(move |(_, at)| **at == place);
        bars.map(|(bar, _)| bar.id.clone())
    };
    let widths = problem
        .loose
        .iter()
        .zip(places)
        .filter(|(_, place)| **place > 0);
    let bars: u32 = widths.map(|(bar, _)| bar.width_mm.to_mm()).sum::<u32>()
        + problem
            .standing
            .iter()
            .map(|comb| comb.width_mm.to_mm())
            .sum::<u32>();
    for chosen in 0..1_u32 << problem.shims_mm.len() {
        let shims = problem.shims_mm.iter().enumerate();
        let shims: Vec<_> = shims
            .filter(|(i, _)| chosen >> i & 1 == 1)
            .map(|(_, shim)| *shim)
            .collect();
        // the checker would say the same, more slowly
        let covered =
            bars + problem.follower_mm.to_mm() + shims.iter().map(|s| s.to_mm()).sum::<u32>();
        let cavity = problem.cavity_mm.to_mm();
        if covered > cavity || covered + problem.tolerance_mm.to_mm() < cavity {
            continue;
        }
        let mut row: Vec<String> = loose(2).collect();
        for (n, comb) in order.iter().enumerate() {
            row.push(problem.standing[*comb].id.clone());
            row.extend(loose(3 + n));
        }
        let layout = Layout {
            order: row,
            outside: loose(1).collect(),
            shims,
        };
        if let Ok(score) = score(problem, &layout) {
            *best = Some(best.map_or(score, |best| best.min(score)));
        }
    }
}

/// A comb without its name.
fn comb() -> impl Strategy<Value = Standing> {
    let capped = prop_oneof![Just(0.0), Just(0.5), Just(2.0 / 3.0), Just(0.9)];
    let mass = prop_oneof![Just(1.0), Just(1.1), Just(2.25), 0.0..3.0];
    let kind = prop_oneof![1 => Just(Kind::Brood), 4 => Just(Kind::Honey)];
    let straight = prop::bool::weighted(0.75);
    (kind, capped, straight, 30..38_u32, mass).prop_map(|(kind, capped, straight, mm, kg)| {
        Standing {
            id: String::new(),
            kind,
            capped: Share::clamped(capped),
            straight,
            width_mm: width(mm),
            mass_kg: Mass::kg(kg),
        }
    })
}

fn width<const LEAST: u32>(mm: u32) -> WholeMm<LEAST> {
    WholeMm::new(mm).expect("widths of the tests are in range")
}

fn loose() -> impl Strategy<Value = Loose> {
    let kind = prop_oneof![Just(LooseKind::Cut), Just(LooseKind::Empty)];
    (kind, 30..38_u32).prop_map(|(kind, mm)| Loose {
        id: String::new(),
        kind,
        width_mm: width(mm),
    })
}

/// About as long as combs, board and some of the loose bars.
fn problem(most_standing: usize) -> impl Strategy<Value = Problem> {
    let lengths = (10..25_u32, 0..5_u32, 0..8_u32, 0..25_u32);
    let shims = prop::collection::vec((1..12_u32).prop_map(width), 0..=3);
    let standing = prop::collection::vec(comb(), 0..=most_standing);
    let loose = prop::collection::vec(loose(), 0..=3);
    (comb(), standing, loose, shims, lengths).prop_map(
        |(edge, mut standing, mut loose, shims_mm, (follower, tolerance, aim, slack))| {
            let mut cavity = follower + slack;
            for (i, comb) in standing.iter_mut().enumerate() {
                comb.id = format!("b{i}");
                cavity += comb.width_mm.to_mm();
            }
            for (i, bar) in loose.iter_mut().enumerate() {
                bar.id = format!("c{i}");
                cavity += bar.width_mm.to_mm() * (aim >> i & 1);
            }
            Problem {
                cavity_mm: width(cavity),
                follower_mm: width(follower),
                tolerance_mm: width(tolerance),
                edge: Edge {
                    kind: edge.kind,
                    capped: edge.capped,
                    straight: edge.straight,
                },
                standing,
                loose,
                shims_mm,
            }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(from_environment("PROPTEST_CASES", 150)))]

    #[test]
    fn nothing_is_better_than_the_answer(
        problem in problem(from_environment("STANDING", 4) as usize)
    ) {
        let best = best_of_all(&problem);
        match solve(&problem).unwrap() {
            Outcome::Closed(answer) => {
                prop_assert_eq!(Some(answer.score), best);
                let lifted: f64 = answer.lifted.iter().map(|id| {
                    problem.standing.iter().find(|c| c.id == *id).unwrap().mass_kg.to_kg()
                }).sum();
                prop_assert!((lifted - answer.score.lifted_mg as f64 / 1e6).abs() < 1e-5);
                prop_assert_eq!(answer.lifted.len(), answer.score.lifted as usize);
            }
            Outcome::Impossible { impossible } => {
                prop_assert_eq!(best, None, "{}", impossible);
            }
        }
    }

    #[test]
    fn the_choice_is_the_same_every_time(problem in problem(5)) {
        prop_assert_eq!(solve(&problem), solve(&problem));
    }

    #[test]
    fn the_steps_lead_to_the_answer(problem in problem(12)) {
        if let Outcome::Closed(answer) = solve(&problem).unwrap() {
            let layout = Layout {
                order: answer.order.clone(),
                outside: answer.outside.clone(),
                shims: answer.shims_mm.clone(),
            };
            let mut hive = Hive::new(&problem);
            for step in steps(&problem, &layout) {
                hive.follow(&step);
            }
            prop_assert!(hive.hanging.is_empty() && hive.stand.is_empty());
            prop_assert_eq!(hive.settled, answer.order);
            hive.lifted.sort();
            let mut lifted = answer.lifted;
            lifted.sort();
            prop_assert_eq!(hive.lifted, lifted);
        }
    }
}

/// An end of a hive, worked on as the steps say.
struct Hive {
    /// Not settled yet, from the edge outward.
    hanging: Vec<String>,
    stand: Vec<String>,
    settled: Vec<String>,
    lifted: Vec<String>,
}

impl Hive {
    fn new(problem: &Problem) -> Self {
        let combs = problem.standing.iter();
        Self {
            hanging: combs.map(|comb| comb.id.clone()).collect(),
            stand: Vec::new(),
            settled: Vec::new(),
            lifted: Vec::new(),
        }
    }

    fn follow(&mut self, step: &Step) {
        match step {
            Step::Slide { combs, against } => {
                self.check(against);
                for comb in combs {
                    // nothing hangs in its way
                    assert_eq!(self.hanging.remove(0), *comb);
                    self.settled.push(comb.clone());
                }
            }
            Step::SetAside { comb } => {
                self.lift(comb);
                self.stand.push(comb.clone());
            }
            Step::SetBack { comb, against, .. } => {
                self.check(against);
                let at = self.stand.iter().position(|other| other == comb);
                self.stand.remove(at.expect("the comb is on the stand"));
                self.settled.push(comb.clone());
            }
            Step::Move { comb, against, .. } => {
                self.check(against);
                self.lift(comb);
                self.settled.push(comb.clone());
            }
            Step::SetLoose { bar, against, .. } => {
                self.check(against);
                self.settled.push(bar.clone());
            }
            Step::Follower { against } => self.check(against),
            _ => {}
        }
    }

    fn lift(&mut self, comb: &String) {
        let at = self.hanging.iter().position(|other| other == comb);
        self.hanging.remove(at.expect("the comb hangs in the hive"));
        self.lifted.push(comb.clone());
    }

    fn check(&self, against: &Where) {
        let last = self.settled.last().cloned();
        assert_eq!(*against, last.map_or(Where::Edge, Where::Bar));
    }
}
