//! Placed items to the bytes of a PDF: paints, and adds what makes it a document.
//!
//! printpdf sets the text, every word once, and writes the fonts; what it can't do (tags, nested outline, page labels,
//! links, attachments, an identity that depends on the content) is added on the object graph of lopdf; where words stand,
//! marks and shapes, and the bytes are written here, so that it is quick and the same pages give the same bytes, in one
//! process twice and in any other.

mod bytes;
mod content;
mod deflate;
mod embed;
mod graph;
mod outline;
mod paint;
mod set_words;
mod structure;
mod tokens;

use super::pages::Pages;

/// The bytes of a PDF 1.7 file. The same pages give the same bytes.
pub fn write_pdf(pages: &Pages) -> Vec<u8> {
    let fonts = embed::fonts(pages);
    let (painted, graph) = rayon::join(|| paint::pages(pages, &fonts), || graph::around(pages, &fonts));
    bytes::write(graph.with(painted))
}
