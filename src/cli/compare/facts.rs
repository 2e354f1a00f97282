//! What two editions say, held against each other: declarations by kind and name, in them clause by clause. Clauses that say the
//! same in another order or another layout are the same; the acts of a step count in their order.

use super::spoken::{spoken, titled};
use super::{Change, Chapter};
use crate::cli::prepared::Prepared;
use crate::language::{Said, said};
use crate::plan::line_of;
use crate::procedure::model::{Phase, Quoted};
use crate::source::Span;

/// The headings, in the order of what matters most at the bench.
const TORQUES: &str = "Torques and how fasteners are treated";
const ONCE: &str = "Used once or again";
const HAZARDS: &str = "Hazards";
const LIMITS: &str = "Limits and readings";
const STEPS: &str = "Steps";
const THINGS: &str = "Parts, fasteners, tools and what else is declared";
const HEADINGS: [&str; 6] = [TORQUES, ONCE, HAZARDS, LIMITS, STEPS, THINGS];

/// Every difference, by heading.
pub(super) fn changed(old: &Prepared, new: &Prepared) -> Vec<Chapter> {
    let mut chapters: Vec<Chapter> =
        HEADINGS.iter().map(|heading| Chapter { heading, changes: Vec::new() }).collect();
    let mut add = |heading: &str, change: Change| {
        if let Some(chapter) = chapters.iter_mut().find(|chapter| chapter.heading == heading) {
            chapter.changes.push(change);
        }
    };
    let (were, are) = (all(old), all(new));
    // A step that moved to another phase is the same step no more.
    let same =
        |one: &Said, other: &Said| one.word == other.word && (one.name == other.name || one.word == "family");
    for was in &were {
        match are.iter().find(|is| same(was, is)) {
            Some(is) => differences(was, is, old, new, &mut add),
            None => add(
                of_declaration(was),
                Change {
                    of: titled(old, was),
                    was: shown(old, was),
                    is: String::new(),
                    at: place(old, was.span),
                },
            ),
        }
    }
    for is in are.iter().filter(|is| !were.iter().any(|was| same(was, is))) {
        add(
            of_declaration(is),
            Change { of: titled(new, is), was: String::new(), is: shown(new, is), at: place(new, is.span) },
        );
    }
    chapters
}

/// What all files of a procedure say, with what it changes in the one that it is of. Which file brings in which, and what stands
/// in which section, is no change at the bench.
fn all(prepared: &Prepared) -> Vec<Said> {
    let files = &prepared.procedure.files;
    let texts: Vec<Said> =
        files.iter().flat_map(|file| said(*file, &prepared.sources().file(*file).text)).collect();
    let clauses: Vec<(String, Span)> = texts.iter().flat_map(|said| said.clauses.clone()).collect();
    // A family stands once, however many files say something of it.
    let families: Vec<&Said> = texts.iter().filter(|said| said.word == "family").collect();
    let mut whole: Vec<Said> = texts
        .iter()
        .filter(|said| {
            !said.change && !matches!(said.word.as_str(), "use" | "section" | "without" | "family")
        })
        .cloned()
        .collect();
    whole.extend(families.first().map(|root| Said {
        clauses: families.iter().flat_map(|family| family.clauses.clone()).collect(),
        head: String::new(),
        ..(*root).clone()
    }));
    for one in &prepared.procedure.differing {
        let is_it = |said: &Said| said.word == one.word && (said.name == one.id || said.word == "family");
        if one.whole && one.is.is_none() {
            whole.retain(|said| !is_it(said));
        }
        let Some(said) = whole.iter_mut().find(|said| is_it(said)).filter(|_| !one.whole) else { continue };
        let within = |of: &Option<Quoted>, span: Span| {
            of.as_ref().is_some_and(|of| {
                of.span.file == span.file && of.span.start() <= span.start() && span.end() <= of.span.end()
            })
        };
        let at = said.clauses.iter().position(|(_, span)| within(&one.was, *span));
        let come: Vec<(String, Span)> = match &one.is {
            // Less of the same clause.
            Some(is) if one.was.as_ref().is_some_and(|was| was.span == is.span) => {
                vec![(is.words.clone(), is.span)]
            }
            is => clauses.iter().filter(|(_, span)| within(is, *span)).cloned().collect(),
        };
        let named = format!("{} {}", one.word, one.id);
        if let Some(head) = one.is.as_ref().and_then(|is| is.words.strip_prefix(&named))
            && come.is_empty()
        {
            said.head = head.trim_start().to_owned();
            continue;
        }
        let here = |span: Span| come.iter().any(|(_, other)| *other == span);
        said.clauses.retain(|(_, span)| !within(&one.was, *span) && !here(*span));
        let at = at.unwrap_or(said.clauses.len()).min(said.clauses.len());
        said.clauses.splice(at..at, come);
    }
    whole
}

