//! What follows from a procedure and the record of a job: answers, values of gauges, what becomes of each part
//! and why, which torques are known, what is done and what is in hand.
//!
//! What is not known stays open and names the questions that it hangs on; nothing is assumed. It must not know in
//! what order work is done.

mod acceptance;
mod answers;
mod approval;
mod because;
mod book;
mod came;
mod changed;
mod choosing;
mod conditions;
mod decisions;
mod errors;
mod fates;
mod findings;
mod follow;
mod formula;
mod found;
mod in_hand;
mod kit;
mod lines;
mod lint;
mod meaning;
mod never;
mod notes;
mod offset;
mod pieces;
mod present;
mod progress;
mod remaining;
mod report;
mod resting;
mod selecting;
mod sets;
mod settling;
mod shopping;
mod showings;
mod shown;
mod sized_before;
mod sizes;
mod sizing;
mod slips;
mod standing;
mod too_soon;
mod torques;
mod traced;
mod truth;
mod used_up;
mod values;
mod waits;
mod word;
mod words;

pub(crate) use acceptance::goes_into_a_clearance;
pub(crate) use approval::{within, within_the_limit};
pub(crate) use because::{Because, Reason};
pub(crate) use conditions::{by_answer, by_place, given_words, hangs_on, if_any, shared_name};
pub use decisions::*;
pub(crate) use kit::{InCrib, in_stock, kit_in_crib};
pub(crate) use lines::{NotCalledFor, OrderLine, OrderList, WorkLine, totals};
pub(crate) use lint::lint;
pub(crate) use meaning::{Meaning, meaning, puts_a_sleeve_in};
pub(crate) use notes::{author_notes, notes_json, notes_text};
pub(crate) use pieces::{GoesIn, part_goes_in, set_goes_in};
pub(crate) use progress::progress;
pub(crate) use report::{csv_table, machining_csv, order_csv, verdict_json, verdict_text};
pub(crate) use selecting::choosing_rule;
pub(crate) use settling::{settled, without_missing};
pub(crate) use shopping::{machine_shop_order, order_list, part_number};
pub(crate) use showings::{Figure, Gone, Showing, showings};
pub(crate) use sizes::{Fates, Present, Sizes};
pub(crate) use standing::Waits;
pub(crate) use torques::{Torque, Torques};
pub(crate) use truth::{Truth, places_asked};
pub(crate) use used_up::UsedUp;
pub(crate) use waits::{answer_words, look_words, never_words, reading_words};
pub(crate) use words::came_without_it;

use std::collections::{BTreeMap, BTreeSet};

use crate::diagnostics::Outcome;
use crate::procedure::model::{Procedure, StepKey};
use crate::record::Job;
use crate::structure::Structure;

/// Decides what can be decided. An empty job (`Job::default()`) leaves everything open but what the procedure
/// alone settles.
///
/// ```
/// use benchleaf::{Job, Sources, bind_record, connect, decide, parse, read_record, resolve};
///
/// let mut sources = Sources::new();
/// let text = "family pump \"Pump\" { origin \"invented\" }\nask fan \"Is a fan fitted?\" = yes, no\n";
/// let file = sources.add("pump.rebuild", text);
/// let pump = resolve(&[parse(file, text).value]).value;
/// let structure = &connect(&pump).value.structure;
/// let open = decide(&pump, structure, &Job::default()).value;
///
/// let yaml = "job: \"2026-001\"\nprocedure: pump.rebuild\nanswers:\n  fan: yes\n";
/// let record = sources.add("job.yaml", yaml);
/// let job = bind_record(&read_record(record, yaml).value, &pump).value;
/// let answered = decide(&pump, structure, &job).value;
///
/// assert!(open.answers.keys().eq(answered.answers.keys()));
/// assert_ne!(open.answers, answered.answers);
/// ```
pub fn decide(procedure: &Procedure, structure: &Structure, job: &Job) -> Outcome<Decisions> {
    let mut outcome = decide_by(procedure, structure, job);
    if settling::hangs_on_answers(procedure) {
        // An answer may settle the limits that another is judged by.
        for _ in 0..=outcome.value.answers.len() {
            let next = decide_by(&settled(procedure, &outcome.value), structure, job);
            let same = next.value.answers == outcome.value.answers;
            outcome = next;
            if same {
                break;
            }
        }
    }
    outcome
}

