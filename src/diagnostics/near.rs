//! The known name nearest to a misspelt one.

/// The candidate nearest to `wanted`, if it is near enough to be a slip: a third of its letters at most, and
/// never more than three. Ties go to the candidate that comes first in alphabetical order.
pub(crate) fn nearest<'a>(wanted: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let mut limit = (wanted.chars().count() / 3).clamp(1, 3);
    let mut table = Table { wanted: wanted.chars().collect(), letters: Vec::new(), rows: Default::default() };
    let mut found: Option<(usize, &str)> = None;
    for candidate in candidates.into_iter().filter(|candidate| *candidate != wanted) {
        let Some(edits) = table.distance(wanted, candidate, limit) else { continue };
        if found.is_none_or(|found| (edits, candidate) < found) {
            found = Some((edits, candidate));
            limit = edits;
        }
    }
    found.map(|(_, candidate)| candidate)
}

/// The name nearest to `wanted` that may be a slip of it, word by word. One that differs in its number, in a letter that stands
/// alone, or in a whole word is another thing, however few its letters are: `socket_24` is no `socket_14`, and `bush_drift` no
/// `brass_drift`.
pub(crate) fn nearest_name<'a>(
    wanted: &str,
    candidates: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let numbers: Vec<&str> = numbers(wanted).collect();
    let same = |name: &&str| self::numbers(name).eq(numbers.iter().copied());
    nearest(wanted, candidates.into_iter().filter(same).filter(|name| may_be_meant(wanted, name)))
}

/// The runs of digits in a name.
fn numbers(name: &str) -> impl Iterator<Item = &str> {
    name.split(|letter: char| !letter.is_ascii_digit()).filter(|digits| !digits.is_empty())
}

/// Whether each word of one name may be a slip of that of the other, or the same letters are only parted otherwise.
fn may_be_meant(wanted: &str, name: &str) -> bool {
    let (words, others): (Vec<&str>, Vec<&str>) = (wanted.split('_').collect(), name.split('_').collect());
    if words.len() != others.len() {
        let (one, other) = (words.concat(), others.concat());
        let (short, long) = if words.len() < others.len() { (words, others) } else { (others, words) };
        return (one == other || nearest(&one, [other.as_str()]).is_some())
            && !short.iter().all(|word| long.contains(word));
    }
    let slip = |(word, other): (&&str, &&str)| {
        word == other || (word.len().min(other.len()) > 2 && nearest(word, [*other]).is_some())
    };
    words.iter().zip(&others).all(slip)
}

/// What words are compared with, and room for it: many are compared with one.
struct Table {
    wanted: Vec<char>,
    letters: Vec<char>,
    rows: Rows,
}

/// The row at hand, and the two before it.
type Rows = [Vec<usize>; 3];

impl Table {
    /// Edits between the wanted word and another: insertions, deletions, substitutions and swaps of neighbours (optimal string
    /// alignment); none where there are more than `limit`.
    fn distance(&mut self, wanted: &str, other: &str, limit: usize) -> Option<usize> {
        if wanted.is_ascii() && other.is_ascii() {
            return edits(&mut self.rows, wanted.as_bytes(), other.as_bytes(), limit);
        }
        self.letters.clear();
        self.letters.extend(other.chars());
        edits(&mut self.rows, &self.wanted, &self.letters, limit)
    }
}

fn edits<T: Eq>(rows: &mut Rows, a: &[T], b: &[T], limit: usize) -> Option<usize> {
    if a.len().abs_diff(b.len()) > limit {
        return None;
    }
    // No edit is needed in what two words begin and end with.
    let start = a.iter().zip(b).take_while(|(a, b)| a == b).count();
    let (a, b) = (&a[start..], &b[start..]);
    let end = a.iter().rev().zip(b.iter().rev()).take_while(|(a, b)| a == b).count();
    let (a, b) = (&a[..a.len() - end], &b[..b.len() - end]);
    let [row, last, before] = rows;
    row.clear();
    row.extend(0..=b.len());
    for i in 1..=a.len() {
        std::mem::swap(last, before);
        std::mem::swap(row, last);
        row.clear();
        row.push(i);
        for j in 1..=b.len() {
            let substitution = last[j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut best = substitution.min(last[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(before[j - 2] + 1);
            }
            row.push(best);
        }
        // Neither a step down nor a swap leads back below.
        if row.iter().chain(last.iter()).all(|edits| *edits > limit) {
            return None;
        }
    }
    row.last().copied().filter(|edits| *edits <= limit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_are_found_and_other_words_are_not() {
        assert_eq!(nearest("push_rdo", ["push_rod", "rocker"]), Some("push_rod"));
        assert_eq!(nearest("hed", ["head", "bed"]), Some("bed"));
        assert_eq!(nearest("camshaft", ["crankshaft", "injector"]), None);
        assert_eq!(nearest("undo249", ["undo2491", "undo24", "undo294", "undo1"]), Some("undo24"));
        assert_eq!(nearest("kühler", ["kuhler", "kühlre", "kühl"]), Some("kuhler"));
        assert_eq!(nearest("abba", ["abab", "aba"]), Some("aba"));
    }

    #[test]
    fn another_number_or_another_word_is_another_thing() {
        for (wanted, known) in [
            ("socket_24", "socket_14"),
            ("socket_30", "socket_10"),
            ("bush_drift", "brass_drift"),
            ("bolt_a", "bolt_b"),
            ("cover_lh", "cover_rh"),
            ("inlet_valve", "outlet_valve"),
            ("cover", "cover_2"),
            ("o_ring", "ring"),
            ("sump_bolts", "pump_bolts_m8"),
        ] {
            assert_eq!(nearest_name(wanted, [known]), None, "{wanted}");
            assert_eq!(nearest_name(known, [wanted]), None, "{known}");
        }
        for (wanted, known) in [
            ("cover_nust", "cover_nuts"),
            ("socekt_24", "socket_24"),
            ("coverbolts", "cover_bolts"),
            ("covr_bolt", "cover_bolts"),
            ("piston_rng_2", "piston_ring_2"),
            ("screw", "screws"),
        ] {
            assert_eq!(nearest_name(wanted, ["another", known]), Some(known), "{wanted}");
        }
    }
}
