//! `notes`: what the author of a procedure should change, from the record of a job.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueEnum};

use super::output;
use crate::decide::{author_notes, notes_json, notes_text};
use crate::source::Span;
use crate::workshop::{Named, Workshop};

/// List what the procedure's author should change, from the bench notes of a job
#[derive(Debug, Args)]
pub(super) struct Notes {
    /// The record of the job
    #[arg(value_name = "JOB.yaml")]
    job: PathBuf,
    /// Form of the list
    #[arg(long, value_enum, default_value_t = Form::Text)]
    format: Form,
}

/// In which form notes are given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// One line each
    Text,
    /// One JSON array
    Json,
}

impl Notes {
    pub(super) fn run(&self) -> ExitCode {
        let mut workshop = Workshop::new();
        let decided = workshop.decide(&self.job, Named::default());
        let sources = workshop.sources();
        output::print_if_sound(sources, decided, |decided| {
            let notes = author_notes(&decided.procedure, &decided.job);
            let place = |span: Span| {
                let file = sources.file(span.file);
                let position = file.position(span.start());
                format!("{}:{}:{}", file.path.display(), position.line, position.column)
            };
            match self.format {
                Form::Text if notes.is_empty() => {
                    format!("{}: nothing is noted for the procedure's author\n", self.job.display())
                }
                Form::Text => notes_text(&notes, place),
                Form::Json => notes_json(&notes, place),
            }
        })
    }
}
