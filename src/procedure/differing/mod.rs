//! Procedures that differ a little: the texts of a procedure that another is `of`, and the changes to them, become the texts of
//! one procedure. Every clause keeps the place where it is said. It must not know what clauses mean.
//!
//! Texts stand in layers, the procedure that the others are of at the bottom, the changes of one job at the top. Each layer
//! changes what is below it, and no layer says two things of one fact. `clauses` puts clauses into declarations, `placing`
//! finds where a new step stands, `prune` takes out what only handles what is taken out.

mod clauses;
mod family;
mod placing;
mod prune;

use std::collections::{BTreeMap, BTreeSet};

use super::errors;
use super::in_full::let_go;
use super::model::{Below, Differing, Quoted};
use crate::diagnostics::{Diagnostic, nearest};
use crate::english::spaced;
use crate::language::tree::{Change, Declaration, FamilyClause, Item, Tree, Without, Word};
use crate::language::without_names;
use crate::source::Span;
use clauses::{Changing, Told};

/// A text, and how many layers of changes lie below it.
pub(super) struct Layered {
    pub tree: Tree,
    pub layer: usize,
    /// It is of one job.
    pub of_job: bool,
}

/// One procedure.
pub(super) struct Merged {
    /// Texts without changes, in the order in which their declarations come in.
    pub trees: Vec<Tree>,
    /// What differs from the procedure below.
    pub differing: Vec<Differing>,
    /// That procedure.
    pub below: Option<Below>,
    /// What is taken out, and where that is said.
    pub gone: BTreeMap<String, Span>,
    /// Nothing differs: the texts are as they were read.
    pub as_read: bool,
    pub diagnostics: Vec<Diagnostic>,
}

/// Puts the layers on each other; `said` gives the words at a place.
pub(super) fn merge(texts: Vec<Layered>, said: &dyn Fn(Span) -> String) -> Merged {
    let plain = |text: &Layered| {
        text.layer == 0
            && !text.tree.items.iter().any(|item| matches!(item, Item::Change(_) | Item::Without(_)))
    };
    let empty = Merged {
        trees: Vec::new(),
        differing: Vec::new(),
        below: None,
        gone: BTreeMap::new(),
        as_read: false,
        diagnostics: Vec::new(),
    };
    if texts.iter().all(plain) {
        let trees = texts.into_iter().map(|text| text.tree).collect();
        return Merged { trees, as_read: true, ..empty };
    }
    let mut merger = Merger { out: empty, said };
    let mut layers: BTreeMap<usize, Vec<Layered>> = BTreeMap::new();
    for text in texts {
        layers.entry(text.layer).or_default().push(text);
    }
    for (layer, texts) in layers {
        merger.layer(layer, texts);
    }
    merger.out
}

/// A place of a declaration: its text, its number there, and that of the step in a block.
type Place = (usize, usize, Option<usize>);

struct Merger<'a> {
    out: Merged,
    said: &'a dyn Fn(Span) -> String,
}

