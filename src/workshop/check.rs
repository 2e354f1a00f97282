//! A procedure read, resolved and proved.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;

use super::{Workshop, errors};
use crate::decide;
use crate::diagnostics::{Diagnostic, Outcome, sort, unreadable};
use crate::language;
use crate::network::{self, Network};
use crate::page::unsettable;
use crate::procedure::{self, model::Procedure};
use crate::record::Record;

/// A procedure that was read, and its network if nothing was wrong with it before.
pub struct Checked {
    /// The procedure.
    pub procedure: Procedure,
    /// What must be before what, and the way back; none if the procedure has errors.
    pub network: Option<Network>,
}

impl Workshop {
    /// A procedure with everything there is to say about it, letters that can't be printed among it; none if it can't be
    /// read.
    pub fn check(&mut self, path: &Path) -> Outcome<Option<Checked>> {
        self.check_with(path, None)
    }

    /// The same with what a record declares of its own.
    pub(super) fn check_with(
        &mut self,
        path: &Path,
        record: Option<(&Path, &Record)>,
    ) -> Outcome<Option<Checked>> {
        let loaded = self.load(path, record);
        self.judged(loaded)
    }

    /// What there is to say about procedures, in the order given. They are read one after the other, so that a file which
    /// several bring in is read once, and then judged side by side.
    pub fn check_all(&mut self, paths: &[PathBuf]) -> Vec<Diagnostic> {
        self.check_each(paths, &|_| ())
    }

    /// The same; after each `judged` hears how many there are so far, in no order and from any thread.
    pub fn check_each(&mut self, paths: &[PathBuf], judged: &(dyn Fn(usize) + Sync)) -> Vec<Diagnostic> {
        let count = AtomicUsize::new(0);
        let loaded: Vec<Outcome<Option<Procedure>>> =
            paths.iter().map(|path| self.load(path, None)).collect();
        let found = |loaded| {
            let diagnostics = self.judged(loaded).diagnostics;
            judged(count.fetch_add(1, Ordering::Relaxed) + 1);
            diagnostics
        };
        // A single one needs no other core, and waking them takes longer than a short procedure does.
        let all: Vec<Vec<Diagnostic>> = match loaded.len() {
            0..=1 => loaded.into_iter().map(found).collect(),
            _ => loaded.into_par_iter().map(found).collect(),
        };
        all.concat()
    }

    /// A procedure that was read, with all that there is to say about it.
    fn judged(&self, loaded: Outcome<Option<Procedure>>) -> Outcome<Option<Checked>> {
        let sound = !loaded.has_errors();
        let mut diagnostics = loaded.diagnostics;
        let Some(procedure) = loaded.value else { return Outcome { value: None, diagnostics } };
        diagnostics.extend(self.looked_over(&procedure));
        // A network made of a procedure with faults would only repeat them in other words.
        let network = sound.then(|| network::connect(&procedure)).map(|connected| {
            diagnostics.extend(connected.diagnostics);
            connected.value
        });
        sort(&mut diagnostics);
        Outcome { value: Some(Checked { procedure, network }), diagnostics }
    }

    /// What there is to say about a procedure besides what its names mean and in which order it can be done.
    pub(super) fn looked_over(&self, procedure: &Procedure) -> Vec<Diagnostic> {
        let mut diagnostics = decide::lint(procedure);
        for id in &procedure.files {
            let text = &self.sources.file(*id).text;
            for span in language::special_texts(*id, text) {
                diagnostics.extend(unsettable(span, &text[span.start()..span.end()]));
            }
        }
        diagnostics
    }

    /// The procedures meant by paths: a file is one, a folder holds some. Each once, in the order given.
    pub fn procedures(&mut self, paths: &[PathBuf]) -> Outcome<Vec<PathBuf>> {
        let mut found: Vec<PathBuf> = Vec::new();
        let mut diagnostics = Vec::new();
        for path in paths {
            if !self.sources.is_folder(path) {
                found.push(path.clone());
                continue;
            }
            match procedure::roots(&mut self.sources, path) {
                Ok(roots) if roots.is_empty() => diagnostics.push(errors::no_procedure(path)),
                Ok(roots) => found.extend(roots),
                Err(failure) => diagnostics.push(unreadable(path, &failure)),
            }
        }
        let mut met = BTreeSet::new();
        found.retain(|path| met.insert(path.clone()));
        Outcome { value: found, diagnostics }
    }
}

/// Puts complaints of several procedures together; one that comes from a file they share stands once.
///
/// ```
/// use std::path::Path;
///
/// use benchleaf::{Memory, Workshop, together};
///
/// let files = Memory::new().with("pump.rebuild", "family pump \"Pump\" { }\npart cover \"Cover\"\n");
/// let mut workshop = Workshop::over(files);
/// let once = workshop.check(Path::new("pump.rebuild")).diagnostics;
/// let twice = workshop.check(Path::new("pump.rebuild")).diagnostics;
/// assert!(!once.is_empty());
/// assert_eq!(together([once.clone(), twice].concat()).len(), once.len());
/// ```
pub fn together(mut diagnostics: Vec<Diagnostic>) -> Vec<Diagnostic> {
    sort(&mut diagnostics);
    diagnostics.dedup_by(|a, b| {
        a.code.name == b.code.name && a.message == b.message && a.labels == b.labels && a.mend == b.mend
    });
    diagnostics
}
