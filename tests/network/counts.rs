//! What no packet of a shipped engine may hold: hazards of acts that nobody does there, torques without a wrench, locks
//! without a piece, running parts that go in with nothing on them and nobody saying so.
//!
//! Which kind of hazard belongs to which act, and what runs in oil: common practice, no source.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use benchleaf::network::{Network, connect};
use benchleaf::procedure::model::*;
use benchleaf::source::Sources;

fn shipped() -> Vec<(PathBuf, Procedure, Network)> {
    let mut found: Vec<PathBuf> = ["procedures", "procedures/first"]
        .into_iter()
        .flat_map(|folder| std::fs::read_dir(folder).expect("it is shipped"))
        .map(|entry| entry.expect("it can be read").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "rebuild"))
        .collect();
    found.sort();
    let read = |path: PathBuf| {
        let procedure =
            benchleaf::procedure::load(&mut Sources::new(), Path::new(&path)).value.expect("it can be read");
        let network = connect(&procedure).value;
        (path, procedure, network)
    };
    found.into_iter().map(read).collect()
}

/// Every step, written or derived, that puts something together.
fn building<'p>(procedure: &'p Procedure, network: &'p Network) -> impl Iterator<Item = &'p Step> {
    let written = procedure.steps.iter().filter(|step| matches!(step.phase, Phase::Build | Phase::Start));
    written.chain(network.derived.iter().map(|derived| &derived.step))
}

fn sets(procedure: &Procedure, what: &[Fastening]) -> Vec<SetId> {
    let of = |what: &Fastening| match what {
        Fastening::Set(target) => vec![target.id],
        Fastening::Joint(target) => {
            procedure.joint(target.id).members.iter().map(|member| member.set.id).collect()
        }
    };
    what.iter().flat_map(of).collect()
}

#[test]
fn no_torque_is_without_a_wrench() {
    let mut torques = 0;
    for (path, procedure, network) in shipped() {
        for step in building(&procedure, &network) {
            let range =
                |tool: ToolId| procedure.tool(tool).range.map(|(low, high)| (low.base(), high.base()));
            let ranges: Vec<(f64, f64)> = step.listed().filter_map(|(tool, _)| range(tool)).collect();
            for act in step.acts() {
                let Deed::Fasten { work: FasteningWork::Tighten, what, .. } = &act.deed else { continue };
                for set in sets(&procedure, what) {
                    let passes =
                        procedure.tightening(set).values().filter_map(|stated| match &stated.value {
                            Tightening::Passes(passes) => Some(passes),
                            _ => None,
                        });
                    for pass in passes.flatten() {
                        let Pass::Torque(low, _) = pass else { continue };
                        torques += 1;
                        assert!(
                            ranges.iter().any(|(from, to)| (*from..=*to).contains(&low.base())),
                            "{}: `{}` tightens `{}` to {low} and lists no wrench for it",
                            path.display(),
                            step.naming.id,
                            procedure.set(set).naming.id,
                        );
                    }
                }
            }
        }
    }
    assert!(torques > 50, "{torques}");
}

/// A fastener that was out isn't tightened before somebody has started it by hand: the build says so in one of its steps.
#[test]
fn nothing_that_was_out_is_tightened_before_it_is_started() {
    let mut tightened = 0;
    for (path, procedure, network) in shipped() {
        let trial =
            |step: &Step| step.group.is_some_and(|group| procedure.group(group).kind == GroupKind::Trial);
        let worked = |step: &Step, meant: &[FasteningWork]| -> Vec<SetId> {
            let work = step.acts().filter_map(|act| match &act.deed {
                Deed::Fasten { work, what, to: None, .. } if meant.contains(work) => Some(what),
                _ => None,
            });
            work.flat_map(|what| sets(&procedure, what)).collect()
        };
        let apart = procedure.steps.iter().filter(|step| !trial(step) && step.phase < Phase::Build);
        let out: BTreeSet<SetId> = apart.flat_map(|step| worked(step, &[FasteningWork::Undo])).collect();
        let written = procedure.steps.iter().filter(|step| !trial(step) && step.phase == Phase::Build);
        let together: Vec<&Step> =
            written.chain(network.derived.iter().map(|derived| &derived.step)).collect();
        let begins = [FasteningWork::StartByHand, FasteningWork::Nip];
        let begun: BTreeSet<SetId> = together.iter().flat_map(|step| worked(step, &begins)).collect();
        for step in &together {
            for set in worked(step, &[FasteningWork::Tighten]) {
                if out.contains(&set) && !procedure.set(set).captive {
                    tightened += 1;
                    let (step, set_named) = (&step.naming.id, &procedure.set(set).naming.id);
                    assert!(begun.contains(&set), "{}: `{step}` tightens `{set_named}`", path.display());
                }
            }
        }
    }
    assert!(tightened > 50, "{tightened}");
}

