//! The inside of a bin: how much it holds below a line, and where the line stands for an amount.

use super::shape::{
    BoxArea, DiameterAt, HalfHeight, MeasuredArea, MeasuredVolume, RoundArea, StraightVolume,
    TaperedBoxArea, TaperedVolume,
};
use crate::number::{Datum, Name, Origin, Pen, Silent, Unit, unit};

/// The inside of a bin.
#[derive(Debug, Clone, PartialEq)]
pub enum Vessel {
    /// Rectangular, straight or tapered.
    Box {
        /// Length and width at the floor (m).
        floor: [f64; 2],
        /// Length and width at the rim (m).
        rim: [f64; 2],
        /// Floor to rim (mm).
        depth: f64,
    },
    /// Round, straight or tapered.
    Round {
        /// Diameter at the floor (m).
        floor: f64,
        /// Diameter at the rim (m).
        rim: f64,
        /// Floor to rim (mm).
        depth: f64,
    },
    /// Any shape, measured by pouring: depth (mm) and all that was poured so far (L), both
    /// rising, from (0, 0).
    Measured(Vec<(f64, f64)>),
}

/// Symbols of one line: its height, the area and volume there.
#[derive(Debug, Clone, Copy)]
pub struct LineNames {
    /// Which line, for the reader ("start line").
    pub item: &'static str,
    /// Symbol of the volume below it.
    pub volume: &'static str,
    /// Symbol of the area at it.
    pub area: &'static str,
}

const SILENT_LINE: LineNames = LineNames { item: "", volume: "V", area: "A" };

impl Vessel {
    /// Floor to rim (mm).
    #[must_use]
    pub fn depth(&self) -> f64 {
        match self {
            Self::Box { depth, .. } | Self::Round { depth, .. } => *depth,
            Self::Measured(points) => points.last().map_or(0.0, |p| p.0),
        }
    }

    /// The same vessel, wider by a factor and taller by another, to the millimetre.
    #[must_use]
    pub fn larger(&self, wider: f64, taller: f64) -> Self {
        let whole = |metres: f64| (1000.0 * metres * wider).round() / 1000.0;
        let high = |millimetres: f64| (millimetres * taller).round();
        match self {
            Self::Box { floor, rim, depth } => {
                Self::Box { floor: floor.map(whole), rim: rim.map(whole), depth: high(*depth) }
            }
            Self::Round { floor, rim, depth } => {
                Self::Round { floor: whole(*floor), rim: whole(*rim), depth: high(*depth) }
            }
            Self::Measured(points) => {
                let more = wider * wider * taller;
                let point = |(h, v): &(f64, f64)| (high(*h), (100.0 * v * more).round() / 100.0);
                Self::Measured(points.iter().map(point).collect())
            }
        }
    }

    fn silent_line(&self, h: f64) -> Line<f64> {
        self.work_line(Silent, self.work_floor(Silent), h, h, &SILENT_LINE)
    }

    /// Inside area at a height of `h` mm (m²).
    #[must_use]
    pub fn area(&self, h: f64) -> f64 {
        self.silent_line(h).area
    }

    /// Volume below a height of `h` mm (L), 0 to the rim: the same formulas as on the sheet.
    #[must_use]
    pub fn volume(&self, h: f64) -> f64 {
        self.silent_line(h).volume
    }

