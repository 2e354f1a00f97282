//! Numbers of boxes, blanks and signatures: one for each, the same on the pages and in the attached plan.

use std::collections::{BTreeMap, BTreeSet};

use benchleaf::pages::{Item, Pages};
use serde_json::Value;

use super::{PHASES, made};

const JOBS: [(&str, Option<&str>); 2] = [
    ("procedures/brackwater3.rebuild", Some("procedures/brackwater3.job.yaml")),
    ("procedures/first/harbour_pump.rebuild", None),
];

fn plan(pages: &Pages) -> Value {
    let plan = pages.attachments.iter().find(|file| file.name == "plan.json").unwrap();
    serde_json::from_slice(&plan.bytes).unwrap()
}

/// Every word on the pages, and every two of which the second follows a no-break space.
fn words(pages: &Pages) -> BTreeSet<String> {
    let items = pages.pages.iter().flat_map(|page| &page.groups).flat_map(|group| &group.items);
    let texts =
        items.filter_map(|item| if let Item::Text(run) = item { Some(run.text.as_str()) } else { None });
    texts.flat_map(|text| text.split(' ')).map(|word| word.replace('\u{a0}', " ")).collect()
}

#[test]
fn each_number_is_given_once_and_stands_on_the_page() {
    let mut told = 0;
    for (procedure, record) in JOBS {
        for (phase, name) in PHASES {
            let pages = made(procedure, record, phase).pages;
            let plan = plan(&pages);
            let words = words(&pages);
            let fields: BTreeSet<&str> = pages
                .pages
                .iter()
                .flat_map(|page| &page.fields)
                .map(|field| field.number.trim_end_matches(benchleaf::sheet::AGAIN))
                .collect();
            let numbers = plan["numbers"].as_array().unwrap().iter();
            let known: BTreeSet<&str> = numbers.map(|number| number["number"].as_str().unwrap()).collect();
            assert!(fields.is_subset(&known), "{procedure} {name}: {:?}", fields.difference(&known));
            // A number is a field, never the beginning of another's name.
            let begun = |number: &&str| fields.iter().any(|other| other.starts_with(&format!("{number}.")));
            assert_eq!(fields.iter().find(|number| begun(number)), None, "{procedure} {name}");
            let held: BTreeSet<&str> = plan["steps"]
                .as_array()
                .unwrap()
                .iter()
                .filter(|step| step["standing"] == "held")
                .map(|step| step["id"].as_str().unwrap())
                .collect();
            let mut seen = BTreeSet::new();
            for number in plan["numbers"].as_array().unwrap() {
                let text = number["number"].as_str().unwrap();
                assert!(seen.insert(text), "{procedure} {name}: {text} twice");
                assert!(!number["what"].as_str().unwrap().is_empty(), "{procedure} {name}: {text} of what?");
                if number["step"].as_str().is_some_and(|step| held.contains(step)) {
                    continue;
                }
                assert!(fields.contains(text), "{procedure} {name}: {text} can't be filled in on a screen");
                // Those of the ledger are known on a screen alone.
                if text.starts_with("L ") {
                    continue;
                }
                // Of several on one line or row the first is told.
                let line = text.rsplit_once('.').map(|(line, _)| line).filter(|line| line.contains('.'));
                let desk =
                    text.split_once(' ').and_then(|(letter, n)| Some((letter, n.parse::<usize>().ok()?)));
                let row = desk
                    .map(|(letter, n)| (n.saturating_sub(12)..n).map(|n| format!("{letter} {n}")).collect());
                let row: Vec<String> = row.unwrap_or_default();
                let shown = words.contains(text)
                    || line.is_some_and(|line| words.contains(line) || words.contains(&format!("{line}.1")))
                    || row.iter().any(|before| words.contains(before));
                assert!(shown, "{procedure} {name}: {text} ({}) is not on the page", number["what"]);
                told += 1;
            }
        }
    }
    assert!(told > 1_000, "{told}");
}

/// The numbers of a packet that belong somewhere in the record, with the place.
fn kept(procedure: &str, record: Option<&str>, phase: benchleaf::model::Phase) -> BTreeMap<String, String> {
    let plan = plan(&made(procedure, record, phase).pages);
    let entry = |number: &Value| {
        let keys: Vec<&str> = number["keys"].as_array()?.iter().filter_map(Value::as_str).collect();
        Some((number["number"].as_str()?.to_owned(), keys.join(" / ")))
    };
    plan["numbers"].as_array().unwrap().iter().filter_map(entry).collect()
}

#[test]
fn a_number_means_one_place_in_the_record() {
    for (procedure, record) in JOBS {
        for (phase, name) in PHASES {
            let kept = kept(procedure, record, phase);
            let mut places: BTreeMap<&str, &str> = BTreeMap::new();
            for (number, place) in &kept {
                // Photographs are a list, a wrench is told on the register too, and what is open twice is asked twice.
                let list = ["photographs", "wrench", "second"].iter().any(|word| place.ends_with(word));
                let before = places.insert(place, number).filter(|_| !list);
                let step = |number: &str| number.split('.').next().unwrap_or_default().to_owned();
                assert!(
                    before.is_none_or(|before| step(before) != step(number)),
                    "{procedure} {name}: {place} at {before:?} and {number}"
                );
            }
        }
    }
    let survey = kept(JOBS[0].0, JOBS[0].1, PHASES[1].0);
    let bores: Vec<(&String, &String)> =
        survey.iter().filter(|(_, place)| place.contains("as_found / bore[")).collect();
    assert_eq!(bores.len(), 18, "{bores:?}");
    let (first, place) = bores[0];
    assert_eq!(place, "readings / as_found / bore[1] top along");
    assert!(first.ends_with(".1"), "{first}");
}
