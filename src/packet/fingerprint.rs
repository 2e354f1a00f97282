//! Fingerprints: a short hash of everything that is printed, so that sheets of two editions can't be mixed unseen, and
//! one of each sheet, so that the next print can say which sheets differ. They guard against mix-ups, not against
//! forgery.

use crate::sheet::{Packet, Sheet, SheetKind, plain_text, sheet_text};

/// Ten characters in two groups, from the 64-bit FNV-1a hash of the packet's plain text (the fingerprint itself left
/// out). The alphabet leaves out letters that are read wrongly on a greasy sheet.
pub(crate) fn fingerprint(packet: &Packet) -> String {
    let mut bare = packet.clone();
    bare.footer.fingerprint.clear();
    short(&plain_text(&bare))
}

/// What each sheet is called in the record of a print, and its fingerprint; the front sheet is left out, since it is
/// the one that tells of the others. Sheets of one kind are told apart by their titles, and equal titles by number.
pub(crate) fn sheet_fingerprints(sheets: &[Sheet]) -> Vec<(String, String)> {
    let mut marks: Vec<(String, String)> = Vec::new();
    for sheet in sheets.iter().filter(|sheet| sheet.kind != SheetKind::Front) {
        let alone = sheets.iter().filter(|other| other.kind == sheet.kind).count() == 1;
        let name = if alone {
            sheet.kind.to_string()
        } else {
            format!("{}: {}", sheet.kind, sheet.title.to_lowercase())
        };
        let again = |marks: &[(String, String)], name: &str| marks.iter().any(|(known, _)| known == name);
        let mut own = name.clone();
        let mut number = 2;
        while again(&marks, &own) {
            own = format!("{name} ({number})");
            number += 1;
        }
        marks.push((own, short(&sheet_text(sheet))));
    }
    marks
}

pub(super) fn short(text: &str) -> String {
    const ALPHABET: &[u8; 32] = b"0123456789abcdefghjkmnpqrstvwxyz";
    let mut hash = fnv1a(text.as_bytes());
    let mut out = String::new();
    for index in 0..10 {
        if index == 5 {
            out.push('-');
        }
        out.push(char::from(ALPHABET[(hash & 31) as usize]));
        hash >>= 5;
    }
    out
}

/// FNV-1a, 64 bits (Fowler, Noll, Vo; draft-eastlake-fnv).
fn fnv1a(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sheets_have_names_of_their_own_and_change_alone() {
        let sheet = |kind, title: &str| Sheet::new(kind, title, "", Vec::new());
        let mut sheets = vec![
            sheet(SheetKind::Front, "Engine"),
            sheet(SheetKind::Kit, "Kit"),
            sheet(SheetKind::Steps, "Top"),
            sheet(SheetKind::Steps, "Top"),
        ];
        let before = sheet_fingerprints(&sheets);
        let names: Vec<&str> = before.iter().map(|(name, _)| name.as_str()).collect();
        assert_eq!(names, ["kit", "steps: top", "steps: top (2)"]);
        sheets[3].subtitle.push('!');
        let after = sheet_fingerprints(&sheets);
        assert_eq!(before[..2], after[..2]);
        assert_ne!(before[2], after[2]);
    }

    #[test]
    fn fnv_agrees_with_its_published_vectors() {
        // draft-eastlake-fnv, test vectors of FNV-1a 64.
        assert_eq!(fnv1a(b""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(fnv1a(b"a"), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(fnv1a(b"foobar"), 0x8594_4171_f739_67e8);
    }
}
