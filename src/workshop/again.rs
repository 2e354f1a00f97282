//! A procedure checked again after a few keys: what was found out before and still holds is not found out anew.
//!
//! Three things are kept from check to check. Declarations whose text stays are not read again (`language`). What names mean in
//! them is not looked up again, as long as the declarations that were typed in look the same to all others (`procedure`). And what
//! was proved of the order, with what was reckoned of the joints, is said again at the places to which what it is about has moved,
//! as long as everything that it was found from is alike (`procedure`); that is so of most keys, since most are part of a word,
//! a note, a number or a comment. A procedure with faults is not proved, and what was proved last waits until they are
//! mended. The complaints are the same as those of a first check, field by field.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::Workshop;
use crate::diagnostics::{Diagnostic, Outcome, Severity, sort};
use crate::language::Kept;
use crate::network;
use crate::procedure::{self, Between, OfJob, Remembered, model::Procedure};
use crate::source::{FileId, Files, Sources};

/// What a workshop leaves to the next one, which checks nearly the same texts.
#[derive(Debug, Default)]
pub(crate) struct Memory {
    read: Kept,
    resolved: BTreeMap<FileId, Remembered>,
    proofs: Proofs,
    /// How often what was proved was said again.
    #[cfg(test)]
    pub said_again: usize,
}

/// What was proved of procedures, by their paths.
pub(super) type Proofs = BTreeMap<PathBuf, Proof>;

/// What was proved of a procedure without faults.
#[derive(Debug, Clone)]
pub(super) struct Proof {
    procedure: Arc<Procedure>,
    /// Path and text of each of its files.
    texts: Vec<(PathBuf, Arc<str>)>,
    /// What there was to say.
    found: Vec<Diagnostic>,
}

#[cfg(test)]
impl Memory {
    /// How often what was resolved was taken up again.
    pub(crate) fn resumed(&self) -> usize {
        self.resolved.values().map(|resolved| resolved.resumed).sum()
    }
}

impl Workshop {
    /// Reads from elsewhere, remembering what an earlier workshop found out.
    pub(crate) fn remembering(files: impl Files + 'static, memory: Memory) -> Workshop {
        let mut workshop = Workshop::over(files);
        workshop.brought_in.kept = Some(memory.read);
        workshop.brought_in.resolved = memory.resolved;
        workshop.proofs = memory.proofs;
        #[cfg(test)]
        (workshop.said_again = memory.said_again);
        workshop
    }

    /// What this one has found out, for the next.
    pub(crate) fn remembered(&mut self) -> Memory {
        Memory {
            read: self.brought_in.kept.take().unwrap_or_default(),
            resolved: std::mem::take(&mut self.brought_in.resolved),
            proofs: std::mem::take(&mut self.proofs),
            #[cfg(test)]
            said_again: self.said_again,
        }
    }

    /// The same complaints as [`Workshop::check`] has, and the procedure; none if it can't be read.
    pub(crate) fn check_again(&mut self, path: &Path) -> Outcome<Option<Arc<Procedure>>> {
        let read = procedure::read_with(&mut self.sources, &mut self.brought_in, path, OfJob::default());
        let sound = !read.has_errors();
        let mut diagnostics = read.diagnostics;
        let Some(procedure) = read.value.map(Arc::new) else { return Outcome { value: None, diagnostics } };
        if sound {
            let known = self.proofs.remove(path);
            let proof = match known.as_ref().and_then(|known| known.of(&procedure, &self.sources)) {
                Some(found) => {
                    #[cfg(test)]
                    (self.said_again += 1);
                    Proof::new(&procedure, &self.sources, known.as_ref(), found)
                }
                None => Proof::new(&procedure, &self.sources, known.as_ref(), proved(&procedure)),
            };
            diagnostics.extend(proof.found.iter().cloned());
            self.proofs.insert(path.to_path_buf(), proof);
        }
        diagnostics.extend(self.looked_over(&procedure));
        sort(&mut diagnostics);
        Outcome { value: Some(procedure), diagnostics }
    }
}

/// What there is to say about the joints of a procedure without faults, and about its order.
fn proved(procedure: &Procedure) -> Vec<Diagnostic> {
    let mut found = procedure::weigh(procedure);
    if found.iter().all(|found| found.severity() != Severity::Error) {
        found.extend(network::connect(procedure).diagnostics);
    }
    found
}

impl Proof {
    /// Keeps what was found; texts that are known already are not kept twice.
    fn new(
        procedure: &Arc<Procedure>,
        sources: &Sources,
        known: Option<&Proof>,
        found: Vec<Diagnostic>,
    ) -> Proof {
        let kept = |at: usize, path: &Path, text: &str| {
            let known = known.and_then(|known| known.texts.get(at));
            known.filter(|(other, known)| other == path && **known == *text).cloned()
        };
        let files = procedure.files.iter().map(|file| sources.file(*file)).enumerate();
        let texts = files.map(|(at, file)| {
            kept(at, &file.path, &file.text).unwrap_or_else(|| (file.path.clone(), file.text.as_str().into()))
        });
        Proof { texts: texts.collect(), procedure: Arc::clone(procedure), found }
    }

    /// What holds of another state of the procedure; none where that has to be found out.
    fn of(&self, procedure: &Procedure, sources: &Sources) -> Option<Vec<Diagnostic>> {
        let files = procedure.files.iter().map(|file| (*file, sources.file(*file)));
        let same = files.clone().map(|(_, file)| &file.path).eq(self.texts.iter().map(|(path, _)| path));
        if !same || procedure.files != self.procedure.files {
            return None;
        }
        let texts = files.zip(&self.texts).map(|((id, file), (_, was))| (id, &**was, file.text.as_str()));
        let mut between = Between::texts(texts)?;
        self.procedure.works_like(procedure, &mut between).then(|| between.put(&self.found))?
    }
}
