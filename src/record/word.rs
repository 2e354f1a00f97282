//! What a person decided, looked up in the procedure: what is settled, which piece was chosen, and to which size a part
//! was worked before. It must not know what follows from it.

use super::bind::Binder;
use super::{
    Goods, Job, Judged, Judgement, Named, Piece, PieceChosen, Settled, Settlement, WrittenChoice,
    WrittenSettled, errors,
};
use crate::procedure::model::*;
use crate::quantity::Quantity;
use crate::source::{Span, Spanned};

impl Binder<'_> {
    /// What is settled by hand is something that the procedure leaves open; or it is the word of a person all the same,
    /// with a reason, and where something goes back in spite of the procedure with a name and a day.
    pub(super) fn settle(&mut self, written: &WrittenSettled, job: &mut Job) {
        let WrittenSettled { thing: named, word, why, signature, second, risk } = written;
        if let Some(gauges) = self.names.gauges(named) {
            self.judge(written, &gauges, job);
            return;
        }
        if let Some(looks) = self.names.looks(named) {
            self.judge_look(written, &looks, job);
            return;
        }
        if self.is_engine(named) {
            self.settle_engine(written, job);
            return;
        }
        if let Some((set, place, letter)) = self.hole(named) {
            if let Some(letter) = letter {
                self.settle_hole(written, (set, place, letter), job);
            }
            return;
        }
        let Some(goods) = self.names.goods(named) else { return };
        let (open, declared) = match goods {
            Goods::Part(id, _) => {
                let part = self.procedure.part(id);
                let mut fates = part.fate.iter().flat_map(FateChoice::fates);
                (fates.any(|fate| *fate == Fate::KeepUntilSettled), part.naming.span)
            }
            Goods::Set(id, _) => {
                let set = self.procedure.set(id);
                (set.reuse.values().any(|said| said.value == Reuse::Unknown), set.naming.span)
            }
            Goods::Supply(id) => {
                let declared = self.procedure.supply(id).naming.span;
                self.names.diagnostics.push(errors::nothing_to_settle(
                    named.span,
                    &named.to_string(),
                    declared,
                ));
                return;
            }
        };
        let Some((_, what)) = Settled::WORDS.iter().find(|(known, _)| *known == word.value) else {
            let words = Settled::WORDS.map(|(word, _)| word);
            let name = named.to_string();
            self.names.diagnostics.push(errors::unknown_answer(word, &name, words, declared));
            return;
        };
        let reason = why.as_ref().filter(|why| !why.value.trim().is_empty());
        let signed = reason.is_some() && signature.by.is_some() && signature.date.is_some();
        if what.keeps() && !signed && (!open || *what == Settled::Declined) {
            self.names.diagnostics.push(errors::nobody_keeps(word, &named.to_string(), declared));
        } else if reason.is_none() && (!open || *what == Settled::LeaveOut) {
            self.names.diagnostics.push(errors::no_reason(word, &named.to_string(), open, declared));
        } else {
            let settlement = Settlement {
                what: *what,
                why: reason.map(|why| why.value.clone()),
                signature: signature.clone(),
                second: second.clone(),
                risk: risk.clone(),
                all_the_same: if what.keeps() { signed } else { reason.is_some() },
                span: named.span,
            };
            job.settled.insert(goods, settlement);
        }
    }

    /// What becomes of the fastener of one hole: it goes back, or a new one goes in, with the reason.
    fn settle_hole(
        &mut self,
        written: &WrittenSettled,
        (set, place, letter): (SetId, Option<Place>, String),
        job: &mut Job,
    ) {
        let WrittenSettled { thing: named, word, why, signature, second, risk } = written;
        let declared = self.procedure.set(set).naming.span;
        let may =
            Settled::WORDS.into_iter().filter(|(_, what)| matches!(what, Settled::GoesBack | Settled::Renew));
        let Some((_, what)) = may.clone().find(|(known, _)| *known == word.value) else {
            let words: Vec<&str> = may.map(|(word, _)| word).collect();
            self.names.diagnostics.push(errors::unknown_answer(word, &named.to_string(), words, declared));
            return;
        };
        let reason = why.as_ref().filter(|why| !why.value.trim().is_empty());
        if what.keeps() && (reason.is_none() || signature.by.is_none() || signature.date.is_none()) {
            self.names.diagnostics.push(errors::nobody_keeps(word, &named.to_string(), declared));
            return;
        }
        if reason.is_none() {
            self.names.diagnostics.push(errors::no_reason(word, &named.to_string(), false, declared));
            return;
        }
        let settlement = Settlement {
            what,
            why: reason.map(|why| why.value.clone()),
            signature: signature.clone(),
            second: second.clone(),
            risk: risk.clone(),
            all_the_same: true,
            span: named.span,
        };
        for at in self.procedure.places(&self.procedure.set(set).axes) {
            if place.is_none_or(|place| place == at) {
                job.settled_holes.insert((set, at, letter.clone()), settlement.clone());
            }
        }
    }

    /// What a person judges of readings: which band, or good by its limits, why, and who says so.
    fn judge(&mut self, written: &WrittenSettled, gauges: &[(GaugeId, Place)], job: &mut Job) {
        let WrittenSettled { thing: named, word, .. } = written;
        let Some(gauge) = gauges.first().map(|(id, _)| self.procedure.gauge(*id)) else { return };
        let bands: Vec<&str> = gauge.bands.iter().map(|band| band.name.as_str()).collect();
        let steps = gauge.sizes.iter().flat_map(|sizes| &sizes.value.0);
        let sizes: Vec<String> = steps.map(ToString::to_string).collect();
        let good = bands.is_empty().then_some(Judgement::GOOD);
        let is = |known: &str| Piece::of(known).is(&Piece::of(&word.value));
        let as_what = match bands.iter().position(|band| is(band)) {
            Some(band) => Judged::Band(band),
            None if good == Some(word.value.as_str()) => Judged::Good,
            None => match sizes.iter().position(|size| is(size)) {
                Some(size) => Judged::Size(size),
                None => {
                    let known: Vec<&str> =
                        bands.into_iter().chain(good).chain(sizes.iter().map(String::as_str)).collect();
                    let name = named.to_string();
                    self.names.diagnostics.push(errors::unknown_answer(
                        word,
                        &name,
                        known,
                        gauge.naming.span,
                    ));
                    return;
                }
            },
        };
        if let Some(judgement) = self.signed(written, as_what, gauge.naming.span) {
            job.judged.extend(gauges.iter().map(|at| (*at, judgement.clone())));
        }
    }

    /// A judgement with who answers for it, when and why; without those it is none.
    fn signed(&mut self, written: &WrittenSettled, as_what: Judged, declared: Span) -> Option<Judgement> {
        let WrittenSettled { thing: named, word, why, signature, second, .. } = written;
        let (Some(why), Some(_), Some(_)) = (why, &signature.by, &signature.date) else {
            self.names.diagnostics.push(errors::nobody_judges(word, &named.to_string(), declared));
            return None;
        };
        let (why, signature, second) = (why.value.clone(), signature.clone(), second.clone());
        Some(Judgement { as_what, why, signature, second, span: named.span })
    }

    /// What a person judges of what can't be looked at any more: which result, why, and who says so.
    fn judge_look(&mut self, written: &WrittenSettled, looks: &[(LookId, Place)], job: &mut Job) {
        let WrittenSettled { thing: named, word, .. } = written;
        let Some(look) = looks.first().map(|(id, _)| self.procedure.look(*id)) else { return };
        let Some(result) = look.results.iter().position(|result| *result == word.value) else {
            let known = look.results.iter().map(String::as_str);
            let complaint = errors::unknown_answer(word, &named.to_string(), known, look.naming.span);
            self.names.diagnostics.push(complaint);
            return;
        };
        if let Some(judgement) = self.signed(written, Judged::Band(result), look.naming.span) {
            job.judged_looks.extend(looks.iter().map(|at| (*at, judgement.clone())));
        }
    }

    /// The word of a person by which work on an engine goes on though it was found in some condition.
    fn settle_engine(&mut self, written: &WrittenSettled, job: &mut Job) {
        let WrittenSettled { thing: named, word, why, signature, second, risk } = written;
        let declared = self.procedure.family.as_ref().map_or(named.span, |family| family.naming.span);
        if word.value != Settled::WORDS[0].0 {
            let words = [Settled::WORDS[0].0];
            let complaint = errors::unknown_answer(word, &named.to_string(), words, declared);
            self.names.diagnostics.push(complaint);
            return;
        }
        let reason = why.as_ref().filter(|why| !why.value.trim().is_empty());
        if reason.is_none() || signature.by.is_none() || signature.date.is_none() {
            self.names.diagnostics.push(errors::nobody_keeps(word, &named.to_string(), declared));
            return;
        }
        job.settled_engine = Some(Settlement {
            what: Settled::GoesBack,
            why: reason.map(|why| why.value.clone()),
            signature: signature.clone(),
            second: second.clone(),
            risk: risk.clone(),
            all_the_same: true,
            span: named.span,
        });
    }

    /// Which of the pieces that are sold was chosen for a part: one of those that a gauge of it names, where one does.
    pub(super) fn choose(&mut self, written: &WrittenChoice, job: &mut Job) {
        let WrittenChoice { part, piece, why, signature } = written;
        for key in self.names.parts(part) {
            let declared = self.procedure.part(key.0);
            if declared.select_from.is_none() {
                let complaint = errors::nothing_to_choose(part.span, &part.to_string(), declared.naming.span);
                self.names.diagnostics.push(complaint);
                return;
            }
            let of_it = |gauge: &&Gauge| gauge.of.as_ref().is_some_and(|of| of.id == key.0);
            let gauges = self.procedure.gauges.iter().filter(of_it);
            let sold = gauges.filter(|gauge| gauge.sold.is_some()).flat_map(|gauge| &gauge.bands);
            let sold: Vec<&str> = sold.map(|piece| piece.name.as_str()).collect();
            let known = sold.iter().find(|name| Piece::of(name).is(&Piece::of(&piece.value)));
            if !sold.is_empty() && known.is_none() {
                let complaint = errors::unknown_answer(piece, &part.to_string(), sold, declared.naming.span);
                self.names.diagnostics.push(complaint);
                return;
            }
            let piece = known.map_or_else(|| piece.value.clone(), |name| (*name).to_owned());
            let (why, signature) = (why.clone(), signature.clone());
            let chosen = PieceChosen { piece, why, signature, span: part.span };
            let before = job.chosen.insert(key, chosen);
            self.once(part, "the piece for", before.map(|before| before.span));
        }
    }

    /// A size that something was bored or ground to before: of a gauge with sizes, and known to which side they go.
    pub(super) fn sized_before(&mut self, named: &Named, size: &Spanned<Quantity>, job: &mut Job) {
        let found = self.names.thing(named, GaugeId::WORDS, |name| matches!(name, Name::Gauge(_)));
        let Some((Name::Gauge(id), place)) = found else { return };
        let gauge = self.procedure.gauge(id);
        let expected = gauge.dimension.unwrap_or(size.value.dimension());
        if let Err(error) = size.value.expect_dimension(expected) {
            self.names.diagnostics.push(errors::wrong_dimension(size.span, &error, Some(gauge.naming.span)));
            return;
        }
        // Of limits that answers choose, the answers tell.
        let chosen = gauge.made.by_answer() || gauge.worn.by_answer();
        let sideless = |at: &Place| !chosen && self.procedure.limits((id, *at)).side().is_none();
        let all = self.procedure.places(&gauge.axes);
        let places: Vec<Place> = place.map_or_else(|| all.collect(), |place| vec![place]);
        if gauge.sizes.is_none() || places.iter().any(sideless) || size.value.numeral().value() < 0.0 {
            self.names.diagnostics.push(errors::no_present_size(size, &named.to_string(), gauge.naming.span));
            return;
        }
        job.present.extend(places.into_iter().map(|place| ((id, place), size.clone())));
    }
}
