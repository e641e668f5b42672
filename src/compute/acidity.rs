//! pH of a solution: what a jar trial or last time's dose means for each bin.

use super::aim::{Aim, aim};
use super::fill::{Worked, data};
use super::{Desk, batch_scope, bin_scope, take};
use crate::library::Library;
use crate::number::unit::{
    GRAM_PER_MOLE, LITRE, MILLIGRAM, MILLIGRAM_PER_MILLILITRE, MILLILITRE, NONE, PER_MILLILITRE,
    PER_MILLILITRE_2, PER_MILLILITRE_3,
};
use crate::number::{Datum, Name, Origin, Pen, Sheet, Traced, figures};
use crate::plan::Trial;
use crate::science::acidity::{AcidMass, FirstPart, LeftBehind, ScaledDose, TrialReading};
use crate::science::curve::Curve;

/// A dose for one bin (mL), in two parts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BinDose {
    /// All of it (mL).
    pub whole: f64,
    /// The part to add first (mL).
    pub first: f64,
}

/// One reading of the look-up table.
#[derive(Debug, Clone, PartialEq)]
pub struct Lookup {
    /// If the strip or meter reads this (pH)...
    pub reads: f64,
    /// ... add this much to each bin of the solution (mL).
    pub doses: Vec<f64>,
}

/// What a jar trial shows.
#[derive(Debug, Clone, PartialEq)]
pub struct TrialResult {
    /// Index into the plan's adjusters.
    pub adjuster: usize,
    /// Whether it moves pH up.
    pub up: bool,
    /// Size of the sample (L).
    pub sample: f64,
    /// All added so far (mL) and the reading.
    pub readings: Vec<(f64, f64)>,
    /// Dose of the sample that gives the target (mL); none if the trial does not reach it or
    /// nothing is needed.
    pub dose: Option<f64>,
    /// That dose for each bin of the solution.
    pub bins: Vec<BinDose>,
    /// What to add for other readings.
    pub lookup: Vec<Lookup>,
}

impl TrialResult {
    /// Dose for a litre (mL) that brings a reading to `target`, by the curve of the trial; `None` where
    /// the trial did not go.
    #[must_use]
    pub fn per_litre(&self, reads: f64, target: f64) -> Option<f64> {
        let curve = Curve::through(&self.readings)?;
        let dose = curve.find(target)? - curve.find(reads)?;
        (dose > 0.0).then(|| dose / self.sample)
    }
}

/// What baking soda and vinegar would leave behind in one bin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Household {
    /// Sodium from one level teaspoon of baking soda (mg/L).
    pub sodium: f64,
    /// Acetate from ten millilitres of 5 % vinegar (mg/L).
    pub acetate: f64,
}

/// pH of a solution.
#[derive(Debug, Clone, PartialEq)]
pub struct Acidity {
    /// Range that suits every crop in it (pH).
    pub range: [f64; 2],
    /// To aim at (pH).
    pub target: f64,
    /// Jar trials, at most one each way.
    pub trials: Vec<TrialResult>,
    /// Last time's dose for each bin: adjuster, doses.
    pub last_time: Option<(usize, Vec<BinDose>)>,
    /// Household substances, for each bin.
    pub household: Vec<Household>,
}

impl Acidity {
    /// Whether a reading is outside the range.
    #[must_use]
    pub fn outside(&self, ph: f64) -> bool {
        ph < self.range[0] || ph > self.range[1]
    }
}

