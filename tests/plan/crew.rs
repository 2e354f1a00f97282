//! The schedule of several people: on random small engines and on the shipped one, held to what a schedule must keep
//! by checks of our own, and every order that it leaves open run through the conditions one by one.

use benchleaf::decide::decide;
use benchleaf::network::{Effect, Network, NodeId, ThingId};
use benchleaf::plan::{Choosing, Crew, PhasePlan, PlanOptions, Stint, crew, plan};
use benchleaf::procedure::model::{Deed, Phase, Procedure};
use benchleaf::record::Job;
use proptest::prelude::*;

use crate::tests::network::connected;

/// A part of a random engine and the step that takes it off.
#[derive(Debug, Clone)]
struct Piece {
    /// Parts over it, all of lower number.
    under: Vec<usize>,
    minutes: Option<u32>,
    hands: u32,
    /// Minutes of waiting, before or after the work.
    wait: Option<(u32, bool)>,
    stand: Option<usize>,
    /// Whether it needs the crankshaft locked, or locks it.
    crank: Option<bool>,
}

fn text(pieces: &[Piece]) -> String {
    let mut text = String::from("family small \"Small\" { edition 1  origin \"invented for a test\" }\n");
    text += "setup stand \"Stand\" = up (at first), over  change 60 s\nstate crank \"Crank\" = free (at first), locked\n";
    for (index, piece) in pieces.iter().enumerate() {
        let under: Vec<String> = piece.under.iter().map(|other| format!("part{other}")).collect();
        let under = if under.is_empty() { String::new() } else { format!("under {}", under.join(", ")) };
        text += &format!("part part{index} \"Part {index}\" {{ {under}  fate reuse }}\n");
    }
    let locks = pieces.iter().position(|piece| piece.crank == Some(true));
    for (index, piece) in pieces.iter().enumerate() {
        text += &format!("strip step{index} \"Step {index}\" {{ hands {} ", piece.hands);
        if let Some(minutes) = piece.minutes {
            text += &format!(" time {minutes} min ");
        }
        if let Some(stand) = piece.stand {
            text += &format!(" with stand {} ", ["up", "over"][stand]);
        }
        // One step locks it, and what needs it locked says that it comes after.
        match (piece.crank, locks) {
            (Some(false), Some(lock)) if lock < index => {
                text += &format!(" after step{lock} needs crank = locked ");
            }
            _ => {}
        }
        if let Some((minutes, true)) = piece.wait {
            text += &format!(" wait {minutes} min ");
        }
        text += &format!(" take part{index} ");
        if locks == Some(index) {
            text += " set crank = locked ";
        }
        if let Some((minutes, false)) = piece.wait {
            text += &format!(" wait {minutes} min ");
        }
        text += "}\n";
    }
    text
}

fn pieces() -> impl Strategy<Value = Vec<Piece>> {
    (2..9usize).prop_flat_map(|count| {
        (0..count)
            .map(|index| {
                (
                    proptest::collection::vec(0..index.max(1), 0..3),
                    proptest::option::weighted(0.85, 1..60u32),
                    1..3u32,
                    proptest::option::weighted(0.2, (1..40u32, any::<bool>())),
                    proptest::option::weighted(0.4, 0..2usize),
                    proptest::option::weighted(0.3, any::<bool>()),
                )
                    .prop_map(move |(mut under, minutes, hands, wait, stand, crank)| {
                        under.retain(|other| *other < index);
                        under.sort_unstable();
                        under.dedup();
                        Piece { under, minutes, hands, wait, stand, crank }
                    })
            })
            .collect::<Vec<_>>()
    })
}

/// What the events of a stint's steps set, and what they need.
fn touched(network: &Network, plan: &PhasePlan, stint: &Stint) -> (Vec<ThingId>, Vec<ThingId>) {
    let node = plan.steps[stint.steps[0]].node;
    let events = &network.nodes[node.index()].events;
    let sets = events.iter().filter(|event| matches!(event.effect, Effect::Set(_)));
    let needs = events.iter().filter(|event| matches!(event.effect, Effect::Need(..)));
    (sets.map(|event| event.thing).collect(), needs.map(|event| event.thing).collect())
}

