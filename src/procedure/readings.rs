//! Gauges and looks: units, limits, bands and results.

use super::cases::{Owner, sourced};
use super::collect::Declared;
use super::errors;
use super::model::*;
use super::resolver::Resolver;
use super::sold::piece_names;
use crate::language::tree::{self, Amount, AmountRange, Clause, Declaration, GaugeClause, LookClause, Word};
use crate::metrology::{Fit, Flaw, flaws};
use crate::quantity::{Dimension, Quantity, Unit};
use crate::source::Span;

/// `taken off` or `taken in place`.
fn taken_off(word: &Word) -> bool {
    word.value == "off"
}

/// The unit of the first limit of a gauge that has one, where it says no unit besides.
fn unit_of_limits(declaration: &Declaration<GaugeClause>) -> Option<&'static Unit> {
    let ends = |range: &AmountRange| {
        let high = range.high.as_ref().and_then(|high| high.unit.clone());
        range.low.unit.clone().or(high)
    };
    declaration.clauses.iter().find_map(|clause| {
        let word = match &clause.value {
            GaugeClause::Made(cases) => cases.iter().find_map(|case| ends(&case.value)),
            GaugeClause::Worn(cases) => cases.iter().find_map(|case| case.value.as_ref()?.unit.clone()),
            GaugeClause::Plausible(range) => ends(range),
            GaugeClause::Bands { bands, .. } => {
                let edges = bands.iter().flat_map(|band| [&band.low, &band.high]).flatten();
                edges.filter_map(|edge| edge.unit.clone()).next()
            }
            GaugeClause::Sold { pieces, .. } => pieces.iter().find_map(|piece| piece.unit.clone()),
            _ => None,
        };
        Unit::find(&word?.value)
    })
}

impl Resolver {
    /// The answers that a gauge and a look can give, before anything asks for them.
    pub(super) fn results(&mut self, declared: &Declared) {
        declared.gauges.numbered().for_each(|(id, gauge)| self.bands_of(id, gauge));
        declared.looks.numbered().for_each(|(id, look)| self.results_of(id, look));
    }

    /// The names of what a gauge tells apart.
    pub(super) fn bands_of(&mut self, id: GaugeId, declaration: &Declaration<GaugeClause>) {
        self.procedure.gauges[id].bands = self.band_names(declaration);
    }

    /// The results of a look.
    pub(super) fn results_of(&mut self, id: LookId, declaration: &Declaration<LookClause>) {
        let words = declaration.clauses.iter().find_map(|clause| match &clause.value {
            LookClause::Results(words) => Some(words),
            _ => None,
        });
        let results = words.map(|words| self.alternatives(words, "result"));
        self.procedure.looks[id].results = results.unwrap_or_default();
    }

    /// The unit and the formula, from which the dimension of everything else in the gauge follows.
    pub(super) fn gauge_measure(&mut self, id: GaugeId, declaration: &Declaration<GaugeClause>) {
        for clause in &declaration.clauses {
            match &clause.value {
                GaugeClause::Unit(word) if self.procedure.gauge(id).unit.is_none() => {
                    let unit = self.lone_unit(word);
                    let gauge = &mut self.procedure.gauges[id];
                    gauge.unit = unit;
                    gauge.dimension = unit.map(|unit| unit.dimension);
                }
                GaugeClause::Is(formula) if self.procedure.gauge(id).formula.is_none() => {
                    let resolved = self.formula(&formula.value);
                    self.procedure.gauges[id].formula = resolved.map(|formula_| (formula_, formula.span));
                }
                _ => {}
            }
        }
        let gauge = &mut self.procedure.gauges[id];
        if gauge.unit.is_none() {
            // What comes of taking one temperature from another is no point on the scale.
            let apart = |unit: &&Unit| gauge.formula.is_none() || unit.dimension != Dimension::TEMPERATURE;
            gauge.unit = unit_of_limits(declaration).filter(apart);
            gauge.dimension = gauge.unit.map(|unit| unit.dimension);
        }
    }

