//! Quantities, numbers and dates of a plan's table.

use std::ops::Range;

use jiff::civil::Date;
use toml::Spanned;
use toml::de::DeValue;

use super::table::{Placed, Table};
use crate::number::quantity::{Measure, Trouble};
use crate::number::{Unit, figures, unit};

/// What a quantity may be: the unit it is wanted in, bounds, and spellings to offer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Want {
    pub(super) unit: Unit,
    pub(super) least: f64,
    pub(super) most: f64,
    pub(super) offer: &'static str,
}

impl Table<'_> {
    /// A quantity with its unit, if the key is there, in the wanted unit.
    pub(super) fn measure(&self, key: &'static str, want: &Want) -> Option<Placed<f64>> {
        let value = self.get(key)?;
        self.quantity(key, value, want)
    }

    /// A concentration, counted as one of several forms: the first is meant if none is named.
    ///
    /// `forms` are names with the factor to the wanted form, such as `("N", 4.427)` for nitrate.
    pub(super) fn concentration(
        &self,
        key: &'static str,
        want: &Want,
        forms: &[(&str, f64)],
    ) -> Option<Placed<f64>> {
        let value = self.get(key)?;
        let text = self.text_of(key).unwrap_or_default();
        let Ok(measure) = Measure::parse(&text) else { return self.quantity(key, value, want) };
        let of = forms.iter().find(|(name, _)| measure.of == *name || measure.of.is_empty());
        let Some((_, factor)) = of else {
            let names: Vec<&str> = forms.iter().map(|(name, _)| *name).collect();
            let message = format!("`{key}` is counted as {}, which it cannot be", measure.of);
            let help = format!(
                "it may be counted as {}: write it like {}",
                names.join(" or "),
                want.offer
            );
            self.error("wrong-unit", &value.span(), message, &help);
            return None;
        };
        let plain = self.in_unit(key, value, &measure, want)?;
        self.bounded(key, Placed { value: plain.value * factor, ..plain }, want)
    }

    /// The text under a key, without complaint if it is something else.
    pub(super) fn text_of(&self, key: &'static str) -> Option<String> {
        if let DeValue::String(text) = self.get(key)?.get_ref() {
            Some(text.to_string())
        } else {
            None
        }
    }

    /// A quantity that must be there.
    pub(super) fn need_measure(&self, key: &'static str, want: &Want) -> Option<Placed<f64>> {
        if !self.has(key) {
            self.missing(key, &format!("\"{}\"", first_offer(want)));
            return None;
        }
        self.measure(key, want)
    }

    fn quantity(
        &self,
        key: &str,
        value: &Spanned<DeValue<'_>>,
        want: &Want,
    ) -> Option<Placed<f64>> {
        let place = value.span();
        let DeValue::String(text) = value.get_ref() else {
            let bare = matches!(value.get_ref(), DeValue::Integer(_) | DeValue::Float(_));
            if bare {
                self.error(
                    "no-unit",
                    &place,
                    format!("`{key}` is a bare number"),
                    &format!("say what it is measured in: {}", want.offer),
                );
            } else {
                self.wrong_kind(key, value, "a quantity in quotes", want.offer);
            }
            return None;
        };
        let measure = match Measure::parse(text) {
            Ok(measure) => measure,
            Err(trouble) => {
                self.trouble(key, &place, &trouble, want);
                return None;
            }
        };
        if !measure.of.is_empty() {
            let message = format!("`{key}` is not counted as {}", measure.of);
            self.error("wrong-unit", &place, message, &format!("write it like {}", want.offer));
            return None;
        }
        let found = self.in_unit(key, value, &measure, want)?;
        self.bounded(key, found, want)
    }

    fn in_unit(
        &self,
        key: &str,
        value: &Spanned<DeValue<'_>>,
        measure: &Measure,
        want: &Want,
    ) -> Option<Placed<f64>> {
        // "14 h" for hours a day is what everybody says.
        let hours =
            || (want.unit == unit::HOUR_PER_DAY).then(|| measure.in_unit(unit::DAY)).flatten();
        let found = measure.in_unit(want.unit).or_else(|| hours().map(|days| 24.0 * days));
        if found.is_none() {
            let message = format!("`{key}` cannot be measured in what is written");
            let help = format!("write it like {}", want.offer);
            self.error("wrong-unit", &value.span(), message, &help);
        }
        found.map(|v| Placed { value: v, place: value.span() })
    }

    fn trouble(&self, key: &str, place: &Range<usize>, trouble: &Trouble, want: &Want) {
        let (code, message) = match trouble {
            Trouble::NoNumber => ("no-number", format!("`{key}` does not begin with a number")),
            Trouble::NoUnit => ("no-unit", format!("`{key}` has no unit")),
            Trouble::Comma => {
                ("comma", format!("`{key}` has a comma, which could mean two things"))
            }
            Trouble::UnknownUnit(unit) => {
                ("unknown-unit", format!("`{key}` is in a unit that is not known: \"{unit}\""))
            }
            Trouble::NotFinite => ("out-of-range", format!("`{key}` is too large to be true")),
        };
        self.error(code, place, message, &format!("write it like {}", want.offer));
    }

    pub(super) fn bounded(&self, key: &str, it: Placed<f64>, want: &Want) -> Option<Placed<f64>> {
        // A float that is no number fails both comparisons.
        if it.value >= want.least && it.value <= want.most {
            return Some(it);
        }
        let show = |v| figures::with_unit(v, 4, want.unit);
        self.error(
            "out-of-range",
            &it.place,
            format!("`{key}` is {}, which cannot be right", show(it.value)),
            &format!("it should lie between {} and {}", show(want.least), show(want.most)),
        );
        None
    }

    /// A bare number such as a pH or a part, if the key is there.
    pub(super) fn number(&self, key: &'static str, least: f64, most: f64) -> Option<Placed<f64>> {
        let value = self.get(key)?;
        let number = match value.get_ref() {
            DeValue::Integer(n) => n.as_str().replace('_', "").parse().unwrap_or(f64::NAN),
            DeValue::Float(n) => n.as_str().replace('_', "").parse().unwrap_or(f64::NAN),
            DeValue::String(_)
            | DeValue::Boolean(_)
            | DeValue::Datetime(_)
            | DeValue::Array(_)
            | DeValue::Table(_) => {
                // What stands in quotes may be the number itself.
                let text = self.text_of(key).map(|t| t.trim().replace(',', "."));
                let own = text.filter(|t| t.parse::<f64>().is_ok_and(f64::is_finite));
                let example = own.unwrap_or_else(|| figures::plain(f64::midpoint(least, most), 3));
                self.wrong_kind(key, value, "a plain number, without quotes", &example);
                return None;
            }
        };
        let want = Want { unit: unit::NONE, least, most, offer: "" };
        self.bounded(key, Placed { value: number, place: value.span() }, &want)
    }

    /// A whole number of at least 1.
    pub(super) fn count(&self, key: &'static str, most: u32) -> Option<Placed<u32>> {
        let found = self.number(key, 1.0, f64::from(most))?;
        if found.value.fract() != 0.0 {
            let message = format!("`{key}` must be a whole number");
            self.error("out-of-range", &found.place, message, "count them");
            return None;
        }
        (1..=most)
            .find(|n| f64::from(*n) >= found.value)
            .map(|value| Placed { value, place: found.place })
    }

    /// A date, written as a TOML date or as text.
    pub(super) fn date(&self, key: &'static str) -> Option<Placed<Date>> {
        let value = self.get(key)?;
        let text = match value.get_ref() {
            DeValue::Datetime(date) if date.time.is_none() => date.to_string(),
            DeValue::String(text) => text.trim().to_string(),
            DeValue::Datetime(_)
            | DeValue::Integer(_)
            | DeValue::Float(_)
            | DeValue::Boolean(_)
            | DeValue::Array(_)
            | DeValue::Table(_) => {
                self.wrong_kind(key, value, "a date", "2027-03-01");
                return None;
            }
        };
        let parsed = text.parse::<Date>().ok().filter(|d| (1900..=2200).contains(&d.year()));
        if parsed.is_none() {
            let message = format!("`{key}` is not a day of the calendar: \"{text}\"");
            let help = "write year-month-day, from 1900 to 2200, like 2027-03-01";
            self.error("bad-date", &value.span(), message, help);
        }
        parsed.map(|date| Placed { value: date, place: value.span() })
    }

    /// A list of quantities of exactly `N`, such as length and width.
    pub(super) fn measures<const N: usize>(
        &self,
        key: &'static str,
        want: &Want,
    ) -> Option<[Placed<f64>; N]> {
        let value = self.get(key)?;
        let items = match value.get_ref() {
            DeValue::Array(items) if items.len() == N => items,
            DeValue::Array(_)
            | DeValue::String(_)
            | DeValue::Integer(_)
            | DeValue::Float(_)
            | DeValue::Boolean(_)
            | DeValue::Datetime(_)
            | DeValue::Table(_) => {
                let offer = first_offer(want);
                let example = vec![format!("\"{offer}\""); N].join(", ");
                let wanted = format!("a list of {N} quantities");
                self.wrong_kind(key, value, &wanted, &format!("[{example}]"));
                return None;
            }
        };
        let read: Vec<_> = items.iter().map(|item| self.quantity(key, item, want)).collect();
        let all: Option<Vec<_>> = read.into_iter().collect();
        all.and_then(|all| all.try_into().ok())
    }

    /// Every key of the table with its quantity: for label contents, whose keys are data.
    pub(super) fn contents(&self, known: &[&str], want: &Want) -> Vec<(String, f64)> {
        let mut all = Vec::new();
        for (key, value) in self.keys {
            let name = key.get_ref().as_ref();
            if known.contains(&name) {
                let read = self.quantity(name, value, want);
                all.extend(read.map(|q| (name.to_string(), q.value)));
            } else {
                self.unknown(name, &key.span(), known);
            }
        }
        all
    }
}

fn first_offer(want: &Want) -> &'static str {
    want.offer.split(" or ").next().unwrap_or(want.offer).trim_matches('"')
}

/// Whether the text under `key` measures the kind of thing `unit` does.
pub(super) fn spoken_in(table: &Table<'_>, key: &'static str, unit: Unit) -> bool {
    let text = table.text_of(key);
    text.is_some_and(|t| Measure::parse(&t).is_ok_and(|m| m.in_unit(unit).is_some()))
}
