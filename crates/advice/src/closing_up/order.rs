//! The order of the honey combs: fewest lifted, least mass lifted, fewest swaps, with the gaps that
//! the loose bars ask for. Exact.
//!
//! # What is searched
//!
//! An order together with the combs that only slide in it (a common subsequence of present and new
//! order). The lifts of an order are those of its best such set, so the best pair gives the best
//! order: least over orders of least over sets is least over pairs. Brood needs no search: it comes
//! first, in its order, and of it exactly the combs outside the first honey comb that stays put are
//! lifted. Swaps between brood and honey are the same in every order allowed.
//!
//! Within one class (capped, open, crooked) the lifted combs go in again in their present order.
//! Putting two of one class that stand the wrong way round right leaves gaps, sliding combs, lifts
//! and mass alone and takes away at least one swap, so no best pair is lost.
//!
//! # How
//!
//! The present row is walked outward from the edge while the new row is built. Each step of the walk
//! *slides* the next comb into the new row or *lifts* it; between, lifted combs are *set* in. A comb
//! lifted before it is set *waits*; a comb set before the walk reaches it is *owed*. All that the
//! future needs to know of the past is the classes of those waiting and owed, in order ([`Queue`]), the
//! last comb of the new row, and the blocks so far (see [`super::row`]). Swaps are counted once each:
//!
//! - sliding a comb: one with each comb waiting (stood inside it, comes outside) and each owed;
//! - lifting the comb that is owed: one with each comb owed for longer (set inside it, stood outside);
//!   lifting any other: one with each comb owed;
//! - setting a waiting comb: one with each comb waiting for longer; setting one not yet reached: one
//!   with each comb waiting.
//!
//! To come to each pair in one way only, combs are set after all lifts that precede the next slide.
//! The search is best-first (A*), guided by [`super::bound::Bound`], a lower bound on lifts and mass.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use rustc_hash::FxHashMap;

use super::bound::{Bound, View};
use super::queue::Queue;
use super::row::{CLASSES, Class, Demand, Row, signed};
use crate::AdviceError;

/// Lifts, then mass (mg), then swaps, in one number: 60 combs of 100 kg need 33 bits of milligrams,
/// their pairs 11 bits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost(u64);

impl Cost {
    pub(super) const NONE: Self = Self(0);
    pub(super) const NEVER: Self = Self(u64::MAX);