    /// The other clauses, once the dimension is known.
    pub(super) fn gauge_clauses(&mut self, id: GaugeId, declaration: &Declaration<GaugeClause>) {
        let mut gauge = self.procedure.gauge(id).clone();
        let owner = Owner::Thing(Name::Gauge(id));
        let measured =
            |clause: &Clause<GaugeClause>| matches!(clause.value, GaugeClause::Unit(_) | GaugeClause::Is(_));
        if gauge.unit.is_none() && !declaration.clauses.iter().any(measured) {
            self.complain_of_absence(declaration.span, errors::no_gauge_unit(&declaration.name));
        }
        let dimension = gauge.dimension;
        for clause in self.distinct(&declaration.clauses) {
            match &clause.value {
                GaugeClause::Unit(_) | GaugeClause::Is(_) => {}
                GaugeClause::Like(word) => self.like(Name::Gauge(id), word),
                GaugeClause::Of(part) => gauge.of = self.target(part),
                GaugeClause::Stations(stations) => gauge.stations = self.stations(stations),
                GaugeClause::Directions(words) => gauge.directions = self.list(words, "direction"),
                GaugeClause::Made(limits) => {
                    gauge.made = self.cases(&owner, limits, |resolver, limit| {
                        resolver.needs_origin(&limit.origin, limit.span, "a limit");
                        resolver.range_of(&limit.value, dimension)
                    });
                }
                GaugeClause::Worn(limits) => {
                    gauge.worn = self.cases(&owner, limits, |resolver, limit| match &limit.value {
                        Some(amount) => {
                            resolver.needs_origin(&limit.origin, limit.span, "a limit");
                            resolver.amount_of(amount, dimension).map(Some)
                        }
                        None => Some(None),
                    });
                }
                GaugeClause::NotedOnly => gauge.noted_only = true,
                GaugeClause::BestAtNought => gauge.best_at_nought = true,
                GaugeClause::Plausible(range) => {
                    gauge.plausible =
                        self.range_of(range, dimension).map(|(low, high)| (low, high.unwrap_or(low)));
                }
                GaugeClause::Instrument { name, resolution, error, origin } => {
                    let resolution = resolution.as_ref().and_then(|step| self.amount_of(step, dimension));
                    gauge.instrument = Some((name.value.clone(), resolution));
                    if let Some(error) = error {
                        self.needs_origin(origin, error.span, "the error of an instrument");
                        let amount = self.amount_of(error, dimension);
                        gauge.error = amount.map(|amount| sourced(amount, origin, error.span));
                    }
                }
                GaugeClause::Taken(word) => gauge.taken_off = Some(taken_off(word)),
                GaugeClause::Needs(conditions, scope) => {
                    gauge.needs.extend(self.conditions(Name::Gauge(id), conditions, scope));
                }
                // All lists of them are read together.
                GaugeClause::Bands { .. } | GaugeClause::Sold { .. } => {}
                GaugeClause::Sizes { steps, allowance, old_centre, origin } => {
                    gauge.old_centre = *old_centre;
                    self.needs_origin(origin, clause.span, "a list of sizes");
                    let steps = steps.iter().filter_map(|step| self.amount_of(step, dimension)).collect();
                    let allowance = allowance.as_ref().and_then(|amount| self.amount_of(amount, dimension));
                    gauge.sizes = Some(sourced((steps, allowance), origin, clause.span));
                }
            }
        }
        self.bands(&mut gauge, id, declaration);
        self.sold(&mut gauge, declaration);
        if gauge.difference {
            as_differences(&mut gauge);
        }
        self.procedure.gauges[id] = gauge;
    }

