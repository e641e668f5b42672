//! Dosing a solution of known chemistry: which adjuster, how much now, how much in all.

use super::Desk;
use super::caution;
use super::chemistry::{Bench, Dosing, reading};
use super::fill::data;
use super::jar::Jar;
use super::take;
use crate::library::Substance;
use crate::number::unit::{
    GRAM_PER_MILLILITRE, GRAM_PER_MOLE, MILLIGRAM_PER_GRAM, MILLIMOLE_PER_LITRE,
    MILLIMOLE_PER_MILLILITRE, NONE,
};
use crate::number::{Name, Origin, Pen, Sheet, Traced};
use crate::plan::Adjuster;
use crate::science::dosing::{AddedByDose, BottleStrength, DoseMass, DoseVolume};
use crate::science::speciation::{AIR, Equilibrium, Solution};
use crate::science::species::Amounts;

/// No dose is sought beyond this (mol/L): five times what very hard water asks for.
const MOST: f64 = 0.02;

impl Bench<'_> {
    /// The dose that brings the solution into range, if it is outside.
    pub(super) fn dosing(
        &self,
        desk: &Desk<'_>,
        mix: usize,
        [closed, open]: [&Equilibrium; 2],
        ends: [Solution; 2],
        volumes: &[(String, Traced<'_>)],
    ) -> Option<Dosing> {
        // In the end the solution stands in air, so that decides which way it has to go.
        if !self.outside(open) {
            return None;
        }
        let up = open.ph < self.acidity.range[0];
        let (index, adjuster, substance) = adjuster(desk, up)?;
        let compound = substance.amounts();
        let Some([dose, in_all]) = self.doses(closed, &compound, up) else {
            caution::out_of_reach(desk, mix, adjuster);
            return None;
        };
        if caution::too_weak(desk, mix, adjuster, substance, in_all) {
            return None;
        }
        let dosing = self.stages(&compound, [dose, in_all], ends)?;
        let counted = self.counts.filter(|(of, _)| *of == index).map_or(in_all, |(_, dose)| dose);
        Some(Dosing {
            adjuster: index,
            up,
            bins: bins(desk, adjuster, substance, [dose, in_all], volumes),
            adds: adds(desk, mix, adjuster, substance, counted),
            ..dosing
        })
    }

    /// What the solution reads after each part of a dose, and how far off that may be.
    fn stages(
        &self,
        compound: &Amounts,
        [dose, in_all]: [f64; 2],
        ends: [Solution; 2],
    ) -> Option<Dosing> {
        let (c, target) = (self.constants, self.acidity.target);
        let off = |end: Solution| {
            let now = end.dose(c, compound, target, MOST);
            let all = end.in_air(AIR).dose(c, compound, target, MOST);
            1000.0 * now.unwrap_or(dose).min(all.unwrap_or(in_all))
        };
        let mut band = if dose > 0.0 { ends.map(off) } else { [0.0; 2] };
        band.sort_by(f64::total_cmp);
        let after = self.solution.with(compound, dose);
        let at_last = self.solution.with(compound, in_all).in_air(AIR);
        let ph = |s: Solution| s.equilibrium(c).map_or(f64::NAN, |e| e.ph);
        // Whoever goes by the reading stops where such a solution needs no more, or at the limit.
        let own = |end: Solution, most: f64| {
            end.with(compound, end.dose(c, compound, target, MOST).unwrap_or(most).min(most))
        };
        Some(Dosing {
            adjuster: 0,
            up: false,
            closed: 1000.0 * dose,
            band,
            open: 1000.0 * in_all,
            after: reading(c, &after.equilibrium(c)?),
            next_day: reading(c, &after.in_air(AIR).equilibrium(c)?),
            after_band: ends.map(|end| ph(own(end, dose))),
            next_day_band: ends.map(|end| ph(own(end, dose).in_air(AIR))),
            at_last_band: ends.map(|end| ph(own(end.in_air(AIR), in_all))),
            at_last: reading(c, &at_last.equilibrium(c)?),
            bins: Vec::new(),
            adds: Vec::new(),
        })
    }

    /// Dose now and dose in all (mol/L); `None` if the target is out of reach.
    fn doses(&self, closed: &Equilibrium, compound: &Amounts, up: bool) -> Option<[f64; 2]> {
        let (c, target) = (self.constants, self.acidity.target);
        let [low, high] = self.acidity.range;
        let outside = if up { closed.ph < low } else { closed.ph > high };
        let now = if outside { self.solution.dose(c, compound, target, MOST)? } else { 0.0 };
        let in_all = self.solution.in_air(AIR).dose(c, compound, target, MOST)?;
        // As carbon dioxide leaves the pH climbs by itself, so of a base no more goes in now than
        // is needed in all.
        Some([now.min(in_all), in_all])
    }

    /// Whether a solution is outside its range.
    pub(super) fn outside(&self, e: &Equilibrium) -> bool {
        self.acidity.outside(e.ph)
    }

    /// Dose against pH, closed and open, a little past the dose in all.
    pub(super) fn curve(&self, desk: &Desk<'_>, dosing: Option<&Dosing>) -> Vec<[f64; 3]> {
        let Some(dosing) = dosing else { return Vec::new() };
        let Some(compound) = compound_of(desk, dosing.adjuster) else { return Vec::new() };
        let most = 1.25 * dosing.open / 1000.0;
        let point = |i: i32| {
            let dose = most * f64::from(i) / 24.0;
            let dosed = self.solution.with(&compound, dose);
            let closed = dosed.equilibrium(self.constants)?.ph;
            let open = dosed.in_air(AIR).equilibrium(self.constants)?.ph;
            Some([1000.0 * dose, closed, open])
        };
        (0..=24).filter_map(point).collect()
    }

    /// Dose from a reading to the target, closed, for readings outside the range.
    pub(super) fn lookup(&self, desk: &Desk<'_>, dosing: Option<&Dosing>) -> Vec<[f64; 2]> {
        let Some(dosing) = dosing else { return Vec::new() };
        let Some(compound) = compound_of(desk, dosing.adjuster) else { return Vec::new() };
        let [low, high] = self.acidity.range;
        let there = self.solution.dose(self.constants, &compound, self.acidity.target, MOST);
        // The same solution, brought to that reading, then to the target.
        let at = |reads: f64| {
            let here = self.solution.dose(self.constants, &compound, reads, MOST);
            let dose = there? - here.unwrap_or(f64::NAN);
            (dose > 0.0).then_some([reads, 1000.0 * dose])
        };
        let row = |i: i32| {
            let step = 0.2 * f64::from(i);
            let reads = if dosing.up { low - step } else { high + step };
            at((reads * 10.0).round() / 10.0)
        };
        let mut rows: Vec<[f64; 2]> = (1..=12).map_while(row).collect();
        // The fresh mix itself, where it reads beyond the last of them: at the tenth that is printed,
        // on this side of it.
        let fresh = self.solution.equilibrium(self.constants).map_or(f64::NAN, |e| 10.0 * e.ph);
        let fresh = if dosing.up { libm::ceil(fresh) } else { libm::floor(fresh) } / 10.0;
        let beyond = rows.last().is_none_or(|r| (r[0] - fresh).abs() > 0.05);
        rows.extend(at(fresh).filter(|_| self.acidity.outside(fresh) && beyond));
        rows
    }
}

/// The adjuster that moves pH this way and of which content and strength are known.
pub(super) fn adjuster<'p>(
    desk: &Desk<'p>,
    up: bool,
) -> Option<(usize, &'p Adjuster, &'p Substance)> {
    let all = desk.plan.adjusters.iter().enumerate();
    let known = all.filter(|(_, a)| a.up == up && (a.dry || a.strength.is_some()));
    let known = known.filter_map(|(i, a)| {
        let key = a.substance.as_ref()?;
        Some((i, a, desk.library.substances.get(key)?))
    });
    let mut known = known;
    known.next()
}