    /// Height (mm) at which `measure` of the height reaches `wanted`; `measure` must not fall.
    ///
    /// The height found is checked on the sheet by putting it back into the formula.
    #[must_use]
    pub fn height_where(&self, wanted: f64, measure: impl Fn(f64) -> f64) -> f64 {
        let (mut low, mut high) = (0.0, self.depth());
        // Sixty halvings leave less than a millionth of a millionth of a millimetre.
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if measure(middle) < wanted { low = middle } else { high = middle }
        }
        f64::midpoint(low, high)
    }

    /// Works the inside area at the floor, from which every line of a box or a round bin goes on;
    /// a measured bin has none.
    pub fn work_floor<P: Pen>(&self, pen: P) -> Option<P::N> {
        let metre = |symbol, what, value| take(pen, symbol, what, value, unit::METRE);
        let name = Name::new("floor-area", "A_floor", "Inside area at the floor");
        match self {
            Self::Box { floor: [a, b], .. } => {
                let a = metre("a_0", "inside length at the floor", *a);
                let b = metre("b_0", "inside width at the floor", *b);
                Some(pen.work(&name, BoxArea { a, b }))
            }
            Self::Round { floor, .. } => {
                let d = metre("d_0", "inside diameter at the floor", *floor);
                Some(pen.work(&name, RoundArea { pi: pi(pen), d }))
            }
            Self::Measured(_) => None,
        }
    }

    /// Works the area and the volume at a line `h` high (mm), `at` in plain numbers, going on
    /// from the area at the floor.
    pub fn work_line<P: Pen>(
        &self,
        pen: P,
        floor: Option<P::N>,
        h: P::N,
        at: f64,
        names: &LineNames,
    ) -> Line<P::N> {
        let volume = Name::new("volume-below", names.volume, "Space below the line").of(names.item);
        let area = Name::new("area-at", names.area, "Inside area at the line").of(names.item);
        match self {
            Self::Measured(points) => {
                let [(h1, v1), (h2, v2)] = around(points, at);
                let mm = |symbol, what, value| take(pen, symbol, what, value, unit::MILLIMETRE);
                let litre = |symbol, what, value| take(pen, symbol, what, value, unit::LITRE);
                let (h1, h2) = (mm("h_1", "measured depth below", h1), mm("h_2", "above", h2));
                let (v1, v2) = (
                    litre("V_1", "poured to the depth below", v1),
                    litre("V_2", "poured to the depth above", v2),
                );
                let area = pen.work(&area, MeasuredArea { v1, v2, h1, h2 });
                Line { area, volume: pen.work(&volume, MeasuredVolume { v1, v2, h1, h2, h }) }
            }
            Self::Box { .. } | Self::Round { .. } if self.is_straight() => {
                let area = floor.unwrap_or_else(|| P::N::from(0.0));
                Line { area, volume: pen.work(&volume, StraightVolume { area, h }) }
            }
            Self::Box { .. } | Self::Round { .. } => {
                let floor = floor.unwrap_or_else(|| P::N::from(0.0));
                let half = Name::new("half-height", "h_mid", "Halfway up to the line");
                let half = pen.work(&half.of(names.item), HalfHeight { h });
                let middle = Name::new("area-halfway", "A_mid", "Inside area halfway up");
                let middle = self.work_area(pen, half, &middle.of(names.item));
                let top = self.work_area(pen, h, &area);
                let whole = TaperedVolume { h, floor, middle, top };
                Line { area: top, volume: pen.work(&volume, whole) }
            }
        }
    }

    fn is_straight(&self) -> bool {
        match self {
            Self::Box { floor, rim, .. } => floor.map(f64::to_bits) == rim.map(f64::to_bits),
            Self::Round { floor, rim, .. } => floor.to_bits() == rim.to_bits(),
            Self::Measured(_) => false,
        }
    }

    fn work_area<P: Pen>(&self, pen: P, h: P::N, name: &Name<'_>) -> P::N {
        let metre = |symbol, what, value| take(pen, symbol, what, value, unit::METRE);
        let depth = || take(pen, "H", "depth, floor to rim", self.depth(), unit::MILLIMETRE);
        match self {
            Self::Box { floor: [a0, b0], rim: [a1, b1], .. } => {
                let a0 = metre("a_0", "inside length at the floor", *a0);
                let a1 = metre("a_1", "inside length at the rim", *a1);
                let b0 = metre("b_0", "inside width at the floor", *b0);
                let b1 = metre("b_1", "inside width at the rim", *b1);
                pen.work(name, TaperedBoxArea { a0, a1, b0, b1, h, depth: depth() })
            }
            Self::Round { floor, rim, .. } => {
                let d0 = metre("d_0", "inside diameter at the floor", *floor);
                let d1 = metre("d_1", "inside diameter at the rim", *rim);
                let (id, symbol, what) = match name.id {
                    "area-halfway" => ("diameter-halfway", "d_mid", "Inside diameter halfway up"),
                    _ => ("diameter-at", "d", "Inside diameter at the line"),
                };
                let d = Name::new(id, symbol, what).of(name.item);
                let d = pen.work(&d, DiameterAt { d0, d1, h, depth: depth() });
                pen.work(name, RoundArea { pi: pi(pen), d })
            }
            Self::Measured(_) => take(pen, "A", "", 0.0, unit::SQUARE_METRE),
        }
    }
}

