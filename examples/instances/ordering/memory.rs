//! The walk's bound with a memory: each node remembers, of a few nodes around it, which are done.
//!
//! A walk by place may go in circles. Here a state is (place, node, which of the node's *neighbours* are known to
//! be done), so no circle through nodes that remember each other is left, nor a step to a node that must have come
//! before one remembered (the ng-path relaxation of Baldacci, Mingozzi and Roberti 2011, its neighbourhoods grown
//! where the cheapest walk errs, as Roberti and Mingozzi 2014). Prices as in `walk`. The table answers in one
//! look-up what completing a real state costs at least.

use super::ascent::{Ascent, Relaxation, Step};
use super::instance::{Instance, NEVER};
use super::walk::{FAR, Walk};

const NONE: u16 = u16::MAX;
/// Strides of the climb: the first, one so short that it begins again, and where it does.
const STRIDE: f64 = 0.5;
const SHORTEST: f64 = 0.005;
const STRIDE_AGAIN: f64 = 0.2;
/// Steps of the climb between two looks at what the walk gets wrong, and how much a node may remember at first.
const GROWS_EVERY: usize = 8;
const FIRST_NEAR: usize = 3;

/// Least costs to go, by place, node and what is known to be done.
pub(super) struct Memory {
    pub(super) nodes: usize,
    pub(super) scale: i32,
    pub(super) price: Vec<i32>,
    pub(super) total: i64,
    /// Usable arcs of each node, cheapest first: head and scaled cost without price.
    arcs: Vec<Vec<(u32, i32)>>,
    /// The nodes that each node remembers.
    pub(super) near: Vec<Vec<u32>>,
    /// For each node, from the bits of what is done among `near` to a state number; `NONE` for impossible ones.
    number: Vec<Vec<u16>>,
    /// For each node, the bits of each state.
    masks: Vec<Vec<u16>>,
    /// For each node and arc, the state at the head for each state at the tail; `NONE` if the arc can't be taken.
    heads: Vec<Vec<u16>>,
    /// Where each node's states begin in a place's row; the row ends with one `FAR`.
    start: Vec<usize>,
    row: usize,
    to_go: Vec<i32>,
    places: Vec<(usize, usize)>,
    pub(super) work: u64,
}

impl Memory {
    /// Starts from the plain walk: nothing remembered.
    pub(super) fn new(instance: &Instance, walk: &Walk, most: i64) -> Memory {
        let nodes = instance.nodes;
        let arcs = (0..nodes)
            .map(|x| {
                let usable = instance.nearest[x].iter().filter(|&&y| instance.arc(x, y as usize) < NEVER);
                usable
                    .map(|&y| {
                        (
                            y,
                            (i64::from(instance.arc(x, y as usize)).min(most + 1) * i64::from(walk.scale))
                                as i32,
                        )
                    })
                    .collect()
            })
            .collect();
        let places =
            (0..nodes).map(|n| (instance.windows[n].earliest - 1, instance.windows[n].latest)).collect();
        let mut memory = Memory {
            nodes,
            scale: walk.scale,
            price: walk.price.clone(),
            total: walk.total,
            arcs,
            near: vec![Vec::new(); nodes],
            number: Vec::new(),
            masks: Vec::new(),
            heads: Vec::new(),
            start: Vec::new(),
            row: 0,
            to_go: Vec::new(),
            places,
            work: 0,
        };
        memory.lay_out(instance);
        memory.fill();
        memory
    }

