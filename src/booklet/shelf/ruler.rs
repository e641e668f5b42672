//! One part of a gauge strip at full size: heights on its left edge, amounts on its right in both units,
//! lines and days between them.

use super::super::block::Align;
use super::super::drawing::Mark;
use crate::number::figures::{self, System};

/// Width of a strip (mm).
pub(super) const WIDE: f64 = 54.0;
/// Left of the first and right of the last strip, so that no frame is cut in half (mm).
pub(super) const INSET: f64 = 1.0;
/// Its head, above the marks (mm).
pub(super) const HEAD: f64 = 10.0;
/// Height of small letters and of the words of the lines (mm).
const SMALL: f64 = 1.7;
const LOUD: f64 = 2.1;
/// Numbers and days stand so far from the ends of a part (mm), or are left out.
const CLEAR: f64 = 1.7;
/// Where the numbers of the right edge end, and what is free before them (mm).
const NUMBERS: f64 = WIDE - 5.8;
const FREE: f64 = 1.6;
/// Room for small numbers (mm).
const SMALL_WIDE: f64 = 5.5;

/// How a line is drawn, so that grey paper tells them apart.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Style {
    /// Solid, an arrowhead at either end.
    Start,
    /// Broken.
    Ceiling,
    /// Dotted.
    Reserve,
}

/// What a strip shows, whatever part of it is drawn.
pub(super) struct Scale {
    /// Which system its left edge has.
    pub system: System,
    /// Lines: how they are drawn, heights (mm).
    pub lines: [(Style, f64); 3],
    /// Amounts: height (mm), and if it is named the numbers beside it: in the unit of the right edge and
    /// in the other.
    pub amounts: Vec<(f64, Option<[String; 2]>)>,
    /// Days that have room: height (mm), words.
    pub days: Vec<(f64, String)>,
    /// Whether planned top-ups stop lower than the ceiling.
    pub lower: bool,
    /// Where parts are glued: heights (mm).
    pub glue: Vec<f64>,
    /// What stands in the head.
    pub head: [String; 2],
    /// Names of the units: of the left edge, of the right edge, of the other amounts.
    pub units: [&'static str; 3],
}

impl Scale {
    /// Where amounts in the other unit end, in small letters, left of the widest of the right edge (mm).
    fn other(&self) -> f64 {
        let widest = self.amounts.iter().filter_map(|(_, named)| Some(wide(&named.as_ref()?[0])));
        NUMBERS - widest.fold(wide("10"), f64::max) - FREE
    }

    /// Lines leave the numbers of both edges free: from where to where they are drawn (mm).
    fn strokes(&self) -> [[f64; 2]; 3] {
        [[0.0, 5.2], [12.5, self.other() - SMALL_WIDE], [WIDE - 5.2, WIDE]]
    }

    /// Middle of what stands between the numbers (mm).
    fn middle(&self) -> f64 {
        let [from, to] = self.strokes()[1];
        f64::midpoint(from, to)
    }
}

/// Width of a large number (mm): in the face of the booklet a digit is 0.465 em, a point less than half of
/// that, and an em as wide as capitals are high over 0.7.
fn wide(number: &str) -> f64 {
    let em = |letter: char| if letter.is_ascii_digit() { 0.465 } else { 0.24 };
    number.chars().map(em).sum::<f64>() * LOUD / 0.7
}

/// A part of it: from one height to another (mm), with its left and its lower edge on paper.
pub(super) struct Part {
    pub from: f64,
    pub to: f64,
    pub left: f64,
    pub foot: f64,
}

impl Part {
    /// Position on paper, `x` mm from the left edge at a height of `h` mm.
    fn at(&self, x: f64, h: f64) -> [f64; 2] {
        [self.left + x, self.foot - (h - self.from)]
    }

    /// Whether words at a height stay clear of the edges.
    fn clear(&self, h: f64) -> bool {
        h - self.from > CLEAR && self.to - h > CLEAR
    }

