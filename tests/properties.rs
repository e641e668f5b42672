//! What holds for every plan, tried with random ones.

use binleaf::compute::season::Event;
use binleaf::finding::Findings;
use binleaf::number::quantity::Measure;
use binleaf::number::{audit, unit};
use binleaf::science::curve::Curve;
use binleaf::science::vessel::Vessel;
use binleaf::{plan, run};
use proptest::prelude::*;

/// A plan with one tapered tote of these inside measures (mm).
pub(crate) fn tote(
    floor: (u32, u32),
    rim: (u32, u32),
    depth: u32,
    plants: u32,
    factor: f64,
) -> String {
    format!(
        r#"title = "Random"
sown = 2027-03-01
[[feed]]
name = "F"
rate = {{ low = "1 tsp/gal", high = "2 tsp/gal" }}
teaspoon = "5.3 g"
contents = {{ N-nitrate = "10 %", P2O5 = "6 %", Ca = "8 %" }}
[[adjuster]]
name = "A"
moves = "up"
[[mix]]
name = "M"
pail = "15 L"
feeds = [{{ feed = "F", times-label-low = {factor} }}]
[[mix.trial]]
adjuster = "A"
sample = "1 L"
readings = [{{ added = "0 mL", ph = 4.8 }}, {{ added = "0.7 mL", ph = 5.5 }}, {{ added = "1.5 mL", ph = 6.7 }}]
[[bin]]
name = "T"
shape = "box"
floor = ["{} mm", "{} mm"]
rim = ["{} mm", "{} mm"]
depth = "{depth} mm"
pot = "2 in"
plants = [{{ crop = "lettuce", count = {plants} }}]
"#,
        floor.0, floor.1, rim.0, rim.1
    )
}

/// A plan of any water and any salts, with two bins of which one is twice the other.
pub(crate) fn watered(
    ph: f64,
    alkalinity: f64,
    ions: &[f64],
    doses: &[f64],
    celsius: f64,
    target: &str,
) -> String {
    let names = ["calcium", "magnesium", "sodium", "potassium", "chloride", "sulfate", "nitrate"];
    let report: Vec<String> =
        names.iter().zip(ions).map(|(name, mg)| format!("{name} = \"{mg:.1} mg/L\"")).collect();
    let salts = ["calcium nitrate", "mkp", "magnesium sulfate", "ammonium nitrate"];
    let feeds: Vec<String> =
        salts.iter().map(|s| format!("[[feed]]\nname = \"{s}\"\nsalt = \"{s}\"")).collect();
    let parts: Vec<String> = salts
        .iter()
        .zip(doses)
        .map(|(s, g)| format!("{{ feed = \"{s}\", dose = \"{g:.3} g/L\" }}"))
        .collect();
    let (up, form) = match target {
        "lye" => (true, "strength = \"2 %\""),
        "lime" => (true, "form = \"dry\""),
        _ => (false, "strength = \"10 %\""),
    };
    let bin = |name: &str, wide: f64| {
        format!(
            "[[bin]]\nname = \"{name}\"\nshape = \"box\"\nfloor = [\"{wide} mm\", \"400 mm\"]\n\
         depth = \"300 mm\"\npot = \"2 in\"\nplants = [{{ crop = \"lettuce\", count = 1 }}]"
        )
    };
    format!(
        "title = \"W\"\nsown = 2027-03-01\n[water]\nph = {ph:.2}\n\
         alkalinity = \"{alkalinity:.1} mg/L CaCO3\"\ntemperature = \"{celsius:.1} C\"\n{}\n{}\n\
         [[adjuster]]\nname = \"A\"\nmoves = \"{}\"\ncontents = \"{target}\"\n{form}\n\
         [[mix]]\nname = \"M\"\npail = \"10 L\"\nfeeds = [{}]\n{}\n{}\n",
        report.join("\n"),
        feeds.join("\n"),
        if up { "up" } else { "down" },
        parts.join(", "),
        bin("one", 400.0),
        bin("two", 800.0),
    )
}

