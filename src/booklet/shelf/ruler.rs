//! One part of a gauge strip at full size: heights on its left edge, amounts on its right in both units,
//! lines and days between them.

use super::super::block::Align;
use super::super::drawing::Mark;
use super::hand::Hand;
use crate::number::figures::{self, System};

/// Left of the first and right of the last strip, so that no frame is cut in half (mm).
pub(super) const INSET: f64 = 1.0;
/// From the marks of an edge to its numbers (mm from the edge), and what is free before those of the right edge.
const NUMBERS: f64 = 5.8;
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
    /// How large its letters are.
    pub hand: &'static Hand,
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
        let wide = |number: &str| self.hand.number(number);
        let widest = self.amounts.iter().filter_map(|(_, named)| Some(wide(&named.as_ref()?[0])));
        self.hand.wide - NUMBERS - widest.fold(wide("10"), f64::max) - FREE
    }

    /// Lines leave the numbers of both edges free: from where to where they are drawn (mm).
    fn strokes(&self) -> [[f64; 2]; 3] {
        let (hand, other) = (self.hand, self.other());
        let to = if hand.both { other - SMALL_WIDE } else { other };
        [[0.0, 5.2], [hand.inner, to], [hand.wide - 5.2, hand.wide]]
    }

    /// Middle of what stands between the numbers (mm).
    fn middle(&self) -> f64 {
        let [from, to] = self.strokes()[1];
        f64::midpoint(from, to)
    }
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
    fn clear(&self, hand: &Hand, h: f64) -> bool {
        h - self.from > hand.small && self.to - h > hand.small
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
    let Hand { wide, small, inner, .. } = *scale.hand;
    let by = scale.hand.by();
    let top = part.to + scale.hand.head;
    let corners = [(0.0, part.from), (wide, part.from), (wide, top), (0.0, top)];
    let points = corners.map(|(x, h)| part.at(x, h)).to_vec();
    marks.push(Mark::Area { points, grey: None, weight: 0.15 });
    head(marks, scale, part);
    heights(marks, scale, part);
    amounts(marks, scale, part);
    for (style, h) in scale.lines.iter().filter(|(_, h)| part.has(*h)) {
        line(marks, scale, part, (*style, *h));
    }
    for (h, day) in scale.days.iter().filter(|(h, _)| part.clear(scale.hand, *h)) {
        let (from, to) = (part.at(inner + 2.0, *h), part.at(inner + 5.0, *h));
        marks.push(Mark::Line { from, to, weight: 0.25, dashed: false });
        marks.push(words(part.at(inner + 6.0, *h), Align::Left, small, day));
    }
    for (i, h) in scale.glue.iter().enumerate().filter(|(_, h)| part.has(**h)) {
        let letter = char::from(b'A' + u8::try_from(i % 26).unwrap_or(0));
        stroke(marks, scale, part, *h, 0.2, false);
        let text = format!("{letter}: glue here :{letter}");
        marks.push(words(part.at(scale.middle(), h + 2.0 * by), Align::Centre, small, &text));
    }
    if part.from <= 0.0 {
        let at = part.at(scale.middle(), 2.2 * by);
        marks.push(words(at, Align::Centre, small, "0 = inside floor"));
    }
}

fn head(marks: &mut Vec<Mark>, scale: &Scale, part: &Part) {
    let Hand { wide, head, small, loud, .. } = *scale.hand;
    let ([name, which], [own, right, other]) = (&scale.head, scale.units);
    let [upper, lower] = [0.73, 0.3].map(|share| part.to + share * head);
    let name = clip(name, scale.hand.name);
    marks.push(words(part.at(wide / 2.0, upper), Align::Centre, loud, &name));
    marks.push(words(part.at(scale.middle(), lower), Align::Centre, small, which));
    marks.push(words(part.at(1.5, lower), Align::Left, loud, own));
    marks.push(words(part.at(wide - 1.5, lower), Align::Right, loud, right));
    if scale.hand.both {
        marks.push(words(part.at(scale.other(), lower), Align::Right, small, other));
    }
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
        if n % every == 0 && part.clear(scale.hand, h) {
            let number = match scale.system {
                System::Metric => n,
                System::Us => n / every,
            };
            marks.push(words(
                part.at(NUMBERS, h),
                Align::Left,
                scale.hand.loud,
                &number.to_string(),
            ));
        }
    }
    marks.push(Mark::Comb { lines, weight: 0.15 });
}

