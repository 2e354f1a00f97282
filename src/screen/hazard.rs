//! Hazards: their sign and word, what they do and how they are avoided, told apart by the weight of the frame as on paper.

use super::figure::svg;
use super::markup::Tag;
use super::words::{Places, text};
use crate::page::{alert_sign, protective_sign};
use crate::sheet::{HazardBox, SignalWord};

/// Height of the signs.
const SIGN: f32 = 30.0;

/// Writes a hazard box, or of one that has been told in full its word and how it is avoided.
pub(super) fn hazard(out: &mut String, hazard: &HazardBox, places: &Places) {
    let (word, class) = match hazard.word {
        SignalWord::Danger => ("DANGER", "hazard danger"),
        SignalWord::Warning => ("WARNING", "hazard warning"),
        SignalWord::Caution => ("CAUTION", "hazard caution"),
        SignalWord::Notice => ("NOTICE", "hazard"),
    };
    let class = if hazard.told { format!("{class} told") } else { class.to_owned() };
    Tag::new("div").with("class", class).with("role", "note").with("aria-label", word).around(out, |out| {
        Tag::new("p").around(out, |out| {
            if hazard.word != SignalWord::Notice {
                svg(out, &alert_sign(SIGN, hazard.word == SignalWord::Danger), None);
            }
            Tag::new("strong").with("class", "word").of(out, word);
            out.push(' ');
            if hazard.told {
                text(out, &hazard.avoidance, places);
            } else {
                Tag::new("strong").around(out, |out| text(out, &hazard.hazard, places));
            }
        });
        if hazard.told {
            return;
        }
        Tag::new("p").around(out, |out| {
            text(out, &hazard.consequence, places);
            out.push(' ');
            text(out, &hazard.avoidance, places);
        });
        equipment(out, "Wear", &hazard.protective_equipment);
    });
    out.push('\n');
}

/// Protective equipment by sign and name.
fn equipment(out: &mut String, lead: &str, names: &[String]) {
    let names: Vec<&String> = names.iter().filter(|name| !name.trim().is_empty()).collect();
    if names.is_empty() {
        return;
    }
    Tag::new("p").with("class", "wear").around(out, |out| {
        Tag::new("strong").of(out, lead);
        for name in names {
            out.push(' ');
            signs(out, std::slice::from_ref(name));
            Tag::new("strong").of(out, name);
        }
    });
}

/// The signs of protective equipment, each once.
pub(super) fn signs(out: &mut String, names: &[impl AsRef<str>]) {
    let mut shown = Vec::new();
    for name in names {
        let Some(sign) = protective_sign(name.as_ref(), SIGN) else { continue };
        if !shown.contains(&sign.items) {
            svg(out, &sign, None);
            shown.push(sign.items);
        }
    }
}
