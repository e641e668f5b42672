//! The species table of `data/species.toml`.

use serde::Deserialize;

use crate::science::species::{COMPONENTS, NAMES, Species, Table};

/// The file as written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct File {
    /// Source of the constants.
    #[expect(dead_code, reason = "kept beside the numbers; a test reads it from the text")]
    source: String,
    /// Source of the conductivities.
    #[expect(dead_code, reason = "kept beside the numbers; a test reads it from the text")]
    conductivity_source: String,
    water: [f64; 5],
    henry: [f64; 5],
    component: Vec<Part>,
    species: Vec<Formed>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Part {
    name: String,
    charge: i32,
    molar_conductivity: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Formed {
    name: String,
    charge: i32,
    from: Vec<String>,
    protons: i32,
    log_k: [f64; 5],
    #[serde(default)]
    molar_conductivity: f64,
}

impl File {
    /// The table the science works with.
    ///
    /// # Panics
    /// Only if the file names a component that is none; a test loads it.
    pub(super) fn table(self) -> Table {
        let index = |name: &String| {
            let found = NAMES.iter().position(|n| n == name);
            found.expect("data/species.toml names the components of the program")
        };
        let mut table = Table {
            charge: [0; COMPONENTS],
            conductivity: [0.0; COMPONENTS],
            species: Vec::new(),
            water: self.water,
            henry: self.henry,
        };
        for part in &self.component {
            table.charge[index(&part.name)] = part.charge;
            table.conductivity[index(&part.name)] = part.molar_conductivity;
        }
        let species = self.species.into_iter().map(|s| Species {
            first: index(&s.from[0]),
            second: s.from.get(1).map(index),
            name: s.name,
            charge: s.charge,
            protons: s.protons,
            log_k: s.log_k,
            conductivity: s.molar_conductivity,
        });
        table.species = species.collect();
        table
    }
}
