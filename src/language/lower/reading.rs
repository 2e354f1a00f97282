//! Clauses of gauge and look, conditions and formulas.

use super::Builder;
use crate::language::grammar::{Node, Rule, all, find, inside, need};
use crate::language::row::Row;
use crate::language::tree::{
    Amount, AmountRange, Band, Condition, Formula, GaugeClause, LookClause, Setting, Word,
};
use crate::quantity::figure;
use crate::source::Spanned;
use thin_vec::{ThinVec, thin_vec};

/// Pieces that a range may come to.
const MOST_PIECES: u32 = 100;

clauses! {
    GAUGE: gauge_clause(self, node) -> GaugeClause {
        of "of" once => GaugeClause::Of(self.reference_in(node)),
        like "like" once => GaugeClause::Like(self.name_in(node)),
        unit_clause "unit" once => GaugeClause::Unit(self.word(&need(node, Rule::unit))),
        stations "stations" once => GaugeClause::Stations(
            all(node, Rule::station)
                .map(|station| (self.name(&need(&station, Rule::position)), self.amount_if(&station)))
                .collect(),
        ),
        directions "directions" once => GaugeClause::Directions(self.names_in(node, Rule::position)),
        made "made" once => GaugeClause::Made(
            self.cases(node, Rule::limits, |limits| self.range(&need(limits, Rule::range))),
        ),
        worn "worn" once => GaugeClause::Worn(
            self.cases(node, Rule::amount_case, |limit| self.known_amount(limit)),
        ),
        best_at_nought "best at nought" once => GaugeClause::BestAtNought,
        noted_only "noted only" once => GaugeClause::NotedOnly,
        plausible "plausible" once => GaugeClause::Plausible(self.range(&need(node, Rule::span))),
        instrument "instrument" once => GaugeClause::Instrument {
            name: self.quote_in(node),
            resolution: self.amount_if(node),
            error: find(node, Rule::error).map(|error| self.amount_in(&error)),
            origin: self.origin_in(node),
        },
        taken "taken" once => GaugeClause::Taken(self.taken(node)),
        needs "needs" many => GaugeClause::Needs(self.conditions(node), self.scope_in(node)),
        is "is" once => {
            let formula = need(node, Rule::formula);
            GaugeClause::Is(self.spanned(&formula, self.formula(&formula)))
        },
        bands "bands" many => GaugeClause::Bands {
            bands: all(node, Rule::band).map(|band| self.band(&band)).collect(),
            scope: self.scope_in(node),
            origin: self.origin_in(node),
        },
        sold "sold" once => GaugeClause::Sold {
            pieces: match find(node, Rule::sold_by) {
                Some(range) => self.pieces(&range, &self.amount_in(&need(node, Rule::sold_step))),
                None => all(node, Rule::amount).map(|amount| self.amount(&amount)).collect(),
            },
            by: find(node, Rule::sold_step).map(|step| self.amount_in(&step)),
            within: self.amount_in(&need(node, Rule::reach)),
            origin: self.origin_in(node),
        },
        sizes "sizes" once => GaugeClause::Sizes {
            steps: all(node, Rule::amount).map(|amount| self.amount(&amount)).collect(),
            allowance: find(node, Rule::allowance).map(|allowance| self.amount_in(&allowance)),
            old_centre: find(node, Rule::old_centre).is_some(),
            origin: self.origin_in(node),
        },
    }
}

clauses! {
    LOOK: look_clause(self, node) -> LookClause {
        of "of" once => LookClause::Of(self.reference_in(node)),
        like "like" once => LookClause::Like(self.name_in(node)),
        marks_of "marks of" once => LookClause::MarksOf(self.references_in(node)),
        results "results" once => LookClause::Results(self.names_in(node, Rule::position)),
        judged_by "by" once => LookClause::By(self.quote_in(node)),
        taken "taken" once => LookClause::Taken(self.taken(node)),
        needs "needs" many => LookClause::Needs(self.conditions(node), self.scope_in(node)),
    }
}

