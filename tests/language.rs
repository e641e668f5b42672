//! Other languages: every text of every booklet has its words, and nothing else changes.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use binleaf::booklet::{self, Grow};
use binleaf::cli::Class;
use binleaf::library::tongue::TONGUES;
use binleaf::look;
use binleaf::number::figures::System;
use binleaf::plan::{Dose, Plan};
use binleaf::run::{self, Worked};

/// Plans that can be made: the examples, and bad plans whose worst is a caution.
fn plans() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folders = ["data/plans", "tests/plans/good", "tests/plans/bad"];
    let mut all: Vec<PathBuf> = folders
        .iter()
        .flat_map(|folder| std::fs::read_dir(root.join(folder)).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .collect();
    all.sort();
    all
}

/// A plan in another language; `None` if it has errors.
fn spoken(path: &Path, code: &str) -> Option<Worked> {
    let text = std::fs::read_to_string(path).ok()?;
    let line = format!("language = \"{code}\"");
    let text = if text.contains("\n[print]\n") {
        text.replace("\n[print]\n", &format!("\n[print]\n{line}\n"))
    } else {
        format!("print = {{ {line} }}\n{text}")
    };
    let worked = run::work(text, &path.to_string_lossy());
    (!worked.failed()).then_some(worked)
}

/// Every text that a language has no words for.
fn untold(code: &str) -> BTreeSet<String> {
    let mut all = BTreeSet::new();
    let mut made = 0;
    for path in plans() {
        let Some(worked) = spoken(&path, code) else { continue };
        made += 1;
        let class = Class { groups: 2, ..Class::default() };
        let sheets = [false, true].map(|key| worked.worksheet(key, &class));
        for booklet in [worked.booklet(), worked.shelf()].into_iter().chain(sheets) {
            let booklet = booklet.unwrap().unwrap();
            assert_eq!(booklet.language, code);
            all.extend(booklet.untold);
        }
    }
    assert!(made > 30, "{made}");
    all.extend(untold_of_logs(code));
    all
}

/// The same of the sheets that logs give back, good ones and bad.
fn untold_of_logs(code: &str) -> BTreeSet<String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let worked = spoken(&root.join("data/plans/shelf-totes.toml"), code).unwrap();
    let (plan, results) = worked.done.as_ref().unwrap();
    let library = binleaf::library::Library::embedded();
    let grow = Grow { plan, results, library, findings: &worked.findings, digest: &worked.digest };
    let mut all = BTreeSet::new();
    for folder in ["data/logs", "tests/logs/bad"] {
        for entry in std::fs::read_dir(root.join(folder)).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_none_or(|e| e != "csv") {
                continue;
            }
            let looked = look::review(&worked, &std::fs::read_to_string(&path).unwrap());
            let sheet = booklet::review::review(&grow, &looked.bins, &looked.findings).unwrap();
            all.extend(sheet.untold);
        }
    }
    all
}

/// Words that stand in nearly every English sentence and in no Spanish one.
const ENGLISH: [&str; 14] = [
    "the", "and", "with", "from", "which", "when", "not", "are", "for", "this", "that", "then",
    "into", "until",
];

#[test]
fn no_english_sentence_is_printed() {
    for tongue in TONGUES {
        for path in plans().iter().filter(|p| p.to_string_lossy().contains("data/plans")) {
            let worked = spoken(path, tongue.code).unwrap();
            let class = Class::default();
            let sheets = [false, true].map(|key| worked.worksheet(key, &class));
            for booklet in [worked.booklet(), worked.shelf()].into_iter().chain(sheets) {
                let mut booklet = booklet.unwrap().unwrap();
                // The plan, letter for letter; the grower's notes; titles of books.
                booklet.pages.retain(|p| !["plan", "notes", "sources"].contains(&p.id.as_str()));
                let text = binleaf::write::markdown::write(&booklet, "drawings");
                for line in text.lines().filter(|l| !own_or_title(l, &worked)) {
                    let words = line.split(|c: char| !c.is_alphanumeric());
                    let found: Vec<&str> = words.filter(|w| ENGLISH.contains(w)).collect();
                    assert!(found.is_empty(), "{}: {found:?} in {line}", path.display());
                }
            }
        }
    }
}

/// Every booklet of an example plan in a language, its pages with words of ours, as lines.
fn lines_of(path: &Path, code: &str) -> (Worked, Vec<String>) {
    let worked = spoken(path, code).unwrap();
    let class = Class::default();
    let sheets = [false, true].map(|key| worked.worksheet(key, &class));
    let mut all = Vec::new();
    for booklet in [worked.booklet(), worked.shelf()].into_iter().chain(sheets) {
        let mut booklet = booklet.unwrap().unwrap();
        booklet.pages.retain(|p| !["plan", "notes"].contains(&p.id.as_str()));
        let text = binleaf::write::markdown::write(&booklet, "drawings");
        all.extend(text.lines().map(str::to_string));
    }
    (worked, all)
}

