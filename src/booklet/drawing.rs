//! A drawing: marks in millimetres of paper, the same on paper and on a screen.

use serde::Serialize;

use super::block::Align;
use super::paper::words;

/// A mark on a drawing; positions in millimetres of paper from the top left.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "is", rename_all = "kebab-case")]
pub enum Mark {
    /// A straight line.
    Line {
        /// One end.
        from: [f64; 2],
        /// The other end.
        to: [f64; 2],
        /// Thickness (mm).
        weight: f64,
        /// Broken rather than solid.
        dashed: bool,
    },
    /// A line through points; dashes go on round its corners.
    Path {
        /// Its points, in order.
        points: Vec<[f64; 2]>,
        /// Thickness (mm).
        weight: f64,
        /// Broken rather than solid.
        dashed: bool,
    },
    /// A closed outline.
    Area {
        /// Its corners.
        points: Vec<[f64; 2]>,
        /// Grey inside, 0 black to 1 white; none if empty inside.
        grey: Option<f64>,
        /// Thickness of its outline (mm); 0 for none.
        weight: f64,
    },
    /// Words.
    Words {
        /// Where the middle of their height stands.
        at: [f64; 2],
        /// How they stand on that point.
        align: Align,
        /// Height of the letters (mm).
        size: f64,
        /// The words.
        text: String,
    },
    /// Many short lines of one thickness, such as the marks of a scale.
    Comb {
        /// Both ends of each.
        lines: Vec<[[f64; 2]; 2]>,
        /// Thickness (mm).
        weight: f64,
    },
    /// Words that stand upright, to be read from the right.
    Turned {
        /// Their middle.
        at: [f64; 2],
        /// Height of the letters (mm).
        size: f64,
        /// The words.
        text: String,
    },
}

/// A drawing, the same on paper and on a screen.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Drawing {
    /// File name of its picture beside a Markdown booklet, without ending.
    pub name: String,
    /// Width on paper (mm).
    pub width: f64,
    /// Height on paper (mm).
    pub height: f64,
    /// Its marks, the lowest first.
    pub marks: Vec<Mark>,
    /// What it shows, with its numbers, for someone who cannot see it.
    pub alt: String,
    /// Printed under it.
    #[serde(serialize_with = "words")]
    pub caption: String,
}

impl Drawing {
    /// The same drawing, all of it larger.
    #[must_use]
    pub(super) fn grown(mut self, by: f64) -> Self {
        let larger =
            |points: &mut [[f64; 2]]| points.as_flattened_mut().iter_mut().for_each(|v| *v *= by);
        for mark in &mut self.marks {
            match mark {
                Mark::Line { from, to, weight, .. } => {
                    larger(std::slice::from_mut(from));
                    larger(std::slice::from_mut(to));
                    *weight *= by;
                }
                Mark::Path { points, weight, .. } | Mark::Area { points, weight, .. } => {
                    larger(points);
                    *weight *= by;
                }
                Mark::Words { at, size, .. } | Mark::Turned { at, size, .. } => {
                    larger(std::slice::from_mut(at));
                    *size *= by;
                }
                Mark::Comb { lines, weight } => {
                    larger(lines.as_flattened_mut());
                    *weight *= by;
                }
            }
        }
        (self.width, self.height) = (self.width * by, self.height * by);
        self
    }
}
