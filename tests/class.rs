//! The class editions: exercises, key, groups with numbers of their own; and `explain`.

use binleaf::booklet::block::{Block, Table, Worked, letters};
use binleaf::booklet::drawing::Mark;
use binleaf::cli::Class;
use binleaf::number::audit;
use binleaf::run::{self, Worked as Plan};

use crate::good_plans;

const PLAN: &str = include_str!("../data/plans/classroom-jars.toml");

fn class(groups: u32) -> Class {
    Class { groups, ..Class::default() }
}

fn plan() -> Plan {
    run::work(PLAN.into(), "classroom-jars.toml")
}

fn blocks(plan: &Plan, key: bool, groups: u32) -> Vec<Block> {
    let booklet = plan.worksheet(key, &class(groups)).unwrap().unwrap();
    booklet.pages.into_iter().flat_map(|p| p.blocks).collect()
}

fn exercises(blocks: &[Block]) -> impl Iterator<Item = &Worked> {
    blocks.iter().filter_map(|b| if let Block::Worked(w) = b { Some(w.as_ref()) } else { None })
}

fn tables(blocks: &[Block]) -> Vec<&Table> {
    blocks.iter().filter_map(|b| if let Block::Table(t) = b { Some(t) } else { None }).collect()
}

/// Tables of answers to the exercises.
fn keys(blocks: &[Block]) -> Vec<&Table> {
    let answers = |t: &&Table| t.columns.first().is_some_and(|c| letters(&c.head) == "For");
    tables(blocks).into_iter().filter(answers).collect()
}

/// Every exercise of every example is there in both editions, in the same order; what pupils are to
/// find stands in the key, and not on their sheet.
#[test]
fn sheet_and_key_have_the_same_exercises() {
    for (name, text) in good_plans() {
        let plan = run::work(text, &name);
        let (sheet, key) = (blocks(&plan, false, 1), blocks(&plan, true, 1));
        let titles =
            |b: &[Block]| exercises(b).map(|w| (w.number, w.title.clone())).collect::<Vec<_>>();
        assert_eq!(titles(&sheet), titles(&key), "{name}");
        assert!(titles(&sheet).len() >= 15, "{name}");
        for (pupil, teacher) in exercises(&sheet).zip(exercises(&key)) {
            let blank = pupil.result.starts_with("____");
            let rows = pupil.others.as_ref().map_or(0, |t| t.rows.len());
            assert!(blank || rows > 0, "{name} {}: nothing to do", pupil.number);
            assert!(!teacher.result.starts_with("____"));
            for row in pupil.others.iter().flat_map(|t| &t.rows) {
                assert!(
                    letters(row.last().unwrap()).is_empty(),
                    "{name} {}: filled in",
                    pupil.number
                );
            }
        }
        let asked: usize =
            exercises(&sheet).map(|w| w.others.as_ref().map_or(1, |t| t.rows.len())).sum();
        let answered: usize = keys(&key).iter().map(|t| t.rows.len()).sum();
        assert_eq!(asked, answered, "{name}");
    }
}

/// What a wrong answer is said to reveal is never within what is accepted.
#[test]
fn no_likely_mistake_is_accepted() {
    let mut slips = 0;
    for (name, text) in good_plans() {
        let plan = run::work(text, &name);
        for table in keys(&blocks(&plan, true, 1)) {
            for row in &table.rows {
                let [_, _, accept, wrong] = &row[..] else { panic!("{name}") };
                let number = |text: &str| text.replace('−', "-").parse::<f64>().ok();
                let accept = letters(accept);
                let ends: Vec<f64> = accept.split(' ').filter_map(number).collect();
                for slip in letters(wrong).split("; ").filter(|s| !s.is_empty()) {
                    let Some(value) = slip.split(':').next().and_then(number) else { continue };
                    let (low, high) = (ends[0], ends[ends.len() - 1]);
                    assert!(value < low || value > high, "{name}: {slip} in {accept}");
                    slips += 1;
                }
            }
        }
    }
    assert!(slips > 30, "{slips}");
}

/// Groups have numbers of their own, the same for the same seed, and each is sound.
#[test]
fn groups_have_their_own_numbers() {
    let plan = plan();
    let two = blocks(&plan, true, 2);
    assert_eq!(two, blocks(&plan, true, 2));
    let results: Vec<String> = exercises(&two).map(|w| w.result.clone()).collect();
    let (first, second) = results.split_at(results.len() / 2);
    let differ = first.iter().zip(second).filter(|(a, b)| a != b).count();
    assert!(3 * differ > 2 * first.len(), "{differ} of {}", first.len());
    assert_ne!(first[0], second[0], "the first exercise can be copied from the next table");
    let sheets = plan.worksheet(false, &class(2)).unwrap().unwrap().pages;
    let heads: Vec<&str> = sheets.iter().map(|page| page.running.as_str()).collect();
    assert!(heads.windows(2).all(|two| two[0] <= two[1]), "{heads:?}");
    assert_eq!((heads[0], *heads.last().unwrap()), ("group 1", "group 2"));
    let (read, _) = plan.done.as_ref().unwrap();
    for group in 1..=60 {
        let varied = read.varied(7, group);
        assert_eq!(varied, read.varied(7, group));
        let library = binleaf::library::Library::embedded();
        let results =
            binleaf::compute::compute(&varied, library, &binleaf::finding::Findings::default());
        for step in &results.steps {
            assert!(audit::faults(step).is_empty(), "group {group}: {}", step.id);
        }
        let weaker = varied.mixes[0].parts.iter().zip(&read.mixes[0].parts);
        for (a, b) in weaker {
            let binleaf::plan::Dose::OfLabelLow(a) = a.dose else { continue };
            let binleaf::plan::Dose::OfLabelLow(b) = b.dose else { continue };
            assert!(a <= b, "group {group} is dosed stronger than the plan");
        }
    }
}