/// Where in a line a mark stands between digits, and no second one, as in a version.
fn marked(line: &str, mark: char) -> bool {
    let words = line.split(|c: char| !c.is_ascii_digit() && c != mark);
    words.map(|w| w.trim_matches(mark)).any(|w| w.matches(mark).count() == 1)
}

#[test]
fn numbers_names_and_units_are_written_one_way() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/plans");
    let mut names = 0;
    for path in plans().iter().filter(|p| p.starts_with(&folder)) {
        let (worked, lines) = lines_of(path, "es");
        let (plan, _) = worked.done.as_ref().unwrap();
        let other = if plan.system == System::Metric { '.' } else { ',' };
        for line in &lines {
            assert!(!marked(line, other), "{}: {line}", path.display());
            // Formulas have the units of the tables, and say no English between them.
            for word in [" tsp", "/tsp", " per ", " g in ", " and others"] {
                assert!(!line.contains(word), "{}: {word} in {line}", path.display());
            }
        }
        let text = lines.join("\n");
        // Names of a plan stay whole, but for hyphens that do not break; salts of ours are Spanish.
        for name in plan.feeds.iter().map(|f| f.name.replace('-', "\u{2011}")) {
            if let Some((_, salt)) = SALTS.iter().find(|(english, _)| *english == name) {
                assert!(text.contains(salt) && !text.contains(name.as_str()), "{name}");
                continue;
            }
            names += text.matches(name.as_str()).count();
            assert!(text.contains(name.as_str()) && !text.contains("Botella A"), "{name}");
        }
    }
    assert!(names > 100, "{names}");
}

/// Salts of the example plans that are called as in our data.
const SALTS: [(&str, &str); 8] = [
    ("Calcium nitrate", "Nitrato de calcio"),
    ("Potassium nitrate", "Nitrato de potasio"),
    ("Magnesium nitrate", "Nitrato de magnesio"),
    ("Monopotassium phosphate", "Fosfato monopotásico"),
    ("Boric acid", "Ácido bórico"),
    ("Manganese sulfate", "Sulfato de manganeso"),
    ("Zinc sulfate", "Sulfato de zinc"),
    ("Copper sulfate", "Sulfato de cobre"),
];

/// Whether a line holds words of the plan that may be English, or names a source of a calculation.
fn own_or_title(line: &str, worked: &Worked) -> bool {
    let (plan, _) = worked.done.as_ref().unwrap();
    let own = [&plan.title, &plan.place, &plan.keeper, &plan.water.name];
    let title = line.contains("Source") || line.contains("Fuente") || line.starts_with('*');
    title || own.iter().any(|name| !name.is_empty() && line.contains(name.as_str()))
}

#[test]
fn nothing_is_left_in_english() {
    for tongue in TONGUES {
        let untold = untold(tongue.code);
        if let Ok(path) = std::env::var("BINLEAF_UNTOLD") {
            let lines: Vec<&str> = untold.iter().map(String::as_str).collect();
            std::fs::write(path, lines.join("\n")).unwrap();
        }
        assert!(untold.is_empty(), "{} texts, such as {:#?}", untold.len(), untold.iter().take(12));
    }
}

/// What a page asks for (values, calls, conditions; `else` and `endif` are only grammar), sorted.
/// Keys stay; texts that are printed, known by a space, may be translated.
fn asked(page: &str) -> Vec<String> {
    let mut all = Vec::new();
    for (open, close) in [("{{", "}}"), ("{%", "%}")] {
        for piece in page.split(open).skip(1) {
            let inside = piece.split(close).next().unwrap().trim();
            let literal = |(i, part): (usize, &str)| {
                let printed = i % 2 == 1 && part.contains(' ');
                if printed { String::new() } else { part.to_string() }
            };
            let parts: Vec<String> = inside.split('"').enumerate().map(literal).collect();
            all.push(parts.join("\""));
        }
    }
    all.retain(|a| a != "else" && a != "endif");
    all.sort();
    all
}

/// Numbers of headings, of numbered and other list items, and of alerts of each voice.
fn shape(page: &str) -> Vec<(&'static str, usize)> {
    let lines = || page.lines().map(|l| l.trim_start_matches(['>', ' ']));
    let starts = |mark: &'static str| (mark, lines().filter(|l| l.starts_with(mark)).count());
    let numbered = |l: &&str| {
        l.split_once(". ")
            .is_some_and(|(n, _)| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()))
    };
    let marks = ["# ", "## ", "### ", "- ", "[!NOTE]", "[!TIP]", "[!CAUTION]", "[!WARNING]"];
    let mut all: Vec<_> = marks.into_iter().chain(["[!IMPORTANT]"]).map(starts).collect();
    all.push(("1. ", lines().filter(numbered).count()));
    all
}

