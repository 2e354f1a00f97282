//! The object graph to bytes: streams as they are, everything else in compressed object streams, and a
//! cross-reference stream at the end (ISO 32000-1, 7.5.7 and 7.5.8).

use super::deflate::Deflater;
use super::drawing::EmptyLine;
use super::tokens::{literal, whole};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat};
use rayon::prelude::*;
use std::io::Write;

/// Bytes that aren't worth deflating.
const PLAIN: usize = 24;
/// Objects that share one object stream.
const SHARED: usize = 200;

/// Two 64-bit hashes of all parts in order: FNV-1a from two different starts. They tell documents apart; they
/// protect nothing.
pub(super) fn fingerprint(parts: &[&[u8]]) -> [u64; 2] {
    let mut hashes = [0xcbf2_9ce4_8422_2325_u64, 0x6c62_272e_07bb_0142];
    for part in parts {
        for byte in *part {
            for hash in &mut hashes {
                *hash = (*hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
            }
        }
        for hash in &mut hashes {
            *hash = (*hash ^ 0xff).wrapping_mul(0x0000_0100_0000_01b3).rotate_left(7);
        }
    }
    hashes
}

/// Where an object is.
#[derive(Clone, Copy)]
enum Entry {
    Free,
    At(usize),
    Within(u32, usize),
}

/// Objects that are bytes already, one behind the other: dictionaries of which a document has tens of thousands.
#[derive(Default)]
pub(super) struct Written {
    /// All of them.
    pub(super) bytes: Vec<u8>,
    /// Number of each object and where it ends.
    pub(super) ends: Vec<(u32, usize)>,
    /// Drawings, each a stream of its own, in the order of their numbers.
    pub(super) lines: Vec<(u32, EmptyLine)>,
}

impl Written {
    /// Writes one object.
    pub(super) fn put(&mut self, (id, _): ObjectId, write: impl FnOnce(&mut Vec<u8>)) {
        write(&mut self.bytes);
        self.ends.push((id, self.bytes.len()));
    }
}

/// An object that shares a stream. Most are bytes: the few others are boxed, so that each of tens of thousands takes little
/// room.
enum Shared<'w> {
    Object(Box<Object>),
    Written(&'w [u8]),
}

/// Writes the file. Its identity is made from all that stands in it.
pub(super) fn write((document, written): (Document, Written)) -> Vec<u8> {
    let Document { objects, trailer, max_id, .. } = document;
    let mut out = Vec::with_capacity(1 << 16);
    let mut deflater = Deflater::new();
    out.extend_from_slice(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n");
    let mut entries = vec![Entry::Free; max_id as usize + 1];
    let mut shared: Vec<(u32, Shared<'_>)> = Vec::with_capacity(written.ends.len() + objects.len());
    let mut from = 0;
    for (id, end) in &written.ends {
        shared.push((*id, Shared::Written(&written.bytes[from..*end])));
        from = *end;
    }
    let mut lines = written.lines.iter().peekable();
    let mut write_lines = |until: u32, out: &mut Vec<u8>, entries: &mut [Entry], deflater: &mut Deflater| {
        while let Some((id, line)) = lines.next_if(|(id, _)| *id < until) {
            entries[*id as usize] = Entry::At(out.len());
            write_stream(out, *id, line.stream(), deflater);
        }
    };
    for ((id, _), object) in objects {
        write_lines(id, &mut out, &mut entries, &mut deflater);
        match object {
            Object::Stream(stream) => {
                entries[id as usize] = Entry::At(out.len());
                write_stream(&mut out, id, stream, &mut deflater);
            }
            other => shared.push((id, Shared::Object(Box::new(other)))),
        }
    }
    let mut next = max_id + 1;
    write_lines(next, &mut out, &mut entries, &mut deflater);
    shared.sort_by_key(|(id, _)| *id);
    let streams: Vec<Stream> =
        shared.par_chunks(SHARED).with_min_len(4).map_init(Deflater::new, object_stream).collect();
    for (objects, stream) in shared.chunks(SHARED).zip(streams) {
        for (index, (id, _)) in objects.iter().enumerate() {
            entries[*id as usize] = Entry::Within(next, index);
        }
        entries.push(Entry::At(out.len()));
        write_stream(&mut out, next, stream, &mut deflater);
        next += 1;
    }
    let identity = fingerprint(&[&out]);
    let identity: Vec<u8> = identity.iter().flat_map(|half| half.to_be_bytes()).collect();
    entries.push(Entry::At(out.len()));
    let start = out.len();
    let mut rows = Vec::with_capacity(entries.len() * 7);
    for entry in &entries {
        let (kind, second, third) = match *entry {
            Entry::Free => (0, 0, 0),
            Entry::At(offset) => (1, offset as u32, 0),
            Entry::Within(stream, index) => (2, stream, index as u16),
        };
        rows.push(kind);
        rows.extend_from_slice(&second.to_be_bytes());
        rows.extend_from_slice(&third.to_be_bytes());
    }
    let mut dictionary = Dictionary::new();
    dictionary.set("Type", "XRef");
    dictionary.set("Size", entries.len() as i64);
    dictionary.set("W", vec![1.into(), 4.into(), 2.into()]);
    for key in [b"Root".as_slice(), b"Info".as_slice()] {
        if let Ok(value) = trailer.get(key) {
            dictionary.set(key, value.clone());
        }
    }
    let id = Object::String(identity, StringFormat::Hexadecimal);
    dictionary.set("ID", vec![id.clone(), id]);
    write_stream(&mut out, next, Stream::new(dictionary, rows), &mut deflater);
    put(&mut out, format_args!("startxref\n{start}\n%%EOF\n"));
    out
}

/// Objects packed into one stream.
fn object_stream(deflater: &mut Deflater, objects: &[(u32, Shared<'_>)]) -> Stream {
    let (mut head, mut body) = (Vec::new(), Vec::new());
    for (id, object) in objects {
        whole(&mut head, u64::from(*id));
        head.push(b' ');
        whole(&mut head, body.len() as u64);
        head.push(b' ');
        match object {
            Shared::Object(object) => write_object(&mut body, object),
            Shared::Written(bytes) => body.extend_from_slice(bytes),
        }
        body.push(b'\n');
    }
    let first = head.len();
    head.append(&mut body);
    let mut dictionary = Dictionary::new();
    dictionary.set("Type", "ObjStm");
    dictionary.set("N", objects.len() as i64);
    dictionary.set("First", first as i64);
    dictionary.set("Filter", "FlateDecode");
    Stream::new(dictionary, deflater.deflate(&head))
}

fn put(out: &mut Vec<u8>, words: std::fmt::Arguments<'_>) {
    out.write_fmt(words).expect("writing to memory can't fail");
}

fn write_stream(out: &mut Vec<u8>, id: u32, mut stream: Stream, deflater: &mut Deflater) {
    // A few signs are shorter as they are.
    if !stream.dict.has(b"Filter") && stream.content.len() > PLAIN {
        stream.content = deflater.deflate(&stream.content);
        stream.dict.set("Filter", "FlateDecode");
    }
    stream.dict.set("Length", stream.content.len() as i64);
    put(out, format_args!("{id} 0 obj\n"));
    write_dictionary(out, &stream.dict);
    out.extend_from_slice(b"stream\n");
    out.extend_from_slice(&stream.content);
    out.extend_from_slice(b"\nendstream\nendobj\n");
}

fn write_dictionary(out: &mut Vec<u8>, dictionary: &Dictionary) {
    out.extend_from_slice(b"<<");
    for (key, value) in dictionary.iter() {
        write_name(out, key);
        out.push(b' ');
        write_object(out, value);
    }
    out.extend_from_slice(b">>");
}

pub(super) fn write_name(out: &mut Vec<u8>, name: &[u8]) {
    out.push(b'/');
    for byte in name {
        if byte.is_ascii_alphanumeric() || b"+-_.:*".contains(byte) {
            out.push(*byte);
        } else {
            put(out, format_args!("#{byte:02x}"));
        }
    }
}

pub(super) fn write_object(out: &mut Vec<u8>, object: &Object) {
    match object {
        Object::Null => out.extend_from_slice(b"null"),
        Object::Boolean(value) => put(out, format_args!("{value}")),
        Object::Integer(value) => {
            if *value < 0 {
                out.push(b'-');
            }
            whole(out, value.unsigned_abs());
        }
        Object::Real(value) => put(out, format_args!("{value}")),
        Object::Name(name) => write_name(out, name),
        Object::String(text, StringFormat::Literal) => literal(out, text.iter().copied()),
        Object::String(text, StringFormat::Hexadecimal) => {
            const FIGURES: &[u8; 16] = b"0123456789abcdef";
            out.push(b'<');
            out.extend(
                text.iter()
                    .flat_map(|byte| [FIGURES[usize::from(byte >> 4)], FIGURES[usize::from(byte & 15)]]),
            );
            out.push(b'>');
        }
        Object::Array(items) => {
            out.push(b'[');
            for (index, item) in items.iter().enumerate() {
                if index > 0 {
                    out.push(b' ');
                }
                write_object(out, item);
            }
            out.push(b']');
        }
        Object::Dictionary(dictionary) => write_dictionary(out, dictionary),
        // Streams are never inside another object.
        Object::Stream(_) => out.extend_from_slice(b"null"),
        Object::Reference((id, generation)) => {
            whole(out, u64::from(*id));
            out.push(b' ');
            whole(out, u64::from(*generation));
            out.extend_from_slice(b" R");
        }
    }
}
