//! `closed`: what the closed jobs of a folder teach: hours beside those that the procedure states, what was found again and
//! again, and what of that might be written into the procedure, or into the changes of one job, as text to paste.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;

use super::jobs::each_job;
use super::next::section;
use super::output;
use crate::decide::author_notes;
use crate::english::counted;
use crate::procedure::model::{StepId, StepKey};
use crate::quantity::{Quantity, Unit};
use crate::source::Span;
use crate::workshop::{JobView, Workshop};

/// Jobs in which something has to come again before it is told. Our own choice, no source.
const AGAIN: usize = 2;
/// How far hours may lie from the stated ones, as a share of these, before others are proposed. Our own choice, no source.
const APART: f64 = 0.25;

/// What the closed jobs of a folder teach: hours, findings that come again, and edits to the procedure
#[derive(Debug, Args)]
pub(super) struct Closed {
    /// The folder with the records
    #[arg(value_name = "FOLDER")]
    folder: PathBuf,
}

/// What is known of a step from the jobs in which it was done.
struct Worked {
    /// How a change names it: `strip open_head`.
    named: String,
    title: String,
    /// Where the procedure speaks of it.
    place: String,
    /// What it states, in minutes of one person.
    stated: Option<f64>,
    /// How many work on it together.
    hands: u32,
    /// What it took, in minutes of one person; by the job.
    took: Vec<(String, f64)>,
}

/// Something that was found.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Finding {
    about: String,
    found: String,
    said: Option<String>,
    place: String,
}

/// What the closed jobs of one family have.
#[derive(Default)]
struct Family {
    jobs: Vec<String>,
    steps: BTreeMap<StepId, Worked>,
    found: BTreeMap<Finding, BTreeSet<String>>,
}

impl Closed {
    pub(super) fn run(&self) -> ExitCode {
        let mut families: BTreeMap<String, Family> = BTreeMap::new();
        let mut open = 0;
        let taken = each_job(&self.folder, |workshop, view| {
            if view.plan.at_work().is_some() {
                open += 1;
                return;
            }
            let family = view.procedure.family.as_ref();
            let title = family.map_or_else(String::new, |family| family.naming.title.clone());
            families.entry(title).or_default().take(workshop, view);
        });
        let code = match taken {
            Ok(code) => code,
            Err(code) => return code,
        };
        let told: Vec<String> = families.iter().map(|(title, family)| family.told(title)).collect();
        output::print(&told.join("\n"));
        if open > 0 {
            output::print(&format!("{} not closed yet\n", counted(open, "job")));
        }
        code
    }
}

impl Family {
    /// Adds what a closed job has.
    fn take(&mut self, workshop: &Workshop, view: &JobView) {
        let job = view.job.name.clone().unwrap_or_default();
        let place = |span: Span| {
            let file = workshop.sources().file(span.file);
            format!("{}:{}", file.path.display(), file.position(span.start()).line)
        };
        for done in &view.job.done {
            let (StepKey::Written(id, _), Some(time)) = (&done.step, done.time) else { continue };
            let step = view.procedure.step(*id);
            let hands = step.hands.max(1);
            let worked = self.steps.entry(*id).or_insert_with(|| Worked {
                named: format!("{} {}", step.phase.word(), step.naming.id),
                title: step.naming.title.clone(),
                place: place(step.naming.span),
                stated: step.time.map(|time| time.base() / 60.0 * f64::from(hands)),
                hands,
                took: Vec::new(),
            });
            worked.took.push((job.clone(), time.base() / 60.0));
        }
        for note in author_notes(&view.procedure, &view.job) {
            let finding = Finding {
                about: note.about,
                found: note.found,
                said: note.procedure_says,
                place: note.declared.map(place).unwrap_or_default(),
            };
            self.found.entry(finding).or_default().insert(job.clone());
        }
        self.jobs.push(job);
    }

    fn told(&self, title: &str) -> String {
        let all = self.jobs.len();
        let mut out = format!("{title}: {}\n", counted(all, "closed job"));
        let hours: Vec<String> = self.steps.values().map(Worked::told).collect();
        section(&mut out, "Time by step, all people together", &hours);
        let again = || self.found.iter().filter(|(_, jobs)| jobs.len() >= AGAIN);
        let found: Vec<String> = again()
            .map(|(Finding { about, found, said, .. }, jobs)| {
                let said = said.as_ref().map_or(String::new(), |said| format!("; the procedure says {said}"));
                format!("{about}: {found}, in {} of {all}{said}", jobs.len())
            })
            .collect();
        section(&mut out, "Found again", &found);
        let mut edits: Vec<String> = self.steps.values().filter_map(Worked::proposed).collect();
        edits.extend(again().map(|(finding, jobs)| finding.proposed(jobs.len(), all)));
        section(&mut out, "Proposed for the procedure: look at each, and paste what is right", &edits);
        let times: Vec<String> = self.steps.values().filter_map(Worked::for_one_job).collect();
        section(
            &mut out,
            "Or for the next job alone, into the file of its `changes`: plan and estimate then count with these times, and say so",
            &times,
        );
        out
    }
}

impl Worked {
    fn jobs(&self) -> usize {
        self.took.iter().map(|(job, _)| job).collect::<BTreeSet<_>>().len()
    }

    /// The middle one of the times that it took; of two the longer.
    fn middle(&self) -> f64 {
        let mut took: Vec<f64> = self.took.iter().map(|(_, minutes)| *minutes).collect();
        took.sort_by(f64::total_cmp);
        took.get(took.len() / 2).copied().unwrap_or_default()
    }

    fn told(&self) -> String {
        let took: Vec<String> = self.took.iter().map(|(_, took)| minutes(*took)).collect();
        let stated = self
            .stated
            .map_or_else(|| "not stated".to_owned(), |stated| format!("stated {}", minutes(stated)));
        format!("{}: {stated}, took {}", self.title, took.join(", "))
    }

    /// The time that is proposed, for one of the people who work on it together; none where the stated one will do, or where one job
    /// alone has it.
    fn each(&self) -> Option<String> {
        let middle = self.middle();
        let apart = self.stated.is_none_or(|stated| (middle - stated).abs() > APART * stated);
        (apart && self.jobs() >= AGAIN).then(|| minutes(middle / f64::from(self.hands)))
    }

    fn proposed(&self) -> Option<String> {
        let Worked { title, place, .. } = self;
        self.each().map(|each| format!("{place}: in the step \"{title}\": time {each}"))
    }

    /// The change of one job that states it, with where it comes from.
    fn for_one_job(&self) -> Option<String> {
        let took: Vec<String> =
            self.took.iter().map(|(job, took)| format!("{} in {job}", minutes(*took))).collect();
        let took = took.join(", ").replace(['\n', '"'], " ");
        self.each()
            .map(|each| format!("change {} {{ time {each} }}  -- all people together: {took}", self.named))
    }
}

impl Finding {
    fn proposed(&self, jobs: usize, all: usize) -> String {
        let Finding { about, found, said, place } = self;
        match said {
            Some(said) => format!("{place}: {about}: {found} in place of {said}"),
            None => {
                // What is to be done then is the shop's to say.
                let words = format!("{about}: {found}, as in {jobs} of {all} jobs").replace('"', "'");
                format!("{place}: in the step that comes to it: if \"{words}\" do \"Stop and ask.\"")
            }
        }
    }
}

/// Minutes as a procedure has them.
fn minutes(minutes: f64) -> String {
    let rounded = minutes.round();
    Unit::find("min").map_or_else(String::new, |unit| Quantity::from_base(rounded * 60.0, unit, 0).printed())
}