fn amounts(marks: &mut Vec<Mark>, scale: &Scale, part: &Part) {
    let Hand { wide, small, loud, both, .. } = *scale.hand;
    let mut lines = Vec::new();
    for (h, number) in scale.amounts.iter().filter(|(h, _)| part.has(*h)) {
        let long = if number.is_some() { 5.0 } else { 2.6 };
        lines.push([part.at(wide - long, *h), part.at(wide, *h)]);
        if let Some([number, other]) = number.as_ref().filter(|_| part.clear(scale.hand, *h)) {
            marks.push(words(part.at(wide - NUMBERS, *h), Align::Right, loud, number));
            if both {
                marks.push(words(part.at(scale.other(), *h), Align::Right, small, other));
            }
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
    let (middle, by) = (scale.middle(), scale.hand.by());
    let Hand { wide, small, loud, .. } = *scale.hand;
    let name = match style {
        Style::Start => "START LINE",
        Style::Ceiling => "CEILING",
        Style::Reserve => "RESERVE",
    };
    let off = loud / 2.0 + 1.25;
    let off = if style == Style::Reserve { -off } else { off };
    marks.push(words(part.at(middle, h + off), Align::Centre, loud, name));
    match style {
        Style::Start => {
            stroke(marks, scale, part, h, 0.6, false);
            for (edge, tip) in [(0.0, 3.0), (wide, wide - 3.0)] {
                let points = vec![part.at(edge, h + 1.5), part.at(edge, h - 1.5), part.at(tip, h)];
                marks.push(Mark::Area { points, grey: Some(0.0), weight: 0.0 });
            }
        }
        Style::Ceiling => {
            stroke(marks, scale, part, h, 0.5, true);
            let lines = below_ceiling(scale).iter().zip([2.0, 4.4, 6.8]);
            for (text, down) in lines {
                let at = part.at(middle, h - down * by);
                marks.push(words(at, Align::Centre, small, text));
            }
        }
        Style::Reserve => {
            let dot = |x: f64| [part.at(x, h), part.at(x + 0.8, h)];
            let dots = (0..50).map(|i| 0.5 + 1.8 * f64::from(i));
            let free = |x: &f64| scale.strokes().iter().any(|[a, b]| a <= x && x + 0.8 <= *b);
            let lines = dots.filter(free).map(dot).collect();
            marks.push(Mark::Comb { lines, weight: 0.8 });
        }
    }
}

/// What stands under the ceiling, line by line.
fn below_ceiling(scale: &Scale) -> &'static [&'static str] {
    match (scale.lower, scale.hand.both) {
        (false, _) => &["top up no higher"],
        (true, true) => &["top up no higher", "later lower: bin's page"],
        (true, false) => &["top up no higher", "later lower:", "see the bin's page"],
    }
}

/// The check bar with its marks, `top` mm below the upper edge of a drawing; its length (mm).
pub(super) fn check_bar(
    marks: &mut Vec<Mark>,
    system: System,
    top: f64,
    &Hand { bar, loud, both, .. }: &Hand,
) -> f64 {
    let (long, parts, name) = match system {
        System::Metric => (100.0, 10_u32, "CHECK BAR: 100 mm from end to end"),
        System::Us => (4.0 * 25.4, 8, "CHECK BAR: 4 in from end to end"),
    };
    let y = top + bar - 5.0;
    marks.push(Mark::Line { from: [INSET, y], to: [INSET + long, y], weight: 0.3, dashed: false });
    let tick = |i: u32| {
        let x = INSET + long * f64::from(i) / f64::from(parts);
        let high = if i == 0 || i == parts { 3.0 } else { 1.5 };
        [[x, y - high], [x, y + high]]
    };
    marks.push(Mark::Comb { lines: (0..=parts).map(tick).collect(), weight: 0.2 });
    // Large words say less, and begin where the bar does.
    let (x, align, name) = match name.strip_suffix(" from end to end") {
        Some(short) if !both => (0.0, Align::Left, short),
        _ => (long / 2.0, Align::Centre, name),
    };
    marks.push(words([INSET + x, top + loud / 2.0 + 1.55], align, loud, name));
    long
}

/// A height as the strip's own ruler reads it.
pub(super) fn read(system: System, mm: f64) -> String {
    figures::short_length(mm, system)
}
