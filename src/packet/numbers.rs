//! The number of every box, blank and signature: on a sheet of work the step, the line in it and the place on that line
//! (`28.3.2`), on others the letter of the sheet and a running number (`E 4`). They follow the order of the sheet alone,
//! whatever things are called, and are given once, here, when the sheets are made.

use std::collections::BTreeMap;

use crate::sheet::{
    Anchor, Blank, Block, Boxes, Cell, Entry, Field, Form, Sheet, SheetKind, StepBlock, StepLine, Table, Text,
};

/// What a number means.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Numbered {
    /// The number.
    pub(super) number: String,
    /// What is filled in there, in the words of the sheet.
    pub(super) what: String,
    /// The first of the steps that it stands in.
    pub(super) step: Option<String>,
    /// The others that it stands in, where several steps are told as one.
    pub(super) also: Vec<String>,
    /// Where in the record it belongs; none for what stays on paper.
    pub(super) entry: Option<Entry>,
    /// Whether it is ticked, and nothing written.
    pub(super) tick: bool,
}

/// The letter of a kind of sheet; sheets of work have the numbers of their steps.
fn letter(kind: SheetKind) -> char {
    match kind {
        SheetKind::Front => 'F',
        SheetKind::Intake => 'I',
        SheetKind::Kit => 'K',
        SheetKind::Questions => 'Q',
        SheetKind::Estimate => 'E',
        SheetKind::Machining => 'M',
        SheetKind::Orders => 'O',
        SheetKind::Key => 'D',
        SheetKind::Differences => 'X',
        SheetKind::Stop => 'A',
        SheetKind::Results => 'G',
        SheetKind::Steps => 'S',
        SheetKind::Rack => 'R',
        SheetKind::Bolts => 'N',
        SheetKind::Tags => 'T',
        SheetKind::Torques => 'W',
        SheetKind::GoodsBack => 'B',
        SheetKind::Ledger => 'L',
        SheetKind::Hands => 'P',
        SheetKind::Overview => 'V',
        SheetKind::Handover => 'H',
    }
}

/// Gives everything that is filled in its number, and says what each means.
pub(super) fn number(sheets: &mut [Sheet]) -> Vec<Numbered> {
    let mut known = Vec::new();
    let mut counts: BTreeMap<SheetKind, usize> = BTreeMap::new();
    for sheet in sheets.iter_mut() {
        let count = counts.entry(sheet.kind).or_default();
        desk(&mut sheet.blocks, letter(sheet.kind), count, &mut known);
    }
    // The boxes of the ledger are ticked at the rack, and nobody types them: on paper their numbers would only take room.
    let ledgers = sheets.iter_mut().filter(|sheet| sheet.kind == SheetKind::Ledger);
    for text in ledgers.flat_map(|sheet| &mut sheet.blocks).flat_map(table_texts) {
        *text = text.unnumbered();
    }
    known
}

/// The words in the cells of a table.
fn table_texts(block: &mut Block) -> Vec<&mut Text> {
    let (Block::Table(table) | Block::Halves(table)) = block else { return Vec::new() };
    let cells = table.rows.iter_mut().flatten();
    cells.filter_map(|cell| if let Cell::Text(text) = cell { Some(text) } else { None }).collect()
}

fn desk(blocks: &mut [Block], letter: char, count: &mut usize, known: &mut Vec<Numbered>) {
    for block in blocks {
        let mut next = || {
            *count += 1;
            format!("{letter} {count}")
        };
        match block {
            Block::Step(step) => number_step(step, known),
            Block::Together(inner) => desk(inner, letter, count, known),
            Block::List { items, tick: true } => {
                for item in items {
                    let number = next();
                    known.push(on_paper(&number, item.words(), true));
                    item.set_number(printed(&number));
                }
            }
            Block::Lines { label, .. } => {
                let number = next();
                known.push(on_paper(&number, label.words(), false));
                label.set_number(printed(&number));
            }
            Block::Table(table) | Block::Halves(table) => number_table(table, &mut next, known),
            _ => {}
        }
    }
}

