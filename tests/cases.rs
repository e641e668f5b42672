//! The rows of `reference/open.csv` and its neighbours as solutions: what the tests hold against
//! PHREEQC, and what the bench times beside it.

use std::collections::BTreeMap;

use binleaf::science::electrolyte::water;
use binleaf::science::speciation::{AIR, Solution};
use binleaf::science::species::{Amounts, COMPONENTS, Constants, NAMES};

/// A row, by the names of its columns.
pub(crate) type Row = BTreeMap<String, String>;

/// The rows of a table with commas.
pub(crate) fn rows(text: &str) -> Vec<Row> {
    let mut lines = text.lines();
    let head: Vec<&str> = lines.next().unwrap().split(',').collect();
    lines
        .map(|l| head.iter().map(ToString::to_string).zip(l.split(',').map(Into::into)).collect())
        .collect()
}

/// The number of a row in a column.
pub(crate) fn number(row: &Row, key: &str) -> f64 {
    row[key].parse().unwrap_or_else(|_| panic!("{key} is {:?}", row[key]))
}

/// Amounts of components by name.
pub(crate) fn amounts(parts: &[(&str, f64)]) -> Amounts {
    let mut all = [0.0; COMPONENTS];
    for (name, n) in parts {
        all[NAMES.iter().position(|x| x == name).unwrap()] += n;
    }
    all
}

/// Column, molar mass (g/mol) and make-up of each salt. All are neutral compounds; protons follow
/// from the charge.
fn salts() -> Vec<(&'static str, f64, Amounts)> {
    [
        ("calcium_nitrate_4h2o", 236.146, &[("Ca", 1.0), ("NO3", 2.0)][..]),
        ("calcium_nitrate_double", 1080.6, &[("Ca", 5.0), ("NO3", 11.0), ("NH4", 1.0)]),
        ("potassium_nitrate", 101.102, &[("K", 1.0), ("NO3", 1.0)]),
        ("monopotassium_phosphate", 136.084, &[("K", 1.0), ("PO4", 1.0)]),
        ("dipotassium_phosphate", 174.174, &[("K", 2.0), ("PO4", 1.0)]),
        ("magnesium_sulfate_7h2o", 246.466, &[("Mg", 1.0), ("SO4", 1.0)]),
        ("potassium_sulfate", 174.252, &[("K", 2.0), ("SO4", 1.0)]),
        ("magnesium_nitrate_6h2o", 256.401, &[("Mg", 1.0), ("NO3", 2.0)]),
        ("monoammonium_phosphate", 115.024, &[("NH4", 1.0), ("PO4", 1.0)]),
        ("ammonium_nitrate", 80.043, &[("NH4", 1.0), ("NO3", 1.0)]),
        ("ammonium_sulfate", 132.133, &[("NH4", 2.0), ("SO4", 1.0)]),
        ("calcium_chloride_2h2o", 147.008, &[("Ca", 1.0), ("Cl", 2.0)]),
    ]
    .into_iter()
    .map(|(name, mass, parts)| (name, mass, amounts(parts)))
    .collect()
}

/// What an acid or base of the rows is made of.
pub(crate) fn reagent(name: &str) -> Amounts {
    amounts(match name {
        "phosphoric" => &[("PO4", 1.0)][..],
        "nitric" => &[("NO3", 1.0)],
        "sulfuric" => &[("SO4", 1.0)],
        "citric" => &[("Cit", 1.0)],
        "acetic" => &[("Ace", 1.0)],
        "KOH" => &[("K", 1.0)],
        "NaOH" => &[("Na", 1.0)],
        "K2CO3" => &[("K", 2.0), ("CO3", 1.0)],
        "KHCO3" => &[("K", 1.0), ("CO3", 1.0)],
        "NaHCO3" => &[("Na", 1.0), ("CO3", 1.0)],
        "lime" | "Ca(OH)2" => &[("Ca", 1.0)],
        other => panic!("unknown reagent {other}"),
    })
}

/// The source water of a row and the mix in it.
pub(crate) fn mix(c: &Constants<'_>, row: &Row) -> (Solution, Solution) {
    let ion = |key: &str, mass: f64| number(row, key) / mass / 1000.0;
    let ions = amounts(&[
        ("Ca", ion("Ca_mgL", 40.078)),
        ("Mg", ion("Mg_mgL", 24.305)),
        ("Na", ion("Na_mgL", 22.990)),
        ("K", ion("K_mgL", 39.098)),
        ("Cl", ion("Cl_mgL", 35.45)),
        ("SO4", ion("SO4_mgL", 96.06)),
        ("NO3", ion("NO3_mgL", 62.004)),
    ]);
    let alkalinity = number(row, "alk_mgL_CaCO3") / 50.04 / 1000.0;
    let source = water(c, &ions, alkalinity, number(row, "water_pH")).unwrap();
    let mut mix = source;
    for (key, mass, compound) in salts() {
        mix = mix.with(&compound, number(row, key) / mass / 1000.0);
    }
    if row["co2"] == "open" { (source, mix.in_air(AIR)) } else { (source, mix) }
}
