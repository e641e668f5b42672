//! Water vapour and pressure of the air: saturation, humidity, deficit, psychrometric constant.
//!
//! After Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56 (FAO-56),
//! chapter 3. Temperatures are air temperatures (°C), for −10 to 50 °C; pressures are in kPa;
//! relative humidity is a share, 0 to 1.

use crate::number::{Card, Formula, Number, unit};

/// Saturation pressure at 0 °C (kPa): FAO-56, equation 11.
pub const PRESSURE_AT_ZERO: f64 = 0.6108;
/// Steepness of the saturation curve (no unit): FAO-56, equation 11.
pub const STEEPNESS: f64 = 17.27;
/// Offset of the temperature in the saturation curve (°C): FAO-56, equation 11.
pub const OFFSET: f64 = 237.3;

/// Pressure of the vapour in air that can hold no more (kPa).
pub struct SaturationPressure<N> {
    /// Pressure at 0 °C (kPa).
    pub e_0: N,
    /// Steepness of the curve.
    pub k: N,
    /// Air temperature (°C).
    pub t: N,
    /// Offset of the temperature (°C).
    pub t_0: N,
}
impl<N: Number> Formula<N> for SaturationPressure<N> {
    const CARD: Card = Card {
        id: "saturation-pressure",
        says: "Warm air can hold more vapour: an exponential curve of the temperature",
        unit: unit::KILOPASCAL,
        source: "fao-56",
        at: "chapter 3, equation 11",
    };
    fn value(self) -> N {
        let Self { e_0, k, t, t_0 } = self;
        e_0 * (k * t / (t + t_0)).exp()
    }
}

/// What the air could still take up: the vapour pressure deficit, or VPD (kPa).
pub struct VapourDeficit<N> {
    /// Saturation pressure (kPa).
    pub e_s: N,
    /// Relative humidity (share).
    pub rh: N,
}
impl<N: Number> Formula<N> for VapourDeficit<N> {
    const CARD: Card = Card {
        id: "vapour-deficit",
        says: "Saturation pressure times the share that is missing from saturated air",
        unit: unit::KILOPASCAL,
        source: "fao-56",
        at: "chapter 3, relative humidity (equation 10)",
    };
    fn value(self) -> N {
        self.e_s * (N::from(1.0) - self.rh)
    }
}

/// Saturation pressure at `t` °C (kPa); at the dew point it is the actual vapour pressure
/// (FAO-56, equations 11 and 14).
#[must_use]
pub fn saturation(t: f64) -> f64 {
    SaturationPressure { e_0: PRESSURE_AT_ZERO, k: STEEPNESS, t, t_0: OFFSET }.value()
}

/// Mean saturation pressure of a day or month from its highest and lowest temperature (kPa):
/// FAO-56, equation 12. The mean temperature alone would give too little.
#[must_use]
pub fn mean_saturation(t_max: f64, t_min: f64) -> f64 {
    f64::midpoint(saturation(t_max), saturation(t_min))
}

/// Actual vapour pressure from the day's highest and lowest temperature (°C) and humidity
/// (shares): FAO-56, equation 17 (kPa). Air is dampest when it is coldest.
#[must_use]
pub fn actual_from_extremes([t_max, t_min]: [f64; 2], [rh_max, rh_min]: [f64; 2]) -> f64 {
    f64::midpoint(saturation(t_min) * rh_max, saturation(t_max) * rh_min)
}

/// Actual vapour pressure from the day's highest and lowest temperature (°C) and mean humidity
/// (share): FAO-56, equation 19 (kPa); less exact than equation 17.
#[must_use]
pub fn actual_from_mean(t_max: f64, t_min: f64, rh_mean: f64) -> f64 {
    rh_mean * mean_saturation(t_max, t_min)
}

/// Slope of the saturation curve at `t` °C (kPa/°C): FAO-56, equation 13.
#[must_use]
pub fn slope(t: f64) -> f64 {
    4098.0 * saturation(t) / ((t + OFFSET) * (t + OFFSET))
}