fn keeps_what_it_must(procedure: &Procedure, network: &Network, plan: &PhasePlan, crew: &Crew, hands: usize) {
    let node = |stint: &Stint| plan.steps[stint.steps[0]].node;
    for (index, a) in crew.stints.iter().enumerate() {
        assert!(a.end <= crew.span && a.start <= a.end);
        for b in &crew.stints[index + 1..] {
            let overlap = a.start < b.end && b.start < a.end;
            if !overlap || node(a) == node(b) {
                continue;
            }
            let ((sets_a, needs_a), (sets_b, needs_b)) =
                (touched(network, plan, a), touched(network, plan, b));
            let clash = |sets: &[ThingId], other: &[ThingId]| sets.iter().any(|thing| other.contains(thing));
            let apart = !clash(&sets_a, &sets_b) && !clash(&sets_a, &needs_b) && !clash(&sets_b, &needs_a);
            assert!(apart, "{a:?} and {b:?} overlap, and one sets what the other needs or sets");
            let is_held = |stint: &Stint| {
                let held = |at: &usize| {
                    let step = &plan.steps[*at];
                    matches!(step.standing, benchleaf::plan::Standing::Held(_)) || !step.waits_for.is_empty()
                };
                stint.steps.iter().any(held)
            };
            assert!(!is_held(a) && !is_held(b));
            // A step of no stated time falls to somebody who may be busy.
            let timed = a.start < a.end && b.start < b.end;
            assert!(
                !timed || !a.hands.iter().any(|person| b.hands.contains(person)),
                "{a:?} and {b:?}: one person twice"
            );
        }
        let running = crew.stints.iter().filter(|b| b.start <= a.start && a.start < b.end);
        assert!(running.map(|b| b.hands.len()).sum::<usize>() <= hands, "too many hands at {}", a.start);
        let wanted: usize =
            a.steps.iter().map(|at| step_hands(procedure, network, plan, *at, hands)).max().unwrap();
        let waits = a.hands.is_empty() && a.steps.iter().any(|at| step_waits(procedure, network, plan, *at));
        assert!(waits || a.hands.len() == wanted, "{a:?} wants {wanted}");
    }
    let when = |place: usize| {
        let own = crew.stints.iter().filter(|stint| node(stint) == plan.order[place]);
        own.fold(None, |span: Option<(u64, u64)>, stint| {
            let (from, to) = span.unwrap_or((stint.start, stint.end));
            Some((from.min(stint.start), to.max(stint.end)))
        })
    };
    for (from, to) in &plan.edges {
        if let (Some((_, end)), Some((start, _))) = (when(*from), when(*to)) {
            assert!(end <= start, "place {to} begins before place {from} has ended");
        }
    }
}

/// A hold takes a second person, if there is one.
fn step_hands(procedure: &Procedure, network: &Network, plan: &PhasePlan, at: usize, people: usize) -> usize {
    let step = benchleaf::plan::step_of(procedure, network, plan.steps[at].source);
    (step.hands as usize).max(if step.holds() { people.min(2) } else { 1 })
}

fn step_waits(procedure: &Procedure, network: &Network, plan: &PhasePlan, at: usize) -> bool {
    let step = benchleaf::plan::step_of(procedure, network, plan.steps[at].source);
    step.acts().any(|act| matches!(act.deed, Deed::Wait(_)))
}

