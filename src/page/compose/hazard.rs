//! Hazard boxes: signal word, then hazard, consequence, avoidance; told apart by the weight of the frame.

use super::Composer;
use super::prose::frame;
use crate::page::draw;
use crate::page::pages::{Area, Ink, Item, Mark, Role};
use crate::page::pieces::Piece;
use crate::page::words::Type;
use crate::sheet::{Boxes, HazardBox, SignalWord, Text};

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
/// Width of the column in which the triangle stands.
const SIGN: f32 = 50.0;

impl Composer {
    /// The pieces of a box with its left edge at `x`.
    pub(super) fn hazard(&mut self, hazard: &HazardBox, x: f32, width: f32) -> Vec<Piece> {
        let look = look(hazard.word);
        let inset = if look.alert { SIGN } else { 14.0 };
        let (left, room) = (x + inset, width - inset - 14.0);
        let mut pieces = self.within(Role::Division, |composer| {
            let mut pieces = vec![composer.signal_word(&look, left)];
            let parts = [
                (hazard.hazard.clone(), Type::bold(12.5, 16.5)),
                (hazard.consequence.clone(), Type::new(12.5, 16.5)),
                (hazard.avoidance.clone(), Type::new(12.5, 16.5)),
            ];
            for (index, (text, kind)) in parts.into_iter().enumerate() {
                if text.words().trim().is_empty() {
                    continue;
                }
                let element = composer.element(Role::Paragraph);
                let mut lines = composer.text_pieces(element, &text, kind, left, room);
                if let Some(first) = lines.first_mut() {
                    first.above = if index == 0 { 3.0 } else { 2.0 };
                }
                pieces.extend(lines);
            }
            composer.equipment(&mut pieces, &hazard.protective_equipment, left, room);
            pieces
        });
        if look.alert {
            let sign = draw::alert(x + 11.0, 1.0, 25.0, look.reversed);
            if let Some(first) = pieces.first_mut() {
                first.add(Mark::Artefact, sign);
            }
        }
        frame(&mut pieces, Area::new(x, 0.0, width, 0.0), look.frame, look.frame + 6.0);
        pieces
    }

    fn signal_word(&mut self, look: &Look, x: f32) -> Piece {
        let kind = Type::bold(15.0, 20.0);
        let element = self.element(Role::Paragraph);
        let text = Text::bold(look.word);
        let mut setting = self.set(&text, kind, 200.0);
        let mut piece = Piece::new(0.0, kind.leading);
        let mut at = x;
        if look.reversed {
            let plate = Area::new(x, 0.0, setting.width() + 14.0, kind.leading);
            piece.add(
                Mark::Artefact,
                vec![Item::Rectangle { area: plate, fill: Some(Ink::Black), stroke: None }],
            );
            setting.kind.ink = Ink::White;
            at += 7.0;
        }
        self.put(&mut piece, element, &setting, &setting.lines, at, 0.0);
        piece
    }

    /// The signs of protective equipment, each once, at the right end of a line that names it.
    pub(super) fn put_on(&mut self, text: &Text, equipment: &[String], held: bool, width: f32) -> Vec<Piece> {
        let mut signs: Vec<Vec<Item>> = Vec::new();
        for sign in equipment.iter().filter_map(|name| draw::protective(name, 0.0, 0.0, SIGN_HEIGHT)) {
            if !signs.contains(&sign) {
                signs.push(sign);
            }
        }
        let room = signs.len() as f32 * (SIGN_HEIGHT + 5.0);
        // Words first: where signs would leave them too little, they are left out.
        let (signs, room) = if room > width / 2.0 { (Vec::new(), 0.0) } else { (signs, room) };
        let mut made = self.act(text, &Boxes::One, held, width - room);
        if let Some(first) = made.first_mut().filter(|_| !signs.is_empty()) {
            first.height = first.height.max(SIGN_HEIGHT);
            for (index, mut sign) in signs.into_iter().enumerate() {
                let x = super::LEFT + width - room + 5.0 + index as f32 * (SIGN_HEIGHT + 5.0);
                for item in &mut sign {
                    item.shift(x, 0.0);
                }
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
