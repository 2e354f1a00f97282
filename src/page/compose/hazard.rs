//! Hazard boxes: signal word, then hazard, consequence, avoidance; told apart by the weight of the frame.

use super::prose::frame;
use super::{Composer, PITCH};
use crate::page::draw;
use crate::page::pages::{Area, Ink, Item, Mark, Role};
use crate::page::pieces::Piece;
use crate::page::words::Type;
use crate::sheet::{HazardBox, SignalWord, Text};

/// What a signal word looks like.
struct Look {
    word: &'static str,
    /// Weight of the frame.
    frame: f32,
    /// Whether the word stands white on black.
    reversed: bool,
    /// Whether it has the alert triangle: only where somebody can be hurt.
    alert: bool,
}

fn look(word: SignalWord) -> Look {
    match word {
        SignalWord::Danger => Look { word: "DANGER", frame: 4.5, reversed: true, alert: true },
        SignalWord::Warning => Look { word: "WARNING", frame: 3.0, reversed: false, alert: true },
        SignalWord::Caution => Look { word: "CAUTION", frame: 1.5, reversed: false, alert: true },
        SignalWord::Notice => Look { word: "NOTICE", frame: 0.7, reversed: false, alert: false },
    }
}

/// Height of a sign of protective equipment.
const SIGN_HEIGHT: f32 = 22.0;
/// Height of one in the head of a step.
const HEAD_SIGN: f32 = 17.0;
/// Type of what is worn.
const WORN: Type = Type::new(12.0, 16.0);
/// Type of hazards.
const TOLD: Type = Type::new(13.0, 16.5);
/// Width of the column in which the triangle stands.
const SIGN: f32 = 42.0;

