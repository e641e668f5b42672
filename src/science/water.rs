//! How much water a bin needs and loses, and the lines that follow from it.

use crate::number::{Card, Formula, Number, unit};

/// Water the plants of one crop drink in all (L).
pub struct CropWater<N> {
    /// Plants.
    pub n: N,
    /// Per plant (L).
    pub per_plant: N,
}
impl<N: Number> Formula<N> for CropWater<N> {
    const CARD: Card = Card {
        id: "crop-water",
        says: "Plants times litres per plant",
        unit: unit::LITRE,
        source: "common-practice",
        at: "plants times litres; where the litres come from stands beside them",
    };
    fn value(self) -> N {
        self.n * self.per_plant
    }
}

/// What leaves by the lid, the cubes and the samples (L).
pub struct Loss<N> {
    /// Share of the filling.
    pub share: N,
    /// Filling (L).
    pub v: N,
}
impl<N: Number> Formula<N> for Loss<N> {
    const CARD: Card = Card {
        id: "loss",
        says: "A share of the filling",
        unit: unit::LITRE,
        source: "common-practice",
        at: "3 to 5 % for cube surface, lid gaps and samples",
    };
    fn value(self) -> N {
        self.share * self.v
    }
}

/// Plants that one filling carries to the last harvest (no unit; whole ones count).
pub struct PlantsCarried<N> {
    /// Between start and reserve line (L).
    pub usable: N,
    /// Lost otherwise (L).
    pub loss: N,
    /// Water for a plant, the mean of those in the bin (L).
    pub per_plant: N,
}
impl<N: Number> Formula<N> for PlantsCarried<N> {
    const CARD: Card = Card {
        id: "plants-carried",
        says: "What is between the lines, less losses, over the water for a plant",
        unit: unit::NONE,
        source: "plain-arithmetic",
        at: "difference and quotient",
    };
    fn value(self) -> N {
        (self.usable - self.loss) / self.per_plant
    }
}

/// Filling of a larger bin of the same shape that would carry the plants there are (L): its reserve and its
/// losses are larger, too.
pub struct FillingNeeded<N> {
    /// Filling of this bin (L).
    pub filling: N,
    /// Water needed from set-out to last harvest (L).
    pub need: N,
    /// Lost otherwise from this bin, and part of that (L).
    pub loss: N,
    /// Between start and reserve line of this bin (L), more than is lost.
    pub usable: N,
}
impl<N: Number> Formula<N> for FillingNeeded<N> {
    const CARD: Card = Card {
        id: "filling-needed",
        says: "In proportion: this filling, what the plants drink over what it has for them",
        unit: unit::LITRE,
        source: "plain-arithmetic",
        at: "proportion",
    };
    fn value(self) -> N {
        self.filling * (self.need - self.loss) / (self.usable - self.loss)
    }
}

/// Height at which a pot's floor hangs above the bin's floor (mm).
pub struct PotBottom<N> {
    /// Floor to rim (mm).
    pub depth: N,
    /// How far the underside of the lid lies below the rim (mm), negative if above.
    pub lid_drop: N,
    /// Depth of the pot under its lip (mm).
    pub pot: N,
    /// Thickness of the lid at the hole (mm).
    pub lid: N,
}
impl<N: Number> Formula<N> for PotBottom<N> {
    const CARD: Card = Card {
        id: "pot-bottom",
        says: "Height of the lid's underside less what of the pot hangs below it",
        unit: unit::MILLIMETRE,
        source: "common-practice",
        at: "the pot hangs by its lip on the lid",
    };
    fn value(self) -> N {
        let Self { depth, lid_drop, pot, lid } = self;
        depth - lid_drop - (pot - lid)
    }
}

/// Height of the first filling (mm).
pub struct StartLine<N> {
    /// Height of the pot's floor (mm).
    pub pot_bottom: N,
    /// How deep the pot stands in the solution at first (mm).
    pub immersion: N,
}
impl<N: Number> Formula<N> for StartLine<N> {
    const CARD: Card = Card {
        id: "start-line",
        says: "The pot's floor and how deep it stands in the solution on the first day",
        unit: unit::MILLIMETRE,
        source: "uh-vc-1",
        at: "lower 13 mm (1/2 in) of the pot in the solution",
    };
    fn value(self) -> N {
        self.pot_bottom + self.immersion
    }
}

