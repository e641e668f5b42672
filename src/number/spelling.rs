//! How a plan may spell a simple unit.

use super::unit::{
    DAY, Dimension, GALLON_M3, GRAM, HOUR_PER_DAY, IMPERIAL_GALLON_M3, LITRE,
    MEGAJOULE_PER_SQUARE_METRE_DAY, METRE, METRE_PER_SECOND, MICROMOLE_PER_SQUARE_METRE_SECOND,
    MILLIGRAM, MILLILITRE, MILLIMETRE, MOLE, MOLE_PER_SQUARE_METRE_DAY, PERCENT, TEASPOON, Unit,
    WATT, length, mass, unit, volume,
};

/// One spelling of a simple unit that a plan may use.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spelling {
    /// The spellings, lower case; the first is the one offered to the grower.
    pub(super) names: &'static [&'static str],
    /// What they mean.
    pub(super) unit: Unit,
}

const fn spelt(names: &'static [&'static str], unit: Unit) -> Spelling {
    Spelling { names, unit }
}

/// Every simple unit a plan may use. Factors are exact by definition (international inch and
/// avoirdupois pound of 1959; US gallon of 231 in³; imperial gallon of 4.54609 L).
pub(super) const SPELLINGS: &[Spelling] = &[
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
    spelt(&["h", "hour", "hours"], unit("h", Dimension::new(0, 0, 1, 0, 0, 1.0 / 24.0))),
    spelt(&["h/d", "hours a day"], HOUR_PER_DAY),
    spelt(&["umol/m2/s", "µmol/m²/s", "µmol/m2/s"], MICROMOLE_PER_SQUARE_METRE_SECOND),
    spelt(&["mol/m2/d", "mol/m²/d"], MOLE_PER_SQUARE_METRE_DAY),
    spelt(&["MJ/m2/d", "MJ/m²/d"], MEGAJOULE_PER_SQUARE_METRE_DAY),
    spelt(&["m/s"], METRE_PER_SECOND),
    spelt(&["km/h"], unit("km/h", Dimension::new(1, 0, -1, 0, 0, 24e3))),
    spelt(&["mph"], unit("mph", Dimension::new(1, 0, -1, 0, 0, 24.0 * 1609.344))),
    spelt(&["W", "watt", "watts"], WATT),
    spelt(&["%", "percent", "per cent"], PERCENT),
];

/// The simple unit spelt `text`, if there is one.
#[must_use]
pub(super) fn simple(text: &str) -> Option<Unit> {
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
