//! Units: what each is called, what it measures, and how large it is.
//!
//! Working units are chosen so that no conversion factor ever stands in a formula: metres across,
//! millimetres up and litres (1 m² × 1 mm = 1 L); grams per litre times milligrams per gram.

/// What a unit measures: powers of metre, kilogram, day, kelvin and mole, and its size in them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dimension {
    /// Powers of (m, kg, d, K, mol), doubled so that a square root stays whole.
    powers: [i8; 5],
    /// Size in the product of the base units.
    scale: f64,
}

impl Dimension {
    /// A bare number.
    pub const NONE: Self = Self { powers: [0; 5], scale: 1.0 };

    const fn new(m: i8, kg: i8, day: i8, kelvin: i8, mol: i8, scale: f64) -> Self {
        Self { powers: [2 * m, 2 * kg, 2 * day, 2 * kelvin, 2 * mol], scale }
    }

    /// Size of one unit in the product of the base units.
    #[must_use]
    pub const fn scale(self) -> f64 {
        self.scale
    }

    /// The dimension of a product.
    #[must_use]
    pub fn times(self, other: Self) -> Self {
        let powers = std::array::from_fn(|i| self.powers[i] + other.powers[i]);
        Self { powers, scale: self.scale * other.scale }
    }

    /// The dimension of a ratio.
    #[must_use]
    pub fn over(self, other: Self) -> Self {
        let powers = std::array::from_fn(|i| self.powers[i] - other.powers[i]);
        Self { powers, scale: self.scale / other.scale }
    }

    /// The dimension of a square root.
    #[must_use]
    pub fn root(self) -> Self {
        Self { powers: self.powers.map(|p| p / 2), scale: libm::sqrt(self.scale) }
    }

    /// Same kind of quantity, whatever its size.
    #[must_use]
    pub fn alike(self, other: Self) -> bool {
        self.powers == other.powers
    }

    /// Same kind and same size: the two may be added.
    #[must_use]
    pub fn same(self, other: Self) -> bool {
        self.alike(other) && (self.scale / other.scale - 1.0).abs() < 1e-12
    }
}

/// A unit as printed, with what it measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// As printed after a number; empty for a bare number.
    pub text: &'static str,
    /// What it measures and how large it is.
    pub dimension: Dimension,
}

const fn unit(text: &'static str, dimension: Dimension) -> Unit {
    Unit { text, dimension }
}
const fn length(text: &'static str, metres: f64) -> Unit {
    unit(text, Dimension::new(1, 0, 0, 0, 0, metres))
}
const fn volume(text: &'static str, cubic_metres: f64) -> Unit {
    unit(text, Dimension::new(3, 0, 0, 0, 0, cubic_metres))
}
const fn mass(text: &'static str, kilograms: f64) -> Unit {
    unit(text, Dimension::new(0, 1, 0, 0, 0, kilograms))
}
const fn mass_per_volume(text: &'static str, scale: f64) -> Unit {
    unit(text, Dimension::new(-3, 1, 0, 0, 0, scale))
}
const fn ratio(text: &'static str, scale: f64) -> Unit {
    unit(text, Dimension::new(0, 0, 0, 0, 0, scale))
}

/// Litres in a US gallon: 231 cubic inches, exactly (NIST Handbook 44, appendix C).
pub const LITRES_PER_US_GALLON: f64 = 3.785411784;
const GALLON_M3: f64 = LITRES_PER_US_GALLON * 1e-3;
const TEASPOON_M3: f64 = GALLON_M3 / 768.0;
const IMPERIAL_GALLON_M3: f64 = 4.54609e-3;

