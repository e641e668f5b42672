//! Light for leaves: the daily light integral, and the energy behind it.
//!
//! Light is counted in photons of 400 to 700 nm: PPFD in µmol/m²/s, the daily light integral
//! (DLI) in mol/m²/d.

use crate::number::{Card, Formula, Number, unit};

/// Moles in an hour at a micromole per second (mol·s/(µmol·h)): 3600 s/h over 1 000 000 µmol/mol,
/// exactly, by the SI Brochure.
pub const MOLES_PER_HOUR: f64 = 0.0036;
/// Planck constant by speed of light by Avogadro constant (MJ·nm/mol, the same as J·nm/µmol): SI
/// Brochure, 9th edition, exact constants, here to ten digits.
const PHOTON: f64 = 119.6265656;

/// Light on the leaves in a day: the daily light integral, or DLI (mol/m²/d).
pub struct DailyLight<N> {
    /// Light on the leaves, PPFD (µmol/m²/s).
    pub ppfd: N,
    /// Hours of light (h/d).
    pub h: N,
    /// Moles in an hour at a micromole per second (mol·s/(µmol·h)).
    pub c: N,
}
impl<N: Number> Formula<N> for DailyLight<N> {
    const CARD: Card = Card {
        id: "daily-light",
        says: "Light on the leaves times the hours of light",
        unit: unit::MOLE_PER_SQUARE_METRE_DAY,
        source: "si-brochure",
        at: "3600 s in an hour, 1 000 000 µmol in a mol",
    };
    fn value(self) -> N {
        self.ppfd * self.h * self.c
    }
}

/// Electricity of a lamp over a season (kWh).
pub struct LampEnergy<N> {
    /// Power from the wall (kW).
    pub p: N,
    /// Hours of light (h/d).
    pub h: N,
    /// Days (d).
    pub d: N,
}
impl<N: Number> Formula<N> for LampEnergy<N> {
    const CARD: Card = Card {
        id: "lamp-energy",
        says: "Power times hours times days",
        unit: unit::KILOWATT_HOUR,
        source: "si-brochure",
        at: "energy is power times time",
    };
    fn value(self) -> N {
        self.p * self.h * self.d
    }
}

/// Light on the leaves, PPFD, that gives a daily light integral of `dli` (mol/m²/d) in `hours` a
/// day, above 0 and up to 24 (µmol/m²/s).
#[must_use]
pub fn ppfd_for(dli: f64, hours: f64) -> f64 {
    dli / (hours * MOLES_PER_HOUR)
}

/// Energy of light of one wavelength of `nanometres`, above 0 (MJ/mol, the same as J/µmol).
#[must_use]
pub fn photon_energy(nanometres: f64) -> f64 {
    PHOTON / nanometres
}

/// Radiation that comes with the light (MJ/m²/d), from a daily light integral `dli` (mol/m²/d)
/// and `energy` of its light (MJ/mol): 0.19 to 0.20 for red and blue diodes, about 0.22 for
/// daylight, 1/4.57 (Thimijan and Heins 1983, `HortScience` 18:818; the number from memory).
#[must_use]
pub fn lamp_radiation(dli: f64, energy: f64) -> f64 {
    dli * energy
}

/// Electricity that lamps take from the wall (kWh/d) to light `area` (m²) with `dli` (mol/m²/d).
///
/// `efficacy` is light over electricity (µmol/J), above 0 and below 5; `caught` is the share of the
/// light that falls on the area, above 0 and up to 1. A kilowatt hour is 3.6 MJ.
#[must_use]
pub fn lamp_electricity(dli: f64, area: f64, efficacy: f64, caught: f64) -> f64 {
    dli * area / (efficacy * caught) / 3.6
}

/// Light on the leaves, PPFD (µmol/m²/s), from a lux meter, with `per_ppfd` lux for a µmol/m²/s
/// of that lamp, above 0: 54 in sun, 74 for cool-white fluorescent tubes, 82 for high-pressure
/// sodium, 71 for metal halide lamps (Thimijan and Heins 1983, `HortScience` 18:818, from memory).
#[must_use]
pub fn ppfd_from_lux(lux: f64, per_ppfd: f64) -> f64 {
    lux / per_ppfd
}

/// Daily light integral of daylight (mol/m²/d) from solar radiation `rs` (MJ/m²/d): `share` of it
/// lies between 400 and 700 nm, about 0.45, with `photons` to the megajoule, about 4.57 mol
/// (Thimijan and Heins 1983, `HortScience` 18:818, from memory); `passed` is the share that comes
/// through glass or film, 1 outdoors.
#[must_use]
pub fn daylight(rs: f64, share: f64, photons: f64, passed: f64) -> f64 {
    rs * share * photons * passed
}

#[cfg(test)]
mod tests {
    use super::super::check::{printed, put, sound};
    use super::*;
    use crate::number::{Name, Pen, Sheet};

    /// Arithmetic, by the SI Brochure: PPFD times hours times 0.0036.
    #[test]
    fn daily_light_is_plain_arithmetic() {
        let table = [
            (100.0, 16.0, "5.76"),
            (150.0, 16.0, "8.64"),
            (200.0, 16.0, "11.52"),
            (215.0, 16.0, "12.38"),
            (250.0, 16.0, "14.40"),
            (300.0, 12.0, "12.96"),
        ];
        for (ppfd, h, dli) in table {
            printed(DailyLight { ppfd, h, c: MOLES_PER_HOUR }.value(), dli);
        }
        printed(ppfd_for(17.0, 16.0), "295");
    }

    /// Photons by the exact constants of the SI Brochure.
    #[test]
    fn blue_light_costs_more_than_red() {
        printed(photon_energy(450.0), "0.266");
        printed(photon_energy(660.0), "0.181");
        let constants = 6.62607015e-34 * 299_792_458.0 * 6.02214076e23;
        assert!((PHOTON - constants * 1e3).abs() < 1e-7, "{constants}");
    }

    /// 10 mol on a square metre at 2.5 µmol/J is 4 MJ: 1.11 kWh; with four fifths caught 1.39.
    #[test]
    fn lamps_take_electricity() {
        printed(lamp_electricity(10.0, 1.0, 2.5, 1.0), "1.11");
        printed(lamp_electricity(10.0, 1.0, 2.5, 0.8), "1.39");
        printed(lamp_radiation(10.0, 0.20), "2.0");
    }

    /// Thimijan and Heins 1983, from memory: full sun of 2000 µmol/m²/s is 108 000 lux; a megajoule
    /// of sun is 2.04 to 2.1 mol.
    #[test]
    fn daylight_has_two_moles_to_the_megajoule() {
        printed(ppfd_from_lux(108_000.0, 54.0), "2000");
        let per_megajoule = daylight(1.0, 0.45, 4.57, 1.0);
        assert!((2.04..=2.1).contains(&per_megajoule), "{per_megajoule}");
        printed(daylight(20.0, 0.45, 4.57, 0.6), "24.7");
    }

    #[test]
    fn a_grower_can_follow_it() {
        let sheet = Sheet::new();
        let s = &sheet;
        s.work(
            &Name::new("dli", "DLI", ""),
            DailyLight {
                ppfd: put(s, 200.0, unit::MICROMOLE_PER_SQUARE_METRE_SECOND),
                h: put(s, 16.0, unit::HOUR_PER_DAY),
                c: put(s, MOLES_PER_HOUR, unit::MOLE_SECOND_PER_MICROMOLE_HOUR),
            },
        );
        sound(sheet, "11.52 mol/m²/d");
    }
}