/// A number as it is printed: it is never parted by the end of a line.
fn printed(number: &str) -> String {
    number.replace(' ', "\u{a0}")
}

fn on_paper(number: &str, what: String, tick: bool) -> Numbered {
    Numbered { number: number.to_owned(), what, step: None, also: Vec::new(), entry: None, tick }
}

fn number_step(block: &mut StepBlock, known: &mut Vec<Numbered>) {
    let id_of = |Anchor(anchor): &Anchor| anchor.strip_prefix("step:").unwrap_or(anchor).to_owned();
    let (id, also): (String, Vec<String>) = (id_of(&block.anchor), block.also.iter().map(id_of).collect());
    let mut point = 0;
    let first = known.len();
    for line in &mut block.lines {
        if line.filled_in().is_none() {
            continue;
        }
        point += 1;
        // Of several that are one the first number is enough to know it by.
        let number = block.number.split('–').next().unwrap_or_default();
        let base = format!("{number}.{point}");
        number_line(line, &base, &id, known);
        if let Some(text) = line.filled_in() {
            text.set_number(base);
        }
    }
    for numbered in &mut known[first..] {
        numbered.step = Some(id.clone());
        numbered.also.clone_from(&also);
    }
}

/// The number of one place of several on a line; where there is but one, that of the line.
fn place_of(base: &str, count: usize, index: usize) -> String {
    if count == 1 { base.to_owned() } else { format!("{base}.{}", index + 1) }
}

fn number_line(line: &mut StepLine, base: &str, step: &str, known: &mut Vec<Numbered>) {
    match line {
        StepLine::Act { text, boxes } | StepLine::Torque { text, boxes, .. } => match boxes {
            Boxes::None => {}
            Boxes::One => known.push(on_paper(base, text.words(), true)),
            Boxes::Grid(names) => known.extend(names.iter().enumerate().map(|(index, name)| {
                let what = format!("{} {name}", text.words());
                on_paper(&place_of(base, names.len(), index), what, true)
            })),
            Boxes::Results(_, _, entry) => {
                known.push(Numbered { entry: entry.clone(), ..on_paper(base, text.words(), false) });
            }
        },
        StepLine::Reading { text, blanks, .. } => {
            let (about, count) = (headed(text), blanks.len());
            for (index, Blank { name, field, .. }) in blanks.iter_mut().enumerate() {
                field.number = place_of(base, count, index);
                let what = format!("{about} {name}").trim_end().to_owned();
                known.push(Numbered { entry: field.entry.clone(), ..on_paper(&field.number, what, false) });
            }
        }
        StepLine::Readings { text, table, .. } => {
            table.caption = text.clone();
            number_places(table, base, known);
            table.caption = Text::default();
        }
        StepLine::Table(table) => number_places(table, base, known),
        StepLine::Hold(text) => {
            let entry = Entry::new(&["done", step, "second"], Form::Text);
            known.push(Numbered { entry: Some(entry), ..on_paper(base, text.words(), false) });
        }
        _ => {}
    }
}

fn number_places(table: &mut Table, base: &str, known: &mut Vec<Numbered>) {
    let mut place = 0;
    let mut next = || {
        place += 1;
        format!("{base}.{place}")
    };
    number_table(table, &mut next, known);
}

/// What a line is about: its bold beginning.
fn headed(text: &Text) -> String {
    let head = text.0.first().map(|run| run.text.as_str()).unwrap_or_default();
    head.trim_end_matches(['.', ',', ':']).to_owned()
}

