//! Water of a bin through the season: what is drunk by when, when it runs dry, when and how far
//! to top up.

use jiff::civil::Date;

use super::fill::{Worked, data, liquid};
use super::{Band, Dates, dates, take};
use crate::finding::{Finding, Findings, Severity};
use crate::library::{Crop, Library};
use crate::number::unit::{LITRE, NONE};
use crate::number::{Formula, Name, Origin, Pen, Sheet, Traced, figures};
use crate::plan::Bin;
use crate::science::mixing::TotalVolume;
use crate::science::water::{Between, CropWater, Loss, ShareDrunk, ShareOf};

/// Something planned for a check day.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// Water or weak solution up to a line.
    TopUp(Pour),
    /// All the old solution out, fresh in.
    ChangeOut(Pour),
}

/// How far to fill, and what that takes.
#[derive(Debug, Clone, PartialEq)]
pub struct Pour {
    /// To this height (mm).
    pub to: f64,
    /// Litres it is expected to take (L).
    pub litres: f64,
    /// Days it is spread over, so that no rise is more than the roots bear.
    pub pours: u32,
}

/// A check day.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// The day.
    pub day: Date,
    /// Level before anything is added (mm): lowest, expected, highest.
    pub level: Band,
    /// What is planned.
    pub event: Option<Event>,
}

/// Water of a bin through the season.
#[derive(Debug, Clone, PartialEq)]
pub struct Season {
    /// All the water the plants drink and the bin loses (L).
    pub need: Band,
    /// Share of the filling that leaves otherwise (L).
    pub loss: f64,
    /// Day on which the level reaches the reserve line if nothing is added: early, expected,
    /// late; none if it lasts.
    pub dry: [Option<Date>; 3],
    /// Check days.
    pub checks: Vec<Check>,
    /// First check day before which even a full top-up runs short.
    pub short: Option<Date>,
}

impl Season {
    /// Check days with something planned.
    pub fn events(&self) -> impl Iterator<Item = (&Check, &Event)> {
        self.checks.iter().filter_map(|c| c.event.as_ref().map(|e| (c, e)))
    }
}

/// Which of the three uses is followed.
type Use = fn(&Crop) -> f64;
const USES: [Use; 3] = [|c| c.water.low, |c| c.water.expected, |c| c.water.high];

/// Works the season of a bin.
pub fn work(
    sheet: &Sheet,
    bin: &Bin,
    fill: &Worked<'_>,
    dates: &Dates,
    library: &Library,
    findings: &Findings,
) -> Season {
    let (need, loss) = need(sheet, bin, fill, library);
    let drunk = |use_: usize, day: f64| drunk(bin, loss, dates.days, USES[use_], day);
    let usable = fill.plain.usable;
    let dry = [2, 1, 0].map(|use_| {
        let days = 0..=dates.days;
        let dry = days.map(f64::from).find(|d| drunk(use_, *d) > usable);
        dry.map(|d| dates::after(dates.set_out, d))
    });
    let mut season = Season { need, loss, dry, checks: Vec::new(), short: None };
    plan_checks(&mut season, bin, fill, dates, library, &drunk);
    show_share(sheet, bin, fill, dates, dry[1]);
    say(bin, fill, dates, &season, findings);
    season
}

/// Litres drunk and lost by a day after set-out.
fn drunk(bin: &Bin, loss: f64, days: u32, use_: Use, day: f64) -> f64 {
    let plants: f64 = bin
        .plants
        .iter()
        .map(|p| {
            let x = (day / dates::season_days(&p.crop)).min(1.0);
            let share = ShareDrunk { k: p.crop.share_shape.value, x }.value();
            f64::from(p.count) * use_(&p.crop) * share
        })
        .sum();
    plants + loss * day / f64::from(days.max(1))
}

