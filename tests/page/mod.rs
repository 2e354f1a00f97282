//! From sheets to pages and to PDF.
//!
//! With `BENCHLEAF_DEMO=FOLDER` the packets that the tests lay out are written there, to be looked at.

mod demo;
mod document;
mod odd;
mod placing;

use benchleaf::page::{Pages, write_pdf};

/// Writes the pages where `BENCHLEAF_DEMO` says, if it does.
fn show(name: &str, pages: &Pages) {
    if let Some(folder) = std::env::var_os("BENCHLEAF_DEMO") {
        let path = std::path::Path::new(&folder).join(format!("{name}.pdf"));
        std::fs::write(path, write_pdf(pages)).expect("the folder of BENCHLEAF_DEMO can be written to");
    }
}
