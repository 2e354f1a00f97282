//! What is held against spoilt input, a function for each kind. A case fails by a panic, or by the sentence that it
//! gives back.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use benchleaf::model::Phase;
use benchleaf::{
    Memory, PacketOptions, PageSetup, Request, Severity, Sources, Workshop, lay_out, tidied, write_pdf,
};

use crate::chance::Chance;
use crate::seeds::{Seed, Seeds};
use crate::spoil::{alike, anywhere, spoilt, typed};

/// A kind of case: runs one, in a folder of its own.
pub struct Target {
    pub name: &'static str,
    pub run: fn(&Seeds, &mut Chance, &Path) -> Result<(), String>,
}

pub const TARGETS: &[Target] = &[
    Target { name: "text", run: |seeds, chance, _| procedure(seeds, chance, anywhere) },
    Target { name: "grammar", run: |seeds, chance, _| procedure(seeds, chance, alike) },
    Target { name: "words", run: words },
    Target { name: "tidy", run: tidy },
    Target { name: "record", run: record },
    Target { name: "shop", run: shop },
    Target { name: "written", run: written },
    Target { name: "edits", run: edits },
    Target { name: "gather", run: gather },
    Target { name: "reckon", run: reckon },
];

const PHASES: [Phase; 4] = [Phase::Strip, Phase::Survey, Phase::Build, Phase::Start];

/// Files in memory with what may be used from beside or above them.
fn files(seeds: &Seeds) -> Memory {
    let name = |seed: &Seed| format!("shared/{}", seed.path.file_name().unwrap().to_string_lossy());
    let with = |files: Memory, seed: &Seed| files.with(name(seed), seed.text.clone());
    seeds.shared.iter().fold(Memory::new(), with)
}

fn one_of<'a>(seeds: &'a Seeds, chance: &mut Chance) -> &'a Seed {
    // A large one now and then: it takes as long as forty small ones.
    if chance.once_in(60) { chance.pick(&seeds.large) } else { chance.pick(&seeds.procedures) }
}

/// Reads a job, and prints a phase of what is sound.
fn printed(workshop: &mut Workshop, request: &Request<'_>, chance: &mut Chance) -> Result<bool, String> {
    let opened = workshop.job(request);
    let wrong = opened.diagnostics.iter().any(|diagnostic| diagnostic.severity() == Severity::Error);
    let Some(view) = opened.value else {
        return if wrong { Ok(false) } else { Err("nothing came, and nothing was said".to_owned()) };
    };
    if wrong {
        return Ok(false);
    }
    let packet = view.packet(workshop, &PacketOptions::of(*chance.pick(&PHASES)));
    let pages = lay_out(&packet, &PageSetup::default());
    // What can't be set on a page is refused here.
    if pages.diagnostics.iter().any(|diagnostic| diagnostic.severity() == Severity::Error) {
        return Ok(false);
    }
    let file = write_pdf(&pages.value);
    whole(&file)?;
    Ok(true)
}

/// Whether a file is a PDF from its head to its end.
fn whole(file: &[u8]) -> Result<(), String> {
    if file.starts_with(b"%PDF-") && file.trim_ascii_end().ends_with(b"%%EOF") {
        Ok(())
    } else {
        Err("the PDF isn't whole".to_owned())
    }
}

fn procedure(
    seeds: &Seeds,
    chance: &mut Chance,
    slip: fn(&str, &str, &mut Chance) -> String,
) -> Result<(), String> {
    let seed = one_of(seeds, chance);
    let text = spoilt(&seed.text, &chance.pick(&seeds.procedures).text, chance, slip);
    let mut workshop = Workshop::over(files(seeds).with("it.rebuild", text));
    let said = workshop.check(Path::new("it.rebuild")).diagnostics;
    let wrong = said.iter().any(|diagnostic| diagnostic.severity() == Severity::Error);
    // One that could be printed is, for one in four: it takes the longest.
    if wrong || chance.once_in(4) {
        let came = printed(&mut workshop, &Request::of("it.rebuild"), chance)?;
        if wrong && came {
            return Err("printed, though `check` has errors".to_owned());
        }
    }
    Ok(())
}

/// A text of the language's own words, in no order at all.
fn words(seeds: &Seeds, chance: &mut Chance, _: &Path) -> Result<(), String> {
    let mut text = String::from("family x \"X\" { origin \"invented\" }\n");
    for _ in 0..chance.below(120) {
        match chance.below(12) {
            0 => text.push('{'),
            1 => text.push('}'),
            2 => text.push('\n'),
            3 => text += &typed(chance),
            4 => text += &format!("\"{}\"", typed(chance)),
            5 => text += *chance.pick(&["=", ",", "..", "[", "]", "(", ")", "-", "*", "/", ":"]),
            _ => text += chance.pick(&seeds.words).as_str(),
        }
        text.push(' ');
    }
    let mut workshop = Workshop::over(files(seeds).with("it.rebuild", text));
    printed(&mut workshop, &Request::of("it.rebuild"), chance).map(drop)
}

