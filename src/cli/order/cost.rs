//! What an order costs, what it saves against the author's, and why each moved step moved: as words and for programs.

use serde::Serialize;

use crate::cli::prepared::Prepared;
use crate::network::NodeId;
use crate::plan::{Choice, Cost, Moved, PhasePlan, node_title};
use crate::quantity::figure;

/// The choice of an order, for programs; times are in seconds.
#[derive(Serialize)]
pub(super) struct ChoiceReport {
    /// `chosen` or `as written`.
    order: &'static str,
    /// How the cost stands to the least possible.
    standing: String,
    proved: bool,
    cost: CostReport,
    author_cost: CostReport,
    /// No order costs less.
    bound: f64,
    saves: f64,
    /// Where the times of the changes come from.
    times: &'static str,
    moved: Vec<MovedReport>,
    /// Every change in the order of work; with the price of what is parted they add up to the cost.
    changes: Vec<ChangeReport>,
}

#[derive(Serialize)]
struct CostReport {
    total: f64,
    /// Set-up changes alone.
    changing: f64,
    /// The author's neighbours parted.
    parted: u64,
    kinds: Vec<KindReport>,
}

#[derive(Serialize)]
struct KindReport {
    kind: String,
    changes: u64,
    seconds: f64,
}

#[derive(Serialize)]
struct MovedReport {
    step: String,
    title: String,
    /// What putting it back where the author had it would cost; none where others would have to move with it.
    saves: Option<f64>,
    why: String,
}

#[derive(Serialize)]
struct ChangeReport {
    before: String,
    /// Within the step or block, and so in every order.
    within: bool,
    what: String,
    from: Option<String>,
    to: String,
    seconds: f64,
}

fn seconds(tenths: u64) -> f64 {
    tenths as f64 / 10.0
}

/// The report of a phase's choice.
pub(super) fn report(prepared: &Prepared, plan: &PhasePlan) -> Option<ChoiceReport> {
    let choice = plan.choice.as_ref()?;
    let id = |node: NodeId| prepared.network.nodes[node.index()].id(&prepared.procedure);
    let changes = choice.cost.changes.iter().map(|change| ChangeReport {
        before: id(change.node),
        within: change.inside,
        what: change.aspect.clone(),
        from: change.from.clone(),
        to: change.to.clone(),
        seconds: seconds(change.tenths),
    });
    Some(ChoiceReport {
        order: if choice.as_written { "as written" } else { "chosen" },
        standing: choice.standing(),
        proved: choice.proved,
        cost: cost(&choice.cost),
        author_cost: cost(&choice.author_cost),
        bound: seconds(choice.bound),
        saves: seconds(choice.author_cost.total.saturating_sub(choice.cost.total)),
        times: choice.times.origin(),
        moved: choice.moved.iter().map(|moved| moved_report(prepared, choice, moved)).collect(),
        changes: changes.collect(),
    })
}

fn cost(cost: &Cost) -> CostReport {
    let kinds = cost.kinds.iter().map(|(kind, (changes, tenths))| KindReport {
        kind: kind.clone(),
        changes: *changes,
        seconds: seconds(*tenths),
    });
    CostReport {
        total: seconds(cost.total),
        changing: seconds(cost.changing),
        parted: cost.parted,
        kinds: kinds.collect(),
    }
}

fn moved_report(prepared: &Prepared, choice: &Choice, moved: &Moved) -> MovedReport {
    let node = &prepared.network.nodes[moved.node.index()];
    let title = |node: NodeId| {
        node_title(&prepared.procedure, &prepared.network, &prepared.network.nodes[node.index()])
    };
    let beside = |other: &Option<(NodeId, Vec<(String, String)>)>| {
        let (other, shared) = other.as_ref()?;
        if shared.is_empty() {
            return None;
        }
        let shared: Vec<String> =
            shared.iter().map(|(aspect, value)| format!("{}: {value}", lower(aspect))).collect();
        Some(format!("“{}” ({})", title(*other), shared.join(", ")))
    };
    let (joins, leads) = (beside(&moved.joins), beside(&moved.leads));
    let why = match (joins, leads) {
        (Some(joins), Some(leads)) => format!("set up as for {joins} and {leads}"),
        (Some(one), None) | (None, Some(one)) => format!("set up as for {one}"),
        (None, None) => "makes way for steps that share a set-up".to_owned(),
    };
    debug_assert!(!choice.as_written);
    MovedReport {
        step: node.id(&prepared.procedure),
        title: title(moved.node),
        saves: moved.saves.map(|tenths| tenths as f64 / 10.0),
        why,
    }
}

fn lower(title: &str) -> String {
    let mut letters = title.chars();
    letters.next().map(|first| first.to_lowercase().chain(letters).collect()).unwrap_or_default()
}

/// The report in words, behind the list of steps.
pub(super) fn text(report: &ChoiceReport, all_changes: bool) -> String {
    let minutes = |seconds: f64| format!("{} min", figure(seconds / 60.0, 1));
    let mut out = format!(
        "\nChanging over takes {} in this order ({}), {} as written.\n",
        minutes(report.cost.total),
        report.standing,
        minutes(report.author_cost.total)
    );
    if report.saves > 0.0 {
        out += &format!(
            "It saves {}, with {} of the author's neighbours parted.\n",
            minutes(report.saves),
            report.cost.parted
        );
    }
    out += &format!("The times of changes are {}.\n\n", report.times);
    out += "  changes                        here      as written\n";
    let kinds = report.cost.kinds.iter().chain(&report.author_cost.kinds).map(|kind| kind.kind.as_str());
    let mut names: Vec<&str> = kinds.collect();
    names.sort_unstable();
    names.dedup();
    for name in names {
        let of = |cost: &CostReport| {
            let kind = cost.kinds.iter().find(|kind| kind.kind == name);
            kind.map_or_else(|| "-".to_owned(), |kind| format!("{} ({} s)", kind.changes, kind.seconds))
        };
        out += &format!("  {name:<26} {:>12}  {:>12}\n", of(&report.cost), of(&report.author_cost));
    }
    if !report.moved.is_empty() {
        out += "\nMoved:\n";
    }
    for moved in &report.moved {
        let saves = match moved.saves {
            Some(saves) if saves > 0.0 => format!(", saves {saves} s"),
            Some(_) => String::new(),
            None => String::new(),
        };
        out += &format!("  {}  {}: {}{saves}\n", moved.step, moved.title, moved.why);
    }
    if all_changes {
        out += "\nEvery change, in the order of work:\n";
        for change in &report.changes {
            let from = change.from.as_ref().map(|from| format!("{from} to ")).unwrap_or_default();
            let within = if change.within { " (within it)" } else { "" };
            out += &format!(
                "  {:>7} s  {}{within}: {}, {from}{}\n",
                change.seconds,
                change.before,
                lower(&change.what),
                change.to
            );
        }
        let parted = report.cost.total - report.cost.changing;
        out += &format!("  {parted:>7} s  for {} neighbours parted\n", report.cost.parted);
        out += &format!("  {:>7} s  together\n", report.cost.total);
    }
    out
}
