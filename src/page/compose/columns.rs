//! Which columns of a table stand side by side, and how wide each is.

use crate::sheet::Column;

/// A column as laid out.
pub(super) struct Place {
    pub(super) index: usize,
    pub(super) x: f32,
    pub(super) width: f32,
    /// Whether its words end in line, not begin.
    pub(super) to_the_right: bool,
}

impl Place {
    /// Where something so wide begins.
    pub(super) fn begin(&self, width: f32) -> f32 {
        if self.to_the_right { self.x + self.width - width } else { self.x }
    }
}

/// Columns that stand side by side, band by band.
pub(super) fn groups(least: &[f32], width: f32, gap: f32) -> Vec<Vec<usize>> {
    let all: f32 = least.iter().sum::<f32>() + gap * (least.len() - 1) as f32;
    if all <= width || least.len() < 3 {
        return vec![(0..least.len()).collect()];
    }
    // Once to count the bands, once more with bands of about the same number of columns.
    let count = filled(least, width, gap, usize::MAX).len();
    let balanced = filled(least, width, gap, (least.len() - 1).div_ceil(count));
    if balanced.len() == count { balanced } else { filled(least, width, gap, usize::MAX) }
}

/// Fills bands from the left with at most so many columns besides the first.
fn filled(least: &[f32], width: f32, gap: f32, most: usize) -> Vec<Vec<usize>> {
    let mut groups = Vec::new();
    let mut group = vec![0];
    let mut used = least[0];
    for (index, needed) in least.iter().enumerate().skip(1) {
        if group.len() > 1 && (used + gap + needed > width || group.len() > most) {
            groups.push(std::mem::replace(&mut group, vec![0]));
            used = least[0];
        }
        used += gap + needed;
        group.push(index);
    }
    groups.push(group);
    groups
}

/// Gives each column its share of the width, but no less than its longest word needs.
pub(super) fn places(
    group: &[usize],
    least: &[f32],
    columns: &[Column],
    (x, width): (f32, f32),
    gap: f32,
) -> Vec<Place> {
    let room = width - gap * (group.len() - 1) as f32;
    let share = |index: usize| {
        let share = columns[index].share as f32;
        if share.is_finite() && share > 0.0 { share } else { 1.0 }
    };
    let needed: f32 = group.iter().map(|index| least[*index]).sum();
    let mut widths: Vec<f32> = if needed > room {
        group.iter().map(|index| least[*index] * room / needed).collect()
    } else {
        // Columns that need more than their share take what they need; the rest is shared among the others.
        let mut fixed = vec![false; group.len()];
        loop {
            let taken: f32 =
                group.iter().zip(&fixed).filter(|(_, fixed)| **fixed).map(|(index, _)| least[*index]).sum();
            let shares: f32 =
                group.iter().zip(&fixed).filter(|(_, fixed)| !**fixed).map(|(index, _)| share(*index)).sum();
            let each = |index: usize| (room - taken) * share(index) / shares;
            let tight =
                group.iter().zip(&fixed).position(|(index, fixed)| !*fixed && each(*index) < least[*index]);
            match tight {
                Some(place) => fixed[place] = true,
                None => {
                    break group
                        .iter()
                        .zip(&fixed)
                        .map(|(index, fixed)| if *fixed { least[*index] } else { each(*index) })
                        .collect();
                }
            }
        }
    };
    let mut at = x;
    group
        .iter()
        .zip(widths.drain(..))
        .map(|(index, width)| {
            let place = Place { index: *index, x: at, width, to_the_right: columns[*index].to_the_right };
            at += width + gap;
            place
        })
        .collect()
}
