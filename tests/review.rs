//! The log comes back: the fit, the rest of the season, and every way a log can be wrong.

use binleaf::compute::review::BinReview;
use binleaf::compute::season::{Check, Event};
use binleaf::finding::Findings;
use binleaf::run::{self, Worked};
use binleaf::{log, look, plan};
use proptest::prelude::*;

const PLAN: &str = include_str!("../data/plans/shelf-totes.toml");

fn worked() -> Worked {
    run::work(PLAN.into(), "shelf-totes.toml")
}

/// A log of the first tote in which the plants drink `factor` times what was planned, read on the
/// first `days` check days.
fn log_of(worked: &Worked, factor: f64, days: usize) -> String {
    let (plan, results) = worked.done.as_ref().unwrap();
    let (bin, r) = (&plan.bins[0], &results.bins[0]);
    let mut lines = vec!["bin,day,level (mm),added (L)".to_string()];
    let mut gone = 0.0;
    for check in r.season.checks.iter().take(days) {
        // Losses go on as planned; only the plants are thirstier.
        gone += factor * check.drunk;
        let since = r.dates.set_out.until(check.day).unwrap().get_days();
        let lost = r.season.loss * f64::from(since) / f64::from(r.dates.days);
        let left = r.fill.start_volume - gone - lost;
        let library = binleaf::library::Library::embedded();
        let level =
            bin.vessel.height_where(left, |h| binleaf::compute::fill::liquid(bin, library, h));
        lines.push(format!("{},{},{level:.4},", bin.name, check.day));
    }
    lines.push(String::new());
    lines.join("\n")
}

fn review(factor: f64, days: usize) -> BinReview {
    let worked = worked();
    let mut looked = look::review(&worked, &log_of(&worked, factor, days));
    assert!(looked.findings.is_empty(), "{:?}", looked.findings);
    looked.bins.remove(0)
}

#[test]
fn a_log_equal_to_the_forecast_changes_nothing() {
    let looked = review(1.0, 8);
    assert!((looked.factor.expected - 1.0).abs() < 1e-4, "{:?}", looked.factor);
    for reading in &looked.readings {
        assert!((reading.level - reading.expected).abs() < 0.01, "{reading:?}");
    }
    let worked = worked();
    let planned = &worked.done.as_ref().unwrap().1.bins[0].season;
    let rest = planned.checks.iter().filter(|c| c.day > looked.readings.last().unwrap().day);
    for (ahead, planned) in looked.checks.iter().zip(rest) {
        assert_eq!(ahead.day, planned.day);
        assert!((ahead.level.expected - planned.level.expected).abs() < 0.1);
        // What is poured goes by the band, and that is narrower now.
        if planned.event.is_some() {
            break;
        }
    }
    assert_eq!(looked.dry[1], planned.dry[1]);
}

#[test]
fn one_reading_moves_it_little_and_three_are_trusted() {
    for factor in [0.6, 1.5] {
        let after = |days| (review(factor, days).factor.expected - 1.0) / (factor - 1.0);
        let (one, four, ten) = (after(1), after(4), after(10));
        assert!(one < 0.4, "{factor}: {one}");
        assert!(four > one && ten > four, "{factor}: {one} {four} {ten}");
        assert!(ten > 0.75, "{factor}: {ten}");
    }
}

#[test]
fn the_band_narrows_and_the_dry_day_follows() {
    let (few, many) = (review(1.4, 3), review(1.4, 9));
    let width = |r: &BinReview| r.factor.high - r.factor.low;
    assert!(width(&many) < width(&few));
    assert!(many.dry[1].unwrap() < review(1.0, 9).dry[1].unwrap());
    assert!(many.dry[0] <= many.dry[1] && many.dry[1] <= many.dry[2].or(many.dry[1]));
}

