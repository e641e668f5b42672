//! What may not be torn apart at the end of a line on paper: a number and its unit, a number and
//! its fraction. (A joiner behind the slash of a unit would end up in every slash that is copied.)

/// What units are made of, in the languages of the booklet.
const PARTS: [&str; 32] = [
    "%", "L", "mL", "gal", "g", "mg", "kg", "oz", "lb", "fl", "tsp", "tbsp", "cdta", "cda", "mm",
    "cm", "m", "m²", "in", "ft", "mol", "mmol", "µmol", "meq", "mS", "µS", "°C", "°F", "kPa",
    "kWh", "h", "d",
];

/// Does not break.
const SPACE: char = '\u{a0}';

fn is_unit(token: &str) -> bool {
    token.split('/').all(|part| PARTS.contains(&part))
}

fn is_fraction(token: &str) -> bool {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    token.split_once('/').is_some_and(|(over, under)| digits(over) && digits(under))
}

/// The text with such breaks forbidden.
pub(super) fn hold(text: &str) -> String {
    let mut held = String::with_capacity(text.len());
    let mut after_number = false;
    for (i, token) in text.split(' ').enumerate() {
        let bare = token.trim_matches(|c| "(),.;:".contains(c));
        let opens = token.starts_with('(');
        if i > 0 {
            let binds = after_number && !opens && (is_unit(bare) || is_fraction(bare));
            held.push(if binds { SPACE } else { ' ' });
        }
        held.push_str(token);
        after_number = token.ends_with(|c: char| c.is_ascii_digit());
    }
    held
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_their_units_and_fractions() {
        let plain = |text: &str| hold(text).replace(SPACE, "~");
        assert_eq!(plain("to 8 1/8 in (206 mm), then"), "to 8~1/8~in (206~mm), then");
        assert_eq!(plain("at 5 % or 0.9 g/L: stir"), "at 5~% or 0.9~g/L: stir");
        assert_eq!(plain("12 plants in 3 bins of 10 L."), "12 plants in 3 bins of 10~L.");
        assert_eq!(plain("pH 5.5 to 6.0 (2.64 gal)"), "pH 5.5 to 6.0 (2.64~gal)");
    }
}
