//! Sheets to a file: laid out, complained of, written. It must not know what stands on them.

use std::path::Path;
use std::process::ExitCode;

use super::output;
use crate::page::{PageSetup, lay_out, located, write_pdf};
use crate::screen::write_html;
use crate::sheet::{Column, Packet};
use crate::source::Sources;

/// Endings of a file of sheets: paper first, then what is for a screen.
const ENDINGS: [&str; 3] = ["pdf", "html", "htm"];

/// Whether a file is one for a screen, by its ending; any other is paper.
pub(super) fn is_for_a_screen(path: &Path) -> bool {
    output::ends_in(path, &ENDINGS[1..])
}

/// Writes sheets, as a PDF or for a screen, and says how many pages they are on paper. What can't be set on paper is complained
/// of, and with an error nothing is written.
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
    let bytes = if is_for_a_screen(path) { write_html(packet).into_bytes() } else { write_pdf(&pages.value) };
    output::write_as(sources, path, &bytes, &ENDINGS)?;
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
