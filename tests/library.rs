//! The reference data: every value has a unit and a source, and the chemistry adds up.

use std::collections::BTreeSet;

use binleaf::library::{FILES, Library};
use binleaf::science::index;

/// Every `source = "..."` of the data files.
fn keys_used() -> BTreeSet<String> {
    let text: String = FILES.iter().skip(1).map(|(_, text)| *text).collect();
    let parts = text.split("source = \"").skip(1);
    parts.map(|rest| rest.split('"').next().unwrap().to_string()).collect()
}

#[test]
fn every_source_exists_and_every_source_is_used() {
    let library = Library::embedded();
    let mut used = keys_used();
    used.extend(index::ALL.iter().map(|card| card.source.to_string()));
    let known: BTreeSet<String> = library.sources.keys().cloned().collect();
    let missing: Vec<_> = used.difference(&known).collect();
    assert!(missing.is_empty(), "no such source: {missing:?}");
    let mut idle: Vec<_> = known.difference(&used).collect();
    // Printed as marks, or named by the program itself.
    idle.retain(|key| {
        !["from-memory", "nist-sp-811", "benson-krause-1984"].contains(&key.as_str())
    });
    assert!(idle.is_empty(), "never used: {idle:?}");
}

#[test]
fn ranges_rise_and_names_are_unique() {
    let library = Library::embedded();
    assert!(library.crops.len() >= 20);
    let mut names = BTreeSet::new();
    for (key, crop) in &library.crops {
        let spans = [
            &crop.ph,
            &crop.conductivity,
            &crop.sow_to_set_out,
            &crop.set_out_to_harvest,
            &crop.pick_for,
            &crop.spacing,
            &crop.air,
            &crop.light,
            &crop.germination,
        ];
        assert!(spans.iter().all(|s| s.low <= s.high && s.low >= 0.0), "{key}");
        let water = &crop.water;
        assert!(water.low < water.expected && water.expected < water.high, "{key}");
        assert!(crop.ph.low > 4.0 && crop.ph.high < 8.0, "{key}");
        assert!(crop.share_shape.value > 0.0, "{key}");
        let own = crop.also.iter().cloned().chain([crop.name.to_lowercase(), key.clone()]);
        for name in own.collect::<BTreeSet<_>>() {
            assert!(names.insert(name.clone()), "two crops are called {name}");
        }
        assert_eq!(library.crop(&crop.name.to_uppercase()), Some(crop));
    }
}

#[test]
fn one_gallon_carries_a_lettuce() {
    // Common practice, no source: one US gallon, 3.8 L, a head over about a month.
    let lettuce = Library::embedded().crop("lettuce").unwrap();
    assert!((lettuce.water.expected - 3.785).abs() < 0.05);
    assert!((25.0..=38.0).contains(&lettuce.set_out_to_harvest.high));
}

/// Molar masses worked from the formula written with the substance.
#[test]
fn molar_masses_are_sums_of_atomic_weights() {
    let library = Library::embedded();
    for (key, substance) in &library.substances {
        let mut sum = 0.0;
        let letters: Vec<char> = substance.formula.chars().collect();
        let mut i = 0;
        while i < letters.len() {
            let mut symbol = letters[i].to_string();
            i += 1;
            while i < letters.len() && letters[i].is_ascii_lowercase() {
                symbol.push(letters[i]);
                i += 1;
            }
            let digits: String = letters[i..].iter().take_while(|c| c.is_ascii_digit()).collect();
            i += digits.len();
            sum += library.element(&symbol).atomic_weight * digits.parse().unwrap_or(1.0);
        }
        let off = (sum - substance.molar_mass.value).abs();
        assert!(off < 0.01, "{key}: {sum} against {}", substance.molar_mass.value);
    }
}

#[test]
fn salts_are_neutral_or_acid_and_weigh_what_they_hold() {
    let library = Library::embedded();
    for (key, salt) in &library.salts {
        let known = binleaf::science::species::NAMES;
        assert!(salt.compound.keys().all(|name| known.contains(&name.as_str())), "{key}");
        let held: f64 = salt.contents(library).iter().map(|(_, share)| share).sum();
        assert!(held > 8.0 && held < 100.001, "{key} holds {held} %");
    }
    // Handbook shares of the pure salts: 11.86 % N and 16.97 % Ca; 13.85 % N and 38.67 % K.
    let share = |salt: &str, form: &str| {
        let contents = library.salt(salt).unwrap().1.contents(library);
        contents.into_iter().find(|(name, _)| name == form).unwrap().1
    };
    for (salt, form, percent) in [
        ("calcium nitrate", "N-nitrate", 11.86),
        ("calcium nitrate", "Ca", 16.97),
        ("potassium nitrate", "K", 38.67),
        ("monopotassium phosphate", "P", 22.76),
        ("magnesium sulfate", "Mg", 9.86),
    ] {
        assert!((share(salt, form) - percent).abs() < 0.01, "{salt} {form}");
    }
}

/// The search for an equilibrium sweeps cations and anions in turn, so a pair is of one of each; and
/// charges follow from what a species is made of.
#[test]
fn pairs_are_of_a_cation_and_an_anion() {
    let table = &Library::embedded().species;
    for species in &table.species {
        let first = table.charge[species.first];
        let second = species.second.map(|second| table.charge[second]);
        assert!(second.is_none_or(|second| first > 0 && second < 0), "{}", species.name);
        assert_eq!(
            first + second.unwrap_or(0) + species.protons,
            species.charge,
            "{}",
            species.name
        );
        let squares = first * first + second.map_or(0, |z| z * z) - species.charge * species.charge;
        assert!((0..=18).contains(&squares), "{}", species.name);
    }
}

/// Factors of label forms: Knott's Handbook and fertiliser texts give P = 0.4364 P₂O₅,
/// K = 0.8302 K₂O, Ca = 0.7147 `CaO`, Mg = 0.6030 `MgO`, S = 0.4005 SO₃ = 0.3338 SO₄,
/// N = 0.2259 NO₃ = 0.7765 NH₄ (standard conversion factors).
#[test]
fn label_forms_have_their_handbook_factors() {
    let library = Library::embedded();
    for (form, factor) in [
        ("P2O5", 0.4364),
        ("K2O", 0.8302),
        ("CaO", 0.7147),
        ("MgO", 0.6030),
        ("SO3", 0.4005),
        ("SO4", 0.3338),
        ("NO3", 0.2259),
        ("NH4", 0.7765),
        ("B2O3", 0.3106),
    ] {
        let form = library.forms.iter().find(|f| f.form == form).unwrap();
        let atom = library.element(&form.element).atomic_weight;
        let worked = f64::from(form.atoms) * atom / form.molar_mass(library);
        assert!((worked - factor).abs() < 0.00006, "{}: {worked}", form.form);
    }
}

#[test]
fn hazards_cover_every_strength() {
    for (key, substance) in &Library::embedded().substances {
        for percent in 0..=100 {
            assert!(substance.hazard(f64::from(percent)).is_some(), "{key} at {percent} %");
        }
    }
}
