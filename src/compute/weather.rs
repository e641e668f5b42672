//! Water of a plant outdoors, month by month, from the weather in the plan.

use jiff::civil::Date;

use super::thirst::{day_after, fact, mean_cover};
use super::{Desk, dates, take};
use crate::finding::{Finding, Severity};
use crate::library::Crop;
use crate::number::unit::{
    CELSIUS, DAY, KILOPASCAL, KILOPASCAL_PER_CELSIUS, MEGAJOULE_PER_SQUARE_METRE_DAY,
    METRE_PER_SECOND, MILLIMETRE_PER_MEGAJOULE, NONE, SECOND_PER_METRE, SQUARE_METRE, Unit,
    WIND_TERM,
};
use crate::number::{Name, Origin, Pen, Traced};
use crate::plan::{Month, middle};
use crate::science::evaporation::{Day, ReferenceEvaporation};
use crate::science::share::cover;
use crate::science::thirst::{MonthWater, MonthsTogether};

/// The months, as people call them.
pub const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Litres of one plant; `None` indoors, without months, or with a gap in them.
pub(super) fn litres<'s>(desk: &Desk<'s>, crop: &Crop, set_out: Date) -> Option<Traced<'s>> {
    let climate = &desk.plan.climate;
    if climate.indoors || climate.months.is_empty() {
        return None;
    }
    let stands = stands(desk, crop, set_out);
    let missing: Vec<&str> = stands
        .iter()
        .filter(|(of, ..)| !climate.months.iter().any(|m| m.of == *of))
        .map(|(of, ..)| MONTHS[usize::from(*of) - 1])
        .collect();
    if !missing.is_empty() {
        let message = format!(
            "{} stands outdoors in {}, whose weather is not in the plan",
            crop.name,
            missing.join(", ")
        );
        let help = "add the months; until then its water is worked without the weather";
        desk.findings.add(Finding::new(Severity::Note, "climate-gap", message, help));
        return None;
    }
    let mut so_far: Option<Traced<'s>> = None;
    for (of, days, covered) in stands {
        let month = climate.months.iter().find(|m| m.of == of)?;
        let item = format!("{}, {}", crop.name, MONTHS[usize::from(of) - 1]);
        let next = month_water(desk, crop, month, (days, covered), &item);
        so_far = Some(match so_far {
            None => next,
            Some(so_far) => {
                let name = Name::new("water-by-weather", "L_sum", "Water per plant, months so far");
                desk.sheet.work(&name.of(&item), MonthsTogether { so_far, next })
            }
        });
    }
    so_far
}

/// Months in which a plant stands in its bin: which, days, mean cover.
fn stands(desk: &Desk<'_>, crop: &Crop, set_out: Date) -> Vec<(u8, f64, f64)> {
    let length = dates::season_days(crop);
    let mean = mean_cover(&desk.library.climate, crop).value;
    let mut all: Vec<(u8, f64, f64)> = Vec::new();
    let days = (0..4000).take_while(|d| f64::from(*d) < length);
    for day in days {
        let of = u8::try_from(day_after(set_out, day).month()).unwrap_or(1);
        let x = (f64::from(day) + 0.5) / length;
        let covered = cover(crop.share_shape.value, dates::full_cover(crop), mean, x.min(1.0));
        match all.iter_mut().find(|(month, ..)| *month == of) {
            Some((_, days, sum)) => (*days, *sum) = (*days + 1.0, *sum + covered),
            None => all.push((of, 1.0, covered)),
        }
    }
    all.into_iter().map(|(of, days, sum)| (of, days, sum / days)).collect()
}

fn month_water<'s>(
    desk: &Desk<'s>,
    crop: &Crop,
    month: &Month,
    (days, covered): (f64, f64),
    item: &str,
) -> Traced<'s> {
    let facts = &desk.library.climate;
    let sheet = desk.sheet;
    let et_0 = reference(desk, month, item);
    let k_c = fact(desk, "K_c", "crop coefficient at full cover", &crop.crop_coefficient, NONE);
    let what = "mean cover in these days";
    let cover = take(sheet, "c", what, covered, NONE, Origin::Found);
    let area = fact(desk, "A", "ground of one plant", &crop.canopy, SQUARE_METRE);
    let days = take(sheet, "d", "days of the month in the bin", days, DAY, Origin::Found);
    let exposure = fact(desk, "f", "a lone bin in a breeze", &facts.exposure, NONE);
    let name = Name::new("month-water", "L_m", "Water per plant in the month");
    sheet.work(&name.of(item), MonthWater { et_0, k_c, cover, area, days, exposure })
}

/// The weather of a month as one day in its middle.
fn mean_day(desk: &Desk<'_>, month: &Month) -> Day {
    let climate = &desk.plan.climate;
    Day {
        latitude: climate.latitude.unwrap_or(0.0),
        altitude: climate.altitude,
        day: middle(month.of),
        t_max: month.warmest,
        t_min: month.coolest,
        e_a: month.vapour,
        wind: month.wind,
        sun: month.radiation,
        ground: 0.0,
    }
}

/// Reference evaporation of a month, on the sheet.
fn reference<'s>(desk: &Desk<'s>, month: &Month, item: &str) -> Traced<'s> {
    let r = mean_day(desk, month).reference();
    let sheet = desk.sheet;
    let from = |at| Origin::Data("fao-56", at);
    let put = |symbol, what, value, unit: Unit, from| take(sheet, symbol, what, value, unit, from);
    let name = Name::new("reference-evaporation", "ET_0", "What grass would evaporate in a day");
    let per_degree = KILOPASCAL_PER_CELSIUS;
    let heat = MEGAJOULE_PER_SQUARE_METRE_DAY;
    let formula = ReferenceEvaporation {
        w: put(
            "w",
            "water a megajoule evaporates",
            r.w,
            MILLIMETRE_PER_MEGAJOULE,
            from("equation 20"),
        ),
        slope: put("Δ", "slope of the vapour curve", r.slope, per_degree, from("equation 13")),
        r_n: put("R_n", "net radiation", r.r_n, heat, from("equations 21 to 40")),
        g: put("G", "heat into the ground", r.g, heat, from("taken as nought")),
        gamma: put("γ", "psychrometric constant", r.gamma, per_degree, from("equation 8")),
        c_w: put("c_w", "constant of the wind", r.c_w, WIND_TERM, from("equation 6")),
        t: put("T", "mean temperature", r.t, CELSIUS, Origin::Plan),
        t_0: put("T_0", "to absolute temperature", r.t_0, CELSIUS, from("equation 6")),
        u_2: put("u_2", "wind at 2 m", r.u_2, METRE_PER_SECOND, Origin::Plan),
        e_s: put("e_s", "vapour the air could hold", r.e_s, KILOPASCAL, from("equation 12")),
        e_a: put("e_a", "vapour in the air", r.e_a, KILOPASCAL, from("equation 19")),
        c_r: put("c_r", "resistance of the leaves", r.c_r, SECOND_PER_METRE, from("equation 6")),
    };
    sheet.work(&name.of(item), formula)
}