    fn has(&self, h: f64) -> bool {
        (self.from..=self.to).contains(&h)
    }
}

fn words(at: [f64; 2], align: Align, size: f64, text: &str) -> Mark {
    Mark::Words { at, align, size, text: text.into() }
}

/// Draws a part.
pub(super) fn draw(marks: &mut Vec<Mark>, scale: &Scale, part: &Part) {
    let top = part.to + HEAD;
    let corners = [(0.0, part.from), (WIDE, part.from), (WIDE, top), (0.0, top)];
    let points = corners.map(|(x, h)| part.at(x, h)).to_vec();
    marks.push(Mark::Area { points, grey: None, weight: 0.15 });
    head(marks, scale, part);
    heights(marks, scale, part);
    amounts(marks, scale, part);
    for (style, h) in scale.lines.iter().filter(|(_, h)| part.has(*h)) {
        line(marks, scale, part, (*style, *h));
    }
    for (h, day) in scale.days.iter().filter(|(h, _)| part.clear(*h)) {
        let (from, to) = (part.at(14.5, *h), part.at(17.5, *h));
        marks.push(Mark::Line { from, to, weight: 0.25, dashed: false });
        marks.push(words(part.at(18.5, *h), Align::Left, SMALL, day));
    }
    for (i, h) in scale.glue.iter().enumerate().filter(|(_, h)| part.has(**h)) {
        let letter = char::from(b'A' + u8::try_from(i % 26).unwrap_or(0));
        stroke(marks, scale, part, *h, 0.2, false);
        let text = format!("{letter}: glue here :{letter}");
        marks.push(words(part.at(scale.middle(), h + 2.0), Align::Centre, SMALL, &text));
    }
    if part.from <= 0.0 {
        marks.push(words(part.at(scale.middle(), 2.2), Align::Centre, SMALL, "0 = inside floor"));
    }
}

fn head(marks: &mut Vec<Mark>, scale: &Scale, part: &Part) {
    let [name, which] = &scale.head;
    marks.push(words(part.at(WIDE / 2.0, part.to + 7.3), Align::Centre, LOUD, &clip(name, 30)));
    marks.push(words(part.at(scale.middle(), part.to + 3.0), Align::Centre, SMALL, which));
    marks.push(words(part.at(1.5, part.to + 3.0), Align::Left, LOUD, scale.units[0]));
    marks.push(words(part.at(WIDE - 1.5, part.to + 3.0), Align::Right, LOUD, scale.units[1]));
    marks.push(words(part.at(scale.other(), part.to + 3.0), Align::Right, SMALL, scale.units[2]));
}

/// As many letters as there is room for.
fn clip(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.into();
    }
    text.chars().take(most - 1).chain(['…']).collect()
}

/// The ruler: millimetres with a number every ten, or inches with their eighths.
fn heights(marks: &mut Vec<Mark>, scale: &Scale, part: &Part) {
    let (step, every) = match scale.system {
        System::Metric => (1.0, 10),
        System::Us => (25.4 / 8.0, 8),
    };
    let mut lines = Vec::new();
    let all = (0..4000_u32).map(|n| (n, f64::from(n) * step));
    let inside = all.skip_while(|(_, h)| *h < part.from).take_while(|(_, h)| *h <= part.to);
    for (n, h) in inside {
        let long = match n % every {
            0 => 5.0,
            half if half == every / 2 => 3.8,
            n if scale.system == System::Us && n % 2 == 0 => 3.0,
            _ => 2.2,
        };
        lines.push([part.at(0.0, h), part.at(long, h)]);
        if n % every == 0 && part.clear(h) {
            let number = match scale.system {
                System::Metric => n,
                System::Us => n / every,
            };
            marks.push(words(part.at(5.8, h), Align::Left, LOUD, &number.to_string()));
        }
    }
    marks.push(Mark::Comb { lines, weight: 0.15 });
}

