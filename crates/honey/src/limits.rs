//! What the law, or a grade, asks of honey. Whether it keeps is another question
//! ([`crate::fermentation`]); the two are never merged.

use serde::Serialize;

use crate::region::{Region, Status};
use crate::{HoneyError, Moisture};

/// What is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Item {
    /// Water, per cent by mass.
    Moisture,
    /// Fructose and glucose (Australia, New Zealand: reducing sugars), g/100 g.
    InvertSugars,
    /// Sucrose, g/100 g.
    Sucrose,
    /// Water-insoluble matter, g/100 g.
    Insolubles,
    /// Electrical conductivity, mS/cm.
    Conductivity,
    /// Free acid, milli-equivalents per kg.
    FreeAcid,
    /// Diastase, Schade scale.
    Diastase,
    /// Hydroxymethylfurfural, mg/kg.
    Hmf,
    /// Trehalulose, g/100 g.
    Trehalulose,
}

impl Item {
    /// The unit of its limits.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Moisture => "%",
            Self::InvertSugars | Self::Sucrose | Self::Insolubles | Self::Trehalulose => "g/100 g",
            Self::Conductivity => "mS/cm",
            Self::FreeAcid => "meq/kg",
            Self::Diastase => "Schade",
            Self::Hmf => "mg/kg",
        }
    }
}

/// Which honey a limit is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// Honey in general.
    General,
    /// From heather (Calluna).
    Heather,
    /// Baker's honey, for cooking only.
    Bakers,
    /// Baker's honey from heather.
    BakersHeather,
    /// Honeydew and its blends (for conductivity also chestnut).
    Honeydew,
    /// False acacia, alfalfa, Menzies banksia, French honeysuckle, red gum, leatherwood, Citrus.
    ListedPlants,
    /// Lavender, borage.
    LavenderBorage,
    /// Pressed from the comb.
    Pressed,
    /// Low in natural enzymes; only with HMF at most 15 mg/kg.
    LowEnzyme,
    /// Declared tropical origin.
    Tropical,
    /// US grades A and B (voluntary).
    UsGradeAb,
    /// US grade C (voluntary).
    UsGradeC,
    /// Honey of native stingless bees.
    Stingless,
}

/// Which side of the value is lawful.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// At most the value.
    AtMost,
    /// At least the value.
    AtLeast,
}

/// One limit with where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Limit {
    /// Whose.
    pub region: Region,
    /// Of what.
    pub item: Item,
    /// For which honey.
    pub kind: Kind,
    /// Which side is lawful.
    pub side: Side,
    /// The value, in [`Item::unit`].
    pub value: f64,
    /// The instrument, with its date.
    pub instrument: &'static str,
    /// How it came here.
    pub status: Status,
    /// True for law, false for a voluntary grade or annex.
    pub binding: bool,
}

const CODEX: &str = "Codex CXS 12-1981 (rev. 2001, am. 2019)";
const CODEX_ANNEX: &str = "Codex CXS 12-1981 (rev. 2001, am. 2019), annex, voluntary";
const EU: &str = "Directive 2001/110/EC Annex II";
const UK: &str = "Honey (England) Regulations 2015 (SI 2015/1348) and (Wales) (SI 2015/1507), \
                  repeating Directive 2001/110/EC Annex II";
const US: &str = "United States Standards for Grades of Extracted Honey, 23 May 1985, voluntary";
const ANZ: &str = "Food Standards Code, Standard 2.8.2";
const STINGLESS: &str = "Food Standards Code, Standard 2.8.3 (2024), F2024L00893";

/// Item, kind, lawful side, value, in the annex of Codex (voluntary there, binding in EU and UK).
type Row = (Item, Kind, Side, f64, bool);

/// The figures that Codex, the EU and the UK share. Source: instrument columns of the reference
/// notes; Codex memory, EU and UK seen, but for the tropical 80 mg/kg (memory).
const SHARED: [Row; 18] = [
    (Item::Moisture, Kind::General, Side::AtMost, 20.0, false),
    (Item::Moisture, Kind::Heather, Side::AtMost, 23.0, false),
    (
        Item::InvertSugars,
        Kind::General,
        Side::AtLeast,
        60.0,
        false,
    ),
    (
        Item::InvertSugars,
        Kind::Honeydew,
        Side::AtLeast,
        45.0,
        false,
    ),
    (Item::Sucrose, Kind::General, Side::AtMost, 5.0, false),
    (Item::Sucrose, Kind::ListedPlants, Side::AtMost, 10.0, false),
    (
        Item::Sucrose,
        Kind::LavenderBorage,
        Side::AtMost,
        15.0,
        false,
    ),
    (Item::Insolubles, Kind::General, Side::AtMost, 0.1, false),
    (Item::Insolubles, Kind::Pressed, Side::AtMost, 0.5, false),
    (Item::Conductivity, Kind::General, Side::AtMost, 0.8, true),
    (Item::Conductivity, Kind::Honeydew, Side::AtLeast, 0.8, true),
    (Item::FreeAcid, Kind::General, Side::AtMost, 50.0, true),
    (Item::Diastase, Kind::General, Side::AtLeast, 8.0, true),
    (Item::Diastase, Kind::LowEnzyme, Side::AtLeast, 3.0, true),
    (Item::Hmf, Kind::General, Side::AtMost, 40.0, true),
    (Item::Hmf, Kind::LowEnzyme, Side::AtMost, 15.0, true),
    (Item::Hmf, Kind::Tropical, Side::AtMost, 80.0, true),
    // honeydew moisture is the general one; said so that a question for it is answered
    (Item::Moisture, Kind::Honeydew, Side::AtMost, 20.0, false),
];

