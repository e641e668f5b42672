//! Which weights of the grower's salts come nearest to what a solution is to hold, the water's own
//! minerals counted in.
//!
//! A search, so in plain numbers: non-negative least squares (Lawson & Hanson 1974, chapter 23).
//! What the sheet then shows is the check: the weights, as the scale can give them, put back into
//! the sums of the elements.

use nnls::nnls;

use super::Desk;
use super::ingredients::of_water;
use crate::library::Library;
use crate::number::figures;
use crate::plan::{Aim, Dose, Feed, Mix, Plan};

/// What the search found.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Found {
    /// For each part of the mix: the weight (g) in one [`Found::vessel`], to the step of the scale,
    /// if its dose was to be found.
    pub(crate) weights: Vec<Option<f64>>,
    /// Litres of solution that weight makes.
    pub(crate) vessel: f64,
}

/// Sulfur counts less: it comes along with the other ions, and plants bear a wide range of it
/// (common practice, no source).
const FOLLOWS: f64 = 0.3;

/// Under this part of its aim sulfur is reported all the same.
const STARVED: f64 = 0.5;

/// Further from its aim than this share, an element is reported.
const MISSED: f64 = 0.1;

/// A weight of fewer steps than this is off by more than a tenth.
const FEWEST_STEPS: f64 = 5.0;

/// A fine scale bears little: from this weight on (g) a kitchen scale weighs, in steps of this
/// (common practice, no source).
const FINE_BEARS: f64 = 10.0;
const KITCHEN: f64 = 0.1;

/// The step of the scale that so many grams are weighed on (g).
#[must_use]
pub fn step_for(grams: f64, finest: f64) -> f64 {
    if grams < FINE_BEARS { finest } else { finest.max(KITCHEN) }
}

/// Finds the doses of a mix that are to be found; `None` if there are none.
pub(super) fn find(desk: &Desk<'_>, mix: usize) -> Option<Found> {
    let (plan, library) = (desk.plan, desk.library);
    let batch = &plan.mixes[mix];
    let aim = batch.aim.as_ref()?;
    let open: Vec<usize> =
        (0..batch.parts.len()).filter(|p| batch.parts[*p].dose == Dose::ToAim).collect();
    if open.is_empty() || aim.contents.is_empty() {
        return None;
    }
    let there = |form: &str| brought(plan, batch, library, form);
    let rates = weights(plan, batch, library, aim, &open, there);
    let vessel = batch.concentrate.map_or(batch.pail, |c| c.bottle * c.times);
    let mut weights = vec![None; batch.parts.len()];
    missed(desk, batch, aim, |form| {
        let salts = open.iter().zip(&rates).map(|(part, rate)| {
            rate * per_gram(&plan.feeds[batch.parts[*part].feed], library, form)
        });
        salts.sum()
    });
    for (part, rate) in open.iter().zip(rates) {
        // To eight digits first, so that the last bits of a machine decide no rounding.
        let step = step_for(rate * vessel, batch.scale);
        let steps = (rate * vessel / step * 1e8).round() / 1e8;
        weights[*part] = Some(steps.round() * step);
        if steps <= 0.0 {
            let name = &plan.feeds[batch.parts[*part].feed].name;
            let what = format!("\"{name}\" is not needed in \"{}\"", batch.name);
            desk.note("not-needed", &batch.place, [&what, "leave it out of its feeds"]);
        } else if steps < FEWEST_STEPS {
            coarse(desk, batch, &plan.feeds[batch.parts[*part].feed], rate * vessel);
        }
    }
    Some(Found { weights, vessel })
}

/// The rates of the open parts (g/L).
fn weights(
    plan: &Plan,
    batch: &Mix,
    library: &Library,
    aim: &Aim,
    open: &[usize],
    there: impl Fn(&str) -> f64,
) -> Vec<f64> {
    let (rows, columns) = (aim.contents.len(), open.len());
    // Each element counts by its share of what is aimed at, so that iron matters as much as nitrate.
    let weight = |form: &str, mg: f64| {
        if form == "S" { FOLLOWS / mg } else { 1.0 / mg }
    };
    let table = nnls_input(rows, columns, |i, j| {
        let (form, mg) = &aim.contents[i];
        let feed = &plan.feeds[batch.parts[open[j]].feed];
        weight(form, *mg) * per_gram(feed, library, form)
    });
    let wanted = (0..rows).map(|i| {
        let (form, mg) = &aim.contents[i];
        weight(form, *mg) * (mg - there(form)).max(0.0)
    });
    let wanted: ndarray::Array1<f64> = wanted.collect();
    nnls(table.view(), wanted.view()).0.to_vec()
}

