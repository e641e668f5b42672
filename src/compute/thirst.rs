//! How much a plant will drink: by the best of four ways that the plan has numbers for.
//!
//! By the crop alone; by the mass that grows and the dryness of the air; by light and air; outdoors
//! by the weather of the months. Each has its own error, and the booklet says which was used.

use jiff::civil::Date;

use super::fill::data;
use super::{Band, Dates, Desk, GROW, bin_scope, dates, take};
use crate::finding::{Finding, Severity};
use crate::library::{ClimateFacts, Crop, Fact, Harvest};
use crate::number::unit::{
    CELSIUS, DAY, HOUR_PER_DAY, KILOGRAM, KILOPASCAL, LITRE, LITRE_PER_KILOGRAM_KILOPASCAL,
    MEGAJOULE_PER_MOLE, MICROMOLE_PER_SQUARE_METRE_SECOND, MILLIMETRE_PER_DAY_KILOPASCAL,
    MILLIMETRE_PER_MEGAJOULE, MOLE_PER_SQUARE_METRE_DAY, MOLE_SECOND_PER_MICROMOLE_HOUR, NONE,
    SQUARE_METRE, Unit,
};
use crate::number::{Name, Origin, Pen, Traced};
use crate::plan::{Bin, Light, Planting};
use crate::science::air::{self, SaturationPressure, VapourDeficit};
use crate::science::light::{DailyLight, MOLES_PER_HOUR};
use crate::science::thirst::{CanopyUse, CanopyWater, LightCaught, MassWater};

/// A way to work a plant's water, from the least known to the most.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// The crop table.
    Crop,
    /// Mass and dryness of the air.
    Air,
    /// Light, air and ground covered.
    Light,
    /// Weather of the months, outdoors.
    Weather,
    /// The grower's own figure, in the plan.
    Own,
}

/// What one plant of a crop in a bin drinks (L).
#[derive(Debug, Clone, PartialEq)]
pub struct Thirst {
    /// The way that was used.
    pub way: Way,
    /// Litres by it.
    pub litres: Band,
    /// Every way that has its numbers, with its litres.
    pub ways: Vec<(Way, Band)>,
}

/// What one plant drinks, and its expected litres on the sheet.
pub(super) struct Worked<'s> {
    pub(super) plain: Thirst,
    pub(super) litres: Traced<'s>,
}

/// Air and light around all bins, as far as they are known.
#[derive(Clone, Copy)]
pub(super) struct Around<'s> {
    /// Vapour pressure deficit by day (kPa).
    pub(super) deficit: Option<Traced<'s>>,
    /// Daily light integral (mol/m²/d).
    pub(super) dli: Option<Traced<'s>>,
}

/// Works air and light, once for the grow.
pub(super) fn around<'s>(desk: &Desk<'s>) -> Around<'s> {
    desk.sheet.about(GROW);
    desk.sheet.part("Air, light and water");
    Around { deficit: deficit(desk), dli: daily_light(desk) }
}

/// Works the thirst of every crop in a bin.
pub(super) fn work<'s>(
    desk: &Desk<'s>,
    around: Around<'s>,
    bin: &Bin,
    dates: &Dates,
) -> Vec<Worked<'s>> {
    desk.sheet.about(&bin_scope(&bin.name));
    bin.plants.iter().map(|planting| of_crop(desk, around, planting, dates)).collect()
}

