//! Where pages end, whatever a packet holds: a short step stays whole, a longer one is cut with a good part of it on either
//! side and then says that it goes on, no heading is left alone at the end of a page, the head of a table comes again, a figure stands with its
//! step.

use std::collections::{BTreeMap, BTreeSet};

use super::{demo, placing};
use benchleaf::pages::Pages;
use benchleaf::pages::{Area, Element, ElementId, Item, Mark, Role};
use benchleaf::sheet::*;
use benchleaf::{PageSetup, Paper, lay_out};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// What an element has on a page.
struct Part {
    page: usize,
    element: usize,
    /// From the highest to the lowest of its items.
    top: f32,
    bottom: f32,
}

/// A layout read by its meaning.
struct Reading<'a> {
    pages: &'a Pages,
    /// Content of elements, by page and from the first painted to the last.
    parts: Vec<Part>,
}

impl<'a> Reading<'a> {
    fn new(pages: &'a Pages) -> Self {
        let mut parts = Vec::new();
        for (page, on) in pages.pages.iter().enumerate() {
            for group in &on.groups {
                let Mark::Element(ElementId(element)) = group.mark else { continue };
                if group.items.is_empty() {
                    continue;
                }
                let (mut top, mut bottom) = (f32::MAX, f32::MIN);
                for area in group.items.iter().map(Item::bounds) {
                    top = top.min(area.y);
                    bottom = bottom.max(area.y + area.height);
                }
                parts.push(Part { page, element, top, bottom });
            }
        }
        Reading { pages, parts }
    }

    fn element(&self, index: usize) -> &Element {
        &self.pages.elements[index]
    }

    /// The element and those around it, innermost first.
    fn around(&self, index: usize) -> impl Iterator<Item = usize> {
        std::iter::successors(Some(index), |index| {
            self.element(*index).parent.map(|ElementId(parent)| parent)
        })
    }

    fn within(&self, index: usize, outer: usize) -> bool {
        self.around(index).any(|around| around == outer)
    }

    fn parts_of(&self, outer: usize) -> impl Iterator<Item = &Part> {
        self.parts.iter().filter(move |part| self.within(part.element, outer))
    }

    fn pages_of(&self, outer: usize) -> BTreeSet<usize> {
        self.parts_of(outer).map(|part| part.page).collect()
    }

    fn with_role(&self, wanted: impl Fn(Role) -> bool) -> impl Iterator<Item = usize> {
        (0..self.pages.elements.len()).filter(move |index| wanted(self.element(*index).role))
    }

    /// Sections inside a sheet's own.
    fn steps(&self) -> impl Iterator<Item = usize> {
        self.with_role(|role| role == Role::Section).filter(|index| self.around(*index).count() == 3)
    }

    /// Words of an element on a page.
    fn words(&self, outer: usize, page: usize) -> Vec<String> {
        let groups = self.pages.pages[page].groups.iter();
        let own = groups.filter(|group| match group.mark {
            Mark::Element(ElementId(element)) => self.within(element, outer),
            Mark::Artefact => false,
        });
        own.flat_map(|group| &group.items).filter_map(words).collect()
    }

    /// Words on a page that a screen reader skips, but for the foot.
    fn artefacts(&self, page: usize) -> Vec<String> {
        let groups = &self.pages.pages[page].groups;
        let skipped = groups[..groups.len() - 1].iter().filter(|group| group.mark == Mark::Artefact);
        skipped.flat_map(|group| &group.items).filter_map(words).collect()
    }

    /// Faults of this layout.
    fn faults(&self, packet: &Packet, setup: &PageSetup) -> Vec<String> {
        let mut faults = self.cut_steps(packet, setup);
        faults.extend(self.lone_headings());
        faults.extend(self.missing_heads());
        faults
    }

