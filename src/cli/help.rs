//! How a command is written and what may stand behind it, from its declaration: the page that `--help` gives, and the
//! line that a complaint about wrong use shows.

use std::ffi::OsString;

use clap::{Arg, Command};

use crate::diagnostics::wrapped;

/// Columns of a page.
const WIDTH: usize = 80;
/// Columns from the left at which explanations begin.
const INDENT: usize = 22;

/// A command, with the words that lead to it.
pub(super) struct Asked<'a> {
    pub command: &'a Command,
    leading: Vec<String>,
}

impl<'a> Asked<'a> {
    /// The command that a command line is about: the innermost that it names. `root` must be built.
    pub(super) fn of(root: &'a Command, words: &[OsString]) -> Self {
        let mut asked = Asked { command: root, leading: vec![root.get_name().to_owned()] };
        let names = words.iter().skip(1).filter_map(|word| word.to_str()).filter(|word| *word != "help");
        for name in names {
            if let Some(inner) = asked.command.find_subcommand(name) {
                if !asked.command.is_args_conflicts_with_subcommands_set() {
                    asked.leading.extend(asked.command.get_positionals().map(placed));
                }
                asked.leading.push(name.to_owned());
                asked.command = inner;
            }
        }
        asked
    }

    /// The commands that may follow.
    pub(super) fn commands(&self) -> impl Iterator<Item = &'a Command> + use<'a> {
        self.command.get_subcommands().filter(|command| command.get_name() != "help")
    }

    /// The options and what stands without an option.
    pub(super) fn arguments(&self) -> impl Iterator<Item = &'a Arg> + use<'a> {
        let all = self.command.get_arguments();
        all.filter(|argument| !matches!(argument.get_id().as_str(), "help" | "version"))
    }

    /// The argument that the parser writes so, with an option or by the name of its value.
    pub(super) fn argument(&self, written: &str) -> Option<&'a Arg> {
        let word = written.split([' ', '=']).next().unwrap_or_default();
        self.arguments().find(|argument| match argument.get_long() {
            Some(long) => word.strip_prefix("--") == Some(long),
            None => written.starts_with(&placed(argument).replace(" ...", "")),
        })
    }

    /// How it is written, with no option that may be left out but those in `wanted`: `benchleaf graph PROCEDURE --output
    /// FILE`.
    pub(super) fn written(&self, wanted: &[String]) -> String {
        let mut words = self.leading.clone();
        words.extend(self.arguments().filter_map(|argument| {
            let placed = placed(argument);
            if argument.is_required_set() || wanted.contains(&placed) {
                Some(placed)
            } else {
                argument.is_positional().then(|| format!("[{placed}]"))
            }
        }));
        if self.commands().next().is_some() && !self.command.is_args_conflicts_with_subcommands_set() {
            words.push("COMMAND".to_owned());
        }
        words.join(" ")
    }

    /// The page of help.
    pub(super) fn page(&self) -> String {
        let name = self.leading.iter().filter(|word| word.chars().all(|c| c.is_ascii_lowercase()));
        let name = name.map(String::as_str).collect::<Vec<_>>().join(" ");
        let rule = "─".repeat(WIDTH.saturating_sub(name.len() + 1));
        let mut page = format!("{name} {rule}\n");
        let about = self.command.get_about().map(ToString::to_string).unwrap_or_default();
        page.extend(wrapped(&about, WIDTH - 2).iter().map(|line| format!("  {line}\n")));
        page += "\n";
        page += &row("  Write:", &self.written(&[]));
        let mut rows: Vec<(String, String)> =
            self.arguments().map(|argument| (shown(argument), explained(argument))).collect();
        if !rows.is_empty() {
            page += "\n";
        }
        // What stands without an option comes first, in its order.
        rows.sort_by_key(|(shown, _)| shown.starts_with('-'));
        for (shown, said) in rows {
            page += &row(&format!("  {shown}"), &said);
        }
        let mut commands = self.commands().peekable();
        if commands.peek().is_some() {
            page += "\n";
        }
        for command in commands {
            let about = command.get_about().map(ToString::to_string).unwrap_or_default();
            page += &row(&format!("  {}", command.get_name()), &about);
        }
        if self.commands().next().is_some() {
            page += &format!("\n  `{name} COMMAND --help` tells more of a command.\n");
        }
        page
    }
}

/// A word or two on the left and what is said of them on the right; below them where they are too long.
fn row(left: &str, right: &str) -> String {
    let mut lines = wrapped(right, WIDTH - INDENT).into_iter();
    let mut out = left.to_owned();
    if left.chars().count() < INDENT {
        let first = lines.next().unwrap_or_default();
        out += &" ".repeat(INDENT - left.chars().count());
        out += &first;
    }
    for line in lines {
        out += &format!("\n{:INDENT$}{line}", "");
    }
    out + "\n"
}

/// An argument as it is typed: `--output FILE`, `PATH ...`.
pub(super) fn placed(argument: &Arg) -> String {
    let value = argument.get_value_names().unwrap_or_default().iter().map(|name| name.to_string());
    let mut value = value.collect::<Vec<_>>().join(" ");
    let id = argument.get_id().as_str();
    if !argument.is_positional() && value.eq_ignore_ascii_case(id) {
        // The option's own name once more would say nothing.
        value = if argument.get_possible_values().is_empty() { "VALUE" } else { "WORD" }.to_owned();
    }
    let several = argument.get_num_args().is_some_and(|count| count.max_values() > 2);
    if argument.is_positional() && several && !value.contains(' ') {
        value += " ...";
    }
    match argument.get_long() {
        Some(long) if argument.get_action().takes_values() => format!("--{long} {value}"),
        Some(long) => format!("--{long}"),
        None => value,
    }
}

/// The same with its short name, for a list.
fn shown(argument: &Arg) -> String {
    match argument.get_short() {
        Some(short) => format!("-{short}, {}", placed(argument)),
        None => placed(argument),
    }
}

/// What an argument means, which words it can be, and what it is if nothing is said.
fn explained(argument: &Arg) -> String {
    let mut said = argument.get_help().map(ToString::to_string).unwrap_or_default();
    let defaults = argument.get_default_values().iter().map(|value| value.to_string_lossy());
    let default = defaults.collect::<Vec<_>>().join(" ");
    if argument.get_action().takes_values() {
        let values = argument.get_possible_values();
        let plain = values.iter().all(|value| value.get_help().is_none());
        if plain && !values.is_empty() {
            let names: Vec<String> = values.iter().map(|value| format!("`{}`", value.get_name())).collect();
            said += &format!(": {}", names.join(", "));
        }
        if !default.is_empty() {
            said += &format!("; `{default}` if nothing is said");
        }
        for value in values.iter().filter(|_| !plain) {
            let help = value.get_help().map(ToString::to_string).unwrap_or_default();
            let mut letters = help.chars();
            let first = letters.next().map(|letter| letter.to_ascii_lowercase());
            said += &format!(
                "\n`{}`: {}",
                value.get_name(),
                first.into_iter().chain(letters).collect::<String>()
            );
        }
    }
    said
}
