//! The smallest pieces of a file: numbers and strings (ISO 32000-1, 7.3 and 7.9).

use lopdf::{Object, StringFormat};

/// Writes a number in decimal figures.
pub(super) fn whole(out: &mut Vec<u8>, mut number: u64) {
    let mut figures = [0; 20];
    let mut start = figures.len();
    loop {
        start -= 1;
        figures[start] = b'0' + (number % 10) as u8;
        number /= 10;
        if number == 0 {
            break;
        }
    }
    out.extend_from_slice(&figures[start..]);
}

/// Writes bytes as a literal string.
pub(super) fn literal(out: &mut Vec<u8>, bytes: impl Iterator<Item = u8>) {
    out.push(b'(');
    escaped(out, bytes);
    out.push(b')');
}

/// Writes bytes as they stand inside a literal string.
pub(super) fn escaped(out: &mut Vec<u8>, bytes: impl Iterator<Item = u8>) {
    for byte in bytes {
        match byte {
            b'(' | b')' | b'\\' => out.extend_from_slice(&[b'\\', byte]),
            // A reader takes a bare carriage return for a line feed.
            b'\r' => out.extend_from_slice(b"\\r"),
            _ => out.push(byte),
        }
    }
}

/// A text string: plain bytes if it is ASCII, otherwise UTF-16 (ISO 32000-1, 7.9.2.2).
pub(super) fn text(words: &str) -> Object {
    if words.is_ascii() {
        return ascii(words);
    }
    let mut bytes = vec![0xfe, 0xff];
    bytes.extend(words.encode_utf16().flat_map(u16::to_be_bytes));
    Object::String(bytes, StringFormat::Hexadecimal)
}

pub(super) fn ascii(words: &str) -> Object {
    Object::String(words.bytes().filter(u8::is_ascii).collect(), StringFormat::Literal)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn brackets_in_strings_are_told_from_their_ends() {
        let mut out = Vec::new();
        literal(&mut out, b"a(b)\\\r\n\x00".iter().copied());
        assert_eq!(out, b"(a\\(b\\)\\\\\\r\n\x00)");
    }
}
