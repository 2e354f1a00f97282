//! What is open on the sheets as a table, and the same table read back as a spreadsheet leaves it: commas or semicolons
//! between the columns, commas or points in the numbers, quotes, and a mark at its beginning.

use super::printed::Printed;
use super::typed::{Filled, Signed};
use crate::record::Date;
use crate::sheet::Form;

/// Headings of the table.
const HEADINGS: [&str; 5] = ["number", "step", "what", "wanted", "value"];
/// Headings of what a screen adds: who filled a line in, when, and on which print.
const ADDED: [&str; 3] = ["by", "day", "print"];

/// Columns of a table, by where they stand in it.
struct Columns {
    number: usize,
    value: usize,
    step: Option<usize>,
    what: Option<usize>,
    by: Option<usize>,
    day: Option<usize>,
    print: Option<usize>,
}

impl Columns {
    /// None where there is no column of numbers or none of values.
    fn of(row: &csv::StringRecord) -> Option<Columns> {
        let column = |name: &str| row.iter().position(|cell| cell.eq_ignore_ascii_case(name));
        let [number, step, what, _, value] = HEADINGS;
        let [by, day, print] = ADDED;
        Some(Columns {
            number: column(number)?,
            value: column(value)?,
            step: column(step),
            what: column(what),
            by: column(by),
            day: column(day),
            print: column(print),
        })
    }
}

/// The numbers at these places as a table, to be filled in.
pub(crate) fn write_table(printed: &Printed, open: &[usize]) -> String {
    let mut rows = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let mut add = |row: [&str; 5]| {
        // Writing into memory can't fail.
        let _ = rows.write_record(row);
    };
    add(HEADINGS);
    for at in open {
        let number = &printed.numbers[*at];
        let wanted = match &number.form {
            None => "x when done".to_owned(),
            Some(Form::Quantity(unit)) => unit.clone(),
            Some(Form::Word(words)) => words.join(" / "),
            Some(Form::Count) => "a number".to_owned(),
            Some(Form::Day) => "a day".to_owned(),
            Some(Form::Text | Form::Item) => String::new(),
        };
        add([&number.number, number.step.as_deref().unwrap_or_default(), &number.what, &wanted, ""]);
    }
    let bytes = rows.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}

/// Reads a table that was filled in. A line that says of its number what these sheets don't say is of other sheets.
///
/// # Errors
/// It has no column of numbers or of values, or lines that are not of these sheets.
pub(crate) fn read_table(printed: &Printed, text: &str) -> Result<Filled, Vec<String>> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    // A spreadsheet that counts in commas parts columns by semicolons, and says so in the first line at times.
    let (separator, text) = match text.strip_prefix("sep=").and_then(|rest| rest.split_once('\n')) {
        Some((sign, rest)) => (sign.bytes().next().unwrap_or(b','), rest),
        None => {
            let first = text.lines().next().unwrap_or_default();
            let most = [b',', b';', b'\t']
                .into_iter()
                .max_by_key(|sign| first.bytes().filter(|byte| byte == sign).count());
            (most.unwrap_or(b','), text)
        }
    };
    let mut rows = csv::ReaderBuilder::new()
        .delimiter(separator)
        .flexible(true)
        .trim(csv::Trim::All)
        .has_headers(false)
        .from_reader(text.as_bytes());
    let mut columns: Option<Columns> = None;
    let mut filled = Filled::default();
    let mut wrong = Vec::new();
    for row in rows.records() {
        let row = match row {
            Ok(row) => row,
            Err(error) => {
                wrong.push(format!("the table can't be read: {error}"));
                break;
            }
        };
        let Some(columns) = &columns else {
            columns = Columns::of(&row);
            if columns.is_none() {
                return Err(vec!["the table has no column `number` or no column `value`".to_owned()]);
            }
            continue;
        };
        let cell = |at: usize| row.get(at).unwrap_or_default();
        let told = |at: Option<usize>| at.map(cell).filter(|cell| !cell.is_empty());
        let (number, value) = (cell(columns.number), cell(columns.value));
        if number.is_empty() || value.is_empty() || value == "-" {
            continue;
        }
        let Some(at) = printed.numbers.iter().position(|known| known.number == number) else {
            wrong.push(format!("`{number}`: these sheets have no such number"));
            continue;
        };
        if let Some(why) = of_others(printed, at, [columns.print, columns.step, columns.what].map(told)) {
            wrong.push(format!("{number}: {why}"));
            continue;
        }
        let date = told(columns.day).map(Date::parse);
        if date == Some(None) {
            wrong.push(format!("{number}: its day is none, such as 2026-03-05"));
            continue;
        }
        let signed = Signed { by: told(columns.by).map(str::to_owned), date: date.flatten() };
        if signed != Signed::default() {
            filled.signed.insert(at, signed);
        }
        filled.values.push((at, value.to_owned()));
    }
    if wrong.is_empty() { Ok(filled) } else { Err(wrong) }
}