/// A bare number.
pub const NONE: Unit = unit("", Dimension::NONE);
/// Metre.
pub const METRE: Unit = length("m", 1.0);
/// Millimetre.
pub const MILLIMETRE: Unit = length("mm", 1e-3);
/// Square metre.
pub const SQUARE_METRE: Unit = unit("m²", Dimension::new(2, 0, 0, 0, 0, 1.0));
/// Litre.
pub const LITRE: Unit = volume("L", 1e-3);
/// Millilitre.
pub const MILLILITRE: Unit = volume("mL", 1e-6);
/// US teaspoon, 1/768 of a US gallon.
pub const TEASPOON: Unit = volume("tsp", TEASPOON_M3);
/// US teaspoons per US gallon.
pub const TEASPOON_PER_GALLON: Unit = ratio("tsp/gal", TEASPOON_M3 / GALLON_M3);
/// Litres per US gallon.
pub const LITRE_PER_GALLON: Unit = ratio("L/gal", 1e-3 / GALLON_M3);
/// Millimetres of level per litre.
pub const MILLIMETRE_PER_LITRE: Unit = unit("mm/L", Dimension::new(-2, 0, 0, 0, 0, 1.0));
/// Gram.
pub const GRAM: Unit = mass("g", 1e-3);
/// Milligram.
pub const MILLIGRAM: Unit = mass("mg", 1e-6);
/// Grams per level teaspoon.
pub const GRAM_PER_TEASPOON: Unit = mass_per_volume("g/tsp", 1e-3 / TEASPOON_M3);
/// Grams per litre.
pub const GRAM_PER_LITRE: Unit = mass_per_volume("g/L", 1.0);
/// Grams per millilitre.
pub const GRAM_PER_MILLILITRE: Unit = mass_per_volume("g/mL", 1e3);
/// Milligrams per litre.
pub const MILLIGRAM_PER_LITRE: Unit = mass_per_volume("mg/L", 1e-3);
/// Milligrams per millilitre.
pub const MILLIGRAM_PER_MILLILITRE: Unit = mass_per_volume("mg/mL", 1.0);
/// Millilitres per litre.
pub const MILLILITRE_PER_LITRE: Unit = ratio("mL/L", 1e-3);
/// Per millilitre: how fast a pH reading moves with a dose.
pub const PER_MILLILITRE: Unit = unit("per mL", Dimension::new(-3, 0, 0, 0, 0, 1e6));
/// Per square millilitre.
pub const PER_MILLILITRE_2: Unit = unit("per mL²", Dimension::new(-6, 0, 0, 0, 0, 1e12));
/// Per cubic millilitre.
pub const PER_MILLILITRE_3: Unit = unit("per mL³", Dimension::new(-9, 0, 0, 0, 0, 1e18));
/// Milligrams per gram: ten times the percentage by mass.
pub const MILLIGRAM_PER_GRAM: Unit = ratio("mg/g", 1e-3);
/// Grams per mole.
pub const GRAM_PER_MOLE: Unit = unit("g/mol", Dimension::new(0, 1, 0, 0, -1, 1e-3));
/// Mole.
pub const MOLE: Unit = unit("mol", Dimension::new(0, 0, 0, 0, 1, 1.0));
/// Moles per litre.
pub const MOLE_PER_LITRE: Unit = unit("mol/L", Dimension::new(-3, 0, 0, 0, 1, 1e3));
/// Millimoles per litre.
pub const MILLIMOLE_PER_LITRE: Unit = unit("mmol/L", Dimension::new(-3, 0, 0, 0, 1, 1.0));
/// Millimoles per millilitre.
pub const MILLIMOLE_PER_MILLILITRE: Unit = unit("mmol/mL", Dimension::new(-3, 0, 0, 0, 1, 1e3));
/// Siemens times square centimetre per mole; the siemens is kept as a bare number.
pub const MOLAR_CONDUCTIVITY: Unit = unit("S·cm²/mol", Dimension::new(2, 0, 0, 0, -1, 1e-4));
/// Microsiemens per centimetre.
pub const MICROSIEMENS_PER_CENTIMETRE: Unit = unit("µS/cm", Dimension::new(-1, 0, 0, 0, 0, 1e-4));
/// Millisiemens per centimetre.
pub const MILLISIEMENS_PER_CENTIMETRE: Unit = unit("mS/cm", Dimension::new(-1, 0, 0, 0, 0, 0.1));
/// Day.
pub const DAY: Unit = unit("d", Dimension::new(0, 0, 1, 0, 0, 1.0));
/// Degree Celsius, as an interval; only formulas that take a Celsius reading use it.
pub const CELSIUS: Unit = unit("°C", Dimension::new(0, 0, 0, 1, 0, 1.0));
/// Per degree Celsius.
pub const PER_CELSIUS: Unit = unit("per °C", Dimension::new(0, 0, 0, -1, 0, 1.0));
/// Per cent.
pub const PERCENT: Unit = ratio("%", 1e-2);
/// Milligrams of calcium carbonate per litre: how alkalinity is reported.
pub const MILLIGRAM_CACO3_PER_LITRE: Unit = mass_per_volume("mg/L CaCO3", 1e-3);

/// One spelling of a simple unit that a plan may use.
#[derive(Debug, Clone, Copy)]
pub struct Spelling {
    /// The spellings, lower case; the first is the one offered to the grower.
    pub names: &'static [&'static str],
    /// What they mean.
    pub unit: Unit,
}

const fn spelt(names: &'static [&'static str], unit: Unit) -> Spelling {
    Spelling { names, unit }
}

