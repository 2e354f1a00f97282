//! `complaint`: the paragraph behind the name of a complaint.

use std::process::ExitCode;

use clap::Args;

use super::{errors, output};
use crate::diagnostics::{Code, codes, nearest, wrapped};

/// Columns that paragraphs are wrapped at.
const WIDTH: usize = 80;

/// Explain a complaint by its name, such as `nothing-frees`, or list all complaints
#[derive(Debug, Args)]
pub(super) struct ComplaintCommand {
    /// The name that stands beside a complaint, with its room or without
    #[arg(value_name = "NAME")]
    name: Option<String>,
}

impl ComplaintCommand {
    pub(super) fn run(&self) -> ExitCode {
        let Some(name) = &self.name else {
            let lines =
                codes::all().into_iter().map(|code| format!("{:8} {}\n", code.severity.word(), code.name));
            output::print(&lines.collect::<String>());
            return ExitCode::SUCCESS;
        };
        let found = codes::called(name);
        if found.is_empty() {
            let known: Vec<&str> = codes::all().into_iter().map(|code| code.name).collect();
            let faults = known.iter().filter_map(|name| Some(name.split_once('/')?.1));
            let near = nearest(name, known.iter().copied()).or_else(|| nearest(name, faults));
            return output::refuse(&errors::unknown_complaint(name, near));
        }
        output::print(&found.into_iter().map(paragraph).collect::<Vec<String>>().join("\n"));
        ExitCode::SUCCESS
    }
}

fn paragraph(code: &'static Code) -> String {
    let text = wrapped(code.explanation, WIDTH).join("\n");
    format!("{} ({})\n\n{text}\n", code.name, code.severity.word())
}
