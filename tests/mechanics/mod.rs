//! Published values against `mechanics`: tables of input, expected value, tolerance, source, and how the source
//! was seen. Nothing here claims conformity with a standard: none was opened itself.

mod bench;
mod firing;
mod fits_heat_lifting;
mod joint;
mod pattern;
mod strength;
mod torque;
mod wrench;

/// How a table's figures are known.
#[derive(Debug, Clone, Copy)]
pub enum Known {
    /// They stood in a text that was read, or in a copy of the standard's table.
    Read,
    /// They are recalled.
    FromMemory,
    /// They follow from other figures.
    Derived,
}

/// Where a table comes from.
pub struct Source {
    pub document: &'static str,
    pub known: Known,
}

/// One value of a table against ours.
pub struct Row {
    pub input: String,
    pub expected: f64,
    pub computed: f64,
}

/// Fails with every row that is off by more than `tolerance`, a share of the expected value, and names the source.
pub fn compare(source: &Source, tolerance: f64, rows: impl IntoIterator<Item = Row>) {
    let mut count = 0;
    let mut off = Vec::new();
    for row in rows {
        count += 1;
        let shift = row.computed / row.expected - 1.0;
        if !(shift.abs() <= tolerance) {
            off.push(format!(
                "{}: expected {}, computed {:.6} ({:+.3} %)",
                row.input,
                row.expected,
                row.computed,
                100.0 * shift
            ));
        }
    }
    assert!(count > 0, "a table without rows");
    assert!(off.is_empty(), "{} ({:?}):\n{}", source.document, source.known, off.join("\n"));
}