    pub(super) fn look_clauses(&mut self, id: LookId, declaration: &Declaration<LookClause>) {
        let mut look = self.procedure.look(id).clone();
        for clause in self.distinct(&declaration.clauses) {
            match &clause.value {
                LookClause::Of(part) => look.of = self.target(part),
                LookClause::Like(word) => self.like(Name::Look(id), word),
                LookClause::MarksOf(gears) => {
                    look.marks_of = gears.iter().filter_map(|gear| self.target(gear)).collect();
                }
                // Read before.
                LookClause::Results(_) => {}
                LookClause::By(text) => look.by = Some(text.value.clone()),
                LookClause::Taken(word) => look.taken_off = Some(taken_off(word)),
                LookClause::Needs(conditions, scope) => {
                    look.needs.extend(self.conditions(Name::Look(id), conditions, scope));
                }
            }
        }
        if look.results.is_empty() {
            let complaint =
                errors::missing_clause("look", &declaration.name, "results", "results sound, cracked");
            self.complain_of_absence(declaration.span, complaint);
        }
        self.procedure.looks[id] = look;
    }

    /// Complains of a number that doesn't say where it comes from.
    pub(super) fn needs_origin(&mut self, origin: &tree::Origin, at: Span, what: &str) {
        if origin.is_none() {
            self.complain_of_absence(at, errors::no_origin(at, what));
        }
    }

    pub(super) fn amount_of(&mut self, amount: &Amount, dimension: Option<Dimension>) -> Option<Quantity> {
        match dimension {
            Some(dimension) => self.quantity(amount, dimension),
            None => self.any_quantity(amount),
        }
    }

    fn range_of(
        &mut self,
        range: &AmountRange,
        dimension: Option<Dimension>,
    ) -> Option<(Quantity, Option<Quantity>)> {
        match dimension {
            Some(dimension) => self.range(range, dimension),
            None => {
                let ends = [Some(&range.low), range.high.as_ref()];
                let end = ends.into_iter().flatten().find(|end| end.unit.is_some()).unwrap_or(&range.low);
                let dimension = self.any_quantity(end)?.dimension();
                self.range(range, dimension)
            }
        }
    }

    fn stations(&mut self, stations: &[(Word, Option<Amount>)]) -> Vec<(String, Option<Quantity>)> {
        let words: Vec<Word> = stations.iter().map(|(word, _)| word.clone()).collect();
        let names = self.list(&words, "station");
        let depth = |resolver: &mut Self, name: &String| {
            let (_, depth) = stations.iter().find(|(word, _)| word.value == *name)?;
            depth.as_ref().and_then(|depth| resolver.quantity(depth, Dimension::LENGTH))
        };
        names
            .into_iter()
            .map(|name| {
                let depth = depth(self, &name);
                (name, depth)
            })
            .collect()
    }

    /// Names of the bands, as the first list has them.
    fn band_names(&mut self, declaration: &Declaration<GaugeClause>) -> Vec<Band> {
        let first = declaration.clauses.iter().find_map(|clause| match &clause.value {
            GaugeClause::Bands { bands, .. } => Some((bands, clause.span)),
            _ => None,
        });
        let Some((bands, span)) = first else { return piece_names(declaration) };
        let words: Vec<Word> = bands.iter().map(|band| band.name.clone()).collect();
        let names = self.alternatives(&words, "band").into_iter();
        let named = |name: String| {
            let word = words.iter().find(|word| word.value == name);
            Band { span: word.map_or(span, |word| word.span), name }
        };
        names.map(named).collect()
    }

    /// The edges of the bands; a list for other positions or answers names the same ones.
    fn bands(&mut self, gauge: &mut Gauge, id: GaugeId, declaration: &Declaration<GaugeClause>) {
        let mut cases = Vec::new();
        for clause in &declaration.clauses {
            let GaugeClause::Bands { bands, scope, origin } = &clause.value else { continue };
            self.needs_origin(origin, clause.span, "a list of bands");
            let value = bands.as_slice();
            let (scope, origin) = (scope.clone(), origin.clone());
            cases.push(tree::Case { value, scope, origin, span: clause.span });
        }
        let names = gauge.bands.clone();
        let dimension = gauge.dimension;
        gauge.edges = self.cases(&Owner::Thing(Name::Gauge(id)), &cases, |resolver, case| {
            resolver.edges(&names, case.value, dimension)
        });
    }

