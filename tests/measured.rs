//! Drawings that are to scale and strips at full size, printed at 600 dots to the inch and measured
//! from line to line: each within 0.2 mm of where the sums put it.

use binleaf::booklet::Booklet;
use binleaf::booklet::block::{Align, Block};
use binleaf::booklet::drawing::{Drawing, Mark};
use binleaf::compute::lid::{Lid, Opening, lid};
use binleaf::compute::season::Check;
use binleaf::compute::{BinResults, Fill, fill};
use binleaf::library::Library;
use binleaf::number::figures::System;
use binleaf::plan::{Bin, Sheet};
use binleaf::run::{self, Worked};
use binleaf::science::vessel::Vessel;

use crate::good_plans;
use crate::print::{DOTS, Dots, bytes, dot, middles, number, sheets};
use crate::shelf::{CONE, WIDE, cone, drawings, frames};

/// How far off anything may be (mm).
const OFF: f64 = 0.2;
/// How far from its place a line is looked for (mm).
const NEAR: f64 = 0.4;

/// A drawing on a printed sheet.
struct Printed<'a> {
    drawing: &'a Drawing,
    sheet: Dots,
    /// Where its left top corner stands (dots).
    corner: [f64; 2],
    /// Millimetres of the thing itself to one of paper, as the caption says.
    ratio: f64,
}

/// What the caption states: "…, scale 1 : 6.4. …" or "…, scale 1 : 5, …".
fn stated(drawing: &Drawing) -> f64 {
    let (_, ratio) = drawing.caption.split_once("scale 1 : ").unwrap();
    let end = ratio.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap();
    ratio[..end].trim_end_matches('.').parse().unwrap()
}

/// Places (mm of the drawing) that its unbroken lines and outlines go through.
fn inked(drawing: &Drawing) -> Vec<[f64; 2]> {
    let sides = |mark: &Mark| -> Vec<[[f64; 2]; 2]> {
        let mut points = Vec::new();
        if let Mark::Line { from, to, dashed: false, .. } = mark {
            points.extend([*from, *to]);
        } else if let Mark::Path { points: all, dashed: false, .. } = mark {
            points.extend(all);
        } else if let Mark::Area { points: all, weight, .. } = mark
            && *weight > 0.0
        {
            points.extend(all.iter().chain(all.first()));
        }
        points.windows(2).map(|pair| [pair[0], pair[1]]).collect()
    };
    let part = |a: f64, b: f64, i: u32| a + (b - a) * (f64::from(i) + 0.5) / 5.0;
    let along =
        |[a, b]: [[f64; 2]; 2]| (0..5).map(move |i| [part(a[0], b[0], i), part(a[1], b[1], i)]);
    drawing.marks.iter().flat_map(sides).flat_map(along).collect()
}

impl<'a> Printed<'a> {
    /// Finds a drawing: it stands in the middle of its sheet, where most of its lines are dark.
    fn find(drawing: &'a Drawing, sheet: Dots, ratio: f64) -> Self {
        let left = (number(sheet.wide) - drawing.width * DOTS) / 2.0;
        // Some two hundred of them will do.
        let places = inked(drawing);
        let places = places.iter().step_by(1 + places.len() / 200);
        let places: Vec<[usize; 2]> =
            places.map(|[x, y]| [dot(left + x * DOTS), dot(y * DOTS)]).collect();
        let dark = |top: usize| places.iter().filter(|[x, y]| sheet.dark(*x, top + y)).count();
        let tops = 0..sheet.high - dot(drawing.height * DOTS);
        let (most, top) = tops.map(|top| (dark(top), top)).max().unwrap();
        // Some are covered by what stands before them.
        assert!(most * 4 > places.len() * 3, "{} is not on its sheet: {most}", drawing.name);
        Self { drawing, sheet, corner: [left, number(top)], ratio }
    }

    /// Where a place of the drawing stands (dots).
    fn at(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [self.corner[0] + x * DOTS, self.corner[1] + y * DOTS]
    }