#[test]
fn a_quantity_is_explained_with_what_it_rests_on() {
    let text = run::explain(&plan(), "start-line").unwrap();
    for words in ["Start line", "h_start = ", "h_pot", "(plan)", "published"] {
        assert!(text.contains(words), "{words} is not in\n{text}");
    }
    let wrong = run::explain(&plan(), "start-lien").unwrap_err();
    assert!(wrong.contains("did you mean start-line?"), "{wrong}");
}

/// The page on the pH unit: blanks for the pupil but in the first row of each table, with their
/// unit; in the key the right number, worked here by another power, and it lies in what is accepted.
#[test]
fn a_unit_of_ph_is_ten_times() {
    let number = |text: &str| text.split(' ').next().unwrap().parse::<f64>().unwrap();
    for (name, text) in good_plans() {
        let plan = run::work(text, &name);
        let page = |key: bool| {
            let booklet = plan.worksheet(key, &class(1)).unwrap().unwrap();
            booklet.pages.into_iter().find(|p| p.id == "ph-unit").unwrap()
        };
        let (pupil, key) = (page(false).blocks, page(true).blocks);
        let (pupil, key) = (tables(&pupil), tables(&key));
        let [ions, ratios] = &key[..] else { panic!("{name}") };
        for row in &ions.rows {
            let row: Vec<String> = row.iter().rev().map(|c| letters(c)).collect();
            let [accept, answer, ph, ..] = &row[..] else { panic!("{name}") };
            let right = 1e6 / 10_f64.powf(number(ph));
            assert!((number(answer) / right - 1.0).abs() < 0.005, "{name}: {answer} at pH {ph}");
            let high = number(accept.split(" to ").nth(1).unwrap());
            assert!(number(accept) < right && right < high, "{name}: {accept}");
        }
        for row in &ratios.rows {
            let row: Vec<String> = row.iter().map(|c| letters(c)).collect();
            let ph = |text: &str| number(text.strip_prefix("pH ").unwrap());
            let right = 10_f64.powf(ph(&row[1]) - ph(&row[0]));
            assert!((number(&row[2]) / right - 1.0).abs() < 0.005, "{name}: {row:?}");
        }
        for (sheet, key) in pupil.iter().zip(&key) {
            assert_eq!(sheet.rows.len(), key.rows.len());
            assert!(sheet.row_height >= 8.0, "{name}: no room to write");
            for (i, row) in sheet.rows.iter().enumerate() {
                let cell = letters(row.last().unwrap());
                assert_eq!(cell.starts_with("____"), i > 0, "{name}: {cell}");
                assert!(cell.ends_with(" µmol/L") || cell.ends_with(" times"), "{name}: {cell}");
            }
        }
    }
}

/// There is a page to plot on for each kind of bin, and a table for readings, but not in the key.
#[test]
fn pupils_get_pages_to_write_and_plot_on() {
    let plan = plan();
    let ids = |key: bool, groups: u32| -> Vec<String> {
        let booklet = plan.worksheet(key, &class(groups)).unwrap().unwrap();
        booklet.pages.into_iter().map(|p| p.id).filter(|id| id != "worksheet").collect()
    };
    assert_eq!(ids(false, 1), ["ph-unit", "readings", "plotting"]);
    assert_eq!(ids(true, 1), ["ph-unit"]);
    assert_eq!(ids(false, 3).iter().filter(|id| *id == "plotting").count(), 3);
    let sheet = blocks(&plan, false, 3);
    let figures =
        sheet.iter().filter_map(|b| if let Block::Figure(f) = b { Some(f) } else { None });
    let mut names = std::collections::BTreeSet::new();
    for figure in figures {
        assert!(names.insert(figure.name.clone()), "{} twice", figure.name);
        assert!(figure.width <= 172.0 && figure.height <= 230.0, "{}", figure.name);
        for mark in &figure.marks {
            // A photocopier keeps a line of a tenth of a millimetre, and loses a light grey.
            match mark {
                Mark::Line { weight, .. } | Mark::Comb { weight, .. } => {
                    assert!(*weight >= 0.1, "{}", figure.name);
                }
                Mark::Area { grey, .. } => assert!(grey.is_none(), "{}", figure.name),
                Mark::Words { .. } | Mark::Turned { .. } => {}
            }
        }
    }
    assert_eq!(names.len(), 6);
}

#[test]
fn codes_of_a_curriculum_stand_on_their_topic() {
    let text = include_str!("../data/plans/classroom-jars.toml");
    let with = text.replace("[[bin]]", "[class]\nmixing = \"Ratio, unit 3\"\n\n[[bin]]");
    let plan = run::work(with, "jars.toml");
    assert!(!plan.failed());
    let sheets = plan.worksheet(false, &class(1)).unwrap().unwrap();
    let has = |page: &binleaf::booklet::folio::Page| {
        page.blocks.iter().any(
            |b| matches!(b, Block::Paragraph { text } if letters(text).contains("Ratio, unit 3")),
        )
    };
    let named: Vec<String> =
        sheets.pages.iter().filter(|p| has(p)).map(|p| letters(&p.title)).collect();
    assert_eq!(named, ["What to stir in"]);
    // A topic there is not is a slip of the pen.
    let wrong = text.replace("[[bin]]", "[class]\nmixin = \"3\"\n\n[[bin]]");
    assert!(run::work(wrong, "jars.toml").findings.iter().any(|f| f.message.contains("mixin")));
}
