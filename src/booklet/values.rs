//! The values that page templates may name: finished texts, lists of them, and yes or no.

use std::collections::BTreeMap;

use minijinja::value::Value;

use super::Grow;
use super::page::{self, acidity, bin, glance, holes::places, mixing, pails, strength};
use crate::compute::dose::Basis;
use crate::compute::lid::lid;
use crate::number::figures;

/// Values of a page, by name; lists and groups nest.
pub(super) type Values = BTreeMap<&'static str, Value>;

/// Solutions that some bin is filled with.
pub(super) fn used_mixes<'a>(grow: &'a Grow<'_>) -> impl Iterator<Item = usize> + use<'a> {
    (0..grow.plan.mixes.len()).filter(|m| grow.plan.bins.iter().any(|b| b.mix == *m))
}

pub(super) fn group<const N: usize>(values: [(&'static str, Value); N]) -> Value {
    Value::from_pairs(values)
}

/// Values every page has.
pub(super) fn base(grow: &Grow<'_>) -> Values {
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
        ("outdoors", (!plan.climate.indoors).into()),
        ("total_volume", figures::volume(grow.results.total, plan.system).into()),
    ])
}

pub(super) fn feed_names(grow: &Grow<'_>, mix: usize) -> String {
    let parts = grow.plan.mixes[mix].parts.iter();
    parts.map(|p| grow.plan.feeds[p.feed].name.as_str()).collect::<Vec<_>>().join(", ")
}

/// Values of the pages of a solution.
pub(super) fn of_mix(grow: &Grow<'_>, mix: usize) -> Values {
    Values::from([("mix", solution(grow, mix)), ("ph", of_acidity(grow, mix))])
}

fn solution(grow: &Grow<'_>, mix: usize) -> Value {
    let (plan, mixing) = (grow.plan, &grow.results.mixing[mix]);
    let batch = &plan.mixes[mix];
    let litres = |v| Value::from(figures::volume(v, plan.system));
    group([
        ("name", batch.name.as_str().into()),
        ("water", plan.water.name.as_str().into()),
        ("pail", litres(batch.pail)),
        ("total", litres(mixing.total)),
        ("batches", pails::batches(grow, mix).into()),
        ("feeds", feed_names(grow, mix).into()),
        ("concentrate", mixing.concentrate.is_some().into()),
        ("aimed", batch.aim.is_some().into()),
        ("several_days", mixing.together.is_none().into()),
        ("spoons", mixing::spoons(grow, mix).into()),
        ("under_label", under_label(grow, mix).into()),
    ])
}

/// Whether a feed is dosed under the lowest that its label says.
fn under_label(grow: &Grow<'_>, mix: usize) -> bool {
    let doses = grow.results.mixing[mix].feeds.iter();
    doses.into_iter().any(|d| d.rate < grow.plan.feeds[d.feed].rate.ends().0)
}

fn of_acidity(grow: &Grow<'_>, mix: usize) -> Value {
    let (plan, ph) = (grow.plan, &grow.results.acidity[mix]);
    let adjuster = |up: bool| {
        let found = plan.adjusters.iter().find(|a| a.up == up);
        Value::from(found.map_or("", |a| a.name.as_str()))
    };
    let reading = |ph: f64| Value::from(figures::decimals(ph, 1));
    let report = grow.results.chemistry[mix].as_ref();
    let dose = grow.results.doses[mix].as_ref();
    let by = |basis: Basis| Value::from(dose.is_some_and(|d| d.basis == basis));
    group([
        ("low", reading(ph.range[0])),
        ("high", reading(ph.range[1])),
        ("target", reading(ph.target)),
        ("adjuster_up", adjuster(true)),
        ("adjuster_down", adjuster(false)),
        ("has_trial", (!ph.trials.is_empty()).into()),
        ("has_last_time", ph.last_time.is_some().into()),
        ("has_report", report.is_some().into()),
        ("has_report_dose", report.is_some_and(|c| c.dosing.is_some()).into()),
        ("has_dose", dose.is_some().into()),
        ("expects", acidity::expected(grow, mix).is_some().into()),
        ("by_jar", by(Basis::Jar)),
        ("by_last_time", by(Basis::LastTime)),
        ("by_report", by(Basis::Report)),
        ("dose_dry", dose.is_some_and(|d| plan.adjusters[d.adjuster].dry).into()),
        ("dose_up", dose.is_some_and(|d| d.up).into()),
        ("has_jar_fit", grow.results.jars[mix].is_some().into()),
    ])
}

/// Values of a bin's page.
pub(super) fn of_bin(grow: &Grow<'_>, index: usize) -> Value {
    let (bin, r) = (&grow.plan.bins[index], &grow.results.bins[index]);
    let system = grow.plan.system;
    let (fill, season) = (&r.fill, &r.season);
    let length = |mm: f64| Value::from(figures::length(mm, system));
    let need = season.need;
    let ph = &grow.results.acidity[bin.mix];
    let topup = season.events().next().is_some();
    let ([measure, full_dose, half_dose], plain) = strength::strengths(grow, index);
    group([
        ("name", bin.name.as_str().into()),
        ("crops", glance::crops(bin).into()),
        ("plants", bin.pots().to_string().into()),
        ("holes", bin.pots().to_string().into()),
        ("hole", length(bin.pot.hole)),
        ("hole_places", lid(bin).map_or(String::new(), |lid| places(&lid, system)).into()),
        ("start_line", length(fill.start)),
        ("start_rim", length(fill.depth - fill.start)),
        ("start_volume", figures::volume(fill.start_volume, system).into()),
        ("feed", strength::for_bin(grow, index).into()),
        ("ph_low", figures::decimals(ph.range[0], 1).into()),
        ("ph_high", figures::decimals(ph.range[1], 1).into()),
        ("pot_bottom", length(fill.pot_bottom)),
        ("ceiling", length(fill.ceiling)),
        ("reserve", length(fill.reserve)),
        ("per_level", bin::per_volume(fill.per_litre[0], system).into()),
        ("water", figures::volume_band(need.expected, need.low, need.high, system).into()),
        ("verdict", verdict(season).into()),
        ("odds", odds(r.odds).into()),
        ("sow", page::day(r.dates.sown).into()),
        ("roots", page::window([r.dates.first_roots, r.dates.roots[1]]).into()),
        ("set_out", page::day(r.dates.set_out).into()),
        ("harvest", page::window(r.dates.harvest).into()),
        ("topup_needed", topup.into()),
        ("measure", measure.into()),
        ("full_dose", full_dose.into()),
        ("half_dose", half_dose.into()),
        ("plain_water", plain.into()),
        ("drifts", r.drift.is_some().into()),
    ])
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
        [None, None, _] => {
            "It should last to the harvest, even in a season as thirsty as one in ten.".into()
        }
    }
}

/// How often it runs dry, in words.
fn odds(odds: crate::compute::Odds) -> String {
    let hundred = |share: f64| match 100.0 * share {
        0.0 => "none".to_string(),
        n if n < 1.0 => "fewer than 1".into(),
        n => figures::decimals(n, 0),
    };
    let (alone, topped) = (hundred(odds.alone), hundred(odds.topped));
    let text = format!(
        "Of a hundred such seasons {alone} reach the reserve before the end with nothing added"
    );
    if alone == topped {
        format!("{text}.")
    } else {
        format!("{text}, {topped} with the planned top-ups and nobody looking: so look.")
    }
}
