//! Paper for the bins: strips measure what the vessel gives, cards fit their page, labels are only
//! for what is there.

use std::collections::BTreeSet;

use binleaf::booklet::Booklet;
use binleaf::booklet::block::{Align, Block, Table, letters};
use binleaf::booklet::drawing::{Drawing, Mark};
use binleaf::cli::{Class, Edition, Form};
use binleaf::compute::{fill, gauge};
use binleaf::number::figures::System;
use binleaf::plan::Sheet;
use binleaf::run::{self, Worked};
use binleaf::write::svg;
use proptest::prelude::*;

use crate::good_plans;

/// Width of a strip (mm), and of one in large letters.
pub(crate) const WIDE: f64 = 54.0;
const LARGE: f64 = 82.0;
/// Paper, and whether letters are large.
const PAPERS: [(Sheet, bool); 6] = [
    (Sheet::Letter, false),
    (Sheet::A4, false),
    (Sheet::A5, false),
    (Sheet::HalfLetter, false),
    (Sheet::Letter, true),
    (Sheet::A4, true),
];

fn on(worked: &mut Worked, (paper, large): (Sheet, bool)) -> Booklet {
    let (plan, _) = worked.done.as_mut().unwrap();
    (plan.paper, plan.large) = (paper, large);
    worked.shelf().unwrap().unwrap()
}

pub(crate) fn drawings<'a>(booklet: &'a Booklet, id: &'a str) -> impl Iterator<Item = &'a Drawing> {
    let blocks = booklet.pages.iter().filter(move |p| p.id == id).flat_map(|p| &p.blocks);
    blocks.filter_map(|b| if let Block::Figure(drawing) = b { Some(drawing) } else { None })
}

/// A bin like a flower pot: 200 mm across at the floor, 300 mm at the rim, 200 mm deep.
pub(crate) const CONE: &str = r#"
title = "Cone"
sown = 2027-03-01
[print]
units = "metric"
paper = "A4"
[[feed]]
name = "F"
rate = { low = "1 g/L", high = "2 g/L" }
form = "dry"
contents = { N-nitrate = "10 %", Ca = "8 %" }
[[mix]]
name = "M"
pail = "10 L"
feeds = [{ feed = "F", times-label-low = 0.9 }]
[[bin]]
name = "Cone"
shape = "round"
floor = "200 mm"
rim = "300 mm"
depth = "200 mm"
pot = "2 in"
plants = [{ crop = "lettuce", count = 1 }]
"#;

/// Height (mm) of so many litres in the cone, by the frustum's volume turned round by hand:
/// V = π (d³ − d₀³) ÷ 12 s with d = d₀ + s h, so h = (∛(d₀³ + 12 s V ÷ π) − d₀) ÷ s.
pub(crate) fn cone(litres: f64) -> f64 {
    let (d0, s) = (200.0_f64, 100.0 / 200.0);
    let cubed = d0 * d0 * d0 + 12.0 * s * litres * 1e6 / std::f64::consts::PI;
    (libm::cbrt(cubed) - d0) / s
}

/// Frames of the strips of a drawing: left, top, right, bottom.
pub(crate) fn frames(drawing: &Drawing) -> Vec<[f64; 4]> {
    let frame = |mark: &Mark| {
        let Mark::Area { points, grey: None, .. } = mark else { return None };
        let (xs, ys) = (points.iter().map(|p| p[0]), points.iter().map(|p| p[1]));
        let (left, right) = (xs.clone().fold(f64::MAX, f64::min), xs.fold(0.0, f64::max));
        let (top, bottom) = (ys.clone().fold(f64::MAX, f64::min), ys.fold(0.0, f64::max));
        (points.len() == 4).then_some([left, top, right, bottom])
    };
    drawing.marks.iter().filter_map(frame).collect()
}

fn combs(drawing: &Drawing) -> impl Iterator<Item = &[[f64; 2]; 2]> {
    let all = drawing.marks.iter();
    all.filter_map(|m| if let Mark::Comb { lines, .. } = m { Some(lines) } else { None }).flatten()
}

