//! Search over order ideals: states are (set done, last node), layer by layer, the cheapest way to each kept, and
//! only those that the bound of `memory` can't rule out against a known order.
//!
//! If no layer outgrows its allowance the search is exact: it returns the cheapest order, or shows that the known
//! one can't be beaten. Otherwise it keeps the most promising states (a beam) and the least bound among those
//! dropped is a lower bound all the same.

use super::instance::Instance;
use super::memory::Memory;
use super::walk::FAR;

/// What a search of one width found.
pub(super) struct Outcome {
    /// An order cheaper than the known one, with its cost.
    pub(super) better: Option<(Vec<u32>, i64)>,
    /// No order costs less than this; equal to the best cost if that is proved.
    pub(super) bound: i64,
    /// Whether nothing was dropped.
    pub(super) complete: bool,
    /// Whether it ended before its work ran out.
    pub(super) finished: bool,
    /// Transitions looked at.
    pub(super) work: u64,
}

/// The states of one layer; `sets` holds `words` words for each.
struct Layer {
    words: usize,
    sets: Vec<u64>,
    hash: Vec<u64>,
    last: Vec<u32>,
    cost: Vec<i64>,
    /// Sum of the prices of the nodes done.
    paid: Vec<i64>,
    /// Scaled lower bound on any order through the state.
    least: Vec<i64>,
    parent: Vec<u32>,
}

impl Layer {
    fn new(words: usize) -> Layer {
        Layer {
            words,
            sets: Vec::new(),
            hash: Vec::new(),
            last: Vec::new(),
            cost: Vec::new(),
            paid: Vec::new(),
            least: Vec::new(),
            parent: Vec::new(),
        }
    }

    fn len(&self) -> usize {
        self.last.len()
    }

    fn set(&self, index: usize) -> &[u64] {
        &self.sets[index * self.words..(index + 1) * self.words]
    }

    /// Keeps only the states for which `kept` holds, in their order.
    fn retain(&mut self, kept: &[bool]) {
        let mut to = 0;
        for (from, &keep) in kept.iter().enumerate() {
            if keep {
                self.sets.copy_within(from * self.words..(from + 1) * self.words, to * self.words);
                self.hash[to] = self.hash[from];
                self.last[to] = self.last[from];
                self.cost[to] = self.cost[from];
                self.paid[to] = self.paid[from];
                self.least[to] = self.least[from];
                self.parent[to] = self.parent[from];
                to += 1;
            }
        }
        self.sets.truncate(to * self.words);
        self.hash.truncate(to);
        self.last.truncate(to);
        self.cost.truncate(to);
        self.paid.truncate(to);
        self.least.truncate(to);
        self.parent.truncate(to);
    }
}

/// Open addressing from a state's hash to its index in the layer.
struct Table {
    slots: Vec<u32>,
    mask: usize,
}

const FREE: u32 = u32::MAX;

impl Table {
    fn new(size: usize) -> Table {
        let slots = (size * 2).next_power_of_two().max(1024);
        Table { slots: vec![FREE; slots], mask: slots - 1 }
    }

    fn rebuild(&mut self, layer: &Layer, size: usize) {
        if size * 2 > self.slots.len() {
            *self = Table::new(size);
        } else {
            self.slots.fill(FREE);
        }
        for index in 0..layer.len() {
            let mut slot = layer.hash[index] as usize & self.mask;
            while self.slots[slot] != FREE {
                slot = (slot + 1) & self.mask;
            }
            self.slots[slot] = index as u32;
        }
    }
}

