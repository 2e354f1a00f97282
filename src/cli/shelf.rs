//! `shelf`: what `use "shared/..."` brings in, each with the name under which a procedure asks for it: the shop's own where it has
//! some, otherwise what comes with the program.

use std::path::Path;
use std::process::ExitCode;

use clap::Args;

use super::output;
use crate::diagnostics::Outcome;
use crate::english::{capital, counted};
use crate::procedure::model::{Hazard, HazardId, Naming, Procedure, Supply, Tool, ToolKind};
use crate::source::{Sources, Span};
use crate::workshop::Workshop;

/// List the tools, supplies and hazards that `use "shared/..."` brings in, each with its name
#[derive(Debug, Args)]
pub(super) struct Shelf {
    /// Only those with these letters in their name or title, such as `oil`
    #[arg(value_name = "WORD")]
    word: Option<String>,
}

/// A procedure that brings everything in, from the folder at hand.
const EVERYTHING: (&str, &str) = (
    "shelf.rebuild",
    "use \"shared/tools\"\nuse \"shared/supplies\"\nuse \"shared/hazards\"\n\
     family shelf \"Shelf\" { origin \"what is at hand\"  invented }\n",
);

/// A line of the list: the name, and what is told of it.
type Line<'a> = (&'a Naming, String);

impl Shelf {
    pub(super) fn run(&self) -> ExitCode {
        let mut workshop = Workshop::new();
        let (path, text) = EVERYTHING;
        workshop.sources_mut().add(path, text);
        let read = workshop.check(Path::new(path));
        let read = Outcome { value: read.value.map(|read| read.procedure), diagnostics: read.diagnostics };
        output::print_if_sound(workshop.sources(), read, |procedure| {
            self.list(&procedure, workshop.sources())
        })
    }

    fn list(&self, procedure: &Procedure, sources: &Sources) -> String {
        let named = |hazards: &[(HazardId, Span)]| {
            hazards.iter().map(|(id, _)| procedure.hazard(*id).naming.id.clone()).collect::<Vec<String>>()
        };
        let tools = procedure.tools.iter().map(|tool| (&tool.naming, of_tool(tool, &named(&tool.hazards))));
        let supplies = procedure.supplies.iter();
        let supplies = supplies.map(|supply| (&supply.naming, of_supply(supply, &named(&supply.hazards))));
        let hazards = procedure.hazards.iter().map(|hazard| (&hazard.naming, of_hazard(hazard)));
        let out: String = [
            self.chapter("tools", "tool", tools.collect(), sources),
            self.chapter("supplies", "supply", supplies.collect(), sources),
            self.chapter("hazards", "hazard", hazards.collect(), sources),
        ]
        .concat();
        match &self.word {
            Some(word) if out.is_empty() => format!(
                "nothing has `{word}` in its name or title: declare it in the procedure, as `tool`, `supply` or `hazard`\n"
            ),
            _ => out,
        }
    }

    /// One of the files, with those of its lines that are asked for.
    fn chapter(&self, shelf: &str, one: &str, lines: Vec<Line>, sources: &Sources) -> String {
        let wanted = self.word.as_deref().unwrap_or_default().to_lowercase();
        let has = |naming: &Naming| {
            let words = [naming.id.as_str(), naming.title.as_str()];
            words.iter().any(|words| words.to_lowercase().contains(&wanted))
        };
        let lines: Vec<Line> = lines.into_iter().filter(|(naming, _)| has(naming)).collect();
        let Some((first, _)) = lines.first() else { return String::new() };
        let widest = lines.iter().map(|(naming, _)| naming.id.len()).max().unwrap_or_default();
        let file = sources.file(first.span.file).path.display();
        let from = match sources.is_there(&sources.file(first.span.file).path) {
            true => format!("from `{file}`"),
            false => "comes with benchleaf".to_owned(),
        };
        let mut out = format!("use \"shared/{shelf}\"  -- {}, {from}\n", counted(lines.len(), one));
        for (naming, said) in lines {
            out += &format!("  {:widest$}  {said}\n", naming.id);
        }
        out + "\n"
    }
}

/// What stands behind a title in brackets.
fn with(title: &str, said: &[String]) -> String {
    if said.is_empty() { title.to_owned() } else { format!("{title} ({})", said.join(", ")) }
}

fn brings(hazards: &[String]) -> Option<String> {
    (!hazards.is_empty()).then(|| format!("brings `hazard {}`", hazards.join("`, `hazard ")))
}

fn of_tool(tool: &Tool, hazards: &[String]) -> String {
    // Of the others the title tells.
    let told = !matches!(tool.kind, ToolKind::Socket | ToolKind::Spanner | ToolKind::Other);
    let kind = told.then(|| tool.kind.word());
    let range = tool.range.map(|(low, high)| format!("{low} to {high}"));
    let special = tool.special.then(|| "special".to_owned());
    let instead = tool.stand_ins.iter().map(|(instead, _)| format!("or {instead}"));
    let said = kind.map(str::to_owned).into_iter().chain(range).chain(special).chain(instead);
    with(&tool.naming.title, &said.chain(brings(hazards)).collect::<Vec<_>>())
}

fn of_supply(supply: &Supply, hazards: &[String]) -> String {
    let open = supply.open_time.map(|time| format!("closed within {}", time.printed()));
    let cure = supply.cure_time.map(|time| format!("sets for {}", time.printed()));
    with(&supply.naming.title, &open.into_iter().chain(cure).chain(brings(hazards)).collect::<Vec<_>>())
}

fn of_hazard(hazard: &Hazard) -> String {
    with(&capital(&hazard.hazard), &[format!("kind {}", hazard.kind.word())])
}
