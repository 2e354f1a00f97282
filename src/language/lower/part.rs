//! Clauses of family, tool, supply, part and temporary.

use super::Builder;
use crate::language::grammar::{Node, Rule, all, find, has, inside, need};
use crate::language::tree::{
    Amount, AmountRange, Cover, FamilyClause, Fate, PartClause, Setting, SupplyClause, TemporaryClause,
    ToolClause, Way,
};
use crate::source::Spanned;

impl Builder {
    pub(super) fn family_clause(&self, node: &Node<'_>) -> FamilyClause {
        match node.as_rule() {
            Rule::edition => FamilyClause::Edition(self.count(&need(node, Rule::count))),
            Rule::summary => FamilyClause::Summary(self.quote_in(node)),
            Rule::origin_clause => FamilyClause::Origin(self.quote_in(node)),
            Rule::invented => FamilyClause::Invented,
            Rule::identify => {
                let mut quotes = all(node, Rule::quote).map(|quote| self.quote(&quote));
                let mut next = || quotes.next().expect("the grammar demands both texts");
                FamilyClause::Identify { place: next(), reads: next() }
            }
            Rule::number_one => FamilyClause::NumberOne(self.word(&need(node, Rule::end))),
            Rule::turns => FamilyClause::Turns {
                direction: self.word(&need(node, Rule::rotation)),
                seen_from: self.word(&need(node, Rule::end)),
            },
            Rule::sides => FamilyClause::Sides(self.word(&need(node, Rule::end))),
            Rule::firing_order => FamilyClause::FiringOrder(self.names_in(node, Rule::position)),
            Rule::capacity => FamilyClause::Capacity {
                name: self.quote_in(node),
                amount: self.known_amount(node),
                origin: self.origin_in(node),
            },
            Rule::lifting_limit => FamilyClause::LiftingLimit(self.amount_in(node)),
            _ => FamilyClause::Data {
                name: self.quote_in(node),
                amount: self.known_range(node),
                origin: self.origin_in(node),
            },
        }
    }

    /// The amount of an `amount_or_unknown`; none for `unknown`.
    pub(super) fn known_amount(&self, node: &Node<'_>) -> Option<Amount> {
        self.amount_if(&need(node, Rule::amount_or_unknown))
    }

    fn known_range(&self, node: &Node<'_>) -> Option<AmountRange> {
        find(&need(node, Rule::range_or_unknown), Rule::range).map(|range| self.range(&range))
    }

    pub(super) fn tool_clause(&self, node: &Node<'_>) -> ToolClause {
        match node.as_rule() {
            Rule::drive_size => ToolClause::Drive(self.amount_in(node)),
            Rule::size => ToolClause::Size(self.amount_in(node)),
            Rule::tool_range => ToolClause::Range(self.range(&need(node, Rule::span))),
            Rule::special => ToolClause::Special,
            Rule::kind_of_tool => ToolClause::Kind(self.word(&need(node, Rule::tool_kind))),
            _ => {
                let mut quotes = all(node, Rule::quote).map(|quote| self.quote(&quote));
                let tool = quotes.next().expect("the grammar demands the name of the stand-in");
                ToolClause::StandIn { tool, condition: quotes.next() }
            }
        }
    }

    pub(super) fn supply_clause(&self, node: &Node<'_>) -> SupplyClause {
        match node.as_rule() {
            Rule::quantity => SupplyClause::Quantity(self.amount_in(node)),
            Rule::open_time => SupplyClause::OpenTime(self.amount_in(node)),
            _ => SupplyClause::CureTime(self.amount_in(node)),
        }
    }

    pub(super) fn temporary_clause(&self, node: &Node<'_>) -> TemporaryClause {
        match node.as_rule() {
            Rule::into_place => TemporaryClause::Into(self.quote_in(node)),
            _ => TemporaryClause::MayStay,
        }
    }

