//! Links in words: why one step stands before another, for a person at the bench.

use super::{step_of, words};
use crate::english::spaced;
use crate::network::{
    Effect, Errand, Fit, Inside, Is, Link, Network, Node, Reason, ThingId, ThingKind, Tightness, Values,
};
use crate::procedure::model::{Act, Deed, Fastening, Procedure, Thing as Named};
use crate::source::{Sources, Span};

/// Why `link` puts its later node behind its earlier one, as a clause without a capital or a full stop: "the rocker
/// cover must be off first, because the rocker shaft is under it".
pub(crate) fn reason_words(procedure: &Procedure, network: &Network, link: &Link) -> String {
    match link.reason {
        Reason::Stated => return "the author says so".to_owned(),
        Reason::StraightAfter => return "it follows at once".to_owned(),
        Reason::Rule(None) => {
            return "joint rule: undo the smaller fasteners before the larger, tighten the larger first"
                .to_owned();
        }
        Reason::Rule(Some(rule)) => {
            return format!("rule: {}", words::inner(&procedure.rule(rule).naming.title));
        }
        Reason::Reopened => return "it is opened, fitted and tightened in this order".to_owned(),
        _ => {}
    }
    let needing = if link.brings { link.to } else { link.from };
    let Some(thing) = link.thing else { return format!("it is needed ({})", link.reason.word()) };
    let node = &network.nodes[needing.index()];
    let need = need_of(node, thing, link);
    let kind = network.things[thing.index()].kind;
    let values = need.map_or(Values::first(0), |(values, _)| values);
    let owner = need.and_then(|(_, act)| act).map(|act| act_object(procedure, network, node, act));
    let name = thing_name(procedure, network, thing);
    let condition = condition(procedure, kind, values);
    if !link.brings {
        let title = node_title(procedure, network, node);
        return format!("“{title}” comes first, because it needs {name} {condition}");
    }
    if let ThingKind::State(_) = kind {
        let title = name.trim_start_matches("the ");
        return format!("it needs “{title}: {condition}”");
    }
    let gone = !kind.read(values).any(|is| matches!(is, Is::Part(Fit::Fitted) | Is::Set(Tightness::Tight)));
    let because = owner
        .filter(|owner| !owner.is_empty())
        .map(|owner| because(procedure, link.reason, gone, &owner, several(procedure, network, thing)));
    let plain = format!("{name} must be {condition} first");
    match because {
        Some(because) if !because.is_empty() => format!("{plain}, because {because}"),
        _ => plain,
    }
}

/// The value that a node needs of a thing for this link's reason, and the act that needs it.
fn need_of(node: &Node, thing: ThingId, link: &Link) -> Option<(Values, Option<(u32, u32)>)> {
    let needs =
        node.events.iter().filter(|event| event.thing == thing).filter_map(|event| match &event.effect {
            Effect::Need(value, why) => Some((event, *value, why)),
            Effect::Set(_) => None,
        });
    let mut found = None;
    for (event, value, why) in needs {
        let act = event.act.map(|act| (event.member, act.number()));
        if why.reason == link.reason && why.fact == link.fact {
            return Some((value, act));
        }
        found.get_or_insert((value, act));
    }
    found
}

/// What an act is done to, as the object of a sentence.
fn act_object(procedure: &Procedure, network: &Network, node: &Node, (member, act): (u32, u32)) -> String {
    let Some(member) = node.members.get(member as usize) else { return String::new() };
    let step = step_of(procedure, network, member.step);
    step.acts().nth(act as usize).map(|act| object_words(procedure, act)).unwrap_or_default()
}

/// The things of an act with their article.
pub(crate) fn object_words(procedure: &Procedure, act: &Act) -> String {
    let part = |id| words::the(&procedure.part(id).naming.title);
    let set = |id| {
        let set = procedure.set(id);
        words::the_many(&set.naming.title, set.count.at_a_place())
    };
    let names: Vec<String> = match &act.deed {
        Deed::Fasten { what, .. } => what
            .iter()
            .map(|one| match one {
                Fastening::Set(target) => set(target.id),
                Fastening::Joint(target) => {
                    format!("the joint “{}”", words::inner(&procedure.joint(target.id).naming.title))
                }
            })
            .collect(),
        Deed::Part { what, .. } => what.iter().map(|target| part(target.id)).collect(),
        Deed::Heat { what, .. } => vec![part(what.id)],
        Deed::Clean(what) | Deed::Mark(what) => what
            .iter()
            .map(|one| match one {
                Named::Part(target) => part(target.id),
                Named::Set(target) => set(target.id),
            })
            .collect(),
        Deed::Chase(what) => what.iter().map(|target| set(target.id)).collect(),
        Deed::Gauge(what) => {
            what.iter().map(|target| words::the(&procedure.gauge(target.id).naming.title)).collect()
        }
        Deed::Look(what) => {
            what.iter().map(|target| words::the(&procedure.look(target.id).naming.title)).collect()
        }
        Deed::PutIn(target) | Deed::TakeOut(target) => {
            let temporary = procedure.temporary(target.id);
            vec![words::the_many(&temporary.naming.title, temporary.count.at_a_place())]
        }
        _ => Vec::new(),
    };
    if names.len() > 3 {
        return format!("{} and {} others", names[0], names.len() - 1);
    }
    words::list(&names)
}

