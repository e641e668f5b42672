//! Reference evaporation by the hour: FAO Irrigation and Drainage Paper 56 (FAO-56), chapter 4.

use super::evaporation::{ABSOLUTE, PER_MEGAJOULE, RESISTANCE, ReferenceEvaporation};
use super::{air, radiation};

/// Coefficient of the wind term by the hour (mm·°C·s/(kPa·m·h)): FAO-56, equation 53.
pub const WIND_HOUR: f64 = 37.0;

/// Weather of an hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hour {
    /// Altitude (m).
    pub altitude: f64,
    /// Temperature (°C).
    pub t: f64,
    /// Relative humidity (share).
    pub rh: f64,
    /// Wind at 2 m (m/s).
    pub wind: f64,
    /// Solar radiation (MJ/m²/h), 0 at night.
    pub sun: f64,
    /// Solar radiation over that of a clear sky; at night that of two to three hours before
    /// sunset.
    pub clear: f64,
}

impl Hour {
    /// The equation by the hour: radiation in MJ/m²/h, result in mm/h. FAO-56, equations 45, 46
    /// and 53: by day a tenth of the net radiation goes into the ground, by night half.
    #[must_use]
    pub fn reference(&self) -> ReferenceEvaporation<f64> {
        let e_s = air::saturation(self.t);
        let e_a = e_s * self.rh;
        let r_n = radiation::net_shortwave(self.sun)
            - radiation::net_longwave_hour(self.t, e_a, self.clear);
        ReferenceEvaporation {
            w: PER_MEGAJOULE,
            slope: air::slope(self.t),
            r_n,
            g: r_n * if self.sun > 0.0 { 0.1 } else { 0.5 },
            gamma: air::psychrometric(air::pressure(self.altitude)),
            c_w: WIND_HOUR,
            t: self.t,
            t_0: ABSOLUTE,
            u_2: self.wind,
            e_s,
            e_a,
            c_r: RESISTANCE,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::check::printed;
    use super::*;
    use crate::number::Formula;

    /// FAO-56, example 19 (N'Diaye, 1 October, 14 to 15 h and 2 to 3 h): 0.63 and 0.00 mm/h.
    #[test]
    fn ndiaye_by_the_hour() {
        let sun = radiation::Sun::new(16.22, 274.0);
        let rso = radiation::clear_sky(sun.extraterrestrial_hour(274.0, 14.5, 1.25), 8.0);
        let noon =
            Hour { altitude: 8.0, t: 38.0, rh: 0.52, wind: 3.3, sun: 2.450, clear: 2.450 / rso };
        let r = noon.reference();
        printed(r.e_a, "3.445");
        printed(radiation::net_longwave_hour(noon.t, r.e_a, noon.clear), "0.137");
        printed(r.r_n, "1.749");
        printed(r.value(), "0.627");
        let night = Hour { altitude: 8.0, t: 28.0, rh: 0.90, wind: 1.9, sun: 0.0, clear: 0.8 };
        let r = night.reference();
        printed(r.r_n, "−0.100");
        printed(r.value(), "0.004");
    }
}