/// The one form of a text is its own form, and means the same.
fn tidy(seeds: &Seeds, chance: &mut Chance, _: &Path) -> Result<(), String> {
    let seed = one_of(seeds, chance);
    let slip = if chance.once_in(2) { anywhere } else { alike };
    let text = spoilt(&seed.text, &chance.pick(&seeds.procedures).text, chance, slip);
    let mut sources = Sources::new();
    let file = sources.add("it.rebuild", text.as_str());
    let Some(form) = tidied(file, &text).value else { return Ok(()) };
    let again = tidied(sources.add("form.rebuild", form.as_str()), &form).value;
    if again.as_ref() == Some(&form) { Ok(()) } else { Err(format!("its form has another form:\n{form}")) }
}

/// Puts the files of a job into memory.
fn job_files(seeds: &Seeds, procedure: &Seed, record: String) -> Memory {
    let name = procedure.path.file_name().unwrap();
    files(seeds).with(name, procedure.text.clone()).with("job.yaml", record)
}

fn record(seeds: &Seeds, chance: &mut Chance, _: &Path) -> Result<(), String> {
    let (record, procedure) = chance.pick(&seeds.jobs);
    // The jobs of the large engines take as long as forty of others.
    if procedure.text.len() > 20_000 && !chance.once_in(40) {
        return self::record(seeds, chance, Path::new(""));
    }
    let slip = if chance.once_in(2) { anywhere } else { alike };
    let text = spoilt(&record.text, &chance.pick(&seeds.jobs).0.text, chance, slip);
    let mut workshop = Workshop::over(job_files(seeds, procedure, text));
    let name = PathBuf::from(procedure.path.file_name().unwrap());
    let request = Request { record: Some(Path::new("job.yaml")), ..Request::of(&name) };
    printed(&mut workshop, &request, chance).map(drop)
}

fn shop(seeds: &Seeds, chance: &mut Chance, _: &Path) -> Result<(), String> {
    let (crib, prices, record, procedure) = chance.pick(&seeds.shops);
    let spoil = |seed: &Seed, other: &Seed, chance: &mut Chance| {
        if chance.once_in(3) { seed.text.clone() } else { spoilt(&seed.text, &other.text, chance, alike) }
    };
    let crib_text = spoil(crib, prices, chance);
    let prices_text = spoil(prices, crib, chance);
    let files = job_files(seeds, procedure, record.text.clone());
    let mut workshop = Workshop::over(files.with("crib.yaml", crib_text).with("prices.yaml", prices_text));
    let name = PathBuf::from(procedure.path.file_name().unwrap());
    let request = Request {
        record: Some(Path::new("job.yaml")),
        crib: Some(Path::new("crib.yaml")),
        prices: Some(Path::new("prices.yaml")),
        ..Request::of(&name)
    };
    let opened = workshop.job(&request);
    let wrong = opened.diagnostics.iter().any(|diagnostic| diagnostic.severity() == Severity::Error);
    if opened.value.is_none() && !wrong {
        return Err("nothing came, and nothing was said".to_owned());
    }
    Ok(())
}

/// Runs the program in this process.
fn run(words: &[&str]) -> bool {
    let words = std::iter::once("benchleaf").chain(words.iter().copied()).map(OsString::from);
    let code = benchleaf::run(words);
    code == ExitCode::SUCCESS
}

/// Writes the files of a small job into the folder.
fn small_job(seeds: &Seeds, chance: &mut Chance, folder: &Path) -> String {
    let small: Vec<&(Seed, Seed)> =
        seeds.jobs.iter().filter(|(_, procedure)| procedure.text.len() <= 20_000).collect();
    let (record, procedure) = chance.pick(&small);
    let name = procedure.path.file_name().unwrap();
    fs::write(folder.join(name), &procedure.text).unwrap();
    record.text.clone()
}

