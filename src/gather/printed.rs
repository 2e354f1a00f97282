//! The plan that a packet carries, read back: its steps, and what each number on its sheets means.

use serde_json::Value;

use crate::sheet::Form;

/// A packet as it was printed.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Printed {
    /// Name of the job; empty for none.
    pub job: String,
    /// Fingerprint at its foot.
    pub fingerprint: String,
    /// The phase, as it is printed.
    pub phase: String,
    /// Its steps in order.
    pub steps: Vec<PrintedStep>,
    /// What each number means, in the order of the sheets.
    pub numbers: Vec<Number>,
}

/// A step as it was printed.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct PrintedStep {
    /// Its id.
    pub id: String,
    /// Its number, if it is of the job.
    pub number: Option<u64>,
    /// Its fingerprint in the procedure.
    pub fingerprint: Option<String>,
}

/// A number on a sheet.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Number {
    /// The number: `28.3.2`, `E 4`.
    pub number: String,
    /// What is filled in there.
    pub what: String,
    /// The step that it stands in.
    pub step: Option<String>,
    /// The others that it stands in, where several steps are told as one.
    pub also: Vec<String>,
    /// Keys in the record; empty for what stays on paper.
    pub keys: Vec<String>,
    /// What may be written; none for a box.
    pub form: Option<Form>,
}

impl Number {
    /// The line of a step, or the sheet, that it stands on: `28.3`, `E`.
    pub(crate) fn line(&self) -> &str {
        if let Some((letter, _)) = self.number.split_once(' ') {
            return letter;
        }
        match self.number.match_indices('.').nth(1) {
            Some((end, _)) => &self.number[..end],
            None => &self.number,
        }
    }

    /// Whether another is of the same kind on the same line, so that a run goes on from one to the other: readings, results
    /// and lengths from place to place, what is told of a thing by its key, such as when it came, from thing to thing.
    pub(crate) fn goes_on(&self, other: &Number) -> bool {
        let form = |number: &Number| number.form.as_ref().map(std::mem::discriminant);
        let by_place =
            self.keys.first().is_none_or(|list| ["readings", "looks", "lengths"].contains(&list.as_str()));
        let before = |number: &Number| number.keys[..number.keys.len().saturating_sub(1)].to_vec();
        let same = if by_place {
            before(self) == before(other)
        } else {
            (self.keys.first(), self.keys.last()) == (other.keys.first(), other.keys.last())
        };
        self.line() == other.line()
            && form(self) == form(other)
            && self.keys.len() == other.keys.len()
            && same
    }
}

impl Printed {
    /// Reads the plan that a packet carries; none if it is none of ours.
    pub(crate) fn read(bytes: &[u8]) -> Option<Printed> {
        let plan: Value = serde_json::from_slice(bytes).ok()?;
        let text = |key: &str| plan[key].as_str().map(str::to_owned);
        let steps = plan["steps"].as_array()?.iter().filter_map(step).collect();
        let numbers = plan["numbers"].as_array()?.iter().filter_map(number).collect();
        Some(Printed {
            job: text("job")?,
            fingerprint: text("fingerprint")?,
            phase: text("phase")?,
            steps,
            numbers,
        })
    }

    /// The place of a number, as it is typed: `28.3.2`, `E4`; of one that several places share, the first.
    pub(crate) fn find(&self, typed: &str) -> Option<usize> {
        let typed = spaced(typed);
        let at = |wanted: &str| self.numbers.iter().position(|number| number.number == wanted);
        at(&typed).or_else(|| at(&format!("{typed}.1")))
    }
}

/// A number as it is printed: `e4` is `E 4`.
fn spaced(typed: &str) -> String {
    let mut letters = typed.chars();
    match letters.next() {
        Some(letter) if letter.is_ascii_alphabetic() => {
            format!("{} {}", letter.to_ascii_uppercase(), letters.as_str().trim())
        }
        _ => typed.to_owned(),
    }
}

fn step(value: &Value) -> Option<PrintedStep> {
    Some(PrintedStep {
        id: value["id"].as_str()?.to_owned(),
        number: value["number"].as_u64(),
        fingerprint: value["fingerprint"].as_str().map(str::to_owned),
    })
}

fn number(value: &Value) -> Option<Number> {
    let words = |key: &str| -> Vec<String> {
        let list = value[key].as_array().into_iter().flatten();
        list.filter_map(Value::as_str).map(str::to_owned).collect()
    };
    let form = match value["form"].as_str() {
        Some("tick") => None,
        Some("quantity") => Some(Form::Quantity(value["unit"].as_str().unwrap_or_default().to_owned())),
        Some("word") => Some(Form::Word(words("words"))),
        Some("count") => Some(Form::Count),
        Some("day") => Some(Form::Day),
        Some("item") => Some(Form::Item),
        _ => Some(Form::Text),
    };
    Some(Number {
        number: value["number"].as_str()?.to_owned(),
        what: value["what"].as_str()?.to_owned(),
        step: value["step"].as_str().map(str::to_owned),
        also: words("also"),
        keys: words("keys"),
        form,
    })
}
