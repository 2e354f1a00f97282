//! `editor`: what an editor shows beside a procedure while it is written.

use std::process::ExitCode;

use clap::Args;

use super::{errors, output};
use crate::editor::serve;

/// Serve an editor over standard input and output, in the language server protocol: complaints while typing, help, names, order
#[derive(Debug, Args)]
pub(super) struct Editor {}

impl Editor {
    #[expect(clippy::unused_self, reason = "every command runs by itself")]
    pub(super) fn run(&self) -> ExitCode {
        match serve() {
            Ok(()) => ExitCode::SUCCESS,
            Err(words) => output::refuse(&errors::editor_left(&words)),
        }
    }
}