/// On the disk, for everything that writes a file: what is refused leaves what stood there, what is written is whole, and
/// no input changes.
fn written(seeds: &Seeds, chance: &mut Chance, folder: &Path) -> Result<(), String> {
    let seed = chance.pick(&seeds.procedures);
    let text = spoilt(&seed.text, &chance.pick(&seeds.procedures).text, chance, alike);
    let (procedure, sound) = (folder.join("it.rebuild"), folder.join("sound.rebuild"));
    fs::write(&procedure, &text).unwrap();
    fs::write(&sound, &seed.text).unwrap();
    let own = procedure.to_str().unwrap();
    let phase = *chance.pick(&["strip", "survey", "build", "start"]);
    let (ending, mut words) = match chance.below(5) {
        0 => ("svg", vec!["graph", own]),
        1 => ("pdf", vec!["compare", sound.to_str().unwrap(), own]),
        2 => ("html", vec!["packet", own, "--phase", phase]),
        _ => ("pdf", vec!["packet", own, "--phase", phase]),
    };
    let out = folder.join("out").with_extension(ending);
    let before: &[u8] = match ending {
        "pdf" => b"%PDF-1.7 an old packet %%EOF",
        "html" => b"<!--benchleaf--> an old packet",
        _ => b"<svg old/>",
    };
    fs::write(&out, before).unwrap();
    let over_itself = chance.once_in(10);
    let out_name = if over_itself { &procedure } else { &out };
    words.extend(["-o", out_name.to_str().unwrap()]);
    let came = run(&words);
    if fs::read_to_string(&procedure).unwrap() != text {
        return Err("the procedure was written over".to_owned());
    }
    let wrong = {
        let mut workshop = Workshop::over(files(seeds).with("it.rebuild", text));
        let said = workshop.check(Path::new("it.rebuild")).diagnostics;
        said.iter().any(|diagnostic| diagnostic.severity() == Severity::Error)
    };
    let after = fs::read(&out).unwrap();
    match (came, over_itself) {
        (true, true) => Err("it says that it printed over its own procedure".to_owned()),
        (true, false) if wrong && words[0] == "packet" => {
            Err("printed, though `check` has errors".to_owned())
        }
        (true, false) if after == before => Err("it says that it printed, and didn't".to_owned()),
        (true, false) if ending == "pdf" => whole(&after),
        (false, _) if after != before => Err("refused, and yet the old file is gone".to_owned()),
        _ => Ok(()),
    }
}

/// What a word of a record's entry may be: a name of the procedure, a number, anything.
fn word(procedure: &str, chance: &mut Chance) -> String {
    if chance.once_in(3) {
        return typed(chance);
    }
    let names: Vec<&str> =
        procedure.split(|c: char| !c.is_ascii_alphanumeric() && c != '_').filter(|w| !w.is_empty()).collect();
    let name = names[chance.below(names.len())];
    match chance.below(4) {
        0 => format!("{name}[{}]", chance.below(4)),
        1 => format!("{name}[{}, {}]", chance.below(4), chance.pick(&["inlet", "exhaust", "x"])),
        _ => name.to_owned(),
    }
}

const ENTRIES: &[(&str, usize)] = &[
    ("done", 1),
    ("not-done", 2),
    ("reading", 3),
    ("look", 2),
    ("answer", 2),
    ("note", 2),
    ("length", 3),
    ("settled", 2),
    ("chosen", 2),
    ("present", 2),
    ("approved", 0),
    ("ordered", 1),
    ("arrived", 1),
    ("compared", 1),
    ("sent", 1),
    ("back", 1),
    ("refused", 1),
    ("accepted", 1),
    ("undo", 0),
];

/// Entries into a record that is spoilt or sound: a refusal changes nothing, an entry leaves every comment and can be
/// taken back to the letter.
fn edits(seeds: &Seeds, chance: &mut Chance, folder: &Path) -> Result<(), String> {
    let mut text = small_job(seeds, chance, folder);
    if chance.once_in(2) {
        text = spoilt(&text, "", chance, alike);
    }
    let path = folder.join("job.yaml");
    let _ = fs::remove_file(folder.join("sitting.yaml"));
    fs::write(&path, &text).unwrap();
    let procedure = text.lines().find_map(|line| line.strip_prefix("procedure: ")).unwrap_or_default();
    let procedure = fs::read_to_string(folder.join(procedure.trim())).unwrap_or_else(|_| "bore x".to_owned());
    for _ in 0..3 {
        let before = fs::read_to_string(&path).unwrap();
        let (entry, count) = chance.pick(ENTRIES);
        let mut line = vec!["record".to_owned(), path.to_string_lossy().into_owned(), (*entry).to_owned()];
        line.extend((0..*count).map(|_| word(&procedure, chance)));
        if chance.once_in(3) {
            line.extend(["--by".to_owned(), (*chance.pick(&["HK", "José", "é°", ""])).to_owned()]);
        }
        let line: Vec<&str> = line.iter().map(String::as_str).collect();
        let came = run(&line);
        let after = fs::read_to_string(&path).unwrap();
        if !came && after != before {
            return Err(format!("refused, and yet changed: {line:?}"));
        }
        let comments = |text: &str| text.matches('#').count();
        if came && *entry != "undo" {
            if comments(&after) < comments(&before) {
                return Err(format!("a comment is gone: {line:?}"));
            }
            if after != before && run(&["record", line[1], "undo"]) {
                let back = fs::read_to_string(&path).unwrap();
                if back != before {
                    return Err(format!(
                        "taken back, and yet not as before: {line:?}\n{before}\n---\n{back}"
                    ));
                }
            }
        }
    }
    Ok(())
}