    /// Steps that are cut though a page could hold them, or that don't say that they go on.
    fn cut_steps(&self, packet: &Packet, setup: &PageSetup) -> Vec<String> {
        let sheets = packet.sheets.iter().filter(|sheet| sheet.labels.is_none());
        let steps: Vec<(&Sheet, usize, &StepBlock)> = sheets
            .flat_map(|sheet| sheet.blocks.iter().enumerate().map(move |(at, block)| (sheet, at, block)))
            .filter_map(|(sheet, at, block)| match block {
                Block::Step(step) => Some((sheet, at, step)),
                _ => None,
            })
            .collect();
        let sections: Vec<usize> = self.steps().collect();
        assert_eq!(steps.len(), sections.len(), "every step is a section");
        let mut faults = Vec::new();
        for ((sheet, at, step), section) in steps.into_iter().zip(sections) {
            let pages = self.pages_of(section);
            let Some((first, later)) = pages.iter().next().zip(Some(pages.iter().skip(1))) else {
                faults.push(format!("step {} stands on no page", step.number));
                continue;
            };
            if later.clone().count() == 0 {
                continue;
            }
            if let Some(share) = share_of_page(sheet, at, setup) {
                let parts = pages.iter().map(|page| self.share_on(section, *page, setup));
                let parts: Vec<f32> = parts.collect();
                let good = matches!(parts.as_slice(), [before, behind] if *before > 0.1 && *behind > 0.06);
                if share < SHORT || !good {
                    faults.push(format!(
                        "step {} is cut after page {}, and would fit one: {share} of a page in {parts:?}",
                        step.number,
                        first + 1
                    ));
                }
            }
            for page in later {
                let skipped = self.artefacts(*page);
                let said = skipped
                    .windows(2)
                    .any(|pair| pair[0].starts_with(start(&step.title)) && pair[1] == "continued");
                if !said {
                    faults.push(format!(
                        "page {}: step {} doesn't say that it goes on",
                        page + 1,
                        step.number
                    ));
                }
            }
        }
        faults
    }

    /// How high an element stands on a page, as a share of what a page holds.
    fn share_on(&self, outer: usize, page: usize, setup: &PageSetup) -> f32 {
        let here = self.parts_of(outer).filter(|part| part.page == page);
        let (top, bottom) = here
            .fold((f32::MAX, f32::MIN), |(top, bottom), part| (top.min(part.top), bottom.max(part.bottom)));
        (bottom - top) / (setup.size().1 - 92.0)
    }

    /// Headings below which their page ends, though more of the sheet follows.
    fn lone_headings(&self) -> Vec<String> {
        let mut faults = Vec::new();
        for (place, part) in self.parts.iter().enumerate() {
            let Some(heading) = self.heading(part.element) else { continue };
            let Some(next) = self.parts.get(place + 1) else { continue };
            let sheet = |element| self.around(element).nth(self.around(element).count() - 2);
            let more = next.page == part.page || sheet(next.element) != sheet(part.element);
            // What stands at the top of a page can't be moved to where there is more room.
            let above = self.parts[..place].iter().rev().take_while(|above| above.page == part.page);
            let at_top = above.clone().all(|above| self.heading(above.element).is_some());
            if !more && !at_top {
                let words = self.words(heading, part.page).concat();
                faults.push(format!("page {}: the heading `{words}` stands alone at its end", part.page + 1));
            }
        }
        faults
    }

    fn heading(&self, element: usize) -> Option<usize> {
        self.around(element).find(|around| matches!(self.element(*around).role, Role::Heading(_)))
    }

    /// Tables that go on without their head, or whose head stands alone.
    fn missing_heads(&self) -> Vec<String> {
        let mut faults = Vec::new();
        for table in self.with_role(|role| role == Role::Table) {
            let heads: Vec<&Part> = self
                .parts_of(table)
                .filter(|part| self.element(part.element).role == Role::ColumnHeading)
                .collect();
            let Some(first) = heads.first().map(|head| head.page) else { continue };
            let cells: BTreeSet<usize> = self
                .parts_of(table)
                .filter(|part| {
                    // Words that lead elsewhere are a part of their cell.
                    let cell = |role| matches!(role, Role::TableCell | Role::RowHeading);
                    self.around(part.element).any(|around| cell(self.element(around).role))
                })
                .map(|part| part.page)
                .collect();
            let top = heads.iter().map(|head| head.top).fold(f32::MAX, f32::min);
            let bottom = heads.iter().map(|head| head.bottom).fold(f32::MIN, f32::max);
            // A head that would hardly leave room for a row gives way.
            if bottom - top > self.pages.height * 0.3 {
                continue;
            }
            // A first row without words can't be seen to stand there.
            let mut rows =
                self.with_role(|role| role == Role::TableRow).filter(|row| self.within(*row, table));
            if rows.nth(1).is_none_or(|row| self.parts_of(row).next().is_none()) {
                continue;
            }
            if !cells.is_empty() && !cells.contains(&first) {
                faults.push(format!("page {}: the head of a table stands alone", first + 1));
            }
            let mut wanted = BTreeMap::new();
            for head in
                self.with_role(|role| role == Role::ColumnHeading).filter(|head| self.within(*head, table))
            {
                for words in self.words(head, first) {
                    *wanted.entry(words).or_insert(0) += 1;
                }
            }
            for page in cells.iter().filter(|page| **page != first) {
                let skipped = self.artefacts(*page);
                let there = |words: &String| skipped.iter().filter(|skipped| *skipped == words).count();
                let missing: Vec<&String> = wanted
                    .iter()
                    .filter(|(words, count)| there(words) < **count)
                    .map(|(words, _)| words)
                    .collect();
                if !missing.is_empty() {
                    faults.push(format!("page {}: a table goes on without {missing:?}", page + 1));
                }
            }
        }
        faults
    }
}

