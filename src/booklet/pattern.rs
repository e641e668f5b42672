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
        let mut left = text;
        let mut filled = Vec::new();
        for literal in middle {
            // A gap holds at least one letter.
            let from = left.char_indices().nth(1)?.0;
            let at = from + left.get(from..)?.find(literal.as_str())?;
            filled.push(left.get(..at)?);
            left = left.get(at + literal.len()..)?;
        }
        filled.push(left);
        let fits = |(gap, value): (&String, &&str)| {
            !value.is_empty() && (!gap.starts_with('n') || is_number(value))
        };
        self.gaps.iter().zip(&filled).all(fits).then_some(filled)
    }
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
        SHORT.contains(&w)
            || (plain >= 2 && w.chars().count() >= 3 || loud >= 5)
                && !w.contains(|c: char| c.is_numeric())
    })
}
