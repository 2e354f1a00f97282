//! A stretch that the grammar does not match, gone through piece by piece: heads, then clause after clause. What is
//! sound goes into the tree; each fault is complained of once, and reading goes on behind it.

use std::collections::BTreeSet;

use super::diagnose::{Resume, diagnose, unknown_declaration};
use super::errors;
use super::expected::Expected;
use super::grammar::{Failure, Node, Rule, read};
use super::lexeme::{Kind, Lexeme, end_before, lexeme, lexemes, line_end, skip_space};
use super::lower::{Builder, Run};
use super::place::Place;
use super::row::Shape;
use super::shape::{CHANGE, is_declaration, item, plain};
use super::tree::{Item, Step};
use crate::diagnostics::Diagnostic;
use crate::source::{Span, character_from};

/// Goes through stretches that don't match.
pub(super) struct Recovery<'a> {
    /// Builds the tree of what is sound.
    pub builder: &'a Builder,
    /// All complaints so far.
    pub faults: &'a mut Vec<Diagnostic>,
    /// Starts, in the file, of lines that have been complained of before the grammar saw them.
    pub faulty_lines: &'a BTreeSet<usize>,
    /// The text of the whole file, to find the lines.
    pub whole: &'a str,
    /// The word that started the declaration at hand.
    pub owner: &'static str,
}

/// A declaration that is being recovered.
struct Body<'t> {
    runs: Vec<Run<'t>>,
    steps: Vec<Step>,
    end: usize,
}

