//! Names, numbers, texts, references: the words that clauses are made of.

use super::Builder;
use crate::language::grammar::{Node, Rule, all, each, find, need};
use crate::language::names::proper_name;
use crate::language::tree::{Amount, AmountRange, Case, Origin, Quote, Reference, Scope, Setting, Word};
use crate::source::Spanned;
use thin_vec::ThinVec;

impl Builder {
    /// The letters of a match as they stand.
    pub(super) fn word(&self, node: &Node<'_>) -> Word {
        self.spanned(node, node.as_str().trim_end().to_owned())
    }

    /// A name. One that is spelt wrong is noted and put right, so that uses of it still meet.
    pub(super) fn name(&self, node: &Node<'_>) -> Word {
        let written = node.as_str();
        let proper = written
            .bytes()
            .next()
            .is_some_and(|first| first.is_ascii_lowercase() || first.is_ascii_digit())
            && written.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'_');
        if proper {
            return self.word(node);
        }
        self.found.borrow_mut().names.entry(written.to_owned()).or_insert_with(|| self.span(node));
        self.spanned(node, proper_name(written))
    }

    /// The name that the grammar demands inside this match.
    pub(super) fn name_in(&self, node: &Node<'_>) -> Word {
        self.name(&need(node, Rule::name))
    }

    /// All children of this rule as names.
    pub(super) fn names_in(&self, node: &Node<'_>, rule: Rule) -> ThinVec<Word> {
        each(node, rule, |child| self.name(&child))
    }

    /// All children of this rule as they stand.
    pub(super) fn words_in(&self, node: &Node<'_>, rule: Rule) -> ThinVec<Word> {
        each(node, rule, |child| self.word(&child))
    }

    /// A text without its quotes, with `\"` and `\\` resolved.
    pub(super) fn quote(&self, node: &Node<'_>) -> Quote {
        let written = node.as_str();
        let inner = written.strip_prefix('"').and_then(|rest| rest.strip_suffix('"')).unwrap_or(written);
        let text = if inner.contains('\\') {
            inner.replace("\\\"", "\"").replace("\\\\", "\\")
        } else {
            inner.to_owned()
        };
        self.spanned(node, text)
    }

    /// The text that the grammar demands inside this match.
    pub(super) fn quote_in(&self, node: &Node<'_>) -> Quote {
        self.quote(&need(node, Rule::quote))
    }

    /// The title, if there is one.
    pub(super) fn title_in(&self, node: &Node<'_>) -> Option<Quote> {
        find(node, Rule::title).map(|title| self.quote_in(&title))
    }

    /// Where the numbers come from, if it is said.
    pub(super) fn origin_in(&self, node: &Node<'_>) -> Origin {
        find(node, Rule::origin).map(|origin| self.quote_in(&origin))
    }

    /// A whole number without a unit.
    pub(super) fn count(&self, node: &Node<'_>) -> Amount {
        let digits = node.as_str().to_owned();
        Amount { value: self.value(node), digits, unit: None, span: self.span(node) }
    }

    /// The value of a number as written: `12`, `0.05`, `7/16`, `1 1/2`.
    pub(super) fn value(&self, node: &Node<'_>) -> f64 {
        let written = node.as_str();
        let (sign, size) = written.strip_prefix('-').map_or((1.0, written), |rest| (-1.0, rest));
        let (whole, rest) = size.split_once(' ').unwrap_or(("0", size));
        let (over, under) = rest.trim_start().split_once('/').unwrap_or((rest, "1"));
        let parsed = |digits: &str| digits.parse::<f64>().unwrap_or(f64::NAN);
        let value = sign * (parsed(whole) + parsed(over) / parsed(under));
        if value.is_finite() {
            return value;
        }
        self.found.borrow_mut().faults.push(crate::language::errors::bad_number(
            self.span(node),
            written,
            None,
        ));
        0.0
    }

    /// A number with its unit.
    pub(super) fn amount(&self, node: &Node<'_>) -> Amount {
        let number = need(node, Rule::number);
        Amount {
            value: self.value(&number),
            digits: number.as_str().to_owned(),
            unit: find(node, Rule::unit).map(|unit| self.word(&unit)),
            span: self.span(node),
        }
    }

    /// The first amount inside this match.
    pub(super) fn amount_in(&self, node: &Node<'_>) -> Amount {
        self.amount(&need(node, Rule::amount))
    }

    /// The first amount inside this match, if there is one.
    pub(super) fn amount_if(&self, node: &Node<'_>) -> Option<Amount> {
        find(node, Rule::amount).map(|amount| self.amount(&amount))
    }

    /// `range` or `span`: one amount or two.
    pub(super) fn range(&self, node: &Node<'_>) -> AmountRange {
        let mut amounts = all(node, Rule::amount).map(|amount| self.amount(&amount));
        let low = amounts.next().expect("the grammar puts an amount into every range");
        AmountRange { low, high: amounts.next() }
    }

    /// A price: the currency stands as the unit.
    pub(super) fn price_in(&self, node: &Node<'_>) -> Amount {
        let price = need(node, Rule::price);
        let number = need(&price, Rule::number);
        Amount {
            value: self.value(&number),
            digits: number.as_str().to_owned(),
            unit: Some(self.word(&need(&price, Rule::currency))),
            span: self.span(&price),
        }
    }

    /// A use of a name.
    pub(super) fn reference(&self, node: &Node<'_>) -> Reference {
        let positions = find(node, Rule::positions).map(|list| self.names_in(&list, Rule::position));
        Reference {
            name: self.name_in(node),
            positions: positions.unwrap_or_default(),
            span: self.span(node),
        }
    }

    /// The first reference inside this match.
    pub(super) fn reference_in(&self, node: &Node<'_>) -> Reference {
        self.reference(&need(node, Rule::reference))
    }

    /// The references inside this match, which holds them itself or as a list.
    pub(super) fn references_in(&self, node: &Node<'_>) -> ThinVec<Reference> {
        let list = find(node, Rule::references).unwrap_or_else(|| node.clone());
        each(&list, Rule::reference, |reference| self.reference(&reference))
    }

    /// `NAME = VALUE`.
    pub(super) fn setting(&self, node: &Node<'_>) -> Setting {
        Setting { name: self.reference_in(node), value: self.name(&need(node, Rule::position)) }
    }

    /// The settings inside a match that holds a list of them.
    pub(super) fn settings_in(&self, node: &Node<'_>) -> ThinVec<Setting> {
        each(&need(node, Rule::settings), Rule::setting, |setting| self.setting(&setting))
    }

    /// Where and under which answers something holds, as far as it is said.
    pub(super) fn scope_in(&self, node: &Node<'_>) -> Scope {
        let said = |rule: Rule| find(node, rule).map(|said| self.settings_in(&said)).unwrap_or_default();
        Scope { at: said(Rule::scope), when: said(Rule::given) }
    }

    /// The values of a clause, each a match of `rule`. Where several share an origin, it stands behind the last.
    pub(super) fn cases<T>(
        &self,
        node: &Node<'_>,
        rule: Rule,
        value: impl Fn(&Node<'_>) -> T,
    ) -> ThinVec<Case<T>> {
        let mut cases: ThinVec<Case<T>> = each(node, rule, |case| Case {
            value: value(&case),
            scope: self.scope_in(&case),
            origin: self.origin_in(&case),
            span: self.span(&case),
        });
        let mut shared = None;
        for case in cases.iter_mut().rev() {
            shared = case.origin.clone().or(shared);
            case.origin.clone_from(&shared);
        }
        cases
    }

    /// Words of a match in its normal form, with single spaces.
    pub(super) fn phrase(&self, node: &Node<'_>) -> Spanned<String> {
        self.spanned(node, node.as_str().split_whitespace().collect::<ThinVec<_>>().join(" "))
    }
}
