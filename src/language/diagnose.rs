//! From the furthest place that the grammar reached, and what it looked for there, to one complaint in plain words.
//!
//! The checks run from the most telling to the least: a number with something wrong about it, a unit, a clause word
//! taken for a name, then by what stands there, and at last what should have stood there.

use super::digits;
use super::errors;
use super::expected::Expected;
use super::grammar::Rule;
use super::lexeme::{Kind, Lexeme, end_before, lexeme, line_end, unit_run, word_before};
use super::otherwise;
use super::place::Place;
use super::row::Shape;
use super::shape::{declaration_words, is_declaration};
use super::vocabulary::{example_number, meant_unit, meant_word};
use crate::diagnostics::Diagnostic;
use crate::source::Span;

/// Where reading goes on after a fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Resume {
    /// At the next word that starts a clause, or the next line.
    NextClause,
    /// On the next line: what is left of this one are words without quotes.
    NextLine,
    /// Here.
    At(usize),
}

/// A complaint and where to read on.
type Verdict = (Diagnostic, Resume);

/// The complaint about what stands at `at`, and where to read on.
pub(super) fn diagnose(place: Place<'_>, at: usize, expected: Expected<'_>) -> Verdict {
    let found = lexeme(place.text, at);
    let case = Case {
        place,
        found,
        expected,
        new_line: place.text[end_before(place.text, at)..found.start].contains('\n'),
        before: before(place.text, found.start),
        behind: place.behind(found.start),
        known: expected.shape.map(Shape::clause_words).unwrap_or_default(),
    };
    let slip = digits::thread(place, &case.found, case.new_line)
        .or_else(|| digits::number(place, &case.found, expected.number()));
    slip.map(next)
        .or_else(|| case.unit())
        .or_else(|| case.keyword_as_name())
        .or_else(|| match found.kind {
            Kind::Word => case.word(),
            Kind::Text => case.text(),
            Kind::Number => case.digits(),
            Kind::Mark => case.mark(),
            Kind::End => None,
        })
        .or_else(|| case.missing())
        .unwrap_or_else(|| next(errors::unexpected(place.of(&found), shown(&found), &expected.phrase())))
}

/// Reading goes on at the next clause.
fn next(fault: Diagnostic) -> Verdict {
    (fault, Resume::NextClause)
}

/// One fault, with what is asked about it again and again.
struct Case<'t> {
    place: Place<'t>,
    found: Lexeme<'t>,
    expected: Expected<'t>,
    /// What was found begins a line.
    new_line: bool,
    /// The word, number or text before it.
    before: String,
    /// The place behind that.
    behind: Span,
    /// Words that start clauses of the declaration at hand.
    known: Vec<&'static str>,
}

