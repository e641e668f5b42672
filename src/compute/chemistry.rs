//! pH and conductivity of a solution from the water report and the feed: what it reads just mixed
//! and in air, what dose brings it to the target now, and where it stands tomorrow.

use super::acidity::Acidity;
use super::balance::{self, Balance};
use super::caution;
use super::correction::{self, Correction};
use super::fill::Worked;
use super::jar::Jar;
use super::mixing::Mixing;
use super::{Desk, batch_scope, bin_scope, ingredients, reagent};
use crate::number::Traced;
use crate::science::electrolyte;
use crate::science::speciation::{AIR, Equilibrium, Solution};
use crate::science::species::{Component, Constants};

/// What a meter would read, and what could fall out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// pH.
    pub ph: f64,
    /// Conductivity at 25 °C (mS/cm).
    pub conductivity: f64,
    /// Ionic strength (mmol/L).
    pub strength: f64,
    /// Saturation index of brushite, a calcium phosphate.
    pub brushite: f64,
    /// Saturation index of gypsum.
    pub gypsum: f64,
    /// Saturation index of calcite.
    pub calcite: f64,
}

/// A dose and what comes of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Dosing {
    /// Index into the plan's adjusters.
    pub adjuster: usize,
    /// Whether it moves pH up.
    pub up: bool,
    /// Dose now, in the closed pail (mmol/L), at most what is needed in all; 0 if it is in range.
    pub closed: f64,
    /// The same for an alkalinity 10 mg/L lower and higher (mmol/L).
    pub band: [f64; 2],
    /// Dose in all, once carbon dioxide has left (mmol/L); at least `closed`.
    pub open: f64,
    /// Reading after the closed dose.
    pub after: Reading,
    /// Reading after the closed dose and a day in air.
    pub next_day: Reading,
    /// pH after the closed dose, if the alkalinity and the phosphate are off one way and the other,
    /// and as much goes in as such a solution takes.
    pub after_band: [f64; 2],
    /// The same after a day in air.
    pub next_day_band: [f64; 2],
    /// The same after the open dose, in air.
    pub at_last_band: [f64; 2],
    /// Reading after the open dose, in air.
    pub at_last: Reading,
    /// Closed and open dose for each bin (mL, or g of a powder).
    pub bins: Vec<[f64; 2]>,
    /// What the dose that counts adds of each element (mg/L), that of the jar or of last time before
    /// the open one.
    pub adds: Vec<(String, f64)>,
}

/// Chemistry of a solution.
#[derive(Debug, Clone, PartialEq)]
pub struct Chemistry {
    /// Just mixed.
    pub closed: Reading,
    /// In air.
    pub open: Reading,
    /// pH just mixed, if the alkalinity is a drop lower and the phosphate more acid, and the other
    /// way.
    pub closed_band: [f64; 2],
    /// The same in air.
    pub open_band: [f64; 2],
    /// Conductivity of the water alone (mS/cm).
    pub water: f64,
    /// What to do with a mix that reads too strong or too weak.
    pub corrections: Vec<Correction>,
    /// What a meter shows of the fresh mix that does not correct for temperature (mS/cm).
    pub uncorrected: f64,
    /// The ions of the fresh mix and their charges.
    pub balance: Balance,
    /// A dose, if one is needed and an adjuster of known strength is there.
    pub dosing: Option<Dosing>,
    /// Dose (mmol/L) and pH of the closed and of the open solution, for the curve.
    pub curve: Vec<[f64; 3]>,
    /// For readings outside the range: reading and dose to the target (mmol/L), closed.
    pub lookup: Vec<[f64; 2]>,
    /// Whether the water's own pH was taken to be that in air, for want of a reading.
    pub assumed_ph: bool,
    /// Charge that labels leave open, made up with chloride or sodium (mmol/L).
    pub made_up: f64,
    /// The same of the water report (mmol/L).
    pub made_up_water: f64,
    /// How far the meter may be off the forecast although the mix is right, as a part: the wider of the
    /// meter's own tolerance and the forecast's doubt.
    pub doubt: f64,
    /// Whether a jar trial says something else, so that one of the two is wrong.
    pub jar_differs: bool,
    /// Whether a label leaves open how its phosphate is bound.
    pub phosphate_open: bool,
    /// What the water report leaves out, taken as nought.
    pub left_out: Vec<&'static str>,
}

/// How far the alkalinity of a test kit may be off (mg/L as CaCO₃): a drop.
const DROP: f64 = 10.0;

