//! How entries change bars and the combs on them.

use comb::Contents;

use crate::bar::{Bar, Lies};
use crate::entry::{Hanging, Harvest, Known};
use crate::fault::Why;
use crate::fold::{Remarks, Told};
use crate::history::{Happened, Look};
use crate::hive::Hive;
use crate::id::BarId;
use crate::visit::Taken;

impl Bar {
    /// The comb is gone; another one, or none, hangs here from now on. Its looks stay.
    fn lose_comb(&mut self, hanging: Hanging, told: Told<'_>) {
        self.comb += 1;
        self.hanging = hanging;
        self.contents = Contents::default();
        self.seen = None;
        self.drawn = None;
        self.first_seen = None;
        self.bare_at = Some(told.at());
    }
}

impl Hive {
    pub(super) fn add_bar(&mut self, told: Told<'_>, known: &Known) -> Option<Why> {
        let Known::BarAdded {
            bar: id,
            number,
            width_mm,
            hanging,
            drawn,
        } = known
        else {
            return None;
        };
        let given = self.number_for(*number);
        let bar = Bar {
            id: *id,
            number: given,
            width_mm: *width_mm,
            hanging: *hanging,
            lies: Lies::Loose,
            drawn: *drawn,
            first_seen: (*hanging == Hanging::Comb).then_some(told.at()),
            bare_at: (*hanging != Hanging::Comb).then_some(told.at()),
            contents: Contents::default(),
            seen: None,
            decision: None,
            looks: Vec::new(),
            history: Vec::new(),
            comb: 0,
            turns: 0,
            taken_in: None,
        };
        self.bars.insert(*id, bar);
        self.happened(*id, told, Happened::Added { number: given });
        (given != *number).then_some(Why::NumberTaken {
            number: *number,
            given,
        })
    }

    /// The bar, when it is one of this hive's; it is listed as met in the visit.
    pub(super) fn met_bar(&mut self, bar: BarId, told: Told<'_>) -> Result<&mut Bar, Why> {
        self.meet(bar, told);
        self.bars.get_mut(&bar).ok_or(Why::NoSuchBar { bar })
    }

    pub(super) fn turn(&mut self, id: BarId, told: Told<'_>) -> Result<(), Why> {
        let bar = self.met_bar(id, told)?;
        bar.turns += 1;
        bar.contents = std::mem::take(&mut bar.contents).turned();
        // a look that is still going on is told with the faces as they hang at its end; the look
        // at a comb that was cut is over
        let (turns, comb) = (bar.turns, bar.comb);
        let going_on = |look: &&mut Look| {
            look.visit.is_some() && look.visit == told.visit && look.comb == comb
        };
        let Some(look) = bar.looks.last_mut().filter(going_on) else {
            self.happened(id, told, Happened::Turned);
            return Ok(());
        };
        *look = look.as_hanging_after(turns);
        if let Some(visit) = self.visit_mut(told.visit)
            && let Some(seen) = visit.seen.get_mut(&id)
        {
            *seen = std::mem::take(seen).turned();
        }
        self.happened(id, told, Happened::Turned);
        Ok(())
    }

    pub(super) fn hang(&mut self, id: BarId, hanging: Hanging, told: Told<'_>) -> Result<(), Why> {
        let bar = self.met_bar(id, told)?;
        match (bar.hanging, hanging) {
            (before, now) if before == now => {}
            (Hanging::Comb, _) => bar.lose_comb(hanging, told),
            (_, Hanging::Comb) => {
                bar.hanging = Hanging::Comb;
                bar.first_seen = Some(told.at());
            }
            _ => {
                bar.hanging = hanging;
                bar.bare_at = Some(told.at());
            }
        }
        self.happened(id, told, Happened::Hangs { hanging });
        Ok(())
    }

    pub(super) fn set_aside(&mut self, id: BarId, told: Told<'_>) -> Result<(), Why> {
        let bar = self.met_bar(id, told)?;
        match bar.lies {
            Lies::Aside => return Ok(()),
            Lies::InRow => bar.lies = Lies::Aside,
            Lies::Loose | Lies::Away | Lies::Removed => return Err(Why::NotInRow { bar: id }),
        }
        self.happened(id, told, Happened::SetAside);
        Ok(())
    }

    pub(super) fn put_back(
        &mut self,
        id: BarId,
        told: Told<'_>,
        remarks: &mut Remarks,
    ) -> Result<(), Why> {
        let bar = self.met_bar(id, told)?;
        match bar.lies {
            Lies::InRow => return Ok(()),
            Lies::Aside => bar.lies = Lies::InRow,
            Lies::Loose => return Err(Why::NotAside { bar: id }),
            // its place was given up: it comes back into the stock
            Lies::Away | Lies::Removed => {
                self.come_back(id, told, remarks);
                return Ok(());
            }
        }
        self.happened(id, told, Happened::PutBack);
        Ok(())
    }

    /// A bar that was carried away or removed comes back into the stock. What hung from it when it
    /// was carried away was harvested: it comes back as a cut bar (common practice, no source; a
    /// `BarHangs` entry says otherwise). A removed bar finds its number in use perhaps.
    pub(super) fn come_back(&mut self, id: BarId, told: Told<'_>, remarks: &mut Remarks) {
        let Some(lies) = self.bars.get(&id).map(|bar| bar.lies) else {
            return;
        };
        if lies.at_hand() {
            return;
        }
        let wanted = self.bars.get(&id).map_or(0, |bar| bar.number);
        let given = if lies == Lies::Removed {
            self.number_for(wanted)
        } else {
            wanted
        };
        if let Some(bar) = self.bars.get_mut(&id) {
            if lies == Lies::Away {
                bar.lose_comb(Hanging::Strip, told);
            }
            bar.lies = Lies::Loose;
            bar.number = given;
            bar.taken_in = None;
        }
        if given != wanted {
            remarks.push(Why::NumberTaken {
                number: wanted,
                given,
            });
        }
        self.happened(id, told, Happened::Returned);
    }

    pub(super) fn take_comb(&mut self, id: BarId, how: Harvest, told: Told<'_>) -> Result<(), Why> {
        let bar = self.met_bar(id, told)?;
        let taken_before = bar.taken_in.is_some() && bar.taken_in == told.visit;
        if !bar.lies.at_hand() || taken_before {
            return Err(Why::NoComb { bar: id });
        }
        match how {
            Harvest::Cut => bar.lose_comb(Hanging::Strip, told),
            Harvest::Broken => bar.lose_comb(Hanging::Nothing, told),
            Harvest::Whole => bar.lies = Lies::Away,
        }
        if bar.lies == Lies::Aside {
            bar.lies = Lies::InRow;
        }
        bar.taken_in = told.visit;
        // told with the place from which it was taken
        self.happened(id, told, Happened::Taken { how });
        if how == Harvest::Whole {
            self.row.take_out(id);
        }
        if let Some(visit) = self.visit_mut(told.visit) {
            let (bar, entry) = (id, told.entry.id);
            visit.taken.push(Taken { bar, how, entry });
        }
        Ok(())
    }

    pub(super) fn remove_bar(&mut self, id: BarId, told: Told<'_>) -> Result<(), Why> {
        let bar = self.met_bar(id, told)?;
        if bar.lies == Lies::Removed {
            return Ok(());
        }
        bar.lies = Lies::Removed;
        self.happened(id, told, Happened::Removed);
        self.row.take_out(id);
        Ok(())
    }
}