/// Heights above the floor (mm) of the marks on one edge of a whole strip, longer than `least` mm.
fn edge(drawing: &Drawing, right: bool, least: f64) -> Vec<f64> {
    let [x0, top, x1, floor] = frames(drawing)[0];
    let x = if right { x1 } else { x0 };
    let on_it = |l: &&[[f64; 2]; 2]| {
        let [from, to] = l;
        let own = if right { to[0] } else { from[0] };
        let level = (from[1] - to[1]).abs() < 1e-9 && from[1] > top;
        (own - x).abs() < 1e-9 && level && to[0] - from[0] > least
    };
    let mut all: Vec<f64> = combs(drawing).filter(on_it).map(|l| floor - l[0][1]).collect();
    all.sort_by(f64::total_cmp);
    all
}

#[test]
fn a_cone_has_its_litres_where_a_pocket_calculator_puts_them() {
    let worked = run::work(CONE.into(), "cone");
    let booklet = worked.shelf().unwrap().unwrap();
    let strips: Vec<&Drawing> = drawings(&booklet, "shelf-strip").collect();
    let [strip] = strips[..] else { panic!("{} pages of strips", strips.len()) };
    let [_, _, _, floor] = frames(strip)[0];
    // 1 L: d³ = 8 000 000 + 6 000 000 ÷ π = 9 909 859, d = 214.794, h = 29.588 mm.
    // And back: π × 29.588 ÷ 12 × (200² + 200 × 214.794 + 214.794²) = 1 000 000 mm³.
    assert!((cone(1.0) - 29.588).abs() < 0.001, "{}", cone(1.0));
    let fill = &worked.done.as_ref().unwrap().1.bins[0].fill;
    let mut seen = 0;
    for mark in &strip.marks {
        let Mark::Words { at, align: Align::Right, text, size } = mark else { continue };
        let Ok(amount) = text.parse::<f64>() else { continue };
        // A US gallon is 3.785411784 L (NIST Handbook 44, appendix C); its smaller numbers are rounded.
        let in_gallons = *size < 2.0;
        let [litres, round] = if in_gallons {
            let half = if amount < 1.0 { 0.0005 } else { 0.005 };
            [amount, half].map(|gal| gal * 3.785_411_784)
        } else {
            [amount, 0.0]
        };
        let height = floor - at[1];
        // Above the pot's floor the pot takes up a little.
        let off = if height < fill.pot_bottom { 1e-6 } else { 0.2 };
        let [low, high] = [-round, round].map(|by| cone((litres + by).max(0.0)));
        assert!(height > low - off && height < high + off, "{litres} L at {height}");
        seen += if in_gallons { 100 } else { 1 };
    }
    assert!(seen % 100 >= 6, "only {seen} amounts are named");
    assert_eq!(seen / 100, seen % 100, "each in both units");
    let marks = edge(strip, true, 0.0);
    // Wider above, so the marks draw together.
    let gaps: Vec<f64> = marks.windows(2).map(|p| p[1] - p[0]).collect();
    assert!(gaps.len() > 20 && gaps.windows(2).all(|p| p[1] <= p[0] + 1e-6), "{gaps:?}");
    let ruler = edge(strip, false, 0.0);
    assert!(ruler.iter().enumerate().all(|(i, h)| {
        let mm = f64::from(u32::try_from(i).unwrap());
        (h - mm).abs() < 1e-9
    }));
}

