//! A grower's plan: TOML text in, a [`Plan`] that cannot be impossible out.
//!
//! [`read`] finds everything wrong in one run, in the order of the file. Knows nothing of sums,
//! pages or files.

use jiff::civil::Date;

use crate::finding::Findings;
use crate::library::{Crop, Pot};
use crate::number::figures::System;
use crate::science::vessel::Vessel;

mod adjuster;
mod air;
mod bin;
mod checks;
mod climate;
mod crop;
mod feed;
mod fit;
mod grow;
mod mix;
mod pages;
mod recipe;
mod shape;
mod solution;
mod supply;
mod table;
mod value;
mod vary;
mod water;

pub use air::{Climate, Lamp, Light, Month};
pub use checks::Checks;
pub(crate) use checks::short_name;
pub(crate) use climate::middle;
pub use pages::{Named, Pages};
pub(crate) use recipe::holds;
pub use solution::{Aim, Concentrate, Dose, Feed, LabelRate, LastTime, Mix, Part, Trial};
pub use supply::Supply;
pub(crate) use table::unprintable;

/// The longest plan that is read (bytes): a thousand bins fit in it.
pub const LONGEST: usize = 1_000_000;

/// A checked plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// What the booklet is called.
    pub title: String,
    /// Where it grows; may be empty.
    pub place: String,
    /// Who keeps it; may be empty.
    pub keeper: String,
    /// The grower's own notes; may be empty.
    pub notes: String,
    /// The day of sowing.
    pub sown: Date,
    /// Which units come first.
    pub system: System,
    /// Paper.
    pub paper: Sheet,
    /// Language of the booklet by its code; English if there is none.
    pub language: Option<String>,
    /// Whether letters are large.
    pub large: bool,
    /// When the bins are looked at.
    pub checks: Checks,
    /// The water.
    pub water: Water,
    /// The air.
    pub climate: Climate,
    /// Bottles that move pH.
    pub adjusters: Vec<Adjuster>,
    /// Feeds.
    pub feeds: Vec<Feed>,
    /// Solutions, each from some feeds.
    pub mixes: Vec<Mix>,
    /// Bins.
    pub bins: Vec<Bin>,
    /// What the table wants every week, if anything.
    pub supply: Option<Supply>,
    /// What the class editions say of each topic's place in a curriculum, by the topic's key; the
    /// teacher's own words.
    pub curriculum: Vec<(&'static str, String)>,
    /// Bleach for cleaning.
    pub bleach: Bleach,
    /// Which pages stand first, and which are left out.
    pub pages: Pages,
    /// The plan as written.
    pub text: String,
}

/// A paper size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sheet {
    /// 8.5 × 11 in
    Letter,
    /// 210 × 297 mm
    A4,
    /// 148 × 210 mm
    A5,
    /// 5.5 × 8.5 in
    HalfLetter,
}

impl Sheet {
    /// Whether this is half of a usual sheet.
    #[must_use]
    pub fn is_small(self) -> bool {
        matches!(self, Self::A5 | Self::HalfLetter)
    }

    /// The paper of a booklet that is folded from sheets of this one.
    #[must_use]
    pub fn folded(self) -> Self {
        match self {
            Self::Letter | Self::HalfLetter => Self::HalfLetter,
            Self::A4 | Self::A5 => Self::A5,
        }
    }
}

/// Source water.
#[derive(Debug, Clone, PartialEq)]
pub struct Water {
    /// What it is called.
    pub name: String,
    /// pH, if known.
    pub ph: Option<f64>,
    /// Alkalinity (mg/L as calcium carbonate), if known.
    pub alkalinity: Option<f64>,
    /// Calcium it brings (mg/L), if known.
    pub calcium: Option<f64>,
    /// Magnesium (mg/L), if known.
    pub magnesium: Option<f64>,
    /// Sodium (mg/L), if known.
    pub sodium: Option<f64>,
    /// Potassium (mg/L), if known.
    pub potassium: Option<f64>,
    /// Chloride (mg/L), if known.
    pub chloride: Option<f64>,
    /// Sulfate (mg/L as SO₄), if known.
    pub sulfate: Option<f64>,
    /// Nitrate (mg/L as NO₃), if known.
    pub nitrate: Option<f64>,
    /// Temperature of the water when it is mixed (°C).
    pub temperature: f64,
}

