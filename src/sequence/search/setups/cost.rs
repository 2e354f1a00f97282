//! What a set-up is and what changing it costs.

use super::super::super::acyclic::Acyclic;

/// Most aspects of a set-up, and most values of one.
pub(super) const MOST_ASPECTS: usize = 16;
const MOST_VALUES: usize = 254;

/// One aspect of the set-up (a tool, a position), its values `0..n` and the cost of changing each into each.
#[derive(Clone, Debug)]
pub struct Aspect {
    values: usize,
    change: Vec<u32>,
}

impl Aspect {
    /// `change[x][y]` is the cost of going from value x to value y. It may be asymmetric; going from a value to
    /// itself is free. With the triangle inequality the search is quicker; without it, it is still right.
    ///
    /// # Panics
    /// If the table isn't square, has more than 254 rows, a diagonal entry isn't 0 or an entry is 2²⁴ or more.
    pub fn new(change: &[Vec<u32>]) -> Aspect {
        let values = change.len();
        assert!(values <= MOST_VALUES, "an aspect has at most {MOST_VALUES} values");
        assert!(change.iter().all(|row| row.len() == values), "the table of changes is square");
        assert!((0..values).all(|value| change[value][value] == 0), "keeping a value is free");
        assert!(change.iter().flatten().all(|&cost| cost < 1 << 24), "a change costs less than 2^24");
        Aspect { values, change: change.concat() }
    }

    /// How many values it has.
    pub(super) fn values(&self) -> usize {
        self.values
    }

    /// The cost of going from value `from` to value `to`.
    pub fn change(&self, from: usize, to: usize) -> u32 {
        self.change[from * self.values + to]
    }

    /// Whether no detour is cheaper than the direct change.
    pub fn keeps_triangle(&self) -> bool {
        let values = 0..self.values;
        values.clone().all(|x| {
            values.clone().all(|via| {
                values.clone().all(|y| self.change(x, y) <= self.change(x, via) + self.change(via, y))
            })
        })
    }

    /// The least that coming to `value` from any other costs; 0 if it is the only one.
    pub(super) fn least_into(&self, value: usize) -> u64 {
        let others = (0..self.values).filter(|&other| other != value);
        others.map(|other| u64::from(self.change(other, value))).min().unwrap_or(0)
    }
}

/// What a step needs of one aspect, and how it leaves it; an aspect without a demand is taken as it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Demand {
    /// Index of the aspect.
    pub aspect: usize,
    /// The value it must have when the step begins.
    pub entry: usize,
    /// The value it has when the step is over; differs from `entry` for a block of several acts.
    pub exit: usize,
}

/// Steps whose cost is the changes of set-up between them, and a price for each of the author's neighbours parted.
#[derive(Clone, Debug)]
pub struct Setups {
    /// The aspects, 16 at most.
    pub aspects: Vec<Aspect>,
    /// For each step, its demands, at most one an aspect.
    pub demands: Vec<Vec<Demand>>,
    /// The value of each aspect before the first step; with `None` the first demand is free.
    pub start: Vec<Option<usize>>,
    /// For each step, the one that follows it in the author's order, if being parted from it costs the price.
    pub follower: Vec<Option<usize>>,
    /// The price of each pair of `follower` that doesn't stand together.
    pub parting: u32,
    /// For each step, its section: every step of a section comes before every step of a section with a higher number.
    pub section: Vec<usize>,
}

/// A configuration: one more than the value of each aspect, 0 where it isn't known.
pub(in crate::sequence::search) type Configuration = [u8; MOST_ASPECTS];

/// Demands as dense tables, for speed.
#[derive(Clone, Debug)]
pub(in crate::sequence::search) struct Costs {
    pub(super) setups: Setups,
    /// At `step * aspects + aspect`, one more than the value demanded, or 0.
    entry: Vec<u8>,
    least_into: Vec<Vec<u64>>,
    pub(super) closure_is_free: bool,
}

