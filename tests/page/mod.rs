//! From sheets to pages and to PDF.
//!
//! With `BENCHLEAF_DEMO=FOLDER` the packets that the tests lay out are written there, to be looked at.

mod breaks;
mod complaints;
pub mod demo;
mod document;
mod holes;
mod odd;
mod placing;
mod print_facts;
mod readers;
pub mod tagged;
mod together;

use benchleaf::pages::Pages;
use benchleaf::write_pdf;

/// Writes the pages where `BENCHLEAF_DEMO` says, if it does.
#[expect(
    clippy::disallowed_methods,
    reason = "pictures for people, outside the room that reads and writes files"
)]
fn show(name: &str, pages: &Pages) {
    if let Some(folder) = std::env::var_os("BENCHLEAF_DEMO") {
        let path = std::path::Path::new(&folder).join(format!("{name}.pdf"));
        std::fs::write(path, write_pdf(pages)).expect("the folder of BENCHLEAF_DEMO can be written to");
    }
}