/// Water needed in all, on the sheet; low and high by the same formulas.
fn need(sheet: &Sheet, bin: &Bin, fill: &Worked<'_>, library: &Library) -> (Band, f64) {
    let share = &library.limits.loss_share;
    let formula = Loss {
        share: take(sheet, "f_loss", "share lost otherwise", share.value, NONE, data(share)),
        v: fill.start_volume,
    };
    let loss = sheet.work(&Name::new("loss", "V_loss", "Lost by lid, cubes and samples"), formula);
    let mut total: Traced<'_> = loss;
    for planting in &bin.plants {
        let water = &planting.crop.water;
        let from = match water.source.as_str() {
            "plan" => Origin::Plan,
            source => Origin::Data(source, &water.at),
        };
        let n = take(sheet, "n", "plants", f64::from(planting.count), NONE, Origin::Plan);
        let per_plant = take(sheet, "L", "water per plant", water.expected, LITRE, from);
        let name = Name::new("crop-water", "V_crop", "Water the plants drink");
        let crop = sheet.work(&name.of(&planting.crop.name), CropWater { n, per_plant });
        let name = Name::new("water-need", "V_need", "Water needed, set-out to last harvest");
        let formula = TotalVolume { so_far: total, next: crop };
        total = sheet.work(&name.of(&planting.crop.name), formula);
    }
    let all = |use_: Use| -> f64 {
        let crop = |p: &crate::plan::Planting| {
            CropWater { n: f64::from(p.count), per_plant: use_(&p.crop) }.value()
        };
        loss.number() + bin.plants.iter().map(crop).sum::<f64>()
    };
    let [low, _, high] = USES.map(all);
    (Band { low, expected: total.number(), high }, loss.number())
}

/// One worked example of the share curve: on the dry day, or halfway.
fn show_share(sheet: &Sheet, bin: &Bin, fill: &Worked<'_>, dates: &Dates, dry: Option<Date>) {
    let Some(planting) = bin.plants.first() else { return };
    let shape = &planting.crop.share_shape;
    let length = dates::season_days(&planting.crop);
    let day = dry.map_or(length / 2.0, |d| days_between(dates.set_out, d)).min(length);
    let k = take(sheet, "k", "shape number of the crop", shape.value, NONE, data(shape));
    let what = if dry.is_some() { "share of its days by the dry day" } else { "half its days" };
    let x = take(sheet, "x", what, day / length, NONE, Origin::Found);
    let name = Name::new("share-drunk", "s", "Share of its water drunk by then");
    let share = sheet.work(&name.of(&planting.crop.name), ShareDrunk { k, x });
    let water = &planting.crop.water;
    let all = f64::from(planting.count) * water.expected;
    let v = take(sheet, "V_crop", "water the plants drink in all", all, LITRE, Origin::Found);
    let name = Name::new("drunk-by-then", "V_s", "Drunk by then");
    let drunk = sheet.work(&name.of(&planting.crop.name), ShareOf { share, v });
    if drunk.number() < fill.plain.start_volume {
        let name = Name::new("left-then", "V_left", "Left in the bin then, before losses");
        let formula = Between { above: fill.start_volume, below: drunk };
        sheet.work(&name.of(&planting.crop.name), formula);
    }
}

fn days_between(from: Date, to: Date) -> f64 {
    f64::from(from.until(to).map_or(0, |s| s.get_days()))
}

