//! The packets in `output-samples/`, made from what the repository ships. `REWRITE_EXPECTED=1 cargo test` makes them
//! anew; without it a sample that is not what the program makes now fails.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use benchleaf::model::Phase;
use benchleaf::pages::{ElementId, Item, Mark, Page, Role};

use super::{Made, PHASES, made_all, root};

#[test]
fn the_samples_are_what_the_program_makes() {
    // The first engine's job at three moments, the survey with what is done already, so that every kind of sheet is there;
    // of the second what is written once for both banks, and a messy job of it half stripped, measured, ready to be built,
    // built, and handed over; of a gearbox and an air-cooled twin each phase as the work stands before it, and of the twin that differs from it the first.
    // The last number is the most pages that a sample may have: what was reached, so that no packet grows unseen.
    const SAMPLES: [(&str, Phase, &str, bool, usize); 20] = [
        ("brackwater3", Phase::Strip, "job", false, 46),
        ("brackwater3", Phase::Survey, "measured.job", true, 24),
        ("brackwater3", Phase::Build, "ready.job", false, 48),
        ("brackwater3", Phase::Start, "ready.job", false, 12),
        ("hallowmere4", Phase::Strip, "job", false, 38),
        ("hallowmere4", Phase::Build, "measured.job", false, 50),
        ("hallowmere4.bodged", Phase::Strip, "job", false, 24),
        ("hallowmere4.bodged", Phase::Survey, "measured.job", true, 20),
        ("hallowmere4.bodged", Phase::Build, "ready.job", false, 45),
        ("hallowmere4.bodged", Phase::Start, "built.job", false, 12),
        ("hallowmere4.bodged.handed", Phase::Start, "job", true, 11),
        ("skerryvane180", Phase::Strip, "job", false, 17),
        ("skerryvane180", Phase::Survey, "measured.job", true, 8),
        ("skerryvane180", Phase::Build, "ready.job", false, 18),
        ("skerryvane180", Phase::Start, "built.job", false, 7),
        ("cawdale2", Phase::Strip, "job", false, 25),
        ("cawdale2", Phase::Survey, "measured.job", true, 13),
        ("cawdale2", Phase::Build, "ready.job", false, 32),
        ("cawdale2", Phase::Start, "built.job", false, 11),
        ("cawdale2e", Phase::Strip, "job", false, 29),
    ];
    let (mut stale, mut longer) = (Vec::new(), Vec::new());
    let mut sizes: BTreeSet<u32> = BTreeSet::new();
    let mut terms: BTreeSet<String> = BTreeSet::new();
    let mut scales: Scales = BTreeMap::new();
    for (engine, phase, record, all, most) in SAMPLES {
        let word = PHASES.iter().find(|(of, _)| *of == phase).unwrap().1;
        let family = engine.split('.').next().unwrap();
        let procedure = format!("procedures/{family}.rebuild");
        let made = made_all(&procedure, Some(&format!("procedures/{engine}.{record}.yaml")), phase, all);
        let pages = made.pages.pages.len();
        if pages > most {
            longer.push(format!("{engine} {word}: {pages} pages instead of {most}"));
        }
        sizes.extend(sizes_of_type(&made));
        terms.extend(terms_of_the_makers(&made));
        for (joint, scale) in scales_told(&made) {
            scales.entry((family.to_owned(), joint)).or_default().entry(scale).or_default().insert(word);
        }
        let path = root(&format!("output-samples/{}-{word}.pdf", engine.replace('.', "-")));
        if std::env::var_os("REWRITE_EXPECTED").is_some() {
            fs::write(&path, &made.pdf).unwrap();
        } else if fs::read(&path).unwrap_or_default() != made.pdf {
            stale.push(path.display().to_string());
        }
    }
    let mut faults = longer;
    if sizes.len() > 6 {
        faults.push(format!("sizes of type in hundredths of a point: {sizes:?}"));
    }
    // Nearly every joint is drawn where it is undone and where it is tightened.
    let twice = scales.values().filter(|of| of.values().flatten().count() > 1).count();
    if twice < 20 {
        faults.push(format!("only {twice} of {} joints are drawn in more than one packet", scales.len()));
    }
    for (joint, of) in scales.iter().filter(|(_, of)| of.len() > 1) {
        faults.push(format!("{joint:?} is drawn in several scales: {of:?}"));
    }
    if !terms.is_empty() {
        faults.push(format!("terms that nobody at a bench knows: {terms:?}"));
    }
    if !stale.is_empty() {
        let stale = stale.join(", ");
        faults.push(format!("stale (REWRITE_EXPECTED=1 cargo test makes them anew): {stale}"));
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Joints by family and title, with each scale they are drawn in and the packets in which they are.
type Scales = BTreeMap<(String, String), BTreeMap<String, BTreeSet<&'static str>>>;

/// Every joint that is drawn to work by, as its caption names it, with the scale that the caption tells.
fn scales_told(made: &Made) -> Vec<(String, String)> {
    let captions = (0..made.pages.elements.len()).filter(|at| made.pages.elements[*at].role == Role::Caption);
    let told = captions.filter_map(|caption| {
        let groups = made.pages.pages.iter().flat_map(|page| &page.groups);
        let own = groups.filter(|group| group.mark == Mark::Element(ElementId(caption)));
        let words: Vec<&str> =
            own.flat_map(|group| &group.items).filter_map(words).map(|(words, _)| words.trim()).collect();
        let words = words.join(" ").replace('\u{a0}', " ");
        let (joint, rest) = words.split_once(": order of ")?;
        // What is seen in several ways names its place behind the title.
        let joint = joint.split(", ").next()?;
        let scale = match rest.find("cale ") {
            Some(at) => rest[at + 5..].split(". ").next()?.trim_end_matches('.').trim().to_owned(),
            None => "none told".to_owned(),
        };
        Some((joint.to_owned(), scale))
    });
    told.collect()
}

/// Sizes of type on all sheets but the labels, the words of which give way to their paper, and of all but the letters and
/// lengths of holes that would touch; in hundredths of a point.
fn sizes_of_type(made: &Made) -> BTreeSet<u32> {
    let other = |page: &&Page| {
        let mut items = page.groups.iter().flat_map(|group| &group.items);
        items.find_map(words).is_none_or(|(first, _)| first.trim() != "Labels")
    };
    let items =
        made.pages.pages.iter().filter(other).flat_map(|page| &page.groups).flat_map(|group| &group.items);
    let small = |(words, size): &(&str, f32)| *size < 11.0 && words.trim().chars().count() <= 10;
    let sizes = items.filter_map(words).filter(|run| !small(run)).map(|(_, size)| size);
    sizes.map(|size| (size * 100.0).round() as u32).collect()
}

fn words(item: &Item) -> Option<(&str, f32)> {
    if let Item::Text(run) = item { Some((run.text.as_str(), run.size)) } else { None }
}

/// Words of the makers of this tool, and of its estimates, among those on the sheets.
fn terms_of_the_makers(made: &Made) -> BTreeSet<String> {
    const TERMS: [&str; 8] = ["fact", "facts", "condition", "conditions", "proof", "network", "φ", "Φ"];
    let words = made.words.split(|letter: char| !letter.is_alphanumeric());
    words.filter(|word| TERMS.contains(&word.to_lowercase().as_str())).map(str::to_owned).collect()
}

#[test]
fn what_is_repeated_until_it_is_within_limits_has_a_row_for_each_try() {
    let job = "procedures/skerryvane180.ready.job.yaml";
    let made = made_all("procedures/skerryvane180.rebuild", Some(job), Phase::Build, false);
    let words = made.words.split_whitespace().collect::<Vec<_>>().join(" ");
    for told in
        ["Within the limits above: go on. Otherwise:", "4 tries at most", "Still beyond after the last: stop"]
    {
        assert!(words.contains(told), "{told}: {words}");
    }
    assert_eq!(words.matches("Changed then").count(), 1, "{words}");
}

#[test]
fn a_procedure_of_two_parts_is_printed_on_two_pages() {
    let made = made_all("procedures/first/cover.rebuild", None, Phase::Strip, false);
    assert_eq!(made.pages.pages.len(), 2, "{}", made.words);
    assert!(
        made.words.contains("8 mm socket") && made.words.contains("Remove the pump cover."),
        "{}",
        made.words
    );
}
