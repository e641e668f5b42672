//! What a solution is mixed from: feeds, doses, trials.

/// A feed.
#[derive(Debug, Clone, PartialEq)]
pub struct Feed {
    /// What the grower calls it.
    pub name: String,
    /// How its label doses it.
    pub rate: LabelRate,
    /// Key of the salt it is, if it is one that is weighed and has no label.
    pub salt: Option<String>,
    /// Protons its phosphate comes with, if the label says: 3 as phosphoric acid, 2 as dihydrogen
    /// phosphate, 1 as hydrogen phosphate.
    pub phosphate: Option<u8>,
    /// Label content: form as in `data/elements.toml`, per cent by mass.
    pub contents: Vec<(String, f64)>,
}

/// A feed's label rate, lowest and highest.
#[derive(Debug, Clone, PartialEq)]
pub enum LabelRate {
    /// Level teaspoons per US gallon; weight of a level teaspoon (g) if known.
    Spoons {
        /// Lowest (tsp/gal).
        low: f64,
        /// Highest (tsp/gal).
        high: f64,
        /// Weight of a level teaspoon (g), if known.
        teaspoon: Option<f64>,
    },
    /// By weight.
    Mass {
        /// Lowest (g/L).
        low: f64,
        /// Highest (g/L).
        high: f64,
        /// Weight of a level teaspoon (g), if known.
        teaspoon: Option<f64>,
    },
    /// A liquid.
    Liquid {
        /// Lowest (mL/L).
        low: f64,
        /// Highest (mL/L).
        high: f64,
        /// Density (g/mL), if known.
        density: Option<f64>,
    },
}

impl LabelRate {
    /// Lowest and highest rate, in the label's own unit.
    #[must_use]
    pub fn ends(&self) -> (f64, f64) {
        match self {
            Self::Spoons { low, high, .. }
            | Self::Mass { low, high, .. }
            | Self::Liquid { low, high, .. } => (*low, *high),
        }
    }
}

/// A solution.
#[derive(Debug, Clone, PartialEq)]
pub struct Mix {
    /// What it is called.
    pub name: String,
    /// The pail it is stirred in (L).
    pub pail: f64,
    /// Its feeds in the order they are stirred in.
    pub parts: Vec<Part>,
    /// What the finished solution is to hold, if some doses are to be found.
    pub aim: Option<Aim>,
    /// Smallest step of the scale (g).
    pub scale: f64,
    /// The two concentrates it is mixed from, if it is.
    pub concentrate: Option<Concentrate>,
    /// Jar trials, at most one each way.
    pub trials: Vec<Trial>,
    /// What worked last time.
    pub last_time: Option<LastTime>,
    /// Byte range in the plan, for findings.
    pub place: std::ops::Range<usize>,
}

/// A feed in a solution.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Index into the plan's feeds.
    pub feed: usize,
    /// How much of it.
    pub dose: Dose,
}

/// What a finished solution is to hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Aim {
    /// Where it comes from: a published solution's name, or the plan.
    pub name: String,
    /// Key of the published solution, if it is one.
    pub recipe: Option<String>,
    /// How strong the published solution is wanted (1 as published).
    pub strength: f64,
    /// Label form and how much of its element (mg/L), the water's own counted in.
    pub contents: Vec<(String, f64)>,
}

/// Two bottles that a solution is thinned from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Concentrate {
    /// How many times stronger than the solution; at least 2.
    pub times: f64,
    /// Size of each bottle (L).
    pub bottle: f64,
}

/// How much of a feed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Dose {
    /// As much as the aim of the mix asks for, to be found.
    ToAim,
    /// A part of the lowest rate on the label.
    OfLabelLow(f64),
    /// A rate in the label's own unit.
    Rate(f64),
}

/// A jar trial: a sample of the mixed solution, dosed in steps.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    /// Index into the plan's adjusters.
    pub adjuster: usize,
    /// Size of the sample (L).
    pub sample: f64,
    /// All added so far (mL) and the reading (pH), rising, the first before anything was added.
    pub readings: Vec<(f64, f64)>,
    /// Byte range in the plan, for findings.
    pub place: std::ops::Range<usize>,
}

/// A dose that worked before.
#[derive(Debug, Clone, PartialEq)]
pub struct LastTime {
    /// Index into the plan's adjusters.
    pub adjuster: usize,
    /// What was dosed (L).
    pub volume: f64,
    /// With how much (mL).
    pub dose: f64,
}
