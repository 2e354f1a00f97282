//! Reading a procedure: the root file and, once each, every file that it brings in.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::differing::Layered;
use super::errors;
use super::resumed::Remembered;
use super::shelf::on_the_shelf;
use crate::diagnostics::{Diagnostic, Outcome, Severity, unreadable};
use crate::language::tree::{FamilyClause, Item, Quote, Tree};
use crate::language::{self, Kept};
use crate::source::{FileId, PROCEDURE_ENDING, ReadFailure, Sources, Span};

/// Texts in the order in which their declarations come in: a file before the one that brings it in, the root last of those of
/// its procedure.
pub(super) struct Loaded {
    pub root: FileId,
    pub texts: Vec<Layered>,
    pub diagnostics: Vec<Diagnostic>,
}

/// Files that procedures bring in, as they were read: each is read once in a run, however many share it.
#[derive(Debug, Clone, Default)]
pub(crate) struct BroughtIn {
    trees: BTreeMap<FileId, Outcome<Tree>>,
    /// Declarations of earlier runs, where texts are read that change little from run to run.
    pub kept: Option<Kept>,
    /// What was resolved of them then, by the root of the procedure.
    pub resolved: BTreeMap<FileId, Remembered>,
}

/// What belongs to a job beside its procedure.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct OfJob {
    /// A text with what it declares.
    pub more: Option<FileId>,
    /// The file of what it changes.
    pub changes: Option<FileId>,
}

/// A file whose own `use` lines are being followed.
struct Open {
    tree: Tree,
    /// What it brings in; the procedure that it is of, if it is of one, first.
    uses: Vec<Quote>,
    /// The first of them is that procedure.
    of: bool,
    /// How many procedures are of each other above it.
    depth: usize,
    next: usize,
    /// Where it was brought in; none for the root.
    brought_in: Option<Span>,
}

/// Reads `root` and what it brings in, and what belongs to a job; none if the root can't be read.
pub(super) fn load(
    sources: &mut Sources,
    brought_in: &mut BroughtIn,
    root: &Path,
    of_job: OfJob,
) -> (Option<Loaded>, Vec<Diagnostic>) {
    let id = match sources.read(root) {
        Ok(id) => id,
        Err(failure) => return (None, vec![unreadable(root, &failure)]),
    };
    let mut loader = Loader {
        home: root.parent().map(Path::to_path_buf).unwrap_or_default(),
        sources,
        brought_in,
        state: BTreeMap::new(),
        done: Vec::new(),
        diagnostics: Vec::new(),
    };
    of_job.more.into_iter().chain([id]).for_each(|file| loader.follow(file));
    let of_procedure = loader.done.len();
    of_job.changes.into_iter().for_each(|file| loader.follow(file));
    let deepest = loader.done.iter().map(|(_, depth)| *depth).max().unwrap_or_default();
    let texts = loader.done.into_iter().enumerate().map(|(at, (tree, depth))| {
        let of_job = at >= of_procedure;
        Layered { tree, layer: if of_job { deepest + 1 } else { deepest - depth }, of_job }
    });
    let texts = texts.collect();
    (Some(Loaded { root: id, texts, diagnostics: loader.diagnostics }), Vec::new())
}

/// The procedures below a folder, sorted by path: every `.rebuild` file with a line that begins a family. One that
/// can't be read is among them, so that it is complained of.
///
/// # Errors
/// The folder can't be read.
pub(crate) fn roots(sources: &mut Sources, folder: &Path) -> Result<Vec<PathBuf>, ReadFailure> {
    let files = sources.procedure_files(folder)?;
    let begins_family = |line: &str| {
        line.trim_start().strip_prefix("family").is_some_and(|rest| rest.starts_with(char::is_whitespace))
    };
    let is_root = |path: &PathBuf| match sources.read(path) {
        Ok(file) => sources.file(file).text.lines().any(begins_family),
        Err(_) => true,
    };
    Ok(files.into_iter().filter(is_root).collect())
}

/// Faults that a text may have in which nothing was understood, before it is taken for another kind of file.
const FEW_FAULTS: usize = 2;

/// What is said in place of the faults of a text where it is another kind of file than a procedure: it doesn't begin like
/// one, and its name doesn't say that it is one, or next to nothing in it was understood. `lost` says that nothing was.
pub(crate) fn another_kind(
    sources: &Sources,
    file: FileId,
    lost: bool,
    faults: &[Diagnostic],
) -> Option<Diagnostic> {
    let (path, text) = (&sources.file(file).path, &sources.file(file).text);
    let named = path.extension().is_some_and(|ending| ending == PROCEDURE_ENDING);
    let faulty = faults.iter().any(|fault| fault.severity() == Severity::Error);
    let other = faulty && (!named || lost && faults.len() > FEW_FAULTS);
    (other && !language::begins_like_a_procedure(text))
        .then(|| errors::not_a_procedure(path, Span::new(file, 0, 0)))
}