/// Works the chemistry of one solution; `None` if water or feed are not known well enough.
pub(crate) fn work<'s>(
    desk: &Desk<'s>,
    mix: usize,
    fills: &[Worked<'s>],
    (mixing, acidity, jar): (&Mixing, &Acidity, &Option<Jar>),
) -> Option<Chemistry> {
    let (plan, library) = (desk.plan, desk.library);
    let constants = library.species.at(plan.water.temperature);
    let feeds = |doubt| ingredients::feeds(plan, mix, mixing, library, doubt);
    let fed = feeds(0.0)?;
    let alkalinity = caution::alkalinity(desk, mix)?;
    let in_water =
        |alkalinity: f64| ingredients::water(&constants, &plan.water, alkalinity, library);
    let Some((water, assumed_ph)) = in_water(alkalinity) else {
        caution::impossible(desk, mix);
        return None;
    };
    let solution = water.with(&fed, 1.0);
    let open = ingredients::phosphate_open(plan, mix);
    let doubt = if open { library.limits.phosphate_doubt.value } else { 0.0 };
    // The two ends of what is in doubt: a drop of the kit, and how the phosphate is bound.
    let ends = [-1.0, 1.0].map(|way| {
        let water = in_water((alkalinity + way * DROP).max(0.0)).map(|(water, _)| water);
        let fed = feeds(way * doubt).unwrap_or(fed);
        water.map_or(solution, |water| water.with(&fed, 1.0))
    });
    let counts = reagent::counts(desk, mix, jar.as_ref());
    let bench = Bench { constants: &constants, solution, acidity, counts };
    let volume = |b: &usize| (bin_scope(&plan.bins[*b].name), fills[*b].start_volume);
    let volumes: Vec<_> = mixing.bins.iter().map(volume).collect();
    let alone = reading(&constants, &water.equilibrium(&constants)?).conductivity;
    let made_up = 1000.0 * ingredients::made_up(plan, mix, mixing, library);
    desk.sheet.about(&batch_scope(&plan.mixes[mix].name));
    let chemistry = bench.chemistry(desk, mix, ends, &volumes, (alone, made_up))?;
    caution::on_elements(desk, mix, mixing, chemistry.dosing.as_ref());
    caution::citric(desk, mix, chemistry.dosing.as_ref(), jar.as_ref());
    caution::cloudy(desk, mix, &chemistry);
    let jar_differs = caution::jar_differs(desk, mix, &chemistry, acidity);
    let made_up_water = 1000.0 * ingredients::water_made_up(&plan.water, &water, library);
    Some(Chemistry { assumed_ph, phosphate_open: open, jar_differs, made_up_water, ..chemistry })
}

impl Bench<'_> {
    /// The solution closed and in air, and what to do about it: what the water reads
    /// alone, and the charge that was made up (mmol/L).
    fn chemistry(
        &self,
        desk: &Desk<'_>,
        mix: usize,
        ends: [Solution; 2],
        volumes: &[(String, Traced<'_>)],
        (alone, made_up): (f64, f64),
    ) -> Option<Chemistry> {
        let c = self.constants;
        let closed = self.solution.equilibrium(c)?;
        let open = self.solution.in_air(AIR).equilibrium(c)?;
        let (batch, sheet) = (&desk.plan.mixes[mix], desk.sheet);
        balance::show_conductivity(sheet, c, &closed);
        let mixed = reading(c, &closed);
        let doubt = doubt(desk, &mixed, made_up);
        let corrections = correction::work(sheet, batch, &mixed, (alone, doubt));
        let dosing = self.dosing(desk, mix, [&closed, &open], ends, volumes);
        if dosing.is_none() && self.outside(&open) {
            caution::no_adjuster(desk, mix, open.ph < self.acidity.range[0]);
        }
        Some(Chemistry {
            closed: mixed,
            open: reading(c, &open),
            closed_band: ends.map(|end| ph(c, end)),
            open_band: ends.map(|end| ph(c, end.in_air(AIR))),
            water: alone,
            corrections,
            uncorrected: correction::uncorrected(desk, &mixed),
            balance: balance::work(sheet, c, &self.solution, &closed),
            curve: self.curve(desk, dosing.as_ref()),
            lookup: self.lookup(desk, dosing.as_ref()),
            dosing,
            assumed_ph: false,
            jar_differs: false,
            phosphate_open: false,
            made_up,
            made_up_water: 0.0,
            doubt,
            left_out: ingredients::left_out(&desk.plan.water),
        })
    }
}

/// pH of a solution; no number if it has none.
fn ph(c: &Constants<'_>, solution: Solution) -> f64 {
    solution.equilibrium(c).map_or(f64::NAN, |e| e.ph)
}

/// How far a right mix may read off (a part): the tolerance of meters, and what the ions that were
/// made up (mmol/L) may carry: as chloride, the better conductor of the two.
fn doubt(desk: &Desk<'_>, mixed: &Reading, made_up: f64) -> f64 {
    let library = desk.library;
    // S·cm²/mol over a thousand is mS/cm for a mmol/L.
    let carries = library.species.conductivity[Component::Chloride as usize] / 1000.0;
    library.limits.meter_tolerance.value + carries * made_up / mixed.conductivity.max(0.05)
}

/// What a meter would read.
pub(super) fn reading(c: &Constants<'_>, e: &Equilibrium) -> Reading {
    Reading {
        ph: e.ph,
        conductivity: electrolyte::conductivity(c, e),
        strength: 1000.0 * e.strength,
        brushite: electrolyte::brushite(c, e),
        gypsum: electrolyte::gypsum(c, e),
        calcite: electrolyte::calcite(c, e),
    }
}

/// A solution with what its pH is to be.
pub(super) struct Bench<'c> {
    /// Constants at the temperature of the water.
    pub(super) constants: &'c Constants<'c>,
    /// The mixed solution, closed.
    pub(super) solution: Solution,
    /// What to aim at.
    pub(super) acidity: &'c Acidity,
    /// Adjuster and dose in all (mol/L) that count before those worked from the report.
    pub(super) counts: Option<(usize, f64)>,
}
