//! Tree to domain model: names resolved across files, units and dimensions checked. It must not know how a
//! procedure will be ordered or printed.
//!
//! `collect` numbers every declared name; then the clauses are read, each in the file of its kind, by the
//! `resolver`, which looks names up and notes what is used. What rests on an earlier fault is left out without
//! a further complaint.

mod acts;
mod alike;
mod anew;
mod bench;
mod blank;
mod brought;
mod cases;
mod clamped;
pub(crate) mod clamping;
mod collect;
mod conditions;
mod consequences;
mod covered;
mod differing;
mod errors;
pub(crate) mod evenness;
mod example;
mod expected;
mod family;
mod fasteners;
mod files;
mod formulas;
mod fitted;
mod handling;
mod heard;
mod in_full;
mod instructions;
mod joints;
mod layouts;
mod lifts;
mod limits;
mod locks;
mod lowered;
mod missing;
pub mod model;
mod one_by_one;
mod outside_trial;
mod parts;
mod presence;
mod purposes;
mod quantities;
mod readings;
mod resolver;
mod resumed;
mod rules;
mod shelf;
mod sold;
mod spans;
mod stacking;
mod steps;
mod torques;
mod troubles;
mod turning;
mod turns;
mod unsaid;
mod unsaid_sets;
mod unused;
mod uses;
mod work_order;

use std::path::Path;
use std::sync::Arc;

use crate::diagnostics::{Diagnostic, Outcome, sort};
use crate::language::tree::Tree;
use crate::language::{Kept, on_one_line, parted_name};
use crate::source::{FileId, Sources, Span};
pub(crate) use alike::Between;
pub(crate) use brought::{Missing, idle_hazards, idle_tools, leave_out};
pub(crate) use cases::said_limits;
use collect::Declared;
use differing::{Layered, Merged};
use files::Loaded;
pub(crate) use files::{BroughtIn, OfJob, another_kind, roots};
pub(crate) use fitted::{Fitted, as_fitted, each_fitted, in_joint};
pub(crate) use handling::{bring_drivers, equip};
use heard::{Heard, Listened};
pub(crate) use locks::Written;
pub(crate) use missing::Judge;
use model::*;
use resolver::Resolver;
pub(crate) use resumed::Remembered;
pub(crate) use sold::sized_in_trial;
use troubles::Troubles;
pub(crate) use turning::{Crank, moves};
pub(crate) use work_order::{Way, holes, members_in_order, order_of_work, point};

/// Reads the procedure at `root` with every file it brings in, and resolves it. None if `root` can't be read; the
/// only complaint is then one of `source`.
///
/// ```
/// use std::path::Path;
///
/// use benchleaf::{Memory, Sources, load};
///
/// let files = Memory::new()
///     .with("pump.rebuild", "use \"parts.rebuild\"\nfamily pump \"Pump\" { origin \"invented\" }\n")
///     .with("parts.rebuild", "part cover \"Cover\"\n");
/// let mut sources = Sources::over(files);
/// let pump = load(&mut sources, Path::new("pump.rebuild")).value.expect("it can be read");
/// assert_eq!(pump.parts.iter().next().expect("it comes in with the file").naming.title, "Cover");
///
/// let missing = load(&mut sources, Path::new("engine.rebuild"));
/// assert!(missing.value.is_none() && missing.has_errors());
/// ```
pub fn load(sources: &mut Sources, root: &Path) -> Outcome<Option<Procedure>> {
    load_with(sources, &mut BroughtIn::default(), root, OfJob::default())
}

/// The same with what belongs to one job, whose texts are among the sources already.
pub(crate) fn load_with(
    sources: &mut Sources,
    brought_in: &mut BroughtIn,
    root: &Path,
    of_job: OfJob,
) -> Outcome<Option<Procedure>> {
    let mut loaded = read_with(sources, brought_in, root, of_job);
    // A joint of which something couldn't be read is not weighed.
    if !loaded.has_errors() {
        loaded.diagnostics.extend(loaded.value.iter().flat_map(weigh));
    }
    sort(&mut loaded.diagnostics);
    loaded
}

/// What there is to say about the joints of a procedure in which nothing is wrong, once what undoing and tightening do to them
/// has been reckoned.
pub(crate) fn weigh(procedure: &Procedure) -> Vec<Diagnostic> {
    clamping::release_warnings(procedure)
}

