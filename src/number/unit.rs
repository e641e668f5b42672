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

    pub(super) const fn new(m: i8, kg: i8, day: i8, kelvin: i8, mol: i8, scale: f64) -> Self {
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

pub(super) const fn unit(text: &'static str, dimension: Dimension) -> Unit {
    Unit { text, dimension }
}
pub(super) const fn length(text: &'static str, metres: f64) -> Unit {
    unit(text, Dimension::new(1, 0, 0, 0, 0, metres))
}
pub(super) const fn volume(text: &'static str, cubic_metres: f64) -> Unit {
    unit(text, Dimension::new(3, 0, 0, 0, 0, cubic_metres))
}
pub(super) const fn mass(text: &'static str, kilograms: f64) -> Unit {
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
pub(super) const GALLON_M3: f64 = LITRES_PER_US_GALLON * 1e-3;
const TEASPOON_M3: f64 = GALLON_M3 / 768.0;
pub(super) const IMPERIAL_GALLON_M3: f64 = 4.54609e-3;
/// Seconds in a day.
const DAY_S: f64 = 86_400.0;

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
/// Kilopascal.
pub const KILOPASCAL: Unit = unit("kPa", Dimension::new(-1, 1, -2, 0, 0, 1e3 * DAY_S * DAY_S));
/// Kilopascals per degree: slope of the saturation curve, psychrometric constant.
pub const KILOPASCAL_PER_CELSIUS: Unit =
    unit("kPa/°C", Dimension::new(-1, 1, -2, -1, 0, 1e3 * DAY_S * DAY_S));
/// Megajoules per square metre and day.
pub const MEGAJOULE_PER_SQUARE_METRE_DAY: Unit =
    unit("MJ/m²/d", Dimension::new(0, 1, -3, 0, 0, 1e6 * DAY_S * DAY_S));
/// Millimetres of water per day.
pub const MILLIMETRE_PER_DAY: Unit = unit("mm/d", Dimension::new(1, 0, -1, 0, 0, 1e-3));
/// Millimetres of water that a megajoule on a square metre evaporates.
pub const MILLIMETRE_PER_MEGAJOULE: Unit =
    unit("mm·m²/MJ", Dimension::new(1, -1, 2, 0, 0, 1e-9 / (DAY_S * DAY_S)));
/// Metres per second.
pub const METRE_PER_SECOND: Unit = unit("m/s", Dimension::new(1, 0, -1, 0, 0, DAY_S));
/// Seconds per metre.
pub const SECOND_PER_METRE: Unit = unit("s/m", Dimension::new(-1, 0, 1, 0, 0, 1.0 / DAY_S));
/// Of the wind term of reference evaporation: mm/d times °C, per m/s and kPa.
pub const WIND_TERM: Unit =
    unit("mm·°C·s/(kPa·m·d)", Dimension::new(1, -1, 2, 1, 0, 1e-6 / (DAY_S * DAY_S * DAY_S)));
/// Micromoles of photons on a square metre per second.
pub const MICROMOLE_PER_SQUARE_METRE_SECOND: Unit =
    unit("µmol/m²/s", Dimension::new(-2, 0, -1, 0, 1, 1e-6 * DAY_S));
/// Moles of photons on a square metre per day.
pub const MOLE_PER_SQUARE_METRE_DAY: Unit = unit("mol/m²/d", Dimension::new(-2, 0, -1, 0, 1, 1.0));
/// Hours per day.
pub const HOUR_PER_DAY: Unit = ratio("h/d", 1.0 / 24.0);
/// Seconds in an hour by moles in a micromole: 0.0036 of them turn a rate per second into moles.
pub const MOLE_SECOND_PER_MICROMOLE_HOUR: Unit = ratio("mol·s/(µmol·h)", 1e6 / 3600.0);
/// Litres per kilogram and kilopascal.
pub const LITRE_PER_KILOGRAM_KILOPASCAL: Unit =
    unit("L/kg/kPa", Dimension::new(4, -2, 2, 0, 0, 1e-6 / (DAY_S * DAY_S)));
/// Millimetres of water per day and kilopascal.
pub const MILLIMETRE_PER_DAY_KILOPASCAL: Unit =
    unit("mm/d/kPa", Dimension::new(2, -1, 1, 0, 0, 1e-6 / (DAY_S * DAY_S)));
/// Megajoules per mole of photons.
pub const MEGAJOULE_PER_MOLE: Unit =
    unit("MJ/mol", Dimension::new(2, 1, -2, 0, -1, 1e6 * DAY_S * DAY_S));
/// Watt.
pub const WATT: Unit = unit("W", Dimension::new(2, 1, -3, 0, 0, DAY_S * DAY_S * DAY_S));
/// Kilowatt.
pub const KILOWATT: Unit = unit("kW", Dimension::new(2, 1, -3, 0, 0, 1e3 * DAY_S * DAY_S * DAY_S));
/// Kilowatt hour.
pub const KILOWATT_HOUR: Unit = unit("kWh", Dimension::new(2, 1, -2, 0, 0, 3.6e6 * DAY_S * DAY_S));
/// Kilogram.
pub const KILOGRAM: Unit = mass("kg", 1.0);
/// Milligrams of calcium carbonate per litre: how alkalinity is reported.
pub const MILLIGRAM_CACO3_PER_LITRE: Unit = mass_per_volume("mg/L CaCO3", 1e-3);

/// Which system comes first on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum System {
    /// Gallons and inches first, litres and millimetres in brackets.
    Us,
    /// Litres and millimetres first.
    Metric,
}

impl System {
    /// The step in which a level is read from a ruler: an eighth of an inch, or a millimetre (mm).
    #[must_use]
    pub const fn ruler_step(self) -> f64 {
        match self {
            Self::Us => 25.4 / 8.0,
            Self::Metric => 1.0,
        }
    }

    /// A level as a ruler shows it, never higher (mm).
    #[must_use]
    pub fn ruler_down(self, level: f64) -> f64 {
        self.ruler_step() * (level / self.ruler_step() + 1e-9).floor()
    }

    /// A level as a ruler shows it, never lower (mm).
    #[must_use]
    pub fn ruler_up(self, level: f64) -> f64 {
        self.ruler_step() * (level / self.ruler_step() - 1e-9).ceil()
    }
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
    fn a_joule_is_a_kilopascal_times_a_litre() {
        let joules = MEGAJOULE_PER_SQUARE_METRE_DAY.dimension.times(DAY.dimension);
        let megajoule = joules.times(SQUARE_METRE.dimension);
        assert!(megajoule.alike(KILOPASCAL.dimension.times(LITRE.dimension)));
        let one = KILOPASCAL.dimension.times(LITRE.dimension).scale();
        assert!((megajoule.scale() / one - 1e6).abs() < 1e-6);
        let water = MILLIMETRE_PER_DAY.dimension.times(SQUARE_METRE.dimension);
        assert!(water.times(DAY.dimension).same(LITRE.dimension));
    }
}