fn of_crop<'s>(
    desk: &Desk<'s>,
    known: Around<'s>,
    planting: &Planting,
    dates: &Dates,
) -> Worked<'s> {
    let crop = &planting.crop;
    let table = Band { low: crop.water.low, expected: crop.water.expected, high: crop.water.high };
    let from = match crop.water.source.as_str() {
        "plan" => Origin::Plan,
        source => Origin::Data(source, &crop.water.at),
    };
    let budget = || take(desk.sheet, "L", "water per plant", table.expected, LITRE, from);
    if crop.water.source == "plan" {
        let plain = Thirst { way: Way::Own, litres: table, ways: vec![(Way::Own, table)] };
        return Worked { plain, litres: budget() };
    }
    let facts = &desk.library.climate;
    let around = |litres: Traced<'s>, factor: &Fact| {
        let (expected, f) = (litres.number(), factor.value);
        Band { low: expected / f, expected, high: expected * f }
    };
    let mut ways = vec![(Way::Crop, table)];
    let mut best = None;
    let mut found = |way: Way, litres: Option<Traced<'s>>, factor: &Fact| {
        let Some(litres) = litres else { return };
        ways.push((way, around(litres, factor)));
        best = Some(litres);
    };
    found(Way::Air, by_air(desk, crop, known), &facts.mass_band);
    found(Way::Light, by_light(desk, crop, known), &facts.light_band);
    let weather = super::weather::litres(desk, crop, dates.set_out);
    found(Way::Weather, weather, &facts.weather_band);
    let (way, litres) = ways.last().copied().unwrap_or((Way::Crop, table));
    apart(desk, crop, &ways);
    Worked { plain: Thirst { way, litres, ways }, litres: best.unwrap_or_else(budget) }
}

/// A fact as an input.
pub(super) fn fact<'s>(
    desk: &Desk<'s>,
    symbol: &str,
    what: &str,
    fact: &Fact,
    unit: Unit,
) -> Traced<'s> {
    take(desk.sheet, symbol, what, fact.value, unit, data(fact))
}

/// How dry the air is, if its temperature and humidity are known.
fn deficit<'s>(desk: &Desk<'s>) -> Option<Traced<'s>> {
    let (sheet, climate) = (desk.sheet, &desk.plan.climate);
    let (celsius, humidity) = (climate.air?, climate.humidity?);
    let from = |at| Origin::Data("fao-56", at);
    let t = take(sheet, "T", "air by day", celsius, CELSIUS, Origin::Plan);
    let constant = |symbol, value, unit| {
        take(sheet, symbol, "constant of the formula", value, unit, from("equation 11"))
    };
    let e_0 = constant("e_0", air::PRESSURE_AT_ZERO, KILOPASCAL);
    let k = constant("k", air::STEEPNESS, NONE);
    let t_0 = constant("T_0", air::OFFSET, CELSIUS);
    let name = Name::new("saturation-pressure", "e_s", "Vapour the air could hold");
    let e_s = sheet.work(&name, SaturationPressure { e_0, k, t, t_0 });
    let rh = take(sheet, "φ", "humidity by day", humidity, NONE, Origin::Plan);
    let name = Name::new("vapour-deficit", "D", "Dryness of the air");
    Some(sheet.work(&name, VapourDeficit { e_s, rh }))
}

/// Light on the leaves in a day, if it is known.
fn daily_light<'s>(desk: &Desk<'s>) -> Option<Traced<'s>> {
    let sheet = desk.sheet;
    Some(match desk.plan.climate.light? {
        Light::Daily(dli) => {
            take(sheet, "DLI", "light in a day", dli, MOLE_PER_SQUARE_METRE_DAY, Origin::Plan)
        }
        Light::Lamp { ppfd, hours } => {
            let unit = MICROMOLE_PER_SQUARE_METRE_SECOND;
            let ppfd = take(sheet, "PPFD", "light on the leaves", ppfd, unit, Origin::Plan);
            let h = take(sheet, "h", "hours of light", hours, HOUR_PER_DAY, Origin::Plan);
            let (what, unit) = ("3600 s over 1 000 000", MOLE_SECOND_PER_MICROMOLE_HOUR);
            let c = take(sheet, "c", what, MOLES_PER_HOUR, unit, Origin::Data("si-brochure", ""));
            let name = Name::new("daily-light", "DLI", "Light on the leaves in a day");
            sheet.work(&name, DailyLight { ppfd, h, c })
        }
    })
}

