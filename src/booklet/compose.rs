//! The list of pages, and the values and blocks each of them gets.

use std::collections::BTreeMap;

use minijinja::value::Value;

use super::Grow;
use super::block::{Booklet, Day, Page, Paper};
use super::page::{
    self, acidity, bin, care, chemistry, concentrate, electrolyte, gather, glance, mixing, safety,
    section, sources, working,
};
use super::words::{Blocks, PAGES, Words};
use crate::number::figures;
use crate::plan::Sheet;

/// Values of a page, by name; lists and groups nest.
type Values = BTreeMap<&'static str, Value>;

/// Composes a booklet.
///
/// # Errors
/// A fault in a page template, with its place.
pub fn compose(grow: &Grow<'_>) -> Result<Booklet, String> {
    let folds = working::folds(&grow.results.steps);
    let words = Words::new(working::numbers(&folds))?;
    let base = base(grow);
    let mut pages = Vec::new();
    for (id, _) in PAGES {
        let fill = |values: Values, blocks: &Blocks| {
            let all: Values = base.clone().into_iter().chain(values).collect();
            words.page(id, &Value::from_pairs(all), blocks)
        };
        match id {
            "mixing" | "acidity" | "chemistry" => {
                for mix in mixes_of(grow, id) {
                    let (values, blocks) = of_mix(grow, mix);
                    pages.push(fill(values, &blocks)?);
                }
            }
            "bin" => {
                for index in 0..grow.plan.bins.len() {
                    let (values, blocks) = of_bin(grow, index);
                    pages.push(fill(values, &blocks)?);
                }
            }
            "notes" if grow.plan.notes.is_empty() => {}
            _ => {
                let mut blocks = of_grow(grow, id);
                if id == "working" {
                    blocks.insert("working", working::working(grow, &folds));
                }
                pages.push(fill(
                    Values::from([(
                        "bleach",
                        group(care::bleach(grow).map(|(k, v)| (k, v.into()))),
                    )]),
                    &blocks,
                )?);
            }
        }
    }
    Ok(bound(grow, pages))
}

fn bound(grow: &Grow<'_>, pages: Vec<Page>) -> Booklet {
    let plan = grow.plan;
    let (width, height) = match plan.paper {
        Sheet::Letter => (215.9, 279.4),
        Sheet::A4 => (210.0, 297.0),
        Sheet::A5 => (148.0, 210.0),
        Sheet::HalfLetter => (139.7, 215.9),
    };
    Booklet {
        title: plan.title.clone(),
        keeper: plan.keeper.clone(),
        place: plan.place.clone(),
        date: Day { year: plan.sown.year(), month: plan.sown.month(), day: plan.sown.day() },
        digest: grow.digest.into(),
        version: env!("CARGO_PKG_VERSION").into(),
        paper: Paper { width, height },
        pages,
    }
}

/// Solutions that some bin is filled with.
fn used_mixes<'a>(grow: &'a Grow<'_>) -> impl Iterator<Item = usize> + use<'a> {
    (0..grow.plan.mixes.len()).filter(|m| grow.plan.bins.iter().any(|b| b.mix == *m))
}

/// Solutions that a page of this kind is made for.
fn mixes_of<'a>(grow: &'a Grow<'_>, id: &str) -> impl Iterator<Item = usize> + use<'a> {
    let chemistry = id == "chemistry";
    used_mixes(grow).filter(move |m| !chemistry || grow.results.chemistry[*m].is_some())
}