/// What is typed off paper: a refusal changes nothing.
fn gather(seeds: &Seeds, chance: &mut Chance, folder: &Path) -> Result<(), String> {
    let text = small_job(seeds, chance, folder);
    let (path, packet) = (folder.join("job.yaml"), folder.join("sheets.pdf"));
    let _ = fs::remove_file(folder.join("sitting.yaml"));
    fs::write(&path, &text).unwrap();
    let (job, out) = (path.to_str().unwrap(), packet.to_str().unwrap());
    let phase = *chance.pick(&["strip", "survey"]);
    if !run(&["packet", job, "--phase", phase, "--all", "-o", out]) {
        return Ok(());
    }
    let table = folder.join("table.csv");
    let _ = fs::remove_file(&table);
    for _ in 0..4 {
        let before = fs::read_to_string(&path).unwrap();
        let came = if chance.once_in(4) {
            let table_name = table.to_str().unwrap();
            run(&["gather", out, "--job", job, "--table", table_name]);
            if let Ok(rows) = fs::read_to_string(&table) {
                fs::write(&table, spoilt(&rows, &text, chance, alike)).unwrap();
            }
            run(&["gather", out, "--job", job, "--by", "HK", "--table", table_name])
        } else {
            let mut line = vec![
                "gather".to_owned(),
                out.to_owned(),
                "--job".to_owned(),
                job.to_owned(),
                "--by".to_owned(),
                "HK".to_owned(),
            ];
            for _ in 0..=chance.below(3) {
                let number = format!("{}.{}", chance.below(12), chance.below(6));
                line.push(if chance.once_in(4) { "done".to_owned() } else { number });
                line.extend((0..=chance.below(3)).map(|_| typed(chance)));
            }
            let line: Vec<&str> = line.iter().map(String::as_str).collect();
            run(&line)
        };
        let after = fs::read_to_string(&path).unwrap();
        if !came && after != before {
            return Err("refused, and yet changed".to_owned());
        }
    }
    Ok(())
}

/// Command lines of `reckon`.
fn reckon(_: &Seeds, chance: &mut Chance, _: &Path) -> Result<(), String> {
    const FORMS: &[&str] = &[
        "thread M10x1.25 --class 10.9",
        "torque M10x1.25 --class 8.8 --friction 0.12",
        "torque M8 --torque \"25 N.m\"",
        "wrench \"80 N.m\" --length \"400 mm\" --adapter \"60 mm\"",
        "angle M10 --class 10.9 --turn \"90 deg\"",
        "pattern 10",
        "lift \"40 kg\"",
        "fit H7/p6 \"40 mm\"",
        "clearance \"40.02 mm\" \"39.98 mm\"",
        "heat \"40 mm\" --interference \"0.03 mm\"",
        "displacement \"74 mm\" \"86 mm\" --cylinders 3",
        "shim \"0.35 mm\"",
        "spring --wire \"4 mm\"",
        "timing 12 48",
        "piston \"86 mm\" \"140 mm\" \"30 deg\"",
        "runout \"0.06 mm\"",
        "backlash \"0.12 mm\" --radius \"60 mm\"",
        "pull \"20 N\" \"0.3 m\"",
        "tapping M8",
        "table M8",
        "units \"1 in\"",
        "press H7/p6 \"40 mm\"",
        "injector \"120 bar\"",
        "sling \"100 kg\"",
        "bearing \"50.02 mm\"",
        "ring-gap \"0.3 mm\"",
        "compression",
        "stretch M10",
        "release",
    ];
    let seed: &str = chance.pick::<&str>(FORMS);
    let form = spoilt(seed, &FORMS.join(" "), chance, alike);
    let mut line = vec!["reckon".to_owned()];
    let mut quoted = false;
    for stretch in form.split('"') {
        if quoted {
            line.push(stretch.to_owned());
        } else {
            line.extend(stretch.split_whitespace().map(str::to_owned));
        }
        quoted = !quoted;
    }
    if chance.once_in(3) {
        line.push(typed(chance));
    }
    let line: Vec<&str> = line.iter().map(String::as_str).collect();
    run(&line);
    Ok(())
}
