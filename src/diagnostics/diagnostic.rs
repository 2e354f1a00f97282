//! The complaint itself, and the pair of a value and all complaints that every stage returns.

use crate::english::Mend;
use crate::source::Span;

/// How much a complaint weighs. Only errors make `check` fail and hold back a packet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The input has a fault.
    Error,
    /// Probably not what was meant.
    Warning,
    /// Worth knowing.
    Notice,
}

impl Severity {
    /// The word that is printed.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Notice => "notice",
        }
    }
}

/// A kind of fault: registered once in [`super::codes`], with a paragraph that explains it.
#[derive(Debug, PartialEq, Eq)]
pub struct Code {
    /// `room/fault`.
    pub name: &'static str,
    /// Weight of every complaint of this kind.
    pub severity: Severity,
    /// What a run exits with that ends with a complaint of this kind.
    pub exit: u8,
    /// A paragraph in plain words: what it means, why it matters, what mends it.
    pub explanation: &'static str,
}

impl Code {
    /// A command that can't be carried out: wrong use, or a file that can't be had.
    pub(super) const fn refusal(name: &'static str, explanation: &'static str) -> Self {
        Code { name, severity: Severity::Error, exit: 2, explanation }
    }

    /// Another fault of the input.
    pub(super) const fn error(name: &'static str, explanation: &'static str) -> Self {
        Code { name, severity: Severity::Error, exit: 1, explanation }
    }

    /// Something odd, which holds nothing back.
    pub(super) const fn warning(name: &'static str, explanation: &'static str) -> Self {
        Code { name, severity: Severity::Warning, exit: 0, explanation }
    }

    /// Something worth knowing.
    pub(super) const fn notice(name: &'static str, explanation: &'static str) -> Self {
        Code { name, severity: Severity::Notice, exit: 0, explanation }
    }
}

/// A place that a complaint points at, with a few words beside it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What is to be seen there; may be empty for the first label.
    pub text: String,
}

/// A change of a text that would mend a fault, or might.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    /// What goes; nothing, where something is only put in.
    pub span: Span,
    /// What comes in its place.
    pub text: String,
    /// Nothing else can have been meant, so that it may be made without asking.
    pub sure: bool,
}

/// One complaint.
#[derive(Debug, Clone)]
pub struct Diagnostic {
    /// What kind of fault.
    pub code: &'static Code,
    /// A lower-case fragment that names the thing in backticks.
    pub message: String,
    /// The smallest place first, then causes.
    pub labels: Vec<Label>,
    /// What would mend it.
    pub mend: Option<Mend>,
    /// The same as a change of the text, where there is one.
    pub edit: Option<Box<Edit>>,
}

impl Diagnostic {
    /// A complaint without a place yet.
    pub fn new(code: &'static Code, message: impl Into<String>) -> Self {
        Diagnostic { code, message: message.into(), labels: Vec::new(), mend: None, edit: None }
    }

    /// Points at a place; the first call gives the smallest place of the fault, later ones its causes.
    #[must_use]
    pub fn at(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label { span, text: text.into() });
        self
    }

    /// Says what would mend it.
    #[must_use]
    pub fn mend(mut self, mend: Mend) -> Self {
        self.mend = Some(mend);
        self
    }

    /// Says what to type to mend it.
    #[must_use]
    pub fn write(self, text: impl Into<String>) -> Self {
        self.mend(Mend::write(text))
    }

    /// Says what else to do to mend it.
    #[must_use]
    pub fn help(self, text: impl Into<String>) -> Self {
        self.mend(Mend::doing(text))
    }

    /// Gives the change that mends it: nothing else can have been meant by what stands there.
    #[must_use]
    pub(crate) fn mended(mut self, span: Span, text: impl Into<String>) -> Self {
        self.edit = Some(Box::new(Edit { span, text: text.into(), sure: true }));
        self
    }

    /// Gives a change that mends it, if that is meant.
    #[must_use]
    pub(crate) fn perhaps(mut self, span: Span, text: impl Into<String>) -> Self {
        self.edit = Some(Box::new(Edit { span, text: text.into(), sure: false }));
        self
    }

    /// Weight of this complaint.
    pub fn severity(&self) -> Severity {
        self.code.severity
    }
}

/// What every stage returns: its value together with all complaints, never only the first.
#[derive(Debug, Clone)]
pub struct Outcome<T> {
    /// What could be made of the input, as much as there is.
    pub value: T,
    /// Everything there is to say about it.
    pub diagnostics: Vec<Diagnostic>,
}

impl<T> Outcome<T> {
    /// A value with nothing to say about it.
    pub fn clean(value: T) -> Self {
        Outcome { value, diagnostics: Vec::new() }
    }

    /// Whether any complaint is an error.
    pub fn has_errors(&self) -> bool {
        self.diagnostics.iter().any(|d| d.severity() == Severity::Error)
    }
}

/// Puts complaints in the order in which they are shown: by place, then by code and message.
pub(crate) fn sort(diagnostics: &mut [Diagnostic]) {
    diagnostics.sort_by(|a, b| {
        let key = |d: &Diagnostic| d.labels.first().map(|l| (l.span.file, l.span.start(), l.span.end()));
        (key(a), a.code.name, &a.message).cmp(&(key(b), b.code.name, &b.message))
    });
}
