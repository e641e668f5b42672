//! What may not be torn apart at the end of a line on paper: a number and its unit, a number and
//! its fraction, a day and its month, a number and what it counts ("bottles: 1"), a short blank and
//! its word. (A joiner behind the slash of a unit would end up in every slash that is copied.)

/// What units are made of, in the languages of the booklet.
const PARTS: [&str; 32] = [
    "%", "L", "mL", "gal", "g", "mg", "kg", "oz", "lb", "fl", "tsp", "tbsp", "cdta", "cda", "mm",
    "cm", "m", "m²", "in", "ft", "mol", "mmol", "µmol", "meq", "mS", "µS", "°C", "°F", "kPa",
    "kWh", "h", "d",
];

/// Months as they are written, in the languages of the booklet.
const MONTHS: [&str; 24] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec", "ene",
    "feb", "mzo", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic",
];

/// Letters of a blank that stays with its word ("Date: ____").
const BLANK: usize = 16;

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
    let (mut after_number, mut after_colon) = (false, false);
    for (i, token) in text.split(' ').enumerate() {
        let bare = token.trim_matches(|c| "(),.;:".contains(c));
        let opens = token.starts_with('(');
        if i > 0 {
            let joins = is_unit(bare) || is_fraction(bare) || MONTHS.contains(&bare);
            let counts =
                after_colon && !bare.is_empty() && bare.bytes().all(|b| b.is_ascii_digit());
            // A long blank may need a line to itself.
            let fills = after_colon && token.starts_with('_') && token.len() <= BLANK;
            let binds = after_number && !opens && joins || counts || fills;
            held.push(if binds { SPACE } else { ' ' });
        }
        held.push_str(token);
        after_number = token.ends_with(|c: char| c.is_ascii_digit());
        after_colon = token.ends_with(':');
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
        assert_eq!(plain("Mon 9 May 2027; pairs: 1"), "Mon 9~May 2027; pairs:~1");
        assert_eq!(plain("Name: ____ Date: ____"), "Name:~____ Date:~____");
        assert_eq!(plain("pH 5.5 to 6.0 (2.64 gal)"), "pH 5.5 to 6.0 (2.64~gal)");
    }
}