    /// Middle (mm of the drawing) of the line across a column near a height; none if there is not
    /// just one.
    fn across(&self, x: f64, y: f64) -> Option<f64> {
        let ([x, from], [_, to]) = (self.at([x, y - NEAR]), self.at([x, y + NEAR]));
        let runs = self.sheet.column(dot(x), [dot(from), dot(to)]);
        let [only] = runs[..] else { return None };
        Some((only - self.corner[1]) / DOTS)
    }

    /// The same for a row.
    fn along(&self, x: f64, y: f64) -> Option<f64> {
        let ([from, y], [to, _]) = (self.at([x - NEAR, y]), self.at([x + NEAR, y]));
        let runs = middles((dot(from)..dot(to)).map(|x| self.sheet.dark(x, dot(y))));
        let [only] = runs[..] else { return None };
        Some((only + number(dot(from)) - self.corner[0]) / DOTS)
    }
}

fn close(measured: Option<f64>, wanted: f64, what: &str) {
    let measured = measured.unwrap_or_else(|| panic!("{what}: no one line at {wanted:.3} mm"));
    assert!((measured - wanted).abs() < OFF, "{what}: at {measured:.3} mm, not {wanted:.3}");
}

/// The sheet of a booklet that shows a drawing, by words of its caption.
fn sheet_of(booklet: &Booklet, drawing: &Drawing) -> Dots {
    let bytes = bytes(booklet);
    let dense = |t: &str| t.split_whitespace().collect::<String>();
    let caption = dense(&drawing.caption);
    let texts = pdf_extract::extract_text_from_mem_by_pages(&bytes).unwrap();
    let shows: Vec<bool> = texts.iter().map(|t| dense(t).contains(&caption)).collect();
    let mut found = sheets(&bytes, 600.0, |i| shows[i]);
    assert_eq!(found.len(), 1, "{}", drawing.caption);
    found.remove(0)
}

/// A booklet with no other page than the one that shows a drawing of this name.
fn alone(booklet: &Booklet, name: &str) -> Option<(Booklet, Drawing)> {
    booklet.pages.iter().find_map(|page| {
        let drawing = page.blocks.iter().find_map(|block| {
            let Block::Figure(drawing) = block else { return None };
            (drawing.name == name).then(|| drawing.clone())
        })?;
        Some((Booklet { pages: vec![page.clone()], ..booklet.clone() }, drawing))
    })
}

/// Half the inside width (mm) at a height: of straight walls, or of a circle of the measured area.
fn half(vessel: &Vessel, h: f64) -> f64 {
    let [floor, rim] = match vessel {
        Vessel::Box { floor, rim, .. } => [floor[0], rim[0]],
        Vessel::Round { floor, rim, .. } => [*floor, *rim],
        Vessel::Measured(_) => {
            let area = vessel.area(h.clamp(0.01, vessel.depth()));
            return 1000.0 * libm::sqrt(area / std::f64::consts::PI);
        }
    };
    500.0 * (floor + (rim - floor) * h / vessel.depth())
}

/// A section on paper, beside the bin it shows.
struct Section<'a> {
    printed: &'a Printed<'a>,
    bin: &'a Bin,
    done: &'a BinResults,
    /// How much larger it is printed than it is drawn.
    grown: f64,
    /// The middle of the floor line, measured (mm of the drawing).
    floor: [f64; 2],
    /// How many lines were measured.
    seen: usize,
}

impl<'a> Section<'a> {
    fn new(printed: &'a Printed<'a>, bin: &'a Bin, done: &'a BinResults, large: bool) -> Self {
        // The walls are drawn from the left rim down, along the floor and up again.
        let walls = printed.drawing.marks.iter().find_map(|mark| {
            if let Mark::Path { points, .. } = mark { Some(points) } else { None }
        });
        let walls = walls.unwrap();
        let [from, to] = [walls[walls.len() / 2 - 1], walls[walls.len() / 2]];
        let middle = f64::midpoint(from[0], to[0]);
        let floor = [middle, printed.across(middle, from[1]).unwrap()];
        let grown = if large { 1.5 } else { 1.0 };
        Self { printed, bin, done, grown, floor, seen: 0 }
    }

    /// Where a place in the bin must stand: so far (mm) right of its middle, so far above its floor.
    fn place(&self, x: f64, h: f64) -> [f64; 2] {
        [self.floor[0] + x / self.printed.ratio, self.floor[1] - h / self.printed.ratio]
    }

