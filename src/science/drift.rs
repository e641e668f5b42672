//! What is left in a solution as plants drink it.

use crate::number::{Card, Formula, Number, unit};

/// Dry plant that grows with a litre, in air as dry as it is (g/L).
pub struct DryMatter<N> {
    /// In air of the reference dryness (g/L).
    pub m: N,
    /// That dryness (kPa).
    pub reference: N,
    /// Vapour pressure deficit by day (kPa).
    pub deficit: N,
    /// In the driest air (g/L).
    pub least: N,
    /// In the moistest air (g/L).
    pub most: N,
}
impl<N: Number> Formula<N> for DryMatter<N> {
    const CARD: Card = Card {
        id: "dry-matter",
        says: "Dry air draws more water for the same leaf, within bounds",
        unit: unit::GRAM_PER_LITRE,
        source: "langenfeld-2022",
        at: "water use efficiency falls as the deficit rises",
    };
    fn value(self) -> N {
        (self.m * self.reference / self.deficit).max(self.least).min(self.most)
    }
}

/// Of an element, what a plant takes with each litre it drinks (mg/L).
pub struct UptakeRate<N> {
    /// Dry plant for a litre (g/L).
    pub m: N,
    /// The element in dry plant (mg/g).
    pub s: N,
}
impl<N: Number> Formula<N> for UptakeRate<N> {
    const CARD: Card = Card {
        id: "uptake-rate",
        says: "Dry plant that grows with a litre, times its content of the element",
        unit: unit::MILLIGRAM_PER_LITRE,
        source: "langenfeld-2022",
        at: "mass balance of plant and solution",
    };
    fn value(self) -> N {
        self.m * self.s
    }
}

/// Concentration after plants drank, nothing added (mg/L); below nought if they wanted more than there
/// was.
pub struct Drifted<N> {
    /// Concentration before (mg/L).
    pub c: N,
    /// Solution before (L).
    pub v: N,
    /// Taken with each litre (mg/L).
    pub u: N,
    /// Drunk by the plants (L).
    pub drunk: N,
    /// Solution left (L).
    pub left: N,
}
impl<N: Number> Formula<N> for Drifted<N> {
    const CARD: Card = Card {
        id: "drifted",
        says: "What was there less what the plants took, in what is left",
        unit: unit::MILLIGRAM_PER_LITRE,
        source: "langenfeld-2022",
        at: "mass balance of plant and solution",
    };
    fn value(self) -> N {
        (self.c * self.v - self.u * self.drunk) / self.left
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked examples of the reference base: 4 L of 150 mg/L N with an uptake of 150 stay at 150; of
    /// 130: 170, 210, 290 after 2, 3 and 3.5 L; of 165: 135, 105, 45. Potassium 210 with 250: 170 and
    /// 90; calcium 160 with 80: 240 and 400.
    #[test]
    fn drift_has_its_worked_values() {
        for (c, u, drunk, wanted) in [
            (150.0, 150.0, 3.0, 150.0),
            (150.0, 130.0, 2.0, 170.0),
            (150.0, 130.0, 3.0, 210.0),
            (150.0, 130.0, 3.5, 290.0),
            (150.0, 165.0, 2.0, 135.0),
            (150.0, 165.0, 3.5, 45.0),
            (210.0, 250.0, 2.0, 170.0),
            (210.0, 250.0, 3.0, 90.0),
            (160.0, 80.0, 2.0, 240.0),
            (160.0, 80.0, 3.0, 400.0),
        ] {
            let found = Drifted { c, v: 4.0, u, drunk, left: 4.0 - drunk }.value();
            assert!((found - wanted).abs() < 1e-9, "{found} for {wanted}");
        }
    }

    /// Langenfeld and others 2022 with tissue from memory: 3.5 g/L takes 158 N, 21 P, 245 K, 46 Ca,
    /// 14 Mg, 10 S.
    #[test]
    fn uptake_has_its_tabulated_values() {
        let pairs =
            [(45.0, 158.0), (6.0, 21.0), (70.0, 245.0), (13.0, 46.0), (4.0, 14.0), (3.0, 10.0)];
        for (s, wanted) in pairs {
            assert!((UptakeRate { m: 3.5, s }.value() - wanted).abs() < 0.6);
        }
    }
}
