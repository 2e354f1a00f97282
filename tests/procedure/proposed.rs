//! What a complaint proposes as a change mends it: made in the text, the fault is gone from its place, and no other error has
//! come in.

use std::path::Path;

use benchleaf::diagnostics::{Diagnostic, Severity};
use benchleaf::procedure;
use benchleaf::source::{Memory, Sources};

use crate::tests::expected;

fn told(text: &str) -> Vec<Diagnostic> {
    let mut sources = Sources::over(Memory::new().with("a.rebuild", text));
    procedure::load(&mut sources, Path::new("a.rebuild")).diagnostics
}

fn errors(diagnostics: &[Diagnostic]) -> usize {
    diagnostics.iter().filter(|told| told.severity() == Severity::Error).count()
}

/// What is still wrong of what each proposal in this text was made for; faults of spelling may have hidden others.
fn left(text: &str, hides: bool) -> (usize, Vec<String>) {
    let before = told(text);
    let mut wrong = Vec::new();
    let mut made = 0;
    for fault in &before {
        let Some(edit) = &fault.edit else { continue };
        made += 1;
        let mended = [&text[..edit.span.start()], &edit.text, &text[edit.span.end()..]].concat();
        let after = told(&mended);
        let same = |other: &Diagnostic| {
            let again = other
                .edit
                .as_ref()
                .is_some_and(|other| (other.span.start(), &other.text) == (edit.span.start(), &edit.text));
            again && (other.code.name, &other.message) == (fault.code.name, &fault.message)
        };
        if after.iter().any(same) {
            wrong.push(format!("{}: `{}` is still told\n{mended}", fault.code.name, fault.message));
        } else if !hides && errors(&after) > errors(&before) {
            wrong.push(format!("{}: `{}` is followed by others\n{mended}", fault.code.name, fault.message));
        }
    }
    (made, wrong)
}

#[test]
fn what_is_proposed_as_a_change_mends_the_fault() {
    let mut made = 0;
    let mut wrong = Vec::new();
    for (room, hides) in [("procedure", false), ("language", true)] {
        for path in expected::files(&expected::folder("diagnostics").join(room), "rebuild") {
            let text = std::fs::read_to_string(&path).unwrap();
            let (count, left) = left(&text, hides);
            made += count;
            wrong.extend(left.into_iter().map(|left| format!("{}: {left}", path.display())));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
    assert!(made > 40, "{made} changes were made");
}