    /// Measures a level line at twenty places from one to another. Where something else crosses it,
    /// there is no one line, or its middle is not its own; but not at many.
    fn level(&mut self, [from, to]: [f64; 2], h: f64, what: &str) {
        let by_day = what.starts_with(|c: char| c.is_ascii_digit());
        let Fill { start, ceiling, reserve, pot_bottom, .. } = *self.fill();
        let crowded = |other: f64| {
            let apart = (other - h).abs() / self.printed.ratio;
            (0.01..NEAR + 0.4).contains(&apart)
        };
        // Where lines are too near each other, none of them can be told.
        let cube = self.bin.cube.map(|cube| [cube.lift, cube.lift + cube.side]);
        let cube = cube.into_iter().flatten().map(|lift| pot_bottom + lift);
        let (falling, later) = self.done.season.checks.split_at(self.falling());
        let days = self.lines_of_days(falling).into_iter();
        let days = days.chain(later.iter().map(|c| c.level.expected)).filter(|_| by_day);
        let lines = [start, ceiling, reserve, pot_bottom].into_iter();
        if lines.chain(cube).chain(days).any(crowded) {
            return;
        }
        let [[from, y], [to, _]] = [self.place(from, h), self.place(to, h)];
        let places = (0..20).map(|i| from + (to - from) * (f64::from(i) + 0.5) / 20.0);
        let found: Vec<f64> = places.filter_map(|x| self.printed.across(x, y)).collect();
        let right = found.iter().filter(|found| (*found - y).abs() < OFF).count();
        let name = &self.printed.drawing.caption;
        assert!(right >= 5 && right * 4 >= found.len() * 3, "{name} {what}: {found:?}, not {y}");
        self.seen += 1;
    }

