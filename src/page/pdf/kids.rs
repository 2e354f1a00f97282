//! What stands in each element of the tree of meaning, and the way back from it (ISO 32000-1, 14.7.4). There are tens of
//! thousands in a long packet: they are kept in a few bytes each, and become objects only as they are written.

use super::bytes::{Written, write_object};
use super::tokens::whole;
use lopdf::{Object, ObjectId, dictionary};

/// Something that stands in an element.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kid {
    /// Marked content on the element's own page, by its number there.
    Content(u32),
    /// Marked content on another page.
    ContentOf(ObjectId, u32),
    /// A link or a field, and its page.
    Annotation(ObjectId, ObjectId),
    /// An element.
    Element(ObjectId),
}

impl Kid {
    fn write(self, out: &mut Vec<u8>) {
        match self {
            Kid::Content(number) => whole(out, u64::from(number)),
            Kid::ContentOf(page, number) => write_object(
                out,
                &Object::Dictionary(dictionary! {
                    "Type" => "MCR",
                    "Pg" => Object::Reference(page),
                    "MCID" => i64::from(number),
                }),
            ),
            Kid::Annotation(object, page) => write_object(
                out,
                &Object::Dictionary(dictionary! {
                    "Type" => "OBJR",
                    "Obj" => Object::Reference(object),
                    "Pg" => Object::Reference(page),
                }),
            ),
            Kid::Element(element) => write_object(out, &Object::Reference(element)),
        }
    }
}

/// What stands in the elements, in the order in which it was put there.
pub(super) struct Kids {
    all: Vec<(u32, Kid)>,
    /// How much stands in each.
    counts: Vec<u32>,
}

impl Kids {
    /// Nothing yet, in so many elements.
    pub(super) fn of(elements: usize) -> Kids {
        Kids { all: Vec::new(), counts: vec![0; elements] }
    }

    /// Puts something behind what stands in an element.
    pub(super) fn put(&mut self, element: usize, kid: Kid) {
        self.all.push((u32::try_from(element).expect("a file has fewer objects than that"), kid));
        self.counts[element] += 1;
    }

    /// Whether nothing stands in an element.
    pub(super) fn none_in(&self, element: usize) -> bool {
        self.counts[element] == 0
    }

    /// Sorts by element; from here on nothing is put in.
    pub(super) fn sorted(self) -> Sorted {
        let Kids { mut all, counts } = self;
        all.sort_by_key(|(element, _)| *element);
        let mut from = 0;
        let starts = counts.iter().map(|count| {
            let start = from;
            from += *count as usize;
            start
        });
        Sorted { starts: starts.chain([all.len()]).collect(), all }
    }
}

/// What stands in the elements, element by element.
pub(super) struct Sorted {
    starts: Vec<usize>,
    all: Vec<(u32, Kid)>,
}

impl Sorted {
    /// Writes what stands in an element, as an entry of it.
    pub(super) fn write(&self, element: usize, out: &mut Vec<u8>) {
        let kids = &self.all[self.starts[element]..self.starts[element + 1]];
        match kids {
            [] => {}
            [(_, one)] => {
                out.extend_from_slice(b"/K ");
                one.write(out);
            }
            [(_, first), others @ ..] => {
                out.extend_from_slice(b"/K [");
                first.write(out);
                for (_, kid) in others {
                    out.push(b' ');
                    kid.write(out);
                }
                out.push(b']');
            }
        }
    }
}

/// The numbers under which pages, links and fields find their elements.
#[derive(Default)]
pub(super) struct WaysBack {
    pairs: Vec<u8>,
}

impl WaysBack {
    fn key(&mut self, key: i64) {
        if !self.pairs.is_empty() {
            self.pairs.push(b' ');
        }
        write_object(&mut self.pairs, &Object::Integer(key));
        self.pairs.push(b' ');
    }

    /// From the marked contents of a page, in the order of their numbers.
    pub(super) fn of_page(&mut self, key: i64, elements: &[ObjectId]) {
        self.key(key);
        self.pairs.push(b'[');
        for (index, element) in elements.iter().enumerate() {
            if index > 0 {
                self.pairs.push(b' ');
            }
            write_object(&mut self.pairs, &Object::Reference(*element));
        }
        self.pairs.push(b']');
    }

    /// From a link or a field.
    pub(super) fn of_one(&mut self, key: i64, element: ObjectId) {
        self.key(key);
        write_object(&mut self.pairs, &Object::Reference(element));
    }

    /// Writes all of them as one object.
    pub(super) fn write(self, id: ObjectId, written: &mut Written) {
        written.put(id, |out| {
            out.extend_from_slice(b"<</Nums [");
            out.extend_from_slice(&self.pairs);
            out.extend_from_slice(b"]>>");
        });
    }
}
