//! Random jobs: printed, filled in at random, brought back, and the record beside what was filled in. No value lands on
//! another blank, nor on one that somebody else has filled in between.

use std::collections::BTreeMap;
use std::path::Path;

use proptest::prelude::*;

use crate::gather::{Filled, Hand, Printed, Today, changes, read_table, read_words, write_table};
use crate::packet::step_marks;
use crate::record::{Date, edit, standing, step_key};
use crate::tests::expected;
use benchleaf::model::Phase;
use benchleaf::sheet::Form;
use benchleaf::{Memory, PacketOptions, Request, Workshop};

const RECORD: &str =
    "# kept by hand\njob: \"17\"  # ours\nprocedure: pump.rebuild\nanswers: {valve_gear: reuse}\n";

/// A value that may stand at a number, as it is typed and as the record has it.
fn value(form: &Form, seed: u32) -> (String, String) {
    match form {
        Form::Quantity(unit) => {
            let number = format!("{}.{:03}", seed % 90, seed % 997);
            let typed = if seed.is_multiple_of(2) { number.replace('.', ",") } else { number.clone() };
            (typed, format!("{number} {unit}").trim_end().to_owned())
        }
        Form::Word(words) => {
            let word = words[seed as usize % words.len()].clone();
            (word.to_uppercase(), word)
        }
        Form::Count => (seed.to_string(), seed.to_string()),
        Form::Day => {
            let day = format!("2026-03-{:02}", seed % 28 + 1);
            (format!("{}.3", seed % 28 + 1), day)
        }
        Form::Text | Form::Item => (format!("seen {seed}"), format!("seen {seed}")),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_was_filled_in_is_what_the_record_says(
        picks in proptest::collection::vec((any::<bool>(), any::<bool>(), any::<u32>()), 80),
        by_table in any::<bool>(),
        signed in any::<bool>(),
    ) {
        let pump = std::fs::read_to_string(expected::folder("jobs/verdicts").join("pump.rebuild")).unwrap();
        let files = Memory::new().with("pump.rebuild", &pump).with("job.yaml", RECORD);
        let mut workshop = Workshop::over(files);
        let request = Request { record: Some(Path::new("job.yaml")), ..Request::of("pump.rebuild") };
        let view = workshop.job(&request).value.expect("it is sound");
        let packet = view.packet(&workshop, &PacketOptions::of(Phase::Strip));
        let printed = Printed::read(&packet.attachments[0].bytes).expect("it is a plan of ours");

        // Some blanks are filled in on paper, and some of the record by somebody else meanwhile.
        let mut record = RECORD.to_owned();
        let mut wanted: BTreeMap<usize, (String, String)> = BTreeMap::new();
        let mut theirs: BTreeMap<usize, String> = BTreeMap::new();
        let date = Date::parse("2026-03-05").unwrap();
        let mut hand = Hand { by: signed.then(|| "HK".to_owned()), date, again: false };
        let marks = step_marks(&view.procedure, &view.network);
        let mark = |id: &str| step_key(&view.procedure, id).and_then(|key| marks.of(&key).map(str::to_owned));
        let apply = |record: &mut String, filled: &Filled, hand: &Hand| {
            let made = changes(&printed, filled, hand, &Today { record, mark: &mark });
            for change in &made.edits {
                *record = edit(record, change).expect("the change can be made");
            }
            made
        };
        let kept = printed.numbers.iter().enumerate().filter(|(_, number)| {
            number.keys.first().is_some_and(|key| key == "readings" || key == "looks")
        });
        for ((at, number), (ours, other, seed)) in kept.zip(&picks) {
            let form = number.form.as_ref().unwrap();
            if *ours {
                wanted.insert(at, value(form, *seed));
            }
            if *other && seed % 5 == 0 {
                let (typed, text) = value(form, seed.wrapping_add(1));
                let made = apply(&mut record, &Filled { values: vec![(at, typed)], done: Vec::new(), ..Filled::default() }, &hand);
                prop_assert!(made.refused.is_empty());
                theirs.insert(at, text);
            }
        }
        let filled = if by_table {
            let all: Vec<usize> = (0..printed.numbers.len()).collect();
            let table = write_table(&printed, &all);
            let filled: Vec<String> = table
                .lines()
                .enumerate()
                .map(|(row, line)| match row.checked_sub(1).and_then(|at| wanted.get(&at)) {
                    Some((typed, _)) => format!("{line}\"{typed}\""),
                    None => line.to_owned(),
                })
                .collect();
            read_table(&printed, &filled.join("\r\n"))
        } else {
            let words: Vec<String> = wanted
                .iter()
                .flat_map(|(at, (typed, _))| [format!("{}:", printed.numbers[*at].number), typed.clone()])
                .collect();
            read_words(&printed, &words)
        };
        let filled = filled.expect("it can be read");
        let before = record.clone();
        let made = apply(&mut record, &filled, &hand);
        let clash = |at: &usize| theirs.get(at).is_some_and(|text| *text != wanted[at].1);
        let refused: Vec<&str> = made.refused.iter().map(|(number, _)| number.as_str()).collect();
        let clashes: Vec<&str> =
            wanted.keys().filter(|at| clash(at)).map(|at| printed.numbers[*at].number.as_str()).collect();
        prop_assert_eq!(refused, clashes);
        for (at, number) in printed.numbers.iter().enumerate().filter(|(_, number)| !number.keys.is_empty()) {
            let now = standing(&record, &number.keys).texts;
            let meant = match (theirs.get(&at), wanted.get(&at)) {
                (Some(text), _) | (None, Some((_, text))) => vec![text.clone()],
                (None, None) => standing(&before, &number.keys).texts,
            };
            prop_assert_eq!(now, meant, "{}", number.number);
        }
        prop_assert!(record.starts_with("# kept by hand\njob: \"17\"  # ours\n"));
        // The same sheet once more changes nothing.
        let after = record.clone();
        hand.by = Some("RT".to_owned());
        let again = apply(&mut record, &filled, &hand);
        prop_assert!(again.edits.is_empty() && again.new.is_empty());
        prop_assert_eq!(record, after);
    }
}