fn mixed(node: u64) -> u64 {
    let mut value = node.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    value = (value ^ (value >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    value = (value ^ (value >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    value ^ (value >> 31)
}

/// Searches for an order cheaper than `known`, keeping at most `width` states a layer, for at most `most_work`
/// transitions.
pub(super) fn search(
    instance: &Instance,
    memory: &Memory,
    known: i64,
    width: usize,
    most_work: u64,
) -> Outcome {
    let nodes = instance.nodes;
    let words = nodes.div_ceil(64);
    let scale = i64::from(memory.scale);
    // A state is of use only if its bound is at most this: a cheaper order costs at least one less.
    let limit = (known - 1) * scale;
    let mut dropped = i64::MAX;
    let mut complete = true;
    let mut finished = true;
    let mut work = 0;
    let mut history: Vec<(Vec<u32>, Vec<u32>)> = Vec::with_capacity(nodes);
    let zobrist: Vec<u64> = (0..nodes as u64).map(mixed).collect();
    let zobrist_last: Vec<u64> = (0..nodes as u64).map(|node| mixed(node + 1_000_003)).collect();
    let mut layer = Layer::new(words);
    layer.sets = vec![0; words];
    layer.sets[0] = 1;
    layer.hash.push(zobrist[0] ^ zobrist_last[0]);
    layer.last.push(0);
    layer.cost.push(0);
    layer.paid.push(0);
    layer.least.push(memory.bound());
    layer.parent.push(0);
    let mut table = Table::new(1024);
    if memory.bound() > limit {
        layer = Layer::new(words);
    }
    for place in 1..nodes {
        let mut next = Layer::new(words);
        table.rebuild(&next, 1024);
        let mut threshold = limit;
        for index in 0..layer.len() {
            if work >= most_work {
                complete = false;
                finished = false;
                dropped = dropped.min(layer.least[index]);
                continue;
            }
            let last = layer.last[index] as usize;
            let from_hash = layer.hash[index] ^ zobrist_last[last];
            for &near in &instance.nearest[last] {
                let node = near as usize;
                work += 1;
                if layer.set(index)[node / 64] >> (node % 64) & 1 == 1 {
                    continue;
                }
                let cost = layer.cost[index] + i64::from(instance.arc(last, node));
                let set = layer.set(index);
                if instance.graph.graph().predecessors(node).iter().any(|&p| set[p / 64] >> (p % 64) & 1 == 0)
                {
                    continue;
                }
                let rest = memory.rest(place, node, set);
                if rest >= FAR - 1 {
                    continue;
                }
                let paid = layer.paid[index] + i64::from(memory.price[node]);
                let least = cost * scale - paid + i64::from(rest) + memory.total;
                if least > limit {
                    continue;
                }
                if least > threshold {
                    complete = false;
                    dropped = dropped.min(least);
                    continue;
                }
                let hash = from_hash ^ zobrist[node] ^ zobrist_last[node];
                let mut slot = hash as usize & table.mask;
                let found = loop {
                    let entry = table.slots[slot];
                    if entry == FREE {
                        break None;
                    }
                    let other = entry as usize;
                    if next.hash[other] == hash && next.last[other] == near {
                        let same = next.set(other).iter().zip(set).enumerate().all(|(word, (&a, &b))| {
                            a == if word == node / 64 { b | 1 << (node % 64) } else { b }
                        });
                        if same {
                            break Some(other);
                        }
                    }
                    slot = (slot + 1) & table.mask;
                };
                match found {
                    Some(other) => {
                        if cost < next.cost[other] {
                            next.cost[other] = cost;
                            next.least[other] = least;
                            next.parent[other] = index as u32;
                        }
                    }
                    None => {
                        table.slots[slot] = next.len() as u32;
                        next.sets.extend_from_slice(set);
                        let at = next.sets.len() - words + node / 64;
                        next.sets[at] |= 1 << (node % 64);
                        next.hash.push(hash);
                        next.last.push(near);
                        next.cost.push(cost);
                        next.paid.push(paid);
                        next.least.push(least);
                        next.parent.push(index as u32);
                        if next.len() >= width * 2 {
                            threshold = shrink(&mut next, width, &mut dropped);
                            complete = false;
                            table.rebuild(&next, width * 2);
                        } else if next.len() * 2 > table.slots.len() {
                            table.rebuild(&next, next.len() * 2);
                        }
                    }
                }
            }
        }
        if next.len() > width {
            shrink(&mut next, width, &mut dropped);
            complete = false;
        }
        history.push((std::mem::take(&mut next.parent), next.last.clone()));
        next.parent = vec![0; next.last.len()];
        layer = next;
    }
    let better = (layer.len() > 0 && history.len() == nodes - 1).then(|| {
        let mut order = vec![0; nodes];
        let mut index = 0;
        for place in (1..nodes).rev() {
            let (parents, lasts) = &history[place - 1];
            order[place] = lasts[index];
            index = parents[index] as usize;
        }
        (order, layer.cost[0])
    });
    let best = better.as_ref().map_or(known, |(_, cost)| *cost);
    let bound = if dropped == i64::MAX {
        best
    } else {
        best.min(dropped.div_euclid(scale) + i64::from(dropped.rem_euclid(scale) > 0))
    };
    Outcome { better, bound, complete, finished, work }
}

/// Keeps the `width` most promising states; returns the bound above which states need not be added.
fn shrink(layer: &mut Layer, width: usize, dropped: &mut i64) -> i64 {
    let mut sorted = layer.least.clone();
    let (_, &mut threshold, _) = sorted.select_nth_unstable(width - 1);
    let mut equal = width - layer.least.iter().filter(|&&least| least < threshold).count();
    let kept: Vec<bool> = layer
        .least
        .iter()
        .map(|&least| {
            let keep = least < threshold || least == threshold && equal > 0;
            if keep && least == threshold {
                equal -= 1;
            }
            if !keep {
                *dropped = (*dropped).min(least);
            }
            keep
        })
        .collect();
    layer.retain(&kept);
    threshold
}
