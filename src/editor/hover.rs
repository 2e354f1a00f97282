//! What is known of the name at a place: what it is, where it stands in the order, what it is tightened to and what preload
//! that gives.

use std::path::Path;

use lsp_types::{Hover, HoverContents, MarkupContent, MarkupKind, Position};

use super::found::{Found, Root};
use super::names;
use super::places::range;
use crate::language::{Part, Spelled, help, spelled_at, wanted};
use crate::plan::{PhasePlan, PlacedKind, PlannedLine, PlannedStep, line_of, reason_words};
use crate::procedure::clamping::{Added, clamping};
use crate::procedure::model::{JointId, Name, Procedure, StepId, StepKey};
use crate::quantity::{Force, Unit, rounded};
use crate::source::FileId;
use crate::workshop::JobView;

/// Lines of a declaration that are shown.
const MOST_LINES: usize = 16;
/// Neighbours of a step that are named.
const MOST_NEIGHBOURS: usize = 4;

/// What is shown of what stands at a place: of a name what is known of it, of a word that begins a clause its line of help.
pub(super) fn hover(found: &Found, path: &Path, text: &str, position: Position) -> Option<Hover> {
    let (words, start, end) =
        match names::at(text, position).filter(|at| found.named(path, &at.name).is_some()) {
            Some(at) => {
                let (root, procedure, name) = found.named(path, &at.name)?;
                (about(found, root, procedure, name), at.span.start(), at.span.end())
            }
            None => of_clause(text, position)?,
        };
    let contents = HoverContents::Markup(MarkupContent { kind: MarkupKind::Markdown, value: words });
    Some(Hover { contents, range: Some(range(text, start, end)) })
}

/// The line of help of the clause that a fixed word belongs to.
fn of_clause(text: &str, position: Position) -> Option<(String, usize, usize)> {
    let byte = super::places::byte(text, position);
    let words = spelled_at(FileId::default(), text, byte);
    let index = words.iter().position(|word| word.span.start() <= byte && byte <= word.span.end())?;
    // A clause may begin with several words.
    let fixed = |word: &&Spelled| word.part == Part::Fixed;
    let run =
        |word: &&Spelled| fixed(word) && !text[words[index].span.start()..word.span.start()].contains('\n');
    let word = words.get(index).filter(fixed)?;
    let last = words[index..].iter().take_while(run).last()?;
    let behind = wanted(FileId::default(), text, last.span.end());
    let line = help(&behind.owner, &behind.clause)?;
    Some((format!("`{}`: {line}", behind.clause), word.span.start(), word.span.end()))
}

fn about(found: &Found, root: &Root, procedure: &Procedure, name: Name) -> String {
    let naming = procedure.naming(name);
    let mut lines = vec![format!("**{}** `{}`: {}", capital(name.kind()), naming.id, naming.title)];
    lines.push(format!("declared in {}", line_of(found.sources(), naming.span)));
    if let Name::Joint(id) = name {
        lines.extend(preload(procedure, id));
    }
    if let Name::Set(id) = name {
        let of_set =
            |joint: &JointId| procedure.joint(*joint).members.iter().any(|member| member.set.id == id);
        lines.extend(procedure.joints.ids().filter(of_set).flat_map(|joint| preload(procedure, joint)));
    }
    if let Some(view) = &root.view {
        match name {
            Name::Step(id) => lines.extend(of_step(found, view, id)),
            Name::Part(id) => {
                let named = &procedure.part(id).naming.id;
                lines.extend(of_part(view, named));
            }
            _ => {}
        }
    }
    let text = &found.sources().file(naming.span.file).text;
    lines.push(format!("```rebuild\n{}\n```", declaration(text, naming.span.start())));
    lines.join("\n\n")
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().collect::<String>()).unwrap_or_default()
        + letters.as_str()
}

