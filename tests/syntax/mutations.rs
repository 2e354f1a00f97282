//! Sound files with slips put into them: whatever is typed, there is an answer, quickly, and it points into the text.

use std::path::{Path, PathBuf};
use std::time::Instant;

use benchleaf::diagnostics::Severity;
use benchleaf::source::{FileId, Sources};
use proptest::prelude::*;

use super::parse_text;
use crate::tests::expected;

/// Seconds for one small file: far more than any takes.
const SLOWEST: f64 = 5.0;

/// One slip: what is done, where (as a share of the text), over how many characters, and with what.
type Slip = (u8, f64, usize, String);

fn corpus() -> Vec<String> {
    let mut files = expected::files(&expected::folder("syntax/ok"), "rebuild");
    files.extend(expected::files(&expected::folder("diagnostics/language"), "rebuild"));
    files.extend(procedures(&Path::new(env!("CARGO_MANIFEST_DIR")).join("procedures")));
    files.iter().map(|path| std::fs::read_to_string(path).unwrap()).collect()
}

/// Every procedure that is shipped.
pub fn procedures(folder: &Path) -> Vec<PathBuf> {
    Sources::new().procedure_files(folder).unwrap()
}

fn slip(text: &str, (kind, share, length, with): &Slip) -> String {
    let letters: Vec<char> = text.chars().collect();
    let at = (share * letters.len() as f64) as usize;
    let end = (at + length).min(letters.len());
    let (head, middle, tail) = (&letters[..at], &letters[at..end], &letters[end..]);
    let text = |part: &[char]| part.iter().collect::<String>();
    match kind {
        0 => text(head) + &text(tail),
        1 => text(head) + with + &text(&letters[at..]),
        2 => text(head) + with + &text(tail),
        3 => text(head) + &text(middle) + &text(middle) + &text(tail),
        4 => text(head),
        _ => text(head) + &text(&middle.iter().rev().copied().collect::<Vec<_>>()) + &text(tail),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn any_slip_has_an_answer_that_points_into_the_text(
        file in any::<prop::sample::Index>(),
        slips in prop::collection::vec(
            (0u8..6, 0.0..1.0f64, 0usize..40, "[ -~\n\t{}\"\\\\(),;=éµ“”]{0,4}"),
            1..6,
        ),
    ) {
        let corpus = corpus();
        let text = slips.iter().fold(file.get(&corpus).clone(), |text, one| slip(&text, one));
        let started = Instant::now();
        let (tree, diagnostics) = parse_text(&mut Sources::new(), "slip.rebuild", &text);
        prop_assert!(started.elapsed().as_secs_f64() < SLOWEST);
        prop_assert_eq!(tree.file, FileId(0));
        for diagnostic in &diagnostics {
            prop_assert!(diagnostic.mend.is_some(), "{}", diagnostic.message);
            prop_assert!(!diagnostic.message.contains("``"), "{}", diagnostic.message);
            for label in &diagnostic.labels {
                prop_assert!(label.span.start() <= label.span.end() && label.span.end() <= text.len(), "{:?}", diagnostic);
                prop_assert!(text.is_char_boundary(label.span.start()) && text.is_char_boundary(label.span.end()));
            }
        }
        if diagnostics.iter().all(|diagnostic| diagnostic.severity() != Severity::Error) {
            // What is sound stays sound, and the same, with its comments taken out.
            let again = parse_text(&mut Sources::new(), "slip.rebuild", &text);
            prop_assert_eq!(again.0, tree);
        }
    }
}
