//! What is read off paper and typed: numbers with runs of values behind them, and steps that are done.
//!
//! A run stays on its line and with what is of one kind: it never goes on to another blank by itself. After a run that
//! filled its line the next word must be a number; within one, a number is told from a value by a colon behind it, by its
//! letter or by its three parts. `_85` is the value before it with other last digits: `74.055 _85` is 74.055 and 74.085.

use std::collections::BTreeMap;

use super::printed::Printed;
use crate::record::Date;

/// What was filled in: a value at a number, by its place in the plan.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Filled {
    /// Values, each with the place of its number.
    pub values: Vec<(usize, String)>,
    /// Numbers of steps that are done.
    pub done: Vec<u64>,
    /// Who filled in what stands at a place, and when, where that is told of it alone.
    pub signed: BTreeMap<usize, Signed>,
}

/// Who filled something in, and when; none for what isn't told.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Signed {
    /// Initials.
    pub by: Option<String>,
    /// The day.
    pub date: Option<Date>,
}

/// The word behind which numbers of steps stand.
const DONE: &str = "done";
/// What stands for a blank that is not filled in yet.
const NOT_YET: &str = "-";
/// What stands before the last digits that differ from those of the value before.
const OTHER_END: char = '_';
/// Most times that one value is repeated by one word.
const MOST: usize = 1_000;

/// Reads words as they are typed.
///
/// # Errors
/// Every word that can't be understood, with why.
pub(crate) fn read_words(printed: &Printed, words: &[String]) -> Result<Filled, Vec<String>> {
    let mut filled = Filled::default();
    let mut wrong = Vec::new();
    let mut run: Option<(String, std::vec::IntoIter<usize>)> = None;
    let mut done = false;
    let mut before = String::new();
    for word in words {
        if word == DONE {
            (done, run) = (true, None);
            continue;
        }
        if let (true, Some(steps)) = (done, steps_named(word)) {
            let known = |step: &u64| printed.steps.iter().any(|known| known.number == Some(*step));
            match steps.iter().find(|step| !known(step)) {
                Some(step) => wrong.push(format!("these sheets have no step {step}")),
                None => filled.done.extend(steps),
            }
            continue;
        }
        done = false;
        let bare = word.strip_suffix([':', '=']).unwrap_or(word);
        let marked = bare != word;
        let sure = marked
            || bare.matches('.').count() == 2
            || bare.starts_with(|c: char| c.is_ascii_alphabetic())
                && bare.ends_with(|c: char| c.is_ascii_digit());
        let full = run.as_ref().is_none_or(|(_, rest)| rest.len() == 0);
        match printed.find(bare).filter(|_| sure || full) {
            Some(first) => run = Some((bare.to_owned(), on_from(printed, first).into_iter())),
            None => match &mut run {
                Some(_) if marked => {
                    wrong.push(format!("`{bare}`: these sheets have no such number"));
                    run = None;
                }
                None => {
                    wrong.push(format!("`{word}`: these sheets have no such number"));
                    run = Some((bare.to_owned(), Vec::new().into_iter()));
                }
                Some((number, rest)) => {
                    let (value, count) = repeated(word);
                    let value = match value.strip_prefix(OTHER_END) {
                        Some(end) => match other_end(&before, end) {
                            Some(value) => value,
                            None => {
                                wrong.push(format!(
                                    "`{word}`: there is no value before it that ends in so many digits"
                                ));
                                continue;
                            }
                        },
                        None => value.to_owned(),
                    };
                    if value != NOT_YET {
                        before.clone_from(&value);
                    }
                    for _ in 0..count {
                        match rest.next() {
                            Some(at) if value != NOT_YET => filled.values.push((at, value.clone())),
                            Some(_) => {}
                            None => {
                                wrong.push(format!("`{value}` is one too many for the line of {number}"));
                                break;
                            }
                        }
                    }
                }
            },
        }
    }
    if wrong.is_empty() { Ok(filled) } else { Err(wrong) }
}

/// A value with other last digits; none where it doesn't end in so many.
fn other_end(before: &str, end: &str) -> Option<String> {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let start = before.len().checked_sub(end.len()).filter(|start| *start > 0)?;
    let (kept, last) = (before.get(..start)?, before.get(start..)?);
    (digits(end) && digits(last)).then(|| format!("{kept}{end}"))
}

