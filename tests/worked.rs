//! Where a result is printed, the number of its calculation stands too.

use std::collections::{BTreeMap, BTreeSet};

use binleaf::booklet::block::{Block, letters};
use binleaf::booklet::{Booklet, catalogue};
use binleaf::cli::Class;
use binleaf::compute::season::Event;
use binleaf::number::From;
use binleaf::run;
use binleaf::write::markdown;

use crate::good_plans;

fn calculations(booklet: &Booklet) -> BTreeMap<(String, String), usize> {
    let blocks = booklet.pages.iter().flat_map(|p| &p.blocks);
    let worked = blocks.filter_map(|b| if let Block::Worked(w) = b { Some(w) } else { None });
    worked.map(|w| ((w.title.clone(), w.formula.clone()), w.number)).collect()
}

/// Numbers in "calculation 3" and "calculations 3, 5 and 7".
fn named(text: &str, into: &mut BTreeSet<usize>) {
    for part in text.split("calculation").skip(1) {
        let part = part.trim_start_matches('s').trim_start();
        let words = part.split([' ', ',', ';', '.', ')', ':']);
        let numbers =
            words.take_while(|w| w.is_empty() || *w == "and" || w.parse::<usize>().is_ok());
        into.extend(numbers.filter_map(|w| w.parse::<usize>().ok()));
    }
}

fn all_letters(blocks: &[Block], into: &mut String) {
    for block in blocks {
        match block {
            Block::Heading { text, .. } | Block::Paragraph { text } => {
                into.push_str(&letters(text));
            }
            Block::List { items, .. } => items.iter().for_each(|i| all_letters(i, into)),
            Block::Ticks { items } => items.iter().for_each(|i| into.push_str(&letters(i))),
            Block::Table(t) => {
                into.push_str(&t.caption);
                t.rows.iter().flatten().for_each(|cell| into.push_str(&letters(cell)));
            }
            Block::Alert { blocks, .. } => all_letters(blocks, into),
            Block::Labels { labels } => labels.iter().for_each(|l| all_letters(&l.blocks, into)),
            Block::Figure(_) | Block::Worked(_) | Block::Verbatim { .. } | Block::Lines { .. } => {}
        }
        into.push('\n');
    }
}

/// A calculation that no other one builds on is there for a page: that page names its number.
#[test]
fn every_last_calculation_is_named_where_its_result_is_used() {
    for (name, text) in good_plans() {
        let plan = run::work(text, &name);
        let booklet = plan.booklet().unwrap().unwrap();
        let numbers = calculations(&booklet);
        let mut named_on_pages = BTreeSet::new();
        for page in booklet.pages.iter().filter(|p| p.id != "working") {
            let mut text = String::new();
            all_letters(&page.blocks, &mut text);
            named(&text, &mut named_on_pages);
        }
        let (_, results) = plan.done.as_ref().unwrap();
        let used: BTreeSet<&str> = results
            .steps
            .iter()
            .flat_map(|s| &s.givens)
            .filter_map(
                |g| if let From::Step(i) = g.from { Some(results.steps[i].id) } else { None },
            )
            .collect();
        let missing: BTreeSet<&str> = results
            .steps
            .iter()
            .filter(|s| !used.contains(s.id))
            .filter(|s| {
                // Of several formulas for one quantity one is enough.
                let mut own = results.steps.iter().filter(|o| o.id == s.id);
                !own.any(|o| {
                    let key = (o.what.to_string(), o.formula.clone());
                    numbers.get(&key).is_some_and(|n| named_on_pages.contains(n))
                })
            })
            .map(|s| s.id)
            .collect();
        assert!(missing.is_empty(), "{name}: no page names the calculation of {missing:?}");
    }
}

/// What a template asks the number of is a quantity that is worked in some plan.
#[test]
fn templates_name_quantities_that_there_are() {
    let mut known = BTreeSet::new();
    for (name, text) in good_plans() {
        known.extend(run::work(text, &name).done.unwrap().1.steps.iter().map(|s| s.id));
    }
    let mut asked = 0;
    for (page, text) in catalogue::PAGES {
        for call in text.split("worked").skip(1) {
            let Some(call) = call.trim_start_matches("_in").strip_prefix('(') else { continue };
            for id in call[..call.find(')').unwrap()].split(',') {
                let id = id.trim().trim_matches('"');
                assert!(known.contains(id), "{page} asks for {id}");
                asked += 1;
            }
        }
    }
    assert!(asked > 30, "{asked}");
}

/// Symbols read well in Markdown too: what stands below the line never shows as an underscore.
#[test]
fn no_symbol_shows_its_underscore() {
    for (name, text) in good_plans().into_iter().filter(|(n, _)| n != "hostile-letters.toml") {
        let plan = run::work(text, &name);
        let booklet = plan.booklet().unwrap().unwrap();
        let pupils = plan.worksheet(false, &Class::default()).unwrap().unwrap();
        for booklet in [booklet, pupils] {
            let text = markdown::write(&booklet, "d/");
            assert!(text.contains("h<sub>start</sub> = "), "{name}");
            for line in text.lines() {
                // An underscore in words is written with a backslash; in a blank many stand together.
                let mut parts = line.split("\\_").map(|p| p.chars());
                let mut before = parts.next().and_then(|mut p| p.next_back());
                for mut part in parts {
                    let after = part.clone().next();
                    let inside = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
                    assert!(!(inside(before) && inside(after)), "{name}: {line}");
                    before = part.next_back();
                }
            }
        }
    }
}

/// What is left in a solution is told for the days on which it matters: before each change, when nitrogen or
/// potassium is first below half, and at the end.
#[test]
fn what_is_left_is_told_when_it_is_least() {
    let (_, text) = good_plans().into_iter().find(|(n, _)| n == "garden-pails.toml").unwrap();
    let worked = run::work(text, "garden-pails.toml");
    let booklet = worked.booklet().unwrap().unwrap();
    let (_, results) = worked.done.as_ref().unwrap();
    let tables = booklet.pages.iter().flat_map(|page| &page.blocks);
    let tables = tables.filter_map(|block| {
        let Block::Table(table) = block else { return None };
        table.caption.starts_with("EC as a part").then_some(table)
    });
    let mut changes = 0;
    for (table, bin) in tables.zip(&results.bins) {
        let days: Vec<String> = table.rows.iter().map(|row| letters(&row[0])).collect();
        let told = |i: usize| {
            let day = bin.season.checks[i].day.strftime("%a %-d %b").to_string();
            days.contains(&day)
        };
        let drift = bin.drift.as_ref().unwrap();
        let potassium = drift.elements.iter().find(|e| e.symbol == "K").unwrap();
        let mut enough = true;
        for (i, check) in bin.season.checks.iter().enumerate() {
            let changed = matches!(check.event, Some(Event::ChangeOut(_)));
            let short = potassium.days[i] < 0.5 * potassium.start;
            let matters = changed || short && enough;
            assert!(told(i) || !matters, "{} is not told: {days:?}", check.day);
            enough = !short || changed;
            changes += usize::from(changed);
        }
        assert!(told(bin.season.checks.len() - 1) && days.len() < 12, "{days:?}");
    }
    assert!(changes > 5, "{changes}");
}