#[test]
fn no_lock_is_without_its_piece_and_no_thread_is_oiled_with_nothing() {
    let mut locks = 0;
    for (path, procedure, _) in shipped() {
        for set in procedure.sets.iter() {
            let id = &set.naming.id;
            for lock in set.locked_by.iter().filter(|lock| lock.how != Locking::Stake) {
                locks += 1;
                assert!(lock.piece.is_some(), "{}: the {:?} of `{id}`", path.display(), lock.how);
            }
            let named = set.oil.as_ref().is_none_or(|oil| oil.with.is_some());
            assert!(named, "{}: the oil of `{id}`", path.display());
        }
    }
    assert!(locks >= 5, "{locks}");
}

#[test]
fn no_running_part_goes_in_with_nothing_said_of_oil() {
    let mut runs = 0;
    for (path, procedure, network) in shipped() {
        for step in building(&procedure, &network) {
            for act in step.acts() {
                let Deed::Part { work: PartWork::Fit, what } = &act.deed else { continue };
                for part in what.iter().map(|target| procedure.part(target.id)) {
                    let to_size = !part.sized_with.is_empty() || !part.sized_by.is_empty();
                    let kinds = [Some(PartKind::Seal), Some(PartKind::Bearing), Some(PartKind::Running)];
                    let runs_by_kind = kinds.contains(&part.kind) || part.teeth.is_some();
                    if !part.worn_in && !to_size && part.select_from.is_none() && !runs_by_kind {
                        continue;
                    }
                    runs += 1;
                    assert!(
                        !part.handling.dry.is_empty() || !part.handling.coats.is_empty(),
                        "{}: `{}` fits `{}`",
                        path.display(),
                        step.naming.id,
                        part.naming.id,
                    );
                }
            }
        }
    }
    assert!(runs > 20, "{runs}");
}

#[test]
fn no_refit_warns_of_an_act_that_it_does_not_do() {
    let on = |handling: &Handling| handling.each_hazard().any(|(to, ..)| to.counts(false));
    let mut warned = 0;
    for (path, procedure, network) in shipped() {
        for derived in &network.derived {
            let step = &derived.step;
            let kinds: BTreeSet<&str> =
                step.hazards().map(|hazard| procedure.hazard(hazard).kind.word()).collect();
            for kind in kinds {
                warned += 1;
                let parts = |meant: &dyn Fn(&Part) -> bool| {
                    step.acts().any(|act| match &act.deed {
                        Deed::Part { what, .. } => what.iter().any(|part| meant(procedure.part(part.id))),
                        _ => false,
                    })
                };
                let fastened = |meant: &dyn Fn(&FastenerSet) -> bool| {
                    step.acts().any(|act| match &act.deed {
                        Deed::Fasten { what, .. } => {
                            sets(&procedure, what).into_iter().any(|set| meant(procedure.set(set)))
                        }
                        _ => false,
                    })
                };
                let warranted = match kind {
                    // Met when something old comes away, or is let out under pressure or hot: never on the way back.
                    "gasket_dust" | "lead" | "seal_residue" | "pressure" => false,
                    "puller" => step.listed().any(|(tool, _)| procedure.tool(tool).kind == ToolKind::Puller),
                    "lifting" => parts(&|part| part.mass.is_some()),
                    "spring" => parts(&|part| on(&part.handling)) || fastened(&|set| on(&set.handling)),
                    _ => {
                        let fumes = |supply: SupplyId| !procedure.supply(supply).hazards.is_empty();
                        step.supplies.iter().any(|supply| fumes(supply.what.0))
                            || parts(&|part| on(&part.handling))
                    }
                };
                assert!(warranted, "{}: `{}` warns of {kind}", path.display(), step.naming.id);
            }
        }
    }
    assert!(warned > 0, "springs fly on the way back too");
}