/// Places of the numbers that a run from `first` goes on to, itself the first.
fn on_from(printed: &Printed, first: usize) -> Vec<usize> {
    let start = &printed.numbers[first];
    let rest = printed.numbers.iter().enumerate().skip(first);
    rest.filter(|(_, number)| start.goes_on(number)).map(|(at, _)| at).collect()
}

/// `74.055*3` as the value and how often it stands; alone, once.
fn repeated(word: &str) -> (&str, usize) {
    let split = word.rsplit_once('*').and_then(|(value, count)| Some((value, count.parse().ok()?)));
    split.filter(|(value, count)| !value.is_empty() && (1..=MOST).contains(count)).unwrap_or((word, 1))
}

/// Numbers of steps as they are typed: `12`, `1-9`; none for anything else.
pub(crate) fn steps_named(word: &str) -> Option<Vec<u64>> {
    let (first, last) = word.split_once('-').unwrap_or((word, word));
    let number = |text: &str| text.parse::<u64>().ok().filter(|number| (1..100_000).contains(number));
    let (first, last) = (number(first)?, number(last)?);
    (first <= last).then(|| (first..=last).collect())
}

#[cfg(test)]
mod tests {
    use super::super::printed::{Number, PrintedStep};
    use super::*;
    use crate::sheet::Form;

    fn printed() -> Printed {
        let number = |number: &str, keys: &[&str]| Number {
            number: number.to_owned(),
            what: number.to_owned(),
            step: Some("s".to_owned()),
            also: Vec::new(),
            keys: keys.iter().map(|key| (*key).to_owned()).collect(),
            form: Some(Form::Quantity("mm".to_owned())),
        };
        let step = PrintedStep { id: "s".to_owned(), number: Some(7), fingerprint: None };
        Printed {
            steps: vec![step],
            numbers: vec![
                number("7.1.1", &["readings", "as_found", "a[1]"]),
                number("7.1.2", &["readings", "as_found", "a[2]"]),
                number("7.2", &["readings", "as_found", "b"]),
                number("O 1", &["orders", "x", "due"]),
                number("O 2", &["orders", "x", "arrived"]),
                number("O 3", &["orders", "y", "due"]),
            ],
            ..Printed::default()
        }
    }

    fn read(words: &str) -> Result<Filled, Vec<String>> {
        read_words(&printed(), &words.split(' ').map(str::to_owned).collect::<Vec<_>>())
    }

    #[test]
    fn a_run_stays_on_its_line_and_with_its_kind() {
        let values = |words| read(words).unwrap().values;
        let at = |list: &[(usize, &str)]| {
            list.iter().map(|(at, text)| (*at, (*text).to_owned())).collect::<Vec<_>>()
        };
        assert_eq!(values("7.1 5 6 7.2 8"), at(&[(0, "5"), (1, "6"), (2, "8")]));
        // Within a run a number is a value, unless it is marked as one of the sheet.
        assert_eq!(values("7.1 7.2 6"), at(&[(0, "7.2"), (1, "6")]));
        assert_eq!(values("7.1 5 7.2: 6"), at(&[(0, "5"), (2, "6")]));
        assert_eq!(values("7.1 5.055 _85 7.2: 6"), at(&[(0, "5.055"), (1, "5.085"), (2, "6")]));
        for wrong in ["7.1 _85", "7.1 5.1 _.2", "7.1 5.1 _22", "7.1 5 _6", "7.1 5.1 _"] {
            assert!(read(wrong).is_err(), "{wrong}");
        }
        assert_eq!(values("7.1 - 6"), at(&[(1, "6")]));
        assert_eq!(values("o1 5.3*2 7.1.2 4"), at(&[(3, "5.3"), (5, "5.3"), (1, "4")]));
        assert_eq!(
            read("done 7 7.2 8").unwrap(),
            Filled { values: at(&[(2, "8")]), done: vec![7], ..Filled::default() }
        );
        assert!(read("7.1 5 6 9").is_err());
        assert!(read("9.1 5").is_err());
        assert!(read("done 8").is_err());
    }
}
