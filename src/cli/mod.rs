//! Command line: arguments to stages, one file per command, exit codes.
//!
//! A command is a variant of `Command` and a file of its name with a `run`. Exit codes: 0 fine, 1 faults in the
//! input, 2 wrong use or a file that can't be read.

mod added;
mod calendar;
mod check;
mod closed;
mod compare;
mod complaint;
mod editor;
mod entry;
mod errors;
mod gather;
mod graph;
mod help;
mod jobs;
mod ledger;
mod left_blank;
mod manual;
mod meant;
mod mend;
mod new;
mod next;
mod notes;
mod order;
mod output;
mod packet;
mod phases;
mod prepared;
mod progress;
mod reckon;
mod record;
mod run;
mod sheets;
mod shelf;
mod shop;
mod sitting;
mod tidy;
mod verdict;
mod watch;
mod why;
mod writing;
mod wrong_use;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::error::ErrorKind;
use clap::{CommandFactory, Parser, Subcommand};

use crate::diagnostics::codes::cli as codes;

/// Turns engine rebuild procedures into printed work packets for the bench.
#[derive(Debug, Parser)]
#[command(name = "benchleaf", version, arg_required_else_help = true)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

/// The commands, in the order in which they are listed.
#[derive(Debug, Subcommand)]
enum Command {
    New(new::New),
    Check(check::Check),
    Tidy(tidy::Tidy),
    Shelf(shelf::Shelf),
    Compare(compare::Compare),
    Order(order::Order),
    Why(why::Why),
    Graph(graph::Graph),
    Ledger(ledger::Ledger),
    Packet(packet::PacketCommand),
    Complaint(complaint::ComplaintCommand),
    Verdict(verdict::Verdict),
    Record(record::Record),
    Gather(gather::Gather),
    Next(next::Next),
    Shop(shop::Shop),
    Closed(closed::Closed),
    Notes(notes::Notes),
    Reckon(reckon::Reckon),
    Editor(editor::Editor),
    Manual(manual::Manual),
}

impl Command {
    fn run(&self) -> ExitCode {
        match self {
            Command::New(command) => command.run(),
            Command::Check(command) => command.run(),
            Command::Tidy(command) => command.run(),
            Command::Shelf(command) => command.run(),
            Command::Compare(command) => command.run(),
            Command::Order(command) => command.run(),
            Command::Why(command) => command.run(),
            Command::Graph(command) => command.run(),
            Command::Ledger(command) => command.run(),
            Command::Packet(command) => command.run(),
            Command::Complaint(command) => command.run(),
            Command::Verdict(command) => command.run(),
            Command::Record(command) => command.run(),
            Command::Gather(command) => command.run(),
            Command::Next(command) => command.run(),
            Command::Shop(command) => command.run(),
            Command::Closed(command) => command.run(),
            Command::Notes(command) => command.run(),
            Command::Reckon(command) => command.run(),
            Command::Editor(command) => command.run(),
            Command::Manual(command) => command.run(Arguments::command()),
        }
    }
}

/// A negative number with a decimal comma, or with nothing before its point, as one that is not taken for an option.
fn pointed(word: OsString) -> OsString {
    let Some(rest) = word.to_str().and_then(|word| word.strip_prefix('-')) else { return word };
    let number = rest.bytes().all(|byte| byte.is_ascii_digit() || b",.".contains(&byte));
    match rest.split_once([',', '.']) {
        Some((whole, places)) if number && !places.is_empty() => {
            let whole = if whole.is_empty() { "0" } else { whole };
            format!("-{whole}.{places}").into()
        }
        _ => word,
    }
}

/// Runs one command line and gives the code to exit with.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let words: Vec<OsString> = arguments.into_iter().map(pointed).collect();
    let answer = match Arguments::try_parse_from(&words) {
        Ok(arguments) => return arguments.command.run(),
        Err(answer) => answer,
    };
    let mut root = Arguments::command();
    root.build();
    let asked = help::Asked::of(&root, &words);
    match answer.kind() {
        ErrorKind::DisplayHelp => output::print(&asked.page()),
        ErrorKind::DisplayVersion => output::print(concat!("benchleaf ", env!("CARGO_PKG_VERSION"), "\n")),
        // Nothing was asked for: what there is.
        ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand => {
            output::complain(&asked.page());
            return codes::WRONG_USE.exit.into();
        }
        _ => return output::refuse(&wrong_use::complaint(&answer, &asked)),
    }
    ExitCode::SUCCESS
}
