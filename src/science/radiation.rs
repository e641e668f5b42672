//! Sun on level ground: at the top of the air, through a clear sky and through clouds; what a
//! green surface keeps of it.
//!
//! After FAO Irrigation and Drainage Paper 56 (FAO-56), chapter 3. Radiation is in MJ/m²/d, by
//! the hour in MJ/m²/h. Latitude in degrees, north positive, −90 to 90; `day` is the day of the
//! year, 1 to 366, at mid-month for a monthly mean.

use std::f64::consts::{PI, TAU};

/// Solar constant (MJ/m²/min): FAO-56, equation 21.
const SOLAR: f64 = 0.0820;
/// Minutes in half a day.
const HALF_DAY: f64 = 12.0 * 60.0;
/// Stefan-Boltzmann constant (MJ/m²/d/K⁴): FAO-56, equation 39.
const STEFAN_BOLTZMANN: f64 = 4.903e-9;
/// 0 °C on the absolute scale (K), as FAO-56 has it in equation 39.
const ABSOLUTE: f64 = 273.16;
/// Least of radiation over that of a clear sky that is believed: FAO-56 gives 0.33 for dense cloud;
/// the limit of 0.3 is that of ASCE-EWRI 2005, from memory.
const LEAST_CLEAR: f64 = 0.3;
/// Share of the sun that short grass reflects: FAO-56, equation 38.
pub const ALBEDO: f64 = 0.23;

/// Where the sun stands on one day at one latitude: FAO-56, equations 22 to 25.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sun {
    /// Inverse relative distance of earth and sun (no unit).
    pub distance: f64,
    /// Declination (rad).
    pub declination: f64,
    /// Latitude (rad).
    pub latitude: f64,
    /// Hour angle of sunset (rad): 0 in the polar night, π on the polar day.
    pub sunset: f64,
}

impl Sun {
    /// The sun at a latitude (degrees, north positive) on a day of the year (1 to 366).
    #[must_use]
    pub fn new(latitude: f64, day: f64) -> Self {
        let year = TAU * day / 365.0;
        let latitude = latitude * PI / 180.0;
        let declination = 0.409 * libm::sin(year - 1.39);
        let cosine = -libm::tan(latitude) * libm::tan(declination);
        Self {
            distance: 1.0 + 0.033 * libm::cos(year),
            declination,
            latitude,
            sunset: libm::acos(cosine.clamp(-1.0, 1.0)),
        }
    }

    /// Radiation at the top of the air between two hour angles (MJ/m²): FAO-56, equation 28.
    fn between(&self, from: f64, to: f64) -> f64 {
        let (from, to) = (from.max(-self.sunset), to.min(self.sunset));
        if to <= from {
            return 0.0;
        }
        let high = libm::sin(self.latitude) * libm::sin(self.declination);
        let wide = libm::cos(self.latitude) * libm::cos(self.declination);
        let sum = (to - from) * high + wide * (libm::sin(to) - libm::sin(from));
        HALF_DAY / PI * SOLAR * self.distance * sum
    }

    /// Extraterrestrial radiation of the day (MJ/m²/d): FAO-56, equation 21.
    #[must_use]
    pub fn extraterrestrial(&self) -> f64 {
        self.between(-self.sunset, self.sunset)
    }

    /// Daylight (h/d): FAO-56, equation 34.
    #[must_use]
    pub fn daylight(&self) -> f64 {
        24.0 / PI * self.sunset
    }

    /// Extraterrestrial radiation of one hour (MJ/m²/h), 0 at night: FAO-56, equations 28 to 33.
    ///
    /// `clock` is the middle of the hour, 0 to 24 in standard time (14.5 from 14 to 15 h); `west`
    /// is how far the place lies west of the middle of its time zone (degrees, east negative).
    #[must_use]
    pub fn extraterrestrial_hour(&self, day: f64, clock: f64, west: f64) -> f64 {
        let b = TAU * (day - 81.0) / 364.0;
        let season = 0.1645 * libm::sin(2.0 * b) - 0.1255 * libm::cos(b) - 0.025 * libm::sin(b);
        // FAO-56 writes 1/15 h per degree as 0.06667.
        let angle = PI / 12.0 * (clock - west / 15.0 + season - 12.0);
        // An hour may reach past midnight of the sun, into the day before or after.
        let days = [-TAU, 0.0, TAU];
        days.map(|d| self.between(angle + d - PI / 24.0, angle + d + PI / 24.0)).iter().sum()
    }
}

/// Solar radiation on the ground (the unit of `ra`) from the hours the sun shone, `sunshine`, of
/// `daylight` hours: FAO-56, equation 35, with its 0.25 and 0.50 where none are fitted. 0 without
/// daylight.
#[must_use]
pub fn from_sunshine(ra: f64, sunshine: f64, daylight: f64) -> f64 {
    if daylight <= 0.0 {
        return 0.0;
    }
    (0.25 + 0.50 * (sunshine / daylight).clamp(0.0, 1.0)) * ra
}