/// Every simple unit a plan may use. Factors are exact by definition (international inch and
/// avoirdupois pound of 1959; US gallon of 231 in³; imperial gallon of 4.54609 L).
pub const SPELLINGS: &[Spelling] = &[
    spelt(&["mm", "millimetre", "millimeter", "millimetres", "millimeters"], MILLIMETRE),
    spelt(&["cm", "centimetre", "centimeter", "centimetres", "centimeters"], length("cm", 1e-2)),
    spelt(&["m", "metre", "meter", "metres", "meters"], METRE),
    spelt(&["in", "inch", "inches", "\"", "″"], length("in", 0.0254)),
    spelt(&["ft", "foot", "feet"], length("ft", 0.3048)),
    spelt(&["km", "kilometre", "kilometer", "kilometres", "kilometers"], length("km", 1e3)),
    spelt(&["L", "l", "litre", "liter", "litres", "liters"], LITRE),
    spelt(&["mL", "ml", "millilitre", "milliliter", "millilitres", "milliliters"], MILLILITRE),
    spelt(&["gal", "us gal", "gallon", "gallons", "us gallon"], volume("gal", GALLON_M3)),
    spelt(&["qt", "quart", "quarts", "us qt"], volume("qt", GALLON_M3 / 4.0)),
    spelt(&["pt", "pint", "pints", "us pt"], volume("pt", GALLON_M3 / 8.0)),
    spelt(&["cup", "cups"], volume("cup", GALLON_M3 / 16.0)),
    spelt(&["fl oz", "us fl oz"], volume("fl oz", GALLON_M3 / 128.0)),
    spelt(&["tbsp", "tablespoon", "tablespoons"], volume("tbsp", GALLON_M3 / 256.0)),
    spelt(&["tsp", "teaspoon", "teaspoons"], TEASPOON),
    spelt(&["metric tsp", "metric teaspoon"], volume("metric tsp", 5e-6)),
    spelt(&["imp gal", "imperial gallon", "imperial gal"], volume("imp gal", IMPERIAL_GALLON_M3)),
    spelt(&["imp qt", "imperial quart"], volume("imp qt", IMPERIAL_GALLON_M3 / 4.0)),
    spelt(&["imp pt", "imperial pint"], volume("imp pt", IMPERIAL_GALLON_M3 / 8.0)),
    spelt(&["imp fl oz", "imperial fl oz"], volume("imp fl oz", IMPERIAL_GALLON_M3 / 160.0)),
    spelt(&["m3", "m³"], volume("m³", 1.0)),
    spelt(&["mg", "milligram", "milligrams"], MILLIGRAM),
    spelt(&["g", "gram", "grams"], GRAM),
    spelt(&["kg", "kilogram", "kilograms"], mass("kg", 1.0)),
    spelt(&["oz", "ounce", "ounces"], mass("oz", 0.028349523125)),
    spelt(&["lb", "pound", "pounds"], mass("lb", 0.45359237)),
    spelt(&["mol", "mole", "moles"], MOLE),
    spelt(&["mmol", "millimole", "millimoles"], unit("mmol", Dimension::new(0, 0, 0, 0, 1, 1e-3))),
    spelt(&["d", "day", "days"], DAY),
    spelt(&["week", "weeks", "wk"], unit("week", Dimension::new(0, 0, 1, 0, 0, 7.0))),
    spelt(&["%", "percent", "per cent"], PERCENT),
];

/// The simple unit spelt `text`, if there is one.
#[must_use]
pub fn simple(text: &str) -> Option<Unit> {
    let exact = |s: &&Spelling| s.names.contains(&text);
    let found = SPELLINGS.iter().find(exact).or_else(|| {
        let lower = text.to_lowercase();
        // A capital turns milligrams into megagrams, so only words may be written in any case.
        (lower.len() > 2)
            .then(|| SPELLINGS.iter().find(|s| s.names.contains(&lower.as_str())))
            .flatten()
    });
    found.map(|s| s.unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_square_metre_a_millimetre_deep_is_a_litre() {
        assert!(SQUARE_METRE.dimension.times(MILLIMETRE.dimension).same(LITRE.dimension));
        assert!(NONE.dimension.over(SQUARE_METRE.dimension).same(MILLIMETRE_PER_LITRE.dimension));
    }

    #[test]
    fn a_dose_needs_no_conversion_factor() {
        let rate = TEASPOON_PER_GALLON.dimension.times(GRAM_PER_TEASPOON.dimension);
        assert!(rate.over(LITRE_PER_GALLON.dimension).same(GRAM_PER_LITRE.dimension));
        let added = GRAM_PER_LITRE.dimension.times(MILLIGRAM_PER_GRAM.dimension);
        assert!(added.same(MILLIGRAM_PER_LITRE.dimension));
    }

    #[test]
    fn spellings_are_unique_and_capitals_matter_for_symbols() {
        let mut all: Vec<_> = SPELLINGS.iter().flat_map(|s| s.names).collect();
        all.sort_unstable();
        let before = all.len();
        all.dedup();
        assert_eq!(before, all.len());
        assert_eq!(simple("Gallons"), simple("gal"));
        assert_eq!(simple("MG"), None);
    }
}
