//! Which particulars a region asks for.

use serde::Serialize;

use crate::region::{Region, Status};

/// One particular of a label, in the order in which they are usually set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Field {
    /// "Honey", or a reserved name.
    Name,
    /// Net quantity.
    NetQuantity,
    /// Name and address of the business.
    Business,
    /// Country of origin.
    Origin,
    /// Lot mark.
    Lot,
    /// Best before.
    BestBefore,
    /// How to keep it.
    Storage,
    /// Nutrition panel.
    Nutrition,
    /// List of ingredients.
    Ingredients,
    /// No honey for infants under 12 months.
    InfantCaution,
}

/// All of them.
pub const FIELDS: [Field; 10] = [
    Field::Name,
    Field::NetQuantity,
    Field::Business,
    Field::Origin,
    Field::Lot,
    Field::BestBefore,
    Field::Storage,
    Field::Nutrition,
    Field::Ingredients,
    Field::InfantCaution,
];

/// How much a region asks for a particular.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Duty {
    /// It must be there.
    Mandatory,
    /// It must be there under the condition in the note.
    Conditional,
    /// Advised, or free.
    Voluntary,
    /// No general rule.
    NoRule,
}

/// A particular in a region.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct FieldRule {
    /// Where.
    pub region: Region,
    /// Which.
    pub field: Field,
    /// How much it is asked for.
    pub duty: Duty,
    /// Condition or form; empty where there is none.
    pub note: &'static str,
    /// The instrument.
    pub instrument: &'static str,
    /// How the rule came here, in November 2026.
    pub status: Status,
}

use Duty::{Conditional as C, Mandatory as M, NoRule as N, Voluntary as V};
use Status::{Memory, Seen};

type Cell = (Duty, &'static str, Status);

const PLAIN_SEEN: Cell = (M, "", Seen);
const PLAIN_MEMORY: Cell = (M, "", Memory);
const NONE: Cell = (N, "", Memory);
const STORAGE: Cell = (C, "where it needs special storing", Memory);
const TWO_YEARS: Cell = (
    C,
    "not needed if it keeps two years or more; a lot mark is then still needed",
    Seen,
);
const PANEL_EXEMPT: &str = "exempt when sold for fund-raising";
const SINGLE: &str = "single ingredient: none needed";
const ADVISED: &str = "advised, not compulsory in any opened law; printed unless you take it off";

/// One row a region, cells in the order of [`FIELDS`]. Source: label table of the reference notes
/// (section 10), whose marks are kept: EU and Codex mostly memory, UK and Australia seen.
const fn cells(region: Region) -> [Cell; 10] {
    match region {
        Region::Codex => [
            PLAIN_MEMORY,
            PLAIN_MEMORY,
            PLAIN_MEMORY,
            (C, "if leaving it out would mislead", Memory),
            PLAIN_MEMORY,
            PLAIN_MEMORY,
            STORAGE,
            NONE,
            NONE,
            NONE,
        ],
        Region::Eu => [
            PLAIN_MEMORY,
            (M, "metric", Memory),
            PLAIN_MEMORY,
            (
                M,
                "from 14 June 2026: every country of harvest by falling weight with its per cent, \
                 in the principal field of vision, two-letter codes under 30 g; honey of a single \
                 country needs its name alone, no per cent",
                Seen,
            ),
            (M, "\"L\" and code, or the full best-before date", Memory),
            PLAIN_MEMORY,
            STORAGE,
            (N, "single-ingredient food is outside", Memory),
            (N, SINGLE, Memory),
            (V, ADVISED, Seen),
        ],
        Region::Uk => [
            PLAIN_SEEN,
            (M, "metric", Seen),
            PLAIN_SEEN,
            (
                M,
                "country or countries of harvest; a country in the address alone does not count",
                Seen,
            ),
            (M, "\"L\" and code, or the full best-before date", Seen),
            PLAIN_SEEN,
            STORAGE,
            (N, "single-ingredient food is outside", Memory),
            (N, SINGLE, Seen),
            (V, ADVISED, Seen),
        ],
        Region::Us => [
            PLAIN_SEEN,
            (M, "ounces or pounds, and grams", Seen),
            (M, "name and place of business", Memory),
            (
                C,
                "imported honey, and any honey that bears a US grade mark",
                Memory,
            ),
            NONE,
            NONE,
            NONE,
            (C, "unless the small-business exemption applies", Memory),
            (N, SINGLE, Seen),
            (V, ADVISED, Seen),
        ],
        Region::Australia => [
            (M, "the name is prescribed", Seen),
            (M, "metric", Seen),
            (M, "street address in Australia or New Zealand", Seen),
            (
                M,
                "kangaroo, bar and text of the information standard",
                Seen,
            ),
            PLAIN_SEEN,
            TWO_YEARS,
            (C, "where it needs special storing", Seen),
            (M, PANEL_EXEMPT, Seen),
            (N, SINGLE, Seen),
            (V, ADVISED, Seen),
        ],
        Region::NewZealand => [
            (M, "the name is prescribed", Seen),
            (M, "metric", Memory),
            PLAIN_SEEN,
            (V, "", Memory),
            PLAIN_SEEN,
            (C, TWO_YEARS.1, Memory),
            STORAGE,
            (M, PANEL_EXEMPT, Memory),
            (N, SINGLE, Memory),
            (V, ADVISED, Memory),
        ],
    }
}

const fn instrument(region: Region, field: Field) -> &'static str {
    match (region, field) {
        (Region::Codex, _) => "Codex CXS 1-1985; CXS 12-1981 section 6",
        (Region::Eu, Field::Origin) => "Directive 2001/110/EC as amended by (EU) 2024/1438",
        (Region::Eu, Field::Lot) => "Directive 2011/91/EU",
        (Region::Eu, _) => "Regulation (EU) 1169/2011; Directive 2001/110/EC",
        (Region::Uk, Field::Origin) => "Honey Regulations 2015, regulation 17",
        (Region::Uk, Field::Lot) => "Lot Marking Regulations 1996",
        (Region::Uk, _) => "Honey Regulations 2015 and food labelling law",
        (Region::Us, Field::Origin) => "19 CFR 134; 1985 grade standards",
        (Region::Us, Field::Nutrition) => "21 CFR 101.9",
        (Region::Us, _) => "21 CFR 101; FDA guidance on honey, 2018",
        (Region::Australia, Field::Origin) => "Country of Origin Information Standard",
        (Region::Australia | Region::NewZealand, Field::BestBefore) => {
            "Food Standards Code, Standard 1.2.5"
        }
        (Region::Australia | Region::NewZealand, Field::Name) => {
            "Food Standards Code, Standard 2.8.2"
        }
        (Region::Australia | Region::NewZealand, _) => "Food Standards Code",
    }
}

/// The rules of a region, one a field, in the order of [`FIELDS`]. The infants' caution has no
/// instrument behind it in any region opened; it follows health advice and is printed by default.
pub fn rules(region: Region) -> [FieldRule; 10] {
    let cells = cells(region);
    let mut at = 0;
    FIELDS.map(|field| {
        let (duty, note, status) = cells[at];
        at += 1;
        let instrument = match field {
            Field::InfantCaution => "health advice, no instrument",
            _ => instrument(region, field),
        };
        FieldRule {
            region,
            field,
            duty,
            note,
            instrument,
            status,
        }
    })
}