/// A thing of the network with its article and place.
pub(super) fn thing_name(procedure: &Procedure, network: &Network, thing: ThingId) -> String {
    let placed = |title: &str, place: String| {
        if place.is_empty() { words::the(title) } else { format!("{} {place}", words::inner(title)) }
    };
    match network.things[thing.index()].kind {
        ThingKind::Part(id, place)
        | ThingKind::Errand(id, place)
        | ThingKind::Support(id, place)
        | ThingKind::Steady(id, place)
        | ThingKind::Clean(id, place) => {
            let part = procedure.part(id);
            placed(&part.naming.title, procedure.place_name(&part.axes, place))
        }
        ThingKind::Set(id, at, _) => {
            let set = procedure.set(id);
            let place = procedure.place_name(&set.axes, at);
            let name = words::the_many(&set.naming.title, procedure.set_pieces(id, &[at]));
            if place.is_empty() { name } else { format!("{name} at {place}") }
        }
        ThingKind::Reading(id, place) => {
            let gauge = procedure.gauge(id);
            placed(&gauge.naming.title, procedure.place_name(&gauge.axes, place))
        }
        ThingKind::Seen(id, place) => {
            let look = procedure.look(id);
            placed(&look.naming.title, procedure.place_name(&look.axes, place))
        }
        ThingKind::Answered(question) => {
            let question = &network.questions[question.0 as usize];
            format!("the choice between {}", words::list(&question.answers))
        }
        ThingKind::State(id) => words::the(&procedure.state(id).naming.title),
        ThingKind::Temporary(id, place) => {
            let temporary = procedure.temporary(id);
            placed(&temporary.naming.title, procedure.place_name(&temporary.axes, place))
        }
    }
}

/// The values that would do, in words.
fn condition(procedure: &Procedure, kind: ThingKind, values: Values) -> String {
    let words: Vec<String> = kind.read(values).map(|is| value_words(procedure, is)).collect();
    words::alternatives(&words)
}

fn value_words(procedure: &Procedure, is: Is) -> String {
    let word = match is {
        Is::State(state, value) => return spaced(&procedure.state(state).values[value.0]),
        Is::Part(Fit::Fitted) => "fitted",
        Is::Part(Fit::Off) => "off",
        Is::Errand(Errand::Here) => "here",
        Is::Errand(Errand::Sent) => "sent",
        Is::Errand(Errand::Back) => "back",
        Is::Errand(Errand::Accepted) => "accepted",
        Is::Support(false) => "free of its support",
        Is::Support(true) => "supported",
        Is::Steady(false) => "loose",
        Is::Steady(true) => "steady",
        Is::Clean(false) => "not yet clean",
        Is::Clean(true) => "clean",
        Is::Set(Tightness::Tight) => "tight",
        Is::Set(Tightness::Slack) => "slack",
        Is::Set(Tightness::Out) | Is::Temporary(Inside::Gone) => "out",
        Is::Reading(false) | Is::Seen(false) | Is::Answered(false) => "open",
        Is::Reading(true) => "taken",
        Is::Seen(true) => "judged",
        Is::Answered(true) => "made",
        Is::Temporary(Inside::In) => "in",
    };
    word.to_owned()
}

/// Why the thing must be in that condition, where `owner` is what the needing act is done to; `gone` where it must be off
/// or undone.
fn because(procedure: &Procedure, reason: Reason, gone: bool, owner: &str, several: bool) -> String {
    let (it_is, it_holds, it) =
        if several { ("they are", "they hold", "them") } else { ("it is", "it holds", "it") };
    match reason {
        Reason::Under if gone => format!("{owner} is under {it}"),
        Reason::Under => format!("{it_is} under {owner}"),
        Reason::HeldBy if gone => format!("{it_holds} {owner}"),
        Reason::HeldBy => format!("{owner} holds {it}"),
        Reason::Within if gone => format!("{owner} is inside it"),
        Reason::Within => format!("{owner} belongs to it"),
        Reason::Releases => format!("opening {owner} would let it go"),
        Reason::Supported => "it is heavy or would fall".to_owned(),
        Reason::Steady => format!("it could fall as the {} lies", procedure.whole()),
        Reason::Errand => "it comes back from the machine shop first".to_owned(),
        _ => String::new(),
    }
}

/// Whether a thing is more than one piece, so that it is spoken of as they.
fn several(procedure: &Procedure, network: &Network, thing: ThingId) -> bool {
    match network.things[thing.index()].kind {
        ThingKind::Set(id, place, _) => procedure.set_pieces(id, &[place]).several(),
        ThingKind::Part(id, place) => procedure.part_pieces(id, &[place]).several(),
        _ => false,
    }
}

/// The title of a node: its step's, or its group's.
pub(crate) fn node_title(procedure: &Procedure, network: &Network, node: &Node) -> String {
    if let Some(group) = node.group {
        return procedure.group(group).naming.title.clone();
    }
    let member = node.members.first();
    member.map(|member| step_of(procedure, network, member.step).naming.title.clone()).unwrap_or_default()
}

/// Where something is said, as `line 41`, with the file's name if it is not the first file.
pub(crate) fn line_of(sources: &Sources, span: Span) -> String {
    let file = sources.file(span.file);
    let line = file.position(span.start()).line;
    if span.file.0 == 0 {
        return format!("line {line}");
    }
    let name = file.path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    format!("{name} line {line}")
}
