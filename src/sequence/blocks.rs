//! Questions about the closure answered without storing it: targets are taken 512 at a time, and one pass over the
//! reverse topological order finds which of them each node reaches. Memory O(n), time n·m/512 passes of eight words.

use super::acyclic::Acyclic;

/// Targets in one pass: eight words, one cache line a node.
const BLOCK: usize = 512;

/// Which targets of the block a node reaches.
type Row = [u64; BLOCK / 64];

const EMPTY: Row = [0; BLOCK / 64];

fn has(row: &Row, bit: usize) -> bool {
    row[bit / 64] >> (bit % 64) & 1 == 1
}

/// One pass for `targets` (at most a block of them, sorted by place), with scratch rows indexed by place. `visit`
/// sees every node from the last target's place down to `first_place`, with the targets it strictly reaches
/// through its successors' own reach (`beyond`) and in all (`reach`).
fn pass(
    graph: &Acyclic,
    targets: &[usize],
    first_place: usize,
    rows: &mut [Row],
    bit_of: &mut [u32],
    mut visit: impl FnMut(usize, &Row, &Row),
) {
    let Some(&last) = targets.last() else { return };
    for (bit, &target) in targets.iter().enumerate() {
        bit_of[target] = bit as u32;
    }
    let last_place = graph.place(last);
    for place in (first_place..=last_place).rev() {
        let node = graph.order()[place];
        let mut beyond = EMPTY;
        let mut direct = EMPTY;
        for &next in graph.graph().successors(node) {
            let next_place = graph.place(next);
            if next_place > last_place {
                continue;
            }
            for (word, other) in beyond.iter_mut().zip(&rows[next_place]) {
                *word |= other;
            }
            let bit = bit_of[next];
            if bit != u32::MAX {
                direct[bit as usize / 64] |= 1 << (bit % 64);
            }
        }
        let mut reach = beyond;
        for (word, other) in reach.iter_mut().zip(&direct) {
            *word |= other;
        }
        visit(node, &beyond, &reach);
        rows[place] = reach;
    }
    for &target in targets {
        bit_of[target] = u32::MAX;
    }
}

/// For each pair `(x, y)`, whether x comes before y in every order; false for x = y.
pub(crate) fn before_each(graph: &Acyclic, pairs: &[(usize, usize)]) -> Vec<bool> {
    let mut answers = vec![false; pairs.len()];
    // By target's place, so that a block spans as short a stretch of the order as it can.
    let mut by_target: Vec<usize> =
        (0..pairs.len()).filter(|&index| graph.place(pairs[index].0) < graph.place(pairs[index].1)).collect();
    by_target
        .sort_unstable_by_key(|&index| (graph.place(pairs[index].1), graph.place(pairs[index].0), index));
    let mut rows = vec![EMPTY; graph.nodes()];
    let mut bit_of = vec![u32::MAX; graph.nodes()];
    let mut start = 0;
    while start < by_target.len() {
        let mut targets: Vec<usize> = Vec::new();
        let mut asked: Vec<(usize, usize, usize)> = Vec::new();
        let mut end = start;
        while end < by_target.len() {
            let (x, y) = pairs[by_target[end]];
            if targets.last() != Some(&y) {
                if targets.len() == BLOCK {
                    break;
                }
                targets.push(y);
            }
            asked.push((graph.place(x), targets.len() - 1, by_target[end]));
            end += 1;
        }
        // The pass walks places downwards.
        asked.sort_unstable_by(|a, b| b.cmp(a));
        let first_place = asked.last().map_or(0, |&(place, _, _)| place);
        let mut next = 0;
        pass(graph, &targets, first_place, &mut rows, &mut bit_of, |node, _, reach| {
            while next < asked.len() && asked[next].0 >= graph.place(node) {
                answers[asked[next].2] = has(reach, asked[next].1);
                next += 1;
            }
        });
        start = end;
    }
    answers
}

/// The edges that the others already imply, ascending: without them the graph is its transitive reduction.
///
/// ```
/// use benchleaf::{Acyclic, Precedence, redundant_edges};
///
/// // 0 before 1 before 2, and 0 before 2 goes without saying; 3 is free.
/// let graph = Acyclic::new(Precedence::new(4, [(0, 1), (1, 2), (0, 2)])).expect("it holds no circle");
/// assert_eq!(redundant_edges(&graph), [(0, 2)]);
/// ```
pub fn redundant_edges(graph: &Acyclic) -> Vec<(usize, usize)> {
    let mut redundant = Vec::new();
    let mut rows = vec![EMPTY; graph.nodes()];
    let mut bit_of = vec![u32::MAX; graph.nodes()];
    let targets: Vec<usize> =
        graph.order().iter().copied().filter(|&node| graph.graph().predecessors(node).len() > 1).collect();
    for block in targets.chunks(BLOCK) {
        let sources = block.iter().flat_map(|&target| graph.graph().predecessors(target));
        let first_place = sources.map(|&source| graph.place(source)).min().unwrap_or(0);
        let mut edges: Vec<(usize, usize, usize)> = Vec::new();
        for (bit, &target) in block.iter().enumerate() {
            edges.extend(
                graph.graph().predecessors(target).iter().map(|&source| (graph.place(source), bit, source)),
            );
        }
        edges.sort_unstable_by(|a, b| b.cmp(a));
        let mut next = 0;
        pass(graph, block, first_place, &mut rows, &mut bit_of, |node, beyond, _| {
            while next < edges.len() && edges[next].2 == node {
                if has(beyond, edges[next].1) {
                    redundant.push((node, block[edges[next].1]));
                }
                next += 1;
            }
        });
    }
    redundant.sort_unstable();
    redundant
}

/// For each node, how many nodes come after it in every order.
pub(super) fn count_after(graph: &Acyclic) -> Vec<usize> {
    let mut counts = vec![0; graph.nodes()];
    let mut rows = vec![EMPTY; graph.nodes()];
    let mut bit_of = vec![u32::MAX; graph.nodes()];
    for block in graph.order().chunks(BLOCK) {
        pass(graph, block, 0, &mut rows, &mut bit_of, |node, _, reach| {
            counts[node] += reach.iter().map(|word| word.count_ones() as usize).sum::<usize>();
        });
    }
    counts
}
