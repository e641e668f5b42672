//! The lid from above, to scale, with its holes and their dimensions.

use super::super::Grow;
use super::super::block::Align;
use super::super::block::Block;
use super::super::dimension::{LETTERS, across, circle, fits, note, thin, up};
use super::super::drawing::{Drawing, Mark};
use super::super::page::holes::places;
use super::super::values::Values;
use super::super::words::Blocks;
use super::hand::{Hand, hand};
use super::ruler::{INSET, check_bar};
use super::{together, values_of};
use crate::compute::lid::{Lid, Opening, lid};
use crate::number::figures::{self, System};

/// Usual scales, 1 to so many.
const SCALES: [f64; 11] = [1.0, 2.0, 2.5, 4.0, 5.0, 7.5, 10.0, 20.0, 50.0, 100.0, 200.0];
/// Room left of, above, right of and below the outline (mm).
const MARGIN: [f64; 4] = [24.0, 17.0, 12.0, 19.0];
/// Tallest outline (mm).
const TALL: f64 = 120.0;
/// What its page needs besides (mm), and how much larger all of a drawing is, with its numbers: usually, and
/// beside large letters.
const USUAL: [f64; 2] = [90.0, 1.0];
const LARGE: [f64; 2] = [112.0, 1.5];
/// First and second row of dimensions (mm from the outline).
const ROWS: [f64; 2] = [7.0, 14.0];

/// Outline and holes in millimetres of paper.
struct View<'a> {
    lid: &'a Lid,
    system: System,
    by: f64,
    /// Width and height of the opening (mm).
    size: [f64; 2],
}

impl View<'_> {
    /// Position on paper of a place on the lid; the front is below.
    fn at(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [MARGIN[0] + x * self.by, MARGIN[1] + (self.size[1] - y) * self.by]
    }

    /// A distance as it is printed, so that distances along a row add up (mm).
    fn rounded(&self, mm: f64) -> f64 {
        let step = match self.system {
            System::Metric => 1.0,
            System::Us => 25.4 / 16.0,
        };
        (mm / step).round() * step
    }

    /// What is between two positions, as each of them is printed.
    fn between(&self, a: f64, b: f64) -> String {
        self.number(self.rounded(b) - self.rounded(a))
    }

    fn number(&self, mm: f64) -> String {
        match self.system {
            System::Metric => figures::decimals(mm, 0),
            System::Us => figures::mixed(mm / 25.4, 16),
        }
    }
}

fn size(lid: &Lid) -> [f64; 2] {
    match lid.opening {
        Opening::Box(size) => size,
        Opening::Round(wide) | Opening::Unknown(wide) => [wide; 2],
    }
}

pub(super) fn page(
    grow: &Grow<'_>,
    bins: &[usize],
    room: [f64; 2],
    first: bool,
) -> (Values, Blocks) {
    let (bin, system) = (&grow.plan.bins[bins[0]], grow.plan.system);
    let found = lid(bin);
    let length = |mm: f64| figures::length(mm, system);
    let opening = found.as_ref().map_or("", |lid| match lid.opening {
        Opening::Box(_) => "box",
        Opening::Round(_) => "round",
        Opening::Unknown(_) => "unknown",
    });
    let values = values_of(
        "lid",
        [
            ("name", together(grow, bins).into()),
            ("lids", bins.len().to_string().into()),
            ("count", bin.pots().to_string().into()),
            ("hole", length(bin.pot.hole).into()),
            ("rim", length(bin.pot.rim).into()),
            ("first", first.into()),
            ("metric", (system == System::Metric).into()),
            ("measured", bin.pot.measured.into()),
            ("opening", opening.into()),
            ("places", found.as_ref().map_or(String::new(), |lid| places(lid, system)).into()),
        ],
    );
    let drawing = found.map(|lid| {
        let name = format!("lid-{}", bins[0] + 1);
        vec![Block::Figure(drawing(grow, bins, &lid, name, room))]
    });
    (values, Blocks::from([("lid_drawing", drawing.unwrap_or_default())]))
}

/// Room for a check bar below a drawing that is not made smaller (mm).
fn bar(ratio: f64, hand: &Hand) -> f64 {
    if ratio > 1.0 { 0.0 } else { hand.bar - 1.0 }
}

fn drawing(grow: &Grow<'_>, bins: &[usize], lid: &Lid, name: String, room: [f64; 2]) -> Drawing {
    let (size, hand) = (size(lid), hand(grow));
    let [words, grown] = if grow.plan.large { LARGE } else { USUAL };
    let [left, above, right, below] = MARGIN.map(|margin| margin * grown);
    let most = [room[0] - left - right, room[1] - words - above - below];
    let tall = |ratio: f64| TALL.min(most[1] - bar(ratio, hand));
    let fit = |ratio: f64| size[0] / ratio <= most[0] && size[1] / ratio <= tall(ratio);
    let ratio = SCALES.into_iter().find(|ratio| fit(*ratio)).unwrap_or(SCALES[10]);
    let system = grow.plan.system;
    let view = View { lid, system, by: 1.0 / (ratio * grown), size };
    let mut marks = Vec::new();
    outline(&mut marks, &view);
    holes(&mut marks, &view, grow.plan.bins[bins[0]].pot.hole);
    dimensions(&mut marks, &view);
    let length = |mm: f64| figures::length(mm, system);
    let alt = format!(
        "Lid of {} from above: opening {} by {}, {} hole{} of {} diameter; centres {}",
        together(grow, bins),
        length(size[0]),
        length(size[1]),
        lid.holes.len(),
        if lid.holes.len() == 1 { "" } else { "s" },
        length(grow.plan.bins[bins[0]].pot.hole),
        places(lid, system)
    );
    let [width, height] = [left + size[0] / ratio + right, above + size[1] / ratio + below];
    let caption = caption(system, ratio);
    let drawn = Drawing { name, width: width / grown, height: height / grown, marks, alt, caption };
    let mut drawn = drawn.grown(grown);
    // What is laid on a lid must be as large as it says.
    if ratio <= 1.0 {
        let long = check_bar(&mut drawn.marks, system, height, hand);
        drawn.width = drawn.width.max(long + 2.0 * INSET);
        drawn.height += bar(ratio, hand);
    }
    drawn
}

