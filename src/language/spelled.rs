//! A text to its words, each with what part it plays: for editors, which colour them, follow names and rename them. It
//! must not know what a name means.

use super::grammar::{Node, Rule, read};
use super::lexeme::{Kind, lexeme};
use super::stretch::Stretch;
use super::vocabulary::{closed, keyword};
use super::{scan, shape, stretch};
use crate::source::{FileId, Span};

/// What part a word plays.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Part {
    /// A fixed word of the language.
    Fixed,
    /// A name where it is declared.
    Declared,
    /// A name where it is used, or a position that may be an axis.
    Used,
    /// A name that only counts where it stands: of a band, a function, a symbol.
    Local,
    /// A number.
    Number,
    /// A unit or a currency.
    Unit,
    /// A text in quotes.
    Text,
    /// A comment.
    Comment,
}

/// A word of a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Spelled {
    /// Where it stands.
    pub span: Span,
    /// What part it plays.
    pub part: Part,
}

/// A declaration, step or group of steps: where it stands, with its name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Outlined {
    /// The word it begins with: `part`, `strip`.
    pub word: String,
    /// Its name, if it has one.
    pub name: Option<Span>,
    /// Its title, without quotes.
    pub title: String,
    /// All of it.
    pub span: Span,
    /// How many groups it stands in.
    pub depth: usize,
}

/// The words of a text in order, and its declarations. Where a stretch can't be read, its words are told apart as far as
/// they show by themselves what they are.
pub(crate) fn spelled(file: FileId, text: &str) -> (Vec<Spelled>, Vec<Outlined>) {
    spell(file, text, |_| true)
}

/// The words of the declaration at this byte alone, and the comments about it: what a person points at.
pub(crate) fn spelled_at(file: FileId, text: &str, at: usize) -> Vec<Spelled> {
    let around = stretch::around(text, at);
    let within = at - around.start;
    let mut words =
        spell(file, &text[around.clone()], |stretch| stretch.start <= within && within <= stretch.end).0;
    for word in &mut words {
        word.span = Span::new(file, word.span.start() + around.start, word.span.end() + around.start);
    }
    words
}

/// The words and declarations of some stretches, and the comments of all.
fn spell(file: FileId, text: &str, wanted: impl Fn(&Stretch) -> bool) -> (Vec<Spelled>, Vec<Outlined>) {
    let mut scanned = scan::scan(file, text);
    let comments = std::mem::take(&mut scanned.comments);
    let stretches = stretch::cut(file, &mut scanned);
    let mut speller =
        Speller { file, end: text.len(), text: &scanned.text, words: Vec::new(), outlined: Vec::new() };
    for stretch in stretches.into_iter().filter(wanted) {
        speller.stretch(stretch);
    }
    let (mut words, outlined) = (speller.words, speller.outlined);
    words.extend(comments.iter().map(|comment| Spelled { span: comment.span, part: Part::Comment }));
    words.sort_by_key(|word| (word.span.start(), word.span.end()));
    (words, outlined)
}

struct Speller<'t> {
    file: FileId,
    /// Bytes of the text as written: marks put in behind it are no part of it.
    end: usize,
    text: &'t str,
    words: Vec<Spelled>,
    outlined: Vec<Outlined>,
}

