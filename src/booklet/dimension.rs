//! Dimensions on a drawing, as drawing practice has them (ISO 129-1): outside the outline,
//! extension lines that begin just off it and reach just beyond, arrowheads on the dimension line,
//! the number above it; upright ones are read from the right.

use super::block::Align;
use super::drawing::Mark;

/// Height of the numbers (mm).
pub(super) const LETTERS: f64 = 2.2;
/// Thickness of thin lines (mm).
const THIN: f64 = 0.18;
/// From the outline to an extension line, and from the dimension line to its end (mm).
const OFF: f64 = 1.0;
const BEYOND: f64 = 1.5;
/// Arrowhead: length and half its width (mm).
const HEAD: [f64; 2] = [2.2, 0.4];
/// From the dimension line to the middle of its number (mm).
const NUMBER: f64 = 1.9;

/// Width of a number (mm): of its letters in the face of the booklet, of which an em is as wide as capitals are
/// high over 0.7.
fn wide(text: &str) -> f64 {
    let em = |letter: char| match letter {
        'm' | '⌀' => 0.8,
        '0'..='9' => 0.47,
        '/' | '(' | ')' => 0.33,
        ' ' | '\u{a0}' | ',' | '.' | 'i' | 'l' => 0.28,
        _ => 0.56,
    };
    text.chars().map(em).sum::<f64>() * LETTERS / 0.7
}

/// Whether number and arrowheads have room between the extension lines.
pub(super) fn fits(length: f64, text: &str) -> bool {
    length >= wide(text) + 2.0 && length >= 2.0 * HEAD[0] + 1.0
}

/// How far a dimension reaches out to the left of its first position (mm).
pub(super) fn outside(length: f64, text: &str) -> f64 {
    if fits(length, text) { 0.0 } else { HEAD[0] + wide(text) + 1.0 }
}

/// A dimension below or above the outline: between two positions, from the outline's edge at `from`
/// to its line at `y`.
pub(super) fn across(marks: &mut Vec<Mark>, [a, b]: [f64; 2], from: f64, y: f64, text: &str) {
    let way = if y > from { 1.0 } else { -1.0 };
    for x in [a, b] {
        thin(marks, [x, from + way * OFF], [x, y + way * BEYOND]);
    }
    let inside = fits(b - a, text);
    if inside {
        thin(marks, [a, y], [b, y]);
        let at = [f64::midpoint(a, b), y - NUMBER];
        marks.push(Mark::Words { at, align: Align::Centre, size: LETTERS, text: text.into() });
    } else {
        // Too narrow: arrowheads from outside, the number over the line's longer end, to the left.
        let end = a - outside(b - a, text);
        thin(marks, [end, y], [b + HEAD[0] + 1.5, y]);
        let at = [a - HEAD[0] - 0.5, y - NUMBER];
        marks.push(Mark::Words { at, align: Align::Right, size: LETTERS, text: text.into() });
    }
    let (left, right) = if inside { (1.0, -1.0) } else { (-1.0, 1.0) };
    for (x, way) in [(a, left), (b, right)] {
        let back = x + way * HEAD[0];
        let points = vec![[x, y], [back, y - HEAD[1]], [back, y + HEAD[1]]];
        marks.push(Mark::Area { points, grey: Some(0.0), weight: 0.0 });
    }
}

/// A dimension left of the outline: between two positions, from the outline's edge at `from` to its
/// line at `x`; `a` stands above `b`.
pub(super) fn up(marks: &mut Vec<Mark>, [a, b]: [f64; 2], from: f64, x: f64, text: &str) {
    for y in [a, b] {
        thin(marks, [from - OFF, y], [x - BEYOND, y]);
    }
    let inside = fits(b - a, text);
    let (top, middle) = if inside {
        (a, f64::midpoint(a, b))
    } else {
        (a - HEAD[0] - wide(text) - 1.0, a - HEAD[0] - 0.5 - wide(text) / 2.0)
    };
    thin(marks, [x, top], [x, if inside { b } else { b + HEAD[0] + 1.5 }]);
    let at = [x - NUMBER, middle];
    marks.push(Mark::Turned { at, size: LETTERS, text: text.into() });
    let (upper, lower) = if inside { (1.0, -1.0) } else { (-1.0, 1.0) };
    for (y, way) in [(a, upper), (b, lower)] {
        let back = y + way * HEAD[0];
        let points = vec![[x, y], [x - HEAD[1], back], [x + HEAD[1], back]];
        marks.push(Mark::Area { points, grey: Some(0.0), weight: 0.0 });
    }
}

/// A note with a line that points to a place.
pub(super) fn note(marks: &mut Vec<Mark>, tip: [f64; 2], knee: [f64; 2], text: &str) {
    let to_right = knee[0] >= tip[0];
    thin(marks, tip, knee);
    let length = (wide(text) + 1.0) * if to_right { 1.0 } else { -1.0 };
    thin(marks, knee, [knee[0] + length, knee[1]]);
    let at = [knee[0] + if to_right { 0.5 } else { -0.5 }, knee[1] - NUMBER];
    let align = if to_right { Align::Left } else { Align::Right };
    marks.push(Mark::Words { at, align, size: LETTERS, text: text.into() });
}

pub(super) fn thin(marks: &mut Vec<Mark>, from: [f64; 2], to: [f64; 2]) {
    marks.push(Mark::Line { from, to, weight: THIN, dashed: false });
}

/// A circle, of so many straight pieces that none is seen.
pub(super) fn circle([x, y]: [f64; 2], radius: f64, weight: f64) -> Mark {
    // (mm of paper)
    let pieces: u32 = if radius < 15.0 { 60 } else { 180 };
    let point = |i: u32| {
        let angle = std::f64::consts::TAU * f64::from(i) / f64::from(pieces);
        [x + radius * libm::cos(angle), y + radius * libm::sin(angle)]
    };
    Mark::Area { points: (0..pieces).map(point).collect(), grey: None, weight }
}
