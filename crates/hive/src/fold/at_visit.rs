//! How entries of a visit are told: looks, decisions, counts. And the hive's own matters.

use comb::{Contents, FaceContents};

use crate::bar::{Bar, Lies};
use crate::entry::{Decision, Hanging, Known, Match, Weather};
use crate::fault::Why;
use crate::fold::{Remarks, Told};
use crate::history::{Happened, Look};
use crate::hive::{Ended, Fed, Hive, MiteWash, Note, QueenCells, QueenSeen};
use crate::id::{BarId, EntryId};
use crate::look::{add, shows_comb};
use crate::order::LONGEST_VISIT;
use crate::visit::{ClosingSaid, Visit};

impl Hive {
    /// Applies one entry that is about this hive alone.
    pub(super) fn apply(
        &mut self,
        told: Told<'_>,
        known: &Known,
        remarks: &mut Remarks,
    ) -> Result<(), Why> {
        if let Known::VisitOpened { aim, weather } = known {
            self.open_visit_as(told, aim.clone(), weather.clone());
        }
        if let Some(visit) = self.visit_mut(told.visit) {
            visit.entries.push(told.entry.id);
        }
        match known {
            Known::BarAdded { .. } => remarks.extend(self.add_bar(told, known)),
            Known::Arranged { row } => return self.arrange(row, told, remarks),
            Known::EndArranged { end, beyond, row } => {
                return self.arrange_end(*end, *beyond, row, told, remarks);
            }
            Known::BarMoved { bar, beside, side } => {
                return self.move_bar(*bar, *beside, *side, told, remarks);
            }
            Known::BarTurned { bar } => return self.turn(*bar, told),
            Known::BarHangs { bar, hanging } => return self.hang(*bar, *hanging, told),
            Known::SetAside { bar } => return self.set_aside(*bar, told),
            Known::PutBack { bar } => return self.put_back(*bar, told, remarks),
            Known::CombTaken { bar, how } => return self.take_comb(*bar, *how, told),
            Known::BarRemoved { bar } => return self.remove_bar(*bar, told),
            Known::CombSeen { bar, contents } => return self.see(*bar, contents, told, remarks),
            Known::Decided { bar, decision, .. } => return self.decide(*bar, *decision, told),
            Known::QueenSeen { .. } | Known::QueenCells { .. } => return self.queen(told, known),
            Known::TreatmentBegun(_)
            | Known::TreatmentEnded(_)
            | Known::SignSeen(_)
            | Known::SignReported(_)
            | Known::SignCleared(_) => return self.tend(told, known),
            Known::EndOpened { .. }
            | Known::WeatherNoted { .. }
            | Known::TakenCounted { .. }
            | Known::ClosingSaid { .. }
            | Known::VisitClosed {}
            | Known::Matched { .. } => return self.tell_visit(told, known),
            _ => self.settle(told, known, remarks),
        }
        Ok(())
    }

    /// Matters of the hive that cannot fail.
    fn settle(&mut self, told: Told<'_>, known: &Known, remarks: &mut Remarks) {
        let (at, when) = (told.at(), told.when());
        match known {
            Known::HiveRenamed { name } => self.name.clone_from(name),
            Known::HiveMoved { apiary } => self.apiary = Some(*apiary),
            Known::BodyMeasured { body } => {
                self.body = *body;
                remarks.extend(self.too_long());
            }
            Known::ReserveSet { reserve } => self.reserve = *reserve,
            Known::RipenessSet { mean_capped } => self.ripeness = Some(*mean_capped),
            Known::HiveEnded { why } => {
                let why = why.clone();
                self.ended = Some(Ended { at, why });
            }
            Known::MiteWash { mites, bees } => {
                let (mites, bees) = (*mites, *bees);
                self.washes.push(MiteWash { when, mites, bees });
            }
            Known::Fed {
                food,
                litres,
                mass_kg,
            } => self.feeds.push(Fed {
                when,
                food: food.clone(),
                litres: *litres,
                mass_kg: *mass_kg,
            }),
            Known::Note { text } => {
                let text = text.clone();
                self.notes.push(Note { when, text });
            }
            _ => {}
        }
    }

    pub(super) fn visit_mut(&mut self, visit: Option<EntryId>) -> Option<&mut Visit> {
        let visit = visit?;
        self.visits.iter_mut().rev().find(|v| v.id == visit)
    }

    fn open_visit_as(&mut self, told: Told<'_>, aim: Option<String>, weather: Weather) {
        // what was to be taken and hangs there still is asked anew; what the keeper left at the last visit stays
        // left until he looks at it, so that an opened hive is advised as it was before
        self.forget_earlier_decisions();
        for bar in self.bars.values_mut() {
            bar.decision = bar.decision.filter(|told| *told == Decision::Leave);
        }
        self.visits.push(Visit {
            id: told.entry.id,
            opened: told.at(),
            closed: None,
            zone: told.entry.zone.clone(),
            by: told.entry.by.clone(),
            aim,
            weather,
            ends: Vec::new(),
            met: Vec::new(),
            seen: std::collections::BTreeMap::new(),
            decisions: std::collections::BTreeMap::new(),
            taken: Vec::new(),
            taken_counted: None,
            matched: Vec::new(),
            closings: Vec::new(),
            entries: Vec::new(),
        });
    }