impl Case<'_> {
    /// A word behind a number that isn't a unit.
    fn unit(&self) -> Option<Verdict> {
        let found = &self.found;
        let possible = found.kind == Kind::Word && !self.new_line && self.expected.has(&[Rule::unit]);
        if !possible || self.known.contains(&found.text) {
            return None;
        }
        // An underscore is no part of a unit; the word that was typed is told whole all the same.
        let written =
            if found.text.contains('_') { found.text } else { unit_run(self.place.text, found.start) };
        let span = self.place.span(found.start, found.start + written.len());
        if let Some(unit) = meant_unit(written) {
            return Some(next(errors::unknown_unit(span, written, Some(unit))));
        }
        let fixed = self.expected.words();
        let words: Vec<&str> = fixed.iter().map(String::as_str).chain(self.known.iter().copied()).collect();
        let other = meant_word(found.text, &words).is_some() || is_range_word(found.text);
        if other || (self.expected.clause() && found.text.contains('_')) {
            return None;
        }
        Some(next(errors::unknown_unit(span, written, None)))
    }

    /// The word before was taken for a name, though it starts a clause: what should have stood there was left out, or
    /// a comma before it is one too many.
    fn keyword_as_name(&self) -> Option<Verdict> {
        let shape = self.expected.shape?;
        if !self.expected.has(&[Rule::comma, Rule::equals, Rule::condition, Rule::positions, shape.clause]) {
            return None;
        }
        let text = self.place.text;
        let (start, word) = word_before(text, self.found.start);
        if !self.known.contains(&word) {
            return None;
        }
        let end = end_before(text, start);
        if text[..end].ends_with(',') {
            let goes_on = matches!(self.found.text, "," | "}" | ";");
            let comma = errors::loose_comma(self.place.span(end - 1, end), true);
            return (!goes_on).then_some((comma, Resume::At(start)));
        }
        let line_start = text[..start].rfind('\n').map_or(0, |at| at + 1);
        let (keyword_start, keyword) = word_before(text, start);
        if !text[line_start..start].trim().is_empty() || !self.known.contains(&keyword) {
            return None;
        }
        Some((
            errors::missing_name(self.place.span(keyword_start, end), keyword, is_declaration(keyword), None),
            Resume::At(start),
        ))
    }

    fn word(&self) -> Option<Verdict> {
        let found = &self.found;
        let word = found.text;
        let expected = self.expected;
        let span = self.place.of(found);
        let clauses = if expected.clause() { self.known.as_slice() } else { &[] };
        if is_declaration(word) && expected.clause() && !clauses.contains(&word) && self.begins_declaration()
        {
            return Some(next(errors::misplaced(span, word, expected.owner)));
        }
        if expected.clause()
            && !clauses.contains(&word)
            && let Some((fault, behind)) = otherwise::clause(self.place, found, expected.owner)
        {
            return Some((fault, behind.map_or(Resume::NextClause, Resume::At)));
        }
        if matches!(expected.owner, "fasteners" | "joint")
            && let Some((fault, behind)) = otherwise::passes(self.place, found)
        {
            return Some((fault, Resume::At(behind)));
        }
        if let Some(meant) = otherwise::end(word).filter(|_| expected.has(&[Rule::end])) {
            return Some(next(errors::unknown_word(span, word, meant)));
        }
        if expected.owner == "fasteners"
            && let Some((fault, behind)) =
                otherwise::driven_inside(self.place, found).or_else(|| otherwise::lock(self.place, found))
        {
            return Some((fault, Resume::At(behind)));
        }
        if expected.has(&[Rule::part_kind, Rule::tool_kind])
            && meant_word(word, &expected.words().iter().map(String::as_str).collect::<Vec<_>>()).is_none()
            && let Some(fault) = otherwise::kind(self.place, found, expected.owner, &expected.phrase())
        {
            return Some((fault, Resume::At(found.end)));
        }
        // A sound clause begins here: the one before stopped too early.
        if self.known.contains(&word)
            && !expected.clause()
            && let Some((fault, _)) = self.missing()
        {
            return Some((fault, Resume::At(found.start)));
        }
        if expected.has(&[Rule::dots]) && is_range_word(word) {
            return Some(next(errors::bad_range(span, word)));
        }
        let ends_list = self.ends_list();
        let listed = expected.has(&[Rule::comma]) && ends_list;
        let fixed = expected.words();
        let fixed: Vec<&str> = fixed.iter().map(String::as_str).collect();
        let of_clauses = meant_word(word, clauses).filter(|_| !listed || self.new_line);
        let of_fixed = meant_word(word, &fixed).map(|meant| errors::unknown_word(span, word, meant));
        let of_clauses =
            of_clauses.map(|meant| errors::unknown_clause(span, word, expected.owner, clauses, Some(meant)));
        // Near enough to `then` for a slip, it begins what holds the whole fate.
        if word == "when" && fixed == ["then"] {
            return Some(next(self.left_out("then", word)));
        }
        let slip = if self.new_line { of_clauses.or(of_fixed) } else { of_fixed.or(of_clauses) };
        if let Some(fault) = slip {
            return Some(next(fault));
        }
        if expected.has(&[Rule::equals]) && !expected.has(&[Rule::comma]) {
            return Some(next(self.no_equals()));
        }
        let other = other_shape(word);
        if listed || (expected.has(&[Rule::comma]) && !self.new_line && other.is_none()) {
            return Some(next(errors::missing_comma(self.behind, &self.before, word)));
        }
        if expected.clause() {
            let hand = self
                .place
                .text
                .get(found.end..)
                .is_some_and(|behind| behind.trim_start().starts_with("hand"));
            if (expected.owner, word, hand) == ("fasteners", "by", true) {
                return Some(next(errors::driven_by_hand(span)));
            }
            if word == "at" {
                return Some(next(errors::said_of_all(span, expected.owner)));
            }
            if expected.owner == "part"
                && let Some((fault, behind)) = otherwise::set_in(self.place, found, &self.known)
            {
                return Some((fault, Resume::At(behind)));
            }
            return Some(next(match other {
                Some(other) => errors::clause_of_other(span, word, expected.owner, other.word()),
                None => errors::unknown_clause(span, word, expected.owner, clauses, None),
            }));
        }
        // How many there are stands before the title.
        let counted = expected.text() && lexeme(self.place.text, found.end).kind == Kind::Text;
        if let (true, Some(figures)) = (expected.number() || counted, digits::figures(word)) {
            return Some(next(errors::spelt_number(span, word, figures)));
        }
        if let Some(fault) = self.name_in_two() {
            return Some(next(fault));
        }
        if expected.text() && !expected.name() {
            let words = words_until(self.place.text, found.start);
            let place = self.place.span(found.start, found.start + words.len());
            return Some((errors::missing_text(place, Some(words)), Resume::NextLine));
        }
        if let Some(only) = self.only_word() {
            return Some(next(self.left_out(&only, word)));
        }
        if expected.number() && !expected.name() {
            return Some(next(errors::missing_number(
                span,
                &self.before,
                &expected.phrase(),
                example_number(&self.before),
            )));
        }
        let list = expected.phrase();
        (!fixed.is_empty() && list.starts_with('`')).then(|| next(errors::not_of_list(span, word, &list)))
    }

    /// The word that alone may stand before `after`, which may be nothing.
    fn left_out(&self, word: &str, after: &str) -> Diagnostic {
        if (self.before.as_str(), word) == ("clean", "then") && after != "reuse" {
            return errors::clean_alone(self.behind);
        }
        errors::missing_word(self.behind, word, &self.before, after)
    }

    /// The name of a declaration in two words, with its title behind it.
    fn name_in_two(&self) -> Option<Diagnostic> {
        let text = self.place.text;
        let (start, name) = word_before(text, self.found.start);
        let (_, declares) = word_before(text, start);
        let behind = lexeme(text, self.found.end);
        let counted = behind.kind == Kind::Number;
        let title = if counted { lexeme(text, behind.end) } else { behind };
        let titled = title.kind == Kind::Text;
        let two = self.expected.text() && titled && !self.new_line && is_declaration(declares);
        let span = self.place.span(start, self.found.end);
        (two && !name.is_empty()).then(|| errors::name_in_two(span, name, self.found.text))
    }

    /// Whether what was found can be the last or the next member of a list: nothing follows that it would begin.
    fn ends_list(&self) -> bool {
        let behind = lexeme(self.place.text, self.found.end);
        behind.kind == Kind::End
            || matches!(behind.text, "," | "}" | ";")
            || self.known.contains(&behind.text)
            || behind.start > line_end(self.place.text, self.found.end)
    }

    /// Whether a name and a title or brace follow, as in a declaration.
    fn begins_declaration(&self) -> bool {
        let name = lexeme(self.place.text, self.found.end);
        name.kind == Kind::Word && !matches!(lexeme(self.place.text, name.end).text, "," | "}" | ";" | "")
    }

    fn no_equals(&self) -> Diagnostic {
        errors::missing_equals(self.behind, &self.before, rest(self.place.text, self.found.start))
    }

    /// Whether this begins a clause or ends one: nothing that a comma could have led to.
    fn stands_alone(&self, following: &Lexeme<'_>) -> bool {
        following.kind == Kind::End
            || matches!(following.text, "," | "}" | ";")
            || following.kind == Kind::Word && self.known.contains(&following.text)
    }

    /// `length 25 mm at A, 40 mm at B`, found at its comma.
    fn holes_behind_lengths(&self) -> Option<Diagnostic> {
        let text = self.place.text;
        let from = text[..self.found.start].rfind(['{', '}', '\n', ';']).map_or(0, |at| at + 1);
        let start = from + text[from..self.found.start].rfind("length")?;
        let end = start + text[start..].find(['}', '\n', ';'])?;
        let said = text[start..end].trim_end();
        let each = said.strip_prefix("lengths").or_else(|| said.strip_prefix("length"))?.split(',');
        let meant: Option<Vec<String>> = each
            .map(|one| {
                let (length, hole) = one.split_once(" at ")?;
                let letters = hole.trim().chars().all(|letter| letter.is_ascii_uppercase());
                letters.then(|| format!("{} {}", hole.trim(), length.trim()))
            })
            .collect();
        let place = self.place.span(start, start + said.len());
        Some(errors::hole_behind_length(place, &format!("lengths {}", meant?.join(", "))))
    }

    /// The one fixed word that could stand here, if nothing else could.
    fn only_word(&self) -> Option<String> {
        let mut words = self.expected.words();
        let only = words.len() == 1 && !self.expected.number() && !self.expected.clause();
        // Groups of an axis may be left out: their `in` is wanted behind no number.
        words
            .pop()
            .filter(|word| only && !(word == "in" && self.before.ends_with(|c: char| c.is_ascii_digit())))
    }

    fn text(&self) -> Option<Verdict> {
        let found = &self.found;
        let expected = self.expected;
        if expected.has(&[Rule::name, Rule::reference, Rule::references]) {
            let name = super::names::name_for_title(found.text.trim_matches('"'));
            return Some(next(errors::missing_name(
                self.behind,
                &self.before,
                is_declaration(&self.before),
                Some(&name),
            )));
        }
        if expected.has(&[Rule::comma]) {
            return Some(next(errors::missing_comma(self.behind, &self.before, shown(found))));
        }
        if expected.has(&[Rule::equals]) {
            return Some(next(self.no_equals()));
        }
        if let Some(only) = self.only_word() {
            return Some(next(errors::missing_word(self.behind, &only, &self.before, shown(found))));
        }
        let inner = found.text.trim_matches('"');
        if expected.number() && inner.starts_with(|c: char| c.is_ascii_digit()) {
            return Some(next(errors::quoted_number(self.place.of(found), &self.before, inner)));
        }
        expected.clause().then(|| {
            let in_step = expected.shape.is_some_and(|shape| shape.declaration == Rule::step);
            (errors::loose_text(self.place.of(found), in_step), Resume::At(found.end))
        })
    }

    fn digits(&self) -> Option<Verdict> {
        let found = &self.found;
        if let Some(fault) = digits::stroke(self.place, found) {
            return Some(next(fault));
        }
        if let Some((fault, behind)) = otherwise::count_behind(self.place, found) {
            return Some((fault, Resume::At(behind)));
        }
        if self.expected.has(&[Rule::equals]) {
            return Some(next(self.no_equals()));
        }
        if self.expected.has(&[Rule::comma]) {
            return Some(next(errors::missing_comma(self.behind, &self.before, found.text)));
        }
        if self.expected.has(&[Rule::dots]) {
            return Some(next(errors::bad_range(self.place.of(found), found.text)));
        }
        let only = self.only_word()?;
        Some(next(errors::missing_word(self.behind, &only, &self.before, found.text)))
    }

    fn mark(&self) -> Option<Verdict> {
        let found = &self.found;
        let text = self.place.text;
        let expected = self.expected;
        let span = self.place.of(found);
        let following = lexeme(text, found.end);
        match found.text {
            ":" if expected.has(&[Rule::equals]) => {
                Some(next(errors::colon_for_equals(span, &self.before, rest(text, following.start))))
            }
            ":" | "=" if expected.name() || expected.number() || expected.text() => {
                let wanted = following.kind != Kind::End && following.kind != Kind::Mark;
                wanted.then(|| next(errors::loose_mark(span, found.text)))
            }
            "." if text[..found.start].ends_with(|c: char| c.is_ascii_digit()) => {
                let (start, digits) = word_before(text, found.start);
                let place = self.place.span(start, found.end);
                Some(next(errors::bad_number(place, &format!("{digits}."), Some(digits))))
            }
            "-" | "~" if expected.has(&[Rule::dots]) => Some(next(errors::bad_range(span, found.text))),
            "," => Some(next(
                digits::decimal_comma(self.place, found, &following)
                    .or_else(|| self.holes_behind_lengths())
                    .unwrap_or_else(|| errors::loose_comma(span, self.stands_alone(&following))),
            )),
            "'" => {
                let place = self.place.span(found.start, line_end(text, found.start));
                Some((errors::missing_text(place, None), Resume::NextLine))
            }
            "#" | "/" | "*" if !expected.has(&[Rule::product_sign]) => {
                Some((errors::not_a_comment(span), Resume::NextLine))
            }
            "}" | "{" | ";" => None,
            ")" | "]" | "(" | "[" => Some(next(errors::unexpected(span, found.text, &expected.phrase()))),
            _ => expected.has(&[Rule::equals]).then(|| next(self.no_equals())),
        }
    }

    /// What should have stood before the end, a brace, or something that can't be it.
    fn missing(&self) -> Option<Verdict> {
        let found = &self.found;
        let expected = self.expected;
        let stops = found.kind == Kind::End || matches!(found.text, "}" | ";" | "{");
        let resume = if stops { Resume::At(found.start) } else { Resume::NextClause };
        if expected.has(&[Rule::direction]) {
            return Some((errors::missing_direction(self.behind, &self.before), Resume::At(found.start)));
        }
        let fault = if self.before == "," {
            let end = end_before(self.place.text, found.start);
            errors::loose_comma(self.place.span(end - 1, end), true)
        } else if expected.words().iter().any(|word| word == "fitted") {
            errors::needed_how(self.behind, &self.before)
        } else if expected.has(&[Rule::equals]) && !expected.has(&[Rule::comma]) {
            errors::missing_equals(self.behind, &self.before, "...")
        } else if expected.text() && !expected.name() {
            errors::missing_text(self.behind, None)
        } else if expected.number() {
            errors::missing_number(
                self.behind,
                &self.before,
                &expected.phrase(),
                example_number(&self.before),
            )
        } else if expected.name() && !expected.clause() {
            errors::missing_name(self.behind, &self.before, is_declaration(&self.before), None)
        } else if let Some(only) = self.only_word() {
            self.left_out(&only, "")
        } else if stops && !expected.phrase().is_empty() {
            errors::unfinished(self.behind, &self.before, &expected.phrase())
        } else {
            return None;
        };
        Some((fault, resume))
    }
}

