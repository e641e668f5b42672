//! Weights found for a solution, and the two bottles: against published recipes, against a
//! geochemistry code, and for random aims.

use binleaf::compute::concentrate::Concentrate;
use binleaf::compute::{Mixing, Results};
use binleaf::library::{Bottle, Library};
use binleaf::plan::Plan;
use binleaf::run;
use proptest::prelude::*;

/// A plan that has the doses of these salts found, or takes those that are given (g/L).
fn plan_of(salts: &[(&str, Option<f64>)], water: &str, rest: &str) -> String {
    let feed = |(name, _): &(&str, Option<f64>)| {
        format!("[[feed]]\nname = \"{name}\"\nsalt = \"{name}\"\n")
    };
    let part = |(name, dose): &(&str, Option<f64>)| match dose {
        Some(rate) => format!("{{ feed = \"{name}\", dose = \"{rate} g/L\" }}"),
        None => format!("{{ feed = \"{name}\" }}"),
    };
    let feeds: String = salts.iter().map(feed).collect();
    let parts: Vec<String> = salts.iter().map(part).collect();
    format!(
        "title = \"R\"\nsown = 2027-03-01\n[water]\n{water}\n{feeds}[[mix]]\nname = \"M\"\n\
         pail = \"10 L\"\nfeeds = [{}]\n{rest}\n[[bin]]\nname = \"B\"\nshape = \"round\"\n\
         floor = \"300 mm\"\ndepth = \"300 mm\"\npot = \"2 in\"\n\
         plants = [{{ crop = \"lettuce\", count = 1 }}]\n",
        parts.join(", ")
    )
}

fn work(text: String) -> (Plan, Results) {
    let worked = run::work(text, "recipe");
    worked.done.unwrap_or_else(|| panic!("{:?}", worked.findings))
}

fn mixing(text: String) -> Mixing {
    work(text).1.mixing.remove(0)
}

const FOUR: [&str; 4] =
    ["calcium nitrate", "potassium nitrate", "monopotassium phosphate", "magnesium sulfate"];

