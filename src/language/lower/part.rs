//! Clauses of family, tool, supply, part and temporary.

use super::Builder;
use crate::language::grammar::{Node, Rule, all, each, find, has, inside, need};
use crate::language::row::Row;
use crate::language::tree::{
    Amount, AmountRange, Case, Cover, Direction, FamilyClause, Fate, Handling, PartClause, Quote, Setting,
    SupplyClause, TemporaryClause, ToolClause, Way,
};
use crate::source::Spanned;
use thin_vec::{ThinVec, thin_vec};

clauses! {
    FAMILY: family_clause(self, node) -> FamilyClause {
        written_after "of" once => FamilyClause::Of {
            file: self.quote_in(node),
            edition: find(node, Rule::count).map(|count| self.count(&count)),
        },
        capacity "capacity" many => FamilyClause::Capacity {
            name: self.quote_in(node),
            amounts: self.cases(node, Rule::amount_case, |case| self.known_amount(case)),
        },
        data "data" many => FamilyClause::Data {
            name: self.quote_in(node),
            amounts: self.cases(node, Rule::range_case, |case| self.known_range(case)),
        },
        identify "identify" many => FamilyClause::Identify {
            place: self.quote_in(node),
            reads: self.text_cases(node),
        },
        edition "edition" once => FamilyClause::Edition(self.count(&need(node, Rule::count))),
        revised "revised" many => FamilyClause::Revised {
            edition: self.count(&need(node, Rule::count)),
            what: self.quote_in(node),
            names: self.names_in(node, Rule::name),
        },
        summary "summary" once => FamilyClause::Summary(self.quote_in(node)),
        origin_clause "origin" once => FamilyClause::Origin(self.quote_in(node)),
        invented "invented" once => FamilyClause::Invented,
        number_one "number one at" once => FamilyClause::NumberOne(self.word(&need(node, Rule::end))),
        turns "turns" once => FamilyClause::Turns {
            direction: self.word(&need(node, Rule::rotation)),
            seen_from: self.word(&need(node, Rule::end)),
        },
        sides "left and right seen from" once => FamilyClause::Sides(self.word(&need(node, Rule::end))),
        ends "ends" once => {
            let mut quotes = all(node, Rule::quote).map(|quote| self.quote(&quote));
            let front = quotes.next().expect("the grammar demands a name of the front");
            FamilyClause::Ends { front, rear: quotes.next().expect("the grammar demands a name of the rear") }
        },
        called "called" once => FamilyClause::Called(self.quote_in(node)),
        cycle "cycle" once => FamilyClause::Cycle(self.word(&need(node, Rule::cycle_kind))),
        firing_order "firing order" once => FamilyClause::FiringOrder(self.names_in(node, Rule::position)),
        firing_intervals "firing intervals" once => FamilyClause::FiringIntervals(
            all(node, Rule::amount).map(|amount| self.amount(&amount)).collect(),
        ),
        lifting_limit "lifting limit" once => FamilyClause::LiftingLimit(self.amount_in(node)),
    }
}

clauses! {
    TOOL: tool_clause(self, node) -> ToolClause {
        show_hazard "hazard" many => ToolClause::Hazard(self.reference_in(node)),
        drive_size "drive" once => ToolClause::Drive(self.amount_in(node)),
        size "size" once => ToolClause::Size(self.amount_in(node)),
        tool_range "range" once => ToolClause::Range(self.range(&need(node, Rule::span))),
        special "special" once => ToolClause::Special,
        stand_in "or" many => {
            let mut quotes = all(node, Rule::quote).map(|quote| self.quote(&quote));
            let tool = quotes.next().expect("the grammar demands the name of the stand-in");
            ToolClause::StandIn { tool, condition: quotes.next() }
        },
        kind_of_tool "kind" once => ToolClause::Kind(self.word(&need(node, Rule::tool_kind))),
    }
}

