//! The known name nearest to a misspelt one.

/// The candidate nearest to `wanted`, if it is near enough to be a slip: a third of its letters at most, and
/// never more than three. Ties go to the candidate that comes first in alphabetical order.
pub(crate) fn nearest<'a>(wanted: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let limit = (wanted.chars().count() / 3).clamp(1, 3);
    candidates
        .into_iter()
        .filter(|candidate| *candidate != wanted)
        .map(|candidate| (distance(wanted, candidate), candidate))
        .filter(|(distance, _)| *distance <= limit)
        .min()
        .map(|(_, candidate)| candidate)
}

/// Edits between two words: insertions, deletions, substitutions and swaps of neighbours (optimal string alignment).
fn distance(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().collect();
    let b: Vec<char> = b.chars().collect();
    let width = b.len() + 1;
    let mut table = vec![0; (a.len() + 1) * width];
    for (j, cell) in table.iter_mut().enumerate().take(width) {
        *cell = j;
    }
    for i in 1..=a.len() {
        table[i * width] = i;
        for j in 1..=b.len() {
            let substitution = table[(i - 1) * width + j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut best = substitution.min(table[(i - 1) * width + j] + 1).min(table[i * width + j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(table[(i - 2) * width + j - 2] + 1);
            }
            table[i * width + j] = best;
        }
    }
    table[a.len() * width + b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_are_found_and_other_words_are_not() {
        assert_eq!(nearest("push_rdo", ["push_rod", "rocker"]), Some("push_rod"));
        assert_eq!(nearest("hed", ["head", "bed"]), Some("bed"));
        assert_eq!(nearest("camshaft", ["crankshaft", "injector"]), None);
    }
}