/// All of a declaration; of its head what it has beside its title.
fn shown(prepared: &Prepared, said: &Said) -> String {
    let clauses = said.clauses.iter().map(|(clause, _)| spoken(prepared, said, clause));
    let clauses: Vec<String> = std::iter::once(beside_title(&said.head)).chain(clauses).collect();
    let told: Vec<&str> = clauses.iter().map(String::as_str).filter(|words| !words.is_empty()).collect();
    format!("{}: {}", said.word, told.join("; "))
}

/// What stands before the braces beside name and title: how many there are, which axes they have.
fn beside_title(head: &str) -> String {
    match head.split_once('"') {
        Some((before, behind)) => {
            let behind = behind.split_once('"').map_or("", |(_, behind)| behind);
            format!("{} {}", before.trim(), behind.trim()).trim().to_owned()
        }
        None => head.trim().to_owned(),
    }
}

fn place(prepared: &Prepared, span: Span) -> String {
    line_of(prepared.sources(), span)
}

fn differences(was: &Said, is: &Said, old: &Prepared, new: &Prepared, add: &mut impl FnMut(&str, Change)) {
    let of = titled(new, is);
    if was.head != is.head {
        let change =
            Change { of: of.clone(), was: was.head.clone(), is: is.head.clone(), at: place(new, is.span) };
        add(of_declaration(is), change);
    }
    // What is in both goes out, each as often as it stands in both.
    let mut gone: Vec<&(String, Span)> = Vec::new();
    let mut come: Vec<&(String, Span)> = is.clauses.iter().filter(|(clause, _)| at_bench(clause)).collect();
    for clause in was.clauses.iter().filter(|(clause, _)| at_bench(clause)) {
        match come.iter().position(|other| other.0 == clause.0) {
            Some(at) => drop(come.remove(at)),
            None => gone.push(clause),
        }
    }
    for (clause, span) in gone {
        let next = come.iter().position(|(other, _)| same_subject(other, clause));
        let heading = of_clause(is, clause);
        let change = match next.map(|at| come.remove(at)) {
            Some((other, at)) => Change {
                of: of.clone(),
                was: spoken(old, was, clause),
                is: spoken(new, is, other),
                at: place(new, *at),
            },
            None => Change {
                of: of.clone(),
                was: spoken(old, was, clause),
                is: String::new(),
                at: place(old, *span),
            },
        };
        add(heading, change);
    }
    for (clause, span) in come {
        let change =
            Change { of: of.clone(), was: String::new(), is: spoken(new, is, clause), at: place(new, *span) };
        add(of_clause(is, clause), change);
    }
    let acts = |said: &Said| said.clauses.iter().map(|(clause, _)| clause.clone()).collect::<Vec<_>>();
    let (mut before, mut after) = (acts(was), acts(is));
    if is_step(is) && before != after {
        before.sort();
        after.sort();
        if before == after {
            let words = "the same acts in another order".to_owned();
            add(
                STEPS,
                Change { of, was: "the acts as they stood".to_owned(), is: words, at: place(new, is.span) },
            );
        }
    }
}

/// Whether two clauses speak of the same thing, so that one takes the place of the other.
fn same_subject(one: &str, other: &str) -> bool {
    let serves = |clause: &str| {
        ["once", "reusable", "reuse"].contains(&clause.split([' ', ',']).next().unwrap_or_default())
    };
    subject(one) == subject(other)
        || one.starts_with(other)
        || other.starts_with(one)
        || serves(one) && serves(other)
}

/// What a clause speaks of: the words before its first number or text; of a clause without either, the first word.
fn subject(clause: &str) -> &str {
    match clause.find(|c: char| c.is_ascii_digit() || c == '"') {
        Some(end) => clause[..end].trim_end(),
        None => clause.split(' ').next().unwrap_or(clause),
    }
}

/// Which edition it is and where it comes from changes nothing at the bench.
fn at_bench(clause: &str) -> bool {
    !["edition", "origin", "summary", "invented"].contains(&clause.split(' ').next().unwrap_or_default())
        && !clause.starts_with("of \"")
}

fn is_step(said: &Said) -> bool {
    Phase::of_word(&said.word).is_some()
}

fn of_declaration(said: &Said) -> &'static str {
    match said.word.as_str() {
        "hazard" => HAZARDS,
        "gauge" | "look" => LIMITS,
        "block" | "trial" => STEPS,
        _ if is_step(said) => STEPS,
        _ => THINGS,
    }
}

fn of_clause(said: &Said, clause: &str) -> &'static str {
    let first = clause.split([' ', ',']).next().unwrap_or_default();
    match first {
        _ if is_step(said) && first != "hazard" => STEPS,
        "tighten" | "friction" | "oil" | "apply" | "dry" | "sequence" | "locked" | "holes" => TORQUES,
        "once" | "reusable" | "reuse" => ONCE,
        "hazard" => HAZARDS,
        "made" | "worn" | "bands" | "plausible" | "sizes" | "instrument" => LIMITS,
        _ => of_declaration(said),
    }
}
