//! Against the outside: published recipes and sums, handbook geometry, an independent unit
//! library, and what the trade holds for true.

use std::collections::BTreeMap;

use binleaf::compute::quantity::Value;
use binleaf::number::Formula;
use binleaf::number::quantity::Measure;
use binleaf::number::unit::{self, Unit};
use binleaf::run;
use binleaf::science::cleaning::{BleachVolume, ChlorinePerMillilitre};
use binleaf::science::mixing::{ElementAdded, FeedMass};
use binleaf::science::vessel::Vessel;
use serde::Deserialize;
use uom::si::f64::{Length, Mass, Volume};
use uom::si::{length, mass, volume};

#[derive(Deserialize)]
struct Recipes {
    recipe: Vec<Recipe>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Recipe {
    name: String,
    source: String,
    salts: Vec<Salt>,
    wanted: BTreeMap<String, f64>,
    within: f64,
    why: String,
}

#[derive(Deserialize)]
struct Salt {
    name: String,
    dose: f64,
    contents: BTreeMap<String, f64>,
}

/// A plan that mixes these salts and nothing else.
fn plan_of(recipe: &Recipe) -> String {
    let mut text = vec!["title = \"Reference\"\nsown = 2027-03-01".to_string()];
    let mut parts = Vec::new();
    for salt in &recipe.salts {
        let contents: Vec<String> =
            salt.contents.iter().map(|(form, share)| format!("{form} = \"{share} %\"")).collect();
        text.push(format!(
            "[[feed]]\nname = \"{0}\"\nrate = {{ low = \"0.01 g/L\", high = \"2 g/L\" }}\n\
             contents = {{ {1} }}\n",
            salt.name,
            contents.join(", ")
        ));
        parts.push(format!("{{ feed = \"{}\", dose = \"{} g/L\" }}", salt.name, salt.dose));
    }
    text.push(format!("[[mix]]\nname = \"M\"\npail = \"10 L\"\nfeeds = [{}]\n", parts.join(", ")));
    text.push(
        "[[bin]]\nname = \"B\"\nshape = \"round\"\nfloor = \"300 mm\"\ndepth = \"300 mm\"\n\
             pot = \"2 in\"\nplants = [{ crop = \"lettuce\", count = 1 }]\n"
            .into(),
    );
    text.join("\n")
}

#[test]
fn published_recipes_give_their_published_strengths() {
    let text = include_str!("reference/recipes.toml");
    let recipes: Recipes = toml::from_str(text).unwrap();
    assert!(recipes.recipe.len() >= 5);
    for recipe in recipes.recipe {
        assert!(!recipe.source.is_empty() && !recipe.why.is_empty());
        let worked = run::work(plan_of(&recipe), "recipe");
        let (_, results) = worked.done.unwrap_or_else(|| panic!("{:?}", worked.findings));
        for (element, wanted) in &recipe.wanted {
            let total =
                |q: &&binleaf::compute::Quantity| q.id == "element-total" && q.item == *element;
            let Value::Number(got) = results.quantities.iter().find(total).unwrap().value else {
                panic!("{element} is no number")
            };
            let off = (got - wanted).abs();
            assert!(off <= recipe.within, "{}: {element} {got}, not {wanted}", recipe.name);
        }
    }
}

fn in_unit(text: &str, unit: Unit) -> f64 {
    Measure::parse(text).unwrap().in_unit(unit).unwrap()
}

/// Texas A&M, horticulture calculations: 1 oz of calcium nitrate (15 % N) in 100 US gal is
/// 11.25 ppm N (11.23 exactly), and 250 ppm N takes 22 oz.
#[test]
fn an_ounce_in_a_hundred_gallons() {
    let gallons = in_unit("100 gal", unit::LITRE);
    let ounce = in_unit("1 oz", unit::GRAM);
    let ppm = ElementAdded { r: ounce / gallons, w: 150.0, f: 1.0 }.value();
    assert!((ppm - 11.23).abs() < 0.01, "{ppm}");
    let ounces = 250.0 / ppm;
    assert!((ounces - 22.0).abs() < 0.3, "{ounces}");
}

/// University of Massachusetts Extension: 200 ppm N takes 13.5 oz of 20-20-20 or 18 oz of
/// 15-15-15 in 100 US gal (13.35 and 17.8 exactly).
#[test]
fn ounces_for_two_hundred_parts_per_million() {
    let gallons = in_unit("100 gal", unit::LITRE);
    for (share, ounces) in [(200.0, 13.35), (150.0, 17.8)] {
        let grams = FeedMass { r: 200.0 / share, v: gallons }.value();
        let got = grams / in_unit("1 oz", unit::GRAM);
        assert!((got - ounces).abs() < 0.05, "{got} for {share}");
    }
}

/// CDC 2020, as quoted: 5 tablespoons (1/3 cup) of household bleach in a US gallon disinfects;
/// with 5.25 to 8.25 % that is about 1100 to 1800 mg/L available chlorine.
#[test]
fn five_tablespoons_in_a_gallon() {
    let spoonful = in_unit("5 tbsp", unit::MILLILITRE);
    let gallon = in_unit("1 gal", unit::LITRE);
    for (percent, ppm) in [(5.25, 1050.0), (8.25, 1640.0)] {
        let s = ChlorinePerMillilitre { w: 10.0 * percent, density: 1.07, f: 0.952 }.value();
        let c = spoonful * s / gallon;
        assert!((c - ppm).abs() < 0.05 * ppm, "{c}");
        let back = BleachVolume { c, v: gallon, s }.value();
        assert!((back - spoonful).abs() < 1e-9);
    }
}

/// Every spelling against the `uom` library (SI brochure, NIST SP 811 factors).
#[test]
fn units_agree_with_an_independent_library() {
    let lengths = [
        ("1 in", Length::new::<length::inch>(1.0)),
        ("1 ft", Length::new::<length::foot>(1.0)),
        ("1 cm", Length::new::<length::centimeter>(1.0)),
        ("1 m", Length::new::<length::meter>(1.0)),
    ];
    for (text, oracle) in lengths {
        close(text, in_unit(text, unit::MILLIMETRE), oracle.get::<length::millimeter>());
    }
    let masses = [
        ("1 oz", Mass::new::<mass::ounce>(1.0)),
        ("1 lb", Mass::new::<mass::pound>(1.0)),
        ("1 kg", Mass::new::<mass::kilogram>(1.0)),
        ("1 mg", Mass::new::<mass::milligram>(1.0)),
    ];
    for (text, oracle) in masses {
        close(text, in_unit(text, unit::GRAM), oracle.get::<mass::gram>());
    }
    let volumes = [
        ("1 gal", Volume::new::<volume::gallon>(1.0)),
        ("1 qt", Volume::new::<volume::quart_liquid>(1.0)),
        ("1 pt", Volume::new::<volume::pint_liquid>(1.0)),
        ("1 cup", Volume::new::<volume::cup>(1.0)),
        ("1 fl oz", Volume::new::<volume::fluid_ounce>(1.0)),
        ("1 tbsp", Volume::new::<volume::tablespoon>(1.0)),
        ("1 tsp", Volume::new::<volume::teaspoon>(1.0)),
        ("1 imp gal", Volume::new::<volume::gallon_imperial>(1.0)),
        ("1 imp fl oz", Volume::new::<volume::fluid_ounce_imperial>(1.0)),
        ("1 mL", Volume::new::<volume::milliliter>(1.0)),
        ("1 m3", Volume::new::<volume::cubic_meter>(1.0)),
    ];
    for (text, oracle) in volumes {
        close(text, in_unit(text, unit::LITRE), oracle.get::<volume::liter>());
    }
}

fn close(text: &str, ours: f64, theirs: f64) {
    // uom keeps seven digits of the customary units.
    assert!((ours / theirs - 1.0).abs() < 1e-6, "{text}: {ours} against {theirs}");
}

/// Textbook solid geometry: a frustum of a square pyramid, V = h/3 (A + √(A·B) + B); it holds
/// for a tapered box only when both tapers meet in one point, and the prismoidal formula then
/// agrees.
#[test]
fn a_box_with_equal_tapers_is_a_pyramid_frustum() {
    let same = Vessel::Box { floor: [0.4, 0.3], rim: [0.48, 0.36], depth: 300.0 };
    let (a, b): (f64, f64) = (0.4 * 0.3, 0.48 * 0.36);
    let book = 300.0 / 3.0 * (a + (a * b).sqrt() + b);
    assert!((same.volume(300.0) / book - 1.0).abs() < 1e-12);
    // Unequal tapers: the pyramid formula is wrong, numerical integration is not.
    let unequal = Vessel::Box { floor: [0.4, 0.3], rim: [0.60, 0.3], depth: 300.0 };
    let (a, b): (f64, f64) = (0.12, 0.18);
    let pyramid = 300.0 / 3.0 * (a + (a * b).sqrt() + b);
    let sliced: f64 = (0..10_000)
        .map(|i| {
            let part = (f64::from(i) + 0.5) / 10_000.0;
            (0.4 + 0.2 * part) * 0.3 * 0.03
        })
        .sum();
    assert!((unequal.volume(300.0) / sliced - 1.0).abs() < 1e-8);
    assert!((pyramid / sliced - 1.0).abs() > 1e-3);
}

/// Common practice, no source: what growers hold for true, through the starter plan.
#[test]
fn the_trade_facts_hold_in_the_starter_plan() {
    let (plan, results) = run::work(run::STARTER.into(), "starter").done.unwrap();
    let (bin, r) = (&plan.bins[0], &results.bins[0]);
    // The solution starts about half an inch up into the net pot.
    assert!((r.fill.start - r.fill.pot_bottom - 13.0).abs() < 1e-9);
    // The cube is not pushed to the pot's floor.
    assert!(bin.cube.unwrap().lift > 0.0);
    // A top-up stays a good bit below the pot, so never returns to the first level.
    assert!(r.fill.ceiling < r.fill.pot_bottom - 20.0 && r.fill.ceiling < r.fill.start);
    // Growers do well just under one level teaspoon a gallon.
    let rate = results.mixing[0].feeds[0].rate;
    assert!((0.8..1.0).contains(&rate), "{rate}");
    // A mix that reads too acid takes about 6 mL of a weak base a fill to reach 5.5 to 6.5.
    let dose = results.acidity[0].trials[0].bins[0].whole;
    assert!((3.0..20.0).contains(&dose), "{dose}");
    let range = results.acidity[0].range;
    assert!(range[0] >= 5.5 && range[1] <= 6.5);
    // Six heads in a bin of about six gallons drink it nearly empty.
    let need = r.season.need.expected / r.fill.start_volume;
    assert!((0.6..1.1).contains(&need), "{need}");
}

/// Last time 6 mL did for a fill; half the fill takes half.
#[test]
fn last_times_dose_is_scaled_by_volume() {
    let text = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/data/plans/garden-pails.toml"
    ));
    let (_, results) = run::work(text.unwrap(), "garden").done.unwrap();
    let (_, doses) = results.acidity[0].last_time.as_ref().unwrap();
    let per_litre = doses[0].whole / results.bins[0].fill.start_volume;
    assert!((per_litre - 6.0 / 20.0).abs() < 1e-12);
    assert!((doses[0].first / doses[0].whole - 0.5).abs() < 1e-12);
}

