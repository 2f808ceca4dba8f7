//! The score of the spoken test visits: slots compared one by one.
//!
//! The same definitions as the set's own scorer: shares agree within 0.1, kilograms and litres to
//! 0.1, millimetres and degrees to 1, everything else exactly; combs are aligned in order so that
//! the most slots agree; null is no slot.

use serde_json::{Map, Value};

const EPS: f64 = 1e-6;
const COMB: [&str; 9] = [
    "bar", "this", "other", "fill", "attached", "straight", "decision", "kg", "mm",
];
const VISIT: [&str; 6] = [
    "end",
    "queen",
    "eggs_seen",
    "queen_cells",
    "temperature_c",
    "taken",
];
const PARTS: [(&str, [&str; 2]); 2] = [("mites", ["count", "bees"]), ("fed", ["litres", "kind"])];

/// Slots that agree, slots expected, slots got.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Score {
    pub(crate) agree: usize,
    pub(crate) expected: usize,
    pub(crate) got: usize,
}

impl Score {
    pub(crate) fn f1(self) -> f64 {
        let all = self.expected + self.got;
        if all == 0 {
            1.0
        } else {
            2.0 * self.agree as f64 / all as f64
        }
    }

    pub(crate) fn plus(self, other: Self) -> Self {
        Self {
            agree: self.agree + other.agree,
            expected: self.expected + other.expected,
            got: self.got + other.got,
        }
    }
}

pub(crate) fn score(want: &Value, got: &Value) -> Score {
    let mut total = fields(want, got, &VISIT);
    for (name, parts) in PARTS {
        total = total.plus(fields(&want[name], &got[name], &parts));
    }
    let (a, b) = (words(&want["closing"]), words(&got["closing"]));
    total = total.plus(Score {
        agree: common(&a, &b),
        expected: a.len(),
        got: b.len(),
    });
    let (a, b) = (combs(want), combs(got));
    total.plus(Score {
        agree: alignment(&a, &b),
        expected: a.iter().map(size).sum(),
        got: b.iter().map(size).sum(),
    })
}

fn plain<'v>(value: &'v Value, names: &[&str]) -> Map<String, Value> {
    let object = value.as_object();
    names
        .iter()
        .filter_map(|n| {
            let v: &'v Value = object?.get(*n)?;
            (!v.is_null()).then(|| ((*n).to_owned(), v.clone()))
        })
        .collect()
}

fn fields(want: &Value, got: &Value, names: &[&str]) -> Score {
    let (a, b) = (plain(want, names), plain(got, names));
    Score {
        agree: right(&a, &b),
        expected: a.len(),
        got: b.len(),
    }
}

fn right(a: &Map<String, Value>, b: &Map<String, Value>) -> usize {
    a.iter()
        .filter(|(name, x)| b.get(*name).is_some_and(|y| same(name, x, y)))
        .count()
}

fn same(field: &str, a: &Value, b: &Value) -> bool {
    let within = match field {
        "this" | "other" => 0.1,
        "kg" | "litres" => 0.05,
        "mm" | "temperature_c" => 0.5,
        _ => 0.0,
    };
    match (a, b) {
        (Value::Number(a), Value::Number(b)) => {
            (a.as_f64().unwrap_or(0.0) - b.as_f64().unwrap_or(0.0)).abs() <= within + EPS
        }
        _ => a == b,
    }
}

fn words(value: &Value) -> Vec<String> {
    let all = value.as_array().into_iter().flatten();
    all.filter_map(|w| w.as_str().map(str::to_lowercase))
        .collect()
}

type Comb = (Map<String, Value>, Vec<String>);

fn combs(visit: &Value) -> Vec<Comb> {
    let all = visit["combs"].as_array().into_iter().flatten();
    all.map(|c| {
        let mut holds = words(&c["holds"]);
        holds.sort();
        holds.dedup();
        (plain(c, &COMB), holds)
    })
    .collect()
}

fn size(comb: &Comb) -> usize {
    comb.0.len() + comb.1.len()
}

fn common(a: &[String], b: &[String]) -> usize {
    let mut row = vec![0; b.len() + 1];
    for x in a {
        let mut diagonal = 0;
        for (j, y) in b.iter().enumerate() {
            let old = row[j + 1];
            row[j + 1] = if x == y {
                diagonal + 1
            } else {
                row[j + 1].max(row[j])
            };
            diagonal = old;
        }
    }
    row[b.len()]
}

fn alignment(want: &[Comb], got: &[Comb]) -> usize {
    let mut row = vec![0; got.len() + 1];
    for w in want {
        let mut diagonal = 0;
        for (j, g) in got.iter().enumerate() {
            let holds = w.1.iter().filter(|h| g.1.contains(h)).count();
            let pair = diagonal + right(&w.0, &g.0) + holds;
            diagonal = row[j + 1];
            row[j + 1] = pair.max(row[j + 1]).max(row[j]);
        }
    }
    row[got.len()]
}
