//! Water that grass, and a crop by comparison with it, gives to the air outdoors.
//!
//! After FAO Irrigation and Drainage Paper 56 (FAO-56), chapter 4: the Penman-Monteith equation
//! for short, well watered grass. It does not hold under lamps or in closed rooms.

use super::{air, radiation};
use crate::number::{Card, Formula, Number, unit};

/// Water that a megajoule evaporates (mm·m²/MJ), the inverse of 2.45 MJ/kg: FAO-56, equation 6.
pub const PER_MEGAJOULE: f64 = 0.408;
/// Coefficient of the wind term by the day (mm·°C·s/(kPa·m·d)): FAO-56, equation 6.
pub const WIND_DAY: f64 = 900.0;
/// Coefficient of the resistance of grass (s/m): FAO-56, equation 6.
pub const RESISTANCE: f64 = 0.34;
/// 0 °C on the absolute scale (°C), as FAO-56 has it in equation 6.
pub const ABSOLUTE: f64 = 273.0;

/// Reference evaporation, ET0: what short, well watered grass evaporates (mm/d).
pub struct ReferenceEvaporation<N> {
    /// Water that a megajoule evaporates (mm·m²/MJ).
    pub w: N,
    /// Slope of the saturation curve (kPa/°C).
    pub slope: N,
    /// Net radiation (MJ/m²/d).
    pub r_n: N,
    /// Heat that goes into the ground (MJ/m²/d).
    pub g: N,
    /// Psychrometric constant (kPa/°C).
    pub gamma: N,
    /// Coefficient of the wind term (mm·°C·s/(kPa·m·d)).
    pub c_w: N,
    /// Mean air temperature (°C).
    pub t: N,
    /// 0 °C on the absolute scale (°C).
    pub t_0: N,
    /// Wind at 2 m (m/s).
    pub u_2: N,
    /// Saturation pressure (kPa).
    pub e_s: N,
    /// Vapour pressure (kPa).
    pub e_a: N,
    /// Coefficient of the resistance (s/m).
    pub c_r: N,
}
impl<N: Number> Formula<N> for ReferenceEvaporation<N> {
    const CARD: Card = Card {
        id: "reference-evaporation",
        says: "What sun and dry wind evaporate from short grass, weighed by the slope of the \
               saturation curve and the psychrometric constant",
        unit: unit::MILLIMETRE_PER_DAY,
        source: "fao-56",
        at: "chapter 4, equation 6",
    };
    fn value(self) -> N {
        let Self { w, slope, r_n, g, gamma, c_w, t, t_0, u_2, e_s, e_a, c_r } = self;
        let sun = w * slope * (r_n - g);
        let wind = gamma * (c_w / (t + t_0)) * u_2 * (e_s - e_a);
        (sun + wind) / (slope + gamma * (N::from(1.0) + c_r * u_2))
    }
}

/// Wind at 2 m from wind `u` (m/s) measured `z` metres above short grass, 0.5 m or more (m/s):
/// FAO-56, equation 47.
#[must_use]
pub fn wind_at_two_metres(u: f64, z: f64) -> f64 {
    u * 4.87 / libm::log(67.8 * z - 5.42)
}

/// Heat that goes into the ground in a month, from the mean temperatures of this and the last
/// month (MJ/m²/d): FAO-56, equation 44. For a single day it is taken as 0 (equation 42).
#[must_use]
pub fn ground_heat_of_month(t: f64, t_before: f64) -> f64 {
    0.14 * (t - t_before)
}

/// Weather of a day, or the mean of a month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Day {
    /// Latitude (degrees, north positive).
    pub latitude: f64,
    /// Altitude (m).
    pub altitude: f64,
    /// Day of the year, 1 to 366.
    pub day: f64,
    /// Highest temperature (°C).
    pub t_max: f64,
    /// Lowest temperature (°C).
    pub t_min: f64,
    /// Vapour pressure (kPa).
    pub e_a: f64,
    /// Wind at 2 m (m/s).
    pub wind: f64,
    /// Solar radiation (MJ/m²/d).
    pub sun: f64,
    /// Heat that goes into the ground (MJ/m²/d).
    pub ground: f64,
}

impl Day {
    /// Net radiation (MJ/m²/d): FAO-56, equation 40. In the polar night the sky counts as
    /// clear.
    #[must_use]
    pub fn net_radiation(&self) -> f64 {
        let ra = radiation::Sun::new(self.latitude, self.day).extraterrestrial();
        let clear = radiation::clear_sky(ra, self.altitude);
        let clear = if clear > 0.0 { self.sun / clear } else { 1.0 };
        radiation::net_shortwave(self.sun)
            - radiation::net_longwave(self.t_max, self.t_min, self.e_a, clear)
    }

