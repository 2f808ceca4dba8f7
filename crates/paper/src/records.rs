//! The record as plain tables: what a record book, a sheet or another program is given.
//!
//! One table a subject, one row a thing that happened, by day, with who wrote it down. Nothing is
//! judged here.

use comb::order::InOrder as _;
use comb::{Contents, ToldIn};
use hive::entry::{Decision, End};
use hive::health::{Disposed, Purchased, SignOnRecord, Treated};
use hive::{BarId, Entry, EntryId, Hive, Known, Visit, Yard};
use jiff::Timestamp;
use jiff::civil::{Date, DateTime};
use jiff::tz::TimeZone;

use crate::words;

/// What stands in a cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Words.
    Text(String),
    /// A figure and how many decimals of it are shown.
    Figure(f64, usize),
    /// A day.
    Day(Date),
    /// Not known, or not said.
    Unknown,
}

impl Cell {
    /// As it stands in print; unknown is empty.
    pub fn words(&self) -> String {
        match self {
            Self::Text(text) => text.clone(),
            Self::Figure(value, decimals) => format!("{value:.decimals$}"),
            Self::Day(day) => day.to_string(),
            Self::Unknown => String::new(),
        }
    }

    fn text(text: impl Into<String>) -> Self {
        let text = text.into();
        if text.is_empty() {
            Self::Unknown
        } else {
            Self::Text(text)
        }
    }

    fn count(count: usize) -> Self {
        Self::Figure(count as f64, 0)
    }
}

/// A column's head and its share of the width in print.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Head {
    /// Its name, with the unit.
    pub name: &'static str,
    /// Share of the width.
    pub share: f64,
    /// It holds figures.
    pub figures: bool,
}

const fn head(name: &'static str, share: f64) -> Head {
    Head {
        name,
        share,
        figures: false,
    }
}

const fn figures(name: &'static str, share: f64) -> Head {
    Head {
        name,
        share,
        figures: true,
    }
}

/// One subject.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Its name.
    pub name: &'static str,
    /// A short name for files.
    pub slug: &'static str,
    /// What is said where there are no rows.
    pub empty: &'static str,
    /// Columns.
    pub heads: &'static [Head],
    /// Rows, by day.
    pub rows: Vec<Vec<Cell>>,
}

/// Days from and to, both counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Days {
    /// First day.
    pub from: Date,
    /// Last day.
    pub to: Date,
}

impl Days {
    /// Whether a day is among them.
    pub fn has(&self, day: Date) -> bool {
        (self.from..=self.to).contains(&day)
    }
}

const VISITS: &[Head] = &[
    head("day", 1.3),
    head("time", 0.7),
    head("hive", 1.2),
    head("by", 1.0),
    head("aim", 1.6),
    head("opened", 0.9),
    figures("degrees C", 0.7),
    figures("combs seen", 0.7),
    figures("taken", 0.7),
];
const COMBS: &[Head] = &[
    head("day", 1.2),
    head("hive", 1.1),
    figures("bar", 0.5),
    head("left-facing", 2.2),
    head("right-facing", 2.2),
    head("comb", 2.0),
    head("decided", 0.9),
];
const HARVEST: &[Head] = &[
    head("day", 1.2),
    head("hive", 1.4),
    figures("bar", 0.6),
    head("how", 1.4),
    figures("kg", 0.7),
    head("by", 1.2),
];
const QUEENS: &[Head] = &[
    head("day", 1.2),
    head("hive", 1.4),
    head("what", 2.4),
    figures("bar", 0.6),
    head("by", 1.2),
];
const MITES: &[Head] = &[
    head("day", 1.2),
    head("hive", 1.4),
    head("method", 1.4),
    figures("mites", 0.8),
    figures("bees", 0.8),
    figures("in 100 bees", 0.9),
    head("by", 1.2),
];
const TREATMENTS: &[Head] = &[
    head("given", 1.35),
    head("hive", 1.35),
    head("product", 1.4),
    head("active substance", 1.2),
    head("batch", 0.8),
    head("quantity", 0.9),
    head("how, against what", 1.7),
    head("supplier, prescriber", 1.6),
    head("by", 0.8),
];
const PERIODS: &[Head] = &[
    head("given", 1.3),
    head("hive", 1.3),
    head("product", 1.4),
    head("label on honey", 2.2),
    head("to come out", 1.3),
    head("came out", 1.3),
    head("left over", 1.4),
    head("by", 0.8),
];
const SIGNS: &[Head] = &[
    head("day", 1.35),
    head("hive", 1.35),
    head("disease or pest", 1.4),
    head("how sure", 1.2),
    figures("bar", 0.5),
    head("seen, how looked for", 1.9),
    head("reported", 1.6),
    head("cleared", 1.5),
    head("by", 0.8),
];
const BOUGHT: &[Head] = &[
    head("bought", 1.4),
    head("product", 1.4),
    head("active substance", 1.2),
    head("batch", 0.8),
    head("quantity", 1.0),
    head("label on honey", 1.7),
    head("supplier and address", 1.7),
    head("use by", 1.4),
    head("proof", 0.9),
    head("by", 0.8),
];
const DISPOSED: &[Head] = &[
    head("day", 1.1),
    head("product", 1.8),
    head("batch", 1.0),
    head("quantity", 1.5),
    head("how and where", 3.0),
    head("by", 1.0),
];
const FEEDS: &[Head] = &[
    head("day", 1.2),
    head("hive", 1.4),
    head("food", 2.0),
    figures("litres", 0.8),
    figures("kg", 0.8),
    head("by", 1.2),
];
const MOVES: &[Head] = &[
    head("day", 1.2),
    head("hive", 1.4),
    head("what", 4.2),
    head("by", 1.2),
];
const NOTES: &[Head] = &[
    head("day", 1.2),
    head("hive", 1.4),
    head("note", 5.0),
    head("by", 1.2),
];

