//! Sheets of blocks in, placed items out, and from those the bytes of a PDF.
//!
//! [`lay_out`] measures, breaks lines and pages and draws figures; its result, [`Pages`], is a plain list of
//! text runs and shapes with their meaning beside them. [`write_pdf`] only paints that list. Nothing here knows
//! what a torque or a hazard is beyond how it is set.
//!
//! Lengths in this room are PostScript points (1/72 inch) as `f32`, measured from the left and from the *top*
//! of whatever they stand in; only the PDF writer turns the page over. They are lengths on paper and never
//! meet the quantities of an engine, which is why they carry no dimension.

mod compose;
mod draw;
mod errors;
mod flow;
mod fonts;
mod furniture;
pub mod pages;
mod picture;
mod pieces;
mod pdf;
mod places;
mod setup;
mod words;

pub use compose::lay_out;
pub use fonts::Face;
pub(crate) use pdf::TICKED;
pub use pdf::{ReadBack, read_pdf, write_pdf};
pub(crate) use picture::{Picture, alert_sign, pictures, protective_sign};
pub use places::located;
pub(crate) use places::unsettable;
pub use setup::{PageSetup, Paper, points};
