//! Air, light and weather around the bins.

/// Air, light and weather around the bins.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Climate {
    /// Under a roof.
    pub indoors: bool,
    /// Usual air temperature by day (°C), if known.
    pub air: Option<f64>,
    /// Relative humidity by day (0 to 1), if known.
    pub humidity: Option<f64>,
    /// Light on the leaves, if known.
    pub light: Option<Light>,
    /// The lamp, if it is known.
    pub lamp: Option<Lamp>,
    /// Latitude (degrees, north positive), if known.
    pub latitude: Option<f64>,
    /// Altitude (m).
    pub altitude: f64,
    /// Weather by months, those that are given.
    pub months: Vec<Month>,
}

/// Light on the leaves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Light {
    /// In a day (mol/m²/d).
    Daily(f64),
    /// A lamp.
    Lamp {
        /// PPFD (µmol/m²/s).
        ppfd: f64,
        /// Hours a day (h/d).
        hours: f64,
    },
}

/// A lamp over the bins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lamp {
    /// Power from the wall (W).
    pub power: f64,
    /// Price of a kilowatt hour, in the keeper's money, if known.
    pub price: Option<f64>,
}

/// Weather of a month, as means of its days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Month {
    /// January is 1.
    pub of: u8,
    /// Lowest temperature of a day (°C).
    pub coolest: f64,
    /// Highest temperature of a day (°C).
    pub warmest: f64,
    /// Relative humidity (0 to 1).
    pub humidity: f64,
    /// Vapour pressure (kPa).
    pub vapour: f64,
    /// Wind at 2 m (m/s).
    pub wind: f64,
    /// Solar radiation (MJ/m²/d).
    pub radiation: f64,
}
