//! What was read or judged before it was read or judged again, from the first to the last. It must not know what of.

use super::Signature;

/// What was read or judged before it was taken again.
#[derive(Debug, Clone, PartialEq)]
pub struct Earlier<T> {
    /// What.
    pub value: T,
    /// With what, where it was not the gauge's own instrument.
    pub instrument: Option<String>,
    /// Who, and when.
    pub signature: Signature,
}

impl<T> Earlier<T> {
    /// The same of another kind of value, where there is one.
    pub(super) fn then<U>(&self, value: impl FnOnce(&T) -> Option<U>) -> Option<Earlier<U>> {
        let (instrument, signature) = (self.instrument.clone(), self.signature.clone());
        Some(Earlier { value: value(&self.value)?, instrument, signature })
    }

    /// What was taken, in words: `0.11 mm, with a vernier, JO, 2026-03-24`.
    pub(crate) fn words(&self, said: impl FnOnce(&T) -> String) -> String {
        taken_words(said(&self.value), self.instrument.as_deref(), &self.signature)
    }
}

/// What was taken, with what, by whom and when, in words.
pub(super) fn taken_words(said: String, instrument: Option<&str>, signature: &Signature) -> String {
    let with = instrument.map(|name| format!("with {name}"));
    let date = signature.date.map(|date| date.to_string());
    let words = [Some(said), with, signature.by.clone(), date];
    words.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// What counts now, with what was taken before it; none of what was taken once.
pub(super) fn told_again(now: String, earlier: impl Iterator<Item = String>) -> Option<String> {
    let earlier: Vec<String> = earlier.collect();
    (!earlier.is_empty()).then(|| format!("{now}; first {}", earlier.join(", then ")))
}