/// Words that people put between the ends of a range.
fn is_range_word(word: &str) -> bool {
    matches!(word, "to" | "till" | "until" | "and" | "through")
}

/// The letters of what was found, cut to a readable length.
fn shown<'t>(found: &Lexeme<'t>) -> &'t str {
    let cut = found.text.char_indices().nth(40).map_or(found.text.len(), |(at, _)| at);
    &found.text[..cut]
}

/// The declaration that has a clause of this name, for a word used in another.
fn other_shape(word: &str) -> Option<&'static Shape> {
    Shape::all().find(|shape| !shape.holds_steps() && shape.has_clause(word))
}

/// Words without quotes, up to what ends them.
fn words_until(text: &str, from: usize) -> &str {
    let line = &text[from..line_end(text, from)];
    line[..line.find(['"', '{', '}', ';']).unwrap_or(line.len())].trim_end()
}

/// What is left of the line from `from`, up to a wide gap or a brace.
fn rest(text: &str, from: usize) -> &str {
    let line = &text[from..line_end(text, from)];
    let end = ["  ", "{", "}", ";"].iter().filter_map(|mark| line.find(mark)).min();
    line[..end.unwrap_or(line.len())].trim_end()
}

/// The word, number or text that ends before `at`.
fn before(text: &str, at: usize) -> String {
    let text = &text[..end_before(text, at)];
    if let Some(inner) = text.strip_suffix('"') {
        let words = &inner[inner.rfind(['"', '\n']).map_or(0, |open| open + 1)..];
        return if words.chars().count() <= 30 { format!("\"{words}\"") } else { "\"...\"".to_owned() };
    }
    let part = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '.' | '/' | '-' | '%');
    match &text
        [text.rfind(|c| !part(c)).map_or(0, |at| at + text[at..].chars().next().map_or(1, char::len_utf8))..]
    {
        "" => text.chars().next_back().map(String::from).unwrap_or_default(),
        word => word.to_owned(),
    }
}