/// Follows the three uses from check to check; tops up where the expected one needs it.
fn plan_checks(
    season: &mut Season,
    bin: &Bin,
    fill: &Worked<'_>,
    dates: &Dates,
    library: &Library,
    drunk: &dyn Fn(usize, f64) -> f64,
) {
    let lines = &fill.plain;
    let level = |v: f64| {
        bin.vessel.height_where(v, |h| liquid(bin, library, h)).min(lines.start)
    };
    let half = f64::midpoint(lines.ceiling, lines.reserve);
    let volume = |h: f64| liquid(bin, library, h);
    let ends: Vec<f64> =
        dates.checks.iter().map(|d| days_between(dates.set_out, *d)).collect();
    let last = f64::from(dates.days);
    let mut left = [lines.start_volume; 3];
    let mut before = 0.0;
    let mut changed = 0.0;
    for (i, (&day, &at)) in dates.checks.iter().zip(&ends).enumerate() {
        for (use_, v) in left.iter_mut().enumerate() {
            *v = (*v - (drunk(use_, at) - drunk(use_, before))).max(0.0);
        }
        before = at;
        // Most use leaves the lowest level.
        let [high, expected, low] = left.map(level);
        let next = ends.get(i + 1).copied().unwrap_or(last);
        let to_next = drunk(1, next) - drunk(1, at);
        let rest = drunk(2, last) - drunk(2, at);
        let change = change_due(library, dates, at, changed, last);
        let rise = library.limits.top_up_rise.value;
        let stops = lines.reserve_volume + rest;
        let target = if change {
            volume((expected + rise).min(lines.ceiling))
        } else {
            // Back to half, a day's rise at a time, or as far as the next check needs.
            let bearable = expected + rise * (next - at).max(1.0);
            let gentle = volume(bearable.min(half + rise).min(lines.ceiling));
            let covers = (lines.reserve_volume + to_next).min(lines.ceiling_volume);
            gentle.max(covers).min(stops)
        };
        let short_of_end = left[1] - (drunk(1, last) - drunk(1, at)) < lines.reserve_volume;
        let low_enough = expected < half
            || left[1] - to_next < lines.reserve_volume;
        let fills = i > 0
            && (change || (short_of_end && low_enough && rest > 0.0 && target > left[1]));
        let event = fills.then(|| {
            let to = level(target).min(lines.ceiling);
            let litres = if change { target } else { target - left[1] };
            let pours = if change { 1 } else { pours(to - expected, rise) };
            let pour = Pour { to, litres, pours };
            if change { Event::ChangeOut(pour) } else { Event::TopUp(pour) }
        });
        if event.is_some() {
            left = left.map(|v| v.max(target));
            changed = if change { at } else { changed };
        }
        if left[1] - to_next < 0.99 * lines.reserve_volume && season.short.is_none() && rest > 0.0 {
            season.short = Some(day);
        }
        let level = Band { low, expected, high };
        season.checks.push(Check { day, level, event });
    }
}

/// In a long crop the solution is changed every few weeks, but not just before the end.
fn change_due(library: &Library, dates: &Dates, at: f64, changed: f64, last: f64) -> bool {
    let limits = &library.limits;
    let every = limits.change_out_days.value;
    f64::from(dates.days) > limits.change_out_above_days.value
        && at - changed >= every
        && last - at > every / 2.0
}

fn pours(rise: f64, most: f64) -> u32 {
    (1..=20).find(|n| rise / f64::from(*n) <= most).unwrap_or(20)
}

fn say(bin: &Bin, fill: &Worked<'_>, dates: &Dates, season: &Season, findings: &Findings) {
    let caution = |code, message: String, help: &str| {
        let finding = Finding::new(Severity::Caution, code, message, help);
        findings.add(finding.at(bin.place.clone(), "this bin"));
    };
    let [early, expected, _] = season.dry;
    if let Some(day) = expected {
        let message = format!(
            "\"{}\" will be down to its reserve about {day}, before the last harvest on {}",
            bin.called, dates.end
        );
        let help = format!(
            "it needs about {} and holds {} above the reserve; the booklet plans top-ups under \
             the ceiling; a larger bin or fewer plants would do without",
            figures::volume(season.need.expected, figures::System::Metric),
            figures::volume(fill.plain.usable, figures::System::Metric),
        );
        caution("runs-dry", message, &help);
    } else if let Some(day) = early {
        let message = format!(
            "\"{}\" may be down to its reserve by {day} in a hot or bright season",
            bin.called
        );
        caution("may-run-dry", message, "keep the checks; top up under the ceiling if it falls early");
    }
    if let Some(day) = season.short {
        let message =
            format!("from {day} \"{}\" drinks more between two checks than it holds", bin.called);
        let help = "look at it more often (`checks-a-week`), or use a larger bin or fewer plants";
        caution("bin-too-small", message, help);
    }
}
