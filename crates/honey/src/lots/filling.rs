//! Jars: filled, out, back.

use std::collections::BTreeMap;

use super::amount::Amount;
use super::checks::{free_name, not_before};
use super::event::{Gone, JarsBack, JarsFilled, JarsOut};
use super::house::House;
use super::id::FillId;
use super::record::Filling;
use crate::HoneyError;

impl House {
    pub(crate) fn fill_jars(&mut self, it: &JarsFilled) -> Result<(), HoneyError> {
        free_name(
            "filling",
            it.fill.as_str(),
            self.fill_at.contains_key(&it.fill),
        )?;
        HoneyError::positive("number of jars", "", f64::from(it.count))?;
        let net = Amount::some("net quantity", it.net_kg)?;
        let needed = net.times(it.count);
        let drawn = match it.drawn_kg {
            Some(drawn) => Amount::some("honey drawn", drawn)?,
            None => needed,
        };
        if drawn < needed {
            return Err(HoneyError::JarsTooLight {
                fill: it.fill.clone(),
                count: it.count,
                net: net.mass(),
                needed: needed.mass(),
                drawn: drawn.mass(),
            });
        }
        let left = self.left_after(&it.lot, it.on, drawn)?;
        let lot_at = self.find_lot(&it.lot)?;
        let source = (it.fill.as_str(), it.on);
        not_before(("best before of", it.fill.as_str(), it.best_before), source)?;
        let at = self.fills.len();
        self.lots[lot_at].mass = left;
        self.lots[lot_at].fills.push(at);
        self.fill_at.insert(it.fill.clone(), at);
        self.mark_at.entry(it.mark.clone()).or_default().push(at);
        self.fills.push(Filling {
            fill: it.fill.clone(),
            lot: it.lot.clone(),
            on: it.on,
            count: it.count,
            mark: it.mark.clone(),
            best_before: it.best_before,
            in_stock: it.count,
            gone: BTreeMap::new(),
            handed_to: Vec::new(),
            taken: Vec::new(),
            lot_at,
            net,
            drawn,
        });
        Ok(())
    }

    pub(crate) fn jars_out(&mut self, it: &JarsOut) -> Result<(), HoneyError> {
        let at = self.find_fill(&it.fill)?;
        let fill = &self.fills[at];
        not_before(
            ("jars out of", it.fill.as_str(), it.on),
            (it.fill.as_str(), fill.on),
        )?;
        jars(&it.fill, it.count, fill.in_stock, "in stock")?;
        let fill = &mut self.fills[at];
        fill.in_stock -= it.count;
        *fill.gone.entry(it.how).or_default() += it.count;
        if let Some(to) = &it.to {
            fill.handed_to.push((to.clone(), it.count));
        }
        fill.taken.extend(it.taken.clone());
        Ok(())
    }

    pub(crate) fn jars_back(&mut self, it: &JarsBack) -> Result<(), HoneyError> {
        let at = self.find_fill(&it.fill)?;
        let fill = &self.fills[at];
        not_before(
            ("jars back to", it.fill.as_str(), it.on),
            (it.fill.as_str(), fill.on),
        )?;
        jars(&it.fill, it.count, fill.with_others(), "with others")?;
        let fill = &mut self.fills[at];
        let sold = fill.gone.entry(Gone::Sold).or_default();
        let of_sold = it.count.min(*sold);
        *sold -= of_sold;
        *fill.gone.entry(Gone::Given).or_default() -= it.count - of_sold;
        fill.in_stock += it.count;
        Ok(())
    }
}

fn jars(fill: &FillId, asked: u32, there: u32, place: &'static str) -> Result<(), HoneyError> {
    HoneyError::positive("number of jars", "", f64::from(asked))?;
    if asked <= there {
        return Ok(());
    }
    Err(HoneyError::MoreThanJars {
        fill: fill.clone(),
        there,
        asked,
        place,
    })
}
