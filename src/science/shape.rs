//! Areas and volumes of the shapes bins and pots have.
//!
//! Widths in metres, heights in millimetres above the floor, so that areas times heights are
//! litres.

use crate::number::{Card, Formula, Number, unit};

/// Area of a straight rectangular bin (m²).
pub struct BoxArea<N> {
    /// Inside length (m).
    pub a: N,
    /// Inside width (m).
    pub b: N,
}
impl<N: Number> Formula<N> for BoxArea<N> {
    const CARD: Card = Card {
        id: "box-area",
        says: "Length times width",
        unit: unit::SQUARE_METRE,
        source: "solid-geometry",
        at: "rectangle",
    };
    fn value(self) -> N {
        self.a * self.b
    }
}

/// Area of a tapered rectangular bin at a height (m²); the two tapers may differ.
pub struct TaperedBoxArea<N> {
    /// Length at the floor (m).
    pub a0: N,
    /// Length at the rim (m).
    pub a1: N,
    /// Width at the floor (m).
    pub b0: N,
    /// Width at the rim (m).
    pub b1: N,
    /// Height above the floor (mm).
    pub h: N,
    /// Depth from floor to rim (mm).
    pub depth: N,
}
impl<N: Number> Formula<N> for TaperedBoxArea<N> {
    const CARD: Card = Card {
        id: "tapered-box-area",
        says: "Length times width, both growing evenly from floor to rim",
        unit: unit::SQUARE_METRE,
        source: "solid-geometry",
        at: "rectangle, sides in proportion to height",
    };
    fn value(self) -> N {
        let Self { a0, a1, b0, b1, h, depth } = self;
        (a0 + (a1 - a0) * h / depth) * (b0 + (b1 - b0) * h / depth)
    }
}

/// Area of a round bin (m²).
pub struct RoundArea<N> {
    /// π.
    pub pi: N,
    /// Inside diameter (m).
    pub d: N,
}
impl<N: Number> Formula<N> for RoundArea<N> {
    const CARD: Card = Card {
        id: "round-area",
        says: "Area of a circle from its diameter",
        unit: unit::SQUARE_METRE,
        source: "solid-geometry",
        at: "circle",
    };
    fn value(self) -> N {
        self.pi * self.d * self.d / N::from(4.0)
    }
}

/// Inside diameter of a tapered round bin at a height (m).
pub struct DiameterAt<N> {
    /// Diameter at the floor (m).
    pub d0: N,
    /// Diameter at the rim (m).
    pub d1: N,
    /// Height above the floor (mm).
    pub h: N,
    /// Depth from floor to rim (mm).
    pub depth: N,
}
impl<N: Number> Formula<N> for DiameterAt<N> {
    const CARD: Card = Card {
        id: "diameter-at",
        says: "Diameter, growing evenly from the floor to the rim",
        unit: unit::METRE,
        source: "solid-geometry",
        at: "proportion",
    };
    fn value(self) -> N {
        self.d0 + (self.d1 - self.d0) * self.h / self.depth
    }
}

/// Volume below a line in a straight-walled bin (L).
pub struct StraightVolume<N> {
    /// Area (m²).
    pub area: N,
    /// Height of the line (mm).
    pub h: N,
}
impl<N: Number> Formula<N> for StraightVolume<N> {
    const CARD: Card = Card {
        id: "straight-volume",
        says: "Area times height: 1 m² filled 1 mm deep is 1 L",
        unit: unit::LITRE,
        source: "si-brochure",
        at: "litre = dm³",
    };
    fn value(self) -> N {
        self.area * self.h
    }
}

