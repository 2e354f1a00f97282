//! The one form of a text: fixtures in every state of untidiness with their form beside them, every shipped procedure in
//! its form, and texts spaced and broken at random that come back as they were.

use std::path::{Path, PathBuf};

use proptest::prelude::*;
use proptest::test_runner::TestRng;

use super::super::shape::is_declaration;
use super::pieces::{Kind, Member};
use super::spacing::Word;
use super::{apart, proved, tidied};
use crate::source::{FileId, Sources};
use crate::tests::expected;

fn tidy(text: &str) -> String {
    let file = Sources::new().add("a.rebuild", text);
    let outcome = tidied(file, text);
    outcome.value.unwrap_or_else(|| panic!("{:?}\n{text}", outcome.diagnostics))
}

fn some_file() -> FileId {
    Sources::new().add("a.rebuild", "")
}

fn read(path: &Path) -> String {
    let mut sources = Sources::new();
    let file = sources.read(path).unwrap();
    sources.file(file).text.clone()
}

fn shipped() -> Vec<PathBuf> {
    Sources::new().procedure_files(&Path::new(env!("CARGO_MANIFEST_DIR")).join("procedures")).unwrap()
}

#[test]
fn untidy_texts_come_to_the_form_beside_them_and_stay() {
    let mut wrong = Vec::new();
    for path in expected::files(&expected::folder("syntax/tidy"), "rebuild") {
        let form = tidy(&read(&path));
        assert_eq!(tidy(&form), form, "{}", path.display());
        wrong.extend(expected::compare(&path.with_extension("txt"), &form).err());
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_shipped_procedure_has_its_form() {
    for path in shipped() {
        let text = read(&path);
        assert!(tidy(&text) == text, "{}: lay it out with `benchleaf tidy`", path.display());
    }
}

#[test]
fn line_ends_stay_what_they_are() {
    let text = "part a \"A\" -- one\n\npart   b \"B\"\n";
    assert_eq!(tidy(&text.replace('\n', "\r\n")), tidy(text).replace('\n', "\r\n"));
}

#[test]
fn the_head_of_a_group_may_go_on_over_lines() {
    let text = "block tried\n  \"Tried\"\n {\n    build a \"A\" {\n        do \"it\"\n    }\n}\n";
    assert_eq!(tidy(text), "block tried \"Tried\" {\n    build a \"A\" { do \"it\" }\n}\n");
}

#[test]
fn what_has_a_fault_or_would_say_something_else_is_left_alone() {
    let text = "part a \"A\"  { held by }\n";
    let file = some_file();
    let faulty = tidied(file, text);
    assert!(faulty.value.is_none() && faulty.has_errors());
    for other in
        ["part b \"A\"\n", "part a \"A\"\npart a \"A\"\n", "part a \"A\" -- new\n", "part a \"A\" {\n"]
    {
        let told = proved(file, apart(file, "part a \"A\"\n").as_ref(), other.to_owned());
        assert!(told.value.is_none(), "{other}");
        assert_eq!(told.diagnostics[0].code.name, "language/not-laid-out");
    }
}

/// Sets the same words with other spaces and line ends.
struct Untidy<'r> {
    rng: &'r mut TestRng,
    text: String,
}

impl Untidy<'_> {
    fn chance(&mut self, of: u32) -> bool {
        self.rng.next_u32().is_multiple_of(of)
    }

    /// Some spaces, and now and then a line end. What goes on from a line is set in further than its declaration.
    fn gap(&mut self, least: usize, depth: usize) {
        let more = self.rng.next_u32() as usize % 3;
        if self.chance(5) {
            self.text.push('\n');
            self.text.push_str(&" ".repeat(depth * 4 + 1 + more));
        } else {
            let wide = least == 0 || self.chance(2);
            self.text.push_str(&" ".repeat(least + if wide { more } else { 0 }));
        }
    }

    fn words(&mut self, words: &[Word], depth: usize) {
        for (at, word) in words.iter().enumerate() {
            if at > 0 {
                // Some marks may stand close to the words beside them.
                let close = |text: &str| matches!(text, "," | "=" | "(" | ")" | "[" | "]" | "..");
                let joined = close(&word.text) || close(&words[at - 1].text);
                let tight = joined && !self.chance(3);
                // A line that begins with the word of a declaration is taken for one.
                if is_declaration(&word.text) {
                    self.text.push(' ');
                } else if !tight {
                    self.gap(1, depth);
                }
            }
            self.text.push_str(&word.text);
        }
    }

    fn members(&mut self, members: &[Member], depth: usize) {
        for (at, member) in members.iter().enumerate() {
            self.text.push_str(&"\n".repeat(member.empty));
            self.text.push_str(&" ".repeat(depth * 4));
            match &member.kind {
                Kind::Comment(comment) => self.text.push_str(comment),
                Kind::Clause(words, _) => self.words(words, depth),
                Kind::Declaration { head, remark, members, .. } => {
                    self.words(head, depth);
                    self.gap(0, depth);
                    self.text.push('{');
                    match remark {
                        Some(remark) => self.text.push_str(&format!(" {remark}\n")),
                        None => self.text.push('\n'),
                    }
                    self.members(members, depth + 1);
                    self.text.push_str(&" ".repeat(depth * 4));
                    self.text.push('}');
                }
            }
            if let Some(remark) = &member.remark {
                self.text.push_str(&format!("{} {remark}", " ".repeat(self.rng.next_u32() as usize % 4)));
            }
            // Clauses may share a line where no comment ends it.
            let follows = members.get(at + 1).is_some_and(|next| {
                next.empty == 0
                    && matches!(next.kind, Kind::Clause(..))
                    && matches!(member.kind, Kind::Clause(..))
            });
            let clause = depth > 0 && follows && member.remark.is_none();
            let end = match (clause && self.chance(2), self.chance(4)) {
                (false, _) => "\n",
                (true, true) => " ;",
                (true, false) => "  ",
            };
            self.text.push_str(end);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, max_shrink_iters: 20, ..ProptestConfig::default() })]

    #[test]
    fn a_text_laid_out_at_random_comes_back_the_same(which in any::<prop::sample::Index>(), seed in any::<[u8; 32]>()) {
        let mut files = shipped();
        files.extend(expected::files(&expected::folder("syntax/ok"), "rebuild"));
        files.extend(expected::files(&expected::folder("syntax/tidy"), "rebuild"));
        let form = tidy(&read(which.get::<PathBuf>(&files)));
        let members = apart(some_file(), &form).unwrap().members;
        let mut rng = TestRng::from_seed(proptest::test_runner::RngAlgorithm::ChaCha, &seed);
        let mut untidy = Untidy { rng: &mut rng, text: String::new() };
        untidy.members(&members, 0);
        let text = untidy.text;
        let outcome = tidied(some_file(), &text);
        let Some(back) = outcome.value else {
            let told = &outcome.diagnostics[0];
            let at = told.labels[0].span.start().saturating_sub(60);
            let near: String = text.chars().skip(at).take(160).collect();
            return Err(TestCaseError::fail(format!("{}\n{near}", told.message)));
        };
        let differs = back.lines().zip(form.lines()).find(|(back, form)| back != form);
        prop_assert!(back == form, "{differs:?}");
    }
}
