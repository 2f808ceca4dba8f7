//! Applying entries one after the other: the state of the yard.

mod at_visit;
mod bars;
mod health;
mod row;

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::Timestamp;

use crate::bar::{Bar, Lies};
use crate::entry::{Entry, Known, What};
use crate::fault::{Fault, Why};
use crate::health::{Disposed, Purchased};
use crate::history::{Event, Happened};
use crate::hive::{Apiary, Departed, Hive, Note, When};
use crate::id::{ApiaryId, BarId, EntryId, HiveId};
use crate::row::Row;
use crate::yard::{Act, same_name};

/// The yard after some acts.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct State {
    pub(crate) apiaries: BTreeMap<ApiaryId, Apiary>,
    /// Shared between copies of the yard: what happens at one hive copies no other.
    pub(crate) hives: BTreeMap<HiveId, Arc<Hive>>,
    /// Which hive each bar belongs to.
    pub(crate) owners: BTreeMap<BarId, HiveId>,
    /// Which hive each visit is of.
    pub(crate) visits: BTreeMap<EntryId, HiveId>,
    pub(crate) notes: Vec<Note>,
    pub(crate) purchases: Vec<Purchased>,
    pub(crate) disposals: Vec<Disposed>,
    pub(crate) faults: Vec<Fault>,
    pub(crate) foreign: Vec<EntryId>,
}

/// The envelope of the act that is being applied.
#[derive(Debug, Clone, Copy)]
struct Told<'a> {
    entry: &'a Entry,
    /// The visit, when it is one of this hive.
    visit: Option<EntryId>,
}

impl Told<'_> {
    const fn at(&self) -> Timestamp {
        self.entry.at
    }

    const fn when(&self) -> When {
        When {
            at: self.entry.at,
            entry: self.entry.id,
            visit: self.visit,
        }
    }
}

/// Reasons why an act was applied only in part or with a change.
type Remarks = Vec<Why>;

impl State {
    pub(crate) fn of(acts: &[Act]) -> Self {
        let mut state = Self::default();
        for act in acts {
            state.apply(act);
        }
        state
    }

    pub(crate) fn apply(&mut self, act: &Act) {
        self.apply_what(act.entry(), act.what());
    }

    /// Applies what an entry says, or should have said.
    pub(crate) fn apply_what(&mut self, entry: &Entry, what: &What) {
        let known = match what {
            What::Known(known) => known,
            What::Foreign(_) => {
                self.foreign.push(entry.id);
                return;
            }
        };
        let mut remarks = Remarks::new();
        let refused = self.apply_known(entry, known, &mut remarks).err();
        let fault = |applied, why| Fault {
            entry: entry.id,
            hive: entry.hive,
            applied,
            why,
        };
        let applied = refused.is_none();
        self.faults
            .extend(remarks.into_iter().map(|why| fault(applied, why)));
        self.faults.extend(refused.map(|why| fault(false, why)));
    }

    fn apply_known(
        &mut self,
        entry: &Entry,
        known: &Known,
        remarks: &mut Remarks,
    ) -> Result<(), Why> {
        match (known, entry.hive) {
            (Known::Apiary { .. }, _) => {
                self.name_apiary(known);
                Ok(())
            }
            (Known::Note { text }, None) => {
                let when = Told { entry, visit: None }.when();
                let text = text.clone();
                self.notes.push(Note { when, text });
                Ok(())
            }
            (Known::MedicineBought(bought), _) => {
                let when = Told { entry, visit: None }.when();
                let bought = bought.clone();
                self.purchases.push(Purchased { when, bought });
                Ok(())
            }
            (Known::MedicineDisposed(disposed), _) => {
                let when = Told { entry, visit: None }.when();
                let disposed = disposed.clone();
                self.disposals.push(Disposed { when, disposed });
                Ok(())
            }
            // folded by whoever knows honey, from `Yard::acts`
            (Known::HoneyHouse { .. }, _) => Ok(()),
            (_, None) => Err(Why::NoHive),
            (Known::HiveStarted { .. }, Some(hive)) => self.start_hive(hive, entry, known, remarks),
            (_, Some(hive)) => self.apply_to_hive(hive, entry, known, remarks),
        }
    }