/// What stands on one line of a strip keeps apart, also where numbers have five signs. A digit of the face of
/// the booklet is 0.465 em wide, a point 0.22 em, other letters less than an em.
#[test]
fn numbers_of_a_strip_keep_apart() {
    let width = |text: &str, size: f64| {
        let em = |letter: char| match letter {
            '0'..='9' => 0.465,
            '.' | ',' | ' ' => 0.25,
            _ => 0.6,
        };
        text.chars().map(em).sum::<f64>() * size / 0.7
    };
    let mut longest = 0;
    for (units, floor, depth) in
        [("metric", "700 mm", "400 mm"), ("metric", "205 mm", "380 mm"), ("US", "390 mm", "406 mm")]
    {
        let text = CONE.replace("\"metric\"", &format!("\"{units}\""));
        let text = text.replace("\"200 mm\"\nrim = \"300 mm\"", &format!("\"{floor}\""));
        let text = text.replace("depth = \"200 mm\"", &format!("depth = \"{depth}\""));
        let booklet = run::work(text, "wide").shelf().unwrap().unwrap();
        for strip in drawings(&booklet, "shelf-strip") {
            let words = strip.marks.iter().filter_map(|mark| {
                let Mark::Words { at: [x, y], align, size, text } = mark else { return None };
                let wide = width(text, *size);
                let from = x - match align {
                    Align::Left => 0.0,
                    Align::Centre => wide / 2.0,
                    Align::Right => wide,
                };
                longest = longest.max(if text.contains('.') { text.len() } else { 0 });
                Some(([from, from + wide], *y, *size, text))
            });
            let words: Vec<_> = words.collect();
            for (i, (one, y, high, text)) in words.iter().enumerate() {
                for (other, at, size, beside) in &words[i + 1..] {
                    let level = (y - at).abs() < f64::midpoint(*high, *size);
                    let apart = (other[0] - one[1]).max(one[0] - other[1]);
                    assert!(!level || apart > 0.7, "{floor}: {text} and {beside}: {apart} mm");
                }
            }
        }
    }
    assert!(longest >= 5, "no number has five signs");
}