/// Why a line is not of these sheets, by the print, the step and the thing that it names.
fn of_others(printed: &Printed, at: usize, [print, step, what]: [Option<&str>; 3]) -> Option<String> {
    let number = &printed.numbers[at];
    let own_step = number.step.as_deref().unwrap_or_default();
    // How many spaces stand between words is a matter of the spreadsheet.
    let spaced = |words: &str| words.split_whitespace().collect::<Vec<_>>().join(" ");
    if let Some(print) = print.filter(|print| *print != printed.fingerprint) {
        return Some(format!("it was filled in on the print {print}, and this is {}", printed.fingerprint));
    }
    if let Some(step) = step.filter(|step| *step != own_step) {
        return Some(format!("the table has it in the step `{step}`, and these sheets don't"));
    }
    let what = what.filter(|what| spaced(what) != spaced(&number.what))?;
    Some(format!("the table has `{what}` there, and these sheets `{}`", number.what))
}

#[cfg(test)]
mod tests {
    use super::super::printed::Number;
    use super::*;
    use std::collections::BTreeMap;

    #[test]
    fn a_table_comes_back_as_a_spreadsheet_leaves_it() {
        let number = |number: &str| Number {
            number: number.to_owned(),
            what: "Lash, \"cold\"; 1".to_owned(),
            step: None,
            also: Vec::new(),
            keys: Vec::new(),
            form: Some(Form::Quantity("mm".to_owned())),
        };
        let printed =
            Printed { numbers: vec![number("4.2.1"), number("4.2.2"), number("E 1")], ..Printed::default() };
        let table = write_table(&printed, &[0, 2]);
        assert!(
            table.starts_with("number,step,what,wanted,value\r\n4.2.1,,\"Lash, \"\"cold\"\"; 1\",mm,\r\n"),
            "{table}"
        );
        assert_eq!(read_table(&printed, &table).unwrap(), Filled::default());
        let wanted = vec![(0, "0,30".to_owned()), (2, "0.35".to_owned())];
        for text in [
            "\u{feff}number;step;what;wanted;value\r\n4.2.1;;\"Lash, \"\"cold\"\"; 1\";mm;0,30\r\nE 1;;;;\"0.35\"\r\n4.2.2;;;;\r\n",
            "Number,Value\n4.2.1,\"0,30\"\nE 1,0.35\n",
            "sep=;\nvalue;number\n0,30;4.2.1\n0.35;E 1\n",
            "number\tvalue\n4.2.1\t0,30\nE 1\t0.35",
        ] {
            assert_eq!(
                read_table(&printed, text).map(|filled| filled.values).as_ref(),
                Ok(&wanted),
                "{text}"
            );
        }
        assert!(read_table(&printed, "number,value\n9.9,1\n").is_err());
        // Of other sheets: another step, another thing, another print.
        let printed = Printed { fingerprint: "abcde-12345".to_owned(), ..printed };
        for line in ["s,,", ",Lash 9,", ",,other-print"] {
            let text = format!("number,step,what,print,value\n4.2.1,{line},0.3\n");
            assert!(read_table(&printed, &text).is_err(), "{line}");
        }
        let text = "number,what,value,by,day,print\n4.2.1,\"Lash,  \"\"cold\"\"; 1\",0.3,HK,2026-03-05,abcde-12345\n";
        let filled = read_table(&printed, text).unwrap();
        let signed = Signed { by: Some("HK".to_owned()), date: Date::parse("2026-03-05") };
        assert_eq!(filled.signed, BTreeMap::from([(0, signed)]));
        assert!(read_table(&printed, "a,b\n").is_err());
    }
}