/// The complaint about a word that starts no declaration, and the declaration that was meant, if that can be told.
pub(super) fn unknown_declaration(
    place: Place<'_>,
    found: &Lexeme<'_>,
) -> (Diagnostic, Option<&'static str>) {
    let span = place.of(found);
    let words: Vec<&'static str> = declaration_words().collect();
    if let Some(meant) = meant_word(found.text, &words) {
        return (errors::unknown_declaration(span, found.text, &words, Some(meant)), Some(meant));
    }
    let fault = match (found.kind, other_shape(found.text)) {
        (Kind::Word, Some(shape)) => errors::clause_outside(span, found.text, shape.word()),
        (Kind::Mark, _) if matches!(found.text, "#" | "/" | "*") => errors::not_a_comment(span),
        (Kind::Word, None) => errors::unknown_declaration(span, found.text, &words, None),
        _ => errors::unexpected(span, shown(found), "a declaration such as `part` or `strip`"),
    };
    (fault, None)
}

/// Whether the first thing in a text, behind comments, is the word of a declaration, or near to one.
pub(crate) fn begins_like_a_procedure(text: &str) -> bool {
    let words: Vec<&'static str> = declaration_words().collect();
    let first = lexeme(text, 0).text;
    words.contains(&first) || meant_word(first, &words).is_some()
}
