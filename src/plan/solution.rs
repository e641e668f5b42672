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

/// How much of a feed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Dose {
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