impl Merger<'_> {
    /// Puts one layer on what lies below.
    fn layer(&mut self, layer: usize, texts: Vec<Layered>) {
        let mut changes = Vec::new();
        let mut withouts = Vec::new();
        let mut new = Vec::new();
        for Layered { mut tree, of_job, .. } in texts {
            let mut kept = Vec::new();
            for item in std::mem::take(&mut tree.items) {
                match item {
                    // A section that goes on stays where it is written: what follows belongs to it.
                    Item::Change(change) if matches!(change.said, Item::Section { .. }) && layer > 0 => {
                        kept.push(Item::Change(change));
                    }
                    Item::Change(change) => changes.push((*change, of_job)),
                    Item::Without(without) => withouts.push((without, of_job)),
                    item => kept.push(item),
                }
            }
            tree.items = kept;
            new.push((tree, of_job));
        }
        if layer == 0 {
            let lone =
                changes.iter().map(|(change, _)| change.span).chain(withouts.iter().map(|(w, _)| w.span));
            self.out.diagnostics.extend(lone.map(errors::nothing_to_change));
            self.out.trees.extend(new.into_iter().map(|(tree, _)| tree));
            return;
        }
        let mut told = Told::default();
        for (without, of_job) in &withouts {
            self.check_without(without, *of_job, &mut told);
        }
        for (change, of_job) in changes {
            self.change(&change, of_job, &mut told);
        }
        for (without, of_job) in &withouts {
            self.take_out(without, *of_job);
        }
        for (tree, of_job) in new {
            self.add(tree, of_job);
        }
    }

    /// Where a name is declared below the layer at hand.
    fn place(&self, name: &str) -> Option<Place> {
        self.out.trees.iter().enumerate().find_map(|(text, tree)| {
            tree.items.iter().enumerate().find_map(|(at, item)| {
                if item.name().is_some_and(|word| word.value == name) && !matches!(item, Item::Family(_)) {
                    return Some((text, at, None));
                }
                let Item::Group(group) = item else { return None };
                let step = group.steps.iter().position(|step| step.name.value == name)?;
                Some((text, at, Some(step)))
            })
        })
    }

    /// A declaration below the layer at hand.
    fn at(&self, (text, at, step): Place) -> Option<Item> {
        let item = self.out.trees.get(text)?.items.get(at)?;
        match (item, step) {
            (Item::Group(group), Some(step)) => group.steps.get(step).cloned().map(Item::Step),
            _ => Some(item.clone()),
        }
    }

    /// The declaration that a change or a `without` names; complains where there is none.
    fn named(&mut self, word: &Word) -> Option<(Place, Item)> {
        if let Some(place) = self.place(&word.value)
            && let Some(item) = self.at(place)
        {
            return Some((place, item));
        }
        if let Some(span) = self.out.gone.get(&word.value) {
            self.out.diagnostics.push(errors::change_of_gone(word, *span));
            return None;
        }
        let names: BTreeSet<String> = self.names();
        let near = nearest(&word.value, names.iter().map(String::as_str)).map(str::to_owned);
        let declared =
            near.as_deref().and_then(|near| self.at(self.place(near)?)?.name().map(|word| word.span));
        self.out.diagnostics.push(errors::change_unknown(word, near.as_deref().zip(declared)));
        None
    }

    fn names(&self) -> BTreeSet<String> {
        let items = || self.out.trees.iter().flat_map(|tree| &tree.items);
        let steps = items().filter_map(|item| match item {
            Item::Group(group) => Some(&group.steps),
            _ => None,
        });
        let steps = steps.flatten().map(|step| step.name.value.clone());
        items().filter_map(|item| item.name().map(|word| word.value.clone())).chain(steps).collect()
    }

    fn change(&mut self, change: &Change, of_job: bool, told: &mut Told) {
        let Some(word) = change.said.name() else { return };
        let Some((place, mut item)) = self.named(word) else { return };
        if let Some(first) = told.out.get(&word.value) {
            self.out.diagnostics.push(errors::changed_twice(word, change.span, *first));
            return;
        }
        if item.word() != change.said.word() {
            let declared = item.name().map_or(change.span, |word| word.span);
            let (says, is) = (change.said.word(), item.word());
            self.out.diagnostics.push(errors::changed_kind(word, says, is, declared));
            return;
        }
        let mut changing = Changing {
            said: self.said,
            told,
            of_job,
            differing: &mut self.out.differing,
            diagnostics: &mut self.out.diagnostics,
        };
        changing.change(&mut item, change);
        self.put(place, item);
    }

    fn put(&mut self, (text, at, step): Place, item: Item) {
        let Some(slot) = self.out.trees.get_mut(text).and_then(|tree| tree.items.get_mut(at)) else { return };
        match (slot, step, item) {
            (Item::Group(group), Some(step), Item::Step(changed)) => {
                if let Some(slot) = group.steps.get_mut(step) {
                    *slot = changed;
                }
            }
            (slot, _, item) => *slot = item,
        }
    }

    /// Notes what is to be taken out, before anything is changed.
    fn check_without(&mut self, without: &Without, of_job: bool, told: &mut Told) {
        for word in &without.names {
            let Some((_, item)) = self.named(word) else { continue };
            if let Some(first) = told.out.insert(word.value.clone(), word.span) {
                self.out.diagnostics.push(errors::changed_twice(word, word.span, first));
                continue;
            }
            self.out.differing.push(Differing {
                of_job,
                word: item.word(),
                id: word.value.clone(),
                title: title(&item),
                was: Some(quoted(self.said, item.span())),
                is: None,
                whole: true,
                at: word.span,
            });
        }
    }

    /// Takes declarations out, and all that only handles them.
    fn take_out(&mut self, without: &Without, of_job: bool) {
        let gone: BTreeSet<&str> = without.names.iter().map(|word| word.value.as_str()).collect();
        let_go(&mut self.out.trees, &gone);
        for word in &without.names {
            let Some((text, at, step)) = self.place(&word.value) else { continue };
            let Some(tree) = self.out.trees.get_mut(text) else { continue };
            match (tree.items.get_mut(at), step) {
                (Some(Item::Group(group)), Some(step)) => drop(group.steps.remove(step)),
                (Some(Item::Group(group)), None) => {
                    // A block that is taken out lets go of its steps.
                    let steps: Vec<Item> =
                        std::mem::take(&mut group.steps).into_iter().map(Item::Step).collect();
                    tree.items.splice(at..=at, steps);
                }
                _ => drop(tree.items.remove(at)),
            }
            self.out.gone.insert(word.value.clone(), word.span);
        }
        for item in self.out.trees.iter_mut().flat_map(|tree| &mut tree.items) {
            let before = item.clone();
            let emptied = prune::prune(item, &gone);
            for step in &emptied {
                self.out.diagnostics.push(errors::emptied_step(step, without));
            }
            for (of, span, left) in clauses::shortened(&before, item) {
                let was = quoted(self.said, span);
                let is = left.then(|| Quoted { words: without_names(&was.words, &gone), span });
                self.out.differing.push(Differing {
                    of_job,
                    word: of.word(),
                    id: of.name().map(|word| word.value.clone()).unwrap_or_default(),
                    title: title(&of),
                    was: Some(was),
                    is,
                    whole: false,
                    at: without.span,
                });
            }
        }
    }

    /// Adds what a text declares of its own, each step where its links say.
    fn add(&mut self, tree: Tree, of_job: bool) {
        let Tree { file, items, comments } = tree;
        let mut own = Vec::new();
        // Where the section stands that is gone on with.
        let mut section: Option<String> = None;
        let mut in_own_section = false;
        for item in items {
            match item {
                Item::Change(change) => {
                    let Some(word) = change.said.name().cloned() else { continue };
                    let Some((place, declared)) = self.named(&word) else { continue };
                    if let (Item::Section { .. }, true) = (&declared, declared.word() == change.said.word()) {
                        self.retitle(place, &declared, &change, of_job);
                        section = Some(word.value);
                        in_own_section = false;
                    } else {
                        let at = declared.name().map_or(change.span, |word| word.span);
                        self.out.diagnostics.push(errors::changed_kind(
                            &word,
                            "section",
                            declared.word(),
                            at,
                        ));
                    }
                }
                Item::Family(family) if is_of(&family) => own.push(self.family(family, of_job)),
                item => {
                    if let Some(word) = item.name().filter(|_| !matches!(item, Item::Family(_)))
                        && let Some(place) = self.place(&word.value)
                        && let Some(declared) =
                            self.at(place).and_then(|item| item.name().map(|word| word.span))
                    {
                        self.out.diagnostics.push(errors::declared_anew(word, item.span(), declared));
                        continue;
                    }
                    if !matches!(item, Item::Use(_) | Item::Family(_)) {
                        self.out.differing.push(Differing {
                            of_job,
                            word: item.word(),
                            id: item.name().map(|word| word.value.clone()).unwrap_or_default(),
                            title: title(&item),
                            was: None,
                            is: Some(quoted(self.said, item.span())),
                            whole: true,
                            at: item.span(),
                        });
                    }
                    if matches!(item, Item::Section { .. }) {
                        in_own_section = true;
                        section = None;
                    }
                    let placed = match (&section, in_own_section) {
                        (Some(section), _) => placing::in_section(&mut self.out.trees, section, item),
                        (None, false) => placing::by_links(&mut self.out.trees, item),
                        (None, true) => Some(item),
                    };
                    own.extend(placed);
                }
            }
        }
        self.out.trees.push(Tree { file, items: own, comments });
    }

    /// A new title of a section that is gone on with.
    fn retitle(&mut self, place: Place, declared: &Item, change: &Change, of_job: bool) {
        let Item::Section { title: new, refit, origin, .. } = &change.said else { return };
        if new.is_none() && refit.is_none() && origin.is_none() {
            return;
        }
        let Item::Section { name, title: old, refit: old_refit, origin: old_origin } = declared else {
            return;
        };
        let origin = origin.clone().or_else(|| old_origin.clone());
        let (new, refit) = (new.clone().or_else(|| old.clone()), refit.clone().or_else(|| old_refit.clone()));
        self.out.differing.push(Differing {
            of_job,
            word: "section",
            id: name.value.clone(),
            title: title(declared),
            // Of a section only what stands behind its word has a place.
            was: Some(Quoted {
                words: format!("section {}", (self.said)(declared.span())),
                span: declared.span(),
            }),
            is: Some(quoted(self.said, change.span)),
            whole: false,
            at: change.span,
        });
        self.put(place, Item::Section { name: name.clone(), title: new, refit, origin });
    }
}

/// Whether a family says which one it is of.
fn is_of(family: &Declaration<FamilyClause>) -> bool {
    family.clauses.iter().any(|clause| matches!(clause.value, FamilyClause::Of { .. }))
}

/// The title of a declaration, or its name in words.
fn title(item: &Item) -> String {
    let id = || item.name().map(|word| spaced(&word.value)).unwrap_or_default();
    item.title().map_or_else(id, |title| title.value.clone())
}

fn quoted(said: &dyn Fn(Span) -> String, span: Span) -> Quoted {
    Quoted { words: said(span), span }
}