    /// Numbers the states and links them, after `near` has changed.
    fn lay_out(&mut self, instance: &Instance) {
        let nodes = self.nodes;
        let before = &instance.before;
        let words = nodes.div_ceil(64);
        let mut ancestors = vec![0_u64; nodes * words];
        for x in 0..nodes {
            for y in before.after(x) {
                ancestors[y * words + x / 64] |= 1 << (x % 64);
            }
        }
        self.number.clear();
        self.masks.clear();
        self.start.clear();
        self.row = 0;
        for x in 0..nodes {
            let near = &self.near[x];
            let mut number = vec![NONE; 1 << near.len()];
            let mut masks = Vec::new();
            let needs: Vec<usize> = near
                .iter()
                .map(|&y| {
                    (0..near.len())
                        .filter(|&bit| before.before(near[bit] as usize, y as usize))
                        .map(|bit| 1 << bit)
                        .sum()
                })
                .collect();
            for (bits, state) in number.iter_mut().enumerate() {
                if (0..near.len()).all(|bit| bits >> bit & 1 == 0 || needs[bit] & !bits == 0) {
                    *state = masks.len() as u16;
                    masks.push(bits as u16);
                }
            }
            self.start.push(self.row);
            self.row += masks.len();
            self.number.push(number);
            self.masks.push(masks);
        }
        self.heads.clear();
        let mut known = vec![0_u64; words];
        for x in 0..nodes {
            let mut heads = vec![NONE; self.arcs[x].len() * self.masks[x].len()];
            for (state, &bits) in self.masks[x].iter().enumerate() {
                known.copy_from_slice(&ancestors[x * words..(x + 1) * words]);
                known[x / 64] |= 1 << (x % 64);
                for (bit, &y) in self.near[x].iter().enumerate() {
                    if bits >> bit & 1 == 1 {
                        let y = y as usize;
                        known[y / 64] |= 1 << (y % 64);
                        for word in 0..words {
                            known[word] |= ancestors[y * words + word];
                        }
                    }
                }
                for (index, &(y, _)) in self.arcs[x].iter().enumerate() {
                    let y = y as usize;
                    if known[y / 64] >> (y % 64) & 1 == 1 {
                        continue;
                    }
                    let mut head = 0_usize;
                    for (bit, &z) in self.near[y].iter().enumerate() {
                        let z = z as usize;
                        let done = known[z / 64] >> (z % 64) & 1 == 1 || before.before(z, y);
                        head |= usize::from(done) << bit;
                    }
                    heads[index * self.masks[x].len() + state] = self.number[y][head];
                }
            }
            self.work += heads.len() as u64;
            self.heads.push(heads);
        }
        self.to_go = vec![FAR; nodes * self.row];
    }

    /// Fills the table under the present prices.
    fn fill(&mut self) {
        let nodes = self.nodes;
        let row = self.row;
        let last = (nodes - 1) * row + self.start[nodes - 1];
        self.to_go[last] = 0;
        for place in (0..nodes - 1).rev() {
            let (here, next) = self.to_go[place * row..(place + 2) * row].split_at_mut(row);
            for x in 0..nodes {
                let (first, end) = self.places[x];
                if place < first || place >= end {
                    continue;
                }
                let states = self.masks[x].len();
                let here = &mut here[self.start[x]..self.start[x] + states];
                here.fill(FAR - 1);
                for (index, &(y, cost)) in self.arcs[x].iter().enumerate() {
                    let y = y as usize;
                    if place + 1 < self.places[y].0 || place + 1 >= self.places[y].1 {
                        continue;
                    }
                    let cost = cost - self.price[y];
                    let next = &next[self.start[y]..self.start[y] + self.masks[y].len()];
                    let heads = &self.heads[x][index * states..(index + 1) * states];
                    for (least, &head) in here.iter_mut().zip(heads) {
                        if let Some(&rest) = next.get(head as usize) {
                            *least = (*least).min(cost + rest);
                        }
                    }
                    self.work += states as u64;
                }
            }
        }
    }

    pub(super) fn bound(&self) -> i64 {
        i64::from(self.to_go[self.start[0]]) + self.total
    }