/// Numbers the cells of a table row by row, those of a table in two halves down the first and then the second. Cells that
/// belong to one entry, such as the results of which one is ticked, share a number.
fn number_table(table: &mut Table, next: &mut dyn FnMut() -> String, known: &mut Vec<Numbered>) {
    let headings: Vec<String> = table.columns.iter().map(|column| column.heading.clone()).collect();
    let half = headings.len() / 2;
    let halved = headings.len().is_multiple_of(2) && half > 1 && headings[..half] == headings[half..];
    let ends = if halved { vec![half, headings.len()] } else { vec![headings.len()] };
    let about = headed(&table.caption);
    let mut begin = 0;
    for end in ends {
        let columns = begin..end;
        begin = end;
        let mut last: Option<(Entry, String)> = None;
        // How many boxes of the last number there are by now.
        let mut boxes = 0;
        // The last heading across all columns: it names the rows below it, and has the number where they have no words.
        let mut above: Option<usize> = None;
        for index in 0..table.rows.len() {
            if table.is_heading(&table.rows[index]) {
                above = Some(index);
                continue;
            }
            let over = above.and_then(|above| table.rows[above].first()).and_then(words_of);
            let mut name = [Some(about.clone()), over].into_iter().flatten().collect::<Vec<_>>().join(" ");
            let row = &mut table.rows[index];
            // A row that begins with its box is named behind it.
            let named = row.iter().find_map(words_of).unwrap_or_default();
            let mut first: Option<String> = None;
            for column in columns.clone() {
                let Some(cell) = row.get_mut(column) else { continue };
                // Pieces are counted with a pencil: that all are back is a box of its own.
                if let Cell::Text(text) | Cell::Counted(text, _) = cell {
                    name = format!("{name} {}", text.words()).trim().to_owned();
                    continue;
                }
                let mut field = cell.field().cloned().unwrap_or_default();
                let again = last.as_ref().filter(|(entry, _)| {
                    let one_more = matches!(entry.form, Form::Item);
                    !one_more && field.entry.as_ref() == Some(entry)
                });
                field.number = again.map_or_else(&mut *next, |(_, number)| number.clone());
                boxes = if again.is_some() { boxes + 1 } else { 0 };
                if let (Some(Entry { form: Form::Word(words), .. }), Cell::Tick) =
                    (&field.entry, cell.printed())
                {
                    field.choice = words.get(boxes).cloned();
                }
                if again.is_none() {
                    let tick = matches!(cell.printed(), Cell::Tick | Cell::Ticked) && field.entry.is_none();
                    let of_results =
                        field.entry.as_ref().is_some_and(|entry| matches!(entry.form, Form::Word(_)));
                    let heading = if of_results { "" } else { headings[column].as_str() };
                    let name = if name.is_empty() { named.as_str() } else { name.as_str() };
                    let what = format!("{name} {heading}").trim().to_owned();
                    let entry = field.entry.clone();
                    known.push(Numbered { entry, ..on_paper(&field.number, what, tick) });
                }
                last = field.entry.clone().map(|entry| (entry, field.number.clone()));
                first.get_or_insert_with(|| field.number.clone());
                let printed = cell.printed().clone();
                *cell = printed.belonging(field);
            }
            let is_text = |column: &usize| matches!(row.get(*column), Some(Cell::Text(_)));
            let beside = columns.clone().find(is_text).map(|column| (index, column));
            let beside = beside.or(above.map(|above| (above, 0)));
            let beside = beside.map(|(row, column)| &mut table.rows[row][column]);
            if let (Some(Cell::Text(text)), Some(first)) = (beside, first) {
                text.set_number(printed(&first));
            }
        }
    }
}

/// What a cell says, where it says something.
fn words_of(cell: &Cell) -> Option<String> {
    match cell {
        Cell::Text(text) if !text.words().is_empty() => Some(text.words()),
        _ => None,
    }
}

/// Fields of a table as they are made, for a cell with its place in the record.
pub(super) fn kept(cell: Cell, keys: &[&str], form: Form) -> Cell {
    cell.belonging(Field::of(Entry::new(keys, form)))
}