pub(super) fn words(item: &Item) -> Option<String> {
    match item {
        Item::Text(run) => Some(run.text.trim_end().to_string()),
        _ => None,
    }
}

/// The first word of a step's title: enough to know it by.
fn start(title: &Text) -> &str {
    title.0.first().and_then(|run| run.text.split(' ').next()).unwrap_or_default()
}

/// Share of a page up to which a step is not cut: a little less than what the layout takes, since what is seen of it is
/// not quite so high as the room that it takes.
const SHORT: f32 = 0.36;

/// How much of a page the step at this place of a sheet takes, if it would fit one together with the headings right
/// above it: the first page, if nothing but those stands above it, or another.
fn share_of_page(sheet: &Sheet, at: usize, setup: &PageSetup) -> Option<f32> {
    let is_heading = |block: &&Block| matches!(block, Block::Heading { .. });
    let start = at - sheet.blocks[..at].iter().rev().take_while(is_heading).count();
    let alone = Sheet {
        title: if start == 0 { sheet.title.clone() } else { String::new() },
        subtitle: if start == 0 { sheet.subtitle.clone() } else { String::new() },
        blocks: sheet.blocks[start..=at].to_vec(),
        ..sheet.clone()
    };
    let pages = lay_out(&Packet { sheets: vec![alone], ..Packet::default() }, setup).value;
    let [page] = pages.pages.as_slice() else { return None };
    let (foot, content) = page.groups.split_last().unwrap();
    let areas = content.iter().flat_map(|group| &group.items).map(Item::bounds);
    let bottom = areas.map(|area: Area| area.y + area.height).fold(f32::MIN, f32::max);
    // Not on the first page of a sheet, the head that comes again needs its room.
    let fits = start == 0 || bottom < foot.items[0].bounds().y - 34.0;
    let reading = Reading::new(&pages);
    let section = reading.steps().last().filter(|_| fits)?;
    Some(reading.share_on(section, 0, setup))
}

/// Whether nothing of a block is seen: what stands above it then stands above the next one.
fn says_nothing(block: &Block) -> bool {
    let silent = |text: &Text| text.words().trim().is_empty();
    match block {
        Block::Heading { text, .. } | Block::Paragraph(text) | Block::Notice(text) => silent(text),
        Block::List { items, .. } => items.iter().all(silent),
        Block::Facts(facts) => facts.iter().all(|(name, value)| silent(name) && silent(value)),
        Block::Contents(entries) => entries.iter().all(|(words, _)| words.trim().is_empty()),
        Block::Table(table) => table.columns.is_empty() || table.rows.is_empty(),
        Block::Lines { label, .. } => silent(label),
        Block::Figure(_) | Block::Label(_) => true,
        _ => false,
    }
}

/// The blocks that are kept together, each by itself.
fn alone(block: Block) -> Vec<Block> {
    match block {
        Block::Together(blocks) => blocks,
        block => vec![block],
    }
}

/// Words of the length that a mechanic writes.
fn shorten(text: &mut Text) {
    const LETTERS: usize = 60;
    text.0.truncate(2);
    for run in &mut text.0 {
        run.text = run.text.chars().take(LETTERS).collect();
    }
}

/// Heads and rows of many narrow columns are half a page high: with the words above them they fill more than one, and
/// something has to be parted that is better kept together.
fn narrow(table: &mut Table) {
    const COLUMNS: usize = 3;
    shorten(&mut table.caption);
    table.columns.truncate(COLUMNS);
    for row in &mut table.rows {
        row.truncate(COLUMNS);
        for cell in row {
            if let Cell::Text(text) = cell {
                shorten(text);
            }
        }
    }
}

