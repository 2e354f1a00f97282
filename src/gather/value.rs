//! A value as it is written by hand, to the text that stands in a record: comma or point, a unit where the sheet has one,
//! the beginning of a word, a day without its year.

use crate::quantity::{Numeral, Quantity};
use crate::record::Date;
use crate::sheet::Form;

/// The text that stands in the record for what was written.
///
/// # Errors
/// What is wrong with it.
pub(crate) fn written(form: &Form, typed: &str, today: Date) -> Result<String, String> {
    match form {
        Form::Quantity(unit) => quantity(typed, unit),
        Form::Word(words) => word(typed, words),
        Form::Count => {
            let whole = typed.bytes().all(|byte| byte.is_ascii_digit()) && !typed.is_empty();
            if whole { Ok(typed.to_owned()) } else { Err(format!("`{typed}` is no whole number")) }
        }
        Form::Day => day(typed, today)
            .map(|day| day.to_string())
            .ok_or_else(|| format!("`{typed}` is no day, such as 2026-03-05, 5.3 or x for today")),
        Form::Text | Form::Item => Ok(typed.to_owned()),
    }
}

/// A quantity with its unit. Point or comma, a bare point, a minus sign of print; without a unit it is in the one given.
///
/// # Errors
/// It is no quantity.
pub(crate) fn quantity(typed: &str, unit: &str) -> Result<String, String> {
    let pointed = typed.trim().replace(',', ".").replace('\u{2212}', "-");
    let whole = match pointed.strip_prefix('-').unwrap_or(&pointed).strip_prefix('.') {
        Some(rest) if pointed.starts_with('-') => format!("-0.{rest}"),
        Some(rest) => format!("0.{rest}"),
        None => pointed,
    };
    if Numeral::parse(&whole).is_some() {
        return Ok(format!("{whole} {unit}").trim_end().to_owned());
    }
    match Quantity::parse(&whole) {
        Ok(_) => Ok(whole),
        Err(_) => Err(format!("`{typed}` is no number, nor one with a unit")),
    }
}

/// One of some words by its beginning; a space or a stroke stands for `_`.
///
/// # Errors
/// It is the beginning of none, or of several.
pub(crate) fn word(typed: &str, words: &[String]) -> Result<String, String> {
    let plain = |text: &str| text.trim().to_lowercase().replace([' ', '-'], "_");
    let typed_plain = plain(typed);
    if let Some(word) = words.iter().find(|word| plain(word) == typed_plain) {
        return Ok(word.clone());
    }
    let mut begun =
        words.iter().filter(|word| !typed_plain.is_empty() && plain(word).starts_with(&typed_plain));
    match (begun.next(), begun.next()) {
        (Some(word), None) => Ok(word.clone()),
        _ => Err(format!("`{typed}` is none of {}", words.join(", "))),
    }
}

/// A day: `2026-03-05`; `5.3`, `5.3.` or `5/3` in the year of `today`; `x`, `today`.
pub(crate) fn day(typed: &str, today: Date) -> Option<Date> {
    let typed = typed.trim();
    if ["x", "X", "today"].contains(&typed) {
        return Some(today);
    }
    if let Some(date) = Date::parse(typed) {
        return Some(date);
    }
    let (day, month) = typed.trim_end_matches('.').split_once(['.', '/'])?;
    let number = |text: &str| text.parse::<u32>().ok();
    Date::parse(&format!("{}-{:02}-{:02}", &today.to_string()[..4], number(month)?, number(day)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_read_as_they_are_written_by_hand() {
        let today = Date::parse("2026-03-05").unwrap();
        let mm = Form::Quantity("mm".into());
        for (typed, meant) in [
            ("74,055", "74.055 mm"),
            (".40", "0.40 mm"),
            ("-,02", "-0.02 mm"),
            ("\u{2212}3", "-3 mm"),
            ("2.91 in", "2.91 in"),
        ] {
            assert_eq!(written(&mm, typed, today).as_deref(), Ok(meant));
        }
        assert!(written(&mm, "74.0.5", today).is_err());
        let look = Form::Word(vec!["good".into(), "heat_marked".into(), "gone".into()]);
        assert_eq!(written(&look, "heat m", today).as_deref(), Ok("heat_marked"));
        assert!(written(&look, "go", today).is_err());
        for typed in ["5.4", "5.4.", "5/4", "05/04", "2026-04-05"] {
            assert_eq!(written(&Form::Day, typed, today).as_deref(), Ok("2026-04-05"));
        }
        assert_eq!(written(&Form::Day, "x", today).as_deref(), Ok("2026-03-05"));
        assert!(written(&Form::Day, "31.2", today).is_err());
    }
}