    fn name_apiary(&mut self, known: &Known) {
        let Known::Apiary {
            apiary: id,
            name,
            place,
            climate,
        } = known
        else {
            return;
        };
        let apiary = self.apiaries.entry(*id).or_insert_with(|| Apiary {
            id: *id,
            name: String::new(),
            place: None,
            climate: None,
        });
        apiary.name.clone_from(name);
        // what is not told anew stays
        apiary.place = place.or(apiary.place);
        apiary.climate = climate.or(apiary.climate);
    }

    fn start_hive(
        &mut self,
        id: HiveId,
        entry: &Entry,
        known: &Known,
        remarks: &mut Remarks,
    ) -> Result<(), Why> {
        let Known::HiveStarted {
            name,
            apiary,
            body,
            numbered,
        } = known
        else {
            return Ok(());
        };
        if self.hives.contains_key(&id) {
            return Err(Why::StartedTwice);
        }
        remarks.extend(self.name_in_use(name, id));
        remarks.extend(apiary.and_then(|apiary| self.missing_apiary(apiary)));
        let hive = Hive {
            id,
            name: name.clone(),
            apiary: *apiary,
            body: *body,
            numbered: *numbered,
            reserve: None,
            ripeness: None,
            started: entry.at,
            ended: None,
            row: Row::default(),
            bars: BTreeMap::new(),
            departed: Vec::new(),
            visits: Vec::new(),
            queen_seen: Vec::new(),
            queen_cells: Vec::new(),
            washes: Vec::new(),
            feeds: Vec::new(),
            treatments: Vec::new(),
            signs: Vec::new(),
            notes: Vec::new(),
        };
        self.hives.insert(id, Arc::new(hive));
        Ok(())
    }

    fn name_in_use(&self, name: &str, but: HiveId) -> Option<Why> {
        self.hives
            .values()
            .any(|hive| hive.id != but && hive.is_living() && same_name(&hive.name, name))
            .then(|| Why::NameTaken {
                name: name.to_owned(),
            })
    }

    fn missing_apiary(&self, apiary: ApiaryId) -> Option<Why> {
        (!self.apiaries.contains_key(&apiary)).then_some(Why::NoSuchApiary { apiary })
    }

    fn apply_to_hive(
        &mut self,
        id: HiveId,
        entry: &Entry,
        known: &Known,
        remarks: &mut Remarks,
    ) -> Result<(), Why> {
        if !self.hives.contains_key(&id) {
            return Err(Why::NoSuchHive { hive: id });
        }
        let told = Told {
            entry,
            visit: self.visit_of(id, entry, known, remarks),
        };
        match known {
            Known::HiveRenamed { name } => remarks.extend(self.name_in_use(name, id)),
            Known::HiveMoved { apiary } => remarks.extend(self.missing_apiary(*apiary)),
            Known::SplitTo { bars, to } => return self.split(id, *to, bars, told, remarks),
            Known::BarAdded { bar, .. } => {
                if self.owners.contains_key(bar) {
                    return Err(Why::AddedTwice { bar: *bar });
                }
                self.owners.insert(*bar, id);
            }
            _ => {}
        }
        let hive = self
            .hives
            .get_mut(&id)
            .map(Arc::make_mut)
            .ok_or(Why::NoSuchHive { hive: id })?;
        hive.apply(told, known, remarks)
    }

    /// The visit that the entry belongs to, when it is one of this hive; an opening makes it.
    fn visit_of(
        &mut self,
        hive: HiveId,
        entry: &Entry,
        known: &Known,
        remarks: &mut Remarks,
    ) -> Option<EntryId> {
        if matches!(known, Known::VisitOpened { .. }) {
            self.visits.insert(entry.id, hive);
            return Some(entry.id);
        }
        let visit = entry.visit?;
        if self.visits.get(&visit) == Some(&hive) {
            return Some(visit);
        }
        remarks.push(Why::NoSuchVisit { visit });
        None
    }