/// A bottle that moves pH.
#[derive(Debug, Clone, PartialEq)]
pub struct Adjuster {
    /// What the grower calls it.
    pub name: String,
    /// Whether it moves pH up.
    pub up: bool,
    /// Key of what is in it, if known.
    pub substance: Option<String>,
    /// Strength (% by mass), if known.
    pub strength: Option<f64>,
    /// Strength in mol/L, if that is what its label says.
    pub molar: Option<f64>,
    /// Whether it is a powder to be weighed.
    pub dry: bool,
}

/// A bin.
#[derive(Debug, Clone, PartialEq)]
pub struct Bin {
    /// What it is called; unique.
    pub name: String,
    /// What it and its copies are called together, for findings.
    pub called: String,
    /// Index into the plan's mixes.
    pub mix: usize,
    /// Its inside.
    pub vessel: Vessel,
    /// Underside of the lid below the rim (mm), negative above it.
    pub lid_drop: f64,
    /// Thickness of the lid at the holes (mm).
    pub lid_thickness: f64,
    /// Its pots, all alike.
    pub pot: PotSize,
    /// How deep the pots stand in the solution on the first day (mm).
    pub immersion: f64,
    /// Growing cubes, if any.
    pub cube: Option<Cube>,
    /// Rows along and across the lid.
    pub rows: [u32; 2],
    /// Its plants.
    pub plants: Vec<Planting>,
    /// Its own day of sowing.
    pub sown: Date,
    /// Its own day of set-out, if the grower has set one.
    pub set_out: Option<Date>,
    /// Byte range in the plan, for findings.
    pub place: std::ops::Range<usize>,
}

impl Bin {
    /// Plants in the bin.
    #[must_use]
    pub fn pots(&self) -> u32 {
        self.plants.iter().map(|p| p.count).sum()
    }
}

/// A pot's measures (mm).
#[derive(Debug, Clone, PartialEq)]
pub struct PotSize {
    /// Name as printed.
    pub name: String,
    /// Hole in the lid (mm).
    pub hole: f64,
    /// Outside of its rim (mm).
    pub rim: f64,
    /// Depth under its lip (mm).
    pub depth: f64,
    /// Outside at its floor (mm).
    pub bottom: f64,
    /// Whether the measures are the grower's own rather than typical.
    pub measured: bool,
}

impl PotSize {
    fn typical(pot: &Pot) -> Self {
        Self {
            name: pot.name.clone(),
            hole: pot.hole.value,
            rim: pot.rim.value,
            depth: pot.depth.value,
            bottom: pot.bottom.value,
            measured: false,
        }
    }
}

/// A growing cube (mm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cube {
    /// Side (mm).
    pub side: f64,
    /// Its floor above the pot's floor (mm).
    pub lift: f64,
}

/// Plants of one crop in a bin.
#[derive(Debug, Clone, PartialEq)]
pub struct Planting {
    /// The crop.
    pub crop: Crop,
    /// How many, one to a pot.
    pub count: u32,
}

/// Household bleach.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bleach {
    /// Sodium hypochlorite (% by mass).
    pub strength: f64,
    /// Whether the plan says so; otherwise it is assumed.
    pub stated: bool,
}

/// Reads a plan.
///
/// Returns a plan only if nothing found is an error.
///
/// ```
/// use binleaf::finding::Findings;
/// let findings = Findings::default();
/// assert!(binleaf::plan::read("title = 'x'", &findings).is_none());
/// assert!(findings.sorted().iter().any(|f| f.code == "missing"));
/// ```
#[must_use]
pub fn read(text: &str, findings: &Findings) -> Option<Plan> {
    let plan = table::open(text, findings, |root| grow::read(root, text))?;
    (!findings.has_errors()).then_some(plan).flatten()
}