/// What is worked at a line.
#[derive(Debug, Clone, Copy)]
pub struct Line<N> {
    /// Inside area (m²).
    pub area: N,
    /// Space below (L).
    pub volume: N,
}

/// π, as a number put into a formula.
pub fn pi<P: Pen>(pen: P) -> P::N {
    let (value, origin) = (std::f64::consts::PI, Origin::Data("solid-geometry", "circle"));
    let what = "circumference over diameter";
    pen.given(&Datum { symbol: "π", what, value, unit: unit::NONE, origin })
}

fn take<P: Pen>(pen: P, symbol: &str, what: &str, value: f64, unit: Unit) -> P::N {
    pen.given(&Datum { symbol, what, value, unit, origin: Origin::Plan })
}

/// The two measured points around a height.
fn around(points: &[(f64, f64)], h: f64) -> [(f64, f64); 2] {
    let above = points.iter().position(|p| p.0 >= h).unwrap_or(points.len() - 1).max(1);
    [points[above - 1], points[above]]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tapered() -> Vessel {
        Vessel::Box { floor: [0.50, 0.33], rim: [0.56, 0.38], depth: 300.0 }
    }

    /// Areas of ten thousand thin slices, added up: knows nothing of the prismoidal formula.
    fn sliced(vessel: &Vessel, h: f64) -> f64 {
        let n = 10_000;
        let slice = h / f64::from(n);
        (0..n).map(|i| vessel.area((f64::from(i) + 0.5) * slice) * slice).sum()
    }

    #[test]
    fn volumes_agree_with_numerical_integration() {
        let pail = Vessel::Round { floor: 0.26, rim: 0.29, depth: 370.0 };
        for vessel in [tapered(), pail] {
            for h in [1.0, 57.0, 123.4, 290.0] {
                let ratio = vessel.volume(h) / sliced(&vessel, h);
                assert!((ratio - 1.0).abs() < 1e-8, "{ratio} at {h}");
            }
        }
    }

    #[test]
    fn a_pail_is_the_textbook_cone_frustum() {
        let pail = Vessel::Round { floor: 0.26, rim: 0.29, depth: 370.0 };
        let (r0, r1) = (0.13, 0.145);
        let book = std::f64::consts::PI * 370.0 / 3.0 * (r0 * r0 + r0 * r1 + r1 * r1);
        assert!((pail.volume(370.0) / book - 1.0).abs() < 1e-12);
    }

    #[test]
    fn level_and_volume_undo_each_other() {
        let bin = Vessel::Measured(vec![(0.0, 0.0), (50.0, 4.0), (100.0, 9.0), (200.0, 20.5)]);
        for vessel in [tapered(), bin] {
            for h in [0.5, 49.0, 50.0, 150.0, 199.0] {
                let back = vessel.height_where(vessel.volume(h), |h| vessel.volume(h));
                assert!((back - h).abs() < 1e-9, "{back} for {h}");
            }
        }
    }

    #[test]
    fn the_worked_line_is_the_plain_volume_to_the_bit() {
        let names = LineNames { item: "start line", volume: "V", area: "A" };
        let sheet = crate::number::Sheet::new();
        let h = take(&sheet, "h", "", 137.0, unit::MILLIMETRE);
        let line = tapered().work_line(&sheet, tapered().work_floor(&sheet), h, 137.0, &names);
        assert_eq!(line.volume.number().to_bits(), tapered().volume(137.0).to_bits());
    }
}