/// Runs every interleaving that a chart leaves open through the conditions, act by act: each person keeps the order of his own
/// steps, and a step waits for those that its line names. Only for procedures without questions. How many moments were
/// gone through, or the step that found something not as it needs it.
fn every_interleaving(network: &Network, plan: &PhasePlan, crew: &Crew) -> Result<usize, NodeId> {
    let node = |step: usize| plan.steps[step].node;
    let mut nodes: Vec<NodeId> = Vec::new();
    for stint in &crew.stints {
        if !nodes.contains(&node(stint.steps[0])) {
            nodes.push(node(stint.steps[0]));
        }
    }
    let of = |at: usize| {
        let meant = nodes[at];
        crew.stints.iter().filter(move |stint| node(stint.steps[0]) == meant)
    };
    let waits = |later: usize, earlier: usize| {
        let named = of(later).flat_map(|stint| &stint.not_before).any(|step| node(*step) == nodes[earlier]);
        let hands = |at: usize| of(at).filter(|stint| !stint.hands.is_empty());
        let shares = |a: &Stint, b: &Stint| a.hands.iter().any(|person| b.hands.contains(person));
        let same = hands(earlier).any(|a| hands(later).any(|b| shares(a, b)));
        let before = hands(earlier).all(|a| hands(later).all(|b| (a.end, a.start) <= (b.start, b.end)));
        named || same && before
    };
    let waits: Vec<Vec<usize>> = (0..nodes.len())
        .map(|later| (0..nodes.len()).filter(|earlier| *earlier != later && waits(later, *earlier)).collect())
        .collect();
    let events = |at: usize| &network.nodes[nodes[at].index()].events;
    let start: Vec<_> = network.things.iter().map(|thing| thing.start).collect();
    let mut moments = vec![(vec![0usize; nodes.len()], start)];
    let mut seen = 0;
    while !moments.is_empty() {
        seen += moments.len();
        let mut next: Vec<(Vec<usize>, Vec<_>)> = Vec::new();
        for (progress, values) in &moments {
            let over = |at: usize| progress[at] == events(at).len();
            for at in (0..nodes.len()).filter(|at| !over(*at) && waits[*at].iter().all(|first| over(*first)))
            {
                let event = &events(at)[progress[at]];
                let mut values = values.clone();
                match &event.effect {
                    Effect::Need(wanted, _) if !wanted.contains(values[event.thing.index()]) => {
                        return Err(nodes[at]);
                    }
                    Effect::Need(..) => {}
                    Effect::Set(new) => values[event.thing.index()] = *new,
                }
                let mut progress = progress.clone();
                progress[at] += 1;
                if !next.iter().any(|(other, known)| *other == progress && *known == values) {
                    next.push((progress, values));
                }
            }
        }
        moments = next;
    }
    Ok(seen)
}

