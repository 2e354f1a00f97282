//! What was found out about the open texts at one moment.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::diagnostics::Diagnostic;
use crate::procedure::model::{Name, Procedure};
use crate::source::{FileId, Overlay, SourceFile, Sources, place};
use crate::workshop::{JobView, Workshop};

/// Everything about the procedures that the open texts belong to.
pub(super) struct Found {
    /// How often anything on the desk had changed.
    pub revision: u64,
    /// The texts that were read.
    pub workshop: Workshop,
    /// The procedures.
    pub roots: Vec<Root>,
    /// Every complaint, once.
    pub diagnostics: Vec<Diagnostic>,
}

/// One procedure.
pub(super) struct Root {
    /// Its path.
    pub path: PathBuf,
    /// What it says, as far as it could be read.
    pub procedure: Option<Arc<Procedure>>,
    /// Its order of work, without a job; none while it has faults or is not yet worked out.
    pub view: Option<JobView>,
}

impl Found {
    /// Nothing yet.
    pub(super) fn nothing() -> Found {
        Found {
            revision: 0,
            workshop: Workshop::over(Overlay::default()),
            roots: Vec::new(),
            diagnostics: Vec::new(),
        }
    }

    /// The texts.
    pub(super) fn sources(&self) -> &Sources {
        self.workshop.sources()
    }

    /// The file at a path, as it was read last.
    pub(super) fn file(&self, path: &Path) -> Option<(FileId, &SourceFile)> {
        let wanted = place(path);
        self.sources().files().filter(|(_, file)| place(&file.path) == wanted).last()
    }

    /// The procedures that a file belongs to.
    pub(super) fn roots_of(&self, path: &Path) -> impl Iterator<Item = &Root> {
        let wanted = place(path);
        self.roots.iter().filter(move |root| {
            let of_file = |id: &FileId| place(&self.sources().file(*id).path) == wanted;
            place(&root.path) == wanted
                || root.procedure.as_ref().is_some_and(|procedure| procedure.files.iter().any(of_file))
        })
    }

    /// What a name means in a file, with the procedure in which it does.
    pub(super) fn named(&self, path: &Path, name: &str) -> Option<(&Root, &Procedure, Name)> {
        self.roots_of(path).find_map(|root| {
            let procedure = root.procedure.as_deref()?;
            Some((root, procedure, *procedure.names.get(name)?))
        })
    }
}