impl Builder {
    /// `in place` or `off`.
    fn taken(&self, node: &Node<'_>) -> Word {
        let place = find(node, Rule::in_place).or_else(|| find(node, Rule::key_off));
        self.phrase(&place.expect("the grammar demands one of the two"))
    }

    /// What something needs.
    pub(super) fn conditions(&self, node: &Node<'_>) -> ThinVec<Condition> {
        all(node, Rule::need)
            .map(|need_of| {
                let name = self.reference_in(&need_of);
                match find(&need_of, Rule::condition) {
                    Some(condition) => Condition::Thing { thing: name, condition: self.word(&condition) },
                    None => {
                        Condition::State(Setting { name, value: self.name(&need(&need_of, Rule::position)) })
                    }
                }
            })
            .collect()
    }

    /// The pieces from one size to another, each by a step more, written out: with as many decimals as the ends have.
    fn pieces(&self, node: &Node<'_>, step: &Amount) -> ThinVec<Amount> {
        let AmountRange { low, high } = self.range(&need(node, Rule::span));
        let high = high.unwrap_or_else(|| low.clone());
        let unit = low.unit.clone().or_else(|| high.unit.clone());
        let symbol = |unit: &Option<Word>| unit.as_ref().map(|unit| unit.value.clone());
        let alike = symbol(&unit) == symbol(&high.unit) && symbol(&unit) == symbol(&step.unit);
        let steps = (high.value - low.value) / step.value;
        let whole =
            (steps - steps.round()).abs() < 1e-6 && (1.0..f64::from(MOST_PIECES)).contains(&steps.round());
        if !alike || !whole || step.value <= 0.0 {
            let fault = crate::language::errors::bad_pieces(low.span.to(step.span));
            self.found.borrow_mut().faults.push(fault);
            return thin_vec![low, high];
        }
        let decimals = |amount: &Amount| {
            amount.digits.split_once('.').map_or(0, |(_, behind)| behind.len().min(6) as u8)
        };
        let decimals = [&low, &high, step].map(decimals).into_iter().max().unwrap_or(0);
        let size = |count: u32| {
            let digits = figure(low.value + f64::from(count) * step.value, decimals);
            let value = digits.parse().unwrap_or(low.value);
            Amount { value, digits, unit: unit.clone(), span: low.span.to(high.span) }
        };
        (0..=steps.round() as u32).map(size).collect()
    }

    fn band(&self, node: &Node<'_>) -> Band {
        let (low, high) = if let Some(above) = find(node, Rule::band_above) {
            (Some(self.amount_in(&above)), None)
        } else if let Some(below) = find(node, Rule::band_below) {
            (None, Some(self.amount_in(&below)))
        } else {
            let range = self.range(&need(node, Rule::span));
            (Some(range.low), range.high)
        };
        Band { name: self.name_in(node), low, high }
    }

    /// Terms of a sum or factors of a product, joined from the left.
    fn formula(&self, node: &Node<'_>) -> Formula {
        let mut result: Option<Formula> = None;
        let mut sign: Option<Spanned<char>> = None;
        for part in node.clone().into_inner() {
            if matches!(part.as_rule(), Rule::sum_sign | Rule::product_sign) {
                sign = part.as_str().chars().next().map(|letter| self.spanned(&part, letter));
                continue;
            }
            let right = by_rule!(part.as_rule(), {
                term => self.formula(&part),
                factor => self.factor(&part),
            });
            result = Some(match (result, sign.take()) {
                (Some(left), Some(operator)) => {
                    Formula::Operation { operator, left: Box::new(left), right: Box::new(right) }
                }
                _ => right,
            });
        }
        result.expect("the grammar puts a term into every formula")
    }

    fn factor(&self, node: &Node<'_>) -> Formula {
        let kind = inside(node);
        by_rule!(kind.as_rule(), {
            formula => self.formula(&kind),
            call => Formula::Call {
                name: self.name_in(&kind),
                arguments: all(&kind, Rule::formula).map(|argument| self.formula(&argument)).collect(),
            },
            amount => Formula::Amount(self.amount(&kind)),
            reference => Formula::Reading(self.reference(&kind)),
        })
    }
}
