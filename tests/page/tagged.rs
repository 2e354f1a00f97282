//! The file as a screen reader gets it: every mark on a page stands in one place of the tree of meaning or is an
//! artefact, the tree is formed as ISO 32000-1, 14.8 asks, figures have words in their place, cells have their heads.

use std::collections::{BTreeMap, BTreeSet};

use super::demo;
use benchleaf::{PageSetup, Paper, lay_out, write_pdf};
use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId};

/// What is wrong with a file for somebody who can't see it, in words.
pub fn faults(bytes: &[u8]) -> Vec<String> {
    Reader::new(bytes).faults()
}

/// Operators that leave ink on the page.
const PAINTING: [&str; 14] = ["Tj", "TJ", "'", "\"", "S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "Do"];

struct Reader {
    document: Document,
    pages: Vec<ObjectId>,
    /// Element of each marked content, in reading order.
    read: Vec<((ObjectId, i64), ObjectId)>,
    /// Elements in reading order with their depth.
    elements: Vec<(ObjectId, String)>,
    /// Elements of what is not painted but filled in or followed, by their keys.
    ways: BTreeMap<i64, ObjectId>,
    faults: Vec<String>,
}

impl Reader {
    fn new(bytes: &[u8]) -> Self {
        let document = Document::load_mem(bytes).unwrap();
        let pages = document.page_iter().collect();
        Reader {
            document,
            pages,
            read: Vec::new(),
            elements: Vec::new(),
            ways: BTreeMap::new(),
            faults: Vec::new(),
        }
    }

    fn followed<'a>(&'a self, object: &'a Object) -> &'a Object {
        self.document.dereference(object).map_or(object, |(_, object)| object)
    }

    fn get<'a>(&'a self, dictionary: &'a Dictionary, key: &str) -> Option<&'a Object> {
        dictionary.get(key.as_bytes()).ok().map(|object| self.followed(object))
    }

    fn dictionary(&self, id: ObjectId) -> Dictionary {
        self.document.get_dictionary(id).unwrap().clone()
    }

    fn fault(&mut self, words: impl Into<String>) {
        self.faults.push(words.into());
    }

    fn faults(mut self) -> Vec<String> {
        let catalogue = self.document.catalog().unwrap().clone();
        self.document_facts(&catalogue);
        let root = self.get(&catalogue, "StructTreeRoot").unwrap().as_dict().unwrap().clone();
        let tree = self.get(&root, "ParentTree").unwrap().as_dict().unwrap().clone();
        let numbers = tree.get(b"Nums").unwrap().as_array().unwrap();
        self.ways = numbers
            .chunks(2)
            .filter_map(|pair| Some((pair[0].as_i64().ok()?, pair[1].as_reference().ok()?)))
            .collect();
        let top = root.get(b"K").unwrap().as_reference().unwrap();
        self.walk(top, &[], None);
        let marks = self.marks_on_pages();
        let read: BTreeSet<(ObjectId, i64)> = self.read.iter().map(|(mark, _)| *mark).collect();
        if read.len() != self.read.len() {
            self.fault("some content is read twice");
        }
        for mark in marks.difference(&read) {
            self.fault(format!("mark {} of page {:?} is in no element", mark.1, mark.0));
        }
        for mark in read.difference(&marks) {
            self.fault(format!("mark {} is not on page {:?}", mark.1, mark.0));
        }
        self.ways_back(&root);
        self.headings();
        self.faults
    }

    fn document_facts(&mut self, catalogue: &Dictionary) {
        let present =
            [("Lang", "language"), ("Outlines", "outline"), ("Metadata", "title for other readers")];
        for (key, what) in present {
            if !catalogue.has(key.as_bytes()) {
                self.fault(format!("no {what}"));
            }
        }
        let marked = self.get(catalogue, "MarkInfo").and_then(|info| info.as_dict().ok());
        if !marked.is_some_and(|info| {
            info.get(b"Marked").is_ok_and(|marked| matches!(marked, Object::Boolean(true)))
        }) {
            self.fault("not told to be tagged");
        }
        let labels = self.get(catalogue, "PageLabels").and_then(|labels| labels.as_dict().ok());
        let first =
            labels.and_then(|labels| labels.get(b"Nums").ok()?.as_array().ok()?.first()?.as_i64().ok());
        if first != Some(0) {
            self.fault("the first page has no label");
        }
    }

    /// Content marked on the pages; all that is painted must be marked, as content or as an artefact.
    fn marks_on_pages(&mut self) -> BTreeSet<(ObjectId, i64)> {
        let mut marks = BTreeSet::new();
        for (index, page) in self.pages.clone().into_iter().enumerate() {
            let bytes = self.document.get_page_content(page);
            let mut open: Vec<bool> = Vec::new();
            for operation in Content::decode(&bytes).unwrap().operations {
                match operation.operator.as_str() {
                    "BMC" | "BDC" => {
                        open.push(true);
                        let number = operation.operands.get(1).and_then(|properties| {
                            properties.as_dict().ok()?.get(b"MCID").ok()?.as_i64().ok()
                        });
                        let artefact = operation.operands[0].as_name().is_ok_and(|name| name == b"Artifact");
                        match number {
                            Some(number) if !marks.insert((page, number)) => {
                                self.fault(format!("page {}: mark {number} stands twice", index + 1));
                            }
                            None if !artefact => self.fault(format!("page {}: marked as nothing", index + 1)),
                            _ => {}
                        }
                        if open.len() > 1 {
                            self.fault(format!("page {}: a mark inside another", index + 1));
                        }
                    }
                    "EMC" if open.pop().is_none() => {
                        self.fault(format!("page {}: a mark ends twice", index + 1));
                    }
                    painting if PAINTING.contains(&painting) && open.is_empty() => {
                        self.fault(format!("page {}: {painting} is not marked", index + 1));
                    }
                    _ => {}
                }
            }
            if !open.is_empty() {
                self.fault(format!("page {}: a mark does not end", index + 1));
            }
        }
        marks
    }

    /// Reads an element and all inside it.
    fn walk(&mut self, id: ObjectId, around: &[String], page: Option<ObjectId>) {
        let element = self.dictionary(id);
        let role = String::from_utf8_lossy(element.get(b"S").unwrap().as_name().unwrap()).into_owned();
        self.elements.push((id, role.clone()));
        self.placed(&role, around.last().map_or("", String::as_str));
        let own = element.get(b"Pg").and_then(Object::as_reference).ok().or(page);
        self.described(&element, &role);
        let kids = match element.get(b"K") {
            Ok(Object::Array(kids)) => kids.clone(),
            Ok(kid) => vec![kid.clone()],
            Err(_) => Vec::new(),
        };
        let around: Vec<String> = around.iter().cloned().chain([role.clone()]).collect();
        let (mut annotations, mut cells) = (0, 0);
        for kid in &kids {
            match kid {
                Object::Integer(number) => match own {
                    Some(page) => self.read.push(((page, *number), id)),
                    None => self.fault(format!("{role}: content on no page")),
                },
                Object::Reference(kid) => {
                    let inner = self.dictionary(*kid);
                    if inner.get(b"P").and_then(Object::as_reference).ok() != Some(id) {
                        self.fault(format!("{role}: a child that names another parent"));
                    }
                    cells +=
                        usize::from(matches!(inner.get(b"S").and_then(Object::as_name), Ok(b"TD" | b"TH")));
                    self.walk(*kid, &around, own);
                }
                Object::Dictionary(kid) => {
                    let on = kid.get(b"Pg").and_then(Object::as_reference).ok().or(own);
                    if let (Ok(number), Some(page)) = (kid.get(b"MCID").and_then(Object::as_i64), on) {
                        self.read.push(((page, number), id));
                    } else if let Ok(annotation) = kid.get(b"Obj").and_then(Object::as_reference) {
                        annotations += 1;
                        if role == "Form" { self.field(annotation, id) } else { self.link(annotation) }
                    } else {
                        self.fault(format!("{role}: a child that is nothing"));
                    }
                }
                _ => self.fault(format!("{role}: a child that is nothing")),
            }
        }
        if matches!(role.as_str(), "Link" | "Form") && annotations != 1 {
            self.fault(format!("{role} with {annotations} places"));
        }
        if role == "TR" && cells == 0 {
            self.fault("a row without cells");
        }
        if role == "Table" {
            self.table(id, &kids);
        }
    }

    /// What may stand in what.
    fn placed(&mut self, role: &str, parent: &str) {
        let sound = match role {
            "Document" => parent.is_empty(),
            "LI" => parent == "L",
            "LBody" => parent == "LI",
            "TR" => parent == "Table",
            "TH" | "TD" => parent == "TR",
            "Sect" => matches!(parent, "Document" | "Sect"),
            "Caption" => matches!(parent, "Table" | "Figure" | "Sect"),
            _ => !matches!(parent, "L" | "LI" | "TR" | ""),
        };
        if !sound {
            self.fault(format!("{role} in {parent}"));
        }
    }

    fn described(&mut self, element: &Dictionary, role: &str) {
        let words = element.get(b"Alt").and_then(Object::as_str).map_or(0, <[u8]>::len);
        if role == "Figure" && words == 0 {
            self.fault("a figure without words in its place");
        }
        let scope = self
            .get(element, "A")
            .and_then(|attributes| attributes.as_dict().ok()?.get(b"Scope").ok()?.as_name().ok())
            .map(|scope| String::from_utf8_lossy(scope).into_owned());
        let kids = element.get(b"K").is_ok();
        if role == "TD" && !kids && words > 0 {
            self.fault("a cell that is read aloud but not to be seen");
        }
        if role == "TH" && !matches!(scope.as_deref(), Some("Row" | "Column")) {
            self.fault("a head of a table that doesn't say what it heads");
        }
    }

    /// Rows of a table have as many cells each.
    fn table(&mut self, id: ObjectId, kids: &[Object]) {
        let mut widths = BTreeSet::new();
        let mut heads = 0;
        for kid in kids.iter().filter_map(|kid| kid.as_reference().ok()) {
            let row = self.dictionary(kid);
            if row.get(b"S").and_then(Object::as_name).ok() != Some(b"TR") {
                continue;
            }
            let cells: Vec<ObjectId> = match row.get(b"K") {
                Ok(Object::Array(cells)) => {
                    cells.iter().filter_map(|cell| cell.as_reference().ok()).collect()
                }
                Ok(cell) => cell.as_reference().into_iter().collect(),
                Err(_) => Vec::new(),
            };
            let across = |cell: &ObjectId| {
                let attributes = self.dictionary(*cell);
                let attributes = self.get(&attributes, "A").and_then(|found| found.as_dict().ok().cloned());
                attributes.and_then(|found| found.get(b"ColSpan").ok()?.as_i64().ok()).unwrap_or(1)
            };
            widths.insert(cells.iter().map(across).sum::<i64>());
            let is_head = |cell: &ObjectId| {
                self.dictionary(*cell).get(b"S").and_then(Object::as_name).ok() == Some(b"TH")
            };
            heads += cells.iter().filter(|cell| is_head(cell)).count();
        }
        if widths.len() != 1 {
            self.fault(format!("table {id:?}: rows of {widths:?} cells"));
        }
        if heads == 0 {
            self.fault(format!("table {id:?}: no heads"));
        }
    }

    fn link(&mut self, annotation: ObjectId) {
        let annotation = self.dictionary(annotation);
        let there = self
            .get(&annotation, "Dest")
            .and_then(|there| there.as_array().ok()?.first()?.as_reference().ok());
        if !there.is_some_and(|page| self.pages.contains(&page)) {
            self.fault("a link that leads to no page");
        }
        if !annotation.has(b"Contents") {
            self.fault("a link without words");
        }
    }

    /// What is filled in says what it is, looks like something, and leads back to its element.
    fn field(&mut self, id: ObjectId, element: ObjectId) {
        let own = self.dictionary(id);
        let above = |field: &Dictionary| {
            field.get(b"Parent").and_then(Object::as_reference).ok().map(|parent| self.dictionary(parent))
        };
        let field = if own.has(b"FT") { own.clone() } else { above(&own).unwrap_or_default() };
        let mut missing: Vec<&str> = [(b"T".as_slice(), "name"), (b"TU", "words"), (b"FT", "kind")]
            .into_iter()
            .filter_map(|(key, what)| (!field.has(key)).then_some(what))
            .collect();
        missing.extend((!own.has(b"AP")).then_some("look"));
        if self.ways.get(&own.get(b"StructParent").and_then(Object::as_i64).unwrap_or(-1)) != Some(&element) {
            missing.push("way back");
        }
        for what in missing {
            self.fault(format!("a field without {what}"));
        }
        let shown = own.get(b"P").and_then(Object::as_reference).ok();
        let on_page = shown
            .and_then(|page| self.document.get_dictionary(page).ok()?.get(b"Annots").ok()?.as_array().ok());
        if !on_page.is_some_and(|all| all.contains(&Object::Reference(id))) {
            self.fault("a field on no page");
        }
    }

    /// From each mark and each link the file must lead back to the element that it is in.
    fn ways_back(&mut self, root: &Dictionary) {
        let tree = self.get(root, "ParentTree").unwrap().as_dict().unwrap().clone();
        let numbers = tree.get(b"Nums").unwrap().as_array().unwrap();
        let ways: BTreeMap<i64, Object> = numbers
            .chunks(2)
            .map(|pair| (pair[0].as_i64().unwrap(), self.followed(&pair[1]).clone()))
            .collect();
        let mut wrong = 0;
        for ((page, number), element) in &self.read {
            let key = self.dictionary(*page).get(b"StructParents").unwrap().as_i64().unwrap();
            let back = ways
                .get(&key)
                .and_then(|marks| marks.as_array().ok()?.get(*number as usize)?.as_reference().ok());
            wrong += usize::from(back != Some(*element));
        }
        if wrong > 0 {
            self.fault(format!("{wrong} marks don't lead back to their element"));
        }
    }

    /// Headings go down one level at a time.
    fn headings(&mut self) {
        let mut last = 0;
        for (_, role) in self.elements.clone() {
            let Some(level) = role.strip_prefix('H').and_then(|level| level.parse::<u32>().ok()) else {
                continue;
            };
            if level > last + 1 {
                self.fault(format!("H{level} comes after H{last}"));
            }
            last = level;
        }
        if last == 0 {
            self.fault("no headings");
        }
    }
}

#[test]
fn the_demonstration_can_be_read_aloud() {
    for (paper, two_sided) in [(Paper::A4, false), (Paper::Letter, true)] {
        let bytes = write_pdf(&lay_out(&demo::packet(), &PageSetup { paper, two_sided }).value);
        assert_eq!(faults(&bytes), Vec::<String>::new());
    }
}

#[test]
fn the_checks_see_faults() {
    let mut packet = demo::packet();
    for block in packet.sheets.iter_mut().flat_map(|sheet| &mut sheet.blocks) {
        if let benchleaf::sheet::Block::Figure(figure) = block {
            figure.alternative = String::new();
        }
    }
    let mut pages = lay_out(&packet, &PageSetup::default()).value;
    let found = faults(&write_pdf(&pages));
    assert!(found.contains(&"a figure without words in its place".to_string()), "{found:?}");
    // A mark for an element that stands nowhere in the tree.
    let lost = pages.elements.len();
    pages.elements.push(pages.elements[lost - 1].clone());
    pages.elements[lost].parent = None;
    pages.pages[0].groups[0].mark = benchleaf::pages::Mark::Element(benchleaf::pages::ElementId(lost));
    let found = faults(&write_pdf(&pages));
    assert!(found.iter().any(|fault| fault.contains("is in no element")), "{found:?}");
}

#[test]
fn the_attachment_comes_back_as_it_was() {
    let packet = demo::packet();
    let document = Document::load_mem(&write_pdf(&lay_out(&packet, &PageSetup::default()).value)).unwrap();
    let file = document.objects.values().find_map(|object| {
        let stream = object.as_stream().ok()?;
        (stream.dict.get(b"Type").and_then(Object::as_name).ok() == Some(b"EmbeddedFile")).then_some(stream)
    });
    assert_eq!(file.unwrap().decompressed_content().unwrap(), packet.attachments[0].bytes);
}