    /// The edges of each of the bands `names`; none where this list has others.
    fn edges(
        &mut self,
        names: &[Band],
        bands: &[tree::Band],
        dimension: Option<Dimension>,
    ) -> Option<Vec<Edges>> {
        let other = bands.iter().find(|band| names.iter().all(|name| name.name != band.name.value));
        if let Some(other) = other {
            let known: Vec<&str> = names.iter().map(|band| band.name.as_str()).collect();
            let first = names.first().map_or(other.name.span, |band| band.span);
            self.complain(errors::other_bands(other.name.span, &other.name.value, &known, first));
            return None;
        }
        let mut sound = true;
        let mut edges = Vec::new();
        for name in names {
            let Some(band) = bands.iter().find(|band| band.name.value == name.name) else {
                let at = bands.first().map_or(name.span, |band| band.name.span);
                self.complain(errors::band_missing(at, &name.name, name.span));
                return None;
            };
            let end = |resolver: &mut Self, amount: &Option<Amount>| {
                amount.as_ref().map(|amount| resolver.amount_of(amount, dimension))
            };
            let (low, high) = match (&band.low, &band.high) {
                (Some(low), Some(high)) => {
                    let range = AmountRange { low: low.clone(), high: Some(high.clone()) };
                    let range = self.range_of(&range, dimension);
                    (Some(range.map(|(low, _)| low)), Some(range.and_then(|(_, high)| high)))
                }
                (low, high) => (end(self, low), end(self, high)),
            };
            sound &= low != Some(None) && high != Some(None);
            let last = band.high.as_ref().or(band.low.as_ref()).map_or(band.name.span, |amount| amount.span);
            edges.push((
                Edges { low: low.flatten(), high: high.flatten() },
                band.name.value.as_str(),
                band.name.span.to(last),
            ));
        }
        if sound {
            self.neighbouring_bands(&edges);
        }
        Some(edges.into_iter().map(|(edges, ..)| edges).collect())
    }

    /// Complains of gaps and overlaps between bands.
    fn neighbouring_bands(&mut self, bands: &[(Edges, &str, Span)]) {
        let base = |end: Option<Quantity>| end.map(Quantity::base);
        let fits: Vec<Fit> =
            bands.iter().map(|(edges, ..)| Fit { low: base(edges.low), high: base(edges.high) }).collect();
        for flaw in flaws(&fits) {
            match flaw {
                Flaw::Gap { below, above } => {
                    let (below, above) = (&bands[below], &bands[above]);
                    let end = |end: Option<Quantity>| end.map_or(String::new(), |end| end.to_string());
                    let (from, to) = (end(below.0.high), end(above.0.low));
                    self.complain(errors::bands_gap(above.2, below.2, &from, &to));
                }
                Flaw::Overlap { first, second } => {
                    let (below, above) = (&bands[first], &bands[second]);
                    self.complain(errors::bands_overlap(above.2, below.2, below.1, above.1));
                }
                // A range that is written the wrong way round was refused when it was read.
                Flaw::Reversed(_) => {}
            }
        }
    }
}

/// Unit and limits of a gauge whose value is a difference: `10 degC` is a rise of ten kelvin there, no point on the scale.
fn as_differences(gauge: &mut Gauge) {
    fn apart(quantity: Quantity) -> Quantity {
        Quantity::new(quantity.numeral(), quantity.unit().apart())
    }
    gauge.made.change(|made| made.value = (apart(made.value.0), made.value.1.map(apart)));
    gauge.worn.change(|worn| worn.value = worn.value.map(apart));
    gauge.edges.change(|edges| {
        for Edges { low, high } in &mut edges.value {
            (*low, *high) = (low.map(apart), high.map(apart));
        }
    });
    gauge.plausible = gauge.plausible.map(|(low, high)| (apart(low), apart(high)));
    let limit =
        gauge.edges.values().flat_map(|edges| &edges.value).find_map(|edges| edges.low.or(edges.high));
    let limit = limit.or_else(|| gauge.made.values().next().map(|made| made.value.0));
    gauge.unit = gauge.unit.or(limit.map(Quantity::unit)).map(Unit::apart);
}
