//! Holes in a lid: an even layout from the inside of the rim and the number of pots.

use crate::plan::Bin;
use crate::science::vessel::Vessel;

/// The opening a lid covers (mm), measured inside the rim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Opening {
    /// Length and width.
    Box([f64; 2]),
    /// Diameter.
    Round(f64),
    /// Diameter of a circle of the same area; the real shape is not known.
    Unknown(f64),
}

/// A lid and its holes.
#[derive(Debug, Clone, PartialEq)]
pub struct Lid {
    /// The opening it covers.
    pub opening: Opening,
    /// Centres of the holes (mm) from the left and from the front of the opening; those of a
    /// rectangular lid row by row, the front row first.
    pub holes: Vec<[f64; 2]>,
    /// Centre to centre (mm): along and across, or from each to the next on its circle.
    pub pitch: [f64; 2],
    /// Diameter of the circle the holes stand on (mm), if there is one.
    pub ring: Option<f64>,
    /// Smallest distance from a centre to the inside of the rim (mm).
    pub edge: f64,
}

/// The layout of a bin's lid; none if its pots do not fit a lid of that size.
#[must_use]
pub fn lid(bin: &Bin) -> Option<Lid> {
    let mm = |metres: f64| 1000.0 * metres;
    match &bin.vessel {
        Vessel::Box { rim, .. } => rows(bin, rim.map(mm)),
        Vessel::Round { rim, .. } => ring(bin, Opening::Round(mm(*rim)), mm(*rim)),
        Vessel::Measured(points) => {
            let area = bin.vessel.area(points.last().map_or(0.0, |p| p.0));
            let wide = mm(libm::sqrt(4.0 * area / std::f64::consts::PI));
            ring(bin, Opening::Unknown(wide), wide)
        }
    }
}

/// Every pot has the same field of the lid and stands in its middle, as the check of the plan
/// takes it; a last row that is not full stands in the middle of the lid.
fn rows(bin: &Bin, size: [f64; 2]) -> Option<Lid> {
    let [along, across] = bin.rows;
    let pitch = [size[0] / f64::from(along), size[1] / f64::from(across)];
    let mut holes = Vec::new();
    let mut left = bin.pots();
    for row in 0..across {
        let here = left.min(along);
        left -= here;
        let first = (size[0] - f64::from(here) * pitch[0]) / 2.0;
        let y = (f64::from(row) + 0.5) * pitch[1];
        holes.extend((0..here).map(|i| [first + (f64::from(i) + 0.5) * pitch[0], y]));
    }
    // Rows that stay empty leave no edge to measure to.
    let edge = (pitch[0] / 2.0).min(pitch[1] / 2.0);
    (left == 0 && !holes.is_empty()).then_some(Lid {
        opening: Opening::Box(size),
        holes,
        pitch,
        ring: None,
        edge,
    })
}

/// One in the middle, more on a circle: as much room from rim to rim as from a rim to the edge.
fn ring(bin: &Bin, opening: Opening, wide: f64) -> Option<Lid> {
    let (count, pot) = (bin.pots(), bin.pot.rim);
    let radius = wide / 2.0;
    if count == 0 || pot > wide {
        return None;
    }
    if count == 1 {
        let holes = vec![[radius, radius]];
        return Some(Lid { opening, holes, pitch: [0.0; 2], ring: None, edge: radius });
    }
    let turn = std::f64::consts::PI / f64::from(count);
    let chord = 2.0 * libm::sin(turn);
    // From r × chord − pot = radius − r − pot ÷ 2.
    let r = (radius + pot / 2.0) / (1.0 + chord);
    if r * chord < pot {
        return None;
    }
    let hole = |i: u32| {
        // The first on the right, so that two stand side by side.
        let angle = 2.0 * turn * f64::from(i);
        [radius + r * libm::cos(angle), radius + r * libm::sin(angle)]
    };
    Some(Lid {
        opening,
        holes: (0..count).map(hole).collect(),
        pitch: [r * chord; 2],
        ring: Some(2.0 * r),
        edge: radius - r,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Findings;

    fn bin(text: &str) -> Bin {
        let whole = format!(
            "title = \"T\"\nsown = 2027-03-01\n[[feed]]\nname = \"F\"\nrate = {{ low = \"1 tsp/gal\", \
             high = \"2 tsp/gal\" }}\nteaspoon = \"5 g\"\ncontents = {{ N-nitrate = \"10 %\", Ca = \
             \"8 %\" }}\n[[mix]]\nname = \"M\"\npail = \"5 gal\"\nfeeds = [{{ feed = \"F\", \
             times-label-low = 0.9 }}]\n[[bin]]\nname = \"B\"\npot = \"2 in\"\n{text}\n"
        );
        let findings = Findings::default();
        let plan = crate::plan::read(&whole, &findings);
        plan.unwrap_or_else(|| panic!("{:?}", findings.sorted())).bins.remove(0)
    }

    #[test]
    fn a_row_that_is_not_full_stands_in_the_middle() {
        let lid =
            lid(&bin("shape = \"box\"\nfloor = [\"600 mm\", \"300 mm\"]\ndepth = \"300 mm\"\n\
                            rows = { along = 3, across = 2 }\n\
                            plants = [{ crop = \"lettuce\", count = 5 }]"))
            .unwrap();
        let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
        let wanted = [[100.0, 75.0], [300.0, 75.0], [500.0, 75.0], [200.0, 225.0], [400.0, 225.0]];
        assert_eq!(lid.holes.len(), 5);
        for (hole, wanted) in lid.holes.iter().zip(wanted) {
            assert!(near(hole[0], wanted[0]) && near(hole[1], wanted[1]), "{:?}", lid.holes);
        }
        assert!(near(lid.edge, 75.0));
    }

    #[test]
    fn holes_on_a_circle_are_as_far_from_each_other_as_from_the_edge() {
        let bin = bin("shape = \"round\"\nfloor = \"300 mm\"\ndepth = \"300 mm\"\n\
                       plants = [{ crop = \"lettuce\", count = 3 }]");
        let lid = lid(&bin).unwrap();
        let [a, b, ..] = lid.holes[..] else { panic!() };
        let apart = libm::hypot(a[0] - b[0], a[1] - b[1]);
        let (between, edge) = (apart - bin.pot.rim, lid.edge - bin.pot.rim / 2.0);
        assert!((between - edge).abs() < 1e-9, "{between} {edge}");
        assert!((apart - lid.pitch[0]).abs() < 1e-9);
    }
}
