//! A thousand seasons of a bin: how often it runs dry.
//!
//! Each season has one factor for its thirst, log-normal to both sides, with the plan's low and
//! high use as its one in ten and nine in ten; and each day strays from its share of the use by a
//! log-normal of its own, mean 1. The draws are the same for every bin and every run: more plants
//! never dry later.

use super::{Band, Fill, Season};
use crate::compute::season::Event;

/// Seasons drawn.
pub const DRAWS: usize = 1000;
/// Where the draws begin.
const SEED: u64 = 0x5745_4554;
/// How far a day strays, standard deviation of its logarithm (a judgement, no source).
const DAY: f64 = 0.25;
/// One in ten and nine in ten of a normal distribution lie this far from its middle.
const TENTH: f64 = 1.2816;

/// How often a bin reaches its reserve before the end (0 to 1).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Odds {
    /// If nothing is added.
    pub alone: f64,
    /// With the planned top-ups, each to its line.
    pub topped: f64,
}

/// Days drawn; each season takes a run of them that begins elsewhere.
const DAYS: usize = 8192;
/// From where to where the beginnings step: a prime, so that all of them differ.
const STRIDE: usize = 7919;

/// Draws that every bin shares: a deviation for each season, and factors for its days.
#[derive(Debug, Clone)]
pub struct Draws {
    seasons: Vec<f64>,
    days: Vec<f64>,
}

impl Draws {
    /// Draws for seasons of up to so many days.
    #[must_use]
    pub fn new(length: usize) -> Self {
        let mut random = fastrand::Rng::with_seed(SEED);
        // Box and Muller 1958: two uniform numbers give a normal one.
        let mut normal = || {
            let (u, v) = (1.0 - random.f64(), random.f64());
            libm::sqrt(-2.0 * libm::log(u)) * libm::cos(2.0 * std::f64::consts::PI * v)
        };
        let seasons = (0..DRAWS).map(|_| normal()).collect();
        let day = |z: f64| libm::exp(DAY * z - 0.5 * DAY * DAY);
        let mut days: Vec<f64> = (0..DAYS).map(|_| day(normal())).collect();
        let more: Vec<f64> = days.iter().copied().cycle().take(length).collect();
        days.extend(more);
        Self { seasons, days }
    }

    /// The days of a season.
    fn days(&self, season: usize) -> &[f64] {
        &self.days[season * STRIDE % DAYS..]
    }
}

/// A bin's season as the draws run through it.
#[derive(Debug, Clone)]
pub struct Course {
    /// Plants' expected use on each day (L).
    pub uses: Vec<f64>,
    /// Other losses on each day (L).
    pub loss: f64,
    /// Low, expected and high use in all (L).
    pub need: Band,
    /// First filling (L).
    pub filling: f64,
    /// What the roots are left with (L).
    pub reserve: f64,
    /// On each day, the amount that is topped up to (L); 0 for none.
    pub topped: Vec<f64>,
}

impl Course {
    /// A course; `drunk` gives the plants' expected use until a day, `volume` the litres below a
    /// height.
    pub(super) fn new(
        fill: &Fill,
        season: &Season,
        days: u32,
        drunk: impl Fn(f64) -> f64,
        volume: impl Fn(f64) -> f64,
    ) -> Self {
        let uses = (0..days).map(f64::from).map(|d| drunk(d + 1.0) - drunk(d)).collect();
        let mut topped = vec![0.0; usize::try_from(days).unwrap_or(0) + 1];
        let first = season.checks.first().map(|c| c.day);
        for (check, event) in season.events() {
            let (Event::TopUp(pour) | Event::ChangeOut(pour)) = event;
            let since = first.and_then(|d| d.until(check.day).ok()).map_or(0, |s| s.get_days());
            if let Some(to) = usize::try_from(since).ok().and_then(|d| topped.get_mut(d)) {
                *to = volume(pour.to);
            }
        }
        let loss = season.loss / f64::from(days.max(1));
        let (filling, reserve) = (fill.start_volume, fill.reserve_volume);
        Self { uses, loss, need: season.need, filling, reserve, topped }
    }

    /// What a season drinks, as a part of what is expected, at a deviation of a normal draw.
    #[must_use]
    pub fn factor(&self, z: f64) -> f64 {
        let Band { low, expected, high } = self.need;
        let end = if z < 0.0 { expected / low.max(1e-9) } else { high / expected.max(1e-9) };
        libm::exp(z / TENTH * libm::log(end.max(1.0)))
    }

    /// How often it reaches its reserve.
    #[must_use]
    pub fn odds(&self, draws: &Draws) -> Odds {
        let (mut alone, mut topped) = (0_u32, 0_u32);
        for (i, z) in draws.seasons.iter().enumerate() {
            let factor = self.factor(*z);
            let days = draws.days(i);
            alone += u32::from(self.runs_dry(factor, days, false));
            topped += u32::from(self.runs_dry(factor, days, true));
        }
        let share = |n: u32| f64::from(n) / f64::from(u32::try_from(DRAWS).unwrap_or(1));
        Odds { alone: share(alone), topped: share(topped) }
    }

    /// Whether one season reaches the reserve before its last day.
    fn runs_dry(&self, factor: f64, days: &[f64], topped: bool) -> bool {
        let mut left = self.filling;
        for ((use_, stray), to) in self.uses.iter().zip(days).zip(&self.topped) {
            if topped && *to > left {
                left = *to;
            }
            left -= factor * use_ * stray + self.loss;
            if left < self.reserve {
                return true;
            }
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn course(plants: f64) -> Course {
        Course {
            uses: (0..40).map(|d| plants * 0.005 * f64::from(d)).collect(),
            loss: 0.02,
            need: Band { low: 0.6, expected: 1.0, high: 1.7 },
            filling: 20.0,
            reserve: 2.0,
            topped: vec![0.0; 41],
        }
    }

    /// The ends of the band are what they are said to be: one season in ten drinks less than the
    /// low end, one in ten more than the high end.
    #[test]
    fn one_in_ten_lies_beyond_each_end() {
        let draws = Draws::new(1);
        let course = course(1.0);
        let factors: Vec<f64> = draws.seasons.iter().map(|z| course.factor(*z)).collect();
        let beyond = |test: fn(f64) -> bool| factors.iter().filter(|f| test(**f)).count();
        assert!((70..=130).contains(&beyond(|f| f < 0.6)));
        assert!((70..=130).contains(&beyond(|f| f > 1.7)));
        assert!((430..=570).contains(&beyond(|f| f > 1.0)));
    }

    #[test]
    fn days_stray_around_their_share() {
        let draws = Draws::new(120);
        let mean = draws.days.iter().sum::<f64>() / 8312.0;
        assert!((mean - 1.0).abs() < 0.01, "{mean}");
    }

    #[test]
    fn more_plants_never_dry_later_and_top_ups_help() {
        let draws = Draws::new(40);
        let mut before = 0.0;
        for plants in [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0] {
            let odds = course(plants).odds(&draws);
            assert!(odds.alone >= before, "{plants}: {odds:?}");
            assert!((odds.alone - odds.topped).abs() < 1e-12);
            before = odds.alone;
        }
        assert!(course(0.5).odds(&draws).alone < 1e-12);
        let mut topped = course(6.0);
        topped.topped[25] = 15.0;
        let odds = topped.odds(&draws);
        assert!(odds.topped < odds.alone, "{odds:?}");
    }
}