    /// Bars go to another hive with all that is known of them. A number that is in use there is
    /// changed to the next one above all in use there. They make up its row, in this order, when
    /// it has none yet; otherwise they lie in its stock until it is arranged.
    fn split(
        &mut self,
        from: HiveId,
        to: HiveId,
        bars: &[BarId],
        told: Told<'_>,
        remarks: &mut Remarks,
    ) -> Result<(), Why> {
        if to == from || !self.hives.contains_key(&to) {
            return Err(Why::NoSuchHive { hive: to });
        }
        let source = self
            .hives
            .get_mut(&from)
            .map(Arc::make_mut)
            .ok_or(Why::NoSuchHive { hive: from })?;
        if let Some(bar) = bars.iter().find(|bar| !source.has_at_hand(**bar)) {
            return Err(Why::NoSuchBar { bar: *bar });
        }
        if let Some(bar) =
            (1..bars.len()).find_map(|i| bars[..i].contains(&bars[i]).then_some(bars[i]))
        {
            return Err(Why::BarTwice { bar });
        }
        let leaving: Vec<Bar> = bars
            .iter()
            .filter_map(|bar| source.give_away(*bar, to, told))
            .collect();
        let target = self
            .hives
            .get_mut(&to)
            .map(Arc::make_mut)
            .ok_or(Why::NoSuchHive { hive: to })?;
        let into_row = target.row.is_empty();
        for bar in leaving {
            self.owners.insert(bar.id, to);
            remarks.extend(target.receive(bar, from, into_row, told));
        }
        Ok(())
    }
}

impl Hive {
    fn has_at_hand(&self, bar: BarId) -> bool {
        self.bars.get(&bar).is_some_and(|bar| bar.lies.at_hand())
    }

    fn give_away(&mut self, bar: BarId, to: HiveId, told: Told<'_>) -> Option<Bar> {
        self.meet(bar, told);
        self.row.take_out(bar);
        let bar = self.bars.remove(&bar)?;
        self.departed.push(Departed {
            at: told.at(),
            bar: bar.id,
            number: bar.number,
            to,
        });
        Some(bar)
    }

    fn receive(
        &mut self,
        mut bar: Bar,
        from: HiveId,
        into_row: bool,
        told: Told<'_>,
    ) -> Option<Why> {
        let (id, old_number) = (bar.id, bar.number);
        let number = self.number_for(old_number);
        bar.number = number;
        bar.decision = None;
        bar.taken_in = None;
        bar.lies = if into_row { Lies::InRow } else { Lies::Loose };
        if into_row {
            self.row.push(id);
        }
        self.bars.insert(id, bar);
        self.happened(
            id,
            Told {
                visit: None,
                ..told
            },
            Happened::Split {
                from,
                old_number,
                number,
            },
        );
        (number != old_number).then_some(Why::NumberTaken {
            number: old_number,
            given: number,
        })
    }

    /// The number itself when it is free, else the next above all in use.
    fn number_for(&self, wanted: u32) -> u32 {
        if self.bar_numbered(wanted).is_ok() {
            self.free_number()
        } else {
            wanted
        }
    }

    /// Writes an event into a bar's history, with the place where it is now.
    fn happened(&mut self, bar: BarId, told: Told<'_>, what: Happened) {
        let place = self.row.place_of(bar);
        let hive = self.id;
        if let Some(bar) = self.bars.get_mut(&bar) {
            bar.history.push(Event {
                at: told.at(),
                entry: told.entry.id,
                hive,
                visit: told.visit,
                place,
                what,
            });
        }
    }

    /// Lists a bar among those met in the visit.
    fn meet(&mut self, bar: BarId, told: Told<'_>) {
        if let Some(visit) = self.visit_mut(told.visit)
            && !visit.met.contains(&bar)
        {
            visit.met.push(bar);
            // looked at anew it is decided anew
            if let Some(bar) = self.bars.get_mut(&bar) {
                bar.decision = None;
            }
        }
    }
}