    fn fill(&self) -> &'a Fill {
        &self.done.fill
    }

    fn lines(&mut self) {
        let Fill { start, ceiling, reserve, .. } = *self.fill();
        for (h, what) in [(start, "start line"), (ceiling, "ceiling"), (reserve, "reserve")] {
            let wall = half(&self.bin.vessel, h);
            let ratio = self.printed.ratio;
            self.level([wall - 4.0 * ratio, wall - 0.7 * ratio], h, what);
        }
    }

    /// Walls, where nothing else is near.
    fn walls(&mut self) {
        let depth = self.fill().depth;
        let rows = (1..19).map(|i| depth * f64::from(i) / 20.0);
        let sides =
            |h: f64| [-1.0, 1.0].map(|side| self.place(side * half(&self.bin.vessel, h), h));
        let found = rows.map(|h| sides(h).map(|[x, y]| (self.printed.along(x, y), x)));
        let found: Vec<[(Option<f64>, f64); 2]> =
            found.filter(|[a, b]| a.0.is_some() && b.0.is_some()).collect();
        assert!(found.len() > 6, "walls are seen {} times", found.len());
        for (found, wanted) in found.as_flattened() {
            close(*found, *wanted, "wall");
        }
        self.seen += 2;
    }

    /// Ends of the dimensions of rim and floor, between their arrows and their extension lines' ends.
    fn widths(&mut self) {
        if let Vessel::Measured(_) = self.bin.vessel {
            return;
        }
        let depth = self.fill().depth;
        let arrows: Vec<[f64; 2]> = self.printed.drawing.marks.iter().filter_map(arrow).collect();
        assert_eq!(arrows.len(), 4, "two at each of two dimensions");
        for (pair, h) in arrows.chunks(2).zip([depth, 0.0]) {
            let beyond = if h > 0.0 { -0.9 } else { 0.9 };
            for (tip, side) in pair.iter().zip([-1.0, 1.0]) {
                let x = self.place(side * half(&self.bin.vessel, h), h)[0];
                close(self.printed.along(x, tip[1] + beyond), x, "width");
            }
            self.seen += 1;
        }
    }

    /// How many checks there are until something is added, with that one.
    fn falling(&self) -> usize {
        let checks = &self.done.season.checks;
        let added = checks.iter().position(|c| c.event.is_some());
        added.map_or(checks.len(), |first| first + 1)
    }

    /// Days beside the wall, at the level that is expected on them.
    fn days(&mut self) {
        let words = self.printed.drawing.marks.iter().filter_map(|mark| {
            let Mark::Words { align: Align::Right, text, .. } = mark else { return None };
            Some(text.as_str())
        });
        let checks = &self.done.season.checks;
        let at =
            |text: &str| checks.iter().position(|c| c.day.strftime("%-d %b").to_string() == text);
        let all = self.falling();
        let lines = self.lines_of_days(&checks[..all]);
        let line = |check: usize| lines[check];
        let (mut seen, mut later) = (0, Vec::new());
        // "3 May"; "3 May–" up to the next; "3–10 May" where lines share a row.
        let starts = |text: &str| {
            let (first, last) = text.split_once('–').unwrap_or((text, text));
            let month = last.split_once(' ').map_or("", |(_, month)| month);
            at(first).or_else(|| at(&format!("{first} {month}")))
        };
        let words: Vec<(&str, usize)> =
            words.filter_map(|text| Some((text, starts(text)?))).collect();
        for (i, (text, first)) in words.iter().copied().enumerate() {
            if first >= all {
                later.push(first);
                continue;
            }
            let next = words.get(i + 1).map_or(all, |(_, next)| all.min(*next));
            let last = match text.split_once('–') {
                None => first,
                Some((_, "")) => next - 1,
                Some((_, last)) => at(last).unwrap(),
            };
            for check in [first, last] {
                let (h, ratio) = (line(check), self.printed.ratio);
                let off = (h - checks[check].level.expected).abs() / ratio;
                assert!(off < 0.2 + 1e-9, "{text}: its line is {off} mm from its level");
                let wall = -half(&self.bin.vessel, h);
                self.level([wall + 0.7 * ratio, wall + 2.7 * ratio], h, text);
            }
            seen += last - first + 1;
        }
        let name = &self.printed.drawing.caption;
        assert_eq!(seen, all, "{name}: days beside the wall until something is added");
        let rest: Vec<usize> = (all..checks.len()).collect();
        let ends = [rest.first(), rest.last().filter(|_| rest.len() > 1)];
        assert_eq!(
            later,
            ends.into_iter().flatten().copied().collect::<Vec<_>>(),
            "{name}: later days"
        );
        self.bracket(&checks[all..]);
    }

    /// Where the line of each check stands (mm in the bin): half way between all that are so near in
    /// print that one line says them.
    fn lines_of_days(&self, checks: &[Check]) -> Vec<f64> {
        let mut lines: Vec<f64> = Vec::new();
        while let Some(first) = checks.get(lines.len()).map(|c| c.level.expected) {
            let near = |c: &&Check| (first - c.level.expected).abs() <= 0.4 * self.printed.ratio;
            let together = checks[lines.len()..].iter().take_while(near).count();
            let last = checks[lines.len() + together - 1].level.expected;
            lines.extend(std::iter::repeat_n(f64::midpoint(first, last), together));
        }
        lines
    }

    /// Ends of the bracket of later checks; a line if they are at one level.
    fn bracket(&mut self, later: &[Check]) {
        let levels = || later.iter().map(|c| c.level.expected);
        let ends = [levels().fold(f64::INFINITY, f64::min), levels().fold(0.0, f64::max)];
        if later.is_empty() {
            return;
        }
        let wall = |h: f64| -half(&self.bin.vessel, h);
        let x = ends.map(wall).into_iter().fold(f64::NEG_INFINITY, f64::max);
        let ratio = self.printed.ratio;
        if ends[1] - ends[0] < 0.4 * ratio * self.grown {
            let h = f64::midpoint(ends[0], ends[1]);
            self.level([wall(h) + 0.7 * ratio, wall(h) + 2.7 * ratio], h, "1 line of later days");
            return;
        }
        for h in ends {
            let at = |mm: f64| x + mm * self.grown * ratio;
            self.level([at(3.5), at(4.3)], h, "1 end of the bracket");
        }
    }

    /// Undersides of pots and lid, and both ends of the cubes.
    fn pots(&mut self) {
        let shown = match self.bin.vessel {
            Vessel::Box { .. } => self.bin.rows[0].min(self.bin.pots()),
            Vessel::Round { .. } | Vessel::Measured(_) => self.bin.pots().min(2),
        };
        let (floor, rim) = (self.fill().pot_bottom, half(&self.bin.vessel, self.fill().depth));
        for i in 0..shown {
            let x = ((2.0 * f64::from(i) + 1.0) / f64::from(shown) - 1.0) * rim;
            let reach = self.bin.pot.bottom / 2.0 - 0.4 * self.printed.ratio;
            self.level([x - reach, x + reach], floor, "floor of a pot");
            let beside = x + self.bin.pot.rim / 2.0 + self.printed.ratio;
            self.level([beside, beside + self.printed.ratio], self.fill().lid, "lid");
            let Some(cube) = &self.bin.cube else { continue };
            let reach = cube.side / 2.0 - 0.3 * self.printed.ratio;
            for h in [cube.lift, cube.lift + cube.side] {
                self.level([x - reach, x + reach], floor + h, "cube");
            }
        }
    }
}