fn found(names: &[&'static str]) -> Vec<(&'static str, Option<f64>)> {
    names.iter().map(|name| (*name, None)).collect()
}

/// Hoagland & Arnon 1950, Calif. Agr. Exp. Sta. Circular 347: what their ppm list aims at, their
/// own weights meet: 505.5, 1180.8, 136.1, 492.9 mg/L for solution 1; 606.6, 944.6, 115.0, 492.9
/// for solution 2. The list is rounded to whole ppm, so the weights agree within 1 %.
#[test]
fn the_weights_of_a_published_solution_are_found_again() {
    let second =
        ["calcium nitrate", "potassium nitrate", "monoammonium phosphate", "magnesium sulfate"];
    for (recipe, salts, weights) in [
        ("hoagland-1", FOUR, [1.1808, 0.5055, 0.1361, 0.4929]),
        ("hoagland-2", second, [0.9446, 0.6066, 0.1150, 0.4929]),
    ] {
        let rest = format!("recipe = \"{recipe}\"\nscale = \"0.001 g\"");
        let mixing = mixing(plan_of(&found(&salts), "", &rest));
        for (dose, weight) in mixing.feeds.iter().zip(weights) {
            assert!((dose.rate / weight - 1.0).abs() < 0.01, "{recipe}: {} {weight}", dose.rate);
        }
    }
}

#[test]
fn what_the_water_brings_is_not_weighed_again() {
    let salts = found(&FOUR);
    let rest = "recipe = \"hoagland-1\"\nscale = \"0.001 g\"";
    let (soft, hard) = (plan_of(&salts, "", rest), plan_of(&salts, "calcium = \"60 mg/L\"", rest));
    let (soft, hard) = (mixing(soft), mixing(hard));
    let all = |m: &Mixing| m.elements.iter().find(|e| e.symbol == "Ca").unwrap().all;
    assert!(hard.feeds[0].rate < 0.85 * soft.feeds[0].rate);
    assert!((all(&hard) / 200.0 - 1.0).abs() < 0.1, "{}", all(&hard));
}

/// The salts of two recipes of `open.csv`, in g/L.
const LETTUCE: [(&str, Option<f64>); 5] = [
    ("horticultural calcium nitrate", Some(0.65)),
    ("potassium nitrate", Some(0.35)),
    ("monopotassium phosphate", Some(0.16)),
    ("magnesium sulfate", Some(0.30)),
    ("potassium sulfate", Some(0.06)),
];
const HOAGLAND: [(&str, Option<f64>); 4] = [
    ("potassium nitrate", Some(0.5055)),
    ("calcium nitrate", Some(1.1808)),
    ("monopotassium phosphate", Some(0.1361)),
    ("magnesium sulfate", Some(0.4929)),
];

/// PHREEQC, `stock.csv` (all in one, pure water, 20 °C): where the index of gypsum crosses 0, read
/// between its rows over the logarithm of the strength: 12.0 times a lettuce recipe of EC 1.6, 8.0
/// times Hoagland's first solution.
#[test]
fn one_bottle_is_enough_only_as_far_as_the_geochemistry_code_says() {
    let rest = "concentrate = { times = 50, bottle = \"1 L\" }";
    for (salts, limit) in [(&LETTUCE[..], 12.0), (&HOAGLAND[..], 8.0)] {
        let mixing = mixing(plan_of(salts, "temperature = \"20 C\"", rest));
        let found = mixing.concentrate.unwrap().in_one.unwrap();
        assert!((found / limit - 1.0).abs() < 0.08, "{found} for {limit}");
    }
}

/// The doses of the two bottles make the same solution as weighing into the pail.
#[test]
fn bottles_and_pail_make_the_same_solution() {
    let rest = "concentrate = { times = 80, bottle = \"2 L\" }";
    let (plan, results) = work(plan_of(&HOAGLAND, "", rest));
    let mixing = &results.mixing[0];
    let two = mixing.concentrate.as_ref().unwrap();
    let litres = two.millilitres[0] / 1000.0;
    assert!((litres - 10.0 / 80.0).abs() < 1e-12);
    for (part, (name, rate)) in two.parts.iter().zip(HOAGLAND) {
        assert_eq!(plan.feeds[part.feed].name, name);
        let in_pail = part.content * litres;
        assert!((in_pail / (10.0 * rate.unwrap()) - 1.0).abs() < 1e-9, "{name}");
        assert!((part.grams - part.content * 2.0).abs() < 1e-9);
    }
}

fn never_meet(two: &Concentrate, plan: &Plan) {
    for bottle in [Bottle::A, Bottle::B] {
        let own = two.parts.iter().filter(|p| p.bottle == bottle);
        let forms: Vec<&str> =
            own.flat_map(|p| plan.feeds[p.feed].contents.iter().map(|c| c.0.as_str())).collect();
        let calcium = forms.contains(&"Ca");
        assert!(!calcium || !(forms.contains(&"P") || forms.contains(&"S")), "{forms:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    /// Any salts and any aim: no panic, no negative weight, whole steps of the scale, calcium apart
    /// from sulfate and phosphate, and nothing nearer to the aim by leaving a salt out.
    #[test]
    fn any_salts_and_any_aim(
        picks in proptest::collection::btree_set(0_usize..20, 1..9),
        aims in proptest::collection::vec(0.0..300.0_f64, 6),
        step in prop::sample::select(vec![0.001, 0.01, 0.1, 1.0]),
        calcium in 0.0..200.0_f64,
    ) {
        let names: Vec<&String> = Library::embedded().salts.keys().collect();
        let salts: Vec<(&str, Option<f64>)> =
            picks.iter().map(|i| (names[*i].as_str(), None)).collect();
        let forms = ["N", "P", "K", "Ca", "Mg", "S"];
        let aim = forms.iter().zip(&aims).filter(|(_, mg)| **mg > 1.0);
        let aim: Vec<String> = aim.map(|(form, mg)| format!("{form} = \"{mg:.1} mg/L\"")).collect();
        prop_assume!(!aim.is_empty());
        let rest = format!(
            "aim = {{ {} }}\nscale = \"{step} g\"\nconcentrate = {{ times = 60, bottle = \"1 L\" }}",
            aim.join(", ")
        );
        let water = format!("calcium = \"{calcium:.1} mg/L\"");
        let (plan, results) = work(plan_of(&salts, &water, &rest));
        let mixing = &results.mixing[0];
        let two = mixing.concentrate.as_ref().unwrap();
        never_meet(two, &plan);
        for part in &two.parts {
            prop_assert!(part.grams >= 0.0);
            let steps = part.grams / step;
            prop_assert!((steps - steps.round()).abs() < 1e-6, "{} of {step}", part.grams);
        }
    }

    /// What a set of weights holds, aimed at, gives those weights back.
    #[test]
    fn an_aim_that_can_be_met_is_met(weights in proptest::collection::vec(0.05..1.5_f64, 4)) {
        let given: Vec<(&str, Option<f64>)> =
            FOUR.iter().zip(&weights).map(|(name, w)| (*name, Some(*w))).collect();
        let held = mixing(plan_of(&given, "", ""));
        let aim: Vec<String> =
            held.elements.iter().map(|e| format!("{} = \"{} mg/L\"", e.symbol, e.amount)).collect();
        let rest = format!("aim = {{ {} }}\nscale = \"0.001 g\"", aim.join(", "));
        let again = mixing(plan_of(&found(&FOUR), "", &rest));
        for (dose, weight) in again.feeds.iter().zip(&weights) {
            prop_assert!((dose.rate / weight - 1.0).abs() < 0.005, "{} for {weight}", dose.rate);
        }
    }
}