clauses! {
    SUPPLY: supply_clause(self, node) -> SupplyClause {
        show_hazard "hazard" many => SupplyClause::Hazard(self.reference_in(node)),
        quantity "quantity" once => SupplyClause::Quantity(self.amount_in(node)),
        open_time "open time" once => SupplyClause::OpenTime(self.amount_in(node)),
        cure_time "cure time" once => SupplyClause::CureTime(self.amount_in(node)),
    }
}

clauses! {
    TEMPORARY: temporary_clause(self, node) -> TemporaryClause {
        into_place "into" once => TemporaryClause::Into(self.quote_in(node)),
        may_stay "may stay" once => TemporaryClause::MayStay,
    }
}

clauses! {
    PART: part_clause(self, node) -> PartClause {
        kind_of_part "kind" once => PartClause::Kind(self.word(&need(node, Rule::part_kind))),
        like "like" once => PartClause::Like(self.name_in(node)),
        carries "carries" once => PartClause::Carries(all(node, Rule::carried).map(|word| self.word(&word)).collect()),
        off_with "off with" many => PartClause::Handling(Box::new(Handling::With(Direction::Off, self.references_in(node), self.scope_in(node)))),
        on_with "on with" many => PartClause::Handling(Box::new(Handling::With(Direction::On, self.references_in(node), self.scope_in(node)))),
        both_with "both ways with" many => PartClause::Handling(Box::new(Handling::With(Direction::Both, self.references_in(node), self.scope_in(node)))),
        meets_hazard "hazard" many => PartClause::Handling(Box::new(self.meets_hazard(node))),
        comes_off "comes off" placed as node => PartClause::Handling(Box::new(Handling::ComesOff(self.quote_in(node), self.scope_in(node)))),
        goes_on "goes on" placed as node => PartClause::Handling(Box::new(Handling::GoesOn(self.quote_in(node), self.scope_in(node)))),
        under "under" many => PartClause::Under(self.covers(node)),
        held_by "held by" many => PartClause::HeldBy(self.references_in(node), self.scope_in(node)),
        within "within" once => PartClause::Within {
            host: Box::new(self.reference_in(node)),
            in_place_too: has(node, Rule::in_place_too),
        },
        fate_clause "fate" once => PartClause::Fate(self.fate_clause(node)),
        sealed_by "sealed by" many => PartClause::SealedBy(self.references_in(node)),
        mass "mass" once => PartClause::Mass(Box::new(self.amount_in(node))),
        lift_at "lift at" once => PartClause::LiftAt(self.quote_in(node)),
        way "way" many => PartClause::Way(self.quote_in(node), self.scope_in(node)),
        worn_in "worn in" once => PartClause::WornIn,
        mark_clause "mark" many => PartClause::Mark {
            kind: Box::new(self.word(&need(node, Rule::mark_kind))),
            text: self.quote_in(node),
            scope: self.scope_in(node),
        },
        falls "falls when" many => PartClause::Falls(Box::new(self.setting(&need(node, Rule::setting))), self.scope_in(node)),
        present "present when" many => PartClause::Present(self.settings_in(node), self.scope_in(node)),
        matched_with "matched with" many => PartClause::MatchedWith(self.references_in(node)),
        sized_with "sized with" many => PartClause::SizedWith(self.references_in(node)),
        sized_by "sized by" many => PartClause::SizedBy(self.references_in(node)),
        select_from "select from" once => PartClause::SelectFrom(self.quote_in(node)),
        releases "releases" many => PartClause::Releases(Box::new(self.setting(&need(node, Rule::setting)))),
        turned_by_hand "turned by hand" once => PartClause::TurnedByHand(find(node, Rule::quote).map(|words| self.quote(&words))),
        teeth "teeth" once => PartClause::Teeth(Box::new(self.count(&need(node, Rule::count)))),
        meshes "meshes" many => PartClause::Meshes(Box::new(self.reference_in(node)), self.quote_in(node)),
        critical "critical" once => PartClause::Critical,
        crack_test "crack test" once => PartClause::CrackTest(Box::new(self.reference_in(node))),
        part_dry "dry" placed as node => PartClause::Dry(self.scope_in(node)),
        coat "coat with" many => PartClause::Coat { with: Box::new(self.reference_in(node)), place: find(node, Rule::quote).map(|place| self.quote(&place)), scope: self.scope_in(node) },
        harmless "harmless" once => PartClause::Harmless(self.quote_in(node)),
        catalogue "catalogue" once => PartClause::Catalogue(self.text_cases(node)),
        price_clause "price" once => PartClause::Price(Box::new(self.price_in(node))),
        supplier "supplier" once => PartClause::Supplier {
            name: self.quote_in(node),
            lead_time: self.amount_if(node).map(Box::new),
        },
    }
}

