//! What is open on the sheets as a table, and the same table read back as a spreadsheet leaves it: commas or semicolons
//! between the columns, commas or points in the numbers, quotes, and a mark at its beginning.

use super::printed::Printed;
use super::typed::Filled;
use crate::sheet::Form;

/// Headings of the table.
const HEADINGS: [&str; 5] = ["number", "step", "what", "wanted", "value"];

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

/// Reads a table that was filled in.
///
/// # Errors
/// It has no column of numbers or of values, or numbers that the sheets haven't got.
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
    let mut columns: Option<(usize, usize)> = None;
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
        let Some((number, value)) = columns else {
            let column = |name: &str| row.iter().position(|cell| cell.eq_ignore_ascii_case(name));
            match (column(HEADINGS[0]), column(HEADINGS[4])) {
                (Some(number), Some(value)) => columns = Some((number, value)),
                _ => return Err(vec!["the table has no column `number` or no column `value`".to_owned()]),
            }
            continue;
        };
        let cell = |at: usize| row.get(at).unwrap_or_default();
        let (number, value) = (cell(number), cell(value));
        if number.is_empty() || value.is_empty() || value == "-" {
            continue;
        }
        match printed.numbers.iter().position(|known| known.number == number) {
            Some(at) => filled.values.push((at, value.to_owned())),
            None => wrong.push(format!("`{number}`: these sheets have no such number")),
        }
    }
    if wrong.is_empty() { Ok(filled) } else { Err(wrong) }
}

#[cfg(test)]
mod tests {
    use super::super::printed::Number;
    use super::*;

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
            "\u{feff}number;step;what;wanted;value\r\n4.2.1;;\"Lash; 1\";mm;0,30\r\nE 1;;;;\"0.35\"\r\n4.2.2;;;;\r\n",
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
        assert!(read_table(&printed, "a,b\n").is_err());
    }
}
