//! Every place of a text that a resolved thing speaks of, to be looked at and put elsewhere. Structs and enums of the model are
//! gone through as `alike` lists their fields. It must not know what any of it means.

use super::model::*;
use crate::quantity::{Dimension, Money, Unit};
use crate::source::Span;

/// What has places in a text.
pub(super) trait Spans {
    /// Shows every one of them.
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span));
}

/// The same thing with all its places at the start of nowhere: two that differ in places only are equal then.
pub(super) fn placed_nowhere<T: Spans + Clone>(thing: &T) -> T {
    let mut bare = thing.clone();
    bare.each_span(&mut |span| *span = Span::new(span.file, 0, 0));
    bare
}

/// From the first to the last place that a thing speaks of; none if it speaks of several files, or of no place.
pub(super) fn reach(thing: &mut impl Spans) -> Option<Span> {
    let mut reach: Option<Span> = None;
    let mut one = true;
    thing.each_span(&mut |span| match &mut reach {
        None => reach = Some(*span),
        Some(reach) => {
            one &= reach.file == span.file;
            *reach = reach.to(*span);
        }
    });
    reach.filter(|_| one)
}

impl Spans for Span {
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
        see(self);
    }
}

/// What has no place in it.
macro_rules! placeless {
    ($($name:ty),* $(,)?) => {
        $(impl Spans for $name {
            fn each_span(&mut self, _: &mut dyn FnMut(&mut Span)) {}
        })*
    };
}
pub(super) use placeless;

placeless!(Datum, Dimension, Money, Names, &'static Unit, &'static str);

impl<T: Spans> Spans for Box<T> {
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
        (**self).each_span(see);
    }
}

impl<T: Spans> Spans for Option<T> {
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
        if let Some(value) = self {
            value.each_span(see);
        }
    }
}

impl<T: Spans> Spans for Vec<T> {
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
        self.iter_mut().for_each(|value| value.each_span(see));
    }
}

impl<T: Spans> Spans for Seldom<T> {
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
        self.iter_mut().for_each(|value| value.each_span(see));
    }
}

impl<Id, T: Spans> Spans for Arena<Id, T> {
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
        self.iter_mut().for_each(|value| value.each_span(see));
    }
}

impl<A: Spans, B: Spans> Spans for (A, B) {
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
        self.0.each_span(see);
        self.1.each_span(see);
    }
}

impl<A: Spans, B: Spans, C: Spans> Spans for (A, B, C) {
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
        self.0.each_span(see);
        self.1.each_span(see);
        self.2.each_span(see);
    }
}

impl<T: Spans> Spans for Cases<T> {
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
        self.0.each_span(see);
    }
}

impl Spans for Guard {
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
        self.0.each_span(see);
    }
}

impl Spans for Places {
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
        self.0.each_span(see);
    }
}

impl Spans for StepLine {
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
        match self {
            StepLine::Hazard(hazard, span) => {
                hazard.each_span(see);
                span.each_span(see);
            }
            StepLine::Hold(hold, span) => {
                hold.each_span(see);
                span.each_span(see);
            }
            StepLine::Act(act) => act.each_span(see),
        }
    }
}

impl<Id, T: Spans + Clone> Spans for Things<Id, T> {
    fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
        self.iter_mut().for_each(|value| value.each_span(see));
    }
}

/// Those that `alike` never looks into.
macro_rules! structs {
    ($($name:ident { $($field:ident),* }),* $(,)?) => {
        $(impl Spans for $name {
            fn each_span(&mut self, see: &mut dyn FnMut(&mut Span)) {
                let $name { $($field),* } = self;
                $($field.each_span(see);)*
            }
        })*
    };
}

structs! {
    KeyDatum { name, capacity, value },
    Mark { kind, text, at },
    Below { title, edition, span },
    Differing { of_job, word, id, title, was, is, whole, at },
    Quoted { words, span },
}