impl Costs {
    pub(in crate::sequence::search) fn new(graph: &Acyclic, setups: Setups) -> Costs {
        let (steps, aspects) = (graph.nodes(), setups.aspects.len());
        assert!(aspects <= MOST_ASPECTS, "a set-up has at most {MOST_ASPECTS} aspects");
        assert!(setups.demands.len() == steps && setups.follower.len() == steps, "one entry a step");
        assert!(
            setups.section.len() == steps && setups.start.len() == aspects,
            "one entry a step or an aspect"
        );
        let mut entry = vec![0; steps * aspects];
        for (step, demands) in setups.demands.iter().enumerate() {
            for demand in demands {
                let values = setups.aspects[demand.aspect].values;
                assert!(
                    demand.entry < values && demand.exit < values,
                    "a demand names a value of its aspect"
                );
                entry[step * aspects + demand.aspect] = demand.entry as u8 + 1;
            }
        }
        let closure_is_free = setups.aspects.iter().all(Aspect::keeps_triangle);
        let mut least_into: Vec<Vec<u64>> = setups
            .aspects
            .iter()
            .map(|aspect| (0..aspect.values).map(|value| aspect.least_into(value)).collect())
            .collect();
        for demand in setups.demands.iter().flatten().filter(|demand| demand.entry != demand.exit) {
            least_into[demand.aspect][demand.exit] = 0;
        }
        Costs { setups, entry, least_into, closure_is_free }
    }

    pub(super) fn aspects(&self) -> usize {
        self.setups.aspects.len()
    }

    pub(super) fn entry(&self, step: usize, aspect: usize) -> u8 {
        self.entry[step * self.aspects() + aspect]
    }

    pub(in crate::sequence::search) fn start(&self) -> Configuration {
        let mut start = [0; MOST_ASPECTS];
        for (value, wanted) in start.iter_mut().zip(&self.setups.start) {
            *value = wanted.map_or(0, |wanted| wanted as u8 + 1);
        }
        start
    }

    /// The least cost of coming to a configuration value by a change; 0 if a step may leave it behind for nothing.
    pub(super) fn least_into(&self, aspect: usize, value: u8) -> u64 {
        self.least_into[aspect][value as usize - 1]
    }

    /// The cost of changing one aspect, in configuration values; free where either isn't known.
    pub(super) fn change(&self, aspect: usize, from: u8, to: u8) -> u64 {
        if from == to || from == 0 || to == 0 {
            return 0;
        }
        u64::from(self.setups.aspects[aspect].change(from as usize - 1, to as usize - 1))
    }

    /// Does `step` in configuration `now`: the changes it costs, and the configuration it leaves.
    pub(in crate::sequence::search) fn do_step(
        &self,
        now: &Configuration,
        step: usize,
    ) -> (u64, Configuration) {
        let mut after = *now;
        let mut cost = 0;
        for demand in &self.setups.demands[step] {
            cost += self.change(demand.aspect, now[demand.aspect], demand.entry as u8 + 1);
            after[demand.aspect] = demand.exit as u8 + 1;
        }
        (cost, after)
    }

    /// The price of what follows `step` (nothing at the end) not being its author's follower.
    pub(in crate::sequence::search) fn parting(&self, step: usize, next: Option<usize>) -> u64 {
        match self.setups.follower[step] {
            Some(follower) if next != Some(follower) => u64::from(self.setups.parting),
            _ => 0,
        }
    }

    pub(in crate::sequence::search) fn section(&self, step: usize) -> usize {
        self.setups.section[step]
    }

    /// The cost of an order: changes of set-up and prices of parting.
    pub(in crate::sequence::search) fn of(&self, order: &[usize]) -> u64 {
        let mut now = self.start();
        let mut total = 0;
        for (at, &step) in order.iter().enumerate() {
            let (cost, after) = self.do_step(&now, step);
            total += cost + self.parting(step, order.get(at + 1).copied());
            now = after;
        }
        total
    }
}
