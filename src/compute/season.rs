//! Water of a bin through the season: what is needed, what is drunk by when, when it runs dry.

use jiff::civil::Date;

use super::fill::{Worked, data};
use super::forecast::Forecast;
use super::thirst::Worked as Thirsty;
use super::{Band, Dates, advice, dates, take};
use crate::finding::Findings;
use crate::library::{Crop, Library};
use crate::number::figures::System;
use crate::number::unit::{LITRE, NONE};
use crate::number::{Formula, Name, Origin, Pen, Sheet, Traced};
use crate::plan::{Bin, Planting};
use crate::science::mixing::TotalVolume;
use crate::science::share::{ShareDrunk, ShareWithCover};
use crate::science::water::{Between, CropWater, FillingNeeded, Loss, PlantsCarried, ShareOf};

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
    /// Solution expected then (L).
    pub left: f64,
    /// Of it drunk by the plants since the check before (L).
    pub drunk: f64,
    /// What is planned.
    pub event: Option<Event>,
    /// Level after it (mm): lowest, expected, highest.
    pub after: Option<Band>,
}

/// Water of a bin through the season.
#[derive(Debug, Clone, PartialEq)]
pub struct Season {
    /// All the water the plants drink and the bin loses (L).
    pub need: Band,
    /// Share of the filling that leaves otherwise (L).
    pub loss: f64,
    /// Plants of this mixture that one filling carries to the last harvest: with low, expected and
    /// high use.
    pub carries: [u32; 3],
    /// Filling that would carry the plants there are (L).
    pub filling: f64,
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
type Use = fn(&Band) -> f64;
const USES: [Use; 3] = [|b| b.low, |b| b.expected, |b| b.high];

/// Changes that are planned because the solution is spent: more would not help a bin.
const MOST_CHANGES: usize = 12;

/// Works the season of a bin; `renew` tells on which check day a change is better than a top-up.
pub(super) fn work<'s>(
    sheet: &'s Sheet,
    bin: &Bin,
    fill: &Worked<'s>,
    dates: &Dates,
    thirst: &[Thirsty<'s>],
    renew: impl Fn(&[Check]) -> Option<Date>,
    (library, findings, system): (&Library, &Findings, System),
) -> Season {
    let (need, loss) = need(sheet, bin, fill, thirst, library);
    let litres =
        USES.map(|use_| -> Vec<f64> { thirst.iter().map(|t| use_(&t.plain.litres)).collect() });
    let drunk = |use_: usize, day: f64| {
        drunk(bin, &litres[use_], day) + loss * day / f64::from(dates.days.max(1))
    };
    let usable = fill.plain.usable;
    let dry = [2, 1, 0].map(|use_| {
        let days = 0..=dates.days;
        let dry = days.map(f64::from).find(|d| drunk(use_, *d) > usable);
        dry.map(|d| dates::after(dates.set_out, d))
    });
    let (carries, filling) = capacity(sheet, bin, fill, need, loss);
    let checks = Vec::new();
    let mut season = Season { need, loss, carries, filling, dry, checks, short: None };
    let (lines, drunk) = (&fill.plain, &drunk);
    let (from, forced, changed) = (None, [].as_slice(), 0.0);
    let forecast =
        Forecast { bin, library, lines, dates, loss, drunk, forced, from, changed, system };
    (season.checks, season.short) = with_changes(&forecast, renew);
    show_share(sheet, bin, fill, (dates, dry[1]), thirst);
    advice::on_season(bin, &fill.plain, dates, &season, (findings, system));
    season
}

/// The checks, with the changes that are due as the solution is spent.
fn with_changes(
    forecast: &Forecast<'_>,
    renew: impl Fn(&[Check]) -> Option<Date>,
) -> (Vec<Check>, Option<Date>) {
    let mut due: Vec<Date> = Vec::new();
    loop {
        let (checks, short) = Forecast { forced: &due, ..*forecast }.checks();
        match renew(&checks).filter(|day| !due.contains(day)) {
            Some(day) if due.len() < MOST_CHANGES => due.push(day),
            _ => return (checks, short),
        }
    }
}

/// Litres the plants drink by a day after set-out, at so many litres a plant of each crop.
pub(super) fn drunk(bin: &Bin, litres: &[f64], day: f64) -> f64 {
    let of = |(p, litres): (&Planting, &f64)| {
        let x = (day / dates::season_days(&p.crop)).min(1.0);
        let share = share_drunk(&p.crop, x);
        f64::from(p.count) * litres * share
    };
    bin.plants.iter().zip(litres).map(of).sum()
}

/// Share of its water that a crop has drunk at a part of its days.
fn share_drunk(crop: &Crop, x: f64) -> f64 {
    let (k, b) = (crop.share_shape.value, dates::full_cover(crop));
    if b < 1.0 { ShareWithCover { k, x, b }.value() } else { ShareDrunk { k, x }.value() }
}

/// Water needed in all, on the sheet; low and high by the same formulas.
fn need<'s>(
    sheet: &'s Sheet,
    bin: &Bin,
    fill: &Worked<'s>,
    thirst: &[Thirsty<'s>],
    library: &Library,
) -> (Band, f64) {
    let share = &library.limits.loss_share;
    let formula = Loss {
        share: take(sheet, "f_loss", "share lost otherwise", share.value, NONE, data(share)),
        v: fill.start_volume,
    };
    let loss = sheet.work(&Name::new("loss", "V_loss", "Lost by lid, cubes and samples"), formula);
    let mut total: Traced<'_> = loss;
    for (planting, thirst) in bin.plants.iter().zip(thirst) {
        let n = take(sheet, "n", "plants", f64::from(planting.count), NONE, Origin::Plan);
        let per_plant = thirst.litres;
        let name = Name::new("crop-water", "V_crop", "Water the plants drink");
        let crop = sheet.work(&name.of(&planting.crop.name), CropWater { n, per_plant });
        let name = Name::new(
            "water-need",
            "V_need",
            "Water needed from set-out to last harvest, so far in the list",
        );
        let formula = TotalVolume { so_far: total, next: crop };
        total = sheet.work(&name.of(&planting.crop.name), formula);
    }
    let all = |use_: Use| -> f64 {
        let crop = |(p, thirst): (&Planting, &Thirsty<'_>)| {
            CropWater { n: f64::from(p.count), per_plant: use_(&thirst.plain.litres) }.value()
        };
        loss.number() + bin.plants.iter().zip(thirst).map(crop).sum::<f64>()
    };
    let [low, _, high] = USES.map(all);
    (Band { low, expected: total.number(), high }, loss.number())
}

/// Plants the filling carries, and the filling the plants need.
fn capacity(sheet: &Sheet, bin: &Bin, fill: &Worked<'_>, need: Band, loss: f64) -> ([u32; 3], f64) {
    let plants = f64::from(bin.pots()).max(1.0);
    let litres = |symbol, what: &str, v| take(sheet, symbol, what, v, LITRE, Origin::Found);
    let lost = litres("V_loss", "lost otherwise", loss);
    let each = (need.expected - loss) / plants;
    let per_plant = litres("L", "water per plant, the mean of the bin", each);
    let name = Name::new("plants-carried", "n", "Plants that one filling carries");
    let formula = PlantsCarried { usable: fill.usable, loss: lost, per_plant };
    let expected = sheet.work(&name, formula).number();
    let at = |use_: f64| {
        let per_plant = (use_ - loss) / plants;
        PlantsCarried { usable: fill.plain.usable, loss, per_plant }.value()
    };
    let whole = |n: f64| (0..=10_000).take_while(|i| f64::from(*i) <= n + 1e-9).last();
    let carries = [at(need.low), expected, at(need.high)].map(|n| whole(n).unwrap_or(0));
    let need = litres("V_need", "needed, expected", need.expected);
    let name = Name::new("filling-needed", "V_fit", "Filling that would carry all of it");
    let (filling, usable) = (fill.start_volume, fill.usable);
    (carries, sheet.work(&name, FillingNeeded { filling, need, loss: lost, usable }).number())
}

/// One worked example of the share curve for each crop: on the dry day, or halfway.
fn show_share<'s>(
    sheet: &'s Sheet,
    bin: &Bin,
    fill: &Worked<'s>,
    (dates, dry): (&Dates, Option<Date>),
    thirst: &[Thirsty<'s>],
) {
    let mut so_far: Option<Traced<'_>> = None;
    for (planting, thirst) in bin.plants.iter().zip(thirst) {
        let shape = &planting.crop.share_shape;
        let length = dates::season_days(&planting.crop);
        let half = f64::from(dates.days) / 2.0;
        let day = dry.map_or(half, |d| days_between(dates.set_out, d)).min(length);
        let k = take(sheet, "k", "shape number of the crop", shape.value, NONE, data(shape));
        let then = if dry.is_some() { "by the dry day" } else { "by half of the season" };
        let item = format!("{}, {then}", planting.crop.name);
        let what = "share of its days gone by then";
        let x = take(sheet, "x", what, day / length, NONE, Origin::Found);
        let share = show_one(sheet, (&planting.crop, &item), k, x);
        let all = f64::from(planting.count) * thirst.plain.litres.expected;
        let v = take(sheet, "V_crop", "water the plants drink in all", all, LITRE, Origin::Found);
        let name = Name::new("drunk-by-then", "V_s", "Drunk by then");
        let drunk = sheet.work(&name.of(&item), ShareOf { share, v });
        let name = Name::new("drunk-so-far", "V_sum", "Drunk by all crops so far in the list");
        so_far = Some(match so_far {
            None => drunk,
            Some(so_far) => {
                let formula = TotalVolume { so_far, next: drunk };
                sheet.work(&name.of(&planting.crop.name), formula)
            }
        });
    }
    if let Some(drunk) = so_far.filter(|d| d.number() < fill.plain.start_volume) {
        let name = Name::new("left-then", "V_left", "Left in the bin then, before losses");
        sheet.work(&name, Between { above: fill.start_volume, below: drunk });
    }
}

/// The share of one crop, by the curve that it follows.
fn show_one<'s>(
    sheet: &'s Sheet,
    (crop, item): (&Crop, &str),
    k: Traced<'s>,
    x: Traced<'s>,
) -> Traced<'s> {
    let name = Name::new("share-drunk", "s", "Share of its water drunk by then").of(item);
    let b = dates::full_cover(crop);
    if b >= 1.0 {
        return sheet.work(&name, ShareDrunk { k, x });
    }
    let what = "share of its days at which leaves cover their ground";
    let b = take(sheet, "b", what, b, NONE, Origin::Found);
    sheet.work(&name, ShareWithCover { k, x, b })
}

pub(super) fn days_between(from: Date, to: Date) -> f64 {
    f64::from(from.until(to).map_or(0, |s| s.get_days()))
}
