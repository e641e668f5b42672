//! The dose that counts: what it rests on, its portions, and that a grower who does what the pH page
//! says, with the amounts as printed, ends in range.

use binleaf::booklet::block::{Block, Table, letters};
use binleaf::compute::Results;
use binleaf::compute::dose::{Basis, Dose};
use binleaf::plan::Plan;
use binleaf::run::{self, Worked};
use binleaf::science::curve::Curve;

use crate::good_plans;

fn example(name: &str, change: impl Fn(String) -> String) -> Worked {
    let text = good_plans().into_iter().find(|(n, _)| n == name).unwrap().1;
    run::work(change(text), name)
}

fn done(worked: &Worked) -> &(Plan, Results) {
    worked.done.as_ref().unwrap()
}

/// A plan without what stands from one line to the next blank one.
fn without(text: &str, head: &str) -> String {
    let at = text.find(head).unwrap();
    let end = text[at..].find("\n\n").unwrap();
    format!("{}{}", &text[..at], &text[at + end..])
}

#[test]
fn portions_stay_within_each_other() {
    let mut seen = 0;
    for (name, text) in good_plans() {
        let worked = run::work(text, &name);
        let (plan, results) = done(&worked);
        for dose in results.doses.iter().flatten() {
            assert_eq!(dose.up, plan.adjusters[dose.adjuster].up);
            for p in &dose.bins {
                seen += 1;
                assert!(p.first > 0.0 && p.first <= p.today && p.today <= p.all, "{name}: {p:?}");
                // A step is less than what was done before it.
                assert!(p.step > 0.0 && p.step < p.first, "{name}: {p:?}");
                // The rest of a base waits: the pH rises by itself.
                assert!(p.first + p.step <= p.today + 1e-9 || dose.up, "{name}: {p:?}");
                assert!(p.today <= p.first || !dose.up, "{name}: {p:?}");
            }
        }
    }
    assert!(seen > 20, "{seen}");
}

#[test]
fn the_jar_counts_before_last_time_and_last_time_before_the_report() {
    let basis = |worked: &Worked| done(worked).1.doses[0].as_ref().map(|d| d.basis);
    let last =
        "\n[mix.last-time]\nadjuster = \"Kit acid\"\nvolume = \"5 gal\"\ndose = \"9 mL\"\n\n";
    let totes = |trial: bool, last_time: bool| {
        example("shelf-totes.toml", |text| {
            let text = if trial { text } else { without(&text, "[[mix.trial]]") };
            let at = text.find("[[bin]]").unwrap();
            let last = if last_time { last } else { "" };
            format!("{}{last}{}", &text[..at], &text[at..])
        })
    };
    assert_eq!(basis(&totes(true, true)), Some(Basis::Jar));
    assert_eq!(basis(&totes(false, true)), Some(Basis::LastTime));
    assert_eq!(basis(&totes(false, false)), Some(Basis::Report));
    let nothing = example("shelf-totes.toml", |text| {
        without(&text, "[[mix.trial]]").replace("alkalinity", "# alkalinity")
    });
    assert_eq!(basis(&nothing), None);
}

fn tables(worked: &Worked) -> Vec<Table> {
    let booklet = worked.booklet().unwrap().unwrap();
    let page = booklet.pages.into_iter().find(|p| p.id == "acidity").unwrap();
    let table = |block| if let Block::Table(table) = block { Some(table) } else { None };
    page.blocks.into_iter().filter_map(table).collect()
}

/// The amount under a head in a row of the only table that has that head (mL or g).
fn printed(tables: &[Table], head: &str, row: usize) -> f64 {
    let column = |t: &Table| t.columns.iter().position(|c| letters(&c.head) == head);
    let mut found = tables.iter().filter_map(|t| Some((t, column(t)?)));
    let (table, column) = found.next().unwrap();
    assert!(found.next().is_none(), "two tables with {head}");
    let text = letters(&table.rows[row][column]);
    text.split(['\u{a0}', ' ']).next().unwrap().parse().unwrap()
}

/// What the page says, as a person reads it.
struct Page {
    first: f64,
    step: f64,
    today: f64,
    all: f64,
}

fn page(worked: &Worked) -> Page {
    let tables = tables(worked);
    let get = |head: &str| printed(&tables, head, 0);
    Page {
        first: get("First part"),
        step: get("Each step"),
        today: get("Not more on the first day"),
        all: get("Not more in all days"),
    }
}

