//! A text to what it says, declaration by declaration and clause by clause, each in its one form: so that two texts can be held
//! against each other whatever their layout. It must not know what a name means.

use super::grammar::{Node, Rule, find, read};
use super::row::Shape;
use super::{scan, stretch, tidy};
use crate::source::{FileId, Span};

/// A declaration or a step, and what is said of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Said {
    /// The word it begins with: `part`, `strip`.
    pub word: String,
    /// Its name.
    pub name: String,
    /// What stands before its braces, or all of it, without word and name.
    pub head: String,
    /// Its clauses in order, each with its place.
    pub clauses: Vec<(String, Span)>,
    /// All of it.
    pub span: Span,
    /// It changes what is declared elsewhere.
    pub change: bool,
}

/// What a text says; of stretches with faults nothing. A declaration that is changed is given by what the change says, and so
/// are the clauses that a change puts at a place.
pub(crate) fn said(file: FileId, text: &str) -> Vec<Said> {
    let mut scanned = scan::scan(file, text);
    let stretches = stretch::cut(file, &mut scanned);
    let mut all = Vec::new();
    for stretch in stretches {
        let Ok(node) = read(Rule::stretch, &scanned.text[stretch.start..stretch.end]) else { continue };
        for item in node.into_inner().filter(|item| item.as_rule() != Rule::EOI) {
            take(file, stretch.start, &item, &mut all);
        }
    }
    all
}

fn take(file: FileId, base: usize, node: &Node<'_>, all: &mut Vec<Said>) {
    let span = |node: &Node<'_>| {
        let start = base + node.as_span().start();
        Span::new(file, start, start + node.as_str().trim_end().len())
    };
    let shape = Shape::of(node.as_rule());
    let head = shape.and_then(|shape| find(node, shape.head)).unwrap_or_else(|| node.clone());
    let head = match head.as_rule() {
        Rule::changed_plain => head.clone().into_inner().last().unwrap_or(head),
        _ => head,
    };
    let mut words = head.clone().into_inner();
    let word = words.next().map(|word| word.as_str().trim_end().to_owned()).unwrap_or_default();
    let name = find(&head, Rule::name).map(|name| name.as_str().to_owned()).unwrap_or_default();
    let whole = tidy::one_line(&head);
    let rest = whole.strip_prefix(&word).unwrap_or(&whole).trim_start();
    let rest = rest.strip_prefix(&name).unwrap_or(rest).trim_start().to_owned();
    let body = shape.and_then(|shape| find(&find(node, shape.body)?, shape.clauses));
    let mut clauses = Vec::new();
    let mut steps = Vec::new();
    let difference = shape.and_then(|shape| shape.change);
    for clause in body.iter().flat_map(|body| body.clone().into_inner()) {
        if let Some(change) = difference.filter(|change| change.difference == Some(clause.as_rule())) {
            let put = find(&clause, change.clauses);
            let put = put.iter().flat_map(|put| put.clone().into_inner());
            clauses.extend(put.map(|clause| (tidy::one_line(&clause), span(&clause))));
        } else if Shape::of(clause.as_rule()).is_some() {
            steps.push(clause);
        } else {
            clauses.push((tidy::one_line(&clause), span(&clause)));
        }
    }
    let change = find(node, Rule::key_change).is_some();
    all.push(Said { word, name, head: rest, clauses, span: span(node), change });
    for step in steps {
        take(file, base, &step, all);
    }
}
