//! What a person writes for a quantity: `"14.5 in"`, `"1 1/2 tsp"`, `"140 mg/L CaCO3"`.

use super::spelling;
use super::unit::{Dimension, Unit};

/// A number with the unit it was written in.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// The number as written (in `dimension`).
    pub value: f64,
    /// What was written, and how large.
    pub dimension: Dimension,
    /// What follows the unit, such as `CaCO3`.
    pub of: String,
}

/// Why a text is not a quantity.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Trouble {
    /// There is no number in front.
    NoNumber,
    /// A number without a unit.
    NoUnit,
    /// A comma, which may mean a thousand or a decimal.
    Comma,
    /// The unit is not known.
    UnknownUnit(String),
    /// Not a number of ordinary size.
    NotFinite,
}

impl Measure {
    /// Reads `text`: a whole number, decimal, fraction or mixed number, then a unit or a ratio
    /// of two units, then possibly what is measured.
    ///
    /// # Errors
    /// Says which part cannot be read.
    pub fn parse(text: &str) -> Result<Self, Trouble> {
        let text = text.trim();
        let (number, rest) = split_number(text);
        if number.is_empty() {
            return Err(Trouble::NoNumber);
        }
        if number.contains(',') {
            return Err(Trouble::Comma);
        }
        let value = read_number(&number).ok_or(Trouble::NoNumber)?;
        if !value.is_finite() {
            return Err(Trouble::NotFinite);
        }
        if rest.is_empty() {
            return Err(Trouble::NoUnit);
        }
        let (dimension, of) = read_unit(rest)?;
        Ok(Self { value, dimension, of })
    }

    /// The value in `unit`, if it measures the same kind of quantity.
    #[must_use]
    pub fn in_unit(&self, unit: Unit) -> Option<f64> {
        let (from, to) = (self.dimension, unit.dimension);
        // Equal units must not change a digit; 10 % stays 10.
        if from.same(to) {
            return Some(self.value);
        }
        from.alike(to).then(|| self.value * (from.scale() / to.scale()))
    }
}

/// The number in front (with its spaces taken out where it is a mixed number) and the rest.
fn split_number(text: &str) -> (String, &str) {
    let numeric = |c: char| c.is_ascii_digit() || "+-−.,/ \u{a0}½¼¾⅛⅓⅔".contains(c);
    let mut end = text.find(|c: char| !numeric(c)).unwrap_or(text.len());
    // "1e3 L": an exponent belongs to the number only when digits follow it.
    let tail = &text[end..];
    if end > 0 && tail.starts_with(['e', 'E']) {
        let digits = tail[1..].trim_start_matches(['+', '-']);
        let count = digits.bytes().take_while(u8::is_ascii_digit).count();
        if count > 0 {
            end = text.len() - digits.len() + count;
        }
    }
    (text[..end].trim().replace('\u{a0}', " "), text[end..].trim())
}

fn read_number(text: &str) -> Option<f64> {
    let text = text.replace('−', "-");
    let mut spread = String::new();
    for c in text.chars() {
        match vulgar(c) {
            Some(fraction) => spread.extend([" ", fraction]),
            None => spread.push(c),
        }
    }
    let (sign, spread) = match spread.trim().strip_prefix('-') {
        Some(rest) => (-1.0, rest.to_string()),
        None => (1.0, spread.trim().to_string()),
    };
    let parts: Vec<&str> = spread.split_whitespace().collect();
    let size = match parts.as_slice() {
        [one] => read_part(one)?,
        [whole, part] if part.contains('/') && !whole.contains(['/', '.']) => {
            read_part(whole)? + read_part(part)?
        }
        _ => return None,
    };
    Some(sign * size)
}

fn read_part(text: &str) -> Option<f64> {
    let digits = |t: &str| t.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    match text.split_once('/') {
        Some((above, below)) if digits(above) && digits(below) => {
            let (above, below): (f64, f64) = (above.parse().ok()?, below.parse().ok()?);
            (below > 0.0).then_some(above / below)
        }
        Some(_) => None,
        None => digits(text.trim_start_matches('+')).then(|| text.parse().ok()).flatten(),
    }
}