#[test]
fn a_rise_without_a_top_up_teaches_nothing_and_an_entered_one_is_counted() {
    let worked = worked();
    let head = "bin,day,level (mm),added (L)\n";
    let rows = "Upper tote 1,2027-02-05,160,\nUpper tote 1,2027-02-12,150,";
    let rest = "\nUpper tote 1,2027-02-19,165,\n";
    let silent = look::review(&worked, &format!("{head}{rows}{rest}"));
    assert!(silent.findings.iter().any(|f| f.code == "level-rose"));
    assert_eq!(silent.bins[0].readings[2].used, None);
    let entered = look::review(&worked, &format!("{head}{rows}8{rest}"));
    assert!(entered.findings.is_empty(), "{:?}", entered.findings);
    assert!(entered.bins[0].readings[2].used.unwrap() > 0.0);
}

/// The mint's solution is changed twice by the plan: on 27 February and 27 March.
#[test]
fn a_change_in_the_log_is_a_change() {
    let worked = worked();
    let bin =
        worked.done.as_ref().unwrap().0.bins.iter().position(|b| b.name == "Mint tote").unwrap();
    let season = &worked.done.as_ref().unwrap().1.bins[bin].season;
    let planned: Vec<_> =
        season
            .events()
            .filter_map(|(c, e)| {
                if let Event::ChangeOut(pour) = e { Some((c.day, pour.clone())) } else { None }
            })
            .collect();
    assert_eq!(planned.len(), 2);
    let looked = |rows: &str| {
        let text = format!("bin,day,level (mm),added (L),what you see\n{rows}");
        let mut looked = look::review(&worked, &text);
        assert!(looked.findings.is_empty(), "{:?}", looked.findings);
        looked.bins.remove(0)
    };
    let changes = |review: &BinReview| -> Vec<_> {
        let of = |c: &Check| matches!(c.event, Some(Event::ChangeOut(_))).then_some(c.day);
        review.checks.iter().filter_map(of).collect()
    };
    let litres = planned[0].1.litres;
    // Written on its day, or two days late with the word; all that went in is all there is.
    for row in [
        format!("Mint tote,2027-02-27,198,{litres:.2},\n"),
        format!("Mint tote,2027-03-01,190,{litres:.2},changed it\n"),
        format!("Mint tote,2027-03-01,190,{litres:.2},cambio de solución\n"),
    ] {
        let review = looked(&row);
        let first = &review.checks[0];
        assert!(first.event.is_none(), "{row}: {:?}", first.event);
        assert!(
            (first.level.expected - planned[0].1.to).abs() < 30.0,
            "{row}: {}",
            first.level.expected
        );
        assert!(first.level.expected < planned[0].1.to, "{row}: {}", first.level.expected);
        assert_eq!(changes(&review), [planned[1].0], "{row}");
    }
    // Without it both are still to come, and no pour lifts the level more than the roots bear.
    let review = looked("Mint tote,2027-02-02,243,,\n");
    assert_eq!(changes(&review), [planned[0].0, planned[1].0]);
    for check in &review.checks {
        if let Some(Event::ChangeOut(pour)) = &check.event {
            assert!(pour.to - check.level.expected <= 20.5, "{check:?}");
        }
    }
}

/// Where more would go out than if the change came a check earlier, it comes earlier: the mint's second, on
/// some days of checking.
#[test]
fn no_top_up_goes_out_with_the_next_change() {
    let text = std::fs::read_to_string("data/plans/shelf-totes.toml").unwrap();
    let mut days = Vec::new();
    for pair in [["mon", "fri"], ["mon", "thu"], ["tue", "fri"], ["wed", "sun"]] {
        let [one, two] = pair;
        let text = text.replace(
            "check-days = [\"mon\", \"fri\"]",
            &format!("check-days = [\"{one}\", \"{two}\"]"),
        );
        let (_, results) = run::work(text, "plan").done.unwrap();
        let checks = &results.bins[3].season.checks;
        let is_change = |c: &Check| matches!(c.event, Some(Event::ChangeOut(_)));
        for next in checks.windows(2).filter(|next| is_change(&next[1])) {
            let poured = matches!(next[0].event, Some(Event::TopUp(_)));
            assert!(!poured || next[1].left <= next[0].left, "{pair:?}: {next:?}");
        }
        days.extend(checks.iter().filter(|c| is_change(c)).map(|c| c.day.to_string()));
    }
    let expected = [
        ["2027-03-01", "2027-03-26"],
        ["2027-03-01", "2027-03-29"],
        ["2027-03-02", "2027-03-30"],
        ["2027-02-28", "2027-03-28"],
    ];
    assert_eq!(days, expected.concat());
}

