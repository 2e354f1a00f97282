//! benchleaf turns rebuild procedures into printed work packets for the bench.
//!
//! # The way through
//! Texts are held by [`Sources`], which reads them from the disk or from memory. [`parse`] turns a text into a
//! [`tree::Tree`], and [`load`] the trees of a file and of what it brings in into a [`model::Procedure`]. [`connect`]
//! derives from it which act must come before which, and the way back, and proves it for all answers: a [`Network`].
//! Beside that, [`read_record`] and [`bind_record`] turn the YAML of a job into a [`Job`], and [`decide()`] that, with
//! the procedure and the [`Structure`] that the network keeps, into [`Decisions`]. [`plan()`] chooses the order and says what is left and held, a [`Plan`]; [`packet()`] writes it up as a
//! [`sheet::Packet`] of words, tables and figures; [`lay_out`] places these on [`pages::Pages`], and [`write_pdf`] paints
//! them.
//!
//! Each stage returns its value with everything that it has to say, an [`Outcome`]. Nobody has to put the stages
//! together: [`Workshop`] does, for the program and for whoever uses the library.
//!
//! The rooms below are private and stand in order of dependency: each may use only those above it.
//! `tests/layering.rs` holds the same table as data and fails on any use that goes the other way.

mod source;
mod english;
mod quantity;
mod diagnostics;
mod mechanics;
mod metrology;
mod language;
mod procedure;
mod structure;
mod sequence;
mod network;
mod record;
mod decide;
mod plan;
pub mod sheet;
mod packet;
mod page;
mod gather;
mod screen;
mod workshop;
mod editor;
mod cli;

#[cfg(test)]
extern crate self as benchleaf;
#[cfg(test)]
#[path = "../tests/rooms.rs"]
mod tests;

// The way through.
pub use cli::run;
pub use workshop::{Checked, Decided, JobView, Named, Request, Workshop, together, touched};
// What it reads from and what it says.
pub use diagnostics::{
    Diagnostic, Look, Outcome, Severity, codes, render_json, render_lines, render_terminal,
};
pub use source::{Disk, FileId, Files, Identity, Memory, Sources, write_atomically};
// The stages, each by itself, and what they hand on.
pub use decide::{Decisions, decide};
pub use language::{parse, tidied, tree};
pub use network::{Network, StepSource, connect};
pub use packet::{Material, Only, PacketOptions, packet, sheet_kinds};
pub use page::{Face, PageSetup, Paper, ReadBack, lay_out, located, pages, points, read_pdf, write_pdf};
pub use plan::{Beforehand, Choosing, Plan, PlanOptions, Standing, crew, plan, plan_to, step_of};
pub use procedure::{load, model, resolve};
pub use record::{Crib, Job, Prices, bind as bind_record, read as read_record, read_crib, read_prices};
pub use structure::Structure;
// Orders of plain numbers, for whoever has another problem of the kind.
pub use sequence::{
    Acyclic, Before, Cycle, Precedence, Window, feedback_edges, fixed_nodes, redundant_edges, schedule,
    search, windows,
};
