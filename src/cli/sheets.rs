//! Sheets to a file: laid out, complained of, written. It must not know what stands on them.

use std::path::Path;
use std::process::ExitCode;

use super::output;
use crate::page::{PageSetup, lay_out, located, write_pdf};
use crate::sheet::{Column, Packet};
use crate::source::Sources;

/// Writes sheets as a PDF, and says how many pages there are. What can't be set is complained of, and with an error nothing
/// is written.
///
/// # Errors
/// The exit code; the complaint was given out.
pub(super) fn write(
    sources: &Sources,
    packet: &Packet,
    setup: &PageSetup,
    path: &Path,
) -> Result<usize, ExitCode> {
    let pages = lay_out(packet, setup);
    let faulty = pages.has_errors();
    let diagnostics = located(pages.diagnostics, sources);
    output::report(sources, &diagnostics, output::Format::Text);
    if faulty {
        return Err(output::exit_code(&diagnostics));
    }
    output::write(sources, path, &write_pdf(&pages.value))?;
    Ok(pages.value.pages.len())
}

/// Columns of words: heading and share of the width.
pub(super) fn columns(columns: &[(&str, f64)]) -> Vec<Column> {
    let column = |(heading, share): &(&str, f64)| Column {
        heading: (*heading).to_owned(),
        share: *share,
        to_the_right: false,
    };
    columns.iter().map(column).collect()
}