impl Recovery<'_> {
    /// The declarations of one stretch.
    pub(super) fn stretch(&mut self, place: Place<'_>) -> Vec<Item> {
        let mut items = Vec::new();
        let mut at = 0;
        while !self.full() {
            at = skip(place.text, at);
            let found = lexeme(place.text, at);
            if found.kind == Kind::End {
                break;
            }
            let next = if found.text == CHANGE {
                self.changed(place, at, found.end, &mut items)
            } else if let Some(declaration) = plain(found.text) {
                self.plain(place, at, declaration, &mut items)
            } else if let Some(shape) = Shape::started_by(found.text) {
                self.declaration(place, at, shape, &mut items)
            } else {
                self.stranger(place, at, &mut items)
            };
            at = next.max(found.end);
        }
        items
    }

    /// What is declared elsewhere and changed here: `change` at `at`, which ends at `behind`.
    fn changed(&mut self, place: Place<'_>, at: usize, behind: usize, items: &mut Vec<Item>) -> usize {
        let start = skip_space(place.text, behind);
        let found = lexeme(place.text, start);
        if let Some(shape) = Shape::changed(found.text) {
            return self.declaration(place, start, shape, items);
        }
        match plain(found.text) {
            Some(declaration) if !matches!(declaration, Rule::use_file | Rule::without) => {
                self.plain(place, at, Rule::changed_plain, items)
            }
            _ => {
                let words = errors::no_change(place.span(at, behind), found.text);
                self.tell(place, at, words);
                behind_declaration(place.text, at)
            }
        }
    }

    fn full(&self) -> bool {
        self.faults.len() > super::MOST_FAULTS
    }

    /// A declaration without clauses.
    fn plain(&mut self, place: Place<'_>, at: usize, declaration: Rule, items: &mut Vec<Item>) -> usize {
        let keyword = lexeme(place.text, at);
        match read(declaration, &place.text[at..]) {
            Ok(node) => {
                self.builder.start_at(place.base + at);
                items.push(item(self.builder, &node));
                let end = end_before(place.text, at + node.as_str().len());
                self.behind(place, at, end)
            }
            Err(Failure::TooMuch) => self.too_much(place, at),
            Err(Failure::Mismatch { at: furthest, expected }) => {
                let furthest = (at + furthest).max(keyword.end);
                self.complain(place, furthest, &expected, None);
                next_line(place.text, furthest)
            }
        }
    }

    /// A declaration with a head and clauses.
    fn declaration(
        &mut self,
        place: Place<'_>,
        at: usize,
        shape: &'static Shape,
        items: &mut Vec<Item>,
    ) -> usize {
        let keyword = lexeme(place.text, at).text;
        self.owner = shape.words.iter().find(|word| **word == keyword).copied().unwrap_or(shape.word());
        match read(shape.head, &place.text[at..]) {
            Ok(head) => {
                let head_end = end_before(place.text, at + head.as_str().len());
                self.with_head(place, (at, place.base + at), Some(&head), head_end, shape, items)
            }
            Err(Failure::TooMuch) => self.too_much(place, at),
            Err(Failure::Mismatch { at: furthest, expected }) => {
                let furthest = at + furthest;
                self.complain(place, furthest, &expected, Some(shape));
                let behind = end_before(place.text, furthest).max(lexeme(place.text, at).end);
                self.with_head(place, (at, place.base + at), None, behind, shape, items)
            }
        }
    }

    /// The clauses behind a head that ends at `head_end`. A head that could not be read has been complained of; its
    /// clauses are looked at all the same. `start` is where the declaration starts, in the stretch and, for the text
    /// that the head was matched in, in the file.
    fn with_head(
        &mut self,
        place: Place<'_>,
        start: (usize, usize),
        head: Option<&Node<'_>>,
        head_end: usize,
        shape: &'static Shape,
        items: &mut Vec<Item>,
    ) -> usize {
        let (at, head_base) = start;
        let next = skip_space(place.text, head_end);
        let found = lexeme(place.text, next);
        let has_clause = shape.has_clause(found.text);
        let body = if found.text == "{" {
            self.body(place, next + 1, shape)
        } else if has_clause && (head.is_some() || place.text[head_end..next].contains('\n')) {
            if head.is_some() {
                let behind = place.span(head_end, head_end);
                self.tell(
                    place,
                    head_end,
                    errors::missing_brace(behind, self.owner, place.span(next, found.end)),
                );
            }
            self.body(place, next, shape)
        } else if found.kind == Kind::End || found.text == ";" || is_declaration(found.text) {
            if shape.holds_steps() && head.is_some() {
                self.tell(place, head_end, errors::no_steps(place.span(head_end, head_end), self.owner));
            }
            Body { runs: Vec::new(), steps: Vec::new(), end: head_end }
        } else {
            let brace = find_brace(place.text, next);
            if head.is_some() {
                let limit = brace.unwrap_or_else(|| line_end(place.text, next));
                self.stray(place, at, end_before(place.text, next), next, limit, Some(shape));
            }
            match brace {
                Some(brace) => self.body(place, brace + 1, shape),
                None => Body { runs: Vec::new(), steps: Vec::new(), end: next_line(place.text, next) },
            }
        };
        if let Some(head) = head {
            let span = place.span(at, end_before(place.text, body.end).max(at));
            self.builder.start_at(head_base);
            items.push(self.builder.item_of_parts(shape, head, &body.runs, body.steps, span));
        }
        body.end
    }

    /// Something stands at `next`, before `limit`, that doesn't go on with what began at `at` and ended at `end`.
    fn stray(
        &mut self,
        place: Place<'_>,
        at: usize,
        end: usize,
        next: usize,
        limit: usize,
        shape: Option<&'static Shape>,
    ) {
        let (furthest, mut expected) = match read(Rule::stretch, &place.text[at..limit]) {
            Err(Failure::Mismatch { at: furthest, expected }) if at + furthest >= end => {
                (at + furthest, expected)
            }
            _ => (next, Vec::new()),
        };
        expected.retain(|tried| starts_no_declaration(*tried));
        self.complain(place, furthest.max(next), &expected, shape);
    }

    /// The clauses from `at` to the closing brace.
    fn body<'t>(&mut self, place: Place<'t>, mut at: usize, shape: &'static Shape) -> Body<'t> {
        let mut body = Body { runs: Vec::new(), steps: Vec::new(), end: at };
        // Where the last sound clause starts: what could follow it is known only when it is read again.
        let mut last = None;
        let mut turned = 0;
        while !self.full() {
            if let Ok(clauses) = read(shape.clauses, &place.text[at..]) {
                let start = at;
                last = clauses
                    .clone()
                    .into_inner()
                    .last()
                    .map(|clause| start + clause.as_span().start())
                    .or(last);
                at = end_before(place.text, at + clauses.as_str().len()).max(at);
                body.runs.push(Run { base: place.base + start, until: usize::MAX, clauses });
            }
            at = skip(place.text, at);
            let found = lexeme(place.text, at);
            body.end = found.end;
            if found.kind == Kind::End || found.text == "}" {
                break;
            }
            if shape.holds_steps() {
                // A head alone is a sound step, so that of a step with a fault in its braces the head was read as one:
                // it is gone through from its head.
                if found.text == "{"
                    && let (Some(step), Some(run)) = (last.take(), body.runs.last_mut())
                {
                    run.until = (place.base + step).saturating_sub(run.base);
                    at = step;
                }
                at = self.step_of_group(place, at, &mut body);
                continue;
            }
            let (furthest, expected) = furthest(place.text, last.unwrap_or(at), at, shape);
            let resume = self.complain(place, furthest, &expected, Some(shape));
            // A clause of a change has braces of its own.
            if shape.change.is_some() && find_brace(place.text, at).is_some() {
                at = behind_declaration(place.text, at).max(found.end);
                last = None;
                continue;
            }
            let next = match resume {
                Resume::At(here) => here,
                Resume::NextClause => next_clause(place.text, furthest, shape),
                Resume::NextLine => next_line(place.text, furthest),
            };
            // Back to a word that was taken for the name its clause lacks, but never twice.
            if let Resume::At(back) = resume
                && back < at
                && back > turned
                && let Some(run) = body.runs.last_mut()
            {
                turned = back;
                run.until = (place.base + back).saturating_sub(run.base);
                at = back;
            } else {
                at = if next > at { next } else { lexeme(place.text, furthest.max(at)).end };
            }
            last = None;
        }
        body
    }

    /// Something inside a block or trial that is not a sound step.
    fn step_of_group(&mut self, place: Place<'_>, at: usize, body: &mut Body<'_>) -> usize {
        let found = lexeme(place.text, at);
        let mut items = Vec::new();
        let end = match Shape::started_by(found.text) {
            Some(shape) if shape.declaration == Rule::step => self.declaration(place, at, shape, &mut items),
            _ if is_declaration(found.text) => {
                self.tell(place, at, errors::misplaced(place.span(at, found.end), found.text, "block"));
                behind_declaration(place.text, at)
            }
            _ => self.stranger(place, at, &mut items),
        };
        body.steps.extend(items.into_iter().filter_map(|item| match item {
            Item::Step(step) => Some(step),
            _ => None,
        }));
        end.max(found.end)
    }

    /// A word that starts no declaration. If it is near one that does, the declaration is read as that one.
    fn stranger(&mut self, place: Place<'_>, at: usize, items: &mut Vec<Item>) -> usize {
        let found = lexeme(place.text, at);
        let (fault, meant) = unknown_declaration(place, &found);
        self.tell(place, at, fault);
        let Some(shape) = meant.and_then(Shape::started_by) else {
            return behind_declaration(place.text, at);
        };
        let word = meant.unwrap_or_default();
        self.owner = word;
        let mended = format!("{word}{}", &place.text[found.end..]);
        match read(shape.head, &mended) {
            Ok(head) => {
                let head_end = end_before(place.text, found.end + head.as_str().len() - word.len());
                let base = (place.base + found.end).wrapping_sub(word.len());
                self.with_head(place, (at, base), Some(&head), head_end, shape, items)
            }
            Err(_) => self.with_head(place, (at, place.base + at), None, found.end, shape, items),
        }
    }

    /// What stands on the same line behind a declaration without clauses.
    fn behind(&mut self, place: Place<'_>, at: usize, end: usize) -> usize {
        let next = skip(place.text, end);
        let found = lexeme(place.text, next);
        // A setup goes on with how long a change takes.
        let changes = || is_declaration(lexeme(place.text, found.end).text);
        if found.kind == Kind::End || is_declaration(found.text) && (found.text != CHANGE || changes()) {
            return end;
        }
        if found.text != CHANGE && place.text[end..next].contains(['\n', ';']) && found.kind == Kind::Word {
            return end;
        }
        self.stray(place, at, end, next, place.text.len(), None);
        next_line(place.text, next)
    }

    fn too_much(&mut self, place: Place<'_>, at: usize) -> usize {
        self.tell(place, at, errors::too_large(place.span(at, at), "this declaration"));
        place.text.len()
    }

    /// Complains of what stands at `at`, where these rules were tried, and says where to read on.
    fn complain(
        &mut self,
        place: Place<'_>,
        at: usize,
        rules: &[Rule],
        shape: Option<&'static Shape>,
    ) -> Resume {
        let (fault, resume) = diagnose(place, at, Expected { rules, shape, owner: self.owner });
        self.tell(place, at, fault);
        resume
    }

    /// Adds a complaint, unless it follows from one that its line already has.
    fn tell(&mut self, place: Place<'_>, at: usize, fault: Diagnostic) {
        let line_of = |at: usize| self.whole[..at.min(self.whole.len())].rfind('\n').map_or(0, |end| end + 1);
        let first = fault.labels.first().map_or(place.base + at, |label| label.span.start());
        let follows = |at: usize| self.faulty_lines.contains(&line_of(at));
        let span = |fault: &Diagnostic| fault.labels.first().map(|label| label.span);
        let told: Option<Span> = span(&fault);
        if !follows(first)
            && !follows(place.base + at)
            && !self.faults.iter().any(|other| span(other) == told)
        {
            self.faults.push(fault);
        }
    }
}

