//! A command done again whenever one of the files that it read has changed. It must not know which command.

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::Duration;

use super::output;
use crate::english::counted;
use crate::source::{Stamp, stamp};

/// How often the files are looked at.
const PAUSE: Duration = Duration::from_millis(200);
/// How long a file must have stayed as it is: an editor may write it in pieces.
const SETTLED: Duration = Duration::from_millis(50);

/// Runs a command, which adds the files that it read to those it is given, again and again until it is ended from outside.
pub(super) fn watched(mut run: impl FnMut(&mut Vec<PathBuf>) -> ExitCode) -> ExitCode {
    let mut known: Vec<(PathBuf, Stamp)> = Vec::new();
    loop {
        // Looked at before the command reads them: what is written while it runs shows afterwards.
        known.iter_mut().for_each(|(file, known)| *known = stamp(file));
        let mut files = Vec::new();
        run(&mut files);
        files.sort();
        files.dedup();
        files.retain(|file| !known.iter().any(|(known, _)| known == file));
        known.extend(files.into_iter().map(|file| {
            let stamp = stamp(&file);
            (file, stamp)
        }));
        output::complain(&format!("watching {}; Ctrl-C ends it\n", counted(known.len(), "file")));
        while settled(&known) {
            std::thread::sleep(PAUSE);
        }
    }
}

/// Whether every file is as it was, waiting for one that is being written.
fn settled(known: &[(PathBuf, Stamp)]) -> bool {
    let now = || known.iter().map(|(file, _)| stamp(file)).collect::<Vec<_>>();
    let mut last = now();
    if last.iter().zip(known).all(|(now, (_, known))| now == known) {
        return true;
    }
    loop {
        std::thread::sleep(SETTLED);
        let next = now();
        if next == last {
            return false;
        }
        last = next;
    }
}