/// All that must hold of a plan with one tapered tote.
fn sound(
    [a, b]: [u32; 2],
    [wider, deeper]: [u32; 2],
    [depth, plants]: [u32; 2],
    factor: f64,
) -> Result<(), TestCaseError> {
    let factor = (factor * 100.0).round() / 100.0;
    let text = tote((a, b), (a + wider, b + deeper), depth, plants, factor);
    let worked = run::work(text, "random");
    prop_assert!(worked.done.is_some(), "{:?}", worked.findings);
    let (plan, results) = worked.done.unwrap();
    for step in &results.steps {
        let faults = audit::faults(step);
        prop_assert!(faults.is_empty(), "{} {:?} {}", step.id, faults, step.numbers);
    }
    let bin = &results.bins[0];
    prop_assert!(bin.fill.reserve < bin.fill.ceiling && bin.fill.ceiling < bin.fill.pot_bottom);
    prop_assert!(bin.fill.start < bin.fill.depth);
    for check in &bin.season.checks {
        let level = check.level;
        prop_assert!(level.low <= level.expected && level.expected <= level.high);
        prop_assert!(level.high <= bin.fill.start + 1e-6 && level.low >= 0.0);
    }
    for (check, event) in bin.season.events() {
        let (Event::TopUp(pour) | Event::ChangeOut(pour)) = event;
        prop_assert!(pour.to <= bin.fill.ceiling + 1e-6 && pour.litres > 0.0);
        let steps = pour.to / plan.system.ruler_step();
        prop_assert!((steps - steps.round()).abs() < 1e-9, "{} mm cannot be read", pour.to);
        let rise = (pour.to - check.level.expected) / f64::from(pour.pours);
        prop_assert!(rise <= 20.5 || matches!(event, Event::ChangeOut(_)), "{rise} mm a day");
    }
    // Below the pots a tote is a frustum of a pyramid or a wedge: a cubic in height, of which
    // Simpson's rule gives the exact volume.
    let below = |h: f64| {
        let side = |at: f64, floor: u32, wider: u32| {
            f64::from(floor) + f64::from(wider) * at / f64::from(depth)
        };
        let area = |at: f64| side(at, a, wider) * side(at, b, deeper) / 1e6;
        h / 6.0 * (area(0.0) + 4.0 * area(h / 2.0) + area(h))
    };
    // Water is kept: what was left, what was poured, what was drunk and lost.
    let mut held = bin.fill.start_volume;
    let mut before = bin.dates.set_out;
    for check in &bin.season.checks {
        let days = before.until(check.day).unwrap().get_days();
        let lost = bin.season.loss * f64::from(days) / f64::from(bin.dates.days);
        let left = (held - check.drunk - lost).max(0.0);
        prop_assert!((left - check.left).abs() < 1e-9, "{left} {}", check.left);
        held = match &check.event {
            Some(Event::TopUp(pour)) => check.left + pour.litres,
            Some(Event::ChangeOut(pour)) => pour.litres,
            None => check.left,
        };
        if let Some(Event::TopUp(pour) | Event::ChangeOut(pour)) = &check.event {
            let line = below(pour.to);
            prop_assert!((held - line).abs() < 1e-9, "{held} L poured, {line} L to the line");
        }
        before = check.day;
    }
    for feed in results.mixing.iter().flat_map(|m| &m.feeds) {
        prop_assert!(feed.amounts.iter().all(|a| a.grams.unwrap() >= 0.0));
    }
    Ok(())
}