    /// The equation with the weather put in.
    #[must_use]
    pub fn reference(&self) -> ReferenceEvaporation<f64> {
        let t = f64::midpoint(self.t_max, self.t_min);
        ReferenceEvaporation {
            w: PER_MEGAJOULE,
            slope: air::slope(t),
            r_n: self.net_radiation(),
            g: self.ground,
            gamma: air::psychrometric(air::pressure(self.altitude)),
            c_w: WIND_DAY,
            t,
            t_0: ABSOLUTE,
            u_2: self.wind,
            e_s: air::mean_saturation(self.t_max, self.t_min),
            e_a: self.e_a,
            c_r: RESISTANCE,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::check::{printed, put, sound};
    use super::*;
    use crate::number::{Name, Pen, Sheet};

    /// FAO-56, example 14 (10 m): printed value from memory; example 18 (10 km/h).
    #[test]
    fn wind_is_slower_near_the_ground() {
        printed(wind_at_two_metres(3.2, 10.0), "2.4");
        printed(wind_at_two_metres(10.0 / 3.6, 10.0), "2.078");
    }

    fn bangkok() -> Day {
        let (latitude, day) = (13.73, 105.0);
        let sun = radiation::Sun::new(latitude, day);
        Day {
            latitude,
            altitude: 2.0,
            day,
            t_max: 34.8,
            t_min: 25.6,
            e_a: 2.85,
            wind: 2.0,
            sun: radiation::from_sunshine(sun.extraterrestrial(), 8.5, sun.daylight()),
            ground: ground_heat_of_month(30.2, 29.2),
        }
    }

    fn terms(r: &ReferenceEvaporation<f64>) -> [f64; 2] {
        let below = r.slope + r.gamma * (1.0 + r.c_r * r.u_2);
        let wind = r.c_w / (r.t + r.t_0) * r.u_2 * (r.e_s - r.e_a);
        [r.w * (r.r_n - r.g) * r.slope / below, wind * r.gamma / below]
    }

    /// FAO-56, example 17 (Bangkok, April): 5.72 mm/d.
    #[test]
    fn bangkok_in_april() {
        let day = bangkok();
        let sun = radiation::Sun::new(day.latitude, day.day);
        printed(sun.extraterrestrial(), "38.06");
        printed(sun.daylight(), "12.31");
        printed(day.sun, "22.65");
        let rso = radiation::clear_sky(sun.extraterrestrial(), day.altitude);
        printed(rso, "28.54");
        printed(radiation::net_shortwave(day.sun), "17.44");
        printed(radiation::net_longwave(day.t_max, day.t_min, day.e_a, day.sun / rso), "3.11");
        let r = day.reference();
        printed(r.e_s, "4.42");
        printed(r.slope, "0.246");
        // FAO-56 goes on with the pressure it prints, 101.3 kPa; unrounded it is 0.06735.
        printed(air::pressure(day.altitude), "101.3");
        printed(air::psychrometric(101.3), "0.0674");
        assert!((r.gamma - 0.0674).abs() < 0.0001, "{}", r.gamma);
        printed(r.r_n, "14.33");
        printed(r.g, "0.14");
        let [by_sun, by_wind] = terms(&r);
        printed(by_sun, "3.97");
        printed(by_wind, "1.75");
        printed(r.value(), "5.72");
    }

    /// FAO-56, example 18 (Uccle, 6 July): 3.9 mm/d.
    #[test]
    fn uccle_in_july() {
        let sun = radiation::Sun::new(50.8, 187.0);
        let ra = sun.extraterrestrial();
        printed(ra, "41.09");
        printed(sun.daylight(), "16.1");
        let rs = radiation::from_sunshine(ra, 9.25, sun.daylight());
        printed(rs, "22.07");
        let rso = radiation::clear_sky(ra, 100.0);
        printed(rso, "30.90");
        printed(radiation::net_shortwave(rs), "17.0");
        let e_a = air::actual_from_extremes([21.5, 12.3], [0.84, 0.63]);
        printed(e_a, "1.409");
        printed(radiation::net_longwave(21.5, 12.3, e_a, rs / rso), "3.71");
        let day = Day {
            latitude: 50.8,
            altitude: 100.0,
            day: 187.0,
            t_max: 21.5,
            t_min: 12.3,
            e_a,
            wind: wind_at_two_metres(10.0 / 3.6, 10.0),
            sun: rs,
            ground: 0.0,
        };
        let r = day.reference();
        printed(r.e_s, "1.997");
        printed(r.slope, "0.122");
        printed(r.gamma, "0.0666");
        printed(r.r_n, "13.28");
        let [by_sun, by_wind] = terms(&r);
        printed(by_sun, "2.81");
        printed(by_wind, "1.07");
        printed(r.value(), "3.88");
    }

    /// A day without any sun still has an answer, and it is a number.
    #[test]
    fn the_polar_night_is_a_number() {
        let night = Day { latitude: 80.0, day: 355.0, sun: 0.0, ..bangkok() };
        assert!(night.reference().value().is_finite());
    }

    /// FAO-56, example 17, then a crop coefficient of 1.00 (FAO-56, table 12: lettuce at mid-season)
    /// on a quarter of a square metre under half cover.
    #[test]
    fn a_grower_can_follow_it() {
        let r = bangkok().reference();
        let sheet = Sheet::new();
        let s = &sheet;
        s.work(
            &Name::new("et-0", "ET_0", ""),
            ReferenceEvaporation {
                w: put(s, r.w, unit::MILLIMETRE_PER_MEGAJOULE),
                slope: put(s, r.slope, unit::KILOPASCAL_PER_CELSIUS),
                r_n: put(s, r.r_n, unit::MEGAJOULE_PER_SQUARE_METRE_DAY),
                g: put(s, r.g, unit::MEGAJOULE_PER_SQUARE_METRE_DAY),
                gamma: put(s, r.gamma, unit::KILOPASCAL_PER_CELSIUS),
                c_w: put(s, r.c_w, unit::WIND_TERM),
                t: put(s, r.t, unit::CELSIUS),
                t_0: put(s, r.t_0, unit::CELSIUS),
                u_2: put(s, r.u_2, unit::METRE_PER_SECOND),
                e_s: put(s, r.e_s, unit::KILOPASCAL),
                e_a: put(s, r.e_a, unit::KILOPASCAL),
                c_r: put(s, r.c_r, unit::SECOND_PER_METRE),
            },
        );
        sound(sheet, "5.716 mm/d");
    }
}
