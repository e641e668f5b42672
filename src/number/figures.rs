//! The only place where a number becomes text: digits, units, fractions of an inch.

pub use super::unit::System;
use super::unit::Unit;

/// A number in `digits` significant digits, without trailing zeros, with a real minus sign.
///
/// ```
/// use binleaf::number::figures::plain;
/// assert_eq!(plain(-0.050804, 4), "−0.0508");
/// assert_eq!(plain(38_256.0, 4), "38260");
/// ```
#[must_use]
pub fn plain(value: f64, digits: usize) -> String {
    if !value.is_finite() {
        return "not a number".into();
    }
    let rounded = format!("{:.*e}", digits.max(1) - 1, value.abs());
    let (mantissa, power) = rounded.split_once('e').unwrap_or((&rounded, "0"));
    let power: i64 = power.parse().unwrap_or(0);
    let kept: String = mantissa.chars().filter(char::is_ascii_digit).collect();
    let kept = kept.trim_end_matches('0');
    if kept.is_empty() {
        return "0".into();
    }
    let text = place_point(kept, power);
    if value < 0.0 { format!("−{text}") } else { text }
}

/// What is read where a number is printed in `digits` significant digits.
pub(super) fn rounded(value: f64, digits: usize) -> f64 {
    format!("{value:.*e}", digits.max(1) - 1).parse().unwrap_or(f64::NAN)
}

/// The result of a calculation: four digits, and a fifth where it is an exact five, which people round
/// up and machines do not always.
///
/// ```
/// use binleaf::number::figures::result;
/// assert_eq!(result(8.25 + 108.0), "116.25");
/// assert_eq!(result(116.2501), "116.3");
/// ```
#[must_use]
pub fn result(value: f64) -> String {
    let exact = (rounded(value, DIGITS + 1) - value).abs() <= 1e-12 * value.abs();
    if !exact {
        return plain(value, DIGITS);
    }
    let five = plain(value, DIGITS + 1);
    let digits = five.chars().filter(char::is_ascii_digit).collect::<String>();
    let last = digits.trim_start_matches('0');
    if last.len() == DIGITS + 1 && last.ends_with('5') { five } else { plain(value, DIGITS) }
}

/// Digits a result is printed with, and the fewest its inputs are.
pub const DIGITS: usize = 4;

/// Writes `kept` digits, the first standing for 10 to the `power`.
fn place_point(kept: &str, power: i64) -> String {
    let length = i64::try_from(kept.len()).unwrap_or(i64::MAX);
    let zeros = |n: i64| "0".repeat(usize::try_from(n).unwrap_or(0));
    if power < 0 {
        format!("0.{}{kept}", zeros(-power - 1))
    } else if power + 1 >= length {
        format!("{kept}{}", zeros(power + 1 - length))
    } else {
        let (whole, part) = kept.split_at(usize::try_from(power + 1).unwrap_or(0));
        format!("{whole}.{part}")
    }
}

/// A number with a fixed count of decimals.
#[must_use]
pub fn decimals(value: f64, places: usize) -> String {
    let text = format!("{:.places$}", value.abs());
    let nought = text.chars().all(|c| c == '0' || c == '.');
    if value < 0.0 && !nought { format!("−{text}") } else { text }
}

