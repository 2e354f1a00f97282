//! Matches of the grammar to declarations, clauses and words in written order, each comment where it belongs. It must not
//! know how any of it is set.

use std::collections::VecDeque;

use super::super::grammar::{Node, Rule, find};
use super::super::row::{Change, Shape};
use super::rows::{Row, row};
use super::spacing::{Word, words_of};
use crate::source::Spanned;

/// Empty lines that are kept between two declarations, and between two clauses.
const MOST_EMPTY: [usize; 2] = [2, 1];

/// Something that stands on a line of its own, or shares one.
#[derive(Debug)]
pub(super) struct Member {
    /// Empty lines before it.
    pub empty: usize,
    /// What it is.
    pub kind: Kind,
    /// The comment at the end of its line.
    pub remark: Option<String>,
}

/// What a member is.
#[derive(Debug)]
pub(super) enum Kind {
    /// A comment on a line of its own.
    Comment(String),
    /// A clause, or a declaration without clauses.
    Clause(Vec<Word>, Row),
    /// A declaration with braces.
    Declaration {
        /// What stands before the braces.
        head: Vec<Word>,
        /// The comment behind the opening brace.
        remark: Option<String>,
        /// What stands in the braces.
        members: Vec<Member>,
        /// It is a step: its acts are read down the page.
        step: bool,
    },
}

/// Takes stretch after stretch of one text.
pub(super) struct Pieces<'t> {
    text: &'t str,
    comments: VecDeque<Spanned<String>>,
    /// Where the last thing ended.
    end: usize,
    members: Vec<Member>,
    words: Vec<String>,
}

impl<'t> Pieces<'t> {
    /// For this text, its comments blanked out of it and given in order.
    pub(super) fn new(text: &'t str, comments: Vec<Spanned<String>>) -> Self {
        Pieces { text, comments: comments.into(), end: 0, members: Vec::new(), words: Vec::new() }
    }

    /// Takes the declarations of a stretch that starts at this byte.
    pub(super) fn stretch(&mut self, base: usize, node: &Node<'_>) {
        for item in node.clone().into_inner().filter(|item| item.as_rule() != Rule::EOI) {
            let mut members = std::mem::take(&mut self.members);
            self.item(base, &item, 0, &mut members);
            self.members = members;
        }
    }

    /// Everything that was taken, and each word of it in order.
    pub(super) fn finish(mut self) -> (Vec<Member>, Vec<String>) {
        let mut members = std::mem::take(&mut self.members);
        self.own_lines(usize::MAX, 0, &mut members);
        (members, self.words)
    }

    fn item(&mut self, base: usize, node: &Node<'_>, depth: usize, members: &mut Vec<Member>) {
        let shape = Shape::of(node.as_rule());
        let parts = shape.and_then(|shape| {
            let body = find(node, shape.body)?;
            Some((shape, find(node, shape.head)?, body))
        });
        let Some((shape, head, body)) = parts else {
            self.clause(base, node, row(node.as_rule()), depth, members);
            return;
        };
        let open = base + body.as_span().start();
        let before: Vec<Node<'_>> = find(node, Rule::key_change).into_iter().chain([head]).collect();
        let (words, empty) = self.begin(base, &before, open, depth, members);
        let inside = Inside {
            open,
            close: base + body.as_span().start() + body.as_str().trim_end().len(),
            clauses: find(&body, shape.clauses),
            difference: shape.change,
            step: matches!(shape.declaration, Rule::step | Rule::changed_step),
        };
        self.braced(base, words, empty, &inside, depth, members);
    }

    /// What stands in braces behind these words.
    fn braced(
        &mut self,
        base: usize,
        head: Vec<Word>,
        empty: usize,
        inside: &Inside<'_>,
        depth: usize,
        members: &mut Vec<Member>,
    ) {
        self.words.push("{".to_owned());
        self.end = inside.open + 1;
        let remark = self.remark();
        let mut inner = Vec::new();
        for clause in inside.clauses.iter().flat_map(|clauses| clauses.clone().into_inner()) {
            let rule = clause.as_rule();
            let change = inside.difference.filter(|change| change.difference == Some(rule));
            match change.and_then(|change| find(&clause, change.clauses)) {
                _ if Shape::of(rule).is_some() => self.item(base, &clause, depth + 1, &mut inner),
                Some(put) => self.put(base, &clause, put, inside.step, depth + 1, &mut inner),
                None => {
                    let narrow = narrowed(&clause);
                    self.clause(base, &clause, row(narrow.as_rule()), depth + 1, &mut inner);
                }
            }
        }
        self.own_lines(inside.close - 1, depth + 1, &mut inner);
        self.words.push("}".to_owned());
        self.end = inside.close;
        let kind = Kind::Declaration { head, remark, members: inner, step: inside.step };
        members.push(Member { empty, kind, remark: self.remark() });
    }