impl Composer<'_> {
    /// The pieces of a box with its left edge at `x`.
    pub(super) fn hazard(&mut self, hazard: &HazardBox, x: f32, width: f32) -> Vec<Piece> {
        let mut look = look(hazard.word);
        if hazard.turned.is_some() {
            // Turned the usual way it breaks: as loud as a warning, but nobody is hurt.
            look.frame = self::look(SignalWord::Warning).frame;
        }
        if hazard.told {
            return vec![self.hazard_again(hazard, &look, x, width)];
        }
        let inset = if look.alert || hazard.turned.is_some() { SIGN } else { 14.0 };
        let (left, room) = (x + inset, width - inset - 9.0);
        let mut pieces = self.within(Role::Division, |composer| {
            let mut pieces = composer.signal_word(&look, &hazard.hazard, left, room);
            // What it does and how it is avoided are read in one breath.
            let mut text = hazard.consequence.clone().and(" ");
            text.0.extend(hazard.avoidance.0.iter().cloned());
            let element = composer.element(Role::Paragraph);
            pieces.extend(composer.text_pieces(element, &text, TOLD, left, room));
            composer.equipment(&mut pieces, &hazard.protective_equipment, left, room);
            pieces
        });
        if look.alert {
            let sign = draw::alert(x + 8.0, 2.0, 25.0, look.reversed);
            if let Some(first) = pieces.first_mut() {
                first.add(Mark::Artefact, sign);
            }
        }
        if let (Some(clockwise), Some(first)) = (hazard.turned, pieces.first_mut()) {
            first.add(Mark::Artefact, draw::turned_hexagon(x + 6.0, 2.0, 27.0, clockwise));
        }
        frame(&mut pieces, Area::new(x, 0.0, width, 0.0), look.frame, look.frame + 3.5);
        pieces
    }

    /// A hazard that has been told in full: its sign, its word and how it is avoided, beside a bar as heavy as its frame. In
    /// a step bar and sign stand in the column of the boxes, so that the words have the width of the work.
    fn hazard_again(&mut self, hazard: &HazardBox, look: &Look, x: f32, width: f32) -> Piece {
        const HEIGHT: f32 = 14.0;
        let kind = TOLD;
        let sign = if look.alert { HEIGHT * 1.1547 } else { 0.0 };
        let in_step = x >= super::LEFT;
        let left = if in_step { x } else { x + 10.0 + if look.alert { sign + 6.0 } else { 0.0 } };
        let bar = if in_step { super::NUMBERS - sign - 10.0 } else { x };
        let mut text = Text::bold(look.word).and(" ");
        text.0.extend(hazard.avoidance.0.iter().cloned());
        let element = self.element(Role::Paragraph);
        let setting = self.set(&text, kind, x + width - left);
        let mut piece = Piece::new(PITCH, setting.height().max(kind.leading));
        piece.add(Mark::Artefact, vec![draw::vertical(bar, 0.0, look.frame, piece.height)]);
        if look.alert {
            let top = (kind.leading - HEIGHT) / 2.0 - 0.5;
            piece.add(Mark::Artefact, draw::alert(bar + 10.0, top, HEIGHT, look.reversed));
        }
        self.put(&mut piece, element, &setting, &setting.lines, left, 0.0);
        piece
    }

    /// The signal word, and behind it the hazard.
    fn signal_word(&mut self, look: &Look, hazard: &Text, x: f32, width: f32) -> Vec<Piece> {
        let element = self.element(Role::Paragraph);
        let kind = Type { bold: true, ..TOLD };
        let mut word = self.set(&Text::bold(look.word), kind, 200.0);
        let inset = if look.reversed { 7.0 } else { 0.0 };
        let after = word.width() + 2.0 * inset + 8.0;
        let words = self.set(hazard, kind, width - after);
        let mut piece = Piece::new(0.0, words.height().max(kind.leading));
        if look.reversed {
            let plate = Area::new(x, 0.0, word.width() + 2.0 * inset, kind.leading);
            piece.add(
                Mark::Artefact,
                vec![Item::Rectangle { area: plate, fill: Some(Ink::Black), stroke: None }],
            );
            word.kind.ink = Ink::White;
        }
        self.put(&mut piece, element, &word, &word.lines, x + inset, 0.0);
        self.put(&mut piece, element, &words, &words.lines, x + after, 0.0);
        vec![piece]
    }

    /// The signs of protective equipment, each once, before the words that name it.
    pub(super) fn put_on(&mut self, text: &Text, equipment: &[String], width: f32) -> Vec<Piece> {
        let mut signs: Vec<Vec<Item>> = Vec::new();
        for sign in equipment.iter().filter_map(|name| draw::protective(name, 0.0, 0.0, HEAD_SIGN)) {
            if !signs.contains(&sign) {
                signs.push(sign);
            }
        }
        let room = signs.len() as f32 * (HEAD_SIGN + 4.0);
        // Words first: where signs would leave them too little, they are left out.
        let (signs, room) = if room > width / 2.0 { (Vec::new(), 0.0) } else { (signs, room) };
        let element = self.element(Role::Paragraph);
        let mut made = self.text_pieces(element, text, WORN, super::LEFT + room, width - room);
        let Some(first) = made.first_mut() else { return made };
        first.above = 2.0;
        if !signs.is_empty() {
            let more = (HEAD_SIGN - first.height).max(0.0);
            first.shift(0.0, more / 2.0);
            first.height += more;
            for (index, mut sign) in signs.into_iter().enumerate() {
                let x = super::LEFT + index as f32 * (HEAD_SIGN + 4.0);
                sign.iter_mut().for_each(|item| item.shift(x, 0.0));
                first.add(Mark::Artefact, sign);
            }
        }
        made
    }

    /// Protective equipment by sign and name, in rows.
    fn equipment(&mut self, pieces: &mut Vec<Piece>, names: &[String], x: f32, width: f32) {
        let names: Vec<&String> = names.iter().filter(|name| !name.trim().is_empty()).collect();
        if names.is_empty() {
            return;
        }
        let kind = Type::bold(12.0, 16.0);
        let element = self.element(Role::Paragraph);
        let wear = self.set(&Text::bold("Wear"), kind, width);
        let mut piece = Piece::new(5.0, SIGN_HEIGHT);
        let top = (SIGN_HEIGHT - kind.leading) / 2.0;
        self.put(&mut piece, element, &wear, &wear.lines, x, top);
        let first = wear.width() + 12.0;
        let mut at = first;
        for name in names {
            let sign = draw::protective(name, 0.0, 0.0, SIGN_HEIGHT);
            let sign_width = if sign.is_some() { SIGN_HEIGHT + 5.0 } else { 0.0 };
            let setting = self.set(&Text::bold(name), kind, width - first - sign_width);
            let needed = sign_width + setting.width();
            if at > first && at + needed > width {
                pieces.push(std::mem::replace(&mut piece, Piece::new(3.0, SIGN_HEIGHT)));
                at = first;
            }
            if let Some(mut sign) = sign {
                for item in &mut sign {
                    item.shift(x + at, 0.0);
                }
                piece.add(Mark::Artefact, sign);
            }
            piece.height = piece.height.max(top + setting.height());
            self.put(&mut piece, element, &setting, &setting.lines, x + at + sign_width, top);
            at += needed + 16.0;
        }
        pieces.push(piece);
    }
}
