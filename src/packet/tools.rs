//! With what a step is worked, in the line below its title: tools and supplies.

use super::bench::Bench;
use super::hazard::Together;
use super::wrenches;
use crate::english::noun;
use crate::plan::words::inner;
use crate::procedure::model::{Local, Places, Step, Tool};
use crate::sheet::Text;

/// A size as a number of its unit, and as it is printed.
type Size = (f64, String);

/// With what: tools and supplies.
pub(super) fn told(bench: &Bench, steps: &Together) -> Vec<Text> {
    let procedure = bench.procedure;
    let step = together(bench, steps);
    let mut facts = Vec::new();
    let tools = wrenches::tools_beside(bench, steps, &step).into_iter();
    let tools = with_sizes_joined(tools.map(|tool| procedure.tool(tool)));
    let mut told = Text::default();
    for tool in tools.into_iter().map(Text::plain).chain(wrenches::of_steps(bench, steps)) {
        let before = if told.0.is_empty() { "Tools: " } else { "; " };
        told = told.and(before);
        told.0.extend(tool.0);
    }
    if !told.0.is_empty() {
        facts.push(told);
    }
    if !step.supplies.is_empty() {
        let supplies: Vec<String> = step
            .supplies
            .iter()
            .map(|Local { what: (supply, amount, _), .. }| {
                let title = inner(&procedure.supply(*supply).naming.title);
                match amount {
                    Some(amount) => format!("{title}, {}", amount.printed()),
                    None => title,
                }
            })
            .collect();
        facts.push(Text::plain(format!("Supplies: {}", supplies.join("; "))));
    }
    facts
}

/// The names of tools within a sentence; those that differ in nothing but the size with which their names begin stand as one:
/// `sockets AF 10, 13, 17`.
fn with_sizes_joined<'t>(tools: impl Iterator<Item = &'t Tool>) -> Vec<String> {
    let mut told: Vec<(Option<String>, String, Vec<Size>)> = Vec::new();
    for tool in tools {
        let name = inner(&tool.naming.title);
        let size = tool.size.map(|size| size.printed().replace('\u{a0}', " "));
        let kind = size
            .as_ref()
            .and_then(|size| name.strip_prefix(size.as_str()))
            .map(|kind| kind.trim().to_owned());
        let number = size.as_ref().and_then(|size| size.strip_suffix(" mm"));
        let number = number.zip(tool.size).map(|(number, size)| (size.base(), number.to_owned()));
        let (kind, sizes) = match (kind, number) {
            (Some(kind), Some(number)) => (Some(kind), vec![number]),
            _ => (None, Vec::new()),
        };
        match told.iter_mut().find(|(known, ..)| kind.is_some() && *known == kind) {
            Some((_, _, known)) => known.extend(sizes),
            None => told.push((kind, name, sizes)),
        }
    }
    told.into_iter()
        .map(|(kind, name, mut sizes)| match kind {
            Some(kind) if sizes.len() > 1 => {
                sizes.sort_by(|(a, _), (b, _)| a.total_cmp(b));
                let printed: Vec<&str> = sizes.iter().map(|(_, printed)| printed.as_str()).collect();
                format!("{} AF {}", noun(sizes.len(), &kind), printed.join(", "))
            }
            _ => name,
        })
        .collect()
}

/// The first of the steps, with the people, tools and supplies of all. How long it takes is said once: they share the time of
/// what they undo.
pub(super) fn together(bench: &Bench, steps: &Together) -> Step {
    let mut all = bench.step(steps[0]).clone();
    (all.tools, all.supplies) = Default::default();
    for (planned, step) in steps.iter().map(|planned| (planned, bench.step(planned))) {
        all.hands = all.hands.max(step.hands);
        let tools = step.tools.iter().filter_map(|tool| tool.here(&planned.binding));
        tools.for_each(|tool| all.bring_tool(*tool, &Places::default()));
        step.supplies_at(&planned.binding).for_each(|supply| all.bring_supply(*supply, &Places::default()));
    }
    all
}
