//! What the name of a band or result means for the part that it judges.

/// What a result means for a part, from best to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Meaning {
    /// It goes back.
    Back,
    /// It is cleaned and goes back.
    Clean,
    /// It is machined.
    Machine,
    /// It is renewed.
    Renew,
}

/// Words of the trade with what they mean: common practice, no source. A result may be one of them or begin with one, as in `grind_light`.
const WORDS: [(&str, Meaning); 46] = [
    ("good", Meaning::Back),
    ("sound", Meaning::Back),
    ("fit", Meaning::Back),
    ("reuse", Meaning::Back),
    ("keep", Meaning::Back),
    ("serviceable", Meaning::Back),
    ("straight", Meaning::Back),
    ("smooth", Meaning::Back),
    ("flat", Meaning::Back),
    ("ok", Meaning::Back),
    ("within", Meaning::Back),
    ("holds", Meaning::Back),
    ("opens", Meaning::Back),
    ("intact", Meaning::Back),
    ("clean", Meaning::Clean),
    ("dirty", Meaning::Clean),
    ("machine", Meaning::Machine),
    ("bore", Meaning::Machine),
    ("rebore", Meaning::Machine),
    ("grind", Meaning::Machine),
    ("regrind", Meaning::Machine),
    ("hone", Meaning::Machine),
    ("skim", Meaning::Machine),
    ("lap", Meaning::Machine),
    ("recut", Meaning::Machine),
    ("resleeve", Meaning::Machine),
    ("repair", Meaning::Machine),
    ("renew", Meaning::Renew),
    ("replace", Meaning::Renew),
    ("scrap", Meaning::Renew),
    ("cracked", Meaning::Renew),
    ("bent", Meaning::Renew),
    ("broken", Meaning::Renew),
    ("worn", Meaning::Renew),
    ("pitted", Meaning::Renew),
    ("scored", Meaning::Renew),
    ("grooved", Meaning::Renew),
    ("chipped", Meaning::Renew),
    ("leaks", Meaning::Renew),
    ("leaking", Meaning::Renew),
    ("stuck", Meaning::Renew),
    ("loose", Meaning::Renew),
    ("thin", Meaning::Renew),
    ("perished", Meaning::Renew),
    ("weak", Meaning::Renew),
    ("burnt", Meaning::Renew),
];

/// What a result means; none for a word that says nothing of what becomes of a part.
pub fn meaning(result: &str) -> Option<Meaning> {
    let first = result.split('_').next().unwrap_or(result);
    WORDS.iter().find(|(word, _)| *word == result || *word == first).map(|(_, meaning)| *meaning)
}