impl Page {
    /// The first day by the page, in a solution that reads so after so much; it was forecast to
    /// read `forecast` before.
    fn first_day(&self, range: [f64; 2], forecast: f64, reads: impl Fn(f64) -> f64) -> f64 {
        let as_forecast = reads(0.0) > forecast - 0.05;
        let mut added = 0.0;
        let mut next = if as_forecast { self.first } else { self.step };
        while reads(added) > range[1] && added < self.today {
            added = (added + next).min(self.today);
            next = self.step;
        }
        added
    }

    /// A later day.
    fn later_day(&self, range: [f64; 2], mut added: f64, reads: impl Fn(f64) -> f64) -> f64 {
        while reads(added) > range[1] && added < self.all {
            added = (added + self.step).min(self.all);
        }
        added
    }
}

/// A curve of points, straight between them.
fn along(points: &[[f64; 2]], x: f64) -> f64 {
    let i = points.partition_point(|p| p[0] < x).clamp(1, points.len() - 1);
    let ([x0, y0], [x1, y1]) = (points[i - 1], points[i]);
    y0 + (y1 - y0) * (x - x0) / (x1 - x0)
}

#[test]
fn who_follows_the_page_of_a_report_ends_in_range() {
    for name in ["shelf-totes.toml", "club-salts.toml", "classroom-jars.toml"] {
        let worked = example(name, |text| {
            if text.contains("[[mix.trial]]") { without(&text, "[[mix.trial]]") } else { text }
        });
        let (_, results) = done(&worked);
        let range = results.acidity[0].range;
        let chemistry = results.chemistry[0].as_ref().unwrap();
        let dosing = chemistry.dosing.as_ref().unwrap();
        // The curve is in mmol/L; the page in what one bin takes.
        let by = dosing.bins[0][1] / dosing.open;
        let curve = |column: usize| {
            chemistry.curve.iter().map(|p| [p[0] * by, p[column]]).collect::<Vec<_>>()
        };
        let (closed, open) = (curve(1), curve(2));
        let page = page(&worked);
        let forecast = chemistry.closed.ph;
        // Some of it may be in before, so that the bin reads nearer to the range than forecast.
        for before in [0.0, 0.2, 0.4, 0.6, 0.8] {
            let before = before * page.today;
            let today = before + page.first_day(range, forecast, |x| along(&closed, before + x));
            let reads = along(&closed, today);
            assert!((range[0]..=range[1]).contains(&reads), "{name}: {reads} on the first day");
            let added = page.later_day(range, today, |x| along(&open, x));
            let reads = along(&open, added);
            assert!((range[0]..=range[1]).contains(&reads), "{name}: {reads} in the end");
            assert!(added > today, "{name}: nothing was left for the next day");
        }
    }
}

#[test]
fn who_follows_the_page_of_a_jar_is_in_range_on_the_first_day() {
    for name in ["shelf-totes.toml", "classroom-jars.toml"] {
        let worked = example(name, |text| text);
        let (_, results) = done(&worked);
        let range = results.acidity[0].range;
        let trial = &results.acidity[0].trials[0];
        let curve = Curve::through(&trial.readings).unwrap();
        let part = trial.sample / results.bins[0].fill.start_volume;
        let page = page(&worked);
        let forecast = trial.readings[0].1;
        for before in [0.0, 0.2, 0.4, 0.6, 0.8] {
            let before = before * page.today;
            let today = page.first_day(range, forecast, |x| curve.at((before + x) * part));
            let reads = curve.at((before + today) * part);
            assert!((range[0]..=range[1]).contains(&reads), "{name}: {reads}");
        }
        // In all no more than the jar was given.
        let most = trial.readings.last().unwrap().0;
        assert!(page.all * part <= most * 1.02, "{name}");
    }
}

/// The page has one dose, and its limits are those of the results.
#[test]
fn the_page_prints_the_dose_that_counts() {
    let worked = example("garden-pails.toml", |text| text);
    let dose: &Dose = done(&worked).1.doses[0].as_ref().unwrap();
    assert_eq!(dose.basis, Basis::LastTime);
    let page = page(&worked);
    // 6 mL in 20 L, for the litres of the first tub.
    let litres = done(&worked).1.bins[0].fill.start_volume;
    assert!((page.all - 0.3 * litres).abs() < 0.05, "{}", page.all);
    assert!((page.first - page.all / 2.0).abs() < 0.1 && page.step <= page.all / 8.0);
}