/// Reads and resolves as [`load_with`] does, and weighs no joint; complaints come in no order.
pub(crate) fn read_with(
    sources: &mut Sources,
    brought_in: &mut BroughtIn,
    root: &Path,
    of_job: OfJob,
) -> Outcome<Option<Procedure>> {
    let (loaded, faults) = files::load(sources, brought_in, root, of_job);
    let Some(Loaded { root, texts, diagnostics }) = loaded else {
        return Outcome { value: None, diagnostics: faults };
    };
    let troubles = troubles::troubles(sources, &diagnostics);
    let said = |span: Span| {
        let text = sources.file(span.file).text.get(span.start()..span.end()).unwrap_or_default();
        let words = on_one_line(text);
        words.strip_prefix("change ").map(str::to_owned).unwrap_or(words)
    };
    let BroughtIn { kept, resolved, .. } = &mut *brought_in;
    let known = kept.as_ref().map(|read| (resolved.entry(root).or_default(), read));
    let (mut outcome, trees) = resolve_around(texts, root, &said, troubles, known);
    let names = &outcome.value.names;
    let mut parted: Vec<Span> = Vec::new();
    let told = diagnostics.into_iter().map(|fault| {
        let text = fault.labels.first().map_or("", |label| sources.file(label.span.file).text.as_str());
        let Some(name) = parted_name(&fault, text, |name| names.get(name).is_some()) else { return fault };
        parted.extend(name.labels.first().map(|label| label.span));
        name
    });
    let told: Vec<Diagnostic> = told.collect();
    // The first word of a name that was parted is no other name.
    outcome.diagnostics.retain(|fault| {
        fault.labels.first().is_none_or(|label| !parted.iter().any(|name| name.holds(label.span)))
    });
    outcome.diagnostics.extend(told);
    for fault in &mut outcome.diagnostics {
        let Some(span) = fault.labels.first().map(|label| label.span) else { continue };
        errors::with_decimal_comma(fault, span, &sources.file(span.file).text);
    }
    if let Some(kept) = &mut brought_in.kept {
        trees.into_iter().for_each(|tree| kept.give_back(tree));
    }
    Outcome { value: Some(outcome.value), diagnostics: outcome.diagnostics }
}

/// Resolves trees that were parsed without fault, in the order in which their declarations come in; the root, the
/// only one with a family, stands last.
///
/// ```
/// use benchleaf::{Sources, parse, resolve};
///
/// let mut sources = Sources::new();
/// let file = sources.add("pump.rebuild", "family pump \"Pump\" { origin \"invented\" }\npart cover \"Cover\"\n");
/// let tree = parse(file, &sources.file(file).text).value;
/// let pump = resolve(&[tree]).value;
/// assert_eq!(pump.parts.iter().count(), 1);
/// ```
pub fn resolve(trees: &[Tree]) -> Outcome<Procedure> {
    let Some(root) = trees.last().map(|tree| tree.file) else { return Outcome::clean(Procedure::default()) };
    let texts = trees.iter().map(|tree| Layered { tree: tree.clone(), layer: 0, of_job: false }).collect();
    let (mut outcome, _) = resolve_around(texts, root, &|_| String::new(), Troubles::default(), None);
    sort(&mut outcome.diagnostics);
    outcome
}

/// Resolves texts, those of `root` with what they differ in, passing over what may rest on faults of spelling. Texts that are
/// still as they were read come back. What has been resolved of nearly the same texts is taken up again, where it was kept.
fn resolve_around(
    texts: Vec<Layered>,
    root: FileId,
    said: &dyn Fn(Span) -> String,
    troubles: Troubles,
    kept: Option<(&mut Remembered, &Kept)>,
) -> (Outcome<Procedure>, Vec<Tree>) {
    let Merged { mut trees, differing, below, gone, as_read, diagnostics } = differing::merge(texts, said);
    let (written, liked) = in_full::say_in_full(&mut trees);
    let mut kept = kept.filter(|_| as_read);
    let troubles = Arc::new(troubles);
    let resumed = kept.as_mut().and_then(|(known, read)| known.resume(&trees, read, &liked, &troubles));
    let (mut resolver, declared) = match resumed {
        Some(resumed) => resumed,
        None => {
            let collected = collect::collect(&trees, root);
            let declared = collected.declared;
            let mut resolver = Resolver::new(collected.procedure, troubles, gone);
            resolver.procedure.files = std::iter::once(root)
                .chain(trees.iter().map(|tree| tree.file).filter(|file| *file != root))
                .collect();
            resolver.procedure.differing = differing;
            resolver.procedure.of = below;
            resolver.diagnostics = [diagnostics, collected.diagnostics].concat();
            resolver.bench(&declared);
            resolver.headers(&declared);
            let listened = resolver.clauses(&declared);
            if let Some((known, read)) = kept {
                known.keep(&trees, read, &resolver, &listened);
            }
            resolver.use_too(listened.used());
            (resolver, declared)
        }
    };
    resolver.place_locks();
    resolver.stack();
    resolver.equip_steps();
    resolver.turns(&declared);
    resolver.state_hazards();
    resolver.torques_outside_trials(&declared);
    resolver.report_unknown(&trees);
    resolver.critical_torques();
    resolver.torques();
    resolver.missing_in_steps();
    resolver.limits();
    resolver.unsaid();
    resolver.safety_lints(&declared);
    resolver.figures_turned(&declared);
    resolver.covered_in_circles();
    resolver.clamps_reversed();
    resolver.consequences(&declared);
    resolver.unused(root);
    // A root of which nothing could be read was complained of as that.
    let bare = trees.iter().any(|tree| tree.file == root && tree.items.is_empty());
    if resolver.procedure.family.is_none() && !bare && !resolver.in_trouble("family") {
        resolver.complain(errors::no_family(Span::new(root, 0, 0)));
    }
    let outcome = Outcome { value: resolver.procedure.alone(), diagnostics: resolver.diagnostics };
    if !as_read {
        return (outcome, Vec::new());
    }
    in_full::say_as_written(&mut trees, written);
    (outcome, trees)
}