#[test]
fn what_was_added_in_parts_is_added_up() {
    let worked = worked();
    let added = |field: &str| {
        let text = format!("bin,day,level (mm),added (L)\nUpper tote 1,2027-02-05,160,{field}\n");
        let looked = look::review(&worked, &text);
        (looked.bins[0].readings[0].added, looked.findings.len())
    };
    let near =
        |(litres, said): (f64, usize), wanted: f64| (litres - wanted).abs() < 1e-9 && said == 0;
    for (field, litres) in
        [("1.2 + 1.1", 2.3), ("1.2+1.1+0.5", 2.8), ("0.5 gal + 1 L", 2.892_705_892), ("1.2 +", 1.2)]
    {
        assert!(near(added(field), litres), "{field}: {:?}", added(field));
    }
    // Half a sum would be a wrong number: all of it is blank, and that is said.
    assert_eq!(added("1.2 + a lot"), (0.0, 1));
}

#[test]
fn semicolons_decimal_commas_and_other_units_are_read() {
    let worked = worked();
    let comma = "bin,day,level (mm),added (L)\nUpper tote 1,2027-02-05,161.9,1.5\n";
    let semicolon = "\u{FEFF}What you see;Bin;Day;Level (cm);Added (mL)\n\"fine; \"\"green\"\"\";upper TOTE 1;2027-02-05;16,19;1500\n";
    let inches =
        "# kept by Maren\nbin,day,level (in),added (gal)\nUpper tote 1,2027-02-05,161.9 mm,1.5 L\n";
    let read = |text: &str| {
        let looked = look::review(&worked, text);
        assert!(looked.findings.is_empty(), "{:?}", looked.findings);
        let reading = looked.bins[0].readings[0].clone();
        ((reading.level * 1e6).round(), (reading.added * 1e6).round())
    };
    assert_eq!(read(comma), read(semicolon));
    assert_eq!(read(comma), read(inches));
}

#[test]
fn the_sheet_is_made_and_says_what_to_do() {
    let mut worked = worked();
    let log = include_str!("../data/logs/shelf-totes.csv");
    let looked = look::review(&worked, log);
    assert_eq!(looked.bins.len(), 4);
    let folder = tempfile::tempdir().unwrap();
    let forms = [binleaf::cli::Form::Md];
    let files = look::make_review(&mut worked, &looked, &forms, folder.path()).unwrap();
    let text = std::fs::read_to_string(files.last().unwrap()).unwrap();
    for words in ["The plants drink 1", "top up to", "With nothing added", "rest-1.svg"] {
        assert!(text.contains(words), "{words}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(30))]

    #[test]
    fn no_log_makes_the_reader_panic(
        text in "(bin|day|level \\(mm\\)|[-0-9./,;\"a-zé \n]){0,40}",
        cells in proptest::collection::vec("[-0-9./ae\"#]{0,8}", 0..40),
    ) {
        let plan = plan::read(PLAN, &Findings::default()).unwrap();
        let _ = log::read(&text, &plan, &Findings::default());
        let rows: Vec<String> =
            cells.chunks(4).map(|c| format!("Upper tote 1,{}", c.join(","))).collect();
        let rows = rows.join("
");
        let text = format!("bin,day,level (mm),added (L),pH\n{rows}");
        let worked = worked();
        let _ = look::review(&worked, &text);
    }
}