/// Hoagland & Arnon 1950, solution 1, weighed from its four salts in very soft water (alkalinity
/// 8 mg/L): its published strengths, and the pH 5.71 and 2.18 mS/cm that PHREEQC (Amm.dat) gives.
#[test]
fn a_solution_weighed_from_salts_is_what_its_formulas_say() {
    let mut text = String::from(
        "title = \"Salts\"\nsown = 2027-03-01\n[water]\nph = 6.5\nalkalinity = \"8 mg/L CaCO3\"\n\
         calcium = \"2 mg/L\"\ntemperature = \"25 C\"\n",
    );
    let salts = [
        ("potassium nitrate", 0.5055),
        ("calcium nitrate", 1.1808),
        ("monopotassium phosphate", 0.1361),
        ("magnesium sulfate", 0.4930),
    ];
    let mut parts = Vec::new();
    for (salt, dose) in salts {
        text.push_str(&["[[feed]]\nname = \"", salt, "\"\nsalt = \"", salt, "\"\n"].concat());
        parts.push(format!("{{ feed = \"{salt}\", dose = \"{dose} g/L\" }}"));
    }
    text.push_str("[[mix]]\nname = \"M\"\npail = \"10 L\"\nfeeds = [");
    text.push_str(&parts.join(", "));
    text.push_str(
        "]\n[[bin]]\nname = \"B\"\nshape = \"round\"\nfloor = \"300 mm\"\ndepth = \"300 mm\"\n\
         pot = \"2 in\"\nplants = [{ crop = \"lettuce\", count = 1 }]\n",
    );
    let worked = run::work(text, "salts");
    let (_, results) = worked.done.unwrap_or_else(|| panic!("{:?}", worked.findings));
    let chemistry = results.chemistry[0].as_ref().unwrap();
    assert!((chemistry.closed.ph - 5.71).abs() < 0.06, "{}", chemistry.closed.ph);
    assert!((chemistry.closed.conductivity / 2.18 - 1.0).abs() < 0.04);
    for (symbol, wanted) in [("N", 210.0), ("P", 31.0), ("K", 235.0), ("Ca", 200.0), ("Mg", 48.6)] {
        let added = results.mixing[0].elements.iter().find(|e| e.symbol == symbol).unwrap();
        assert!((added.amount - wanted).abs() < 0.8, "{symbol} {}", added.amount);
    }
}

