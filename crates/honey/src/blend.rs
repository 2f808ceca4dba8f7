//! Blending lots to a moisture: how much of what goes where, or why it cannot be done.
//!
//! Everything here is a balance of masses: `W = sum(m_i W_i) / sum(m_i)`, by mass and never by
//! volume. Blending does not cure honey that has begun to ferment, and a blend is a new lot.

use comb::Mass;
use serde::Serialize;

use crate::{HoneyError, Moisture};

/// Differences of moisture below this many points are rounding, not honey.
const SAME: f64 = 1e-9;

/// Honey in one vessel.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Vessel {
    /// Its lot, or whatever the keeper calls it.
    pub name: String,
    /// Honey in it.
    pub mass_kg: Mass,
    /// Moisture of that honey.
    pub moisture_pct: Moisture,
}

/// Moisture of these masses stirred together; `None` of nothing. Any moisture; source: balance of
/// masses, computed.
///
/// ```
/// use comb::Mass;
/// use honey::{Moisture, blend::mixed};
/// let w = |pct| Moisture::percent(pct);
/// let both = mixed(&[(Mass::kg(10.0), w(19.4)?), (Mass::kg(10.0), w(16.8)?)]);
/// assert!((both.unwrap().to_percent() - 18.1).abs() < 1e-9);
/// # Ok::<(), honey::HoneyError>(())
/// ```
pub fn mixed(parts: &[(Mass, Moisture)]) -> Option<Moisture> {
    let total: Mass = parts.iter().map(|part| part.0).sum();
    let water: Mass = parts.iter().map(|part| part.1.water_in(part.0)).sum();
    (total.to_kg() > 0.0).then(|| Moisture::known((water / total * 100.0).clamp(0.0, 100.0)))
}

/// Parts of the wet and of the dry lot for a target: the two-lot square
/// (wet: target - dry; dry: wet - target).
///
/// # Errors
/// [`HoneyError::TargetNotBetween`] unless dry < target < wet.
///
/// ```
/// use honey::{Moisture, blend::square};
/// let w = |pct| Moisture::percent(pct);
/// let (wet, dry) = square(w(19.4)?, w(16.8)?, w(18.0)?)?;
/// assert!((dry / wet - 1.4 / 1.2).abs() < 1e-9); // 10.0 kg wet needs 11.667 kg dry
/// # Ok::<(), honey::HoneyError>(())
/// ```
pub fn square(wet: Moisture, dry: Moisture, target: Moisture) -> Result<(f64, f64), HoneyError> {
    let (w, d, t) = (wet.to_percent(), dry.to_percent(), target.to_percent());
    if d < t && t < w {
        Ok((t - d, w - t))
    } else {
        Err(HoneyError::TargetNotBetween { dry, wet, target })
    }
}

/// One pour from vessel to vessel.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Pour {
    /// Vessel poured from.
    pub from: String,
    /// Vessel poured into; stir it.
    pub into: String,
    /// How much.
    pub mass_kg: Mass,
}

/// What to pour, in this order, and what then stands in every vessel.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PourPlan {
    /// The pours, each vessel drawn from before anything is poured into it.
    pub pours: Vec<Pour>,
    /// Sum of the pours, the least that can bring every vessel to the target.
    pub moved_kg: Mass,
    /// The vessels afterwards, in the order given; an emptied one is left in with nothing.
    pub after: Vec<Vessel>,
}

/// Bring every vessel to the target or under it, moving the least honey.
///
/// Exact. Let `d_i = W_i - target`. A kg of wet honey poured into a dry vessel carries `d_i`
/// kg-points of excess with it; a kg of dry honey poured into a wet vessel takes `|d_j|` away.
/// Carrying a kg-point from wet i to dry j thus costs `min(1/d_i, 1/|d_j|)` kg, which makes this
/// a transportation problem. Its costs are inverse Monge in the order of the two lists, so pairing
/// the wettest with the least dry of those needed is optimal (Hoffman 1963, from memory), once the
/// spare capacity, a supplier at no cost, has been given to the dry vessels nearest the target.
/// The tests compare it with a linear program. A vessel's size is not known here: look before pouring.
///
/// # Errors
/// [`HoneyError::NotPositive`] for a mass that is not; [`HoneyError::BlendTooWet`] when all of it
/// stirred together would still be over the target.
pub fn bring_to_target(vessels: &[Vessel], target: Moisture) -> Result<PourPlan, HoneyError> {
    for vessel in vessels {
        HoneyError::positive("mass", "kg", vessel.mass_kg.to_kg())?;
    }
    let over = |vessel: &Vessel| vessel.moisture_pct.to_percent() - target.to_percent();
    let mut wet: Vec<Side> = sides(vessels, |v| over(v));
    let mut dry: Vec<Side> = sides(vessels, |v| -over(v));
    let excess: f64 = wet.iter().map(|side| side.left).sum();
    let room: f64 = dry.iter().map(|side| side.left).sum();
    if excess > room + SAME * vessels.len() as f64 {
        return Err(too_wet(vessels, target, excess - room));
    }
    wet.sort_by(|a, b| b.points.total_cmp(&a.points));
    dry.sort_by(|a, b| a.points.total_cmp(&b.points));
    let flows = carry(&mut wet, &mut dry, (room - excess).max(0.0));
    let flows = in_pouring_order(flows);
    Ok(plan(vessels, &flows))
}

