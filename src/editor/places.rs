//! Places as an editor counts them, in lines and units of UTF-16 from nought, to bytes of a text and back; paths to
//! addresses and back.

use std::path::{Path, PathBuf};
use std::str::FromStr;

use lsp_types::{Position, Range, Uri};

use crate::source::{SourceFile, character_over};

/// The byte of a place in a text; the end of its line, or of the text, where it lies behind.
pub(super) fn byte(text: &str, place: Position) -> usize {
    let Some(start) = line_start(text.as_bytes(), usize::try_from(place.line).unwrap_or(usize::MAX)) else {
        return text.len();
    };
    let line = text[start..].split('\n').next().unwrap_or_default();
    let mut units = 0;
    for (at, letter) in line.char_indices() {
        if units >= place.character {
            return start + at;
        }
        units += u32::try_from(letter.len_utf16()).unwrap_or(1);
    }
    start + line.len()
}

/// The first byte of a line, counted from nought; none where there are fewer. Whole runs of bytes are counted at once: a line far
/// down a long text is asked for at each key.
fn line_start(text: &[u8], line: usize) -> Option<usize> {
    const RUN: usize = 1024;
    if line == 0 {
        return Some(0);
    }
    let mut left = line;
    for (run, bytes) in text.chunks(RUN).enumerate() {
        let ends = bytes.iter().filter(|byte| **byte == b'\n').count();
        if ends >= left {
            let mut found = bytes.iter().enumerate().filter(|(_, byte)| **byte == b'\n');
            return found.nth(left - 1).map(|(at, _)| run * RUN + at + 1);
        }
        left -= ends;
    }
    None
}

/// The place of a byte of a text.
pub(super) fn place(text: &str, byte: usize) -> Position {
    let before = &text[..character_over(text, byte)];
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    let line = before.bytes().filter(|byte| *byte == b'\n').count();
    let character: usize = before[start..].chars().map(char::len_utf16).sum();
    Position {
        line: u32::try_from(line).unwrap_or(u32::MAX),
        character: u32::try_from(character).unwrap_or(u32::MAX),
    }
}

/// The place of a byte of a file, whose lines are known.
pub(super) fn place_in(file: &SourceFile, byte: usize) -> Position {
    let line = file.position(byte).line;
    let start = file.line_start(line).unwrap_or_default();
    let within = place(&file.text[start..], byte.min(file.text.len()).saturating_sub(start));
    Position { line: u32::try_from(line - 1).unwrap_or(u32::MAX), character: within.character }
}

/// The places of some bytes of a text.
pub(super) fn range(text: &str, start: usize, end: usize) -> Range {
    Range { start: place(text, start), end: place(text, end) }
}

/// The path that an address leads to; none for one that leads to no file.
pub(super) fn path(uri: &Uri) -> Option<PathBuf> {
    let rest = uri.as_str().strip_prefix("file://")?;
    let rest = rest.strip_prefix("localhost").unwrap_or(rest);
    let mut bytes = Vec::new();
    let mut letters = rest.bytes();
    while let Some(letter) = letters.next() {
        let digit = |byte: Option<u8>| (byte? as char).to_digit(16);
        bytes.push(match letter {
            b'%' => {
                let (high, low) = (digit(letters.next())?, digit(letters.next())?);
                u8::try_from(high * 16 + low).ok()?
            }
            other => other,
        });
    }
    let text = String::from_utf8(bytes).ok()?;
    // `/C:/...` is the path of a drive.
    let drive = text.as_bytes().get(2) == Some(&b':');
    Some(PathBuf::from(if drive { &text[1..] } else { &text }))
}

/// The address of a path.
pub(super) fn address(path: &Path) -> Option<Uri> {
    let shown = path.to_string_lossy().replace('\\', "/");
    let mut address = String::from("file://");
    if !shown.starts_with('/') {
        address.push('/');
    }
    for byte in shown.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'/' | b'-' | b'_' | b'.' | b'~' | b':' => {
                address.push(char::from(byte));
            }
            _ => address.push_str(&format!("%{byte:02X}")),
        }
    }
    Uri::from_str(&address).ok()
}