/// Tip of an arrowhead.
fn arrow(mark: &Mark) -> Option<[f64; 2]> {
    let Mark::Area { points, grey: Some(0.0), .. } = mark else { return None };
    (points.len() == 3).then(|| points[0])
}

/// Every shape of the example plans on their own paper, on small paper and beside large letters.
#[test]
fn sections_are_to_the_scale_they_state() {
    let mut seen = 0;
    for (name, text) in good_plans() {
        let mut worked = run::work(text, &name);
        for (paper, large) in [(None, false), (Some(Sheet::A5), false), (Some(Sheet::A4), true)] {
            let (plan, _) = worked.done.as_mut().unwrap();
            (plan.paper, plan.large) = (paper.unwrap_or(plan.paper), large);
            seen += sections(&name, &worked);
        }
    }
    assert!(seen > 300, "only {seen} lines were measured");
}

fn sections(name: &str, worked: &Worked) -> usize {
    let booklet = worked.booklet().unwrap().unwrap();
    let (plan, results) = worked.done.as_ref().unwrap();
    let mut seen = 0;
    for (i, (bin, done)) in plan.bins.iter().zip(&results.bins).enumerate() {
        if plan.bins[..i].iter().any(|earlier| earlier.vessel == bin.vessel) {
            continue;
        }
        let Some((page, drawing)) = alone(&booklet, &format!("section-{}", i + 1)) else {
            continue;
        };
        let printed = Printed::find(&drawing, sheet_of(&page, &drawing), stated(&drawing));
        let mut section = Section::new(&printed, bin, done, plan.large);
        section.lines();
        section.walls();
        section.widths();
        section.days();
        section.pots();
        seen += section.seen;
    }
    assert!(seen > 0, "{name}: no section");
    seen
}

/// A lid on paper: how far (mm of the lid) a place is from the left and from the front.
struct Seen<'a> {
    printed: &'a Printed<'a>,
    /// Where the left front corner of the outline stands (mm of the drawing).
    corner: [f64; 2],
}

impl Seen<'_> {
    fn place(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [self.corner[0] + x / self.printed.ratio, self.corner[1] - y / self.printed.ratio]
    }

    /// A line up and down, or (`turned`) a level one, through a place and nothing else beside it.
    fn line(&self, at: [f64; 2], turned: bool, what: &str) {
        let [x, y] = self.place(at);
        if turned {
            close(self.printed.across(x, y), y, what);
        } else {
            close(self.printed.along(x, y), x, what);
        }
    }

    /// Sides of a hole, and the ends of its cross that reach beyond it.
    fn hole(&self, [x, y]: [f64; 2], wide: f64) {
        let (radius, beyond) = (wide / 2.0, wide / 2.0 + 0.7 * self.printed.ratio);
        self.line([x, y - beyond], false, "a hole's middle, from the left");
        self.line([x - beyond, y], true, "a hole's middle, from the front");
        let (low, out) = (radius / 2.0, radius * 0.75_f64.sqrt());
        self.line([x - out, y - low], false, "left side of a hole");
        self.line([x + out, y - low], false, "right side of a hole");
    }
}

