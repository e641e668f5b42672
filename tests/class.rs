//! The class editions: exercises, key, groups with numbers of their own; and `explain`.

use binleaf::booklet::block::{Block, Table, Worked, letters};
use binleaf::booklet::drawing::{Drawing, Mark};
use binleaf::cli::Class;
use binleaf::number::{Expression, Symbol, audit};
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
        let answered: usize = answered(&key).iter().map(|(_, answers)| answers.len()).sum();
        assert_eq!(asked, answered, "{name}");
    }
}

/// Readings are taken in the plan's own bins, whatever numbers a group has for its sums: each group plots
/// over the forecast of the plan.
#[test]
fn every_group_plots_over_the_forecast_of_the_plan() {
    let charts = |groups| -> Vec<String> {
        let booklet = plan().worksheet(false, &class(groups)).unwrap().unwrap();
        let plotting = booklet.pages.into_iter().filter(|page| page.id == "plotting");
        let alt = |block| if let Block::Figure(drawing) = block { Some(drawing.alt) } else { None };
        let figures = plotting.flat_map(|page| page.blocks).filter_map(alt);
        figures.collect()
    };
    let own = charts(1);
    assert!(!own.is_empty() && own.iter().all(|alt| alt.contains("169 mm")), "{own:?}");
    assert_eq!(charts(3), [own.clone(), own.clone(), own].concat());
}

/// An answer of the key: what is accepted, and each wrong one with what it is said to reveal.
struct Answer {
    accept: String,
    wrong: Vec<(f64, String)>,
}

fn number(text: &str) -> f64 {
    text.replace('−', "-").parse().unwrap_or_else(|_| panic!("no number: {text}"))
}

/// The answers to each exercise of a key, by its title.
fn answered(blocks: &[Block]) -> Vec<(String, Vec<Answer>)> {
    exercises(blocks).map(|w| (w.title.clone(), judged(w))).collect()
}

/// An exercise is one, with its answers beside it, or it has a table of others.
fn judged(worked: &Worked) -> Vec<Answer> {
    let accept = worked.accept.strip_prefix("Accept ");
    assert_eq!(accept.is_some(), worked.others.is_none(), "{}", worked.title);
    let single = accept.map(|accept| Answer { accept: accept.into(), wrong: Vec::new() });
    let rows = worked.others.iter().flat_map(|t| t.rows.iter().map(|row| beside(t, row)));
    let mut answers: Vec<Answer> = single.into_iter().chain(rows).collect();
    for wrong in &worked.wrong {
        let (numbers, says) = wrong.split_once(". Somebody ").unwrap();
        let numbers: Vec<&str> = numbers.split_once(": ").unwrap().1.split("; ").collect();
        assert_eq!(numbers.len(), answers.len(), "{wrong}");
        for (answer, wrong) in answers.iter_mut().zip(numbers) {
            answer.wrong.push((number(wrong), says.to_string()));
        }
    }
    answers
}

/// A row of answers; its last column, if there is one, has something to say somewhere.
fn beside(table: &Table, row: &[Vec<binleaf::booklet::block::Inline>]) -> Answer {
    let mut wrong = Vec::new();
    if let [_, _, _, said] = row {
        let filled = |row: &Vec<Vec<_>>| !letters(&row[3]).is_empty();
        assert!(table.rows.iter().any(filled), "an empty column");
        for slip in letters(said).split("; ").filter(|s| !s.is_empty()) {
            let (value, says) = slip.split_once(": ").unwrap();
            wrong.push((number(value), says.to_string()));
        }
    }
    Answer { accept: letters(&row[2]), wrong }
}