struct Loader<'a> {
    /// The folder of the procedure: what comes with the program lies nowhere, and looks from there.
    home: PathBuf,
    sources: &'a mut Sources,
    brought_in: &'a mut BroughtIn,
    /// Whether a file is still open; absent if it hasn't been met.
    state: BTreeMap<FileId, bool>,
    /// What was read, and how many procedures are of each other above it.
    done: Vec<(Tree, usize)>,
    diagnostics: Vec<Diagnostic>,
}

impl Loader<'_> {
    /// Depth first, with a stack of its own: a chain of files may be long.
    fn follow(&mut self, root: FileId) {
        let mut stack = vec![self.open(root, None, 0)];
        while let Some(top) = stack.last_mut() {
            let Some(path) = top.uses.get(top.next).cloned() else {
                if let Some(open) = stack.pop() {
                    self.state.insert(open.tree.file, false);
                    self.done.push((open.tree, open.depth));
                }
                continue;
            };
            let depth = top.depth + usize::from(top.of && top.next == 0);
            top.next += 1;
            let Some(file) = self.read(top.tree.file, &path) else { continue };
            match self.state.get(&file) {
                None => {
                    let open = self.open(file, Some(path.span), depth);
                    stack.push(open);
                }
                Some(true) => self.circle(&stack, file, &path),
                Some(false) => {}
            }
        }
    }

    fn open(&mut self, file: FileId, brought_in: Option<Span>, depth: usize) -> Open {
        let text = &self.sources.file(file).text;
        let BroughtIn { trees, kept, .. } = &mut *self.brought_in;
        let mut parse = || language::parse_again(file, text, kept.as_mut());
        let outcome = match brought_in {
            Some(_) => trees.entry(file).or_insert_with(parse).clone(),
            None => parse(),
        };
        self.state.insert(file, true);
        let mut tree = outcome.value;
        match another_kind(self.sources, file, tree.items.is_empty(), &outcome.diagnostics) {
            Some(other) => {
                tree.items.clear();
                self.diagnostics.push(other);
            }
            None => self.diagnostics.extend(outcome.diagnostics),
        }
        let uses = tree.items.iter().filter_map(|item| match item {
            Item::Use(path) => Some(path.clone()),
            _ => None,
        });
        let of = tree.items.iter().find_map(|item| match item {
            Item::Family(family) => family.clauses.iter().find_map(|clause| match &clause.value {
                FamilyClause::Of { file, .. } => Some(file.clone()),
                _ => None,
            }),
            _ => None,
        });
        let (is_of, uses) = (of.is_some(), of.into_iter().chain(uses).collect());
        Open { uses, of: is_of, depth, tree, next: 0, brought_in }
    }

    /// The file at a path relative to the file that names it; `.rebuild` goes without saying. What is `shared` may also
    /// lie in a folder above, and comes with the program where the shop has none.
    fn read(&mut self, from: FileId, path: &Quote) -> Option<FileId> {
        let own = &self.sources.file(from).path;
        let nowhere = own.to_str().and_then(on_the_shelf).is_some() && !self.sources.is_there(own);
        let folder =
            if nowhere { self.home.clone() } else { own.parent().map(Path::to_path_buf).unwrap_or_default() };
        let mut named = PathBuf::from(&path.value);
        if named.extension().is_none() {
            named.set_extension(PROCEDURE_ENDING);
        }
        let mut wanted = folder.join(&named);
        if named.starts_with("shared") && !self.sources.is_there(&wanted) {
            // A path that begins in the folder where the program runs goes on above that as well.
            let depth = match folder.is_relative() {
                true => std::path::absolute(Path::new(".").join(&folder))
                    .map_or(0, |whole| whole.components().count()),
                false => 0,
            };
            let climbed = (1..depth).map(|up| PathBuf::from("../".repeat(up)));
            let above = folder.ancestors().skip(1).map(Path::to_path_buf).chain(climbed);
            let above = above.map(|folder| folder.join(&named));
            match above.into_iter().find(|path| self.sources.is_there(path)) {
                Some(path) => wanted = path,
                None => {
                    if let Some((name, text)) = named.to_str().and_then(on_the_shelf) {
                        return Some(self.sources.keep(name, text));
                    }
                }
            }
        }
        match self.sources.read(&wanted) {
            Ok(file) => Some(file),
            Err(failure) => {
                self.diagnostics.push(errors::use_unreadable(path, &failure));
                None
            }
        }
    }

    fn circle(&mut self, stack: &[Open], file: FileId, path: &Quote) {
        let start = stack.iter().position(|open| open.tree.file == file).unwrap_or(0);
        let shown = |file: FileId| format!("`{}`", self.sources.file(file).path.display());
        let mut names: Vec<String> = stack[start..].iter().map(|open| shown(open.tree.file)).collect();
        names.push(shown(file));
        let earlier = stack[start..].iter().find_map(|open| open.brought_in);
        self.diagnostics.push(errors::use_cycle(path, &names, earlier));
    }
}