// places in the list of tables
const VISIT: usize = 0;
const COMB: usize = 1;
const TAKEN: usize = 2;
const QUEEN: usize = 3;
const MITE: usize = 4;
const SIGN: usize = 5;
const TREATED: usize = 6;
const PERIOD: usize = 7;
const PURCHASE: usize = 8;
const DISPOSAL: usize = 9;
const FED: usize = 10;
const MOVED: usize = 11;
const NOTED: usize = 12;

/// All tables of these days. `zone` gives the zone of the name that stands in an entry; a keeper's
/// day is counted in the zone in which it was written.
pub fn tables(yard: &Yard, days: Days, zone: &dyn Fn(&str) -> TimeZone) -> Vec<Table> {
    let mut tables = vec![
        table("Visits", "visits", "No visit in these days.", VISITS),
        table(
            "Combs as they were seen",
            "combs",
            "No comb was looked at.",
            COMBS,
        ),
        table("Combs taken", "harvest", "No comb was taken.", HARVEST),
        table(
            "Queens",
            "queens",
            "No queen or queen cell was noted.",
            QUEENS,
        ),
        table(
            "Mite counts",
            "mites",
            "No mite count was recorded in these days.",
            MITES,
        ),
        table(
            "Diseases and pests",
            "diseases",
            "No sign of disease or pest was noted.",
            SIGNS,
        ),
        table(
            "Treatments given",
            "treatments",
            "No treatment was recorded.",
            TREATMENTS,
        ),
        table(
            "Treatments: honey withheld, taken out",
            "withholding",
            "No treatment was recorded.",
            PERIODS,
        ),
        table(
            "Medicines bought",
            "medicines",
            "No purchase of a medicine was recorded.",
            BOUGHT,
        ),
        table(
            "Medicines disposed of",
            "disposals",
            "No disposal of a medicine was recorded.",
            DISPOSED,
        ),
        table("Feeds", "feeds", "No feed was given.", FEEDS),
        table(
            "Hives begun, moved, split, lost",
            "moves",
            "No hive was begun, moved, split or lost.",
            MOVES,
        ),
        table("Notes", "notes", "No note.", NOTES),
    ];
    let reader = Reader { yard, days, zone };
    let mut visits: Vec<(&Hive, &Visit)> = yard
        .hives()
        .flat_map(|hive| hive.visits.iter().map(move |visit| (hive, visit)))
        .filter(|(_, visit)| days.has(reader.local(visit.opened, &visit.zone).date()))
        .collect();
    visits.order_by_key(|(hive, visit)| (visit.opened, hive.id));
    for (hive, visit) in visits {
        tables[VISIT].rows.push(reader.visit(hive, visit));
        tables[COMB].rows.extend(reader.combs(hive, visit));
    }
    for act in yard.acts() {
        let entry = act.entry();
        if !days.has(reader.local(entry.at, &entry.zone).date()) {
            continue;
        }
        let known = act.what().known();
        if let Some((at, row)) = known.and_then(|k| reader.act(entry, k)) {
            tables[at].rows.push(row);
        }
    }
    // a treatment written down later stands under the day on which it was given
    for (at, row) in reader.health() {
        tables[at].rows.push(row);
    }
    tables
}