clauses! {
    FATES: fate_kind(self, node) -> Fate {
        fate_renew "renew" many => Fate::Renew,
        fate_reuse "reuse" many => Fate::Reuse,
        fate_clean "clean then reuse" many => Fate::CleanThenReuse,
        fate_by "by" many => Fate::By(self.references_in(node)),
        fate_send "send" many => Fate::Send(self.quote_in(node)),
        fate_size "size by parts in hand" many => Fate::SizeByPartsInHand,
        fate_keep "keep until settled" many => Fate::KeepUntilSettled,
        fate_leave "leave out" many => Fate::LeaveOut(self.quote_in(node)),
    }
}

impl Builder {
    /// The amount of an `amount_or_unknown`; none for `unknown`.
    pub(super) fn known_amount(&self, node: &Node<'_>) -> Option<Amount> {
        self.amount_if(&need(node, Rule::amount_or_unknown))
    }

    /// The texts of which one counts.
    pub(super) fn text_cases(&self, node: &Node<'_>) -> ThinVec<Case<Quote>> {
        self.cases(node, Rule::text_case, |case| self.quote_in(case))
    }

    fn known_range(&self, node: &Node<'_>) -> Option<AmountRange> {
        find(&need(node, Rule::range_or_unknown), Rule::range).map(|range| self.range(&range))
    }

    /// What a thing is under.
    pub(super) fn covers(&self, node: &Node<'_>) -> ThinVec<Cover> {
        each(node, Rule::cover, |cover| Cover {
            by: self.reference_in(&cover),
            way: find(&cover, Rule::one_way).map(|way| {
                let to = if has(&way, Rule::key_strip) { Way::ToStrip } else { Way::ToBuild };
                self.spanned(&way, to)
            }),
            hole: find(&cover, Rule::cover_hole).map(|at| self.word(&need(&at, Rule::hole))),
            at: if has(&cover, Rule::settings) { self.settings_in(&cover) } else { ThinVec::new() },
        })
    }

    /// A hazard that is met on the way off, on the way on, or both.
    pub(super) fn meets_hazard(&self, node: &Node<'_>) -> Handling {
        let direction = need(node, Rule::direction);
        let direction = match () {
            () if has(&direction, Rule::key_off) => Direction::Off,
            () if has(&direction, Rule::key_on) => Direction::On,
            () => Direction::Both,
        };
        Handling::Hazard(direction, self.reference_in(node), self.scope_in(node))
    }

    fn fate_clause(&self, node: &Node<'_>) -> Fate {
        let first = self.fate(&need(node, Rule::fate));
        let settings = |of: &Node<'_>| -> ThinVec<Setting> { self.settings_in(&need(of, Rule::fate_when)) };
        let otherwise = find(node, Rule::fate_else).map(|part| Box::new(self.fate(&need(&part, Rule::fate))));
        if !has(node, Rule::fate_when) && !has(node, Rule::fate_case) && otherwise.is_none() {
            return first.value;
        }
        let conditions = if has(node, Rule::fate_when) { settings(node) } else { ThinVec::new() };
        let mut cases = thin_vec![(first, conditions)];
        cases.extend(
            all(node, Rule::fate_case).map(|case| (self.fate(&need(&case, Rule::fate)), settings(&case))),
        );
        Fate::Choice { cases, otherwise }
    }

    fn fate(&self, node: &Node<'_>) -> Spanned<Fate> {
        let (_, fate) = self.fate_kind(&inside(node));
        self.spanned(node, fate)
    }
}