    pub(super) fn part_clause(&self, node: &Node<'_>) -> PartClause {
        match node.as_rule() {
            Rule::under => PartClause::Under(self.covers(node)),
            Rule::held_by => PartClause::HeldBy(self.references_in(node)),
            Rule::within => PartClause::Within {
                host: self.reference_in(node),
                in_place_too: has(node, Rule::in_place_too),
            },
            Rule::sealed_by => PartClause::SealedBy(self.references_in(node)),
            Rule::mass => PartClause::Mass(self.amount_in(node)),
            Rule::lift_at => PartClause::LiftAt(self.quote_in(node)),
            Rule::present => PartClause::Present(self.settings_in(node)),
            Rule::falls => PartClause::Falls(self.setting(&need(node, Rule::setting))),
            Rule::worn_in => PartClause::WornIn,
            Rule::way => PartClause::Way(self.quote_in(node)),
            Rule::mark_clause => {
                PartClause::Mark { kind: self.word(&need(node, Rule::mark_kind)), text: self.quote_in(node) }
            }
            Rule::matched_with => PartClause::MatchedWith(self.references_in(node)),
            Rule::sized_with => PartClause::SizedWith(self.references_in(node)),
            Rule::sized_by => PartClause::SizedBy(self.references_in(node)),
            Rule::select_from => PartClause::SelectFrom(self.quote_in(node)),
            Rule::releases => PartClause::Releases(self.setting(&need(node, Rule::setting))),
            Rule::critical => PartClause::Critical,
            Rule::crack_test => PartClause::CrackTest(self.reference_in(node)),
            Rule::fate_clause => PartClause::Fate(self.fate_clause(node)),
            Rule::catalogue => PartClause::Catalogue(self.quote_in(node)),
            Rule::price_clause => PartClause::Price(self.price_in(node)),
            _ => PartClause::Supplier { name: self.quote_in(node), lead_time: self.amount_if(node) },
        }
    }

    /// What a thing is under.
    pub(super) fn covers(&self, node: &Node<'_>) -> Vec<Cover> {
        all(node, Rule::cover)
            .map(|cover| Cover {
                by: self.reference_in(&cover),
                way: find(&cover, Rule::one_way).map(|way| {
                    let to = if has(&way, Rule::key_strip) { Way::ToStrip } else { Way::ToBuild };
                    self.spanned(&way, to)
                }),
                hole: find(&cover, Rule::cover_hole).map(|at| self.word(&need(&at, Rule::hole))),
                at: if has(&cover, Rule::settings) { self.settings_in(&cover) } else { Vec::new() },
            })
            .collect()
    }

    fn fate_clause(&self, node: &Node<'_>) -> Fate {
        let first = self.fate(&need(node, Rule::fate));
        let settings = |of: &Node<'_>| -> Vec<Setting> { self.settings_in(&need(of, Rule::fate_when)) };
        let otherwise = find(node, Rule::fate_else).map(|part| Box::new(self.fate(&need(&part, Rule::fate))));
        if !has(node, Rule::fate_when) && !has(node, Rule::fate_case) && otherwise.is_none() {
            return first.value;
        }
        let conditions = if has(node, Rule::fate_when) { settings(node) } else { Vec::new() };
        let mut cases = vec![(first, conditions)];
        cases.extend(
            all(node, Rule::fate_case).map(|case| (self.fate(&need(&case, Rule::fate)), settings(&case))),
        );
        Fate::Choice { cases, otherwise }
    }

    fn fate(&self, node: &Node<'_>) -> Spanned<Fate> {
        let kind = inside(node);
        let fate = match kind.as_rule() {
            Rule::fate_renew => Fate::Renew,
            Rule::fate_reuse => Fate::Reuse,
            Rule::fate_clean => Fate::CleanThenReuse,
            Rule::fate_by => Fate::By(self.references_in(&kind)),
            Rule::fate_send => Fate::Send(self.quote_in(&kind)),
            Rule::fate_size => Fate::SizeByPartsInHand,
            Rule::fate_keep => Fate::KeepUntilSettled,
            _ => Fate::LeaveOut(self.quote_in(&kind)),
        };
        self.spanned(node, fate)
    }
}