    pub(super) fn lifts(count: u32, mass_mg: u64) -> Self {
        Self((u64::from(count) << 48) + (mass_mg << 12))
    }
    fn lift_count(self) -> usize {
        (self.0 >> 48) as usize
    }
    fn without_swaps(self) -> Self {
        Self(self.0 >> 12 << 12)
    }
    pub(super) fn swaps(count: usize) -> Self {
        Self(count as u64)
    }
    pub(super) fn and(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

/// What the future needs to know of the past.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
struct State {
    waiting: Queue,
    owed: Queue,
    /// Combs of the present row passed.
    at: u8,
    /// The outermost comb of the new row.
    last: Class,
    capped_blocks: u8,
    straight_blocks: u8,
    /// A honey comb has stayed put.
    anchored: bool,
    /// A comb was set since the last slide.
    setting: bool,
}

impl State {
    /// The new row with one more comb, as far as blocks go.
    fn with(self, class: Class) -> Self {
        let capped_block = class.is_capped() && !self.last.is_capped();
        let straight_block = class.is_straight() && !self.last.is_straight();
        Self {
            last: class,
            capped_blocks: self.capped_blocks + u8::from(capped_block),
            straight_blocks: self.straight_blocks + u8::from(straight_block),
            ..self
        }
    }
}

#[derive(Debug, Clone, Copy)]
enum Event {
    Slide,
    Lift,
    Set(Class),
}

struct Node {
    state: State,
    cost: Cost,
    /// The node before and what was done there.
    from: Option<(usize, Event)>,
}

/// Most states looked at before giving up, so that no problem takes more than seconds or some
/// hundred megabytes. Ours; see the example `closing_up_hunt` for what real sizes need.
const MOST_NODES: usize = 2_000_000;

/// The best order of the honey combs, as indices into `row.honey`; `None` if no order meets the
/// demand.
///
/// # Errors
/// [`AdviceError::TooManyWays`] beyond [`MOST_NODES`].
pub(super) fn best_order(row: &Row, demand: Demand) -> Result<Option<Vec<usize>>, AdviceError> {
    let Some(mut search) = Search::new(row, demand) else {
        return Ok(None);
    };
    let start = search.start();
    let Some(bound) = search.ahead(&start) else {
        return Ok(None);
    };
    // the bound on lifts and mass is nearly always what they come to: keep to it first, which spares
    // noting what costs more, and only if that leads nowhere search without a limit
    match search.run(start, bound.without_swaps())? {
        Some(order) => Ok(Some(order)),
        None => search.run(start, Cost::NEVER),
    }
}

struct Search {
    row: Row,
    bound: Bound,
    /// Combs of each class from a place on outward.
    left: Vec<[usize; 3]>,
    /// States that need more lifts or mass are dropped.
    limit: Cost,
    nodes: Vec<Node>,
    known: FxHashMap<State, Cost>,
    open: BinaryHeap<Reverse<(Cost, usize, usize)>>,
}

impl Search {
    fn new(row: &Row, demand: Demand) -> Option<Self> {
        let mut row = row.clone();
        if demand.other == 0 {
            merge_open_with_crooked(&mut row);
        }
        let bound = Bound::new(&row, demand)?;
        let mut left = vec![[0; 3]; row.honey.len() + 1];
        for (at, comb) in row.honey.iter().enumerate().rev() {
            left[at] = left[at + 1];
            left[at][comb.class as usize] += 1;
        }
        Some(Self {
            row,
            bound,
            left,
            limit: Cost::NEVER,
            nodes: Vec::new(),
            known: FxHashMap::default(),
            open: BinaryHeap::new(),
        })
    }

    fn start(&self) -> State {
        let anchor = self.row.anchor;
        State {
            waiting: Queue::EMPTY,
            owed: Queue::EMPTY,
            at: 0,
            last: anchor,
            capped_blocks: u8::from(anchor.is_capped()),
            straight_blocks: u8::from(anchor.is_straight()),
            anchored: false,
            setting: false,
        }
    }

    fn run(&mut self, start: State, limit: Cost) -> Result<Option<Vec<usize>>, AdviceError> {
        self.limit = limit;
        self.nodes.clear();
        self.known.clear();
        self.open.clear();
        self.reach(start, Cost::NONE, None);
        while let Some(Reverse((_, _, node))) = self.open.pop() {
            let Node { state, cost, .. } = self.nodes[node];
            if self.known.get(&state) != Some(&cost) {
                continue;
            }
            if usize::from(state.at) == self.row.honey.len() && state.waiting.is_empty() {
                return Ok(Some(self.trace(node)));
            }
            if self.nodes.len() > MOST_NODES {
                return Err(AdviceError::TooManyWays);
            }
            self.expand(node, state, cost);
        }
        Ok(None)
    }

    /// Notes a state if it can still lead to an answer and was not reached as cheaply before.
    fn reach(&mut self, state: State, cost: Cost, from: Option<(usize, Event)>) {
        let Some(ahead) = self.ahead(&state) else {
            return;
        };
        if cost.and(ahead).without_swaps() > self.limit {
            return;
        }
        let best = self.known.entry(state).or_insert(Cost::NEVER);
        if *best <= cost {
            return;
        }
        *best = cost;
        let node = self.nodes.len();
        self.nodes.push(Node { state, cost, from });
        let left = self.row.honey.len() - usize::from(state.at);
        self.open.push(Reverse((cost.and(ahead), left, node)));
    }

    /// A lower bound on what is still to come; `None` if this cannot lead to an answer.
    ///
    /// Lifts and mass are the table's, or one lift for each comb owed if that is more. Swaps: what was
    /// set since the last slide and is owed is crossed by the next; and a comb lifted later that is
    /// not owed crosses at least one that slides, or it could slide too and the order would have
    /// fewer lifts than it is charged here (so no best pair is lost).
    fn ahead(&self, state: &State) -> Option<Cost> {
        let at = usize::from(state.at);
        if CLASSES
            .iter()
            .any(|class| state.owed.count(*class) > self.left[at][*class as usize])
        {
            return None;
        }
        let straight = |queue: Queue| signed(queue.count(Class::Capped) + queue.count(Class::Open));
        let view = View {
            anchored: state.anchored,
            at,
            last: state.last,
            capped_blocks: usize::from(state.capped_blocks),
            straight_blocks: usize::from(state.straight_blocks),
            straight_to_set: straight(state.waiting) - straight(state.owed),
        };
        let must_slide = state.setting && at < self.row.honey.len();
        let table = if must_slide {
            self.bound.ahead_sliding(view)
        } else {
            self.bound.ahead(view)
        }?;
        let owed = state.owed.len();
        let lifts = table.max(Cost::lifts(owed as u32, 0));
        let crossed_next = if must_slide { owed } else { 0 };
        let crossed_later = if state.anchored {
            lifts.lift_count().saturating_sub(owed)
        } else {
            0
        };
        Some(lifts.and(Cost::swaps(crossed_next + crossed_later)))
    }

    fn expand(&mut self, node: usize, state: State, cost: Cost) {
        let at = usize::from(state.at);
        if at < self.row.honey.len() {
            let (next, price) = self.slide(state);
            self.reach(next, cost.and(price), Some((node, Event::Slide)));
            if !state.setting {
                let (next, price) = self.lift(state);
                self.reach(next, cost.and(price), Some((node, Event::Lift)));
            }
        }
        for class in CLASSES {
            if let Some((next, price)) = self.set(state, class) {
                self.reach(next, cost.and(price), Some((node, Event::Set(class))));
            }
        }
    }

    fn slide(&self, state: State) -> (State, Cost) {
        let comb = self.row.honey[usize::from(state.at)];
        let mut next = state.with(comb.class);
        next.at += 1;
        next.anchored = true;
        next.setting = false;
        let swaps = Cost::swaps(state.waiting.len() + state.owed.len());
        let (count, mass) = if state.anchored {
            (0, 0)
        } else {
            comb.brood_beyond
        };
        (next, swaps.and(Cost::lifts(count, mass)))
    }

    fn lift(&self, state: State) -> (State, Cost) {
        let comb = self.row.honey[usize::from(state.at)];
        let mut next = State {
            at: state.at + 1,
            ..state
        };
        let swaps = if let Some((longer, owed)) = state.owed.take(comb.class) {
            next.owed = owed;
            longer
        } else {
            next.waiting = state.waiting.push(comb.class);
            state.owed.len()
        };
        (next, Cost::lifts(1, comb.mass_mg).and(Cost::swaps(swaps)))
    }

    fn set(&self, state: State, class: Class) -> Option<(State, Cost)> {
        let mut next = state.with(class);
        next.setting = true;
        if let Some((longer, waiting)) = state.waiting.take(class) {
            next.waiting = waiting;
            return Some((next, Cost::swaps(longer)));
        }
        // from further out, past at least one comb that slides
        let beyond = self.left.get(usize::from(state.at) + 1)?;
        if beyond[class as usize] <= state.owed.count(class) {
            return None;
        }
        next.owed = state.owed.push(class);
        Some((next, Cost::swaps(state.waiting.len())))
    }

    /// The order that leads to a node.
    fn trace(&self, mut node: usize) -> Vec<usize> {
        let mut events = Vec::new();
        while let Some((before, event)) = self.nodes[node].from {
            events.push(event);
            node = before;
        }
        events.reverse();
        let mut order: Vec<usize> = Vec::with_capacity(self.row.honey.len());
        // of each class: combs waiting, and places kept for combs owed; first in, first out
        let mut waiting: [Vec<usize>; 3] = Default::default();
        let mut owed: [Vec<usize>; 3] = Default::default();
        let mut at = 0;
        for event in events {
            match event {
                Event::Slide => {
                    order.push(at);
                    at += 1;
                }
                Event::Lift => {
                    let class = self.row.honey[at].class as usize;
                    if owed[class].is_empty() {
                        waiting[class].push(at);
                    } else {
                        let place = owed[class].remove(0);
                        order[place] = at;
                    }
                    at += 1;
                }
                Event::Set(class) if waiting[class as usize].is_empty() => {
                    owed[class as usize].push(order.len());
                    order.push(usize::MAX);
                }
                Event::Set(class) => order.push(waiting[class as usize].remove(0)),
            }
        }
        order
    }
}

/// With no loose bar asked for beside an open comb, open combs matter no more than crooked ones.
fn merge_open_with_crooked(row: &mut Row) {
    let merged = |class| {
        if class == Class::Open {
            Class::Crooked
        } else {
            class
        }
    };
    row.anchor = merged(row.anchor);
    for comb in &mut row.honey {
        comb.class = merged(comb.class);
    }
}
