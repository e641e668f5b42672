//! How large the letters of a gauge strip are, and what room they take. Its marks are bound to the bin;
//! its letters are not.

use super::super::Grow;

/// Letters of a strip, and what depends on them.
#[derive(Debug, PartialEq)]
pub(super) struct Hand {
    /// Width of a strip (mm); two stand side by side on the smallest paper it is for.
    pub wide: f64,
    /// Its head, above the marks (mm).
    pub head: f64,
    /// Room for the check bar above the strips, with its words (mm).
    pub bar: f64,
    /// Height of small letters, and of numbers and the words of the lines (mm).
    pub small: f64,
    pub loud: f64,
    /// Where the numbers of the left edge end and the lines go on (mm).
    pub inner: f64,
    /// Letters of a name that have room in the head.
    pub name: usize,
    /// Whether amounts are told in the other unit, too.
    pub both: bool,
    /// Least distance of two amounts that are named, and of two days (mm).
    pub amounts: f64,
    pub days: f64,
    /// A glue line keeps so far from other lines (mm).
    pub apart: f64,
    /// Room for title and words of a page of strips, and for another line of its title (mm), and how many
    /// letters a line of it has.
    pub words: f64,
    pub title: f64,
    pub titled: usize,
}

/// The usual ones; small paper has shorter titles.
const USUAL: Hand = Hand {
    wide: 54.0,
    head: 10.0,
    bar: 12.0,
    small: 1.7,
    loud: 2.1,
    inner: 12.5,
    name: 30,
    both: true,
    amounts: 5.0,
    days: 3.3,
    apart: 7.0,
    words: 41.0,
    title: 8.0,
    titled: 56,
};
const SMALL_PAPER: Hand = Hand { titled: 48, ..USUAL };

/// Large print: numbers and words of 18 pt, and one unit, so that there is room for them.
const LARGE: Hand = Hand {
    wide: 82.0,
    head: 19.0,
    bar: 16.0,
    small: 3.4,
    loud: 4.45,
    inner: 17.5,
    name: 22,
    both: false,
    amounts: 8.5,
    days: 7.0,
    apart: 14.0,
    words: 64.0,
    title: 12.0,
    titled: 34,
};

/// How large the letters of a plan's strips are.
pub(super) fn hand(grow: &Grow<'_>) -> &'static Hand {
    if grow.plan.large {
        &LARGE
    } else if grow.plan.paper.is_small() {
        &SMALL_PAPER
    } else {
        &USUAL
    }
}

impl Hand {
    /// How much larger than usual its letters are, and so what stands between them.
    pub(super) fn by(&self) -> f64 {
        self.small / USUAL.small
    }

    /// Width of a number (mm): in the face of the booklet a digit is 0.465 em, a point less than half of
    /// that, and an em as wide as capitals are high over 0.7.
    pub(super) fn number(&self, number: &str) -> f64 {
        let em = |letter: char| if letter.is_ascii_digit() { 0.465 } else { 0.24 };
        number.chars().map(em).sum::<f64>() * self.loud / 0.7
    }
}