/// Names every step and sheet, so that they are found again.
pub(super) fn named(mut sheets: Vec<Sheet>) -> Packet {
    let mut number = 0;
    for (index, sheet) in sheets.iter_mut().enumerate() {
        sheet.title = format!("Sheet {index}");
        sheet.blocks = std::mem::take(&mut sheet.blocks).into_iter().flat_map(alone).collect();
        sheet.blocks.retain(|block| !says_nothing(block));
        for block in &mut sheet.blocks {
            if let Block::Lines { label, .. } = block
                && label.words().trim().is_empty()
            {
                // Lines without words are not seen by whoever reads the parts of a page.
                *label = Text::plain("Notes");
            }
            if let Block::Table(table) = block {
                narrow(table);
            }
            if let Block::Facts(facts) = block {
                // A row without words can't be seen to stand below its heading.
                facts.retain(|(name, value)| {
                    !name.words().trim().is_empty() || !value.words().trim().is_empty()
                });
            }
            if let Block::Heading { text, .. } = block {
                shorten(text);
            }
            if let Block::Step(step) = block {
                // An overview of the order may fill a page by itself; it has no place in a step.
                let overview = |line: &StepLine| {
                    matches!(line, StepLine::Figure(Figure { drawing: Drawing::Order(_), .. }))
                };
                step.lines.retain(|line| !overview(line));
                step.lines.splice(0..0, acts(1));
                for text in step.facts.iter_mut().chain(&mut step.held_by).chain([&mut step.reason]) {
                    shorten(text);
                }
                for line in &mut step.lines {
                    if let StepLine::Hazard(hazard) = line {
                        hazard.protective_equipment.truncate(2);
                        for text in [&mut hazard.hazard, &mut hazard.consequence, &mut hazard.avoidance] {
                            shorten(text);
                        }
                    }
                    if let StepLine::Table(table) | StepLine::Readings { table, .. } = line {
                        narrow(table);
                    }
                }
                number += 1;
                step.number = number.to_string();
                step.anchor = demo::anchor(&format!("step:{number}"));
                step.title = Text::plain(format!("Title{number} of a step"));
            }
        }
    }
    Packet { title: "Random".into(), language: "en".into(), sheets, ..Packet::default() }
}

fn check(packet: &Packet) -> Vec<String> {
    let mut faults = Vec::new();
    for (paper, two_sided) in [(Paper::A4, false), (Paper::Letter, true)] {
        let setup = PageSetup { paper, two_sided };
        let pages = lay_out(packet, &setup).value;
        faults.extend(Reading::new(&pages).faults(packet, &setup));
    }
    faults
}

proptest! {
    // The same packets each time, so that everybody sees the same fault.
    #![proptest_config(ProptestConfig {
        cases: 400,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(1),
        ..ProptestConfig::default()
    })]

    #[test]
    fn pages_end_where_they_may(sheets in proptest::collection::vec(placing::sheet(), 1..4)) {
        let faults = check(&named(sheets));
        prop_assert!(faults.is_empty(), "{}", faults.join("\n"));
    }
}

fn acts(count: usize) -> Vec<StepLine> {
    (0..count)
        .map(|n| StepLine::Act { text: Text::plain(format!("Undo bolt {n}.")), boxes: Boxes::One })
        .collect()
}

pub(super) fn step(lines: Vec<StepLine>) -> Block {
    Block::Step(StepBlock {
        number: String::new(),
        title: Text::default(),
        anchor: demo::anchor(""),
        facts: Vec::new(),
        also: Vec::new(),
        lies: None,
        tools: Vec::new(),
        reason: Text::default(),
        held_by: Vec::new(),
        lines,
    })
}

pub(super) fn sheet(blocks: Vec<Block>) -> Sheet {
    Sheet::new(SheetKind::Steps, "", "", blocks)
}

