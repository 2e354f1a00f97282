//! Steps named in a record or on the command line, as keys: `pull_piston[2]`, and `fit:push_rod[2, inlet]` for one that the
//! build derives. Whether there is such a derived step only the network knows.

use super::names::Names;
use super::{Named, errors};
use crate::procedure::model::{AxisId, DerivedKey, DerivedWork, Name, Place, Procedure, StepId, StepKey};

/// The step that a text names; none if there can be none.
pub(crate) fn step_key(procedure: &Procedure, text: &str) -> Option<StepKey> {
    let bare: String = text.chars().filter(|sign| !sign.is_whitespace()).collect();
    Names::new(procedure).step(&Named::typed(&bare)?)
}

impl Named {
    /// Whether it is written as steps are that the build derives.
    pub(super) fn is_derived(&self) -> bool {
        self.name.contains(':')
    }
}

impl Names<'_> {
    /// A step; without a place, one that is done apart is meant at every place.
    pub(super) fn step(&mut self, named: &Named) -> Option<StepKey> {
        if named.is_derived() {
            return self.derived(named);
        }
        let id = self.number(named.span, &named.name)?;
        let step = self.procedure.step(id);
        let axes: &[AxisId] = if step.apart { &step.each } else { &[] };
        let declared = step.naming.span;
        if !self.no_words(named, declared) {
            return None;
        }
        self.place_if_given(named, axes, declared).map(|place| StepKey::Written(id, place))
    }

    /// One place of a step that is done at several together; none for anything else, and nothing, with a complaint, where
    /// it has no such place.
    pub(super) fn partly(&mut self, named: &Named) -> Option<Option<(StepId, Place)>> {
        let Some(Name::Step(id)) = self.procedure.names.get(&named.name).copied() else { return None };
        let step = self.procedure.step(id);
        if step.apart || step.each.is_empty() || named.positions.is_empty() || !named.words.is_empty() {
            return None;
        }
        Some(self.place(named, &step.each, step.naming.span).map(|place| (id, place)))
    }

    /// A step that the build derives, as far as the procedure tells.
    pub(super) fn derived(&mut self, named: &Named) -> Option<StepKey> {
        let key = read(self.procedure, named);
        if key.is_none() {
            let names = self.procedure.names.sorted().into_iter();
            let works =
                names.flat_map(|(_, name)| DerivedWork::WORDS.map(|word| DerivedWork::on(word, name)));
            let possible =
                works.flatten().map(|work| DerivedKey { work, at: Vec::new(), number: 1 }.id(self.procedure));
            let possible: Vec<String> = possible.collect();
            let candidates = possible.iter().map(String::as_str);
            self.diagnostics.push(errors::unknown_name(named.span, &named.name, "a step", candidates, None));
        }
        key.map(StepKey::Derived)
    }
}

/// Reads `work:thing`, its positions, and the number behind them where several steps do the same.
fn read(procedure: &Procedure, named: &Named) -> Option<DerivedKey> {
    let mut parts = named.name.split(':');
    let (word, thing) = (parts.next()?, parts.next()?);
    let number = match (parts.next(), named.words.as_slice()) {
        (None, []) => 1,
        (Some(number), []) => number.parse().ok()?,
        (None, [number]) => number.strip_prefix(':')?.parse().ok()?,
        _ => return None,
    };
    let work = DerivedWork::on(word, *procedure.names.get(thing)?)?;
    let words = |place: &str| place.split(',').map(|name| name.trim().to_owned()).collect();
    let places = named.positions.join(",");
    let at = if places.is_empty() { Vec::new() } else { places.split(';').map(words).collect() };
    parts.next().is_none().then_some(DerivedKey { work, at, number })
}
