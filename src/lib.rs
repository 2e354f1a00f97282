//! benchleaf turns rebuild procedures into printed work packets for the bench.
//!
//! # The way through
//! Texts are held by [`source::Sources`], which reads them from the disk or from memory. [`language::parse`] turns a
//! text into a [`language::tree::Tree`], and [`procedure::load`] the trees of a file and of what it brings in into a
//! [`procedure::model::Procedure`]. [`network::connect`] derives from it which act must come before which, and the way
//! back, and proves it for all answers: a [`network::Network`]. Beside that, [`record::read`] and [`record::bind`] turn
//! the YAML of a job into a [`record::Job`], and [`decide::decide`] both into [`decide::Decisions`].
//! [`plan::plan`] chooses the order and says what is left and held, a [`plan::Plan`];
//! [`packet::packet`] writes it up as a [`sheet::Packet`] of words, tables and figures; [`page::lay_out`] places these
//! on [`page::Pages`], and [`page::write_pdf`] paints them.
//!
//! Each stage returns its value with everything that it has to say, a [`diagnostics::Outcome`]. Nobody has to put the
//! stages together: [`workshop::Workshop`] does, for the program and for whoever uses the library.
//!
//! The rooms below stand in order of dependency: each may use only those above it.
//! `tests/layering.rs` holds the same table as data and fails on any use that goes the other way.

pub mod source;
pub mod quantity;
pub mod diagnostics;
pub mod mechanics;
pub mod metrology;
pub mod language;
pub mod procedure;
pub mod sequence;
pub mod network;
pub mod record;
pub mod decide;
pub mod plan;
pub mod sheet;
pub mod packet;
pub mod page;
pub mod workshop;
pub mod cli;