/// Whoever copies the result that is worked above a table is never right in it.
#[test]
fn no_worked_result_can_be_copied() {
    let mut seen = 0;
    for (name, text) in good_plans() {
        let plan = run::work(text, &name);
        for groups in [1, 5] {
            let key = blocks(&plan, true, groups);
            for worked in exercises(&key).filter(|w| w.others.is_some()) {
                let result = number(worked.result.split(' ').next().unwrap());
                for answer in judged(worked) {
                    let (from, to) = ends(&answer.accept);
                    let place = format!("{name} {} {}", worked.number, worked.title);
                    assert!(!(from..=to).contains(&result), "{place}: {result}");
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 1000, "{seen}");
}

/// The least and the most that is accepted: "3.5 to 3.9 L", or one number.
fn ends(accept: &str) -> (f64, f64) {
    let mut words = accept.split(' ');
    let from = number(words.next().unwrap());
    let to = if words.next() == Some("to") { number(words.next().unwrap()) } else { from };
    (from, to)
}

/// What a wrong answer is said to reveal is never within what is accepted.
#[test]
fn no_likely_mistake_is_accepted() {
    let mut slips = 0;
    for (name, text) in good_plans() {
        let plan = run::work(text, &name);
        for (title, answers) in answered(&blocks(&plan, true, 1)) {
            for Answer { accept, wrong } in answers {
                let (low, high) = ends(&accept);
                for (value, says) in wrong {
                    let outside = value < low || value > high;
                    assert!(outside, "{name} {title}: {value}, {says}, in {accept}");
                    slips += 1;
                }
            }
        }
    }
    assert!(slips > 80, "{slips}");
}

/// The numbers of a worked line, in order.
fn numbers(line: &str) -> Vec<f64> {
    let words = line.split([' ', '(', ')']);
    words.filter_map(|w| w.parse().ok()).collect()
}

/// What a mistake makes of the numbers, worked by hand from the line that is printed.
#[test]
fn likely_mistakes_are_what_is_said() {
    let hand = |says: &str, n: &[f64]| match (says, n) {
        ("divided the wrong way round.", [d, v, last]) => Some(d * last / v),
        ("divided the wrong way round.", [mass, spoon]) => Some(spoon / mass),
        ("put in gallons where litres belong.", [rate, litres]) => Some(rate * litres / 3.785_412),
        ("forgot to divide by the litres of a gallon.", [rate, spoon, _]) => Some(rate * spoon),
        ("took the immersion away instead of adding it.", [pot, deep]) => Some(pot - deep),
        ("put in per cent instead of mg/g.", [rate, w, rest @ ..]) => {
            Some(rate * w / 10.0 * rest.iter().product::<f64>())
        }
        ("took the oxide on the label for the element.", [rate, w, _]) => Some(rate * w),
        ("forgot how many plants there are.", [_, each]) => Some(*each),
        ("turned it upside down: litres for a millimetre.", [_, area]) => Some(*area),
        (says, [light, hours, _]) if says.contains("moles an hour") => Some(light * hours),
        (says, [pi, d, _]) if says.contains("as if the diameter") => Some(pi * d * d),
        _ => None,
    };
    let mut met = std::collections::BTreeSet::new();
    for (name, text) in good_plans() {
        let plan = run::work(text, &name);
        let key = blocks(&plan, true, 1);
        let sheet = blocks(&plan, false, 1);
        for ((worked, pupil), (title, answers)) in
            exercises(&key).zip(exercises(&sheet)).zip(answered(&key))
        {
            // Only what is worked in full can be checked by its line.
            if pupil.others.is_some() {
                continue;
            }
            for (value, says) in answers.iter().flat_map(|a| &a.wrong) {
                let n = numbers(&worked.numbers.replace('²', ""));
                let right =
                    hand(says, &n).unwrap_or_else(|| panic!("{name} {title}: {says} {n:?}"));
                assert!((value / right - 1.0).abs() < 0.01, "{name} {title}: {value}, {right}");
                met.insert(says.clone());
            }
        }
    }
    assert!(met.len() >= 7, "{met:?}");
}

/// No sum is met twice, none is nothing times something, and blanks have the unit of the key.
#[test]
fn every_exercise_is_worth_doing() {
    let mut counted = 0;
    for (name, text) in good_plans() {
        let plan = run::work(text, &name);
        let (sheet, key) = (blocks(&plan, false, 1), blocks(&plan, true, 1));
        let mut sums = std::collections::BTreeSet::new();
        for (pupil, key) in exercises(&sheet).zip(exercises(&key)) {
            let place = format!("{name} {} {}", key.number, key.title);
            assert!(sums.insert((&pupil.source, &key.numbers)), "{place}: again");
            let value = key.result.split(' ').next().unwrap();
            assert!(value != "0" && key.result != "1", "{place} is trivial: {}", key.result);
            if let [a, b] = key.numbers.split(" ÷ ").collect::<Vec<_>>()[..] {
                assert_ne!(a, b, "{place}");
            }
            if pupil.shown {
                assert_eq!((pupil.lines, key.lines), (0, 0), "{place}");
                continue;
            }
            let unit = pupil.result.trim_start_matches('_').trim();
            let wanted = key.result.split_once(' ').map_or("(no unit)", |(_, unit)| unit);
            assert_eq!(unit, wanted, "{place}");
            counted += usize::from(unit == "pails");
            // A hand needs 3 mm a sign, and the widest paper has 154 mm beside the signs of equality.
            let signs = key.numbers.chars().count();
            assert!(pupil.lines * 51 >= signs && pupil.lines <= signs / 30 + 1, "{place}");
        }
    }
    assert!(counted > 3, "{counted}");
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
    assert!(8 * differ > 7 * first.len(), "{differ} of {}", first.len());
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

/// Room that words take (mm): from left, from above, to the right, to below. A digit is narrower.
fn room(mark: &Mark) -> Option<[f64; 4]> {
    let Mark::Words { at: [x, y], align, size, text } = mark else { return None };
    let wide = u32::try_from(text.chars().count()).map_or(0.0, f64::from) * 0.6 * size / 0.7;
    let left = match align {
        binleaf::booklet::block::Align::Left => *x,
        binleaf::booklet::block::Align::Right => x - wide,
        binleaf::booklet::block::Align::Centre => x - wide / 2.0,
    };
    Some([left, y - 0.6 * size, left + wide, y + 0.6 * size])
}

/// Whether a line comes within a box; tried at many places of it.
fn crosses([left, above, right, below]: [f64; 4], from: [f64; 2], to: [f64; 2]) -> bool {
    (0..=400).map(|i| f64::from(i) / 400.0).any(|s| {
        let [x, y] = [0, 1].map(|k| from[k] + s * (to[k] - from[k]));
        x > left && x < right && y > above && y < below
    })
}

/// On the line of pH no word is touched by another or by a stalk, on any paper, even where the
/// class's own pH lie close together.
#[test]
fn words_on_the_ph_line_are_free() {
    let close = |target: &str| {
        let text = include_str!("../data/plans/club-salts.toml");
        let (head, rest) = text.split_once("ph = ").unwrap();
        format!("{head}ph = {target}\n{}", rest.split_once('\n').unwrap().1)
    };
    let mut plans = good_plans();
    let papers = ["letter", "A4", "A5", "half-letter"];
    let tried = ["6.1", "7.1", "7.9"].map(|ph| (format!("ph {ph}"), close(ph)));
    plans.extend(tried.into_iter().flat_map(|(name, text)| {
        papers.map(|paper| {
            let print = format!("print = {{ paper = \"{paper}\" }}\n");
            let rest = text.replace("\npaper = \"A4\"", &format!("\npaper = \"{paper}\""));
            let text = if text.contains("[print]") { rest } else { format!("{print}{text}") };
            (format!("{name} on {paper}"), text)
        })
    }));
    let mut words = 0;
    for (name, text) in plans {
        let plan = run::work(text, &name);
        for block in blocks(&plan, true, 1) {
            let Block::Figure(figure) = block else { continue };
            let boxes: Vec<[f64; 4]> = figure.marks.iter().filter_map(room).collect();
            for (i, own) in boxes.iter().enumerate() {
                words += 1;
                assert!(own[0] > -0.5 && own[2] < figure.width + 0.5, "{name}: over the edge");
                for other in &boxes[..i] {
                    let apart = own[0] >= other[2] || other[0] >= own[2];
                    let over = own[1] >= other[3] || other[1] >= own[3];
                    assert!(apart || over, "{name}: {own:?} on {other:?}");
                }
                for Stroke { from, to, .. } in Stroke::all(&figure) {
                    assert!(!crosses(*own, from, to), "{name}: {from:?} {to:?} in {own:?}");
                }
            }
        }
    }
    assert!(words > 150, "{words}");
}

/// A line of a drawing: its ends, thickness (mm), and whether it is broken.
#[derive(Clone, Copy)]
struct Stroke {
    from: [f64; 2],
    to: [f64; 2],
    weight: f64,
    dashed: bool,
}

impl Stroke {
    fn all(figure: &Drawing) -> Vec<Self> {
        let own = |mark: &Mark| match mark {
            Mark::Line { from, to, weight, dashed } => {
                vec![Self { from: *from, to: *to, weight: *weight, dashed: *dashed }]
            }
            Mark::Path { points, weight, dashed } => {
                let piece = |p: &[[f64; 2]]| Self {
                    from: p[0],
                    to: p[1],
                    weight: *weight,
                    dashed: *dashed,
                };
                points.windows(2).map(piece).collect()
            }
            Mark::Area { .. } | Mark::Words { .. } | Mark::Comb { .. } | Mark::Turned { .. } => {
                Vec::new()
            }
        };
        figure.marks.iter().flat_map(own).collect()
    }

    /// Where the field ends: the lines that lead names to their curves go on.
    fn right(lines: &[Self]) -> f64 {
        let field = lines.iter().filter(|l| l.weight >= 0.25);
        field.map(|l| l.to[0]).fold(0.0, f64::max)
    }

    fn is_grid(&self) -> bool {
        self.weight < 0.25 && !self.dashed
    }

    /// Across the whole field.
    fn is_level(&self, right: f64) -> bool {
        near(self.from[1], self.to[1]) && near(self.to[0], right)
    }

    /// From the foot upwards.
    fn is_upright(&self, foot: f64) -> bool {
        near(self.from[0], self.to[0]) && near(self.from[1], foot) && self.weight < 0.3
    }
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.01
}

/// The pages to plot on of a plan, with the number of their bin.
fn to_plot(plan: &Plan) -> Vec<(usize, Drawing)> {
    let figure = |block: Block| {
        let Block::Figure(figure) = block else { return None };
        let bin: usize = figure.name.strip_prefix("to-plot-")?.parse().unwrap();
        Some((bin - 1, figure))
    };
    blocks(plan, false, 1).into_iter().filter_map(figure).collect()
}

/// On a page to plot on: an upright line or a mark for every check day, and a grid much lighter than
/// the curves.
#[test]
fn every_check_day_has_its_place_on_the_graph() {
    for (name, text) in good_plans() {
        let plan = run::work(text, &name);
        let (_, results) = plan.done.as_ref().unwrap();
        for (bin, figure) in to_plot(&plan) {
            let lines = Stroke::all(&figure);
            let right = Stroke::right(&lines);
            let foot = lines.iter().map(|l| l.to[1]).fold(0.0, f64::max);
            let (bin, season) = (&results.bins[bin], &results.bins[bin].season.checks);
            let days = |to| f64::from(bin.dates.set_out.until(to).unwrap().get_days());
            let most = days(season.last().unwrap().day);
            let places: Vec<f64> =
                lines.iter().filter(|l| l.is_upright(foot)).map(|l| l.from[0]).collect();
            for check in season {
                let x = 12.0 + (right - 12.0) * days(check.day) / most;
                let marked = places.iter().any(|p| near(*p, x));
                assert!(marked, "{name} {}: nothing on {}", figure.name, check.day);
            }
            assert!(lines.iter().any(|l| l.weight >= 0.3), "{name}: no curve");
            assert!(lines.iter().filter(|l| l.is_grid()).count() > 10, "{name}: no grid");
            assert!(lines.iter().all(|l| !l.is_grid() || l.weight <= 0.2), "{name}: a dark grid");
        }
    }
}

/// Ceiling and reserve have their words beside them, and no line of the grid near them.
#[test]
fn levels_are_told_from_the_grid() {
    let mut told = 0;
    for (name, text) in good_plans() {
        for (_, figure) in to_plot(&run::work(text, &name)) {
            let lines = Stroke::all(&figure);
            let right = Stroke::right(&lines);
            let levels: Vec<&Stroke> = lines.iter().filter(|l| l.is_level(right)).collect();
            for mark in &figure.marks {
                let Mark::Words { at, text, .. } = mark else { continue };
                if !["ceiling", "reserve"].contains(&text.as_str()) {
                    continue;
                }
                let place = format!("{name} {}: {text}", figure.name);
                let own = levels.iter().any(|l| l.dashed && near(l.from[1], at[1]));
                assert!(own, "{place} stands away from its line");
                let clear = |l: &&Stroke| !l.is_grid() || (l.from[1] - at[1]).abs() > 1.0;
                assert!(levels.iter().all(clear), "{place} has a line of the grid beside it");
                told += 1;
            }
        }
    }
    assert!(told > 10, "{told}");
}

/// There is a page to plot on for each kind of bin, and a table for readings, but not in the key.
#[test]
fn pupils_get_pages_to_write_and_plot_on() {
    let plan = plan();
    let ids = |key: bool, groups: u32| -> Vec<String> {
        let booklet = plan.worksheet(key, &class(groups)).unwrap().unwrap();
        booklet
            .pages
            .into_iter()
            .map(|p| p.id)
            .filter(|id| id != "worksheet" && id != "key")
            .collect()
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
                Mark::Line { weight, .. }
                | Mark::Path { weight, .. }
                | Mark::Comb { weight, .. } => {
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

/// Whether in one file or each in its own, the sheets of a group are the same.
#[test]
fn each_group_may_have_a_file_of_its_own() {
    let plan = plan();
    for key in [false, true] {
        let together = plan.worksheet(key, &class(3)).unwrap().unwrap().pages;
        let apart = plan.worksheets(key, &class(3)).unwrap().unwrap();
        assert_eq!(apart.len(), 3);
        let pages: Vec<_> = apart.into_iter().flat_map(|booklet| booklet.pages).collect();
        assert!(pages == together);
    }
}

/// Inputs of a piece of arithmetic.
fn inputs(e: &Expression, into: &mut Vec<Symbol>) {
    match e {
        Expression::Bare { .. } => {}
        Expression::Given { symbol, .. } => into.push(symbol.clone()),
        Expression::Negative { of }
        | Expression::Exponential { of }
        | Expression::Logarithm { of }
        | Expression::Root { of }
        | Expression::Power { of, .. } => inputs(of, into),
        Expression::Sum { terms } => terms.iter().for_each(|t| inputs(&t.of, into)),
        Expression::Product { factors } => factors.iter().for_each(|f| inputs(f, into)),
        Expression::Ratio { over, under } => {
            inputs(over, into);
            inputs(under, into);
        }
        Expression::Choice { of, .. } => of.iter().for_each(|e| inputs(e, into)),
    }
}

/// What is accepted has the answer in it, is no wider than a per cent either way, and nobody who
/// leaves a number out is right: not even the pots in thirty litres, or a tenth of a pH.
#[test]
fn a_number_left_out_is_not_accepted() {
    let (mut single, mut close, mut straight, mut short) = (0, 0, 0, 0);
    for (name, text) in good_plans() {
        let key = blocks(&run::work(text, &name), true, 1);
        for asked in exercises(&key).filter(|w| w.others.is_none()) {
            let [Answer { accept, .. }] = &judged(asked)[..] else { panic!("{}", asked.title) };
            let ends: Vec<f64> =
                accept.split(' ').filter_map(|t| t.replace('−', "-").parse().ok()).collect();
            let (low, high) = (ends[0], ends[ends.len() - 1]);
            let right = asked.expression.value(None);
            // An answer that stands alone is rounded to its last digit.
            let slack = if ends.len() == 1 { 5.1e-4 * right.abs() } else { 0.0 };
            let what = format!("{name} {}: {right} in {accept}", asked.title);
            assert!(low - slack <= right && right <= high + slack, "{what}");
            assert!(high - low <= 0.0201 * right.abs(), "{what}");
            let mut all = Vec::new();
            inputs(&asked.expression, &mut all);
            for symbol in all {
                let wrong = asked.expression.value(Some(&symbol));
                let told = (wrong - right).abs() > 1e-3 * right.abs();
                let passes = low <= wrong && wrong <= high;
                assert!(!told || !passes, "{what}: {wrong} without {symbol:?}");
            }
            // Of a bin that widens upwards: whoever forgets how much in one direction, by hand.
            let n = numbers(&asked.numbers);
            if let (true, [a0, a1, _, h, tall, b0, b1, ..]) = (asked.title.contains("area"), &n[..])
            {
                for wrong in [a0 * (b0 + (b1 - b0) * h / tall), b0 * (a0 + (a1 - a0) * h / tall)] {
                    assert!(wrong < low, "{what}: {wrong} with straight sides");
                    straight += 1;
                }
            }
            // Of a plain product, whoever forgets one factor, however near to one it is.
            if asked.numbers.contains(" × ")
                && !asked.numbers.contains(['+', '−', '÷', '²', '³', '('])
            {
                for (i, factor) in n.iter().enumerate() {
                    let others = n.iter().enumerate().filter(|(k, _)| *k != i);
                    let wrong = others.map(|(_, other)| other).product::<f64>();
                    let passes = low <= wrong && wrong <= high;
                    assert!(
                        (factor - 1.0).abs() < 1e-12 || !passes,
                        "{what}: {wrong} without {factor}"
                    );
                    short += 1;
                }
            }
            single += 1;
            close += usize::from(high - low < 0.015 * right.abs());
        }
    }
    assert!(single > 100 && close > 20, "{single} {close}");
    assert!(straight > 4 && short > 50, "{straight} {short}");
}

/// A result that the next row of the same table begins with would only have to be copied up.
#[test]
fn no_row_is_told_by_the_row_below_it() {
    let value = |text: &str| -> Option<(f64, String)> {
        let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
        Some((number.replace('−', "-").parse().ok()?, unit.into()))
    };
    let mut seen = 0;
    for (name, text) in good_plans() {
        let plan = run::work(text, &name);
        let (sheet, key) = (blocks(&plan, false, 1), blocks(&plan, true, 1));
        for (pupil, key) in exercises(&sheet).zip(exercises(&key)) {
            let (Some(others), Some(answers)) = (&pupil.others, &key.others) else { continue };
            for (answer, below) in answers.rows.iter().zip(others.rows.iter().skip(1)) {
                let Some((found, unit)) = value(&letters(&answer[1])) else { continue };
                // Of the sums so far only: two rows may share a number that is no result.
                let first = value(&letters(&below[1]));
                let told =
                    first.is_some_and(|(n, of)| of == unit && ((n - found) / found).abs() < 1e-3);
                assert!(!told || !pupil.title.contains("so far"), "{name} {}", pupil.number);
                seen += 1;
            }
        }
    }
    assert!(seen > 100, "{seen}");
}