fn vulgar(c: char) -> Option<&'static str> {
    Some(match c {
        '½' => "1/2",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅛' => "1/8",
        '⅓' => "1/3",
        '⅔' => "2/3",
        _ => return None,
    })
}

/// Reads "gal", "tsp per gal", "mg/L CaCO3": the longest unit in front wins.
fn read_unit(text: &str) -> Result<(Dimension, String), Trouble> {
    let unknown = || Trouble::UnknownUnit(text.into());
    let (first, rest) = longest(text).ok_or_else(unknown)?;
    let below = rest.strip_prefix('/').or_else(|| rest.strip_prefix("per "));
    let Some(below) = below else {
        return if rest.is_empty() { Ok((first.dimension, String::new())) } else { Err(unknown()) };
    };
    let (second, of) = longest(below.trim_start()).ok_or_else(unknown)?;
    let of = of.trim_start_matches("as ").trim();
    if !of.chars().all(|c| c.is_ascii_alphanumeric() || c == '-') {
        return Err(unknown());
    }
    Ok((first.dimension.over(second.dimension), of.into()))
}

/// The longest known unit that `text` starts with, up to a `/`, and what follows it.
fn longest(text: &str) -> Option<(Unit, &str)> {
    let ends = text.char_indices().map(|(i, _)| i).skip(1).chain([text.len()]);
    let mut cuts: Vec<usize> = ends
        .filter(|&end| {
            let next = text[end..].chars().next();
            next.is_none_or(|c| c == ' ' || c == '/' || c == '.')
        })
        .collect();
    cuts.reverse();
    cuts.into_iter().find_map(|end| {
        let unit = spelling::simple(text[..end].trim())?;
        Some((unit, text[end..].trim_start_matches('.').trim_start()))
    })
}

#[cfg(test)]
mod tests {
    #![expect(clippy::float_cmp, reason = "these must be exact")]

    use super::super::unit;
    use super::*;

    fn read(text: &str, unit: Unit) -> f64 {
        Measure::parse(text).unwrap().in_unit(unit).unwrap()
    }

    #[test]
    fn fractions_and_mixed_numbers_are_read() {
        assert_eq!(read("1/2 in", unit::MILLIMETRE), 12.7);
        assert_eq!(read("1 1/2 in", unit::MILLIMETRE), 1.5 * 25.4);
        assert_eq!(read("14½ in", unit::MILLIMETRE), 14.5 * 25.4);
        assert_eq!(read(".5L", unit::LITRE), 0.5);
        assert_eq!(read("1e1 L", unit::LITRE), 10.0);
        assert_eq!(read("10 US gal", unit::LITRE), 37.85411784);
        assert!((read("1 imp gal", unit::LITRE) - 4.54609).abs() < 1e-12);
    }

    #[test]
    fn ratios_keep_what_they_measure() {
        let hard = Measure::parse("140 mg/L as CaCO3").unwrap();
        assert_eq!((hard.of.as_str(), hard.value), ("CaCO3", 140.0));
        let rate = Measure::parse("1 tsp per gallon").unwrap();
        assert_eq!(rate.in_unit(unit::TEASPOON_PER_GALLON), Some(1.0));
        assert!(Measure::parse("2 g/L").unwrap().in_unit(unit::LITRE).is_none());
    }

    #[test]
    fn what_cannot_be_read_says_why() {
        let why = |text| Measure::parse(text).unwrap_err();
        assert_eq!(why("10"), Trouble::NoUnit);
        assert_eq!(why("1,5 L"), Trouble::Comma);
        assert_eq!(why("gal"), Trouble::NoNumber);
        assert_eq!(why("1/0 L"), Trouble::NoNumber);
        assert_eq!(why("5 furlong"), Trouble::UnknownUnit("furlong".into()));
        assert_eq!(why("9e999 L"), Trouble::NotFinite);
        assert_eq!(why("1 2 3 L"), Trouble::NoNumber);
    }
}
