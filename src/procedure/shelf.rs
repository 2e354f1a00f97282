//! What comes with the program and is brought in by name: tools, supplies and hazards that most shops have.

/// The text of `use "shared/tools"` and its like where the shop has no such file of its own, with the name under which
/// complaints show it.
pub(super) fn on_the_shelf(path: &str) -> Option<(&'static str, &'static str)> {
    SHELF.iter().copied().find(|(name, _)| *name == path)
}

const SHELF: [(&str, &str); 3] = [
    ("shared/hazards.rebuild", include_str!("../../procedures/shared/hazards.rebuild")),
    ("shared/supplies.rebuild", include_str!("../../procedures/shared/supplies.rebuild")),
    ("shared/tools.rebuild", include_str!("../../procedures/shared/tools.rebuild")),
];

/// The file, as `use` names it, in which a thing of this kind stands under this name; kinds are those of
/// [`Name::kind`](super::model::Name::kind).
pub(super) fn shelved(kind: &str, name: &str) -> Option<&'static str> {
    let word = kind.strip_prefix("a ").filter(|word| matches!(*word, "tool" | "supply" | "hazard"))?;
    let begins = format!("{word} {name} ");
    let holds = |text: &str| text.lines().any(|line| line.starts_with(&begins));
    let (path, _) = SHELF.iter().find(|(_, text)| holds(text))?;
    path.strip_suffix(".rebuild")
}
