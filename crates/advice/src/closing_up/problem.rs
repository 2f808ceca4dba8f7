//! The question: what hangs at the opened end, and what is at hand to close it.

use std::collections::BTreeSet;
use std::fmt;

use comb::{Mass, Share};
use serde::de::{self, Deserializer, Visitor};
use serde::{Deserialize, Serialize};

use crate::AdviceError;

/// Longest length taken, mm. Ours: longer than any hive body, and the lid's table stays small.
pub const MAX_MM: u32 = 10_000;
/// Most standing combs taken. Ours: twice what a long hive holds from end to end.
pub const MAX_STANDING: usize = 60;
/// Most loose bars taken. Ours: a long hive whose colony is still small has empty bars to its end wall.
pub const MAX_LOOSE: usize = 60;
/// Most shims taken. Ours.
pub const MAX_SHIMS: usize = 24;
/// Heaviest comb taken, kg. Ours: ten times a full comb of a deep body.
pub const MAX_COMB_KG: f64 = 100.0;
/// Longest name of a bar, bytes. Ours.
pub const MAX_ID_BYTES: usize = 100;
/// From this mean capped share on a comb counts as capped ("capped >= 2/3").
/// Common practice, no source; the problem's own rule.
pub const CAPPED_FROM: f64 = 2.0 / 3.0;

/// A length in whole millimetres, from `LEAST` to [`MAX_MM`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(transparent)]
pub struct WholeMm<const LEAST: u32>(u32);

/// Width of a bar, a board or a shim: at least 1 mm.
pub type Width = WholeMm<1>;
/// A length that may be nothing.
pub type Allowance = WholeMm<0>;

impl<const LEAST: u32> WholeMm<LEAST> {
    /// From millimetres; nothing when outside `LEAST..=MAX_MM`.
    pub const fn new(mm: u32) -> Option<Self> {
        if mm >= LEAST && mm <= MAX_MM {
            Some(Self(mm))
        } else {
            None
        }
    }
    /// In millimetres.
    pub const fn to_mm(self) -> u32 {
        self.0
    }
}

impl<'de, const LEAST: u32> Deserialize<'de> for WholeMm<LEAST> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Whole<const LEAST: u32>;
        impl<const LEAST: u32> Visitor<'_> for Whole<LEAST> {
            type Value = WholeMm<LEAST>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(
                    f,
                    "a whole number of millimetres from {LEAST} to {MAX_MM}, without quotes"
                )
            }
            fn visit_u64<E: de::Error>(self, mm: u64) -> Result<Self::Value, E> {
                u32::try_from(mm)
                    .ok()
                    .and_then(WholeMm::new)
                    .ok_or_else(|| E::invalid_value(de::Unexpected::Unsigned(mm), &self))
            }
            fn visit_i64<E: de::Error>(self, mm: i64) -> Result<Self::Value, E> {
                u32::try_from(mm)
                    .ok()
                    .and_then(WholeMm::new)
                    .ok_or_else(|| E::invalid_value(de::Unexpected::Signed(mm), &self))
            }
            fn visit_f64<E: de::Error>(self, mm: f64) -> Result<Self::Value, E> {
                // 35.0 is a whole number, 35.5 is not
                if (0.0..=f64::from(MAX_MM)).contains(&mm) && mm.fract() <= 0.0 {
                    return self.visit_u64(mm as u64);
                }
                Err(E::invalid_value(de::Unexpected::Float(mm), &self))
            }
        }
        deserializer.deserialize_any(Whole)
    }
}

/// What a standing comb carries. Unripe honey is honey with a low capped share.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// Brood on either face.
    Brood,
    /// Honey, ripe or not, and no brood.
    Honey,
}

/// What hangs on a loose bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum LooseKind {
    /// A strip of comb was left; it hangs inside or stays out.
    Cut,
    /// No comb; it may also lie beyond the follower board as lid.
    Empty,
}

/// The last comb that was not moved. It stays where it is and is never lifted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Edge {
    /// Brood or honey.
    pub kind: Kind,
    /// Mean capped share of its two faces.
    pub capped: Share,
    /// Drawn straight along its bar.
    pub straight: bool,
}

/// A comb that stays, in its present place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Standing {
    /// The bar's name, unique among all bars of the problem.
    pub id: String,
    /// Brood or honey.
    pub kind: Kind,
    /// Mean capped share of its two faces.
    pub capped: Share,
    /// Drawn straight along its bar.
    pub straight: bool,
    /// Width of its bar.
    pub width_mm: Width,
    /// Mass that a lift moves, from nothing to [`MAX_COMB_KG`].
    pub mass_kg: Mass,
}

/// A bar at hand that may go in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Loose {
    /// The bar's name, unique among all bars of the problem.
    pub id: String,
    /// Cut or empty.
    pub kind: LooseKind,
    /// Width of the bar.
    pub width_mm: Width,
}