/// The text of the declaration in which a name stands, as far as it is shown.
fn declaration(text: &str, at: usize) -> String {
    let start = text[..at].rfind('\n').map_or(0, |line| line + 1);
    let mut depth = 0_i32;
    let mut shown = Vec::new();
    for line in text[start..].lines() {
        shown.push(line);
        depth += i32::try_from(line.matches('{').count()).unwrap_or(0)
            - i32::try_from(line.matches('}').count()).unwrap_or(0);
        if depth <= 0 {
            break;
        }
        if shown.len() == MOST_LINES {
            shown.push("    ...");
            break;
        }
    }
    shown.join("\n")
}

/// The preload that the torques of a joint give, as an estimate; or why there is none.
fn preload(procedure: &Procedure, id: JointId) -> Vec<String> {
    let joint = procedure.joint(id);
    let title = &joint.naming.title;
    match clamping(procedure, id, &Added::default()) {
        Ok(clamped) => {
            let loads = |joint: &crate::mechanics::joint::Joint| -> Vec<Force> {
                joint.bolts.iter().map(|bolt| bolt.load).collect()
            };
            let least = loads(&clamped.light).into_iter().reduce(Force::min);
            let most = loads(&clamped.heavy).into_iter().reduce(Force::max);
            let (Some(least), Some(most), Some(unit)) = (least, most, Unit::find("kN")) else {
                return Vec::new();
            };
            let mut lines = vec![format!(
                "{title}: preload of a fastener {} to {} when all are tight (an estimate)",
                rounded(least.newtons(), unit),
                rounded(most.newtons(), unit)
            )];
            lines.extend(clamped.assumed.iter().map(|assumed| format!("- assumed: {assumed}")));
            lines
        }
        Err(unknown) => vec![format!("{title}: no preload can be said, since {unknown}")],
    }
}

/// Where a step stands, how far it can be moved, and what it waits for.
fn of_step(found: &Found, view: &JobView, id: StepId) -> Vec<String> {
    let mut lines = Vec::new();
    for (plan, step) in view.plan.steps() {
        if matches!(&step.key, StepKey::Written(written, _) if *written == id) {
            lines.extend(place_of(found, view, plan, step));
        }
    }
    lines.truncate(2 * MOST_NEIGHBOURS);
    lines
}

fn place_of(found: &Found, view: &JobView, plan: &PhasePlan, step: &PlannedStep) -> Vec<String> {
    let id = step.key.id(&view.procedure);
    let number = step.number.map(|number| format!("step {number}, ")).unwrap_or_default();
    let place = plan.order.iter().position(|node| *node == step.node).map_or(0, |place| place + 1);
    let (earliest, latest) = (step.window.earliest, step.window.latest);
    let room = if earliest == latest {
        "no other place is left to it".to_owned()
    } else {
        format!("it could stand at {earliest} to {latest}")
    };
    let mut lines = vec![format!(
        "`{id}`: {number}place {place} of {} in the {}; {room}",
        plan.order.len(),
        plan.phase.word()
    )];
    for reason in step.reasons.iter().take(MOST_NEIGHBOURS) {
        let link = &view.network.links[reason.link];
        let before = view.network.nodes[plan.order[reason.from].index()].id(&view.procedure);
        let why = reason_words(&view.procedure, &view.network, link);
        lines.push(format!("- behind `{before}`: {why} ({})", line_of(found.sources(), link.fact)));
    }
    lines
}

/// The steps that a part comes off and goes on in: those whose acts name it.
fn of_part(view: &JobView, part: &str) -> Vec<String> {
    let mut lines = Vec::new();
    for (plan, step) in view.plan.steps() {
        let touches = step.lines.iter().any(|line| match line {
            PlannedLine::Act(act) => act.things.iter().any(|thing| match thing.kind {
                PlacedKind::Part(id) => view.procedure.part(id).naming.id == part,
                _ => false,
            }),
            _ => false,
        });
        if touches {
            let number = step.number.map(|number| format!(" {number}")).unwrap_or_default();
            lines.push(format!("- {} step{number}: `{}`", plan.phase.word(), step.key.id(&view.procedure)));
        }
    }
    lines.truncate(2 * MOST_NEIGHBOURS);
    lines
}
