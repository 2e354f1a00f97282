//! Numbers to the most of them that rise: what is not among them has moved.

use std::collections::BTreeSet;

/// The values of a longest rising subsequence, the earliest where there are several.
pub(crate) fn longest_rise(values: &[usize]) -> BTreeSet<usize> {
    // tails[k]: index of the smallest value that ends a rise of length k + 1.
    let mut tails: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = vec![None; values.len()];
    for (at, value) in values.iter().enumerate() {
        let length = tails.partition_point(|tail| values[*tail] < *value);
        before[at] = length.checked_sub(1).map(|length| tails[length]);
        if length == tails.len() {
            tails.push(at);
        } else {
            tails[length] = at;
        }
    }
    let mut kept = BTreeSet::new();
    let mut at = tails.last().copied();
    while let Some(index) = at {
        kept.insert(values[index]);
        at = before[index];
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_longest_rise_leaves_the_fewest_moved() {
        assert_eq!(longest_rise(&[0, 3, 1, 2, 4]), BTreeSet::from([0, 1, 2, 4]));
        assert_eq!(longest_rise(&[2, 0, 1]), BTreeSet::from([0, 1]));
        assert!(longest_rise(&[]).is_empty());
    }
}