/// Runs nodes one by one through their conditions; only for procedures without questions.
fn allowed(network: &Network, plan: &PhasePlan, order: &[&Stint]) {
    let mut values: Vec<_> = network.things.iter().map(|thing| thing.start).collect();
    let mut done = Vec::new();
    for stint in order {
        let node = plan.steps[stint.steps[0]].node;
        if done.contains(&node) {
            continue;
        }
        done.push(node);
        for event in &network.nodes[node.index()].events {
            let value = &mut values[event.thing.index()];
            match &event.effect {
                Effect::Need(wanted, _) => {
                    assert!(
                        wanted.contains(*value),
                        "{:?} needs what is not so",
                        network.nodes[node.index()].span
                    );
                }
                Effect::Set(new) => *value = *new,
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn every_order_that_a_random_schedule_leaves_open_is_allowed(pieces in pieces()) {
        let text = text(&pieces);
        let (procedure, network, _, _) = connected(&text);
        let decisions = decide(&procedure, &network.structure, &Job::default()).value;
        let options = PlanOptions { recorded: false, choosing: Choosing::default() };
        let plan = plan(&procedure, &network, &decisions, options);
        let plan = plan.phase(Phase::Strip).unwrap();
        let crew = crew(&procedure, &network, &decisions, plan, 2).unwrap();
        let first = crew.stints.iter().map(|stint| stint.steps[0]).collect::<std::collections::BTreeSet<_>>();
        prop_assert_eq!(first.len(), pieces.len(), "{}", text);
        prop_assert!(crew.bound <= crew.span);
        keeps_what_it_must(&procedure, &network, plan, &crew, 2);
        let moments = every_interleaving(&network, plan, &crew);
        prop_assert!(moments.is_ok(), "{moments:?}\n{text}");
        // What overlaps may be counted done in any order: by beginnings and by ends are the two extremes.
        let mut order: Vec<&Stint> = crew.stints.iter().collect();
        allowed(&network, plan, &order);
        order.sort_by_key(|stint| (stint.end, stint.start, stint.steps[0]));
        allowed(&network, plan, &order);
    }
}

/// The line of a chart that says what must be over first is what makes it safe: without it some interleaving goes wrong.
#[test]
fn a_chart_without_its_waits_goes_wrong() {
    let piece = |under: Vec<usize>, minutes| Piece {
        under,
        minutes: Some(minutes),
        hands: 1,
        wait: None,
        stand: None,
        crank: None,
    };
    let text = text(&[piece(vec![], 10), piece(vec![], 30), piece(vec![0], 10), piece(vec![1], 10)]);
    let (procedure, network, _, _) = connected(&text);
    let decisions = decide(&procedure, &network.structure, &Job::default()).value;
    let options = PlanOptions { recorded: false, choosing: Choosing::default() };
    let plan = plan(&procedure, &network, &decisions, options);
    let plan = plan.phase(Phase::Strip).unwrap();
    let mut crew = crew(&procedure, &network, &decisions, plan, 2).unwrap();
    // Whose hands do what is turned round, so that somebody waits for somebody else.
    for stint in crew.stints.iter_mut().skip(2) {
        stint.hands = stint.hands.iter().map(|person| 1 - person).collect();
        stint.not_before = vec![0, 1];
    }
    let moments = every_interleaving(&network, plan, &crew);
    assert!(moments.as_ref().is_ok_and(|moments| *moments > 10), "{moments:?}");
    crew.stints.iter_mut().for_each(|stint| stint.not_before.clear());
    let moments = every_interleaving(&network, plan, &crew);
    assert!(moments.is_err(), "{moments:?}");
}

#[test]
fn the_shipped_engine_is_shared_as_it_must_be() {
    let mut sources = benchleaf::source::Sources::new();
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("procedures/brackwater3.rebuild");
    let procedure = benchleaf::procedure::load(&mut sources, &path).value.unwrap();
    let network = benchleaf::network::connect(&procedure).value;
    let decisions = decide(&procedure, &network.structure, &Job::default()).value;
    let plan = plan(
        &procedure,
        &network,
        &decisions,
        PlanOptions { recorded: false, choosing: Choosing::default() },
    );
    for phase in &plan.phases {
        let shared = crew(&procedure, &network, &decisions, phase, 2).unwrap();
        keeps_what_it_must(&procedure, &network, phase, &shared, 2);
        // In the start everything is done with the whole engine.
        assert!(
            phase.phase == Phase::Start || shared.span < shared.in_a_row,
            "{:?}: two gain nothing",
            phase.phase
        );
        let two = matches!(phase.phase, Phase::Strip | Phase::Start);
        assert_eq!(crew(&procedure, &network, &decisions, phase, 1).is_err(), two, "{:?}", phase.phase);
    }
}

#[test]
fn where_somebody_stands_is_his_own_affair_and_what_all_share_is_not() {
    let span = |whose: &str| {
        let text = format!(
            "family small \"Small\" {{ edition 1  origin \"invented for a test\" }}\n\
             setup place \"Place\" = left (at first), right  {whose}  change 8 s\n\
             part one \"One\" {{ fate reuse }}\npart two \"Two\" {{ fate reuse }}\n\
             strip take_one \"Take one\" {{ time 10 min  with place left  take one }}\n\
             strip take_two \"Take two\" {{ time 10 min  with place right  take two }}\n"
        );
        let (procedure, network, _, _) = connected(&text);
        let decisions = decide(&procedure, &network.structure, &Job::default()).value;
        let options = PlanOptions { recorded: false, choosing: Choosing::default() };
        let plan = plan(&procedure, &network, &decisions, options);
        crew(&procedure, &network, &decisions, plan.phase(Phase::Strip).unwrap(), 2).unwrap().span
    };
    assert_eq!(span("for each person"), 600);
    assert_eq!(span(""), 1_208);
}