fn caption(system: System, ratio: f64) -> String {
    let unit = match system {
        System::Metric => "millimetres",
        System::Us => "inches",
    };
    let scale = figures::plain(ratio, 3);
    let check = if ratio <= 1.0 {
        " Print at 100 %, and measure the check bar before you lay it on."
    } else {
        ""
    };
    format!(
        "The lid from above, scale 1 : {scale}, numbers in {unit}; the outline is the inside of the \
         rim. Drawn after ISO 129-1 (dimensions outside, numbers above their lines), from memory.{check}"
    )
}

fn outline(marks: &mut Vec<Mark>, view: &View<'_>) {
    let [w, h] = view.size;
    if let Opening::Box(_) = view.lid.opening {
        let corners = [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]];
        let points = corners.map(|corner| view.at(corner)).to_vec();
        marks.push(Mark::Area { points, grey: None, weight: 0.35 });
    } else {
        marks.push(circle(view.at([w / 2.0, h / 2.0]), w / 2.0 * view.by, 0.35));
    }
}

fn holes(marks: &mut Vec<Mark>, view: &View<'_>, hole: f64) {
    let radius = hole / 2.0 * view.by;
    for &centre in &view.lid.holes {
        let [x, y] = view.at(centre);
        marks.push(circle([x, y], radius, 0.3));
        let arm = radius + 1.2;
        thin(marks, [x - arm, y], [x + arm, y]);
        thin(marks, [x, y - arm], [x, y + arm]);
    }
    // The note stands above the outline, its line ends on the hole that is nearest to it.
    let Some(&[cx, cy]) = view.lid.holes.iter().max_by(|a, b| a[1].total_cmp(&b[1])) else {
        return;
    };
    let [x, y] = view.at([cx, cy]);
    let slant = radius * std::f64::consts::FRAC_1_SQRT_2;
    let text = format!("{} × Ø {}", view.lid.holes.len(), view.number(hole));
    let knee = [x + slant + 3.0, MARGIN[1] - 5.0];
    note(marks, [x + slant, y - slant], knee, &text);
}

fn dimensions(marks: &mut Vec<Mark>, view: &View<'_>) {
    let [w, h] = view.size;
    let ([left, bottom], [right, top]) = (view.at([0.0, 0.0]), view.at([w, h]));
    let [first, second] = ROWS;
    let whole = |mm: f64| match view.lid.opening {
        Opening::Box(_) => view.number(mm),
        Opening::Round(_) | Opening::Unknown(_) => format!("Ø {}", view.number(mm)),
    };
    // Along: the edge, then as many centres of the front row as there is room for.
    let round = !matches!(view.lid.opening, Opening::Box(_));
    let row = view.lid.holes.first().map_or(0.0, |c| c[1]);
    let of_row = view.lid.holes.iter().take_while(|c| round || same(c[1], row));
    let front: Vec<f64> = of_row.map(|c| c[0]).collect();
    across(marks, [left, right], bottom, bottom + second, &whole(w));
    if let Some(ring) = view.lid.ring.filter(|_| front.len() > 2) {
        let ends = [w - ring, w + ring].map(|x| view.at([x / 2.0, 0.0])[0]);
        let middle = view.at([0.0, h / 2.0])[1];
        let text = format!("Ø {}", view.number(ring));
        across(marks, ends, middle, bottom + first, &text);
        return;
    }
    let mut xs = front;
    xs.sort_by(f64::total_cmp);
    let y = bottom + first;
    across(marks, [left, view.at([xs[0], 0.0])[0]], bottom, y, &view.number(xs[0]));
    for pair in xs.windows(2).take(7) {
        let ends = [view.at([pair[0], 0.0])[0], view.at([pair[1], 0.0])[0]];
        let text = view.between(pair[0], pair[1]);
        if fits(ends[1] - ends[0], &text) {
            across(marks, ends, bottom, y, &text);
        }
    }
    if let Opening::Box(_) = view.lid.opening {
        across_rows(marks, view, [left, top, bottom]);
    }
}

/// Dimensions from the front to the back, and where the front is.
fn across_rows(marks: &mut Vec<Mark>, view: &View<'_>, [left, top, bottom]: [f64; 3]) {
    let h = view.size[1];
    let mut ys: Vec<f64> = view.lid.holes.iter().map(|c| c[1]).collect();
    ys.dedup_by(|a, b| same(*a, *b));
    let [first, second] = ROWS;
    up(marks, [top, bottom], left, left - second, &view.number(h));
    let x = left - first;
    up(marks, [view.at([0.0, ys[0]])[1], bottom], left, x, &view.number(ys[0]));
    for pair in ys.windows(2).take(7) {
        let ends = [view.at([0.0, pair[1]])[1], view.at([0.0, pair[0]])[1]];
        let text = view.between(pair[0], pair[1]);
        if fits(ends[1] - ends[0], &text) {
            up(marks, ends, left, x, &text);
        }
    }
    let [middle, _] = view.at([view.size[0] / 2.0, 0.0]);
    let at = [middle, bottom + second + 3.2];
    marks.push(Mark::Words { at, align: Align::Centre, size: LETTERS, text: "FRONT".into() });
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}