/// A jar measured by pouring: 0.21 L at 20 mm, 0.72 L at 60 mm, 1.50 L at 120 mm, so 0.7 L stand
/// at 20 + 40 × (0.70 − 0.21) ÷ (0.72 − 0.21) mm, and 1 L at 60 + 60 × 0.28 ÷ 0.78 mm.
#[test]
fn a_measured_jar_has_its_litres_between_its_readings() {
    let (name, text) = good_plans().into_iter().find(|(n, _)| n == "classroom-jars.toml").unwrap();
    let booklet = run::work(text, &name).shelf().unwrap().unwrap();
    let strip = drawings(&booklet, "shelf-strip").next().unwrap();
    // Eight jars are alike: one page, three strips side by side, printed three times.
    let page = booklet.pages.iter().filter(|p| p.id == "shelf-strip").collect::<Vec<_>>();
    let Block::Paragraph { text } = &page[0].blocks[0] else { panic!() };
    assert!(letters(text).contains("Print 3 times at 100 %") && page.len() == 1);
    assert_eq!(frames(strip).len(), 3);
    let floor = frames(strip)[0][3];
    for (litres, height) in [("0.7", 58.431), ("1", 81.538), ("0.1", 9.524)] {
        let at = strip.marks.iter().find_map(|mark| match mark {
            Mark::Words { at, align: Align::Right, text, .. } => (text == litres).then_some(at[1]),
            Mark::Line { .. }
            | Mark::Path { .. }
            | Mark::Area { .. }
            | Mark::Words { .. }
            | Mark::Comb { .. }
            | Mark::Turned { .. } => None,
        });
        let height_there = floor - at.unwrap();
        assert!((height_there - height).abs() < 0.01, "{litres} L at {height_there} mm");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever the bin, a mark stands where the bin holds what it says, and marks and numbers
    /// have room.
    #[test]
    fn marks_of_any_bin_are_true_and_apart(
        floor in 90u32..900, rim in 90u32..900, depth in 120u32..900, us in proptest::bool::ANY,
    ) {
        let text = CONE
            .replace("\"200 mm\"\nrim = \"300 mm\"\ndepth = \"200 mm\"", &format!(
                "\"{floor} mm\"\nrim = \"{rim} mm\"\ndepth = \"{depth} mm\""
            ));
        let worked = run::work(text, "any");
        let (plan, results) = worked.done.as_ref().unwrap();
        let (bin, library) = (&plan.bins[0], binleaf::library::Library::embedded());
        prop_assert!((bin.vessel.depth() - f64::from(depth)).abs() < 1e-9);
        let unit = if us { 3.785411784 } else { 1.0 };
        let top = results.bins[0].fill.start;
        let marks = gauge::amounts(bin, library, top, unit, [1.4, 5.0]);
        prop_assert!(!marks.is_empty());
        for mark in &marks {
            let there = fill::liquid(bin, library, mark.height) / unit;
            prop_assert!((there - mark.amount).abs() < 1e-9, "{mark:?} {there}");
            prop_assert!(mark.height <= top + 1e-9);
        }
        let apart = |all: &[f64], least: f64| all.windows(2).all(|p| p[1] - p[0] >= least - 1e-9);
        let heights = |named: bool| -> Vec<f64> {
            marks.iter().filter(|m| m.named || !named).map(|m| m.height).collect()
        };
        prop_assert!(apart(&heights(false), 1.4) && apart(&heights(true), 5.0));
    }
}

/// In inches: a long mark with its number every 25.4 mm, seven shorter ones between.
#[test]
fn an_inch_is_an_inch() {
    let (name, text) = good_plans().into_iter().find(|(n, _)| n == "shelf-totes.toml").unwrap();
    let booklet = run::work(text, &name).shelf().unwrap().unwrap();
    let strip = drawings(&booklet, "shelf-strip").next().unwrap();
    let near = |all: Vec<f64>, step: f64| {
        let steps = all.iter().enumerate();
        steps
            .map(|(i, h)| (h - step * f64::from(u32::try_from(i).unwrap())).abs())
            .all(|d| d < 1e-6)
    };
    let (long, every) = (edge(strip, false, 4.9), edge(strip, false, 0.0));
    assert_eq!((long.len(), every.len()), (7, 56));
    assert!(near(long, 25.4) && near(every, 3.175));
}

/// The bar is as long as it says, the strips are inside their drawing, every bin has one, parts
/// meet where they are glued.
#[test]
fn strips_of_every_plan_and_paper_are_whole() {
    for (name, text) in good_plans() {
        let mut worked = run::work(text, &name);
        for paper in PAPERS {
            let booklet = on(&mut worked, paper);
            let (plan, results) = worked.done.as_ref().unwrap();
            let bar = if plan.system == System::Metric { 100.0 } else { 101.6 };
            let strips: Vec<&Drawing> = drawings(&booklet, "shelf-strip").collect();
            assert!(!strips.is_empty());
            for strip in &strips {
                let Some(Mark::Line { from, to, .. }) = strip.marks.first() else { panic!() };
                assert!((to[0] - from[0] - bar).abs() < 1e-9, "{name}: the bar");
                let room =
                    booklet.paper.width - if booklet.paper.width < 170.0 { 24.0 } else { 38.0 };
                assert!(strip.width <= room, "{name}: {} wide", strip.width);
                for [left, _, right, bottom] in frames(strip) {
                    let wide = if paper.1 { LARGE } else { WIDE };
                    assert!((right - left - wide).abs() < 1e-9 && bottom <= strip.height);
                }
                let svg = svg::write(strip);
                assert!(svg.contains(&format!("width=\"{}mm\"", strip.width)), "{name}: {svg:.90}");
                for words in ["Start line at", "ceiling at", "Left in the bin: "] {
                    assert!(strip.alt.contains(words), "{name}: {}", strip.alt);
                }
            }
            for bin in &results.bins {
                let reaches = |strip: &&&Drawing| strip.alt.contains(&start(plan.system, bin));
                assert!(strips.iter().any(|s| reaches(&s)), "{name}: a bin has no strip");
            }
            glue_lines_meet(&name, &strips);
        }
    }
}

fn start(system: System, bin: &binleaf::compute::BinResults) -> String {
    format!("Start line at {}", binleaf::number::figures::short_length(bin.fill.start, system))
}

/// Where two parts are glued, both show the same letter, and the numbers near it are as far from
/// it on both.
fn glue_lines_meet(name: &str, strips: &[&Drawing]) {
    let mut found: std::collections::BTreeMap<String, Vec<Vec<(String, i64)>>> =
        std::collections::BTreeMap::new();
    for strip in strips {
        let group = strip.name.rsplit_once('-').unwrap().0;
        for [left, top, right, bottom] in frames(strip) {
            let inside =
                |at: &[f64; 2]| at[0] > left && at[0] < right && at[1] > top && at[1] < bottom;
            let words = strip.marks.iter().filter_map(|m| {
                let Mark::Words { at, text, .. } = m else { return None };
                inside(at).then_some((at, text))
            });
            let words: Vec<(&[f64; 2], &String)> = words.collect();
            for (at, text) in words.iter().filter(|(_, t)| t.contains("glue here")) {
                let near = words.iter().filter(|(other, t)| {
                    // Both parts reach 6 mm beyond the line, which is 2 or 4 mm below its words.
                    let (below, near) =
                        if right - left > WIDE + 1.0 { (4.0, 2.5) } else { (2.0, 4.0) };
                    (other[1] - at[1] - below).abs() < near && t.parse::<f64>().is_ok()
                });
                #[expect(clippy::cast_possible_truncation, reason = "hundredths of a millimetre")]
                let far = |(other, t): &(&[f64; 2], &String)| {
                    ((*t).clone(), (100.0 * (other[1] - at[1])).round() as i64)
                };
                found.entry(format!("{group} {text}")).or_default().push(near.map(far).collect());
            }
        }
    }
    for (line, sides) in found {
        assert!(sides.len() >= 2, "{name}: {line} is on one part only");
        assert!(sides.windows(2).all(|p| p[0] == p[1]), "{name}: {line}: {sides:?}");
    }
}

/// Holes of every lid lie in the opening, with room for the rims of their pots.
#[test]
fn every_lid_has_room_for_its_pots() {
    for (name, text) in good_plans() {
        let worked = run::work(text, &name);
        for bin in &worked.done.as_ref().unwrap().0.bins {
            let lid = binleaf::compute::lid::lid(bin).unwrap();
            assert_eq!(lid.holes.len(), usize::try_from(bin.pots()).unwrap(), "{name}");
            assert!(lid.edge >= bin.pot.rim / 2.0, "{name}: {lid:?}");
            for (i, a) in lid.holes.iter().enumerate() {
                for b in &lid.holes[i + 1..] {
                    let apart = libm::hypot(a[0] - b[0], a[1] - b[1]);
                    assert!(apart >= bin.pot.rim - 1e-6, "{name}: {apart} apart");
                }
            }
        }
    }
}

/// The edition writes its own files and no others.
#[test]
fn the_shelf_edition_stands_beside_the_booklet() {
    let folder = tempfile::tempdir().unwrap();
    let class = Class { editions: vec![Edition::Shelf], ..Class::default() };
    let mut worked = run::work(CONE.into(), "cone.toml");
    let files = run::make(&mut worked, &[Form::Md], folder.path(), &class).unwrap();
    let names: Vec<String> = files
        .iter()
        .map(|f| f.strip_prefix(folder.path()).unwrap().to_string_lossy().replace('\\', "/"))
        .collect();
    let drawing = |name: &str| format!("cone-shelf-drawings/{name}.svg");
    assert_eq!(names, [drawing("strip-1-1"), drawing("lid-1"), "cone-shelf.md".to_string()]);
}

fn labels(name: &str) -> Vec<(String, String)> {
    let (name, text) = good_plans().into_iter().find(|(n, _)| n == name).unwrap();
    let booklet = run::work(text, &name).shelf().unwrap().unwrap();
    let page = booklet.pages.iter().find(|p| p.id == "shelf-labels").unwrap();
    let labels = page.blocks.iter();
    let labels =
        labels.filter_map(|b| if let Block::Labels { labels } = b { Some(labels) } else { None });
    let words = |blocks: &[Block]| {
        let text = |b: &Block| {
            if let Block::Paragraph { text } = b { letters(text) } else { String::new() }
        };
        blocks.iter().map(text).collect::<Vec<_>>().join(" | ")
    };
    labels.flatten().map(|l| (letters(&l.title), words(&l.blocks))).collect()
}

#[test]
fn labels_are_for_what_the_plan_uses_and_nothing_else() {
    let titles = |name: &str| labels(name).into_iter().map(|(title, _)| title).collect::<Vec<_>>();
    let bleach = "Bleach solution, for cleaning";
    assert_eq!(
        titles("shelf-totes.toml"),
        ["Upper tote 1", "Upper tote 2", "Lower tote", "Mint tote", "Kit acid: lowers pH", bleach]
    );
    let club = labels("club-salts.toml");
    let own: Vec<&str> = club.iter().map(|(title, _)| title.as_str()).collect();
    let bottles = ["Concentrate A", "Concentrate B"];
    assert_eq!(
        own,
        ["Long tray 1", "Long tray 2", "Weak acid: lowers pH", bottles[0], bottles[1], bleach]
    );
    assert!(club[3].1.contains("Calcium nitrate ") && !club[4].1.contains("Calcium nitrate "));
    assert!(
        club[4].1.contains("Bitter salt ") && club[4].1.contains("Never mix A with B undiluted")
    );
    // This plan says nothing of bleach and has no concentrates.
    assert_eq!(
        titles("odd-shapes.toml"),
        ["Straight box", "Straight drum", "Bellied churn", "Potash powder: raises pH"]
    );
    // The place of an odd one is to be filled in.
    let pails = titles("garden-pails.toml");
    let spare = pails.iter().position(|title| title == "To fill in");
    assert!(pails.len() % 2 == 0 && spare == Some(pails.len() - 1), "{pails:?}");
    // Signal word and statements go by strength: 10 % warns, 9.3 % of the same acid does not.
    let (_, ten) = &labels("garden-pails.toml")[3];
    assert!(ten.contains("WARNING: H315") && ten.contains("10 %"), "{ten}");
    let (_, weaker) = &club[2];
    assert!(weaker.contains("No hazard class") && !weaker.contains("H315"), "{weaker}");
    for (title, text) in [labels("garden-pails.toml"), club].concat() {
        let bottle = text.contains("on: __") && !text.contains("Solution: ");
        assert!(!bottle || text.contains("Adults only. Keep from children."), "{title}: {text}");
    }
}

#[cfg(feature = "pdf")]
mod paper {
    use super::*;
    use crate::print::bytes;

    /// Every card is one sheet, with rows to write in, unless letters are large; every page of strips too.
    #[test]
    fn cards_and_strips_fit_their_page_on_every_paper() {
        for (name, text) in good_plans() {
            let mut worked = run::work(text, &name);
            for paper in PAPERS {
                let booklet = on(&mut worked, paper);
                let read = pdf_extract::extract_text_from_mem_by_pages(&bytes(&booklet)).unwrap();
                let of = |id: &str| booklet.pages.iter().filter(|p| p.id == id).count();
                let first = 1 + of("shelf-strip");
                // What to do with them takes two sheets of large letters.
                let told = read.iter().take_while(|sheet| !sheet.contains("CHECK BAR")).count();
                assert!((1..=1 + usize::from(paper.1)).contains(&told), "{name} {paper:?}");
                let (strips, rest) = read[told..].split_at(of("shelf-strip"));
                for sheet in strips {
                    assert!(
                        sheet.contains("Gauge strip") && sheet.contains("CHECK BAR"),
                        "{name} {paper:?}: a strip is not on the page of its words"
                    );
                }
                if paper.1 {
                    cards_go_on(rest, of("shelf-card"));
                    continue;
                }
                let (cards, rest) = rest.split_at(of("shelf-card"));
                for (sheet, page) in cards.iter().zip(&booklet.pages[first..]) {
                    let dense = |t: &str| t.split_whitespace().collect::<String>();
                    assert!(
                        dense(sheet).contains(&dense(&letters(&page.title))),
                        "{name} {paper:?}"
                    );
                    assert!(
                        sheet.contains("A lamp over it") && sheet.contains("Added"),
                        "{name} {paper:?}: a card runs over its page"
                    );
                }
                assert!(rest[0].contains("Labels to cut out"), "{name} {paper:?}");
            }
        }
    }

    /// In large letters each card has its warnings, and ends with its log before another begins.
    fn cards_go_on(sheets: &[String], count: usize) {
        let cards: String = sheets
            .iter()
            .take_while(|sheet| !sheet.contains("Labels to cut out"))
            .map(|sheet| sheet.replace('\n', " "))
            .collect();
        let parts: Vec<&str> = cards.split("One fill, ").skip(1).collect();
        assert_eq!(parts.len(), count);
        for part in parts {
            let [warned, logged] = ["A lamp over it", "Added, "].map(|words| part.find(words));
            assert!(warned.unwrap() < logged.unwrap(), "{part}");
        }
    }

    #[test]
    fn the_same_plan_gives_the_same_bytes_tagged_and_archival() {
        for (name, text) in good_plans().into_iter().filter(|(n, _)| n.starts_with(['h', 's'])) {
            let once = bytes(&run::work(text.clone(), &name).shelf().unwrap().unwrap());
            let again = bytes(&run::work(text, &name).shelf().unwrap().unwrap());
            assert!(once == again, "{name} differs from run to run");
            let has = |needle: &str| once.windows(needle.len()).any(|w| w == needle.as_bytes());
            assert!(has("<pdfuaid:part>1</pdfuaid:part>") && has("<pdfaid:part>3</pdfaid:part>"));
        }
    }
}

/// Limits that a grower reads in the table of top-ups, in the log and on the card are the same.
#[test]
fn limits_are_said_in_one_way() {
    for name in ["shelf-totes.toml", "garden-pails.toml"] {
        let text = good_plans().into_iter().find(|(n, _)| n == name).unwrap().1;
        let worked = run::work(text, name);
        let (booklet, shelf) =
            (worked.booklet().unwrap().unwrap(), worked.shelf().unwrap().unwrap());
        let tables = |booklet: &Booklet| -> Vec<Table> {
            let blocks = booklet.pages.iter().flat_map(|p| p.blocks.clone());
            blocks.filter_map(|b| if let Block::Table(t) = b { Some(t) } else { None }).collect()
        };
        // "3 3/4 in (95 mm)", "174 mm, then 181 mm" and "181" as bare numbers.
        let bare = |text: &str| -> Vec<String> {
            let ends = text.split(", then ").filter(|t| !t.is_empty() && *t != "–");
            let number =
                |t: &str| t.split(" in").next().unwrap().split(" mm").next().unwrap().into();
            ends.map(number).collect()
        };
        let column = |tables: &[Table], head: &str| -> BTreeSet<String> {
            let mut all = BTreeSet::new();
            for table in tables {
                let at = table.columns.iter().position(|c| letters(&c.head) == head);
                let cells = at.into_iter().flat_map(|at| table.rows.iter().map(move |r| &r[at]));
                all.extend(cells.flat_map(|cell| bare(&letters(cell))));
            }
            all
        };
        let behind = |tables: &[Table], words: [&str; 2]| -> BTreeSet<String> {
            let cells = tables.iter().flat_map(|t| t.rows.iter().flatten()).map(|c| letters(c));
            let found = cells.filter_map(|cell| {
                let (_, rest) = words.iter().find_map(|w| cell.split_once(w))?;
                bare(rest.split(',').next()?).pop()
            });
            found.collect()
        };
        let tables = [tables(&booklet), tables(&shelf)];
        let log = behind(&tables[0], ["; top up to ", "; change, to "]);
        let mut table = column(&tables[0], "To, not higher");
        table.extend(column(&tables[0], "Not higher than"));
        table.extend(behind(&tables[0], [" gal), to ", " L), to "]));
        let card = column(&tables[1], "To, no higher");
        assert!(log.len() > 2, "{name}: {log:?}");
        // Limits that hardly differ are said once, by the lowest.
        assert!(
            table.is_subset(&log) && table.len() > 2,
            "{name}: the table {table:?}, not {log:?}"
        );
        let alike = |a: &String, b: &String| match (a.parse::<f64>(), b.parse::<f64>()) {
            (Ok(a), Ok(b)) => (0.0..2.5).contains(&(b - a)),
            _ => a == b,
        };
        let said = |limit: &String| table.iter().any(|least| alike(least, limit));
        assert!(log.iter().all(said), "{name}: the log {log:?}, not {table:?}");
        assert!(
            card.is_subset(&log) && !card.is_empty(),
            "{name}: the card: {card:?}, not {log:?}"
        );
    }
}
