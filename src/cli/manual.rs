//! `manual`: a page of the manual for every command, and what shells need to complete a line, all made of the declarations of
//! the commands themselves.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Args, Command};
use clap_complete::{Shell, generate};
use clap_mangen::Man;

use super::{errors, output};
use crate::english::counted;
use crate::source::write_atomically;

/// Write the pages of the manual, and what shells need to complete a command line, into a folder
#[derive(Debug, Args)]
pub(super) struct Manual {
    /// A folder that is there
    #[arg(value_name = "FOLDER")]
    folder: PathBuf,
}

/// The shells, each with the name under which it looks for its file.
const SHELLS: [(Shell, &str); 4] = [
    (Shell::Bash, "benchleaf.bash"),
    (Shell::Zsh, "_benchleaf"),
    (Shell::Fish, "benchleaf.fish"),
    (Shell::PowerShell, "benchleaf.ps1"),
];

impl Manual {
    /// Writes everything that follows from the commands below `root`.
    pub(super) fn run(&self, mut root: Command) -> ExitCode {
        let mut files: Vec<(String, Vec<u8>)> = Vec::new();
        // Before anything builds it: a page of `help` for each command would say again what its own page says.
        let mut paged = root.clone().disable_help_subcommand(true);
        for (shell, name) in SHELLS {
            let mut bytes = Vec::new();
            generate(shell, &mut root, "benchleaf", &mut bytes);
            files.push((name.to_owned(), bytes));
        }
        paged.build();
        pages(&paged, "benchleaf", &mut files);
        for (name, bytes) in &files {
            let path: &Path = &self.folder.join(name);
            if let Err(error) = write_atomically(path, bytes) {
                return output::refuse(&errors::unwritable(path, &error));
            }
        }
        let pages = files.len() - SHELLS.len();
        output::print(&format!(
            "{}: {} of the manual, and completion for {} shells\n",
            self.folder.display(),
            counted(pages, "page"),
            SHELLS.len()
        ));
        ExitCode::SUCCESS
    }
}

/// The page of a command, and those of the commands below it.
fn pages(command: &Command, name: &str, files: &mut Vec<(String, Vec<u8>)>) {
    let mut bytes = Vec::new();
    // Writing to memory can't fail.
    if Man::new(command.clone()).title(name).render(&mut bytes).is_ok() {
        files.push((format!("{name}.1"), bytes));
    }
    for inner in command.get_subcommands().filter(|inner| !inner.is_hide_set()) {
        pages(inner, &format!("{name}-{}", inner.get_name()), files);
    }
}
