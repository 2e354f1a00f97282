//! The way through, for whoever uses the stages: files to checked procedures, records to decisions, a job to its plan
//! and packet. Every command, test and bench goes through here, so that nobody puts the stages together another way.
//!
//! A [`Workshop`] holds the texts that it reads, from the disk or from memory. [`Workshop::check`] says everything
//! there is to say about a procedure; [`Workshop::decide`] does what hangs on the record alone; [`Workshop::job`] goes
//! on to a [`JobView`], which makes packets. It must not know command lines, nor paper.
//!
//! ```
//! use benchleaf::model::Phase;
//! use benchleaf::{Memory, PacketOptions, PageSetup, Request, Workshop, lay_out, write_pdf};
//!
//! let files = Memory::new().with(
//!     "pump.rebuild",
//!     "family pump \"Pump\" { origin \"invented\" }\n\
//!      part cover \"Cover\"\n\
//!      strip cover_off \"Take the cover off\" { take cover }\n",
//! );
//! let mut workshop = Workshop::over(files);
//! let opened = workshop.job(&Request::of("pump.rebuild"));
//! let view = opened.value.expect("nothing is wrong with it");
//! let packet = view.packet(&workshop, &PacketOptions::of(Phase::Strip));
//! let pages = lay_out(&packet, &PageSetup::default());
//! assert!(write_pdf(&pages.value).starts_with(b"%PDF-"));
//! ```

mod again;
mod check;
mod errors;
mod extra;
mod job;
mod record;
mod touched;

pub use check::{Checked, together};
pub use job::{JobView, Request};
pub(crate) use record::is_record;
pub use record::{Decided, Named};
pub use touched::touched;

pub(crate) use again::Memory;
use again::Proofs;

use crate::procedure::BroughtIn;
use crate::record::Declarations;
use crate::source::{FileId, Files, Sources};

/// The texts of a run, and everything that is made of them.
#[derive(Debug, Clone, Default)]
pub struct Workshop {
    sources: Sources,
    /// Files that procedures share.
    brought_in: BroughtIn,
    /// What records declare of their own, by the text that it stands in.
    declared: Vec<(FileId, Declarations)>,
    /// Records, and files with what they change in their procedure.
    of_jobs: Vec<FileId>,
    /// What was proved of nearly the same procedures before.
    proofs: Proofs,
    /// How often what was proved was said again.
    #[cfg(test)]
    said_again: usize,
}

impl Workshop {
    /// Reads from the disk.
    pub fn new() -> Self {
        Workshop::default()
    }

    /// Reads from elsewhere.
    pub fn over(files: impl Files + 'static) -> Self {
        Workshop { sources: Sources::over(files), ..Workshop::default() }
    }

    /// Every text that was read, for whoever shows a complaint beside its line.
    pub fn sources(&self) -> &Sources {
        &self.sources
    }

    /// The same alone, without what was made of them.
    pub fn into_sources(self) -> Sources {
        self.sources
    }

    /// The same, to read further ones.
    pub fn sources_mut(&mut self) -> &mut Sources {
        &mut self.sources
    }
}