/// Air pressure at an altitude of `z` metres, for 20 °C at sea level (kPa): FAO-56, equation 7.
/// For −400 to 5000 m; the weather moves it by some 3 %.
#[must_use]
pub fn pressure(z: f64) -> f64 {
    101.3 * libm::pow((293.0 - 0.0065 * z) / 293.0, 5.26)
}

/// Psychrometric constant at an air pressure of `p` kPa (kPa/°C): FAO-56, equation 8.
#[must_use]
pub fn psychrometric(p: f64) -> f64 {
    0.665e-3 * p
}

#[cfg(test)]
mod tests {
    use super::super::check::{printed, put, sound};
    use super::*;
    use crate::number::{Name, Pen, Sheet};

    /// FAO-56, equations 11 and 13, worked to four decimals; FAO-56, annex 2, tables 2.3 and 2.4
    /// print the same values to three (the tables from memory).
    #[test]
    fn pressure_and_slope_have_their_tabulated_values() {
        let table = [
            (0.0, "0.6108", "0.0445"),
            (5.0, "0.8723", "0.0609"),
            (10.0, "1.2280", "0.0823"),
            (15.0, "1.7053", "0.1098"),
            (18.0, "2.0640", "0.1298"),
            (20.0, "2.3383", "0.1447"),
            (22.0, "2.6439", "0.1611"),
            (24.0, "2.9839", "0.1791"),
            (25.0, "3.1678", "0.1887"),
            (28.0, "3.7799", "0.2201"),
            (30.0, "4.2431", "0.2434"),
            (35.0, "5.6227", "0.3108"),
            (40.0, "7.3756", "0.3931"),
        ];
        for (t, e_s, delta) in table {
            printed(saturation(t), e_s);
            printed(slope(t), delta);
        }
    }

    /// FAO-56, equations 10 and 11, worked to three decimals.
    #[test]
    fn deficits_have_their_tabulated_values() {
        let table = [
            (20.0, 0.50, "1.169"),
            (22.0, 0.60, "1.058"),
            (24.0, 0.60, "1.194"),
            (25.0, 0.50, "1.584"),
            (25.0, 0.70, "0.950"),
            (28.0, 0.60, "1.512"),
            (30.0, 0.40, "2.546"),
            (18.0, 0.65, "0.722"),
        ];
        for (t, rh, vpd) in table {
            printed(VapourDeficit { e_s: saturation(t), rh }.value(), vpd);
        }
    }

    /// FAO-56, example 2 (1800 m), and the same equations at 0 and 100 m.
    #[test]
    fn pressure_falls_with_altitude() {
        printed(pressure(1800.0), "81.76");
        printed(psychrometric(pressure(1800.0)), "0.0544");
        printed(psychrometric(pressure(0.0)), "0.0674");
        printed(psychrometric(pressure(100.0)), "0.0666");
    }

    /// FAO-56, examples 3 (24.5 and 15 °C), 5 and 6 (25 and 18 °C, 82 and 54 %): printed values
    /// from memory.
    #[test]
    fn worked_examples_of_humidity() {
        printed(saturation(24.5), "3.075");
        printed(mean_saturation(24.5, 15.0), "2.39");
        let e_a = actual_from_extremes([25.0, 18.0], [0.82, 0.54]);
        printed(e_a, "1.70");
        printed(mean_saturation(25.0, 18.0) - e_a, "0.91");
        printed(actual_from_mean(25.0, 18.0, 0.68), "1.78");
    }

    #[test]
    fn a_grower_can_follow_it() {
        let sheet = Sheet::new();
        let s = &sheet;
        let e_s = s.work(
            &Name::new("e-s", "e_s", ""),
            SaturationPressure {
                e_0: put(s, PRESSURE_AT_ZERO, unit::KILOPASCAL),
                k: put(s, STEEPNESS, unit::NONE),
                t: put(s, 22.0, unit::CELSIUS),
                t_0: put(s, OFFSET, unit::CELSIUS),
            },
        );
        let rh = put(s, 0.6, unit::NONE);
        s.work(&Name::new("vpd", "VPD", ""), VapourDeficit { e_s, rh });
        sound(sheet, "1.058 kPa");
    }
}