/// Highest level after any top-up (mm).
pub struct Ceiling<N> {
    /// Height of the pot's floor (mm).
    pub pot_bottom: N,
    /// Air kept between pot and solution (mm).
    pub gap: N,
}
impl<N: Number> Formula<N> for Ceiling<N> {
    const CARD: Card = Card {
        id: "ceiling",
        says: "The pot's floor less the air kept under it",
        unit: unit::MILLIMETRE,
        source: "common-practice",
        at: "a top-up stays a good bit below the pot",
    };
    fn value(self) -> N {
        self.pot_bottom - self.gap
    }
}

/// Lowest level to plan for (mm).
pub struct ReserveLine<N> {
    /// Least depth the roots are left with (mm).
    pub least: N,
    /// Height at which the reserve share of the first filling is left (mm).
    pub share_height: N,
}
impl<N: Number> Formula<N> for ReserveLine<N> {
    const CARD: Card = Card {
        id: "reserve-line",
        says: "The larger of the least depth and the height of the reserve share",
        unit: unit::MILLIMETRE,
        source: "acta-648",
        at: "a crop was ended with less than 10 % left",
    };
    fn value(self) -> N {
        self.least.max(self.share_height)
    }
}

/// A share of a volume (L).
pub struct ShareOf<N> {
    /// Share.
    pub share: N,
    /// Volume (L).
    pub v: N,
}
impl<N: Number> Formula<N> for ShareOf<N> {
    const CARD: Card = Card {
        id: "share-of",
        says: "Share times volume",
        unit: unit::LITRE,
        source: "plain-arithmetic",
        at: "product",
    };
    fn value(self) -> N {
        self.share * self.v
    }
}

/// What pots and cubes take up below the line (L).
pub struct Displaced<N> {
    /// Pots.
    pub n: N,
    /// Solid share of a pot's outline.
    pub pot_share: N,
    /// Outline of one pot below the line (L).
    pub pot: N,
    /// Solid share of a soaked cube.
    pub cube_share: N,
    /// Side of a cube (m).
    pub side: N,
    /// Height of the cube below the line (mm).
    pub wet: N,
}
impl<N: Number> Formula<N> for Displaced<N> {
    const CARD: Card = Card {
        id: "displaced",
        says: "Pots times the solid part of pot and cube below the line",
        unit: unit::LITRE,
        source: "plain-arithmetic",
        at: "sum of parts",
    };
    fn value(self) -> N {
        let Self { n, pot_share, pot, cube_share, side, wet } = self;
        n * (pot_share * pot + cube_share * side * side * wet)
    }
}

/// Volume between two others (L): filling less displacement, litres between two lines.
pub struct Between<N> {
    /// The larger (L).
    pub above: N,
    /// The smaller (L).
    pub below: N,
}
impl<N: Number> Formula<N> for Between<N> {
    const CARD: Card = Card {
        id: "between",
        says: "The larger less the smaller",
        unit: unit::LITRE,
        source: "plain-arithmetic",
        at: "difference",
    };
    fn value(self) -> N {
        self.above - self.below
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: of 48.7 L 43.83 lie above the reserve and 2.435 are lost, so 41.395 are for plants that drink
    /// 73.67; and the larger bin, with everything in proportion, carries just these.
    #[test]
    fn a_larger_bin_keeps_more_for_the_roots() {
        let (filling, usable, loss) = (48.7, 43.83, 2.435);
        let wanted = FillingNeeded { filling, need: 73.67 + loss, loss, usable }.value();
        assert!((wanted - 86.67).abs() < 0.005, "{wanted}");
        let by = wanted / filling;
        let carries =
            PlantsCarried { usable: by * usable, loss: by * loss, per_plant: 73.67 / 4.0 };
        assert!((carries.value() - 4.0).abs() < 1e-9);
    }
}