const fn table(
    name: &'static str,
    slug: &'static str,
    empty: &'static str,
    heads: &'static [Head],
) -> Table {
    Table {
        name,
        slug,
        empty,
        heads,
        rows: Vec::new(),
    }
}

struct Reader<'a> {
    yard: &'a Yard,
    days: Days,
    zone: &'a dyn Fn(&str) -> TimeZone,
}

impl Reader<'_> {
    fn local(&self, at: Timestamp, zone: &str) -> DateTime {
        at.to_zoned_datetime((self.zone)(zone)).datetime()
    }

    fn visit(&self, hive: &Hive, visit: &Visit) -> Vec<Cell> {
        let opened = self.local(visit.opened, &visit.zone);
        let ends: Vec<&str> = visit
            .ends
            .iter()
            .map(|end| match end {
                End::Left => "left",
                End::Right => "right",
            })
            .collect();
        vec![
            Cell::Day(opened.date()),
            Cell::text(opened.strftime("%H:%M").to_string()),
            Cell::text(hive.name.as_str()),
            Cell::text(visit.by.as_str()),
            visit.aim.as_ref().map_or(Cell::Unknown, Cell::text),
            Cell::text(ends.join(", ")),
            visit
                .weather
                .temperature_c
                .map_or(Cell::Unknown, |t| Cell::Figure(t.to_celsius(), 0)),
            Cell::count(visit.seen.len()),
            Cell::count(visit.taken.len()),
        ]
    }

    fn combs(&self, hive: &Hive, visit: &Visit) -> Vec<Vec<Cell>> {
        let day = self.local(visit.opened, &visit.zone).date();
        let seen = visit
            .met
            .iter()
            .filter_map(|bar| Some((*bar, visit.seen.get(bar)?)));
        seen.map(|(bar, contents)| {
            let decided = visit.decisions.get(&bar).map(|decision| match decision {
                Decision::Take => "take",
                Decision::Leave => "leave",
                Decision::Undecided => "not decided",
            });
            vec![
                Cell::Day(day),
                Cell::text(hive.name.as_str()),
                number(hive, bar, self.yard),
                face(&contents.left, contents),
                face(&contents.right, contents),
                Cell::text(words::whole_comb(contents, ToldIn::Metric).join(", ")),
                decided.map_or(Cell::Unknown, Cell::text),
            ]
        })
        .collect()
    }

    /// The table that an act belongs into, and its row.
    fn act(&self, entry: &Entry, known: &Known) -> Option<(usize, Vec<Cell>)> {
        debug_assert!(self.days.from <= self.days.to);
        let hive = entry.hive.and_then(|id| self.yard.hive(id));
        let name = hive.map_or(Cell::Unknown, |hive| Cell::text(hive.name.as_str()));
        let day = Cell::Day(self.local(entry.at, &entry.zone).date());
        let by = Cell::text(entry.by.as_str());
        let bar = |bar: BarId| hive.map_or(Cell::Unknown, |hive| number(hive, bar, self.yard));
        let said = |what: String| vec![day.clone(), name.clone(), Cell::text(what), by.clone()];
        let at_bar = |what: String, on: Option<BarId>| {
            let on = on.map_or(Cell::Unknown, bar);
            vec![day.clone(), name.clone(), Cell::text(what), on, by.clone()]
        };
        Some(match known {
            Known::CombTaken { bar: taken, how } => {
                let kg = hive
                    .zip(entry.visit)
                    .and_then(|(hive, visit)| hive.visit(visit)?.seen.get(taken)?.mass_kg)
                    .map_or(Cell::Unknown, |mass| Cell::Figure(mass.to_kg(), 1));
                let how = Cell::text(words::harvest(*how));
                (TAKEN, vec![day, name, bar(*taken), how, kg, by])
            }
            Known::QueenSeen { bar } => (QUEEN, at_bar("queen seen".to_owned(), *bar)),
            Known::QueenCells { bar, count: 0 } => (
                QUEEN,
                at_bar("looked for queen cells: none".to_owned(), *bar),
            ),
            Known::QueenCells { bar, count } => {
                let what = words::count(*count as usize, "queen cell", "queen cells");
                (QUEEN, at_bar(what, *bar))
            }
            Known::MiteWash { mites, bees } => {
                let rate = f64::from(*mites) * 100.0 / f64::from((*bees).max(1));
                let row = vec![
                    day,
                    name,
                    Cell::text("wash"),
                    Cell::Figure(f64::from(*mites), 0),
                    Cell::Figure(f64::from(*bees), 0),
                    Cell::Figure(rate, 1),
                    by,
                ];
                (MITE, row)
            }
            Known::Fed {
                food,
                litres,
                mass_kg,
            } => {
                let litres = litres.map_or(Cell::Unknown, |l| Cell::Figure(l, 1));
                let kg = mass_kg.map_or(Cell::Unknown, |m| Cell::Figure(m.to_kg(), 1));
                let food = Cell::text(food.as_str());
                (FED, vec![day, name, food, litres, kg, by])
            }
            Known::Note { text } => (NOTED, said(text.clone())),
            other => (MOVED, said(self.moved(entry, other)?)),
        })
    }

    /// Treatments, signs and medicines, each table by day: whatever lasted into these days.
    fn health(&self) -> Vec<(usize, Vec<Cell>)> {
        // table, first day, last day, row
        let mut rows: Vec<(usize, Date, Date, Vec<Cell>)> = Vec::new();
        for hive in self.yard.hives() {
            for treated in &hive.treatments {
                let on = treated.given.on;
                let last = treated.ended.as_ref().map_or(Date::MAX, |end| end.on);
                rows.push((TREATED, on, last, self.treatment(hive, treated)));
                rows.push((PERIOD, on, last, self.period(hive, treated)));
            }
            for seen in &hive.signs {
                let on = seen.sign.on;
                let cleared = seen.cleared.as_ref().map(|clearing| clearing.on);
                let last = cleared.unwrap_or(if seen.stands() { Date::MAX } else { on });
                rows.push((SIGN, on, last, self.sign(hive, seen)));
            }
        }
        for purchased in self.yard.purchases() {
            let on = purchased.bought.on;
            rows.push((PURCHASE, on, on, self.purchase(purchased)));
        }
        for disposed in self.yard.disposals() {
            let on = disposed.disposed.on;
            rows.push((DISPOSAL, on, on, self.disposal(disposed)));
        }
        rows.retain(|(_, on, last, _)| *on <= self.days.to && *last >= self.days.from);
        rows.order_by_key(|(_, on, ..)| *on);
        rows.into_iter().map(|(at, .., row)| (at, row)).collect()
    }

    fn by(&self, entry: EntryId) -> Cell {
        let entry = self.yard.entry(entry);
        entry.map_or(Cell::Unknown, |entry| Cell::text(entry.by.as_str()))
    }

    fn treatment(&self, hive: &Hive, treated: &Treated) -> Vec<Cell> {
        let given = &treated.given;
        let against = given.against.as_ref().map(|what| format!("against {what}"));
        let bought = given.bought.map(|day| format!("bought {day}"));
        let prescriber = given.prescriber.as_ref();
        let prescriber = prescriber.map(|who| format!("prescribed by {who}"));
        vec![
            Cell::Day(given.on),
            Cell::text(hive.name.as_str()),
            Cell::text(given.product.as_str()),
            said(given.active.as_deref()),
            said(given.batch.as_deref()),
            said(given.quantity.as_deref()),
            all_of(&[given.how.clone(), against]),
            all_of(&[given.supplier.clone(), bought, prescriber]),
            self.by(treated.when.entry),
        ]
    }

    fn period(&self, hive: &Hive, treated: &Treated) -> Vec<Cell> {
        let given = &treated.given;
        let ended = treated.ended.as_ref();
        let left = ended.and_then(|end| end.left.as_deref());
        vec![
            Cell::Day(given.on),
            Cell::text(hive.name.as_str()),
            Cell::text(given.product.as_str()),
            Cell::text(health::told::label_period(given.withholding)),
            given.planned_removal.map_or(Cell::Unknown, Cell::Day),
            ended.map_or_else(|| Cell::text("not yet"), |end| Cell::Day(end.on)),
            said(left),
            self.by(treated.when.entry),
        ]
    }

    fn sign(&self, hive: &Hive, seen: &SignOnRecord) -> Vec<Cell> {
        let sign = &seen.sign;
        let reports = seen.reports.iter().map(|report| {
            let answer = report.answer.as_ref();
            let answer = answer.map_or_else(String::new, |answer| format!(" ({answer})"));
            format!("{} to {}{answer}", report.on, report.to)
        });
        let cleared = seen.cleared.as_ref();
        vec![
            Cell::Day(sign.on),
            Cell::text(hive.name.as_str()),
            Cell::text(sign.condition.as_str()),
            Cell::text(health::told::certainty(sign.certainty)),
            sign.bar
                .map_or(Cell::Unknown, |bar| number(hive, bar, self.yard)),
            all_of(&[sign.seen.clone(), sign.method.clone()]),
            Cell::text(reports.collect::<Vec<_>>().join("; ")),
            cleared.map_or(Cell::Unknown, |clearing| {
                Cell::text(format!("{}: {}", clearing.on, clearing.why))
            }),
            self.by(seen.when.entry),
        ]
    }

    fn purchase(&self, purchased: &Purchased) -> Vec<Cell> {
        let bought = &purchased.bought;
        vec![
            Cell::Day(bought.on),
            Cell::text(bought.product.as_str()),
            said(bought.active.as_deref()),
            said(bought.batch.as_deref()),
            said(bought.quantity.as_deref()),
            Cell::text(health::told::label_period(bought.withholding)),
            said(bought.supplier.as_deref()),
            bought.expires.map_or(Cell::Unknown, Cell::Day),
            said(bought.proof.as_deref()),
            self.by(purchased.when.entry),
        ]
    }

    fn disposal(&self, disposed: &Disposed) -> Vec<Cell> {
        let what = &disposed.disposed;
        vec![
            Cell::Day(what.on),
            Cell::text(what.product.as_str()),
            said(what.batch.as_deref()),
            said(what.quantity.as_deref()),
            Cell::text(what.how.as_str()),
            self.by(disposed.when.entry),
        ]
    }

    fn moved(&self, entry: &Entry, known: &Known) -> Option<String> {
        let apiary = |id| {
            let apiary = self.yard.apiary(id);
            apiary.map_or_else(|| "an apiary".to_owned(), |apiary| apiary.name.clone())
        };
        Some(match known {
            Known::HiveStarted {
                apiary: Some(at), ..
            } => format!("begun in {}", apiary(*at)),
            Known::HiveStarted { apiary: None, .. } => "begun".to_owned(),
            Known::HiveMoved { apiary: to } => format!("moved to {}", apiary(*to)),
            Known::HiveRenamed { name } => format!("called {name} from now on"),
            Known::HiveEnded { why } => format!("ended: {why}"),
            Known::SplitTo { bars, to } => {
                let to = self.yard.hive(*to).map_or("another hive", |to| &to.name);
                let from = entry.hive.and_then(|hive| self.yard.hive(hive));
                let numbers: Vec<String> = bars
                    .iter()
                    .filter_map(|bar| Some(number(from?, *bar, self.yard).words()))
                    .collect();
                format!("bar {} with comb and bees to {to}", numbers.join(", "))
            }
            _ => return None,
        })
    }
}

fn said(words: Option<&str>) -> Cell {
    words.map_or(Cell::Unknown, Cell::text)
}

fn all_of(words: &[Option<String>]) -> Cell {
    let said: Vec<&str> = words.iter().filter_map(Option::as_deref).collect();
    Cell::text(said.join(", "))
}

fn face(face: &comb::FaceContents, comb: &Contents) -> Cell {
    if face.is_unknown() {
        return Cell::Unknown;
    }
    Cell::text(words::face(face, comb))
}

/// A bar's number in this hive, as it was when it left.
fn number(hive: &Hive, bar: BarId, yard: &Yard) -> Cell {
    let here = hive.bar(bar).map(|bar| bar.number);
    let left = hive.departed.iter().find(|departed| departed.bar == bar);
    let elsewhere = || yard.hive_of_bar(bar)?.bar(bar).map(|bar| bar.number);
    here.or(left.map(|departed| departed.number))
        .or_else(elsewhere)
        .map_or(Cell::Unknown, |number| Cell::Figure(f64::from(number), 0))
}