#[test]
fn lids_are_to_the_scale_they_state() {
    let mut seen = 0;
    for (name, text) in good_plans() {
        let mut worked = run::work(text, &name);
        for paper in [None, Some(Sheet::A5)] {
            let (plan, _) = worked.done.as_mut().unwrap();
            plan.paper = paper.unwrap_or(plan.paper);
            let booklet = worked.shelf().unwrap().unwrap();
            let (plan, _) = worked.done.as_ref().unwrap();
            for (i, bin) in plan.bins.iter().enumerate() {
                if let Some((page, drawing)) = alone(&booklet, &format!("lid-{}", i + 1)) {
                    let printed =
                        Printed::find(&drawing, sheet_of(&page, &drawing), stated(&drawing));
                    seen += holes(&printed, &lid(bin).unwrap(), bin.pot.hole);
                }
            }
        }
    }
    assert!(seen > 100, "only {seen} holes were measured");
}

fn holes(printed: &Printed<'_>, lid: &Lid, wide: f64) -> usize {
    let [w, h] = match lid.opening {
        Opening::Box(size) => size,
        Opening::Round(wide) | Opening::Unknown(wide) => [wide; 2],
    };
    // The outline is the first thing drawn; its left and front sides are measured.
    let Some(Mark::Area { points, .. }) = printed.drawing.marks.first() else { panic!() };
    let (xs, ys) = (points.iter().map(|p| p[0]), points.iter().map(|p| p[1]));
    let (left, front) = (xs.fold(f64::MAX, f64::min), ys.fold(0.0, f64::max));
    let corner = match lid.opening {
        Opening::Box(_) => {
            [printed.along(left, front - 2.0).unwrap(), printed.across(left + 2.0, front).unwrap()]
        }
        // Left of a circle and in front of it, where it is drawn: its sides are measured below.
        Opening::Round(_) | Opening::Unknown(_) => [left, front],
    };
    let seen = Seen { printed, corner };
    match lid.opening {
        Opening::Box(_) => {
            seen.line([w, 2.0 * printed.ratio], false, "right side");
            seen.line([2.0 * printed.ratio, h], true, "back");
        }
        Opening::Round(_) | Opening::Unknown(_) => {
            let (low, out) = (w / 2.0 * 0.4, w / 2.0 * 0.84_f64.sqrt());
            for side in [-1.0, 1.0] {
                seen.line([w / 2.0 + side * out, w / 2.0 - low], false, "side of a round lid");
            }
        }
    }
    lid.holes.iter().for_each(|hole| seen.hole(*hole, wide));
    lid.holes.len()
}