    /// Clauses that a change puts in the place of another, or beside it.
    fn put(
        &mut self,
        base: usize,
        node: &Node<'_>,
        clauses: Node<'_>,
        step: bool,
        depth: usize,
        members: &mut Vec<Member>,
    ) {
        let words = node.clone().into_inner().take_while(|word| word.as_rule() != clauses.as_rule());
        let words: Vec<Node<'_>> = words.collect();
        let text = node.as_str();
        let named = words.last().map_or(0, |last| last.as_span().end() - node.as_span().start());
        // No text of a clause holds a brace outside quotes, and the clauses begin behind the one that opens.
        let brace = text[named..].find('{').map_or(named, |at| named + at);
        let open = base + node.as_span().start() + brace;
        let (words, empty) = self.begin(base, &words, open, depth, members);
        let close = base + node.as_span().start() + text.trim_end().len();
        let inside = Inside { open, close, clauses: Some(clauses), difference: None, step };
        self.braced(base, words, empty, &inside, depth, members);
    }

    fn clause(&mut self, base: usize, node: &Node<'_>, row: Row, depth: usize, members: &mut Vec<Member>) {
        let end = base + node.as_span().start() + node.as_str().trim_end().len();
        let (words, empty) = self.begin(base, std::slice::from_ref(node), end, depth, members);
        self.end = end;
        members.push(Member { empty, kind: Kind::Clause(words, row), remark: self.remark() });
    }

    /// The words of a clause or a head. Comments before them, and among them up to `end`, are put on lines of their own before it.
    fn begin(
        &mut self,
        base: usize,
        nodes: &[Node<'_>],
        end: usize,
        depth: usize,
        members: &mut Vec<Member>,
    ) -> (Vec<Word>, usize) {
        let start = base + nodes.first().map_or(0, |node| node.as_span().start());
        self.own_lines(start, depth, members);
        let mut empty = self.empty(start, depth, members.is_empty());
        while let Some(comment) = self.next_comment(|comment| comment.span.start() < end) {
            members.push(own_line(std::mem::take(&mut empty), &comment.value));
        }
        let words: Vec<Word> = nodes.iter().flat_map(words_of).collect();
        self.words.extend(words.iter().map(|word| word.text.clone()));
        (words, empty)
    }

    /// Puts the comments before this byte on lines of their own.
    fn own_lines(&mut self, before: usize, depth: usize, members: &mut Vec<Member>) {
        while let Some(comment) = self.next_comment(|comment| comment.span.start() < before) {
            let empty = self.empty(comment.span.start(), depth, members.is_empty());
            members.push(own_line(empty, &comment.value));
            self.end = comment.span.end();
        }
    }

    /// Empty lines between what came last and this byte, as far as they are kept.
    fn empty(&self, start: usize, depth: usize, first: bool) -> usize {
        let between = &self.text[self.end.min(start)..start];
        let lines = between.bytes().filter(|byte| *byte == b'\n').count();
        if first { 0 } else { lines.saturating_sub(1).min(MOST_EMPTY[depth.min(1)]) }
    }

    /// The comment behind what came last, on the same line.
    fn remark(&mut self) -> Option<String> {
        let (text, end) = (self.text, self.end);
        let comment = self.next_comment(|comment| {
            let between = text.get(end..comment.span.start());
            between.is_some_and(|between| between.bytes().all(|byte| matches!(byte, b' ' | b';')))
        })?;
        self.end = comment.span.end();
        Some(comment.value.trim_end().to_owned())
    }

    /// The next comment, if it is one of these.
    fn next_comment(&mut self, is_one: impl Fn(&Spanned<String>) -> bool) -> Option<Spanned<String>> {
        if self.comments.front().is_some_and(is_one) { self.comments.pop_front() } else { None }
    }
}

/// Braces and what stands in them.
struct Inside<'i> {
    /// Where they open.
    open: usize,
    /// Behind where they close.
    close: usize,
    /// What stands in them.
    clauses: Option<Node<'i>>,
    /// Of a change, what else may stand in them.
    difference: Option<Change>,
    /// What stands in them is read down the page.
    step: bool,
}

fn own_line(empty: usize, comment: &str) -> Member {
    Member { empty, kind: Kind::Comment(comment.trim_end().to_owned()), remark: None }
}

/// The rule that says which clause it is: the first below those that only stand for several.
fn narrowed<'i>(clause: &Node<'i>) -> Node<'i> {
    match clause.clone().into_inner().next() {
        Some(inside) if clause.as_rule() != Rule::acted => inside,
        _ => clause.clone(),
    }
}
