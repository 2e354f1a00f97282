//! Acts: the single things that are done within a step, in order.

use super::{Amount, Origin, Quote, Reference, Scope, Setting, Word};
use crate::source::Span;
use thin_vec::ThinVec;

/// One act with the instruction that may stand behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct Act {
    /// What is done to what.
    pub kind: ActKind,
    /// Words to print with it.
    pub note: Option<Quote>,
    /// Where it is done.
    pub scope: Scope,
}

/// Direction of turning by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// `clockwise`
    Clockwise,
    /// `anticlockwise`
    Anticlockwise,
    /// `as it runs`
    AsItRuns,
}

/// `to cyl 2 top firing`: a cylinder at an end of its stroke.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnTarget {
    /// The axis of the cylinders.
    pub axis: Word,
    /// Which of them; none for the one that the step is about.
    pub cylinder: Option<Word>,
    /// Where it is to stand, with single spaces: `top firing`.
    pub dead_centre: Word,
    /// All of it.
    pub span: Span,
}

/// The kinds of act. References may be lists where a mechanic would say them in one breath.
#[derive(Debug, Clone, PartialEq)]
pub enum ActKind {
    /// `slacken head_nuts`
    Slacken(ThinVec<Reference>),
    /// `undo head`, `undo head bit by bit`
    Undo {
        /// What comes out.
        what: ThinVec<Reference>,
        /// Whether a little at a time, in rounds.
        bit_by_bit: bool,
    },
    /// `start by hand head_bolts`
    StartByHand(ThinVec<Reference>),
    /// `nip sump_bolts`
    Nip(ThinVec<Reference>),
    /// `retighten head`
    Retighten(ThinVec<Reference>),
    /// `tighten head`, in a trial `tighten rod_bolts to 30 N.m`
    Tighten {
        /// Sets or joints.
        what: ThinVec<Reference>,
        /// Torque of a trial.
        to: Option<Box<Amount>>,
    },
    /// `take rocker_cover`
    Take(ThinVec<Reference>),
    /// `put back rocker_cover`
    PutBack(ThinVec<Reference>),
    /// `fit cylinder_head`
    Fit(ThinVec<Reference>),
    /// `support cylinder_head`
    Support(ThinVec<Reference>),
    /// `press cam_bearing`
    Press(ThinVec<Reference>),
    /// `heat crank_gear to 120 degC from "demo sheet 6"`
    Heat {
        /// What.
        what: Box<Reference>,
        /// To what temperature.
        to: Box<Amount>,
        /// Where it comes from.
        origin: Origin,
    },
    /// `send block`
    Send(ThinVec<Reference>),
    /// `receive block`
    Receive(ThinVec<Reference>),
    /// `accept block`
    Accept(ThinVec<Reference>),
    /// `gauge bore`
    Gauge(ThinVec<Reference>),
    /// `look crank_cracks`
    Look(ThinVec<Reference>),
    /// `set coolant = drained`
    Set(Box<Setting>),
    /// `put in crank_pin`
    PutIn(Box<Reference>),
    /// `take out crank_pin`
    TakeOut(Box<Reference>),
    /// `turn clockwise 720 deg`, `turn to cyl 2 bottom`
    TurnByHand {
        /// Which way, if it is said.
        direction: Option<Turn>,
        /// How far, if it is said.
        angle: Option<Box<Amount>>,
        /// Until where, if it is said.
        to: Option<Box<TurnTarget>>,
    },
    /// `photo "pipe run behind the pump"`
    Photo,
    /// `mark piston "number on the crown"`
    Mark(ThinVec<Reference>),
    /// `cap "injector bores"`
    Cap,
    /// `clean block`
    Clean(ThinVec<Reference>),
    /// `chase head_bolts`
    Chase(ThinVec<Reference>),
    /// `isolate "battery, negative first"`
    Isolate,
    /// `dispose "old oil" into "the marked oil drum"`
    Dispose {
        /// Into what.
        into: Quote,
    },
    /// `wait 30 min "let it cool"`
    Wait(Box<Amount>),
    /// `do "plain words"`
    Words,
}

/// What an act is done to.
pub(crate) enum Objects<'a> {
    /// As many as are named.
    Several(&'a mut ThinVec<Reference>),
    /// One, and there is no act without it.
    One(&'a mut Reference),
    /// Nothing that has a name.
    None,
}

impl ActKind {
    /// What the act is done to, to be changed.
    pub(crate) fn objects_mut(&mut self) -> Objects<'_> {
        match self {
            ActKind::Slacken(what)
            | ActKind::Undo { what, .. }
            | ActKind::StartByHand(what)
            | ActKind::Nip(what)
            | ActKind::Retighten(what)
            | ActKind::Tighten { what, .. }
            | ActKind::Take(what)
            | ActKind::PutBack(what)
            | ActKind::Fit(what)
            | ActKind::Support(what)
            | ActKind::Press(what)
            | ActKind::Send(what)
            | ActKind::Receive(what)
            | ActKind::Accept(what)
            | ActKind::Gauge(what)
            | ActKind::Look(what)
            | ActKind::Mark(what)
            | ActKind::Clean(what)
            | ActKind::Chase(what) => Objects::Several(what),
            ActKind::Heat { what, .. } | ActKind::PutIn(what) | ActKind::TakeOut(what) => Objects::One(what),
            ActKind::Set(setting) => Objects::One(&mut setting.name),
            ActKind::TurnByHand { .. }
            | ActKind::Photo
            | ActKind::Cap
            | ActKind::Isolate
            | ActKind::Dispose { .. }
            | ActKind::Wait(_)
            | ActKind::Words => Objects::None,
        }
    }
}