fn compound_of(desk: &Desk<'_>, adjuster: usize) -> Option<Amounts> {
    let key = desk.plan.adjusters[adjuster].substance.as_ref()?;
    Some(desk.library.substances.get(key)?.amounts())
}

/// Closed and open dose for every bin (mL, or g).
fn bins(
    desk: &Desk<'_>,
    adjuster: &Adjuster,
    substance: &Substance,
    doses: [f64; 2],
    volumes: &[(String, Traced<'_>)],
) -> Vec<[f64; 2]> {
    let sheet = desk.sheet;
    let molar = &substance.molar_mass;
    let molar = take(sheet, "M", "molar mass", molar.value, GRAM_PER_MOLE, data(molar));
    let bottle = strength(sheet, adjuster, substance, molar);
    let names = [
        Name::new("dose-closed", "v_now", "Dose now, from the water report").of(&adjuster.name),
        Name::new("dose-open", "v_all", "Dose in all, in air").of(&adjuster.name),
    ];
    let whats = ["dose that gives the target, found by halving", "dose in air, found by halving"];
    let of_bin = |(scope, v): &(String, Traced<'_>)| {
        sheet.about(scope);
        std::array::from_fn(|i| {
            let d =
                take(sheet, "d", whats[i], 1000.0 * doses[i], MILLIMOLE_PER_LITRE, Origin::Found);
            match bottle {
                Some(c) => sheet.work(&names[i], DoseVolume { d, v: *v, c }).number(),
                None => sheet.work(&names[i], DoseMass { d, v: *v, molar }).number() / 1000.0,
            }
        })
    };
    volumes.iter().map(of_bin).collect()
}

/// Adjuster and dose in all (mol/L) of the jar, or of last time.
pub(super) fn counts(desk: &Desk<'_>, mix: usize, jar: Option<&Jar>) -> Option<(usize, f64)> {
    if let Some(jar) = jar {
        return Some((jar.adjuster, jar.in_all / 1000.0));
    }
    let last = desk.plan.mixes[mix].last_time.as_ref()?;
    let adjuster = &desk.plan.adjusters[last.adjuster];
    let substance = desk.library.substances.get(adjuster.substance.as_ref()?)?;
    let of_mass =
        |percent: f64| 10.0 * percent * substance.density_at(percent) / substance.molar_mass.value;
    let strength = adjuster.molar.or(adjuster.strength.filter(|_| !adjuster.dry).map(of_mass))?;
    Some((last.adjuster, strength * last.dose / last.volume / 1000.0))
}

/// What a millilitre of the bottle brings; `None` for a powder.
pub(super) fn strength<'s>(
    sheet: &'s Sheet,
    adjuster: &Adjuster,
    substance: &Substance,
    molar: Traced<'s>,
) -> Option<Traced<'s>> {
    if adjuster.dry {
        return None;
    }
    if let Some(c) = adjuster.molar {
        let what = "strength (mmol in a mL is mol in a litre)";
        return Some(take(sheet, "c", what, c, MILLIMOLE_PER_MILLILITRE, Origin::Label));
    }
    let name = Name::new("bottle-strength", "c", "Strength of the bottle").of(&adjuster.name);
    if let Some(c) = sheet.before(&name) {
        return Some(c);
    }
    let percent = adjuster.strength?;
    let density = &substance.density;
    let from = Origin::Data(&density.source, &density.at);
    let value = substance.density_at(percent);
    let what = "content (mg/g is ten times %)";
    let w = take(sheet, "w", what, 10.0 * percent, MILLIGRAM_PER_GRAM, Origin::Label);
    let density = take(sheet, "ρ", "density at that strength", value, GRAM_PER_MILLILITRE, from);
    Some(sheet.work(&name, BottleStrength { w, density, molar }))
}