/// A German degree of carbonate hardness is 17.8 mg/L of calcium carbonate, a French one 10 (10 mg of
/// calcium oxide, of calcium carbonate, in a litre; DIN 38409-6 and ISO 6059, from memory).
#[test]
fn alkalinity_is_read_as_drop_kits_count_it() {
    let read = |alkalinity: &str| {
        let text = run::STARTER
            .replace("[water]", &format!("[water]\nalkalinity = \"{alkalinity}\"\nph = 7.5"));
        let text = if text.contains("alkalinity") {
            text
        } else {
            format!("{text}\n[water]\nalkalinity = \"{alkalinity}\"\nph = 7.5\n")
        };
        run::work(text, "plan.toml").done.map(|(plan, _)| plan.water.alkalinity.unwrap())
    };
    for (text, wanted) in [
        ("10 dKH", 178.5),
        ("10°dH", 178.5),
        ("12 °f", 120.0),
        ("180 ppm", 180.0),
        ("90 mg/L", 90.0),
    ] {
        let found = read(text).unwrap();
        assert!((found - wanted).abs() < 0.06, "{text}: {found}");
    }
    assert_eq!(read("10 dKG"), None);
}

/// Checks fall on the days that are named, the set-out first, whatever day it is.
#[test]
fn checks_fall_on_the_days_that_are_named() {
    let text = include_str!("../data/plans/classroom-jars.toml");
    let (_, results) = run::work(text.into(), "jars").done.unwrap();
    for bin in &results.bins {
        let checks = &bin.dates.checks;
        assert_eq!(checks[0], bin.dates.set_out);
        for day in &checks[1..] {
            let name = day.strftime("%a").to_string();
            assert!(["Mon", "Thu"].contains(&name.as_str()), "{day}");
        }
        assert!(checks.windows(2).all(|pair| pair[0] < pair[1]));
    }
}