    /// Only the latest visit's word counts.
    fn forget_earlier_decisions(&mut self) {
        let latest = self.visits.last().map(|visit| &visit.decisions);
        for bar in self.bars.values_mut() {
            let said = latest.is_some_and(|said| said.contains_key(&bar.id));
            bar.decision = bar.decision.filter(|_| said);
        }
    }

    fn tell_visit(&mut self, told: Told<'_>, known: &Known) -> Result<(), Why> {
        if let Known::Matched { bars } = known {
            self.note_matches(bars, told)?;
        }
        let visit = self.visit_mut(told.visit).ok_or(Why::NoVisit)?;
        match known {
            Known::EndOpened { end } => visit.ends.push(*end),
            Known::WeatherNoted { weather } => {
                let words = weather.words.clone();
                visit.weather.words = words.or_else(|| visit.weather.words.take());
                let before = visit.weather.temperature_c;
                visit.weather.temperature_c = weather.temperature_c.or(before);
            }
            Known::TakenCounted { count } => visit.taken_counted = Some(*count),
            Known::ClosingSaid { end, order } => visit.closings.push(ClosingSaid {
                end: *end,
                order: order.clone(),
            }),
            Known::VisitClosed {} => {
                visit.closed = Some(told.at());
                self.forget_earlier_decisions();
            }
            Known::Matched { bars } => visit.matched.clone_from(bars),
            _ => {}
        }
        Ok(())
    }

    fn note_matches(&mut self, bars: &[Match], told: Told<'_>) -> Result<(), Why> {
        let known = |m: &Match| m.bar.filter(|bar| !self.bars.contains_key(bar));
        if let Some(bar) = bars.iter().find_map(known) {
            return Err(Why::NoSuchBar { bar });
        }
        for Match { bar, sure } in bars {
            if let Some(bar) = bar {
                self.meet(*bar, told);
                self.happened(*bar, told, Happened::Matched { sure: *sure });
            }
        }
        Ok(())
    }

    fn decide(&mut self, id: BarId, decision: Decision, told: Told<'_>) -> Result<(), Why> {
        self.met_bar(id, told)?.decision = Some(decision);
        if let Some(visit) = self.visit_mut(told.visit) {
            visit.decisions.insert(id, decision);
        }
        self.happened(id, told, Happened::Decided { decision });
        Ok(())
    }

    fn queen(&mut self, told: Told<'_>, known: &Known) -> Result<(), Why> {
        let (Known::QueenSeen { bar } | Known::QueenCells { bar, .. }) = known else {
            return Ok(());
        };
        let (bar, when) = (*bar, told.when());
        if let Some(id) = bar {
            self.met_bar(id, told)?;
        }
        let event = if let Known::QueenCells { count, .. } = known {
            let count = *count;
            self.queen_cells.push(QueenCells { when, bar, count });
            Happened::QueenCells { count }
        } else {
            self.queen_seen.push(QueenSeen { when, bar });
            Happened::QueenSeen
        };
        if let Some(id) = bar {
            self.happened(id, told, event);
        }
        Ok(())
    }

    fn see(
        &mut self,
        id: BarId,
        contents: &Contents,
        told: Told<'_>,
        remarks: &mut Remarks,
    ) -> Result<(), Why> {
        let place = self.row.place_of(id);
        let bar = self.met_bar(id, told)?;
        if bar.lies == Lies::Removed {
            remarks.push(Why::NotInRow { bar: id });
        }
        let judged = bar.look_at(contents, place, told);
        if overfull(&judged.left) || overfull(&judged.right) {
            remarks.push(Why::FaceOverfull { bar: id });
        }
        if let Some(visit) = self.visit_mut(told.visit) {
            visit.seen.insert(id, judged);
        }
        let contents = Box::new(contents.clone());
        self.happened(id, told, Happened::Seen { contents });
        Ok(())
    }
}

impl Bar {
    /// Adds what was judged to the look that goes on, or begins a new one; gives that look's
    /// contents so far.
    fn look_at(&mut self, contents: &Contents, place: Option<u32>, told: Told<'_>) -> Contents {
        // what is said of a comb after it was cut is about that comb, not about the strip
        let of_comb_taken = self.taken_in.is_some() && self.taken_in == told.visit;
        let comb = if of_comb_taken && self.lies != Lies::Away {
            self.comb.saturating_sub(1)
        } else {
            self.comb
        };
        let turns = self.turns;
        let goes_on = self.looks.last().is_some_and(|look| {
            let together =
                look.visit.is_some() || told.at().duration_since(look.at).abs() < LONGEST_VISIT;
            look.visit == told.visit && look.comb == comb && together
        });
        if !goes_on {
            self.looks.push(Look {
                visit: told.visit,
                at: told.at(),
                place,
                comb,
                turns,
                contents: Contents::default(),
            });
        }
        let Some(look) = self.looks.last_mut() else {
            return contents.clone();
        };
        if comb == self.comb {
            *look = look.as_hanging_after(turns);
        }
        add(&mut look.contents, contents);
        let judged = look.contents.clone();
        if comb == self.comb {
            self.contents = judged.clone();
            self.seen = Some(told.at());
            if self.hanging != Hanging::Comb && shows_comb(&judged) {
                self.hanging = Hanging::Comb;
                self.first_seen = Some(told.at());
            }
        }
        judged
    }
}

fn overfull(face: &FaceContents) -> bool {
    face.clone().checked().is_err()
}
