//! How far long work is, for a person at a terminal: one line that is written over and gone when the work is done. Where the
//! error output goes elsewhere nothing is written.

use std::io::IsTerminal;
use std::sync::Mutex;

use super::output;

/// The line, while it stands.
pub(super) struct Progress {
    shown: bool,
    /// What it says now: so that two threads don't write into each other, and nothing is written twice.
    line: Mutex<String>,
}

impl Progress {
    /// Nothing said yet.
    pub(super) fn begun() -> Progress {
        let dumb = std::env::var_os("TERM").is_none_or(|term| term == "dumb");
        Progress { shown: std::io::stderr().is_terminal() && !dumb, line: Mutex::default() }
    }

    /// Says what is being done.
    pub(super) fn says(&self, words: &str) {
        let Ok(mut line) = self.line.lock() else { return };
        if self.shown && *line != words {
            words.clone_into(&mut line);
            output::in_passing(words);
        }
    }
}

/// Does something that may take long, and says so while it does.
pub(super) fn during<T>(words: &str, work: impl FnOnce() -> T) -> T {
    let progress = Progress::begun();
    progress.says(words);
    work()
}

impl Drop for Progress {
    fn drop(&mut self) {
        output::passed();
    }
}
