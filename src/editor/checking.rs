//! The threads that find out: one checks desks, another works out their order when nobody types. Of several desks that wait
//! only the latest is looked at.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender};
use std::time::Duration;

use super::desk::Snapshot;
use super::event::Event;
use super::found::{Found, Root};
use crate::source::place;
use crate::workshop::{Memory, Request, Workshop, together};

/// Folders above a text in which a procedure that brings it in is looked for.
const FOLDERS_ABOVE: usize = 2;

/// How long nothing may have been typed before the order is worked out: it takes longer than the check, and would hold up
/// the complaints about the next key.
const QUIET: Duration = Duration::from_millis(250);

/// A desk whose order is to be worked out, with its procedures.
pub(super) type Unplanned = (Snapshot, Vec<PathBuf>);

/// Checks what comes in until nothing more can come.
pub(super) fn run(desks: &Receiver<Snapshot>, done: &Sender<Event>, unplanned: &Sender<Unplanned>) {
    let mut memory = Memory::default();
    while let Ok(mut desk) = desks.recv() {
        while let Ok(later) = desks.try_recv() {
            desk = later;
        }
        let found = check(&desk, &mut memory);
        let roots: Vec<PathBuf> = found.roots.iter().map(|root| root.path.clone()).collect();
        if done.send(Event::Found(Box::new(found))).is_err() || unplanned.send((desk, roots)).is_err() {
            return;
        }
    }
}

/// Works out the order of what comes in, when nothing has come for a while. `typed` counts the changes of the desk: while one
/// of them is still to be checked, nothing is begun that would hold that up.
pub(super) fn plan(unplanned: &Receiver<Unplanned>, done: &Sender<Event>, typed: &AtomicU64) {
    let mut waiting: Option<Unplanned> = None;
    while let Some(mut at_hand) = waiting.take().or_else(|| unplanned.recv().ok()) {
        let behind = |desk: &Snapshot| typed.load(Ordering::Relaxed) != desk.revision;
        loop {
            match unplanned.recv_timeout(QUIET) {
                Ok(later) => at_hand = later,
                Err(RecvTimeoutError::Timeout) if behind(&at_hand.0) => match unplanned.recv() {
                    Ok(later) => at_hand = later,
                    Err(_) => return,
                },
                Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => break,
            }
        }
        let (desk, roots) = at_hand;
        for path in roots {
            if behind(&desk) {
                waiting = unplanned.recv().ok();
                break;
            }
            let view = Workshop::over(desk.texts.clone()).job(&Request::of(&path)).value;
            if done.send(Event::Planned(desk.revision, path, Box::new(view))).is_err() {
                return;
            }
        }
    }
}

/// Checks every procedure that an open text is of; a text that belongs to none as if it were one.
fn check(desk: &Snapshot, memory: &mut Memory) -> Found {
    let mut workshop = Workshop::remembering(desk.texts.clone(), std::mem::take(memory));
    let mut roots: Vec<Root> = Vec::new();
    let mut diagnostics = Vec::new();
    let mut seen: BTreeSet<PathBuf> = BTreeSet::new();
    let (own, others): (Vec<&PathBuf>, Vec<&PathBuf>) =
        desk.texts.paths().partition(|path| desk.texts.text(path).is_some_and(|text| declares_family(&text)));
    let look = |workshop: &mut Workshop, path: &Path, roots: &mut Vec<Root>| {
        let checked = workshop.check_again(path);
        roots.push(Root { path: path.to_path_buf(), procedure: checked.value, view: None });
        checked.diagnostics
    };
    for path in own {
        seen.insert(place(path));
        diagnostics.extend(look(&mut workshop, path, &mut roots));
    }
    for path in others {
        let brought_in = |roots: &[Root], workshop: &Workshop| {
            roots.iter().filter_map(|root| root.procedure.as_ref()).any(|procedure| {
                procedure.files.iter().any(|file| place(&workshop.sources().file(*file).path) == place(path))
            })
        };
        if brought_in(&roots, &workshop) {
            continue;
        }
        for folder in path.ancestors().skip(1).take(FOLDERS_ABOVE) {
            for candidate in workshop.procedures(&[folder.to_path_buf()]).value {
                let text =
                    workshop.sources().files().map(|(_, file)| file).find(|file| file.path == candidate);
                let name =
                    path.file_stem().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
                let uses = text.is_some_and(|file| file.text.contains(&name));
                if uses && seen.insert(place(&candidate)) {
                    diagnostics.extend(look(&mut workshop, &candidate, &mut roots));
                }
            }
            if brought_in(&roots, &workshop) {
                break;
            }
        }
        if !brought_in(&roots, &workshop) {
            diagnostics.extend(look(&mut workshop, path, &mut roots));
        }
    }
    *memory = workshop.remembered();
    Found { revision: desk.revision, workshop, roots, diagnostics: together(diagnostics) }
}

fn declares_family(text: &str) -> bool {
    text.lines().any(|line| {
        line.trim_start().strip_prefix("family").is_some_and(|rest| rest.starts_with(char::is_whitespace))
    })
}