/// Solar radiation under a clear sky at `z` metres (the unit of `ra`): FAO-56, equation 37.
#[must_use]
pub fn clear_sky(ra: f64, z: f64) -> f64 {
    (0.75 + 2e-5 * z) * ra
}

/// Sun that grass keeps (the unit of `rs`): FAO-56, equation 38.
#[must_use]
pub fn net_shortwave(rs: f64) -> f64 {
    (1.0 - ALBEDO) * rs
}

/// What vapour, `ea` kPa, and clouds, `clear` = Rs/Rso, leave of the heat given off.
fn sky(ea: f64, clear: f64) -> f64 {
    (0.34 - 0.14 * libm::sqrt(ea)) * (1.35 * clear.clamp(LEAST_CLEAR, 1.0) - 0.35)
}

fn emitted(t: f64) -> f64 {
    let square = (t + ABSOLUTE) * (t + ABSOLUTE);
    STEFAN_BOLTZMANN * square * square
}

/// Heat that grass gives off to the sky in a day (MJ/m²/d): FAO-56, equation 39.
///
/// From the day's highest and lowest temperature (°C), the vapour pressure `ea` (kPa, 0 or more)
/// and `clear`, radiation over that of a clear sky (held within 0.3 and 1).
#[must_use]
pub fn net_longwave(t_max: f64, t_min: f64, ea: f64, clear: f64) -> f64 {
    f64::midpoint(emitted(t_max), emitted(t_min)) * sky(ea, clear)
}

/// Heat that grass gives off to the sky in an hour (MJ/m²/h): FAO-56, chapter 4, hourly time step.
#[must_use]
pub fn net_longwave_hour(t: f64, ea: f64, clear: f64) -> f64 {
    emitted(t) / 24.0 * sky(ea, clear)
}

#[cfg(test)]
mod tests {
    use super::super::check::printed;
    use super::*;

    /// FAO-56, examples 8 and 9 (3 September, 20° S): printed values from memory.
    #[test]
    fn third_of_september_at_twenty_degrees_south() {
        let sun = Sun::new(-20.0, 246.0);
        printed(sun.distance, "0.985");
        printed(sun.declination, "0.120");
        printed(sun.sunset, "1.527");
        printed(sun.extraterrestrial(), "32.2");
        printed(sun.daylight(), "11.7");
    }

    /// FAO-56, examples 10 to 12 (Rio de Janeiro, May, 22.90° S, 220 h of sun, 25.1 and 19.1 °C,
    /// 2.1 kPa): printed values from memory.
    #[test]
    fn rio_in_may() {
        let sun = Sun::new(-22.9, 135.0);
        let ra = sun.extraterrestrial();
        printed(ra, "25.1");
        printed(sun.daylight(), "10.9");
        let rs = from_sunshine(ra, 220.0 / 31.0, sun.daylight());
        printed(rs, "14.5");
        let rso = clear_sky(ra, 0.0);
        printed(rso, "18.8");
        printed(net_shortwave(rs), "11.1");
        printed(net_longwave(25.1, 19.1, 2.1, rs / rso), "3.5");
    }

    /// FAO-56, example 19 (N'Diaye, 1 October).
    #[test]
    fn ndiaye_by_the_hour() {
        let hour = |clock| Sun::new(16.22, 274.0).extraterrestrial_hour(274.0, clock, 1.25);
        let ra = hour(14.5);
        printed(ra, "3.543");
        printed(clear_sky(ra, 8.0), "2.658");
        printed(hour(2.5), "0");
    }

    #[test]
    fn the_hours_of_a_day_add_up_to_it() {
        for (latitude, day) in [(-34.0, 10.0), (0.0, 81.0), (50.8, 187.0), (80.0, 172.0)] {
            for west in [-20.0, 0.0, 7.5] {
                let sun = Sun::new(latitude, day);
                let hours = (0..24).map(|h| f64::from(h) + 0.5);
                let sum: f64 = hours.map(|h| sun.extraterrestrial_hour(day, h, west)).sum();
                let whole = sun.extraterrestrial();
                assert!((sum - whole).abs() < 1e-9, "{sum} and {whole} at {latitude}");
            }
        }
    }

    #[test]
    fn the_poles_have_long_days_and_nights() {
        let (summer, winter) = (Sun::new(80.0, 172.0), Sun::new(80.0, 355.0));
        printed(summer.daylight(), "24.0");
        assert!(summer.extraterrestrial() > 40.0);
        printed(winter.daylight(), "0.0");
        printed(winter.extraterrestrial(), "0.0");
        printed(from_sunshine(0.0, 0.0, winter.daylight()), "0.0");
    }
}