fn amounts(marks: &mut Vec<Mark>, scale: &Scale, part: &Part) {
    let mut lines = Vec::new();
    for (h, number) in scale.amounts.iter().filter(|(h, _)| part.has(*h)) {
        let long = if number.is_some() { 5.0 } else { 2.6 };
        lines.push([part.at(WIDE - long, *h), part.at(WIDE, *h)]);
        if let Some([number, other]) = number.as_ref().filter(|_| part.clear(*h)) {
            marks.push(words(part.at(NUMBERS, *h), Align::Right, LOUD, number));
            marks.push(words(part.at(scale.other(), *h), Align::Right, SMALL, other));
        }
    }
    marks.push(Mark::Comb { lines, weight: 0.15 });
}

/// A line across the strip, between its numbers.
fn stroke(marks: &mut Vec<Mark>, scale: &Scale, part: &Part, h: f64, weight: f64, dashed: bool) {
    for [a, b] in scale.strokes() {
        marks.push(Mark::Line { from: part.at(a, h), to: part.at(b, h), weight, dashed });
    }
}

fn line(marks: &mut Vec<Mark>, scale: &Scale, part: &Part, (style, h): (Style, f64)) {
    let middle = scale.middle();
    let name = match style {
        Style::Start => "START LINE",
        Style::Ceiling => "CEILING",
        Style::Reserve => "RESERVE",
    };
    let above = if style == Style::Reserve { -2.3 } else { 2.3 };
    marks.push(words(part.at(middle, h + above), Align::Centre, LOUD, name));
    match style {
        Style::Start => {
            stroke(marks, scale, part, h, 0.6, false);
            for (edge, tip) in [(0.0, 3.0), (WIDE, WIDE - 3.0)] {
                let points = vec![part.at(edge, h + 1.5), part.at(edge, h - 1.5), part.at(tip, h)];
                marks.push(Mark::Area { points, grey: Some(0.0), weight: 0.0 });
            }
        }
        Style::Ceiling => {
            stroke(marks, scale, part, h, 0.5, true);
            let text = "top up no higher";
            marks.push(words(part.at(middle, h - 2.0), Align::Centre, SMALL, text));
            if scale.lower {
                let text = "later lower: bin's page";
                marks.push(words(part.at(middle, h - 4.4), Align::Centre, SMALL, text));
            }
        }
        Style::Reserve => {
            let dot = |x: f64| [part.at(x, h), part.at(x + 0.8, h)];
            let dots = (0..30).map(|i| 0.5 + 1.8 * f64::from(i));
            let free = |x: &f64| scale.strokes().iter().any(|[a, b]| a <= x && x + 0.8 <= *b);
            let lines = dots.filter(free).map(dot).collect();
            marks.push(Mark::Comb { lines, weight: 0.8 });
        }
    }
}

/// The check bar with its marks, `top` mm below the upper edge of a drawing; its length (mm).
pub(super) fn check_bar(marks: &mut Vec<Mark>, system: System, top: f64) -> f64 {
    let (long, parts, name) = match system {
        System::Metric => (100.0, 10_u32, "CHECK BAR: 100 mm from end to end"),
        System::Us => (4.0 * 25.4, 8, "CHECK BAR: 4 in from end to end"),
    };
    let y = top + 7.0;
    marks.push(Mark::Line { from: [INSET, y], to: [INSET + long, y], weight: 0.3, dashed: false });
    let tick = |i: u32| {
        let x = INSET + long * f64::from(i) / f64::from(parts);
        let high = if i == 0 || i == parts { 3.0 } else { 1.5 };
        [[x, y - high], [x, y + high]]
    };
    marks.push(Mark::Comb { lines: (0..=parts).map(tick).collect(), weight: 0.2 });
    let at = [INSET + long / 2.0, top + 2.6];
    marks.push(words(at, Align::Centre, LOUD, name));
    long
}

/// A height as the strip's own ruler reads it.
pub(super) fn read(system: System, mm: f64) -> String {
    figures::short_length(mm, system)
}