/// Bytes behind a fault that are looked at to tell what it is: more than any clause has, and few enough that a
/// hundred faults in one long declaration are told at once.
const PROBE: usize = 64 * 1024;

/// The furthest place that clauses of this shape reach from `last`, the start of a sound one, over `at`, where the
/// next one fails; and what was tried there.
fn furthest(text: &str, last: usize, at: usize, shape: &Shape) -> (usize, Vec<Rule>) {
    let from = last.min(at);
    // The opening brace lets the rule for a whole body say where it stops.
    let end = character_from(text, at.saturating_add(PROBE));
    let probe = format!("{{{}", &text[from..end]);
    match read(shape.body, &probe) {
        Err(Failure::Mismatch { at: reached, expected }) => (from + reached.saturating_sub(1), expected),
        _ => (at, Vec::new()),
    }
}

fn starts_no_declaration(tried: Rule) -> bool {
    let word = super::vocabulary::keyword(tried);
    !word.is_some_and(|word| is_declaration(&word)) && Shape::of(tried).is_none()
}

/// Over spaces and `;`.
fn skip(text: &str, from: usize) -> usize {
    from + text[from..].bytes().take_while(|byte| matches!(byte, b' ' | b'\n' | b';')).count()
}

/// The opening brace on the line of `at`, or first on the next.
fn find_brace(text: &str, at: usize) -> Option<usize> {
    let end = line_end(text, at);
    let stops = |found: &Lexeme<'_>| found.start >= end || matches!(found.text, "{" | "}");
    lexemes(text, at).find(stops).filter(|found| found.text == "{").map(|found| found.start)
}