#[test]
fn the_checks_see_faults() {
    let heading = Block::Heading { level: 2, text: Text::plain("Below"), anchor: None };
    let packet = named(vec![sheet(vec![step(acts(7)), heading, step(acts(60))])]);
    let setup = PageSetup::default();
    let sound = lay_out(&packet, &setup).value;
    assert_eq!(Reading::new(&sound).faults(&packet, &setup), Vec::<String>::new());
    assert!(sound.pages.len() >= 3, "the second step is cut");

    // What says that the step goes on is taken away.
    let mut silent = sound.clone();
    for page in &mut silent.pages {
        for group in &mut page.groups {
            group.items.retain(|item| words(item).is_none_or(|words| words != "continued"));
        }
    }
    let faults = Reading::new(&silent).faults(&packet, &setup);
    assert!(faults.iter().any(|fault| fault.contains("doesn't say that it goes on")), "{faults:?}");

    // The end of the first step is moved to the next page.
    let mut cut = sound.clone();
    let reading = Reading::new(&sound);
    let first = reading.steps().next().unwrap();
    let last = reading.parts_of(first).last().unwrap().element;
    let at =
        cut.pages[0].groups.iter().rposition(|group| group.mark == Mark::Element(ElementId(last))).unwrap();
    let group = cut.pages[0].groups.remove(at);
    cut.pages[1].groups.insert(1, group);
    let faults = Reading::new(&cut).faults(&packet, &setup);
    assert!(faults.iter().any(|fault| fault.contains("step 1 is cut")), "{faults:?}");

    // The heading loses what follows it.
    let mut lone = sound.clone();
    let own = |heading: &usize| reading.parts.iter().any(|part| part.element == *heading);
    let heading = reading.with_role(|role| role == Role::Heading(2)).find(own).unwrap();
    let on = reading.parts_of(heading).next().unwrap().page;
    let at = lone.pages[on]
        .groups
        .iter()
        .rposition(|group| group.mark == Mark::Element(ElementId(heading)))
        .unwrap();
    let foot = lone.pages[on].groups.pop().unwrap();
    let tail = lone.pages[on].groups.split_off(at + 1);
    lone.pages[on].groups.push(foot);
    lone.pages[on + 1].groups.splice(0..0, tail);
    let faults = Reading::new(&lone).faults(&packet, &setup);
    assert_eq!(on, 0, "the heading stands below the first step");
    assert!(faults.iter().any(|fault| fault.contains("stands alone at its end")), "{faults:?}");
}

#[test]
fn the_check_of_heads_sees_one_that_is_missing() {
    let columns = ["Place", "Wear"];
    let columns = columns.map(|heading| Column { heading: heading.into(), share: 1.0, to_the_right: false });
    let rows = (0..60).map(|n| vec![Cell::Text(Text::plain(format!("row {n}"))), Cell::Blank("mm".into())]);
    let table = Table { caption: Text::default(), columns: columns.to_vec(), rows: rows.collect() };
    let packet = named(vec![sheet(vec![Block::Table(table)])]);
    let setup = PageSetup::default();
    let mut pages = lay_out(&packet, &setup).value;
    assert_eq!(Reading::new(&pages).faults(&packet, &setup), Vec::<String>::new());
    for group in &mut pages.pages[1].groups {
        group.items.retain(|item| words(item).is_none_or(|words| words != "Wear"));
    }
    let faults = Reading::new(&pages).faults(&packet, &setup);
    assert_eq!(faults, ["page 2: a table goes on without [\"Wear\"]"]);
}

#[test]
fn a_figure_stands_on_the_page_of_its_step() {
    // A step that would just not fit below the others.
    for before in 0..24 {
        let figure = StepLine::Figure(demo::head_joint(Some(Toward::Left)));
        let lines = std::iter::once(figure).chain(acts(4)).collect();
        let packet = named(vec![sheet(vec![step(acts(before)), step(lines)])]);
        let pages = lay_out(&packet, &PageSetup::default()).value;
        let reading = Reading::new(&pages);
        let step = reading.steps().nth(1).unwrap();
        let figure = reading.with_role(|role| role == Role::Figure).next().unwrap();
        assert!(reading.within(figure, step));
        let (figure, step) = (reading.pages_of(figure), reading.pages_of(step));
        assert_eq!(figure.len(), 1, "{before} acts before");
        assert_eq!(figure.first(), step.first(), "{before} acts before");
    }
}

#[test]
fn what_announces_rows_is_never_the_last_of_its_column() {
    for rows in 60..110 {
        let text = |index: usize| {
            if index % 7 == 3 {
                Text::bold(format!("Firm {index}:"))
            } else {
                Text::plain(format!("thing {index}"))
            }
        };
        let table = Table {
            caption: Text::default(),
            columns: vec![Column { heading: "What".into(), share: 1.0, to_the_right: false }],
            rows: (0..rows).map(|index| vec![Cell::Text(text(index))]).collect(),
        };
        let packet = Packet { sheets: vec![sheet(vec![Block::Halves(table)])], ..Packet::default() };
        let pages = lay_out(&packet, &PageSetup::default()).value;
        let mut seen = Vec::new();
        for (page, on) in pages.pages.iter().enumerate() {
            for item in on.groups.iter().flat_map(|group| &group.items) {
                let Some(words) = words(item) else { continue };
                if words.starts_with("Firm ") || words.starts_with("thing ") {
                    seen.push((page, item.bounds().x, words));
                }
            }
        }
        assert_eq!(seen.len(), rows, "{seen:?}");
        for pair in seen.windows(2) {
            let same = pair[0].0 == pair[1].0 && (pair[0].1 - pair[1].1).abs() < 1.0;
            assert!(same || !pair[0].2.starts_with("Firm "), "{rows} rows: {pair:?}");
        }
    }
}
