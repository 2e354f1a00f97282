//! The assignment relaxation: every node but the last gets one follower, every node but the first one forerunner,
//! circles allowed. Its dual prices start the walk's.
//!
//! Shortest augmenting paths after Jonker and Volgenant (1987), O(n³).

use super::instance::Instance;

/// Dual prices: `leave[x] + enter[y]` is at most the cost of each usable arc, and their sum is the bound.
pub(super) struct Prices {
    pub(super) leave: Vec<i64>,
    pub(super) enter: Vec<i64>,
}

/// Solves the relaxation; costs above `most` count as `most`, which keeps the prices small.
pub(super) fn assign(instance: &Instance, most: i64) -> Prices {
    const FAR: i64 = i64::MAX / 4;
    let nodes = instance.nodes;
    // Row x is the leaving node x (the last leaves to the first at no cost), column y the entered node y.
    let arc = |x: usize, y: usize| -> i64 {
        if x == nodes - 1 { if y == 0 { 0 } else { most } } else { i64::from(instance.arc(x, y)).min(most) }
    };
    let mut leave = vec![0_i64; nodes];
    let mut enter = vec![0_i64; nodes];
    let mut row_of = vec![usize::MAX; nodes];
    for start in 0..nodes {
        let mut distance = vec![FAR; nodes];
        let mut from = vec![usize::MAX; nodes];
        let mut done = vec![false; nodes];
        let mut row = start;
        let mut column_in = usize::MAX;
        let mut base = 0;
        let end = loop {
            let mut nearest = FAR;
            let mut column = usize::MAX;
            for y in 0..nodes {
                if done[y] {
                    continue;
                }
                let through = base + arc(row, y) - leave[row] - enter[y];
                if through < distance[y] {
                    distance[y] = through;
                    from[y] = column_in;
                }
                if distance[y] < nearest {
                    nearest = distance[y];
                    column = y;
                }
            }
            done[column] = true;
            base = nearest;
            if row_of[column] == usize::MAX {
                break column;
            }
            row = row_of[column];
            column_in = column;
        };
        leave[start] += base;
        for y in 0..nodes {
            if done[y] && y != end {
                leave[row_of[y]] += base - distance[y];
                enter[y] -= base - distance[y];
            }
        }
        let mut column = end;
        loop {
            let before = from[column];
            if before == usize::MAX {
                row_of[column] = start;
                break;
            }
            row_of[column] = row_of[before];
            column = before;
        }
    }
    Prices { leave, enter }
}