fn by_air<'s>(desk: &Desk<'s>, crop: &Crop, known: Around<'s>) -> Option<Traced<'s>> {
    let (deficit, mass) = (known.deficit?, crop.fresh_mass.as_ref()?);
    let facts = &desk.library.climate;
    let m = fact(desk, "m", "mass of a plant at harvest", mass, KILOGRAM);
    let unit = LITRE_PER_KILOGRAM_KILOPASCAL;
    let k = fact(desk, "k", "water for a kilogram in dry air", &facts.litres_per_kilogram, unit);
    let least = fact(desk, "D_min", "least dryness of the rule", &facts.deficit_least, KILOPASCAL);
    let most = fact(desk, "D_max", "most dryness of the rule", &facts.deficit_most, KILOPASCAL);
    let name = Name::new("water-by-air", "L_air", "Water per plant, by mass and air");
    let formula = MassWater { m, k, deficit, least, most };
    Some(desk.sheet.work(&name.of(&crop.name), formula))
}

fn by_light<'s>(desk: &Desk<'s>, crop: &Crop, known: Around<'s>) -> Option<Traced<'s>> {
    // Under a lamp or a roof; outdoors the months tell more.
    let (deficit, dli) = (known.deficit?, known.dli?);
    let (sheet, facts) = (desk.sheet, &desk.library.climate);
    let energy =
        fact(desk, "E", "energy of light for plants", &facts.photon_energy, MEGAJOULE_PER_MOLE);
    let k = fact(desk, "k", "how fast light fades in leaves", &facts.extinction, NONE);
    let lai = fact(desk, "LAI", "leaf on ground at full cover", &facts.leaf_area, NONE);
    let name = Name::new("light-caught", "I", "Light the leaves catch");
    let light = sheet.work(&name.of(&crop.name), LightCaught { energy, dli, k, lai });
    let a = fact(desk, "a", "share of the light that evaporates", &facts.light_share, NONE);
    let w = fact(
        desk,
        "w",
        "water a megajoule evaporates",
        &facts.evaporated,
        MILLIMETRE_PER_MEGAJOULE,
    );
    let b = fact(desk, "b", "water dry air draws", &facts.air_term, MILLIMETRE_PER_DAY_KILOPASCAL);
    let name = Name::new("canopy-use", "E_c", "What full cover drinks in a day");
    let rate = sheet.work(&name.of(&crop.name), CanopyUse { a, light, w, b, lai, deficit });
    let f = fact(desk, "f", "plants in bins against the model", &facts.field_factor, NONE);
    let area = fact(desk, "A", "ground of one plant", &crop.canopy, SQUARE_METRE);
    let days = dates::season_days(crop);
    let days = take(sheet, "d", "days in the bin", days, DAY, Origin::Found);
    let cover = fact(desk, "c", "mean cover over these days", mean_cover(facts, crop), NONE);
    let name = Name::new("water-by-light", "L_light", "Water per plant, by light and air");
    let formula = CanopyWater { f, area, days, cover, rate };
    Some(sheet.work(&name.of(&crop.name), formula))
}

/// Mean cover of a crop over its days.
pub(super) fn mean_cover<'f>(facts: &'f ClimateFacts, crop: &Crop) -> &'f Fact {
    match crop.harvest {
        Harvest::Once => &facts.cover_single,
        Harvest::Repeated => &facts.cover_multi,
    }
}

/// Says so where two ways are far apart.
fn apart(desk: &Desk<'_>, crop: &Crop, ways: &[(Way, Band)]) {
    let worked = || ways.iter().filter(|(way, _)| *way != Way::Crop);
    let (mut least, mut most) = (f64::INFINITY, 0.0_f64);
    for (_, band) in worked() {
        (least, most) = (least.min(band.expected), most.max(band.expected));
    }
    if worked().count() > 1 && most > desk.library.climate.apart.value * least {
        let show = |v| crate::number::figures::plain(v, 2);
        let message = format!(
            "ways to work the water of {} differ: {} to {} L",
            crop.name,
            show(least),
            show(most)
        );
        let help = "the booklet prints both and plans with the better informed one; light or \
                    humidity may be read wrong, or the crop be picked younger than usual; your own \
                    log decides";
        desk.findings.add(Finding::new(Severity::Note, "ways-differ", message, help));
    }
}

/// A day in the season.
pub(super) fn day_after(from: Date, days: u32) -> Date {
    dates::after(from, f64::from(days))
}
