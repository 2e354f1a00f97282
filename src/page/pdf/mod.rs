//! Placed items to the bytes of a PDF: paints, and adds what makes it a document.
//!
//! printpdf sets the text, every word once, and writes the fonts; what it can't do (tags, nested outline, page labels,
//! links, attachments, an identity that depends on the content) is added on the object graph of lopdf; where words stand,
//! marks and shapes, and the bytes are written here, so that it is quick and the same pages give the same bytes, in one
//! process twice and in any other.

mod bytes;
mod content;
mod deflate;
mod drawing;
mod embed;
mod fields;
mod graph;
mod kids;
mod outline;
mod paint;
mod read;
mod set_words;
mod structure;
mod tokens;

pub(crate) use fields::TICKED;
pub use read::{ReadBack, read_pdf};

use super::pages::Pages;

/// The bytes of a PDF 1.7 file. The same pages give the same bytes.
///
/// ```
/// use benchleaf::model::Phase;
/// use benchleaf::{Memory, PacketOptions, PageSetup, Request, Workshop, lay_out, write_pdf};
///
/// let files = Memory::new().with(
///     "pump.rebuild",
///     "family pump \"Pump\" { origin \"invented\"  invented }\n\
///      part cover \"Cover\"\n\
///      strip cover_off \"Take the cover off\" { take cover }\n",
/// );
/// let mut workshop = Workshop::over(files);
/// let view = workshop.job(&Request::of("pump.rebuild")).value.expect("nothing is wrong with it");
/// let packet = view.packet(&workshop, &PacketOptions::of(Phase::Strip));
/// let pages = lay_out(&packet, &PageSetup::default()).value;
/// let bytes = write_pdf(&pages);
/// assert!(bytes.starts_with(b"%PDF-1.7"));
/// assert_eq!(bytes, write_pdf(&pages));
/// ```
pub fn write_pdf(pages: &Pages) -> Vec<u8> {
    let fonts = embed::fonts(pages);
    let (painted, graph) = rayon::join(|| paint::pages(pages, &fonts), || graph::around(pages, &fonts));
    bytes::write(graph.with(painted))
}