#[test]
fn pages_ask_for_the_same_in_every_tongue() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/pages");
    let mut wrong = Vec::new();
    let mut compared = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_stem().unwrap().to_str().unwrap().to_string();
        let english = std::fs::read_to_string(&path).unwrap();
        compared += 1;
        for tongue in TONGUES {
            let Some((_, own)) = tongue.pages.iter().find(|(page, _)| *page == name) else {
                wrong.push(format!("{}: no page {name}", tongue.code));
                continue;
            };
            let (here, there) = (asked(own), asked(&english));
            if here != there {
                let less = there.iter().filter(|a| !here.contains(a)).collect::<Vec<_>>();
                let more = here.iter().filter(|a| !there.contains(a)).collect::<Vec<_>>();
                wrong.push(format!("{} {name}: lacks {less:?}, adds {more:?}", tongue.code));
            }
            if shape(own) != shape(&english) {
                let (here, there) = (shape(own), shape(&english));
                wrong.push(format!("{} {name}: {here:?} for {there:?}", tongue.code));
            }
        }
    }
    assert!(compared > 30, "{compared}");
    wrong.sort();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// A plan with other numbers, far from what was looked at: weaker and stronger feeds, waters and bottles, trials
/// that read higher and lower, wider bins, other air; some of it left out.
fn moved(plan: &Plan, random: &mut fastrand::Rng) -> Plan {
    let mut between = |low: f64, high: f64| low + (high - low) * random.f64();
    let mut plan = plan.clone();
    for mix in &mut plan.mixes {
        for trial in &mut mix.trials {
            let (higher, wider) = (between(-0.8, 0.8), between(0.5, 1.6));
            for (added, ph) in &mut trial.readings {
                (*added, *ph) = (*added * wider, *ph + higher);
            }
        }
        for part in &mut mix.parts {
            if let Dose::OfLabelLow(times) = &mut part.dose {
                *times *= between(0.5, 2.2);
            }
        }
    }
    plan.climate.air = plan.climate.air.map(|air| air + between(-10.0, 14.0));
    plan.climate.humidity = plan.climate.humidity.filter(|_| between(0.0, 1.0) > 0.3);
    plan.climate.light = plan.climate.light.filter(|_| between(0.0, 1.0) > 0.3);
    plan.water.alkalinity = plan.water.alkalinity.map(|alkalinity| alkalinity * between(0.0, 3.0));
    plan.water.alkalinity = plan.water.alkalinity.filter(|_| between(0.0, 1.0) > 0.15);
    plan.water.ph = plan.water.ph.map(|ph| ph + between(-1.5, 1.0));
    for bottle in &mut plan.adjusters {
        bottle.strength = bottle.strength.map(|strength| strength * between(0.3, 3.0));
        if between(0.0, 1.0) < 0.3 {
            (bottle.strength, bottle.molar) = (None, None);
        }
    }
    for bin in &mut plan.bins {
        bin.vessel = bin.vessel.larger(between(0.4, 2.5), between(0.7, 1.5));
    }
    plan
}

/// Numbers of a plan bring sentences that no example has.
#[test]
fn nothing_is_left_in_english_whatever_the_numbers() {
    let library = binleaf::library::Library::embedded();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/plans");
    // More, to look for what is missing: BINLEAF_MOVED=25.
    let often = std::env::var("BINLEAF_MOVED").map_or(3, |n| n.parse().unwrap());
    let mut random = fastrand::Rng::with_seed(7);
    for tongue in TONGUES {
        let mut untold = BTreeSet::new();
        for path in plans().iter().filter(|path| often > 3 || path.starts_with(&folder)) {
            let Some(mut worked) = spoken(path, tongue.code) else { continue };
            let (plan, _) = worked.done.take().unwrap();
            for _ in 0..often {
                let plan = moved(&plan, &mut random);
                let findings = binleaf::finding::Findings::default();
                let results = binleaf::compute::compute(&plan, library, &findings);
                worked.done = Some((plan, results));
                let key = worked.worksheet(true, &Class::default());
                let made = [worked.booklet(), worked.shelf(), key];
                untold.extend(made.into_iter().flat_map(|made| made.unwrap().unwrap().untold));
            }
        }
        assert!(untold.is_empty(), "{} texts: {untold:#?}", untold.len());
    }
}