/// What the dose in all adds of each element (mg/L); much sodium is a caution.
fn adds(
    desk: &Desk<'_>,
    mix: usize,
    adjuster: &Adjuster,
    substance: &Substance,
    dose: f64,
) -> Vec<(String, f64)> {
    let sheet = desk.sheet;
    let batch = &desk.plan.mixes[mix];
    sheet.about(&super::batch_scope(&batch.name));
    let mut all = Vec::new();
    for part in &substance.adds {
        let atom = desk.library.element(&part.element);
        let from = Origin::Data(&atom.source, &atom.at);
        let formula_of = Origin::Data("plain-arithmetic", "chemical formula");
        let what = "dose in all";
        let formula = AddedByDose {
            d: take(sheet, "d", what, 1000.0 * dose, MILLIMOLE_PER_LITRE, Origin::Found),
            n: take(
                sheet,
                "n",
                "atoms of the element in a molecule",
                f64::from(part.atoms),
                NONE,
                formula_of,
            ),
            a: take(sheet, "A", "atomic weight", atom.atomic_weight, GRAM_PER_MOLE, from),
        };
        let name = Name::new("added-by-dose", "c_add", "Added by the dose").of(&part.element);
        let added = sheet.work(&name, formula).number();
        let limit = desk.library.limits.sodium_caution.value;
        if part.element == "Na" && added > limit {
            let mg = crate::number::figures::plain(added, 2);
            let message = format!("\"{}\" brings {mg} mg/L of sodium", adjuster.name);
            let help = "sodium only adds up: use a potassium base, or softer water";
            desk.caution("much-sodium", &batch.place, message, help);
        }
        all.push((part.element.clone(), added));
    }
    all
}
