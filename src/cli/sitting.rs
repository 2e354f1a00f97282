//! Who is writing, and for which day: told once a sitting, and kept in the shop's own file beside its crib. A sitting
//! ends with the day on which it was begun.

use std::io::{BufRead, IsTerminal};
use std::path::{Path, PathBuf};

use super::errors;
use crate::diagnostics::Diagnostic;
use crate::gather::day;
use crate::record::{Date, standing};
use crate::source::{days_since_1970, read_bytes, write_atomically};

/// Name of the shop's file.
const NAME: &str = "sitting.yaml";

/// Who writes, and the day that is written down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Writer {
    /// Initials, where they are known.
    pub by: Option<String>,
    /// The day.
    pub date: Date,
}

/// The day by the clock.
fn today() -> Result<Date, Vec<Diagnostic>> {
    Date::from_days_since_1970(days_since_1970())
        .ok_or_else(|| vec![errors::wrong_day("the clock of this machine")])
}

/// The shop's file: beside the crib that the record names, else beside the record.
fn place(record: &Path, text: &str) -> PathBuf {
    let folder = record.parent().unwrap_or(Path::new(""));
    let crib = standing(text, &["crib".to_owned()]).texts;
    let crib = crib.first().map(|crib| folder.join(crib));
    crib.as_deref().and_then(Path::parent).unwrap_or(folder).join(NAME)
}

/// What was typed, else what the sitting says, else today and nobody.
///
/// # Errors
/// The day that was typed is none.
pub(super) fn writer(
    record: &Path,
    text: &str,
    by: Option<&str>,
    date: Option<&str>,
) -> Result<Writer, Vec<Diagnostic>> {
    let today = today()?;
    let kept = read_bytes(&place(record, text)).ok();
    let kept = kept.map(|bytes| String::from_utf8_lossy(&bytes).into_owned()).unwrap_or_default();
    let said = |key: &str| standing(&kept, &[key.to_owned()]).texts.into_iter().next();
    let lasts = said("begun").as_deref().and_then(Date::parse) == Some(today);
    let said = |key: &str| said(key).filter(|_| lasts);
    let of_sitting = said("date").as_deref().and_then(Date::parse).unwrap_or(today);
    let date = match date {
        Some("today" | "x") => today,
        // A day without its year is in that of the sitting.
        Some(typed) => day(typed, of_sitting).ok_or_else(|| vec![errors::wrong_day(typed)])?,
        None => of_sitting,
    };
    Ok(Writer { by: by.map(str::to_owned).or_else(|| said("by")), date })
}

/// Begins a sitting.
///
/// # Errors
/// The day is none, or the file can't be written.
pub(super) fn begin(
    record: &Path,
    text: &str,
    by: &str,
    date: Option<&str>,
) -> Result<Writer, Vec<Diagnostic>> {
    let today = today()?;
    let date = date.map(|typed| writer(record, text, None, Some(typed))).transpose()?;
    let date = date.map(|writer| writer.date);
    let path = place(record, text);
    let mut lines = format!(
        "# Who is writing into the records of this shop, until the day is over. `benchleaf record JOB by INITIALS`\n\
         by: {}\nbegun: {today}\n",
        serde_json::Value::from(by)
    );
    if let Some(date) = date {
        lines += &format!("date: {date}\n");
    }
    write_atomically(&path, lines.as_bytes()).map_err(|error| vec![errors::unwritable(&path, &error)])?;
    Ok(Writer { by: Some(by.to_owned()), date: date.unwrap_or(today) })
}

/// The initials of a writer: where nobody has said them they are asked for at a terminal, and kept.
///
/// # Errors
/// Nobody says who it is.
pub(super) fn signed(
    record: &Path,
    text: &str,
    writer: Writer,
    date: Option<&str>,
) -> Result<(String, Date), Vec<Diagnostic>> {
    if let Some(by) = writer.by {
        return Ok((by, writer.date));
    }
    if std::io::stdin().is_terminal() {
        super::output::complain("Initials? ");
        let mut typed = String::new();
        let read = std::io::stdin().lock().read_line(&mut typed).is_ok();
        if read && !typed.trim().is_empty() {
            let writer = begin(record, text, typed.trim(), date)?;
            return Ok((typed.trim().to_owned(), writer.date));
        }
    }
    Err(vec![errors::nobody()])
}
