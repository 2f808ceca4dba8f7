//! What has been understood of a visit so far.

use crate::act::{Act, Closing, Decision, End, Fill, Hold, Side};

/// More combs than any hive has bars; what is said beyond is not kept.
pub(crate) const MOST_COMBS: usize = 160;

/// One comb as understood.
#[derive(Debug, Clone, PartialEq, Default)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is one thing said or not said"
)]
pub struct Comb {
    /// The number said.
    pub bar: Option<u32>,
    /// Capped share on the face toward the keeper.
    pub this: Option<f64>,
    /// Capped share on the far face.
    pub other: Option<f64>,
    /// Capped share that was said without a side; no face has it until the side is told.
    pub loose: Option<f64>,
    /// What it is said to hold, in the order said.
    pub holds: Vec<Hold>,
    /// How full.
    pub fill: Option<Fill>,
    /// Fixed to a wall.
    pub attached: Option<bool>,
    /// Straight.
    pub straight: Option<bool>,
    /// The keeper's last word.
    pub decision: Option<Decision>,
    /// Stands aside, to be decided.
    pub aside: bool,
    /// Kilograms.
    pub kg: Option<f64>,
    /// Millimetres.
    pub mm: Option<f64>,
    /// 0 for the first end opened, 1 for the second.
    pub end: usize,
    /// It came off its bar.
    pub broke: bool,
    /// It was taken to another hive.
    pub to_other_hive: bool,
    /// It was taken on its bar, not cut.
    pub whole: bool,
}

impl Comb {
    /// What it holds; honey follows from a capped share.
    pub fn all_holds(&self) -> Vec<Hold> {
        let mut all = self.holds.clone();
        let some = |s: Option<f64>| s.is_some_and(|s| s > 0.0);
        if (some(self.this) || some(self.other)) && !all.contains(&Hold::Honey) {
            all.insert(0, Hold::Honey);
        }
        all
    }

    /// Whether anything was said of it beyond that it was met.
    pub(crate) fn described(&self) -> bool {
        self.this.is_some()
            || self.other.is_some()
            || self.loose.is_some()
            || !self.holds.is_empty()
            || self.fill.is_some()
            || self.straight.is_some()
            || self.attached.is_some()
            || self.kg.is_some()
            || self.mm.is_some()
    }
}

/// A visit as understood.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Visit {
    /// Ends in the order opened, if said.
    pub ends: Vec<Option<End>>,
    /// In the order first met.
    pub combs: Vec<Comb>,
    /// The queen was seen.
    pub queen_seen: bool,
    /// Eggs were seen.
    pub eggs_seen: bool,
    /// Queen cells counted; none of them when they were looked for and not found.
    pub queen_cells: Option<u32>,
    /// Degrees Celsius.
    pub temperature_c: Option<f64>,
    /// Mites counted.
    pub mites: Option<u32>,
    /// Bees in the sample.
    pub bees: Option<u32>,
    /// Litres fed.
    pub litres: Option<f64>,
    /// Feed given by mass, kilograms.
    pub feed_kg: Option<f64>,
    /// Kind of feed.
    pub feed: Option<String>,
    /// Order said while closing.
    pub closing: Vec<Closing>,
    /// The end that it was said of, if named.
    pub closing_end: Option<End>,
    /// The comb on which the queen was seen.
    pub queen_on: Option<usize>,
}

impl Visit {
    /// The one place where an act changes the visit.
    pub(crate) fn apply(&mut self, act: &Act, comb: Option<usize>) {
        match act {
            Act::EndOpened(end) => self.ends.push(*end),
            Act::CombMet { bar } => {
                let end = self.ends.len().saturating_sub(1);
                self.combs.push(Comb {
                    bar: *bar,
                    end,
                    ..Comb::default()
                });
            }
            Act::QueenSeen => self.queen_seen = true,
            Act::QueenNotSeen => {
                self.queen_seen = false;
                self.queen_on = None;
            }
            Act::EggsSeen => self.eggs_seen = true,
            Act::QueenCells(n) => self.queen_cells = Some(*n),
            Act::Temperature(t) => self.temperature_c = Some(*t),
            Act::Mites { count, bees } => {
                self.mites = count.or(self.mites);
                self.bees = bees.or(self.bees);
            }
            Act::Fed { litres, kg, kind } => {
                self.litres = litres.or(self.litres);
                self.feed_kg = kg.or(self.feed_kg);
                self.feed = kind.clone().or(self.feed.take());
            }
            Act::Closed(row) => self.closing.extend(row),
            Act::TakenBack => {}
            _ => {
                let Some(comb) = comb.and_then(|c| self.combs.get_mut(c)) else {
                    return;
                };
                let eggs_taken_back =
                    *act == Act::HoldsNot(Hold::Eggs) && comb.holds.contains(&Hold::Eggs);
                comb.apply(act);
                if eggs_taken_back {
                    self.eggs_seen = self.combs.iter().any(|c| c.holds.contains(&Hold::Eggs));
                }
            }
        }
    }

    /// Combs taken, counted by their decisions.
    pub fn taken(&self) -> usize {
        self.combs
            .iter()
            .filter(|c| c.decision == Some(Decision::Take))
            .count()
    }
}

impl Comb {
    fn apply(&mut self, act: &Act) {
        match act {
            Act::Renumbered(bar) => self.bar = Some(*bar),
            Act::Capped(side, share) => {
                match side {
                    Side::This => self.this = Some(*share),
                    Side::Other => self.other = Some(*share),
                }
                self.side_told(*share);
            }
            Act::Holds(hold) if self.holds.contains(hold) => {}
            Act::Holds(hold) => self.holds.push(*hold),
            Act::HoldsNot(hold) => self.holds.retain(|h| h != hold),
            Act::Filled(fill) => self.fill = Some(*fill),
            Act::Attached(yes) => self.attached = Some(*yes),
            Act::Straight(yes) => self.straight = Some(*yes),
            Act::Decided(decision) => {
                self.decision = *decision;
                self.aside = decision.is_none();
                self.whole &= *decision == Some(Decision::Take);
            }
            Act::Broke => {
                self.decision = Some(Decision::Take);
                self.aside = false;
                self.broke = true;
            }
            Act::TakenWhole => {
                self.decision = Some(Decision::Take);
                self.aside = false;
                self.whole = true;
            }
            // what looked at the keeper looks away now
            Act::Turned => std::mem::swap(&mut self.this, &mut self.other),
            Act::Weighs(kg) => self.kg = Some(*kg),
            Act::Thick(mm) => self.mm = Some(*mm),
            _ => {}
        }
    }
}
