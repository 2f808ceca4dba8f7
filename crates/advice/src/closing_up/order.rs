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
//! The search is best-first (A*), guided by [`super::bound::Bound`], a lower bound on what is to come.
//!
//! Of states that look equally good the one furthest along the present row goes first, then the one noted
//! last, and of what can be done next sliding is noted last: so among ties combs rather slide than wait
//! on the stand.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::num::NonZeroU64;

use rustc_hash::FxHashMap;

use super::Effort;
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
    /// Not below none.
    fn less_swaps(self, count: usize) -> Self {
        let swaps = self.0 - self.without_swaps().0;
        Self(self.0 - swaps.min(count as u64))
    }
    /// For a table in which nothing stands for what is not known.
    pub(super) fn to_store(self) -> NonZeroU64 {
        NonZeroU64::MIN.saturating_add(self.0)
    }
    /// What [`Self::to_store`] gave.
    pub(super) fn stored(stored: NonZeroU64) -> Self {
        if stored == NonZeroU64::MAX {
            Self::NEVER
        } else {
            Self(stored.get() - 1)
        }
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
pub(super) fn best_order(
    row: &Row,
    demand: Demand,
    effort: &mut Effort,
) -> Result<Option<Vec<usize>>, AdviceError> {
    let Some(mut search) = Search::new(row, demand) else {
        return Ok(None);
    };
    let start = search.start();
    let Some(bound) = search.ahead(&start) else {
        return Ok(None);
    };
    // the bound on lifts and mass is what they come to: keep to it, which spares noting what costs
    // more, and should that ever lead nowhere search without a limit
    let mut run = |limit| {
        let found = search.run(start, limit);
        effort.states += search.nodes.len();
        found
    };
    match run(bound.without_swaps())? {
        Some(order) => Ok(Some(order)),
        None => run(Cost::NEVER),
    }
}

struct Search {
    row: Row,
    bound: Bound,
    /// Combs of each class from a place on outward.
    left: Vec<[usize; 3]>,
    /// Most that straight blocks may exceed capped ones by.
    most_excess: i32,
    /// States that need more lifts or mass are dropped.
    limit: Cost,
    nodes: Vec<Node>,
    known: FxHashMap<State, Cost>,
    /// Least cost in all, then fewest combs left, then the node noted last.
    open: BinaryHeap<(Reverse<(Cost, usize)>, usize)>,
}

impl Search {
    fn new(row: &Row, demand: Demand) -> Option<Self> {
        let mut row = row.clone();
        if demand.other == 0 {
            merge_open_with_crooked(&mut row);
        }
        let bound = Bound::new(&row, demand)?;
        let most_excess = signed(row.count(Class::Open)) - signed(demand.other);
        let mut left = vec![[0; 3]; row.honey.len() + 1];
        for (at, comb) in row.honey.iter().enumerate().rev() {
            left[at] = left[at + 1];
            left[at][comb.class as usize] += 1;
        }
        Some(Self {
            row,
            bound,
            left,
            most_excess,
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
        while let Some((_, node)) = self.open.pop() {
            let Node { state, cost, .. } = self.nodes[node];
            if self.known.get(&state) != Some(&cost) {
                continue;
            }
            if self.is_complete(&state) {
                return Ok(Some(self.trace(node)));
            }
            if self.nodes.len() > MOST_NODES {
                return Err(AdviceError::TooManyWays);
            }
            self.expand(node, state, cost);
        }
        Ok(None)
    }

    /// Whether all combs are in the new row, and its gaps are those asked for.
    fn is_complete(&self, state: &State) -> bool {
        let excess = i32::from(state.straight_blocks) - i32::from(state.capped_blocks);
        usize::from(state.at) == self.row.honey.len()
            && state.waiting.is_empty()
            && excess <= self.most_excess
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
        self.open.push((Reverse((cost.and(ahead), left)), node));
    }

    /// A lower bound on what is still to come; `None` if this cannot lead to an answer.
    ///
    /// It is the table's, or one lift for each comb owed if that is more. Of the swaps, the table charges
    /// one for each comb not capped that is lifted later. Those owed need not cross another that slides;
    /// but what was set since the last slide and is owed is crossed by the next.
    fn ahead(&mut self, state: &State) -> Option<Cost> {
        let at = usize::from(state.at);
        let left = self.left[at];
        if CLASSES
            .iter()
            .any(|class| state.owed.count(*class) > left[*class as usize])
            || self.is_closed_to_open(state, left[Class::Open as usize])
        {
            return None;
        }
        let (waiting, owed) = (
            state.waiting.count(Class::Capped),
            state.owed.count(Class::Capped),
        );
        let must_slide = state.setting && at < self.row.honey.len();
        let table = self.bound.ahead(View {
            setting: must_slide,
            anchored: state.anchored,
            at,
            last: state.last,
            capped_blocks: usize::from(state.capped_blocks),
            straight_blocks: usize::from(state.straight_blocks),
            capped_to_set: signed(waiting) - signed(owed),
        })?;
        let others_owed = state.owed.len() - owed;
        let least = if must_slide {
            table
        } else {
            table.less_swaps(others_owed)
        };
        Some(least.max(Cost::lifts(state.owed.len() as u32, 0)))
    }

    /// Whether an open comb is left to come and can no more: the last straight block allowed is ended.
    /// (Of capped combs the table sees that.)
    fn is_closed_to_open(&self, state: &State, open_left: usize) -> bool {
        let (waiting, owed) = (
            state.waiting.count(Class::Open),
            state.owed.count(Class::Open),
        );
        state.last == Class::Crooked
            && (waiting > 0 || owed < open_left)
            && self
                .bound
                .is_last_straight_block(state.straight_blocks.into())
    }

    fn expand(&mut self, node: usize, state: State, cost: Cost) {
        let at = usize::from(state.at);
        if at < self.row.honey.len() {
            if !state.setting {
                let (next, price) = self.lift(state);
                self.reach(next, cost.and(price), Some((node, Event::Lift)));
            }
            let (next, price) = self.slide(state);
            self.reach(next, cost.and(price), Some((node, Event::Slide)));
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