/// Steps that are done: those that the record says are, and those that only send out, take back or accept what the record
/// has sent, back or accepted.
fn done(procedure: &Procedure, job: &Job) -> BTreeSet<StepKey> {
    let said = job.done.iter().map(|done| done.step.clone());
    let outside = procedure.steps.numbered().flat_map(|(id, _)| job.passed_outside(procedure, id));
    said.chain(outside).collect()
}

/// Decides by the values that hang on no answer.
fn decide_by(procedure: &Procedure, structure: &Structure, job: &Job) -> Outcome<Decisions> {
    let mut diagnostics = Vec::new();
    let mut book = book::Book::new(procedure, structure, job, &mut diagnostics);
    let mut decisions = Decisions {
        identification: answers::identify(procedure, job, &mut diagnostics),
        engine_found: found::of_the_engine(job),
        answers: BTreeMap::new(),
        values: BTreeMap::new(),
        fates: BTreeMap::new(),
        sets: BTreeMap::new(),
        findings: Vec::new(),
        chosen: BTreeMap::new(),
        torques: Torques::new(procedure, job.general_torques.as_ref()),
        done: done(procedure, job),
        done_at: job.done.iter().map(|done| (done.step.clone(), done.signature.date, done.at)).collect(),
        last_day: job.last_day(),
        partly: BTreeMap::new(),
        not_done: job.not_done.iter().map(|said| (said.step.clone(), said.words())).collect(),
        in_hand: in_hand::in_hand(job),
        own_parts: job.extra_parts.iter().map(|(id, part)| (*id, part.count)).collect(),
        came: came::came(procedure, job),
        never: book.never.clone(),
        to_measure: Vec::new(),
        leave_to_strip: job.intake.leave_to_strip.is_some(),
        of_a_job: job.name.is_some(),
    };
    for partly in &job.partly {
        let (step, place) = partly.step;
        decisions.partly.entry(step).or_default().push(place);
    }
    // A part's fate hangs on readings as found, and readings as built on the fates of parts: a fate that is
    // settled may settle an answer, or take its reading from one, and an answer may settle another fate.
    for _ in 0..=procedure.parts.len() + procedure.gauges.len() {
        let before = (decisions.answers.clone(), decisions.fates.clone());
        book.superseded = changed::superseded(&book, &decisions);
        book.fates.clone_from(&decisions.fates);
        answers::answer(&book, &mut decisions);
        fates::fates(&book, &mut decisions);
        if (&decisions.answers, &decisions.fates) == (&before.0, &before.1) {
            break;
        }
    }
    book.superseded = changed::superseded(&book, &decisions);
    book.fates.clone_from(&decisions.fates);
    decisions.findings = findings::findings(&book, &decisions);
    diagnostics.extend(findings::left_beyond(&book, &decisions));
    diagnostics.extend(answers::idle_words(&book, &decisions));
    decisions.sets = sets::sets(&book, &decisions);
    diagnostics.extend(found::counted_twice(&book, &decisions.sets));
    diagnostics.extend(found::too_many(&book));
    selecting::select(&book, &mut decisions);
    diagnostics.extend(selecting::other_pieces(&book, &decisions));
    acceptance::holds(&book, &mut decisions);
    shopping::wait_for_the_owner(procedure, job, &mut decisions);
    never::tell(&mut decisions);
    diagnostics.extend(sized_before::complaints(&book));
    diagnostics.extend(too_soon::sent_too_soon(procedure, job, &decisions));
    diagnostics.extend(too_soon::accepted_not_good(procedure, job, &decisions));
    diagnostics.extend(in_hand::wrong_sizes(&book, &decisions));
    diagnostics.extend(approval::over_limits(job));
    diagnostics.extend(approval::of_nothing(job));
    diagnostics.extend(word::second_names(&book, &decisions));
    decisions.to_measure = remaining::to_measure(&book, &decisions);
    Outcome { value: decisions, diagnostics }
}
