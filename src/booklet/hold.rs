//! What may not be torn apart at the end of a line on paper: a number and its unit, a number and
//! its fraction, a day and its month, a number and what it counts ("bottles: 1", "4 × Basil"), a
//! symbol and what it is, a name and its number ("Upper tote 1"), an element and its per cent, a
//! short blank and its word. In running text also a unit at its slash and a form at its hyphen,
//! which the template boxes. (A joiner there would end up in every slash that is copied.)

/// What units are made of, in the languages of the booklet.
const PARTS: [&str; 46] = [
    "%", "L", "mL", "gal", "g", "mg", "kg", "oz", "lb", "fl", "tsp", "tbsp", "cdta", "cda", "mm",
    "cm", "m", "m²", "in", "ft", "mol", "mmol", "µmol", "meq", "mS", "µS", "°C", "°F", "kPa",
    "kWh", "W", "h", "d", "s", "MJ", "litre", "litro", "galón", "minutes", "minutos", "hours",
    "horas", "days", "días", "times", "veces",
];

/// Months as they are written, in the languages of the booklet.
const MONTHS: [&str; 24] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec", "ene",
    "feb", "mzo", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic",
];

/// Days of the week as they are written, in the languages of the booklet.
const WEEK: [&str; 14] = [
    "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun", "lun", "mar", "mié", "jue", "vie", "sáb",
    "dom",
];

/// A text of more words than a day alone has; a column that holds one may be narrow.
const LONG: usize = 4;

/// Letters of a blank that stays with its word ("Date: ____").
const BLANK: usize = 16;

/// Does not break.
const SPACE: char = '\u{a0}';

/// What stays with the number behind it.
const BEFORE: [&str; 5] = ["pH", "calculation", "calculations", "cálculo", "cálculos"];

/// What stands between the ends of a range.
const RANGE: [&str; 2] = ["to", "a"];

/// What stands before the unit of a rate ("18 mm a gal").
const PER: [&str; 2] = ["a", "por"];

fn is_unit(token: &str) -> bool {
    token.split('/').all(|part| PARTS.contains(&part))
}

fn is_fraction(token: &str) -> bool {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    token.split_once('/').is_some_and(|(over, under)| digits(over) && digits(under))
}

/// An element or a form of it on a label, such as "K2O" or "N-nitrate".
fn is_form(token: &str) -> bool {
    token.len() < 12
        && token.starts_with(|c: char| c.is_ascii_uppercase())
        && token.ends_with(|c: char| c.is_ascii_alphanumeric())
}

fn decimal(token: &str) -> bool {
    let bare = bare(token);
    bare.starts_with(|c: char| c.is_ascii_digit()) && bare.contains(['.', ','])
}

fn digits(token: &str) -> bool {
    !token.is_empty() && token.bytes().all(|b| b.is_ascii_digit())
}

/// The text with such breaks forbidden.
pub(super) fn hold(text: &str) -> String {
    if !text.contains(' ') {
        return text.into();
    }
    let mut held = String::with_capacity(text.len());
    let long = text.split(' ').count() > LONG;
    // What a symbol before it is.
    let equal = text.starts_with(" = ");
    let mut tokens = text.split(' ').enumerate().peekable();
    let mut before = "";
    while let Some((i, token)) = tokens.next() {
        let next = tokens.peek().map(|(_, next)| *next);
        if i > 0 {
            let ends = || RANGE.contains(&before) && decimal(token);
            let binds = binds(before, token, next, i == 1)
                || long && (dated(before, token) || ends())
                || equal && i <= 2;
            held.push(if binds { SPACE } else { ' ' });
        }
        held.push_str(token);
        before = token;
    }
    held
}

/// A piece of a text: whether it is boxed, and its letters.
pub(super) type Kept = (bool, String);

/// The same in pieces, of which some may break nowhere: they hold "mg/L" or "N-nitrate".
pub(super) fn kept(text: &str) -> Vec<Kept> {
    let held = hold(text);
    let mut pieces: Vec<Kept> = Vec::new();
    for (i, words) in held.split(' ').enumerate() {
        let whole = words.split(SPACE).map(bare).any(torn);
        let space = if i > 0 { " " } else { "" };
        match pieces.last_mut() {
            // The space before a box is not in it.
            Some((false, before)) => before.push_str(space),
            _ if !space.is_empty() => pieces.push((false, space.into())),
            _ => {}
        }
        match pieces.last_mut() {
            Some((false, before)) if !whole => before.push_str(words),
            _ => pieces.push((whole, words.into())),
        }
    }
    pieces
}

/// Whether a line might end within a word.
fn torn(word: &str) -> bool {
    word.contains('/') && is_unit(word) || word.contains('-') && is_form(word)
}

/// Whether a cell has a form whose letter might stand alone at the end of a line: "N-nitrate", or, among other
/// words, a unit that might be torn at its slash.
pub(super) fn tears(text: &str) -> bool {
    let any = |tears: &dyn Fn(&str) -> bool| text.split(' ').map(bare).any(tears);
    text.contains('-') && any(&|word| word.get(1..2) == Some("-") && is_form(word))
        || text.contains('/') && text.split(' ').count() >= LONG && any(&torn)
}

