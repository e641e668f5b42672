//! Oxygen that still water holds when it is at rest with moist air.
//!
//! After Benson and Krause 1984, Limnology and Oceanography 29:620, equations 24 and 32, fresh
//! water, 0 to 40 °C. Feed at ordinary strength lowers it by about half a per cent, which is left
//! out here.

/// Standard atmosphere (kPa): SI Brochure.
const ATMOSPHERE: f64 = 101.325;
/// 0 °C on the absolute scale (K): SI Brochure.
const ABSOLUTE: f64 = 273.15;

/// Dissolved oxygen at rest with air of one atmosphere (mg/L), at `t` °C, 0 to 40: Benson and
/// Krause 1984, equation 32.
#[must_use]
pub fn saturation(t: f64) -> f64 {
    let x = 1.0 / (t + ABSOLUTE);
    let series =
        -139.34411 + x * (1.575701e5 + x * (-6.642308e7 + x * (1.2438e10 - x * 8.621949e11)));
    libm::exp(series)
}

/// Dissolved oxygen at rest with air of `pressure` (kPa, not reduced to sea level; 50 to 110), at
/// `t` °C, 0 to 40 (mg/L): Benson and Krause 1984, equation 24.
#[must_use]
pub fn saturation_at(t: f64, pressure: f64) -> f64 {
    let p = pressure / ATMOSPHERE;
    let x = 1.0 / (t + ABSOLUTE);
    // Vapour pressure of water (atm), and the second pressure coefficient of oxygen (1/atm).
    let vapour = libm::exp(11.8571 - x * (3840.70 + x * 216961.0));
    let theta = 0.000975 - t * (1.426e-5 - t * 6.436e-8);
    let of = |p: f64| (p - vapour) * (1.0 - theta * p);
    saturation(t) * of(p) / of(1.0)
}

/// Share of saturation that a reading of `reading` mg/L is, at `t` °C and `pressure` kPa.
#[must_use]
pub fn share(reading: f64, t: f64, pressure: f64) -> f64 {
    reading / saturation_at(t, pressure)
}

#[cfg(test)]
mod tests {
    use super::super::check::printed;
    use super::*;

    /// Benson and Krause 1984, equation 32, for fresh water at one atmosphere; the US Geological
    /// Survey tabulates this equation (Office of Water Quality memorandum 2011.03, from memory).
    #[test]
    fn the_table_of_fresh_water_is_met() {
        let table = [
            (5.0, "12.77"),
            (10.0, "11.29"),
            (12.0, "10.78"),
            (15.0, "10.08"),
            (18.0, "9.47"),
            (20.0, "9.09"),
            (22.0, "8.74"),
            (24.0, "8.42"),
            (25.0, "8.26"),
            (26.0, "8.11"),
            (28.0, "7.83"),
            (30.0, "7.56"),
            (32.0, "7.30"),
            (35.0, "6.95"),
        ];
        for (t, mg_per_litre) in table {
            printed(saturation(t), mg_per_litre);
            printed(saturation_at(t, ATMOSPHERE), mg_per_litre);
        }
    }

    /// Benson and Krause 1984, equation 24: 0.887 atm, about 1000 m, at 20 °C.
    #[test]
    fn thin_air_holds_less() {
        printed(saturation_at(20.0, 0.887 * ATMOSPHERE), "8.04");
        printed(share(4.02, 20.0, 0.887 * ATMOSPHERE), "0.50");
    }
}
