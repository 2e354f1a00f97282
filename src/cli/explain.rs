//! `explain`: the paragraph behind a code.

use std::process::ExitCode;

use clap::Args;

use super::errors;
use super::output::{self, Format};
use crate::diagnostics::{codes, nearest};
use crate::source::Sources;

/// Columns that paragraphs are wrapped at.
const WIDTH: usize = 90;

/// Explain a code, such as `procedure/unknown-name`, or list all codes
#[derive(Debug, Args)]
pub struct Explain {
    /// The code that stands beside a complaint
    #[arg(value_name = "CODE")]
    code: Option<String>,
}

impl Explain {
    pub fn run(&self) -> ExitCode {
        let Some(name) = &self.code else {
            let lines =
                codes::all().into_iter().map(|code| format!("{:8} {}\n", code.severity.word(), code.name));
            output::print(&lines.collect::<String>());
            return ExitCode::SUCCESS;
        };
        match codes::find(name) {
            Some(code) => {
                let text = wrapped(code.explanation, WIDTH);
                output::print(&format!("{} ({})\n\n{text}\n", code.name, code.severity.word()));
                ExitCode::SUCCESS
            }
            None => {
                let near = nearest(name, codes::all().into_iter().map(|code| code.name));
                let diagnostics = [errors::unknown_code(name, near)];
                output::report(&Sources::new(), &diagnostics, Format::Text);
                output::exit_code(&diagnostics)
            }
        }
    }
}

/// Text broken into lines at spaces.
fn wrapped(text: &str, width: usize) -> String {
    let mut out = String::new();
    let mut column = 0;
    for word in text.split_whitespace() {
        let length = word.chars().count();
        if column > 0 && column + 1 + length > width {
            out.push('\n');
            column = 0;
        } else if column > 0 {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += length;
    }
    out
}