/// One opened end of a hive, from the edge outward to the end wall.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Problem {
    /// Free length from the edge comb's bar to the end wall.
    pub cavity_mm: Width,
    /// Thickness of the follower board.
    pub follower_mm: Width,
    /// How much of the length may stay uncovered.
    pub tolerance_mm: Allowance,
    /// The last comb that was not moved.
    pub edge: Edge,
    /// The combs that stay, in their present order from the edge outward.
    pub standing: Vec<Standing>,
    /// Cut and empty bars at hand.
    pub loose: Vec<Loose>,
    /// Shims at hand, each usable once.
    pub shims_mm: Vec<Width>,
}

/// Milligrams: whole, so that sums of masses compare exactly and no tie hangs on rounding.
pub(super) fn milligrams(mass: Mass) -> u64 {
    const MG_PER_KG: f64 = 1e6; // by definition
    (mass.to_kg() * MG_PER_KG).round() as u64
}

/// Kilograms from [`milligrams`].
pub(super) fn kilograms(mg: u64) -> f64 {
    mg as f64 / 1e6
}

impl Edge {
    /// At least [`CAPPED_FROM`] capped.
    pub fn is_capped(&self) -> bool {
        self.capped.get() >= CAPPED_FROM
    }
}

impl Standing {
    /// At least [`CAPPED_FROM`] capped.
    pub fn is_capped(&self) -> bool {
        self.capped.get() >= CAPPED_FROM
    }
}

impl Problem {
    /// Checks what the types cannot: names given once, masses, and bounds on the counts.
    ///
    /// # Errors
    /// [`AdviceError::Value`], naming the first field at fault.
    pub fn check(&self) -> Result<(), AdviceError> {
        at_most("standing", self.standing.len(), MAX_STANDING)?;
        at_most("loose", self.loose.len(), MAX_LOOSE)?;
        at_most("shims_mm", self.shims_mm.len(), MAX_SHIMS)?;
        let standing = self.standing.iter().map(|comb| &comb.id).enumerate();
        let loose = self.loose.iter().map(|bar| &bar.id).enumerate();
        let named = standing
            .map(|(i, id)| (format!("standing[{i}].id"), id))
            .chain(loose.map(|(i, id)| (format!("loose[{i}].id"), id)));
        let mut seen = BTreeSet::new();
        for (path, id) in named {
            check_id(&path, id)?;
            if !seen.insert(id) {
                return value(
                    path,
                    format!("is \"{id}\", which another bar is called too"),
                );
            }
        }
        for (i, comb) in self.standing.iter().enumerate() {
            let kg = comb.mass_kg.to_kg();
            if !(0.0..=MAX_COMB_KG).contains(&kg) {
                let message = format!("must be from 0 to {MAX_COMB_KG} kg, this one is {kg}");
                return value(format!("standing[{i}].mass_kg"), message);
            }
        }
        Ok(())
    }
}

fn check_id(path: &str, id: &str) -> Result<(), AdviceError> {
    if id.trim().is_empty() {
        return value(
            path.to_owned(),
            "is empty; every bar needs a name".to_owned(),
        );
    }
    if id.len() > MAX_ID_BYTES {
        let message = format!("is longer than {MAX_ID_BYTES} bytes");
        return value(path.to_owned(), message);
    }
    Ok(())
}

fn at_most(field: &str, count: usize, most: usize) -> Result<(), AdviceError> {
    if count <= most {
        return Ok(());
    }
    let message = format!("lists {count}, more than the {most} that are taken at one end");
    value(field.to_owned(), message)
}

fn value(path: String, message: String) -> Result<(), AdviceError> {
    Err(AdviceError::Value { path, message })
}

/// Reads a problem from its JSON and checks it.
///
/// # Errors
/// [`AdviceError::Malformed`] or [`AdviceError::Value`], each naming the field by its path:
///
/// ```
/// use advice::closing_up::parse_problem;
/// let bad = r#"{"cavity_mm": 420, "follower_mm": 19, "tolerance_mm": -3}"#;
/// let error = parse_problem(bad).unwrap_err().to_string();
/// assert!(error.starts_with("tolerance_mm: invalid value: integer `-3`"), "{error}");
/// ```
pub fn parse_problem(json: &str) -> Result<Problem, AdviceError> {
    let mut reader = serde_json::Deserializer::from_str(json);
    let problem: Problem = serde_path_to_error::deserialize(&mut reader)
        .map_err(|error| malformed(&error.path().to_string(), &error.inner().to_string()))?;
    reader
        .end()
        .map_err(|error| malformed(".", &error.to_string()))?;
    problem.check()?;
    Ok(problem)
}

/// Puts a missing field's name onto the path of the object it is missing from.
fn malformed(path: &str, message: &str) -> AdviceError {
    let holder = if path == "." { "" } else { path };
    let missing = message
        .strip_prefix("missing field `")
        .and_then(|rest| rest.split('`').next());
    let path = match (holder, missing) {
        ("", None) => "problem".to_owned(),
        ("", Some(field)) => field.to_owned(),
        (holder, None) => holder.to_owned(),
        (holder, Some(field)) => format!("{holder}.{field}"),
    };
    // the one word of the parser's that a keeper cannot know
    let message = message.replace("expected f64", "expected a number");
    AdviceError::Malformed { path, message }
}