    /// The least cost to go, scaled and less the prices still to be paid back, from `node` at `place` if the nodes
    /// of `set` are done.
    pub(super) fn rest(&self, place: usize, node: usize, set: &[u64]) -> i32 {
        let mut bits = 0;
        for (bit, &other) in self.near[node].iter().enumerate() {
            bits |= ((set[other as usize / 64] >> (other % 64) & 1) as usize) << bit;
        }
        let state = self.number[node][bits];
        if state == NONE { FAR } else { self.to_go[place * self.row + self.start[node] + state as usize] }
    }

    /// The cheapest walk.
    fn cheapest(&self) -> Vec<usize> {
        let (mut node, mut state) = (0, 0);
        let mut walk = vec![0];
        for place in 1..self.nodes {
            let states = self.masks[node].len();
            let mut best = (FAR, node, state);
            for (index, &(y, cost)) in self.arcs[node].iter().enumerate() {
                let y = y as usize;
                let head = self.heads[node][index * states + state];
                if head == NONE {
                    continue;
                }
                let through =
                    cost - self.price[y] + self.to_go[place * self.row + self.start[y] + head as usize];
                if through < best.0 {
                    best = (through, y, head as usize);
                }
            }
            (node, state) = (best.1, best.2);
            walk.push(node);
        }
        walk
    }

    fn set_prices(&mut self, wanted: &[f64]) {
        let limit = f64::from(1 << 27);
        self.price = wanted.iter().map(|&price| price.clamp(-limit, limit) as i32).collect();
        self.total = self.price.iter().map(|&price| i64::from(price)).sum();
    }

    /// Lets nodes remember what the cheapest walk got wrong; `most` nodes each. Returns whether anything changed.
    pub(super) fn grow(&mut self, instance: &Instance, walk: &[usize], most: usize) -> bool {
        let before = &instance.before;
        let mut changed = false;
        for (at, &node) in walk.iter().enumerate() {
            let wrong = |earlier: usize| walk[earlier] == node || before.before(node, walk[earlier]);
            let Some(earlier) = (0..at).rev().find(|&earlier| wrong(earlier)) else { continue };
            let between = &walk[earlier + 1..at];
            let knows =
                |x: usize| before.related(x, node) || x == node || self.near[x].contains(&(node as u32));
            if between.iter().any(|&x| !knows(x) && self.near[x].len() >= most) {
                continue;
            }
            for &x in between {
                if !before.related(x, node) && x != node && !self.near[x].contains(&(node as u32)) {
                    self.near[x].push(node as u32);
                    changed = true;
                }
            }
        }
        changed
    }

    /// Improves prices and memory until `work` is spent or the bound reaches `most`.
    pub(super) fn improve(&mut self, instance: &Instance, most: i64, most_near: usize, work: u64) {
        let target = (most * i64::from(self.scale)) as f64;
        let until = self.work + work;
        let mut ascent = Ascent::new(&self.price, self.bound(), STRIDE);
        let mut since_growth = 0;
        let mut allowed = FIRST_NEAR.min(most_near);
        while self.work < until {
            let walk = self.cheapest();
            since_growth += 1;
            if since_growth >= GROWS_EVERY {
                since_growth = 0;
                if self.grow(instance, &walk, allowed) {
                    self.lay_out(instance);
                    self.fill();
                    ascent.keep_if_best(self.bound());
                    continue;
                } else if allowed < most_near {
                    allowed += 1;
                    continue;
                }
            }
            let mut visits = vec![0; self.nodes];
            for &node in &walk {
                visits[node] += 1;
            }
            match ascent.step(self, &visits, target) {
                Step::Over => break,
                Step::Back if ascent.stride < SHORTEST => ascent.stride = STRIDE_AGAIN,
                Step::On | Step::Back => {}
            }
        }
        self.reprice(&ascent.best_price);
    }
}

impl Relaxation for Memory {
    fn reprice(&mut self, wanted: &[f64]) {
        self.set_prices(wanted);
        self.fill();
    }

    fn bound(&self) -> i64 {
        Memory::bound(self)
    }
}