fn nnls_input(
    rows: usize,
    columns: usize,
    at: impl Fn(usize, usize) -> f64,
) -> ndarray::Array2<f64> {
    ndarray::Array2::from_shape_fn((rows, columns), |(i, j)| at(i, j))
}

/// What a gram of a feed in a litre brings of a form (mg/L).
fn per_gram(feed: &Feed, library: &Library, form: &str) -> f64 {
    let counts = |line: &str| match form {
        "N-nitrate" => line == "N-nitrate" || line == "NO3",
        "N-ammonium" => line == "N-ammonium" || line == "NH4",
        element => library.forms.iter().any(|f| f.form == line && f.element == element),
    };
    let lines = feed.contents.iter().filter(|(line, _)| counts(line));
    lines.map(|(line, percent)| 10.0 * percent * library.share(line)).sum()
}

/// What the water and the parts with a dose of their own bring of a form (mg/L).
fn brought(plan: &Plan, batch: &Mix, library: &Library, form: &str) -> f64 {
    let element = if form.starts_with("N-") { "N" } else { form };
    // The nitrogen of a water is nitrate.
    let water = of_water(&plan.water, library).into_iter().filter(|(e, _)| e == element);
    let water: f64 = water.map(|(_, mg)| mg).sum();
    let water = if form == "N-ammonium" { 0.0 } else { water };
    let fixed = batch.parts.iter().map(|part| {
        let feed = &plan.feeds[part.feed];
        let rate = match part.dose {
            Dose::ToAim => 0.0,
            Dose::Rate(rate) => rate,
            Dose::OfLabelLow(factor) => factor * feed.rate.ends().0,
        };
        rate * per_gram(feed, library, form)
    });
    water + fixed.sum::<f64>()
}

fn coarse(desk: &Desk<'_>, batch: &Mix, feed: &Feed, grams: f64) {
    let off = figures::decimals(50.0 * batch.scale / grams, 0);
    let (grams, step) = (figures::plain(grams, 2), figures::plain(batch.scale, 2));
    let message = format!(
        "{grams} g of \"{}\" may be {off} % off on a scale that shows steps of {step} g",
        feed.name
    );
    let help = "use a finer scale and write its step; or mix a concentrate, or a larger bottle of it, \
                which takes many times as much; or weigh 1 g into a litre and measure millilitres";
    desk.caution("scale-too-coarse", &batch.place, message, help);
}

/// Says which elements end far from the aim, and what keeps them there.
fn missed(desk: &Desk<'_>, batch: &Mix, aim: &Aim, salts: impl Fn(&str) -> f64) {
    let (plan, library) = (desk.plan, desk.library);
    let brings =
        |form: &str| batch.parts.iter().any(|p| per_gram(&plan.feeds[p.feed], library, form) > 0.0);
    let mut absent = Vec::new();
    for (form, mg) in &aim.contents {
        let there = brought(plan, batch, library, form);
        let got = there + salts(form);
        let off = got / mg - 1.0;
        if off.abs() <= MISSED || (form == "S" && off > STARVED - 1.0) {
            continue;
        }
        if !brings(form) && there < *mg && form == "N-ammonium" {
            continue; // Nothing starves without it.
        }
        if !brings(form) && there < *mg {
            absent.push(form.as_str());
            continue;
        }
        let help = if there > *mg {
            "the water, or a feed with a dose of its own, already brings more: mix with rainwater, \
             or accept it if the crop does"
        } else {
            "more of it would bring too much of what comes with it in these salts: add a salt that \
             brings it with something else, or accept it if the crop does"
        };
        let (got, mg) = (figures::plain(got, 3), figures::plain(*mg, 3));
        let message = format!("\"{}\" holds {got} mg/L of {form}, not {mg}", batch.name);
        desk.caution("aim-missed", &batch.place, message, help);
    }
    if !absent.is_empty() {
        let message = format!("no feed of \"{}\" brings {}", batch.name, absent.join(", "));
        let help = "plants starve of what is missing, of a micronutrient too: add a salt or a \
                    ready mix that brings it";
        desk.caution("aim-missed", &batch.place, message, help);
    }
}