/// The printed cone strip, measured as with a ruler.
#[test]
fn a_printed_strip_measures_what_it_says() {
    let worked = run::work(CONE.into(), "cone");
    let booklet = worked.shelf().unwrap().unwrap();
    let sheet = &sheets(&bytes(&booklet), 600.0, |i| i == 1)[0];
    // The bar's line is the one dark run of about 100 mm; the rule under the title is longer.
    let long = |y: usize| (0..sheet.wide).filter(|x| sheet.dark(*x, y)).count();
    let bar = (0..sheet.high).find(|y| (95.0..110.0).contains(&(number(long(*y)) / DOTS)));
    let bar = number(bar.unwrap());
    let ends = sheet.row(dot(bar - 2.0 * DOTS));
    let (first, last) = (ends[0], ends[ends.len() - 1]);
    let measured = (last - first) / DOTS;
    assert!((measured - 100.0).abs() < OFF, "the check bar measures {measured} mm");
    let tens = sheet.row(dot(bar - 1.0 * DOTS));
    for (i, x) in tens.iter().enumerate() {
        let mm = (x - first) / DOTS - 10.0 * number(i);
        assert!(mm.abs() < OFF, "mark {i} of the bar is off by {mm} mm");
    }
    assert_eq!(tens.len(), 11);
    // The strip stands under the bar, its left edge under the bar's. Its floor is the lowest
    // dark dot between the edges.
    let strip = drawings(&booklet, "shelf-strip").next().unwrap();
    let [_, top, _, bottom] = frames(strip)[0];
    let column = |mm: f64| {
        let (from, to) = (bar + (top - 9.0) * DOTS, bar + (bottom - 5.0) * DOTS);
        sheet.column(dot(first + mm * DOTS), [dot(from), dot(to)])
    };
    let edges = column(12.2);
    let floor = edges[edges.len() - 1];
    let heights = |mm: f64| {
        let mut all: Vec<f64> = column(mm).iter().map(|y| (floor - y) / DOTS).collect();
        all.sort_by(f64::total_cmp);
        all
    };
    let fill = &worked.done.as_ref().unwrap().1.bins[0].fill;
    let lines = [fill.start, fill.ceiling, fill.reserve];
    // At 4.6 mm from the left only every tenth millimetre reaches, and the lines.
    let left = heights(4.6);
    let mut seen = 0;
    for cm in 1..=16 {
        let wanted = 10.0 * f64::from(cm);
        if lines.iter().any(|l| (l - wanted).abs() < 1.0) || wanted > fill.start {
            continue;
        }
        let near = left.iter().map(|h| (h - wanted).abs()).fold(f64::MAX, f64::min);
        assert!(near < OFF, "{wanted} mm stands {near} mm off");
        seen += 1;
    }
    assert!(seen >= 12, "{seen}");
    // At 4 mm from the right only the named litres reach; nothing else may stand there.
    let right = heights(WIDE - 4.0);
    let unknown: Vec<&f64> = right
        .iter()
        .filter(|h| **h > 0.5 && **h < fill.pot_bottom)
        .filter(|h| lines.iter().all(|l| (l - **h).abs() > 1.0))
        .collect();
    assert!(unknown.len() >= 5, "{right:?}");
    for h in unknown {
        // Litres and halves: which one it is shows from the nearest.
        let off = (0..40).map(|n| (cone(f64::from(n) / 2.0) - h).abs()).fold(f64::MAX, f64::min);
        assert!(off < OFF, "a mark at {h} mm is {off} mm off");
    }
    for line in lines {
        let all = heights(30.0);
        let near = all.iter().map(|h| (h - line).abs()).fold(f64::MAX, f64::min);
        assert!(near < OFF, "the line at {line} mm stands {near} mm off: {all:?}");
    }
}

/// At each amount that a printed strip names the bin holds just that, whatever its shape and units, and in
/// large letters; and the check bar is as long as it says.
#[test]
fn printed_strips_of_every_plan_are_true() {
    for large in [false, true] {
        let (mut seen, mut hidden) = (0, 0);
        for (name, text) in good_plans() {
            let mut worked = run::work(text, &name);
            let (plan, _) = worked.done.as_mut().unwrap();
            if large {
                (plan.paper, plan.large) = (Sheet::A4, true);
            }
            let booklet = worked.shelf().unwrap().unwrap();
            let (plan, _) = worked.done.as_ref().unwrap();
            let strips = (1..=plan.bins.len())
                .flat_map(|i| [1, 2].map(|page| format!("strip-{i}-{page}")))
                .filter_map(|strip| alone(&booklet, &strip));
            for (page, strip) in strips {
                let named = |bin: &&Bin| strip.alt.contains(&format!("full size for {}", bin.name));
                let bin = plan.bins.iter().find(named).unwrap();
                let printed = Printed::find(&strip, sheet_of(&page, &strip), 1.0);
                check_bar(&printed, plan.system);
                amounts(&printed, bin, plan.system, [&mut seen, &mut hidden]);
            }
        }
        assert!(seen > 60 && hidden * 8 < seen, "{seen} amounts were measured, {hidden} were not");
    }
}

/// Measures the ends of a check bar.
fn check_bar(printed: &Printed<'_>, system: System) {
    let long = if system == System::Metric { 100.0 } else { 101.6 };
    // Between the name and the strips, at half the height of the ends.
    let comb = printed.drawing.marks.iter().find_map(|mark| {
        let Mark::Comb { lines, .. } = mark else { return None };
        let [[left, top], [_, below]] = *lines.first()?;
        Some([left, f64::midpoint(top, below) - 2.3])
    });
    let [left, y] = comb.unwrap();
    let ends = [left, left + long].map(|x| printed.along(x, y).unwrap());
    let measured = ends[1] - ends[0];
    assert!((measured - long).abs() < OFF, "{}: {measured} mm", printed.drawing.name);
}