fn group<const N: usize>(values: [(&'static str, Value); N]) -> Value {
    Value::from_pairs(values)
}

/// Values every page has.
fn base(grow: &Grow<'_>) -> Values {
    let plan = grow.plan;
    let bins = plan.bins.iter().map(|b| {
        group([
            ("name", b.name.as_str().into()),
            ("crops", glance::crops(b).into()),
            ("plants", b.pots().to_string().into()),
        ])
    });
    let mixes = used_mixes(grow).map(|m| {
        group([("name", plan.mixes[m].name.as_str().into()), ("feeds", feed_names(grow, m).into())])
    });
    let plants: u32 = plan.bins.iter().map(crate::plan::Bin::pots).sum();
    Values::from([
        ("title", plan.title.as_str().into()),
        ("place", plan.place.as_str().into()),
        ("keeper", plan.keeper.as_str().into()),
        ("sown", page::day(plan.sown).into()),
        ("digest", grow.digest.into()),
        ("version", env!("CARGO_PKG_VERSION").into()),
        ("bins", bins.collect::<Vec<_>>().into()),
        ("mixes", mixes.collect::<Vec<_>>().into()),
        ("bin_count", plan.bins.len().to_string().into()),
        ("plant_count", plants.to_string().into()),
        ("total_volume", figures::volume(grow.results.total, plan.system).into()),
    ])
}

fn feed_names(grow: &Grow<'_>, mix: usize) -> String {
    let parts = grow.plan.mixes[mix].parts.iter();
    parts.map(|p| grow.plan.feeds[p.feed].name.as_str()).collect::<Vec<_>>().join(", ")
}

fn of_mix(grow: &Grow<'_>, mix: usize) -> (Values, Blocks) {
    let blocks = Blocks::from([
        ("dose_table", mixing::dose_table(grow, mix)),
        ("label_table", mixing::label_table(grow, mix)),
        ("elements_table", mixing::elements_table(grow, mix)),
        ("check_table", mixing::check_table(grow, mix)),
        ("bottles_table", concentrate::bottles_table(grow, mix)),
        ("dilution_table", concentrate::dilution_table(grow, mix)),
        ("trial_table", acidity::trial_table(grow, mix)),
        ("stage_table", acidity::stage_table(grow, mix)),
        ("lookup_table", acidity::lookup_table(grow, mix)),
        ("last_time_table", acidity::last_time_table(grow, mix)),
        ("jar_trial_form", acidity::jar_trial_form()),
        ("household_table", acidity::household_table(grow, mix)),
        ("acid_cautions", care::acid_cautions()),
        ("reading_table", chemistry::reading_table(grow, mix)),
        ("report_dose_table", chemistry::report_dose_table(grow, mix)),
        ("report_lookup_table", chemistry::report_lookup_table(grow, mix)),
        ("curve", chemistry::curve(grow, mix)),
        ("assumptions", chemistry::assumptions(grow, mix)),
        ("correction_table", electrolyte::correction_table(grow, mix)),
        ("ions_table", electrolyte::ions_table(grow, mix)),
        ("sums_table", electrolyte::sums_table(grow, mix)),
        ("saturation_table", electrolyte::saturation_table(grow, mix)),
        ("jar_table", electrolyte::jar_table(grow, mix)),
    ]);
    (mix_values(grow, mix), blocks)
}

fn mix_values(grow: &Grow<'_>, mix: usize) -> Values {
    let (plan, mixing) = (grow.plan, &grow.results.mixing[mix]);
    let (batch, ph) = (&plan.mixes[mix], &grow.results.acidity[mix]);
    let adjuster = |up: bool| {
        let found = plan.adjusters.iter().find(|a| a.up == up);
        Value::from(found.map_or("", |a| a.name.as_str()))
    };
    let reading = |ph: f64| Value::from(figures::decimals(ph, 1));
    let litres = |v| Value::from(figures::volume(v, plan.system));
    let report = grow.results.chemistry[mix].as_ref();
    Values::from([
        (
            "mix",
            group([
                ("name", batch.name.as_str().into()),
                ("water", plan.water.name.as_str().into()),
                ("pail", litres(batch.pail)),
                ("total", litres(mixing.total)),
                ("batches", mixing::batches(grow, mix).into()),
                ("feeds", feed_names(grow, mix).into()),
                ("concentrate", mixing.concentrate.is_some().into()),
                ("aimed", batch.aim.is_some().into()),
            ]),
        ),
        (
            "ph",
            group([
                ("low", reading(ph.range[0])),
                ("high", reading(ph.range[1])),
                ("target", reading(ph.target)),
                ("adjuster_up", adjuster(true)),
                ("adjuster_down", adjuster(false)),
                ("has_trial", (!ph.trials.is_empty()).into()),
                ("has_last_time", ph.last_time.is_some().into()),
                ("has_report", report.is_some().into()),
                ("has_dose", report.is_some_and(|c| c.dosing.is_some()).into()),
                ("has_jar_fit", grow.results.jars[mix].is_some().into()),
            ]),
        ),
    ])
}

fn of_bin(grow: &Grow<'_>, index: usize) -> (Values, Blocks) {
    let (bin, r) = (&grow.plan.bins[index], &grow.results.bins[index]);
    let system = grow.plan.system;
    let (fill, season) = (&r.fill, &r.season);
    let length = |mm: f64| Value::from(figures::length(mm, system));
    let need = season.need;
    let ph = &grow.results.acidity[bin.mix];
    let topup = season.events().next().is_some();
    let values = group([
        ("name", bin.name.as_str().into()),
        ("crops", glance::crops(bin).into()),
        ("plants", bin.pots().to_string().into()),
        ("start_line", length(fill.start)),
        ("start_rim", length(fill.depth - fill.start)),
        ("start_volume", figures::volume(fill.start_volume, system).into()),
        ("feed", mixing::for_bin(grow, index).into()),
        ("ph_low", figures::decimals(ph.range[0], 1).into()),
        ("ph_high", figures::decimals(ph.range[1], 1).into()),
        ("pot_bottom", length(fill.pot_bottom)),
        ("ceiling", length(fill.ceiling)),
        ("reserve", length(fill.reserve)),
        ("per_level", bin::per_volume(fill.per_litre[0], system).into()),
        ("water", figures::volume_band(need.expected, need.low, need.high, system).into()),
        ("verdict", verdict(season).into()),
        ("sow", page::day(r.dates.sown).into()),
        ("roots", page::window(r.dates.roots).into()),
        ("set_out", page::day(r.dates.set_out).into()),
        ("harvest", page::window(r.dates.harvest).into()),
        ("topup_needed", topup.into()),
    ]);
    let blocks = Blocks::from([
        ("section", section::section(grow, index)),
        ("lines_table", bin::lines_table(grow, index)),
        ("dates_table", bin::dates_table(grow, index)),
        ("topup_table", bin::topup_table(grow, index)),
        ("log_table", bin::log_table(grow, index)),
    ]);
    (Values::from([("bin", values)]), blocks)
}

fn verdict(season: &crate::compute::Season) -> String {
    let day = page::day;
    match season.dry {
        [early, Some(expected), late] => {
            let early = early.map_or(String::new(), |d| format!("as early as {}, ", day(d)));
            let late = late.map_or("or not at all".into(), |d| format!("or as late as {}", day(d)));
            format!(
                "It will not last on one filling: with nothing added it is at the reserve about {}, \
                 {early}{late}.",
                day(expected)
            )
        }
        [Some(early), None, _] => format!(
            "It should last to the harvest; in a hot or bright season it is at the reserve by {}.",
            day(early)
        ),
        [None, None, _] => "It should last to the harvest, even in a thirsty season.".into(),
    }
}

/// Blocks of a page that stands once.
fn of_grow(grow: &Grow<'_>, id: &str) -> Blocks {
    match id {
        "glance" => Blocks::from([
            ("bins_table", glance::bins_table(grow)),
            ("calendar_table", glance::calendar_table(grow)),
            ("findings", glance::findings(grow)),
        ]),
        "gather" => Blocks::from([("gather_table", gather::gather_table(grow))]),
        "safety" => Blocks::from([("hazards_table", safety::hazards_table(grow))]),
        "sowing" => Blocks::from([("sowing_table", care::sowing_table(grow))]),
        "setting-out" => Blocks::from([
            ("setting_out_table", care::setting_out_table(grow)),
            ("crop_notes", care::crop_notes(grow)),
        ]),
        "topping-up" => Blocks::from([
            ("topup_overview", care::topup_overview(grow)),
            ("changeout_table", care::changeout_table(grow)),
        ]),
        "cleaning" => Blocks::from([("bleach_table", care::bleach_table(grow))]),
        "learned" => Blocks::from([("harvest_form", care::harvest_form(grow))]),
        "notes" => Blocks::from([("notes", care::notes(grow))]),
        "sources" => Blocks::from([("sources_table", sources::sources_table(grow))]),
        "plan" => Blocks::from([("plan_text", sources::plan_text(grow))]),
        _ => Blocks::new(),
    }
}