/// Works the pH side of one solution.
pub(crate) fn work<'s>(desk: &Desk<'s>, mix: usize, fills: &[Worked<'s>]) -> Acidity {
    let (plan, sheet) = (desk.plan, desk.sheet);
    let batch = &plan.mixes[mix];
    let bins: Vec<usize> = (0..plan.bins.len()).filter(|b| plan.bins[*b].mix == mix).collect();
    let aim = aim(desk, mix);
    let volumes: Vec<(String, Traced<'s>)> =
        bins.iter().map(|b| (bin_scope(&plan.bins[*b].name), fills[*b].start_volume)).collect();
    let trials = batch.trials.iter().filter_map(|t| {
        sheet.about(&batch_scope(&batch.name));
        trial(desk, t, &aim, &volumes)
    });
    let trials = trials.collect();
    let last_time = batch.last_time.as_ref().map(|last| {
        sheet.about(&batch_scope(&batch.name));
        let name = &plan.adjusters[last.adjuster].name;
        let dose = plan_take(sheet, "d", "dose last time", last.dose, MILLILITRE);
        let sample = plan_take(sheet, "V_last", "for this volume", last.volume, LITRE);
        let what = Name::new("dose-as-last-time", "d_bin", "Dose as last time").of(name);
        let doses = scaled(desk, &volumes, (dose, sample), &what, "first-part-as-last-time");
        (last.adjuster, doses)
    });
    let household = volumes.iter().map(|(scope, v)| {
        sheet.about(scope);
        household(sheet, *v, desk.library)
    });
    let household = household.collect();
    Acidity { range: aim.range, target: aim.target, trials, last_time, household }
}

fn plan_take<'s>(
    sheet: &'s Sheet,
    symbol: &str,
    what: &str,
    value: f64,
    unit: crate::number::Unit,
) -> Traced<'s> {
    sheet.given(&Datum { symbol, what, value, unit, origin: Origin::Plan })
}

fn trial<'s>(
    desk: &Desk<'s>,
    trial: &Trial,
    aim: &Aim,
    volumes: &[(String, Traced<'s>)],
) -> Option<TrialResult> {
    let adjuster = &desk.plan.adjusters[trial.adjuster];
    let curve = Curve::through(&trial.readings)?;
    let start = trial.readings[0].1;
    let needed = if adjuster.up { start < aim.range[0] } else { start > aim.range[1] };
    let dose = curve.find(aim.target).filter(|_| needed);
    if needed && dose.is_none() {
        let target = figures::plain(aim.target, 3);
        let message =
            format!("the jar trial with \"{}\" does not reach pH {target}", adjuster.name);
        let help = "no dose is printed beyond the trial; add more to the jar, step by step, \
                    until it passes the target";
        desk.caution("trial-too-short", &trial.place, message, help);
    }
    let bins = dose.map_or(Vec::new(), |dose| {
        let dose = checked(desk.sheet, &curve, dose, &adjuster.name);
        let sample = plan_take(desk.sheet, "V_jar", "sample in the jar", trial.sample, LITRE);
        let name = Name::new("ph-dose", "d_bin", "Dose for this bin").of(&adjuster.name);
        scaled(desk, volumes, (dose, sample), &name, "ph-first-part")
    });
    let sizes: Vec<f64> = volumes.iter().map(|(_, v)| v.number() / trial.sample).collect();
    Some(TrialResult {
        adjuster: trial.adjuster,
        up: adjuster.up,
        sample: trial.sample,
        readings: trial.readings.clone(),
        dose,
        bins,
        lookup: lookup(&curve, aim, adjuster.up, &sizes),
    })
}

/// A dose for a sample, carried over to every bin in two parts.
fn scaled<'s>(
    desk: &Desk<'s>,
    volumes: &[(String, Traced<'s>)],
    (dose, sample): (Traced<'s>, Traced<'s>),
    name: &Name<'_>,
    first: &'static str,
) -> Vec<BinDose> {
    let bin = |(scope, v): &(String, Traced<'s>)| {
        desk.sheet.about(scope);
        let whole = desk.sheet.work(name, ScaledDose { dose, v: *v, sample });
        stage(desk.sheet, whole, name.item, first, desk.library)
    };
    volumes.iter().map(bin).collect()
}

/// The dose that was searched for, put back into the curve on the sheet.
fn checked<'s>(sheet: &'s Sheet, curve: &Curve, dose: f64, item: &str) -> Traced<'s> {
    let piece = curve.piece(dose);
    let found = |symbol, what, value, unit| {
        sheet.given(&Datum { symbol, what, value, unit, origin: Origin::Found })
    };
    let reading = TrialReading {
        p: found("p", "reading where this piece of the curve begins", piece.p, NONE),
        x: found("x", "dose beyond that, found by halving", dose - piece.from, MILLILITRE),
        b: found("b", "slope of the curve there", piece.b, PER_MILLILITRE),
        c: found("c", "second coefficient", piece.c, PER_MILLILITRE_2),
        d: found("d", "third coefficient", piece.d, PER_MILLILITRE_3),
    };
    sheet.work(&Name::new("trial-reading", "pH", "Reading the curve gives").of(item), reading);
    found("d_jar", "dose of the jar that gives the target", dose, MILLILITRE)
}