/// Baker's honey, EU and UK only.
const BAKERS: [Row; 3] = [
    (Item::Moisture, Kind::Bakers, Side::AtMost, 23.0, false),
    (
        Item::Moisture,
        Kind::BakersHeather,
        Side::AtMost,
        25.0,
        false,
    ),
    (Item::FreeAcid, Kind::Bakers, Side::AtMost, 80.0, false),
];

const US_ROWS: [Row; 2] = [
    (Item::Moisture, Kind::UsGradeAb, Side::AtMost, 18.6, true),
    (Item::Moisture, Kind::UsGradeC, Side::AtMost, 20.0, true),
];

const ANZ_ROWS: [Row; 2] = [
    (Item::Moisture, Kind::General, Side::AtMost, 21.0, false),
    (
        Item::InvertSugars,
        Kind::General,
        Side::AtLeast,
        60.0,
        false,
    ),
];

const STINGLESS_ROWS: [Row; 3] = [
    (Item::Moisture, Kind::Stingless, Side::AtMost, 28.0, false),
    (
        Item::InvertSugars,
        Kind::Stingless,
        Side::AtLeast,
        50.0,
        false,
    ),
    (
        Item::Trehalulose,
        Kind::Stingless,
        Side::AtLeast,
        2.0,
        false,
    ),
];

/// Every limit known here for a region, in the order of its instrument. US grades stand under
/// [`Kind::UsGradeAb`] and [`Kind::UsGradeC`] and are voluntary. Low-enzyme honey is tested
/// against both of its rows. Said with [`crate::region::CHECK_WITH_AUTHORITY`].
pub fn limits(region: Region) -> Vec<Limit> {
    let tables: &[&[Row]] = match region {
        Region::Codex => &[&SHARED],
        Region::Eu | Region::Uk => &[&SHARED, &BAKERS],
        Region::Us => &[&US_ROWS],
        Region::Australia | Region::NewZealand => &[&ANZ_ROWS, &STINGLESS_ROWS],
    };
    let rows = tables.iter().flat_map(|table| table.iter());
    rows.map(|row| limit_of(region, row)).collect()
}

fn limit_of(region: Region, &(item, kind, side, value, annex): &Row) -> Limit {
    let tropical = kind == Kind::Tropical;
    let (instrument, status, binding) = match region {
        Region::Codex if annex => (CODEX_ANNEX, Status::Memory, false),
        Region::Codex => (CODEX, Status::Memory, true),
        Region::Eu | Region::Uk => {
            let instrument = if region == Region::Eu { EU } else { UK };
            let status = if tropical {
                Status::Memory
            } else {
                Status::Seen
            };
            (instrument, status, true)
        }
        Region::Us => (US, Status::Seen, false),
        Region::Australia | Region::NewZealand if kind == Kind::Stingless => {
            (STINGLESS, Status::Seen, true)
        }
        Region::Australia | Region::NewZealand => (ANZ, Status::Seen, true),
    };
    Limit {
        region,
        item,
        kind,
        side,
        value,
        instrument,
        status,
        binding,
    }
}

/// The limit of one item for one kind of honey.
///
/// # Errors
/// [`HoneyError::NoLimit`] when this region's instrument has none here; never another region's.
///
/// ```
/// use honey::{Region, limits::{Item, Kind, limit}};
/// assert!((limit(Region::Uk, Item::Moisture, Kind::Heather)?.value - 23.0).abs() < 1e-9);
/// assert!(limit(Region::Us, Item::Moisture, Kind::General).is_err()); // only grades
/// # Ok::<(), honey::HoneyError>(())
/// ```
pub fn limit(region: Region, item: Item, kind: Kind) -> Result<Limit, HoneyError> {
    limits(region)
        .into_iter()
        .find(|limit| limit.item == item && limit.kind == kind)
        .ok_or(HoneyError::NoLimit { region, item, kind })
}

impl Limit {
    /// Does a measured value keep to the limit? Compared as it is; for moisture use
    /// [`Limit::admits_moisture`], which rounds first.
    pub fn admits(&self, measured: f64) -> bool {
        match self.side {
            Side::AtMost => measured <= self.value,
            Side::AtLeast => measured >= self.value,
        }
    }

    /// Does a moisture keep to the limit, tested on the reading rounded to one decimal: 20.0
    /// passes 20 %, 20.1 fails (practice).
    pub fn admits_moisture(&self, moisture: Moisture) -> bool {
        self.item == Item::Moisture && self.admits(moisture.to_tenths())
    }
}

/// The best US grade that the moisture alone allows. Points for flavour, defects and clarity
/// decide the rest. Source: as [`Kind::UsGradeAb`]; voluntary.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum UsGrade {
    /// Up to 18.6 % water (solids at least 81.4 %).
    AOrB,
    /// Up to 20.0 % (solids at least 80 %).
    C,
    /// Wetter.
    Substandard,
}

/// See [`UsGrade`]. Any moisture.
pub fn us_grade_by_moisture(moisture: Moisture) -> UsGrade {
    let fits = |row: &Row| moisture.to_tenths() <= row.3;
    if fits(&US_ROWS[0]) {
        UsGrade::AOrB
    } else if fits(&US_ROWS[1]) {
        UsGrade::C
    } else {
        UsGrade::Substandard
    }
}
