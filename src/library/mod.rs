//! Reference data, parsed once from the files in `data/`. Every fact carries its source.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::Deserialize;
use serde::de::DeserializeOwned;

pub mod climate;
pub mod crop;
pub mod element;
pub mod limit;
pub mod pot;
pub mod recipe;
pub mod salt;
pub mod source;
mod species;
pub mod substance;
pub mod tongue;
pub mod uptake;

use crate::science::species::Table;

pub use climate::ClimateFacts;
pub use crop::{Band, Crop, Harvest, Span};
pub use element::{Element, LabelForm};
pub use limit::Limits;
pub use pot::{Pot, PotSolids};
pub use recipe::Recipe;
pub use salt::{Bottle, Salt, Warns};
pub use source::{Kind, Source};
pub use substance::Substance;
pub use uptake::Uptake;

/// A number with where it comes from.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fact {
    /// The number (`unit`).
    pub value: f64,
    /// Its unit, where the field does not fix it.
    #[serde(default)]
    pub unit: String,
    /// Key in `data/sources.toml`.
    pub source: String,
    /// Where in the source, or how it was derived.
    pub at: String,
}

/// All reference data.
#[derive(Debug)]
pub struct Library {
    /// Sources by key.
    pub sources: BTreeMap<String, Source>,
    /// From air, light and weather to litres.
    pub climate: ClimateFacts,
    /// Crops by key.
    pub crops: BTreeMap<String, Crop>,
    /// Net pots by nominal size.
    pub pots: BTreeMap<String, Pot>,
    /// Solid shares of pots and cubes.
    pub solids: PotSolids,
    /// Elements, in the order of the file.
    pub elements: Vec<Element>,
    /// Forms in which labels name elements.
    pub forms: Vec<LabelForm>,
    /// Thresholds and defaults.
    pub limits: Limits,
    /// What a crop takes out of its solution.
    pub uptake: Uptake,
    /// Published solutions, by key.
    pub recipes: BTreeMap<String, Recipe>,
    /// Salts that are weighed, by key.
    pub salts: BTreeMap<String, Salt>,
    /// Aqueous species.
    pub species: Table,
    /// Acids, bases and bleach by key.
    pub substances: BTreeMap<String, Substance>,
}

#[derive(Deserialize)]
struct ElementFile {
    element: Vec<Element>,
    #[serde(rename = "label-form")]
    form: Vec<LabelForm>,
}

#[derive(Deserialize)]
struct PotFile {
    solid: PotSolids,
    #[serde(flatten)]
    pots: BTreeMap<String, Pot>,
}

/// The text of every data file, by name; tests read them too.
pub const FILES: [(&str, &str); 11] = [
    ("sources.toml", include_str!("../../data/sources.toml")),
    ("crops.toml", include_str!("../../data/crops.toml")),
    ("pots.toml", include_str!("../../data/pots.toml")),
    ("elements.toml", include_str!("../../data/elements.toml")),
    ("limits.toml", include_str!("../../data/limits.toml")),
    ("substances.toml", include_str!("../../data/substances.toml")),
    ("species.toml", include_str!("../../data/species.toml")),
    ("salts.toml", include_str!("../../data/salts.toml")),
    ("recipes.toml", include_str!("../../data/recipes.toml")),
    ("climate.toml", include_str!("../../data/climate.toml")),
    ("uptake.toml", include_str!("../../data/uptake.toml")),
];

impl Library {
    /// The data that come with the program.
    ///
    /// # Panics
    /// Only if a data file is malformed; a test loads them all.
    #[must_use]
    pub fn embedded() -> &'static Self {
        static LIBRARY: OnceLock<Library> = OnceLock::new();
        LIBRARY.get_or_init(|| {
            let elements: ElementFile = parse(3);
            let pots: PotFile = parse(2);
            Self {
                sources: parse(0),
                crops: parse(1),
                pots: pots.pots,
                solids: pots.solid,
                elements: elements.element,
                forms: elements.form,
                limits: parse(4),
                substances: parse(5),
                species: parse::<species::File>(6).table(),
                salts: parse(7),
                recipes: parse(8),
                climate: parse(9),
                uptake: parse(10),
            }
        })
    }

    /// The crop called `name`, by key or any of its names.
    #[must_use]
    pub fn crop(&self, name: &str) -> Option<&Crop> {
        let name = name.trim().to_lowercase();
        let called = |c: &Crop| c.name.to_lowercase() == name || c.also.contains(&name);
        self.crops.get(&name).or_else(|| self.crops.values().find(|c| called(c)))
    }

    /// The net pot called `name`.
    #[must_use]
    pub fn pot(&self, name: &str) -> Option<&Pot> {
        let name = name.trim().to_lowercase();
        self.pots.get(&name).or_else(|| self.pots.values().find(|p| p.also.contains(&name)))
    }

    /// The substance called `name`.
    #[must_use]
    pub fn substance(&self, name: &str) -> Option<(&str, &Substance)> {
        let name = name.trim().to_lowercase();
        let called = |s: &Substance| s.name.to_lowercase() == name || s.also.contains(&name);
        let key = name.replace(' ', "-");
        let found = self.substances.get_key_value(&key);
        let found = found.or_else(|| self.substances.iter().find(|(_, s)| called(s)));
        found.map(|(key, s)| (key.as_str(), s))
    }

    /// The salt called `name`.
    #[must_use]
    pub fn salt(&self, name: &str) -> Option<(&str, &Salt)> {
        let name = name.trim().to_lowercase();
        let called = |s: &Salt| s.name.to_lowercase() == name || s.also.contains(&name);
        let found = self.salts.get_key_value(&name.replace(' ', "-"));
        let found = found.or_else(|| self.salts.iter().find(|(_, s)| called(s)));
        found.map(|(key, salt)| (key.as_str(), salt))
    }

    /// The published solution called `name`.
    #[must_use]
    pub fn recipe(&self, name: &str) -> Option<&Recipe> {
        let name = name.trim().to_lowercase();
        let called = |r: &Recipe| r.name.to_lowercase() == name || r.also.contains(&name);
        let found = self.recipes.get(&name.replace(' ', "-"));
        found.or_else(|| self.recipes.values().find(|r| called(r)))
    }

    /// The element with this symbol.
    ///
    /// # Panics
    /// If there is none; a test holds the data to the symbols the program uses.
    #[must_use]
    pub fn element(&self, symbol: &str) -> &Element {
        let found = self.elements.iter().find(|e| e.symbol == symbol);
        found.expect("data/elements.toml has every element the program names")
    }

    /// Mass of the element in a gram of a label form; 0 for a form that is not known.
    #[must_use]
    pub fn share(&self, form: &str) -> f64 {
        self.forms.iter().find(|f| f.form == form).map_or(0.0, |f| {
            f64::from(f.atoms) * self.element(&f.element).atomic_weight / f.molar_mass(self)
        })
    }

    /// The source with this key.
    ///
    /// # Panics
    /// If there is none; a test holds every key to the file.
    #[must_use]
    pub fn source(&self, key: &str) -> &Source {
        self.sources.get(key).expect("data/sources.toml has every source the program names")
    }
}

fn parse<T: DeserializeOwned>(file: usize) -> T {
    let (name, text) = FILES[file];
    match toml::from_str(text) {
        Ok(data) => data,
        Err(e) => panic!("data/{name}: {e}"),
    }
}
