//! Bleach for cleaning.

use super::fill::{Worked, data};
use super::{GROW, bin_scope, take};
use crate::library::Library;
use crate::number::unit::{
    GRAM_PER_MILLILITRE, LITRE, MILLIGRAM_PER_GRAM, MILLIGRAM_PER_LITRE, NONE,
};
use crate::number::{Name, Origin, Pen, Sheet};
use crate::plan::Plan;
use crate::science::cleaning::{BleachVolume, ChlorinePerMillilitre};

/// Bleach for cleaning.
#[derive(Debug, Clone, PartialEq)]
pub struct Cleaning {
    /// For a litre of water (mL).
    pub per_litre: f64,
    /// For each bin filled to its start line, in the plan's order (mL).
    pub bins: Vec<f64>,
}

/// Works the bleach for a litre and for every bin.
pub fn work(sheet: &Sheet, plan: &Plan, fills: &[Worked<'_>], library: &Library) -> Cleaning {
    sheet.about(GROW);
    sheet.part("Cleaning");
    let limits = &library.limits;
    let origin = if plan.bleach.stated { Origin::Label } else { data(&limits.bleach_assumed) };
    let w = 10.0 * plan.bleach.strength;
    let (density, part) = (&limits.bleach_density, &limits.bleach_available);
    let formula = ChlorinePerMillilitre {
        w: take(sheet, "w", "sodium hypochlorite in the bleach", w, MILLIGRAM_PER_GRAM, origin),
        density: take(
            sheet,
            "ρ",
            "density of the bleach",
            density.value,
            GRAM_PER_MILLILITRE,
            data(density),
        ),
        f: take(sheet, "f", "available chlorine per hypochlorite", part.value, NONE, data(part)),
    };
    let name = Name::new("bleach-strength", "s", "Available chlorine in the bleach");
    let s = sheet.work(&name, formula);
    let target = &limits.bleach_target;
    let what = "available chlorine wanted";
    let c = take(sheet, "c", what, target.value, MILLIGRAM_PER_LITRE, data(target));
    let name = Name::new("bleach-volume", "V_bleach", "Bleach for cleaning");
    let one = Origin::Data("plain-arithmetic", "one litre, for any amount");
    let v = take(sheet, "V", "water", 1.0, LITRE, one);
    let per_litre = sheet.work(&name.of("one litre"), BleachVolume { c, v, s }).number();
    let mut bins = Vec::new();
    for (bin, fill) in plan.bins.iter().zip(fills) {
        sheet.about(&bin_scope(&bin.name));
        bins.push(sheet.work(&name, BleachVolume { c, v: fill.start_volume, s }).number());
    }
    Cleaning { per_litre, bins }
}
