//! The published models against `reference/khoury-reference.csv` (closed forms and an independent
//! solver's trajectories; equations and parameters there are from memory, the 2011 threshold is the
//! one in print) and against a general ODE solver.

#[path = "common/csv.rs"]
mod csv;

use ode_solvers::{Dopri5, System, Vector4};
use season::khoury::{runge_kutta, y2011, y2013};

const REFERENCE: &str = include_str!("reference/khoury-reference.csv");

struct Row {
    kind: String,
    model: String,
    quantity: String,
    m: f64,
    day: f64,
    value: f64,
}

fn rows() -> Vec<Row> {
    REFERENCE
        .lines()
        .filter(|line| !line.starts_with('#') && !line.starts_with("kind"))
        .map(|line| {
            let f = csv::fields(line);
            let number = |text: &str| text.parse().unwrap_or(f64::NAN);
            Row {
                kind: f[0].clone(),
                model: f[1].clone(),
                quantity: f[2].clone(),
                m: number(&f[3]),
                day: number(&f[4]),
                value: number(&f[5]),
            }
        })
        .collect()
}

fn close(row: &Row, ours: f64, relative: f64) {
    let off = (ours / row.value - 1.0).abs();
    assert!(
        off < relative,
        "{} {} {} m={} day={}: ours {ours}, reference {}, off {off:.1e}",
        row.kind,
        row.model,
        row.quantity,
        row.m,
        row.day,
        row.value
    );
}

#[test]
fn equilibria_and_thresholds_are_the_published_ones() {
    let (old, new) = (y2011::Parameters::default(), y2013::Parameters::default());
    let mut checked = 0;
    for row in rows() {
        let ours = match (row.kind.as_str(), row.model.as_str(), row.quantity.as_str()) {
            ("threshold", "2011", _) => old.critical_death_rate().expect("alpha > L/w"),
            ("threshold", "2013", _) => new.balance_death_rate().expect("it changes sign"),
            ("equilibrium", "2011", quantity) => {
                let rest = old.equilibrium(row.m).expect("below the threshold");
                match quantity {
                    "J=F/H" => rest.ratio,
                    "H" => rest.hive,
                    "F" => rest.foragers,
                    "N=H+F" => rest.hive + rest.foragers,
                    _ => rest.onset,
                }
            }
            ("food-rich plateau", "2013", quantity) => {
                let rest = new.plateau(row.m).expect("it lives");
                match quantity {
                    "H" => rest.hive,
                    "F" => rest.foragers,
                    "B" => rest.brood,
                    _ => rest.food_change,
                }
            }
            _ => continue,
        };
        // near m = 0.4 the food balance is a small difference of large figures
        close(
            &row,
            ours,
            if row.quantity == "df/dt" { 1e-4 } else { 2e-6 },
        );
        checked += 1;
    }
    assert!(checked >= 45 + 32 + 2, "{checked}");
    assert!(old.equilibrium(0.36).is_none());
    // in print, to three digits
    assert!((old.critical_death_rate().expect("alpha > L/w") - 0.355).abs() < 5e-4);
}

#[test]
fn trajectories_are_those_of_an_independent_solver() {
    let (old, new) = (y2011::Parameters::default(), y2013::Parameters::default());
    let mut checked = 0;
    for row in rows()
        .iter()
        .filter(|row| row.kind == "trajectory" && row.day > 0.0)
    {
        let (ours, tolerance) = if row.model == "2011" {
            let start = [16_000.0, 8000.0];
            let end = runge_kutta(|y| old.rates(*y, row.m), start, row.day, 0.05);
            (end[usize::from(row.quantity == "F")], 1e-4)
        } else {
            let start = [1000.0, 0.0, 16_000.0, 8000.0];
            let end = runge_kutta(|y| new.rates(*y, row.m), start, row.day, 0.02);
            let at = ["f", "B", "H", "F"].iter().position(|q| *q == row.quantity);
            (
                end[at.expect("a state")],
                if row.m > 0.45 { 1e-3 } else { 1e-4 },
            )
        };
        close(row, ours, tolerance);
        checked += 1;
    }
    assert!(checked > 100, "{checked}");
}

struct Published(f64);
impl System<f64, Vector4<f64>> for Published {
    fn system(&self, _day: f64, y: &Vector4<f64>, dy: &mut Vector4<f64>) {
        let rates = y2013::Parameters::default().rates([y[0], y[1], y[2], y[3]], self.0);
        *dy = Vector4::from(rates);
    }
}

#[test]
fn our_steps_agree_with_a_general_ode_solver() {
    for m in [0.1, 0.2, 0.3] {
        let start = [1000.0, 0.0, 16_000.0, 8000.0];
        let mut solver = Dopri5::new(
            Published(m),
            0.0,
            100.0,
            1.0,
            Vector4::from(start),
            1e-10,
            1e-8,
        );
        solver.integrate().expect("the model is smooth");
        let theirs = solver.y_out().last().expect("an end");
        let parameters = y2013::Parameters::default();
        let ours = runge_kutta(|y| parameters.rates(*y, m), start, 100.0, 0.02);
        for (ours, theirs) in ours.iter().zip(theirs.iter()) {
            assert!((ours / theirs - 1.0).abs() < 1e-6, "m={m}: {ours} {theirs}");
        }
    }
}