/// A vessel's distance from the target, in points, and what is left to carry, in kg-points.
struct Side {
    vessel: usize,
    points: f64,
    left: f64,
}

struct Flow {
    from: usize,
    into: usize,
    kg: f64,
}

fn sides(vessels: &[Vessel], distance: impl Fn(&Vessel) -> f64) -> Vec<Side> {
    let far = vessels.iter().enumerate().map(|(vessel, v)| {
        let points = distance(v);
        Side {
            vessel,
            points,
            left: v.mass_kg.to_kg() * points,
        }
    });
    far.filter(|side| side.points > SAME).collect()
}

/// North-west corner rule over the two sorted lists, the spare supplier first.
fn carry(wet: &mut [Side], dry: &mut [Side], mut spare: f64) -> Vec<Flow> {
    let mut flows = Vec::new();
    let mut column = 0;
    while column < dry.len() && spare >= dry[column].left {
        spare -= dry[column].left;
        column += 1;
    }
    if let Some(side) = dry.get_mut(column) {
        side.left -= spare;
    }
    for source in wet {
        while source.left > SAME {
            let Some(sink) = dry.get_mut(column) else {
                break;
            };
            let carried = source.left.min(sink.left);
            if carried > 0.0 {
                flows.push(flow(source, sink, carried));
            }
            source.left -= carried;
            sink.left -= carried;
            if sink.left <= SAME {
                column += 1;
            }
        }
    }
    flows
}

/// The cheaper direction: whichever of the two is further from the target moves.
fn flow(wet: &Side, dry: &Side, carried: f64) -> Flow {
    if wet.points > dry.points {
        Flow {
            from: wet.vessel,
            into: dry.vessel,
            kg: carried / wet.points,
        }
    } else {
        Flow {
            from: dry.vessel,
            into: wet.vessel,
            kg: carried / dry.points,
        }
    }
}

/// The amounts are of the honey as it stood, so a vessel is drawn from before it is poured into.
/// The flows make a forest (corner rule), so such an order exists.
fn in_pouring_order(mut waiting: Vec<Flow>) -> Vec<Flow> {
    let mut ordered = Vec::with_capacity(waiting.len());
    while !waiting.is_empty() {
        let free = waiting
            .iter()
            .position(|flow| waiting.iter().all(|other| other.from != flow.into))
            .unwrap_or(0);
        ordered.push(waiting.remove(free));
    }
    ordered
}

fn plan(vessels: &[Vessel], flows: &[Flow]) -> PourPlan {
    let mut after = vessels.to_vec();
    let mut pours = Vec::with_capacity(flows.len());
    for flow in flows {
        let kg = flow.kg.min(after[flow.from].mass_kg.to_kg());
        let poured = (Mass::kg(kg), vessels[flow.from].moisture_pct);
        let into = &mut after[flow.into];
        let stirred = mixed(&[(into.mass_kg, into.moisture_pct), poured]);
        into.moisture_pct = stirred.unwrap_or(poured.1);
        into.mass_kg = into.mass_kg + poured.0;
        after[flow.from].mass_kg = (after[flow.from].mass_kg - poured.0).max(Mass::ZERO);
        pours.push(Pour {
            from: vessels[flow.from].name.clone(),
            into: vessels[flow.into].name.clone(),
            mass_kg: poured.0,
        });
    }
    PourPlan {
        moved_kg: pours.iter().map(|pour| pour.mass_kg).sum(),
        pours,
        after,
    }
}

