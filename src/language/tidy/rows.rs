//! Which clauses may share a line: those that tell of one thing, in the order in which they were written.

use super::super::grammar::Rule;

/// What a clause tells of. Clauses next to each other that tell of the same share lines; of [`Row::Alone`] each has its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Row {
    /// A sentence, a list, or something that is done: a line of its own.
    Alone,
    /// A row of a table.
    Table,
    /// What a thing is, where it sits, what is taken to it.
    About,
    /// What is allowed of a reading.
    Limits,
    /// How its threads are treated and what it is tightened to.
    Tightening,
    /// What becomes of it, and where a new one comes from.
    Fate,
    /// When a step is done.
    Order,
    /// What a step takes: people, time, a place to stand.
    Means,
    /// The tools and supplies of a step.
    Tools,
}

/// What the clause that this rule matches tells of.
pub(super) fn row(rule: Rule) -> Row {
    match rule {
        Rule::holes_clause | Rule::tighten_clause | Rule::state | Rule::ask => Row::Table,

        Rule::kind_of_tool
        | Rule::drive_size
        | Rule::size
        | Rule::tool_range
        | Rule::special
        | Rule::quantity
        | Rule::open_time
        | Rule::cure_time
        | Rule::show_hazard
        | Rule::kind_of_part
        | Rule::like
        | Rule::carries
        | Rule::mass
        | Rule::lift_at
        | Rule::teeth
        | Rule::turned_by_hand
        | Rule::worn_in
        | Rule::harmless
        | Rule::kind_of_set
        | Rule::thread_clause
        | Rule::class_clause
        | Rule::drive
        | Rule::lengths
        | Rule::reused
        | Rule::into_clause
        | Rule::to_water
        | Rule::to_oil
        | Rule::blind
        | Rule::stays
        | Rule::engagement
        | Rule::stand_out
        | Rule::left_hand
        | Rule::captive
        | Rule::locked_by
        | Rule::soft
        | Rule::drag
        | Rule::critical
        | Rule::dry
        | Rule::part_dry
        | Rule::coat
        | Rule::of
        | Rule::marks_of
        | Rule::results
        | Rule::judged_by
        | Rule::unit_clause
        | Rule::stations
        | Rule::directions
        | Rule::taken
        | Rule::into_place
        | Rule::may_stay
        | Rule::clamps
        | Rule::seen_from
        | Rule::pass_by_pass
        | Rule::off_with
        | Rule::on_with
        | Rule::both_with
        | Rule::meets_hazard
        | Rule::comes_off
        | Rule::goes_on
        | Rule::under
        | Rule::held_by
        | Rule::within
        | Rule::sealed_by
        | Rule::present
        | Rule::falls
        | Rule::matched_with
        | Rule::sized_with
        | Rule::sized_by
        | Rule::select_from
        | Rule::releases
        | Rule::way
        | Rule::meshes
        | Rule::mark_clause => Row::About,

        Rule::oil | Rule::apply | Rule::friction | Rule::tighten_set => Row::Tightening,

        Rule::made | Rule::worn | Rule::plausible | Rule::best_at_nought | Rule::noted_only => Row::Limits,

        Rule::fate_clause | Rule::crack_test | Rule::catalogue | Rule::price_clause | Rule::supplier => {
            Row::Fate
        }

        Rule::after | Rule::before | Rule::straight_after | Rule::when | Rule::each | Rule::strip_only => {
            Row::Order
        }

        Rule::with | Rule::hands | Rule::time | Rule::refit_time => Row::Means,

        Rule::tools | Rule::supplies => Row::Tools,

        _ => Row::Alone,
    }
}