/// Volume below a line in a bin whose area grows at most with the square of the height (L):
/// exact for tapered boxes with any two tapers, and for tapered pails.
pub struct TaperedVolume<N> {
    /// Height of the line (mm).
    pub h: N,
    /// Area at the floor (m²).
    pub floor: N,
    /// Area halfway up to the line (m²).
    pub middle: N,
    /// Area at the line (m²).
    pub top: N,
}
impl<N: Number> Formula<N> for TaperedVolume<N> {
    const CARD: Card = Card {
        id: "tapered-volume",
        says: "A sixth of the height times floor area, four times the middle area and top area",
        unit: unit::LITRE,
        source: "prismoidal",
        at: "prismoidal formula, exact for this shape",
    };
    fn value(self) -> N {
        self.h / N::from(6.0) * (self.floor + N::from(4.0) * self.middle + self.top)
    }
}

/// Volume below a line between two measured depths (L).
pub struct MeasuredVolume<N> {
    /// Volume poured to the depth below (L).
    pub v1: N,
    /// Volume poured to the depth above (L).
    pub v2: N,
    /// Depth below (mm).
    pub h1: N,
    /// Depth above (mm).
    pub h2: N,
    /// Height of the line (mm).
    pub h: N,
}
impl<N: Number> Formula<N> for MeasuredVolume<N> {
    const CARD: Card = Card {
        id: "measured-volume",
        says: "In proportion between the two measured depths around the line",
        unit: unit::LITRE,
        source: "solid-geometry",
        at: "proportion",
    };
    fn value(self) -> N {
        let Self { v1, v2, h1, h2, h } = self;
        v1 + (v2 - v1) * (h - h1) / (h2 - h1)
    }
}

/// How far the level falls for each litre drunk, at a line (mm/L).
pub struct LevelPerLitre<N> {
    /// Area at the line (m²).
    pub area: N,
}
impl<N: Number> Formula<N> for LevelPerLitre<N> {
    const CARD: Card = Card {
        id: "level-per-litre",
        says: "One over the area: 1 L spread over 1 m² is 1 mm deep",
        unit: unit::MILLIMETRE_PER_LITRE,
        source: "si-brochure",
        at: "litre = dm³",
    };
    fn value(self) -> N {
        N::from(1.0) / self.area
    }
}

/// Inside area between two measured depths (m²).
pub struct MeasuredArea<N> {
    /// Volume poured to the depth below (L).
    pub v1: N,
    /// Volume poured to the depth above (L).
    pub v2: N,
    /// Depth below (mm).
    pub h1: N,
    /// Depth above (mm).
    pub h2: N,
}
impl<N: Number> Formula<N> for MeasuredArea<N> {
    const CARD: Card = Card {
        id: "measured-area",
        says: "What was poured between two depths, over their distance",
        unit: unit::SQUARE_METRE,
        source: "si-brochure",
        at: "litre = dm³",
    };
    fn value(self) -> N {
        (self.v2 - self.v1) / (self.h2 - self.h1)
    }
}

/// Half a height (mm).
pub struct HalfHeight<N> {
    /// Height (mm).
    pub h: N,
}
impl<N: Number> Formula<N> for HalfHeight<N> {
    const CARD: Card = Card {
        id: "half-height",
        says: "Halfway up to the line",
        unit: unit::MILLIMETRE,
        source: "prismoidal",
        at: "middle section",
    };
    fn value(self) -> N {
        self.h / N::from(2.0)
    }
}

/// Volume of a round pot's outline up to the water (L), a cone frustum.
pub struct FrustumVolume<N> {
    /// π.
    pub pi: N,
    /// Depth under water (mm).
    pub i: N,
    /// Diameter at the pot's floor (m).
    pub d0: N,
    /// Diameter at the water (m).
    pub d: N,
}
impl<N: Number> Formula<N> for FrustumVolume<N> {
    const CARD: Card = Card {
        id: "frustum-volume",
        says: "Volume of a cone frustum from its two diameters",
        unit: unit::LITRE,
        source: "solid-geometry",
        at: "cone frustum",
    };
    fn value(self) -> N {
        let Self { pi, i, d0, d } = self;
        pi * i / N::from(12.0) * (d0 * d0 + d0 * d + d * d)
    }
}