impl Speller<'_> {
    fn stretch(&mut self, stretch: Stretch) {
        let text = &self.text[stretch.start..stretch.end];
        match read(Rule::stretch, text) {
            Ok(node) => {
                for item in node.into_inner().filter(|item| item.as_rule() != Rule::EOI) {
                    self.walk(stretch.start, &item, Rule::stretch, 0);
                }
            }
            Err(_) => self.loose(stretch),
        }
    }

    /// What the words of a text that can't be read show by themselves.
    fn loose(&mut self, stretch: Stretch) {
        let mut at = stretch.start;
        let mut first = true;
        while at < stretch.end {
            let found = lexeme(&self.text[..stretch.end], at);
            let part = match found.kind {
                Kind::End => break,
                Kind::Word if shape::is_declaration(found.text) || is_fixed(found.text) => Some(Part::Fixed),
                Kind::Word => Some(Part::Used),
                Kind::Number => Some(Part::Number),
                Kind::Text => Some(Part::Text),
                Kind::Mark => None,
            };
            if first {
                let span = self.span(stretch.start, stretch.end);
                let name = lexeme(&self.text[..stretch.end], found.end);
                let name = (name.kind == Kind::Word).then(|| self.span(name.start, name.end));
                self.outlined.push(Outlined {
                    word: found.text.to_owned(),
                    name,
                    title: String::new(),
                    span,
                    depth: 0,
                });
                first = false;
            }
            if let Some(part) = part {
                let span = self.span(found.start, found.end);
                self.words.push(Spelled { span, part });
            }
            at = found.end;
        }
    }

    /// The words of a match. In a change its names are used: they are declared elsewhere.
    fn walk(&mut self, base: usize, node: &Node<'_>, parent: Rule, depth: usize) {
        let first = self.words.len();
        self.words_of(base, node, parent, depth);
        let changed = node.clone().into_inner().next().is_some_and(|word| word.as_rule() == Rule::key_change);
        let declared = self.words.iter_mut().skip(first).filter(|word| word.part == Part::Declared);
        // A step that comes to a block is declared by the change of the block.
        for name in declared.take(usize::from(changed)) {
            name.part = Part::Used;
        }
    }

    fn words_of(&mut self, base: usize, node: &Node<'_>, parent: Rule, depth: usize) {
        let rule = node.as_rule();
        let start = base + node.as_span().start();
        let end = start + node.as_str().trim_end().len();
        let declares = matches!(parent, Rule::stretch | Rule::group_clauses | Rule::changed_group_clauses);
        if declares {
            let found = self.outline(base, node, start, end, depth);
            self.outlined.push(found);
        }
        let mut names = 0;
        let mut leaf = true;
        for child in node.clone().into_inner() {
            leaf = false;
            let inner = child.as_rule();
            if inner == Rule::name {
                names += 1;
                let span = self.span(base + child.as_span().start(), base + child.as_span().end());
                self.words.push(Spelled { span, part: of_name(rule, names) });
                continue;
            }
            self.walk(
                base,
                &child,
                rule,
                depth
                    + usize::from(matches!(
                        rule,
                        Rule::group_clauses | Rule::group | Rule::changed_group_clauses
                    )),
            );
        }
        if leaf && let Some(part) = of_leaf(rule) {
            let span = self.span(start, end);
            self.words.push(Spelled { span, part });
        }
    }

    fn outline(&self, base: usize, node: &Node<'_>, start: usize, end: usize, depth: usize) -> Outlined {
        let changed = |word: &Node<'_>| word.as_rule() == Rule::key_change;
        let node = match node.clone().into_inner().next().filter(changed) {
            // A declaration without braces of its own stands whole behind `change`.
            Some(_) if node.as_rule() == Rule::changed_plain => {
                node.clone().into_inner().last().unwrap_or_else(|| node.clone())
            }
            _ => node.clone(),
        };
        let head = node.clone().into_inner().find(|word| !changed(word));
        let plain = head.as_ref().is_none_or(|head| keyword(head.as_rule()).is_some());
        let parts: Vec<Node<'_>> = if plain {
            node.clone().into_inner().collect()
        } else {
            head.iter().flat_map(|head| head.clone().into_inner()).collect()
        };
        let find = |rule: Rule| parts.iter().find(|part| part.as_rule() == rule);
        let word = parts.first().map(|word| word.as_str().trim_end().to_owned()).unwrap_or_default();
        let name = find(Rule::name)
            .map(|name| self.span(base + name.as_span().start(), base + name.as_span().end()));
        let title = find(Rule::title)
            .or_else(|| find(Rule::quote))
            .map(|title| title.as_str().trim_end().trim_matches('"').to_owned());
        Outlined {
            word,
            name,
            title: title.unwrap_or_default(),
            span: self.span(start, end),
            depth: depth.min(1),
        }
    }

    fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.file, start.min(self.end), end.min(self.end))
    }
}

/// What part the name plays that is the so many-th of what this rule matches.
fn of_name(owner: Rule, which: usize) -> Part {
    match owner {
        Rule::section
        | Rule::axis
        | Rule::axis_groups
        | Rule::ask
        | Rule::setup
        | Rule::state
        | Rule::family_head
        | Rule::tool_head
        | Rule::supply_head
        | Rule::part_head
        | Rule::fasteners_head
        | Rule::joint_head
        | Rule::gauge_head
        | Rule::look_head
        | Rule::temporary_head
        | Rule::rule_head
        | Rule::step_head
        | Rule::group_head => Part::Declared,
        Rule::hazard_head if which == 1 => Part::Declared,
        Rule::hazard_head | Rule::band | Rule::call => Part::Local,
        _ => Part::Used,
    }
}

fn of_leaf(rule: Rule) -> Option<Part> {
    Some(match rule {
        Rule::position => Part::Used,
        Rule::number | Rule::count | Rule::thread | Rule::class => Part::Number,
        Rule::unit | Rule::currency | Rule::turn_unit => Part::Unit,
        Rule::quote => Part::Text,
        Rule::hole => Part::Local,
        Rule::comma | Rule::equals | Rule::dots | Rule::sum_sign | Rule::product_sign => return None,
        _ if keyword(rule).is_some() || closed(rule).is_some() => Part::Fixed,
        _ => return None,
    })
}

/// Whether a clause of some declaration begins with this word.
fn is_fixed(word: &str) -> bool {
    super::row::Shape::all().any(|shape| shape.has_clause(word))
}
