//! English texts with gaps, and whether there are words in a text.

/// An English text with gaps, and what it is.
#[derive(Debug)]
pub(super) struct Pattern {
    /// What stands between the gaps, the first before the first gap, the last behind the last.
    between: Vec<String>,
    /// Names of the gaps.
    pub(super) gaps: Vec<String>,
    /// The text in the language, with the same gaps.
    pub(super) becomes: String,
}

impl Pattern {
    pub(super) fn new(english: &str, becomes: &str) -> Option<Self> {
        let mut pieces = english.split('{');
        let mut between = vec![pieces.next()?.to_string()];
        let mut gaps = Vec::new();
        for piece in pieces {
            let (gap, rest) = piece.split_once('}')?;
            gaps.push(gap.to_string());
            between.push(rest.to_string());
        }
        (!gaps.is_empty()).then(|| Self { between, gaps, becomes: becomes.to_string() })
    }

    /// Letters outside the gaps: the more there are, the surer the match.
    pub(super) fn letters(&self) -> usize {
        self.between.iter().map(|b| b.chars().filter(|c| c.is_alphabetic()).count()).sum()
    }

    /// What fills the gaps, if the whole of `text` is this.
    pub(super) fn fill<'t>(&self, text: &'t str) -> Option<Vec<&'t str>> {
        let (first, rest) = self.between.split_first()?;
        let (last, middle) = rest.split_last()?;
        let text = text.strip_prefix(first.as_str())?.strip_suffix(last.as_str())?;
        // Long lists have many places to part: there the first counts.
        parted(text, middle, &self.gaps, self.gaps.len() <= 3)
    }
}

/// Values of `gaps` in `text`, with `literals` between them; if `all`, every place of a literal is
/// tried until each gap of a number holds one.
fn parted<'t>(
    text: &'t str,
    literals: &[String],
    gaps: &[String],
    all: bool,
) -> Option<Vec<&'t str>> {
    let (gap, gaps) = gaps.split_first()?;
    let fits = |value: &str| !value.is_empty() && (!gap.starts_with('n') || is_number(value));
    let Some((literal, literals)) = literals.split_first() else {
        return fits(text).then(|| vec![text]);
    };
    // A gap holds at least one letter.
    let from = text.char_indices().nth(1)?.0;
    let places = text.get(from..)?.match_indices(literal.as_str());
    places.take(if all { usize::MAX } else { 1 }).find_map(|(at, _)| {
        let value = text.get(..from + at).filter(|value| fits(value))?;
        let rest = text.get(from + at + literal.len()..)?;
        let mut filled = vec![value];
        filled.extend(parted(rest, literals, gaps, all)?);
        Some(filled)
    })
}

/// Whether a text is a number, a fraction or a mixed number.
fn is_number(text: &str) -> bool {
    text.chars().any(|c| c.is_ascii_digit())
        && text.chars().all(|c| c.is_ascii_digit() || " .,/−-+".contains(c))
}

/// Words of two letters that are neither units nor symbols.
const SHORT: [&str; 13] =
    ["of", "to", "at", "by", "on", "or", "if", "it", "is", "as", "be", "do", "up"];

/// Whether there is a word in a text: a short one, or three letters on end that are no unit, symbol or
/// fingerprint.
pub(super) fn has_word(text: &str) -> bool {
    text.split(|c: char| !c.is_alphanumeric()).any(|w| {
        let plain = w.chars().filter(|c| c.is_lowercase()).count();
        let loud = w.chars().filter(|c| c.is_uppercase()).count();
        SHORT.contains(&w.to_lowercase().as_str())
            || (plain >= 2 && w.chars().count() >= 3 || loud >= 5)
                && !w.contains(|c: char| c.is_numeric())
    })
}
