//! What is filled in by hand: the number by which it is told apart, and where in the record of a job it belongs.

/// A place to be filled in. Those of one number hold one value: boxes of which one is ticked.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Field {
    /// Its number, such as `28.3.2` or `E 4`; empty until the sheets are numbered.
    pub number: String,
    /// Where in the record it belongs; none for what stays on paper.
    pub entry: Option<Entry>,
    /// Of boxes of which one is ticked, the word of the entry that this one stands for.
    pub choice: Option<String>,
}

/// What stands behind a number for the second of two blanks that it has: a reading is taken twice.
pub const AGAIN: &str = " again";

/// Where in the record of a job a value belongs.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Keys from the top of the record.
    pub keys: Vec<String>,
    /// What may stand there.
    pub form: Form,
    /// From where to where a quantity is plausible, in the unit of its form.
    pub plausible: Option<(f64, f64)>,
}

/// What may be written at a number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Form {
    /// A quantity; a bare number is in this unit, by its symbol.
    Quantity(String),
    /// One of these words.
    Word(Vec<String>),
    /// A whole number.
    Count,
    /// A day.
    Day,
    /// Words.
    Text,
    /// Words, one more of a list.
    Item,
}

impl Field {
    /// One that belongs somewhere in the record, not numbered yet.
    pub fn of(entry: Entry) -> Self {
        Field { entry: Some(entry), ..Field::default() }
    }
}

impl Entry {
    /// Where a value belongs, by the keys from the top of the record.
    pub fn new(keys: &[&str], form: Form) -> Self {
        Entry { keys: keys.iter().map(|key| (*key).to_owned()).collect(), form, plausible: None }
    }
}