/// A word without the signs around it.
fn bare(token: &str) -> &str {
    token.trim_matches(|c| matches!(c, '"' | '(' | ')' | ',' | '.' | ';' | ':'))
}

/// Whether a word is the day of a month after its day of the week.
fn dated(before: &str, token: &str) -> bool {
    WEEK.contains(&before) && digits(token)
}

/// Whether a word stays with the one before it; whether that is the first.
fn binds(before: &str, token: &str, next: Option<&str>, second: bool) -> bool {
    let bare = bare(token);
    let starts = |text: &str| text.as_bytes().first().copied().unwrap_or_default();
    let ends = before.as_bytes().last().copied().unwrap_or_default();
    // A line does not begin with what is divided by.
    let joins = || {
        let part = is_unit(bare) || is_fraction(bare) || MONTHS.contains(&bare);
        token == "÷" || !token.starts_with('(') && part
    };
    // A long blank may need a line to itself.
    let counts = || digits(bare) || token.starts_with('_') && token.len() <= BLANK;
    // "Tote 1", "full pail 2"; one word and a number may need two lines.
    let names = || {
        let letter = token.len() == 1 && starts(token).is_ascii_uppercase();
        letter || token.len() <= 2 && digits(token)
    };
    let holds = || is_form(before) && starts(token).is_ascii_digit();
    let called = || BEFORE.contains(&before.trim_start_matches('('));
    // "4 × Basil", but not "559 × 330 × 203 mm".
    let word = |text: &str| text.starts_with(char::is_alphabetic);
    let times = || token == "×" && next.is_some_and(word) || before == "×" && word(token);
    ends.is_ascii_digit() && joins()
        || ends == b':' && counts()
        || next.is_none() && !second && names()
        || next.is_some_and(|next| next.starts_with('%')) && holds()
        || starts(bare).is_ascii_digit() && called()
        || PER.contains(&before) && is_unit(bare)
        || times()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_and_forms_are_kept_whole() {
        let boxed = |text: &str| {
            let pieces = kept(text).into_iter();
            let pieces = pieces.map(|(whole, t)| if whole { format!("[{t}]") } else { t });
            pieces.collect::<String>().replace(SPACE, "~")
        };
        assert_eq!(boxed("at 0.9 g/L: stir"), "at [0.9~g/L:] stir");
        assert_eq!(boxed("mg/g times g/mL"), "[mg/g] times [g/mL]");
        assert_eq!(boxed("N-nitrate 9.5 %, K2O 19 %"), "[N-nitrate~9.5~%,] K2O~19~%");
        assert_eq!(boxed("1/2 tsp and/or more"), "1/2~tsp and/or more");
        assert_eq!(boxed("100 × 4 ÷ (the inches)"), "100 × 4~÷ (the inches)");
        assert_eq!(boxed(""), "");
    }

    #[test]
    fn numbers_keep_their_units_and_fractions() {
        let plain = |text: &str| hold(text).replace(SPACE, "~");
        assert_eq!(plain("to 8 1/8 in (206 mm), then"), "to 8~1/8~in (206~mm), then");
        assert_eq!(plain("at 5 % or 0.9 g/L: stir"), "at 5~% or 0.9~g/L: stir");
        assert_eq!(plain("12 plants in 3 bins of 10 L."), "12 plants in 3 bins of 10~L.");
        assert_eq!(plain("Mon 9 May 2027; pairs: 1"), "Mon~9~May 2027; pairs:~1");
        assert_eq!(plain("Name: ____ Date: ____"), "Name:~____ Date:~____");
        assert_eq!(plain("Thu 4 Mar to Mon 15 Mar"), "Thu~4~Mar to Mon~15~Mar");
        assert_eq!(plain("Thu 4 Mar"), "Thu 4~Mar");
        assert_eq!(plain("Of each Bottle B"), "Of each Bottle~B");
        assert_eq!(plain("Upper tote 1"), "Upper tote~1");
        assert_eq!(plain("parts 1 and 2 of 4"), "parts 1 and 2 of~4");
        assert_eq!(plain("K2O 19 %, Mg 2 %"), "K2O~19~%, Mg~2~%");
        assert_eq!(plain("N-nitrate 9.5 %"), "N-nitrate~9.5~%");
        assert_eq!(plain("11/16 in (18 mm) a gal"), "11/16~in (18~mm) a~gal");
        assert_eq!(plain("then pH 5.5 to 6.0."), "then pH~5.5 to~6.0.");
        assert_eq!(plain("as worked (calculation 12)."), "as worked (calculation~12).");
        assert_eq!(plain("rinse it for 15 minutes or more"), "rinse it for 15~minutes or more");
        assert_eq!(plain("6 × Basil, 4 × Mint"), "6~×~Basil, 4~×~Mint");
        assert_eq!(plain(" = 3 mm, k = 2 or 3 × 4 m"), "~=~3~mm, k = 2 or 3 × 4~m");
        assert_eq!(plain("pH 5.5 to 6.0 (2.64 gal)"), "pH~5.5 to~6.0 (2.64~gal)");
    }
}