impl Resolver {
    /// What needs nothing but names: the bench.
    fn bench(&mut self, declared: &Declared) {
        declared
            .axes
            .numbered()
            .filter_map(|(id, axis)| Some((id, (*axis)?)))
            .for_each(|(id, axis)| self.axis(id, axis));
        declared.asks.numbered().for_each(|(id, ask)| self.ask(id, ask));
        declared.setups.numbered().for_each(|(id, setup)| self.setup_values(id, setup));
        declared.states.numbered().for_each(|(id, state)| self.state_values(id, state));
        declared.tools.numbered().for_each(|(id, tool)| self.tool(id, tool));
        declared.supplies.numbered().for_each(|(id, supply)| self.supply(id, supply));
        declared.hazards.numbered().for_each(|(id, hazard)| self.hazard(id, hazard));
    }

    /// What positions need: the axes of everything.
    fn headers(&mut self, declared: &Declared) {
        for (id, part) in declared.parts.numbered() {
            self.procedure.parts[id].axes = self.axes(Name::Part(id), &part.axes).into();
        }
        for (id, set) in declared.sets.numbered() {
            self.procedure.sets[id].axes = self.axes(Name::Set(id), &set.axes).into();
        }
        for (id, joint) in declared.joints.numbered() {
            self.procedure.joints[id].axes = self.axes(Name::Joint(id), &joint.axes).into();
        }
        for (id, gauge) in declared.gauges.numbered() {
            self.procedure.gauges[id].axes = self.axes(Name::Gauge(id), &gauge.axes).into();
        }
        for (id, look) in declared.looks.numbered() {
            self.procedure.looks[id].axes = self.axes(Name::Look(id), &look.axes).into();
        }
        for (id, temporary) in declared.temporaries.numbered() {
            self.procedure.temporaries[id].axes = self.axes(Name::Temporary(id), &temporary.axes).into();
        }
        declared.steps.numbered().for_each(|(id, step)| self.step_axes(id, step));
    }

    /// How many there are of each thing, and which engines have a set: both may hang on what readings can find, and both bear
    /// on the holes of joints.
    fn pieces(&mut self, declared: &Declared) {
        self.presences(declared);
        for (id, part) in declared.parts.numbered() {
            self.procedure.parts[id].count = self.counts(Name::Part(id), &part.count, "parts");
        }
        for (id, set) in declared.sets.numbered() {
            self.procedure.sets[id].count = self.counts(Name::Set(id), &set.count, "fasteners");
        }
        for (id, temporary) in declared.temporaries.numbered() {
            let count = self.counts(Name::Temporary(id), &temporary.count, "pieces");
            self.procedure.temporaries[id].count = count;
        }
    }

    /// Clauses, each kind after those it looks into: what readings can find before what hangs on it, joints before what
    /// speaks of their holes and sets.
    fn clauses(&mut self, declared: &Declared) -> Listened {
        self.results(declared);
        self.pieces(declared);
        declared.families.iter().for_each(|family| self.family(family));
        declared.joints.numbered().for_each(|(id, joint)| self.joint_clauses(id, joint));
        self.index_joints();
        let measured: Vec<Heard> = declared
            .gauges
            .numbered()
            .map(|(id, gauge)| self.listen(|resolver| resolver.gauge_measure(id, gauge)).1)
            .collect();
        self.formula_dimensions();
        let gauges = declared.gauges.numbered().zip(measured).map(|((id, gauge), measured)| {
            self.listen(|resolver| resolver.gauge_clauses(id, gauge)).1.and(measured)
        });
        let gauges = gauges.collect();
        let looks = declared.looks.numbered();
        let looks =
            looks.map(|(id, look)| self.listen(|resolver| resolver.look_clauses(id, look)).1).collect();
        let sets = self.renewed(&declared.sets.all(), |procedure| &mut procedure.sets, Resolver::set_clauses);
        let parts =
            self.renewed(&declared.parts.all(), |procedure| &mut procedure.parts, Resolver::part_clauses);
        declared.temporaries.numbered().for_each(|(id, t)| self.temporary_clauses(id, t));
        declared.rules.numbered().for_each(|(id, rule)| self.rule_clauses(id, rule));
        let steps =
            self.renewed(&declared.steps.all(), |procedure| &mut procedure.steps, Resolver::step_clauses);
        Listened { gauges, looks, sets, parts, steps }
    }
}