/// A number for a machine to read: at most three decimals, an ordinary hyphen for minus.
#[must_use]
pub fn machine(value: f64) -> String {
    let text = decimals(value, 3).replace('−', "-");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

/// A number and its unit, with a space between.
#[must_use]
pub fn with_unit(value: f64, digits: usize, unit: Unit) -> String {
    join(&plain(value, digits), unit.text)
}

/// A printed number and its unit.
pub(super) fn join(number: &str, unit: &str) -> String {
    if unit.is_empty() { number.into() } else { format!("{number} {unit}") }
}

/// Reads a printed number back; not a number if it is not one.
#[must_use]
pub fn read(text: &str) -> f64 {
    text.replace('−', "-").parse().unwrap_or(f64::NAN)
}

/// A length of `mm` millimetres on a grower's ruler: whole millimetres and sixteenths of an inch.
///
/// ```
/// use binleaf::number::figures::{System, length};
/// assert_eq!(length(238.0, System::Us), "9 3/8 in (238 mm)");
/// assert_eq!(length(12.7, System::Metric), "13 mm (1/2 in)");
/// ```
#[must_use]
pub fn length(mm: f64, system: System) -> String {
    let (metric, inches) = (format!("{} mm", decimals(mm, 0)), format!("{} in", inches(mm)));
    pair(&metric, &inches, system)
}

/// A length in the first system only.
#[must_use]
pub fn short_length(mm: f64, system: System) -> String {
    match system {
        System::Us => format!("{} in", inches(mm)),
        System::Metric => format!("{} mm", decimals(mm, 0)),
    }
}

fn pair(metric: &str, us: &str, system: System) -> String {
    match system {
        System::Us => format!("{us} ({metric})"),
        System::Metric => format!("{metric} ({us})"),
    }
}

fn inches(mm: f64) -> String {
    mixed(mm / 25.4, 16)
}

/// A number as whole and fraction, to the nearest 1/`parts` (a power of two), at least 0.
#[must_use]
pub fn mixed(value: f64, parts: u32) -> String {
    let all = (value.abs() * f64::from(parts)).round();
    let whole = (all / f64::from(parts)).floor();
    let (mut above, mut below) = (all - whole * f64::from(parts), f64::from(parts));
    while above > 0.0 && above % 2.0 == 0.0 {
        above /= 2.0;
        below /= 2.0;
    }
    let sign = if value < 0.0 && all > 0.0 { "−" } else { "" };
    match (whole > 0.0, above > 0.0) {
        (true, true) => format!("{sign}{whole} {above}/{below}"),
        (false, true) => format!("{sign}{above}/{below}"),
        _ => format!("{sign}{whole}"),
    }
}

/// A volume of `litres`, both systems, three significant digits.
#[must_use]
pub fn volume(litres: f64, system: System) -> String {
    let metric = format!("{} L", sized(litres));
    let us = format!("{} gal", sized(litres / super::unit::LITRES_PER_US_GALLON));
    pair(&metric, &us, system)
}

/// A volume in the first system only.
#[must_use]
pub fn short_volume(litres: f64, system: System) -> String {
    match system {
        System::Us => format!("{} gal", sized(litres / super::unit::LITRES_PER_US_GALLON)),
        System::Metric => format!("{} L", sized(litres)),
    }
}

/// Numbers of a range, in the first system, "15 (7 to 21) gal".
#[must_use]
pub fn volume_band(expected: f64, low: f64, high: f64, system: System) -> String {
    let (size, name) = match system {
        System::Us => (super::unit::LITRES_PER_US_GALLON, "gal"),
        System::Metric => (1.0, "L"),
    };
    let n = |v: f64| sized(v / size);
    format!("{} {name} ({} to {})", n(expected), n(low), n(high))
}

/// Enough digits for a jug or a scale: about three, never more than two decimals.
#[must_use]
pub fn sized(value: f64) -> String {
    match value.abs() {
        v if v >= 99.95 => decimals(value, 0),
        v if v >= 9.995 => decimals(value, 1),
        _ => decimals(value, 2),
    }
}

/// A mass of `grams` on a kitchen scale.
#[must_use]
pub fn mass(grams: f64) -> String {
    format!("{} g", decimals(grams, usize::from(grams < 100.0)))
}

/// A small volume of `ml` millilitres in a syringe or a measuring cup.
#[must_use]
pub fn dropper(ml: f64) -> String {
    let places = match ml {
        v if v >= 20.0 => 0,
        v if v >= 2.0 => 1,
        _ => 2,
    };
    format!("{} mL", decimals(ml, places))
}

/// The round number that is next below: 1, 1.5, 2, 2.5, 3, 4, 5, 6 or 8 with any power of ten, as a
/// syringe or a scale is read; 0 for what is not above it.
#[must_use]
pub fn round_step(value: f64) -> f64 {
    if !(value > 0.0 && value.is_finite()) {
        return 0.0;
    }
    let power = libm::pow(10.0, libm::floor(libm::log10(value)));
    // What was worked out to be a round number is not to fall below it by its last bit.
    let lead = value / power * (1.0 + 1e-9);
    let round = [8.0, 6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5].into_iter().find(|r| *r <= lead);
    round.unwrap_or(1.0) * power
}

/// A small volume that is a limit: as [`dropper`], but never more than `ml`.
#[must_use]
pub fn at_most(ml: f64) -> String {
    let unit = dropper_unit(ml);
    // What was worked out to be a round number is not to fall below it by its last bit.
    dropper((ml / unit + 1e-9).floor() * unit)
}

fn dropper_unit(ml: f64) -> f64 {
    match ml {
        v if v >= 20.0 => 1.0,
        v if v >= 2.0 => 0.1,
        _ => 0.01,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round_and_never_above() {
        let rounds =
            [(2.175, 2.0), (3.5, 3.0), (0.25, 0.25), (0.4, 0.4), (9.99, 8.0), (10.0, 10.0)];
        for (value, round) in rounds {
            assert!((round_step(value) - round).abs() < 1e-12, "{value}");
        }
        for i in 1..2000 {
            let value = 0.013 * f64::from(i);
            let round = round_step(value);
            assert!(round <= value * (1.0 + 1e-9) && round > 0.66 * value, "{value}: {round}");
        }
        assert!(round_step(f64::NAN) == 0.0 && round_step(-1.0) == 0.0);
    }

    #[test]
    fn a_limit_is_not_rounded_up() {
        let limits = [(17.36, "17.3 mL"), (25.7, "25 mL"), (4.86, "4.8 mL"), (2.0, "2.0 mL")];
        for (limit, printed) in limits {
            assert_eq!(at_most(limit), printed);
        }
        // 0.1 × 3 is a little more than 0.3, and 0.7 − 0.4 a little less.
        assert_eq!([at_most(0.1 * 3.0), at_most(0.7 - 0.4)], ["0.30 mL", "0.30 mL"]);
    }

    #[test]
    fn printed_numbers_read_back_to_their_digits() {
        for v in [0.0, 1.0, -2.5, 0.000123456, 123456.0, 99999.0, 0.1 + 0.2] {
            for digits in 1..18 {
                let back = read(&plain(v, digits));
                assert_eq!(plain(back, digits), plain(v, digits), "{v} in {digits}");
            }
            assert_eq!(read(&plain(v, 17)).to_bits(), v.to_bits());
        }
    }

    #[test]
    fn fractions_are_reduced() {
        assert_eq!(mixed(2.499, 8), "2 1/2");
        assert_eq!(mixed(0.99, 8), "1");
        assert_eq!(mixed(0.01, 8), "0");
        assert_eq!(mixed(0.12, 8), "1/8");
    }

    #[test]
    fn no_minus_before_nought() {
        assert_eq!(decimals(-0.001, 2), "0.00");
        assert_eq!(plain(0.0, 4), "0");
    }
}