/// Here the level and a day's rise fell a hair below a line of the ruler.
#[test]
fn what_is_poured_is_what_the_roots_bear() {
    sound([445, 273], [20, 1], [150, 5], 0.69).unwrap();
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_random_plan_is_sound(
        a in 300u32..900, b in 250u32..600, wider in 0u32..80, deeper in 0u32..60,
        depth in 150u32..500, plants in 1u32..7, factor in 0.5f64..1.2,
    ) {
        sound([a, b], [wider, deeper], [depth, plants], factor)?;
    }

    #[test]
    fn twice_the_pail_takes_twice_the_feed(litres in 1u32..100) {
        let grams = |litres: u32| {
            let text = tote((500, 400), (500, 400), 300, 4, 0.9);
            let text = text.replace("15 L", &format!("{litres} L"));
            let (_, results) = run::work(text, "pail").done.unwrap();
            results.mixing[0].feeds[0].amounts[0].grams.unwrap()
        };
        prop_assert!((grams(2 * litres) / grams(litres) - 2.0).abs() < 1e-12);
    }

    #[test]
    fn level_and_volume_undo_each_other(
        floor in 0.1f64..1.0, rim in 0.1f64..1.0, depth in 100.0f64..600.0, part in 0.01f64..0.99,
    ) {
        let pail = Vessel::Round { floor, rim, depth };
        let h = part * depth;
        let back = pail.height_where(pail.volume(h), |h| pail.volume(h));
        prop_assert!((back - h).abs() < 1e-9);
    }

    #[test]
    fn a_written_quantity_reads_back(value in 0.001f64..1e6) {
        for (text, unit) in [("L", unit::LITRE), ("mm", unit::MILLIMETRE), ("mg/L", unit::MILLIGRAM_PER_LITRE)] {
            let read = Measure::parse(&format!("{value} {text}")).unwrap();
            prop_assert_eq!(read.in_unit(unit), Some(value));
        }
    }

    #[test]
    fn a_trial_curve_stays_between_its_readings(steps in prop::collection::vec((0.1f64..2.0, 0.0f64..1.0), 1..8)) {
        let mut points = vec![(0.0, 4.5)];
        for (x, y) in steps {
            let last = points[points.len() - 1];
            points.push((last.0 + x, last.1 + y));
        }
        let curve = Curve::through(&points).unwrap();
        for pair in points.windows(2) {
            for i in 0..=20 {
                let x = pair[0].0 + (pair[1].0 - pair[0].0) * f64::from(i) / 20.0;
                let y = curve.at(x);
                prop_assert!(y >= pair[0].1 - 1e-9 && y <= pair[1].1 + 1e-9);
            }
        }
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in "\\PC{0,200}") {
        let _ = plan::read(&text, &Findings::default());
    }

    #[test]
    fn no_value_makes_the_reader_panic(value in "[-0-9./,a-zµ°½ \"\\[\\]{}=]{0,24}") {
        let text = tote((500, 400), (500, 400), 300, 4, 0.9);
        for key in ["depth", "floor", "pot", "sown", "pail", "contents", "plants", "readings"] {
            let lines = text.lines().map(|line| match line.split_once(" = ") {
                Some((k, _)) if k == key => format!("{k} = {value}"),
                _ => line.to_string(),
            });
            let changed = lines.collect::<Vec<_>>().join("\n");
            let _ = run::work(changed, "random");
        }
    }

    /// Any water and any salts: no panic, charges cancel, and no number that is none; twice the
    /// volume takes twice the dose.
    #[test]
    fn any_water_and_any_salts(
        ph in 3.0..11.0_f64,
        alkalinity in 0.0..600.0_f64,
        ions in proptest::collection::vec(0.0..400.0_f64, 7),
        doses in proptest::collection::vec(0.005..3.0_f64, 4),
        celsius in 5.0..35.0_f64,
        target in prop::sample::select(vec!["phosphoric acid", "citric acid", "lye", "lime"]),
    ) {
        let text = watered(ph, alkalinity, &ions, &doses, celsius, target);
        let worked = run::work(text, "water");
        let Some((_, results)) = &worked.done else {
            return Err(TestCaseError::fail(format!("{:?}", worked.findings)));
        };
        let json = run::numbers(&worked).unwrap();
        prop_assert!(!json.contains("null,\n      \"unit\""), "a value is no number");
        let Some(chemistry) = &results.chemistry[0] else { return Ok(()) };
        let [plus, minus] = chemistry.balance.charges;
        prop_assert!((plus - minus).abs() < 1e-6, "{plus} {minus}");
        if let Some(dosing) = &chemistry.dosing {
            let volume = |bin: usize| results.bins[bin].fill.start_volume;
            let per = |bin: usize| dosing.bins[bin][1] / volume(bin);
            prop_assert!((per(1) / per(0) - 1.0).abs() < 1e-9);
        }
    }
}
