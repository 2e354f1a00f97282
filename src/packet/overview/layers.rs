//! A graph to layers: each node one below the lowest of its predecessors, and within its layer near the middle of what
//! it is linked to, so that few lines cross.

/// Rounds of sorting layers by the middle of their neighbours; more change little.
const ROUNDS: usize = 8;

/// Layer and place within it of each node. Edges must point from a smaller node to a larger one or at least not close
/// a cycle; nodes of a cycle are put in one layer.
pub(super) fn places(nodes: usize, edges: &[(usize, usize)]) -> Vec<(usize, usize)> {
    let layer = layers(nodes, edges);
    let mut rows = rows(&layer);
    sort_rows(&mut rows, nodes, edges);
    let mut places = vec![(0, 0); nodes];
    for (depth, row) in rows.iter().enumerate() {
        for (place, node) in row.iter().enumerate() {
            places[*node] = (depth, place);
        }
    }
    places
}

/// The layer of each node: the longest chain of edges that leads to it.
pub(super) fn layers(nodes: usize, edges: &[(usize, usize)]) -> Vec<usize> {
    let mut layer = vec![0; nodes];
    // A chain is at most `nodes` long, so this ends even if the edges close a cycle.
    for _ in 0..nodes {
        let mut changed = false;
        for (from, to) in edges {
            if layer[*to] < layer[*from] + 1 && layer[*from] + 1 < nodes.max(1) {
                layer[*to] = layer[*from] + 1;
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    layer
}

pub(super) fn rows(layer: &[usize]) -> Vec<Vec<usize>> {
    let depth = layer.iter().max().map_or(0, |deepest| deepest + 1);
    let mut rows = vec![Vec::new(); depth];
    for (node, layer) in layer.iter().enumerate() {
        rows[*layer].push(node);
    }
    rows
}

/// Sorts each row by the mean place of the neighbours in the rows before it, then after it, in turn.
pub(super) fn sort_rows(rows: &mut [Vec<usize>], nodes: usize, edges: &[(usize, usize)]) {
    let mut neighbours = vec![Vec::new(); nodes];
    for (from, to) in edges {
        neighbours[*from].push(*to);
        neighbours[*to].push(*from);
    }
    let mut depth = vec![0; nodes];
    for (row, members) in rows.iter().enumerate() {
        for node in members {
            depth[*node] = row;
        }
    }
    let mut at = vec![0.0; nodes];
    let note = |rows: &[Vec<usize>], at: &mut [f64]| {
        for row in rows {
            for (place, node) in row.iter().enumerate() {
                at[*node] = (place as f64 + 0.5) / row.len() as f64;
            }
        }
    };
    note(rows, &mut at);
    for round in 0..ROUNDS {
        let downwards = round % 2 == 0;
        for step in 0..rows.len() {
            let row = if downwards { step } else { rows.len() - 1 - step };
            let middle = |node: usize| {
                let side: Vec<f64> = neighbours[node]
                    .iter()
                    .filter(|other| if downwards { depth[**other] < row } else { depth[**other] > row })
                    .map(|other| at[*other])
                    .collect();
                if side.is_empty() { at[node] } else { side.iter().sum::<f64>() / side.len() as f64 }
            };
            let mut keyed: Vec<(f64, usize)> = rows[row].iter().map(|node| (middle(*node), *node)).collect();
            keyed.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            rows[row] = keyed.into_iter().map(|(_, node)| node).collect();
            for (place, node) in rows[row].iter().enumerate() {
                at[*node] = (place as f64 + 0.5) / rows[row].len() as f64;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_edge_points_down() {
        let edges = [(0, 1), (0, 2), (1, 3), (2, 3), (0, 3), (4, 2)];
        let places = places(5, &edges);
        for (from, to) in edges {
            assert!(places[from].0 < places[to].0);
        }
    }

    #[test]
    fn parallel_chains_do_not_cross() {
        let edges = [(0, 3), (1, 2)];
        let places = places(4, &edges);
        assert_eq!(places[0].1 < places[1].1, places[3].1 < places[2].1);
    }
}