fn too_wet(vessels: &[Vessel], target: Moisture, excess: f64) -> HoneyError {
    let parts: Vec<_> = vessels
        .iter()
        .map(|vessel| (vessel.mass_kg, vessel.moisture_pct))
        .collect();
    let driest = vessels
        .iter()
        .map(|vessel| vessel.moisture_pct)
        .min_by(Moisture::total_cmp)
        .filter(|driest| driest.to_percent() < target.to_percent() - SAME);
    HoneyError::BlendTooWet {
        target,
        reachable: mixed(&parts).unwrap_or(target),
        more: driest.map(|driest| {
            let kg = excess / (target.to_percent() - driest.to_percent());
            (Mass::kg(kg), driest)
        }),
    }
}

/// What each lot gives to one batch.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Portion {
    /// The vessel drawn from.
    pub from: String,
    /// How much of it.
    pub mass_kg: Mass,
}

/// A batch of this mass at the ceiling or under it: the wettest honey that fits goes in, so that
/// dry honey is kept for later. Neighbours in moisture are used, and at most two lots are left in
/// part. Exact: the batch is a window over the lots from wettest to driest, slid no further than
/// the ceiling asks.
///
/// # Errors
/// [`HoneyError::NotPositive`]; [`HoneyError::BlendTooLittle`] when there is less honey than
/// asked; [`HoneyError::BlendTooWet`] when even the driest honey makes it too wet.
pub fn batch(
    vessels: &[Vessel],
    mass: Mass,
    ceiling: Moisture,
) -> Result<(Vec<Portion>, Moisture), HoneyError> {
    HoneyError::positive("mass of the batch", "kg", mass.to_kg())?;
    for vessel in vessels {
        HoneyError::positive("mass", "kg", vessel.mass_kg.to_kg())?;
    }
    let mut line: Vec<&Vessel> = vessels.iter().collect();
    line.sort_by(|a, b| b.moisture_pct.total_cmp(&a.moisture_pct));
    let spare = line.iter().map(|v| v.mass_kg).sum::<Mass>().to_kg() - mass.to_kg();
    if spare < -SAME {
        let there = line.iter().map(|v| v.mass_kg).sum();
        return Err(HoneyError::BlendTooLittle { asked: mass, there });
    }
    let start = slide(&line, mass.to_kg(), spare.max(0.0), ceiling)?;
    let portions = window(&line, start, mass.to_kg());
    let parts: Vec<_> = portions
        .iter()
        .map(|&(i, kg)| (Mass::kg(kg), line[i].moisture_pct))
        .collect();
    let named = portions.iter().map(|&(i, kg)| Portion {
        from: line[i].name.clone(),
        mass_kg: Mass::kg(kg),
    });
    Ok((named.collect(), mixed(&parts).unwrap_or(ceiling)))
}

/// Least start of a window that meets the ceiling. Within two breaks the window's moisture is
/// straight in its start, so the start is solved for there.
fn slide(line: &[&Vessel], kg: f64, spare: f64, ceiling: Moisture) -> Result<f64, HoneyError> {
    let moisture = |start: f64| {
        let parts = window(line, start, kg);
        let water: f64 = parts
            .iter()
            .map(|&(i, part)| part * line[i].moisture_pct.to_percent())
            .sum();
        water / kg
    };
    let mut edge = 0.0;
    let mut breaks = vec![0.0, spare];
    for vessel in line {
        edge += vessel.mass_kg.to_kg();
        breaks.extend([edge, edge - kg]);
    }
    breaks.retain(|at| (0.0..=spare).contains(at));
    breaks.sort_by(f64::total_cmp);
    let limit = ceiling.to_percent();
    let Some(met) = breaks.iter().position(|&at| moisture(at) <= limit + SAME) else {
        return Err(HoneyError::BlendTooWet {
            target: ceiling,
            reachable: Moisture::known(moisture(spare)),
            more: None,
        });
    };
    if met == 0 {
        return Ok(0.0);
    }
    let (a, b) = (breaks[met - 1], breaks[met]);
    let (at_a, at_b) = (moisture(a), moisture(b));
    Ok(a + (b - a) * ((at_a - limit) / (at_a - at_b)).clamp(0.0, 1.0))
}

/// Which vessels the window covers and how much of each, kg.
fn window(line: &[&Vessel], start: f64, kg: f64) -> Vec<(usize, f64)> {
    let mut edge = 0.0;
    let mut parts = Vec::new();
    for (i, vessel) in line.iter().enumerate() {
        let next = edge + vessel.mass_kg.to_kg();
        let part = next.min(start + kg) - edge.max(start);
        if part > SAME {
            parts.push((i, part));
        }
        edge = next;
    }
    parts
}