/// Measures the amounts of the first part of a strip that has its floor.
fn amounts(printed: &Printed<'_>, bin: &Bin, system: System, [seen, hidden]: [&mut usize; 2]) {
    let strip = printed.drawing;
    // A US gallon (NIST Handbook 44, appendix C): beside large numbers, or beside small ones.
    let units = if system == System::Metric { [1.0, 3.785411784] } else { [3.785411784, 1.0] };
    let [left, _, right, bottom] = frames(strip)[0];
    let Some(at) = floor(strip) else { return };
    let floor = printed.across(left + at, bottom).unwrap();
    for mark in &strip.marks {
        let Mark::Words { at: [x, y], align: Align::Right, text, size } = mark else { continue };
        // The small ones are rounded to their last place.
        let places = text.split_once('.').map_or(0, |(_, places)| places.len());
        let (unit, round) = if *size > 2.0 {
            (units[0], 0.0)
        } else {
            (units[1], 0.5 * 0.1_f64.powi(i32::try_from(places).unwrap()))
        };
        let Ok(amount) = text.parse::<f64>() else { continue };
        if !(left..right).contains(x) {
            continue;
        }
        // One of the three lines may stand by it.
        let Some(place) = printed.across(right - 4.0, *y) else {
            *hidden += 1;
            continue;
        };
        let h = floor - place;
        let holds = |h: f64| fill::liquid(bin, Library::embedded(), h) / unit;
        let range = holds(h - OFF) - round..holds(h + OFF) + round;
        assert!(range.contains(&amount), "{}, {}: {text} at {h} mm", strip.name, bin.name);
        *seen += 1;
    }
}

/// From the left edge of a strip that begins at the floor to where no number and no line stands (mm).
fn floor(strip: &Drawing) -> Option<f64> {
    let size = strip.marks.iter().find_map(|mark| {
        let Mark::Words { size, text, .. } = mark else { return None };
        (text == "0 = inside floor").then_some(*size)
    })?;
    Some(if size > 2.0 { 17.2 } else { 12.2 })
}

/// Lines for notes are as far apart as they are elsewhere, and the last has no room for another
/// under it.
#[test]
fn lines_for_notes_go_to_the_end_of_the_sheet() {
    let (_, text) = good_plans().into_iter().find(|(n, _)| n == "shelf-totes.toml").unwrap();
    for (paper, large, step, margin) in [
        (Sheet::Letter, false, 9.0, 19.0),
        (Sheet::A5, false, 9.0, 15.0),
        (Sheet::A4, true, 14.0, 19.0),
    ] {
        let mut worked = run::work(text.clone(), "notes");
        let (plan, _) = worked.done.as_mut().unwrap();
        (plan.paper, plan.large) = (paper, large);
        let whole = worked.booklet().unwrap().unwrap();
        // What would follow begins a sheet.
        let some = ["notes", "sources"];
        let pages = whole.pages.iter().filter(|page| some.contains(&page.id.as_str()));
        let pages: Vec<_> = pages.cloned().collect();
        assert_eq!(pages[0].id, "notes");
        let booklet = Booklet { pages, ..whole };
        let sheet = &sheets(&bytes(&booklet), 600.0, |i| i == 0)[0];
        let rules = middles((0..sheet.high).map(|y| {
            let inside = sheet.wide / 4..3 * sheet.wide / 4;
            inside.clone().step_by(20).all(|x| sheet.dark(x, y))
        }));
        // The first is the rule under the heading.
        let lines = &rules[1..];
        assert!(lines.len() > 10, "{paper:?}: {} lines", lines.len());
        for pair in lines.windows(2) {
            assert!(((pair[1] - pair[0]) / DOTS - step).abs() < OFF, "{paper:?}: {pair:?}");
        }
        let left = (number(sheet.high) - lines[lines.len() - 1]) / DOTS - margin;
        assert!((-0.3..step).contains(&left), "{paper:?}: {left} mm are left");
    }
}