/// The next place behind the fault at `at` where a clause may start.
fn next_clause(text: &str, at: usize, shape: &Shape) -> usize {
    let words = shape.clause_words();
    let mut depth = 0usize;
    let mut end = line_end(text, skip_space(text, at));
    for (index, found) in lexemes(text, at).enumerate() {
        if found.start >= end {
            if !continued(text, end, found.start) {
                return found.start;
            }
            end = line_end(text, found.start);
        }
        match found.text {
            "{" => depth += 1,
            "}" if depth == 0 => return found.start,
            "}" => {
                depth -= 1;
                end = line_end(text, found.end);
            }
            ";" if depth == 0 => return found.end,
            word if depth == 0 && index > 0 && found.kind == Kind::Word && words.contains(&word) => {
                return found.start;
            }
            _ => {}
        }
        if depth > 0 {
            end = text.len();
        }
    }
    text.len()
}

/// Whether the line that starts at `next` only goes on with the one that ended at `end`.
fn continued(text: &str, end: usize, next: usize) -> bool {
    let last = text[..end].trim_end_matches([' ', '\n']).bytes().next_back();
    let first = text[next.min(text.len())..].bytes().next();
    matches!(last, Some(b',' | b'='))
        || first.is_some_and(|byte| !byte.is_ascii_alphabetic() && !matches!(byte, b'}' | b';'))
}

/// The next line that doesn't go on with the line of `at`.
fn next_line(text: &str, at: usize) -> usize {
    let mut end = line_end(text, skip_space(text, at));
    for found in lexemes(text, at) {
        if matches!(found.text, "}" | "{") || (found.start >= end && !continued(text, end, found.start)) {
            return found.start;
        }
        if found.start >= end {
            end = line_end(text, found.start);
        }
    }
    text.len()
}

/// Behind a declaration that can't be understood: its braces, if they open on its line, or its line.
fn behind_declaration(text: &str, at: usize) -> usize {
    let Some(open) = find_brace(text, at) else { return next_line(text, at) };
    let mut depth = 0usize;
    let closes = |found: &Lexeme<'_>| {
        match found.text {
            "{" => depth += 1,
            "}" => depth -= 1,
            _ => {}
        }
        depth == 0
    };
    lexemes(text, open).find(closes).map_or(text.len(), |close| close.end)
}