fn stage<'s>(
    sheet: &'s Sheet,
    dose: Traced<'s>,
    item: &str,
    id: &'static str,
    library: &Library,
) -> BinDose {
    let share = &library.limits.dose_stage_share;
    let share = take(sheet, "f", "first share", share.value, NONE, data(share));
    let name = Name::new(id, "d_1", "First part of the dose").of(item);
    let first = sheet.work(&name, FirstPart { share, dose }).number();
    BinDose { whole: dose.number(), first }
}

/// Readings outside the range in steps of 0.2, with the dose from each to the target.
fn lookup(curve: &Curve, aim: &Aim, up: bool, sizes: &[f64]) -> Vec<Lookup> {
    let Some(there) = curve.find(aim.target) else { return Vec::new() };
    let edge = if up { aim.range[0] } else { aim.range[1] };
    let readings = (1..=25).map(|i| {
        // Tenths counted as whole numbers, so that 5.3 is printed as 5.3.
        let step = 0.2 * f64::from(i);
        let reads = if up { edge - step } else { edge + step };
        (reads * 10.0).round() / 10.0
    });
    let row = |reads: f64| {
        let dose = there - curve.find(reads)?;
        (dose > 0.0).then(|| Lookup { reads, doses: sizes.iter().map(|s| s * dose).collect() })
    };
    readings.map_while(row).collect()
}

fn household(sheet: &Sheet, v: Traced<'_>, library: &Library) -> Household {
    let weight = |symbol: &str| library.element(symbol).atomic_weight;
    let iupac = Origin::Data("iupac-2021", "standard atomic weights");
    let molar = |symbol, what, value| take(sheet, symbol, what, value, GRAM_PER_MOLE, iupac);
    let carbon = weight("C");
    let soda = weight("Na") + weight("H") + carbon + 3.0 * weight("O");
    let acid = 2.0 * carbon + 4.0 * weight("H") + 2.0 * weight("O");
    let limits = &library.limits;
    let spoon = &limits.soda_spoon;
    let what = "one level teaspoon of soda";
    let m = take(sheet, "m", what, 1000.0 * spoon.value, MILLIGRAM, data(spoon));
    let formula = LeftBehind {
        m,
        part: molar("M_Na", "sodium", weight("Na")),
        whole: molar("M_soda", "sodium bicarbonate", soda),
        v,
    };
    let name = Name::new("sodium-left", "c_Na", "Sodium a teaspoon of baking soda leaves");
    let sodium = sheet.work(&name, formula).number();
    let (strength, sample) = (&limits.vinegar_strength, &limits.vinegar_sample);
    let what = "acetic acid in vinegar";
    let from = data(strength);
    let strength = take(sheet, "s", what, strength.value, MILLIGRAM_PER_MILLILITRE, from);
    let ml = take(sheet, "V_vin", "vinegar", sample.value, MILLILITRE, data(sample));
    let name = Name::new("vinegar-acid", "m_ac", "Acetic acid in the vinegar");
    let m = sheet.work(&name, AcidMass { v: ml, strength });
    let formula = LeftBehind {
        m,
        part: molar("M_ac", "acetate", acid - weight("H")),
        whole: molar("M_acid", "acetic acid", acid),
        v,
    };
    let name = Name::new("acetate-left", "c_ac", "Acetate ten millilitres of vinegar leave");
    Household { sodium, acetate: sheet.work(&name, formula).number() }
}
