//! Doses, labels and elements of one solution.

use super::super::Grow;
use super::super::block::{Block, Column, Line, Table, plain};
use super::pails::vessels;
use super::{cells, one, paragraph, words};
use crate::compute::mixing::{Added, Amount};
use crate::compute::recipe::step_for;
use crate::number::figures::{self, System};
use crate::number::unit::LITRES_PER_US_GALLON;
use crate::plan::{Dose, LabelRate, Part};

/// A weight as the scale shows it.
pub(in super::super) fn weight(grams: f64, step: f64) -> String {
    let step = step_for(grams, step);
    // Decimals enough for the step: 0.1 has one, 0.05 two.
    let places = (0..4).find(|d| {
        let steps = step * libm::exp10(f64::from(*d));
        (steps - steps.round()).abs() < 1e-6
    });
    let places = usize::try_from(places.unwrap_or(4)).unwrap_or(4);
    format!("{} g", figures::decimals((grams / step).round() * step, places))
}

/// An amount as it is weighed, spooned or poured; `step` of the scale, if it was found for one.
pub(super) fn amount(amount: &Amount, step: Option<f64>) -> String {
    let mut ways = Vec::new();
    if let Some(grams) = amount.grams {
        ways.push(step.map_or_else(|| figures::mass(grams), |step| weight(grams, step)));
    }
    if let Some(ml) = amount.millilitres {
        ways.push(figures::dropper(ml));
    }
    if let Some((spoons, off)) = amount.eighths() {
        let percent = figures::decimals(100.0 * off.abs(), 0);
        let error = match percent.as_str() {
            "0" => String::new(),
            _ if off > 0.0 => format!(" ({percent} % over)"),
            _ => format!(" ({percent} % under)"),
        };
        ways.push(if spoons > 0.0 {
            format!("{} tsp{error}", figures::mixed(spoons, 8))
        } else {
            "less than 1/8 tsp (weigh it)".into()
        });
    }
    ways.join(" or ")
}

pub(in super::super) fn dose_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let (plan, mixing) = (grow.plan, &grow.results.mixing[mix]);
    if mixing.concentrate.is_some() {
        return Vec::new();
    }
    let mut columns = words([("For", 5), ("Water", 7)]);
    for dose in &mixing.feeds {
        columns.push(Column::words(&plan.feeds[dose.feed].name, 7));
    }
    let rows = vessels(grow, mix, |i, share| {
        let parts = mixing.feeds.iter().zip(&plan.mixes[mix].parts);
        let step = |part: &Part| (part.dose == Dose::ToAim).then_some(plan.mixes[mix].scale);
        parts.map(|(d, part)| plain(amount(&d.amounts[i].times(share), step(part)))).collect()
    });
    let caption =
        if spoons(grow, mix) { "Feed to stir in. Spoons are level." } else { "Feed to stir in." };
    one(Table::printed(caption, columns, rows))
}

/// Whether a feed of a solution is told in spoons.
pub(in super::super) fn spoons(grow: &Grow<'_>, mix: usize) -> bool {
    let mixing = &grow.results.mixing[mix];
    mixing.feeds.iter().flat_map(|dose| &dose.amounts).any(|a| a.eighths().is_some())
}

/// A rate in the unit of the label.
pub(in super::super) fn rate(kind: &LabelRate, value: f64, system: System) -> String {
    match kind {
        LabelRate::Spoons { .. } => {
            let per_litre = value / LITRES_PER_US_GALLON;
            match system {
                System::Us => format!("{} tsp/gal", figures::plain(value, 3)),
                System::Metric => {
                    format!(
                        "{} tsp/gal ({} tsp/L)",
                        figures::plain(value, 3),
                        figures::plain(per_litre, 3)
                    )
                }
            }
        }
        LabelRate::Mass { .. } if value < 0.01 => {
            format!("{} mg/L", figures::plain(1000.0 * value, 3))
        }
        LabelRate::Mass { .. } => format!("{} g/L", figures::plain(value, 3)),
        LabelRate::Liquid { .. } => format!("{} mL/L", figures::plain(value, 3)),
    }
}

pub(in super::super) fn label_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let system = grow.plan.system;
    let parts = grow.plan.mixes[mix].parts.iter().zip(&grow.results.mixing[mix].feeds);
    let rows = parts.map(|(part, dose)| {
        let feed = &grow.plan.feeds[part.feed];
        let (low, high) = feed.rate.ends();
        let label = match &feed.salt {
            Some(key) => format!("no label: {}, weighed", grow.library.salts[key].name),
            None => {
                format!("{} to {}", rate(&feed.rate, low, system), rate(&feed.rate, high, system))
            }
        };
        let how = match part.dose {
            Dose::OfLabelLow(f) => format!("{} times the label's lowest", figures::plain(f, 3)),
            Dose::Rate(_) => "set in the plan".into(),
            Dose::ToAim => "nearest to the aim".into(),
        };
        cells([feed.name.clone(), label, rate(&feed.rate, dose.rate, system), how])
    });
    let columns = words([("Feed", 5), ("The label says", 7), ("Chosen", 5), ("How chosen", 6)]);
    one(Table::printed("", columns, rows.collect()))
}

pub(in super::super) fn elements_table(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let elements = &grow.results.mixing[mix].elements;
    if elements.is_empty() {
        return vec![paragraph(
            "What the feed adds of each element cannot be worked out without the weight of a \
             level teaspoon. Weigh ten level teaspoons, divide by ten, and write it in the plan.",
        )];
    }
    if elements.iter().any(|e| e.water.is_some() || e.aim.is_some()) {
        return [one(whole_table(grow, mix)), unnamed(grow, mix)].concat();
    }
    let row = |e: &Added| -> Vec<Line> {
        cells([format!("{} ({})", e.name, e.symbol), figures::plain(e.amount, 3)])
    };
    // Two columns of elements side by side take half the paper.
    let half = elements.len().div_ceil(2);
    let rows = (0..half).map(|i| {
        let mut line = row(&elements[i]);
        line.extend(
            elements.get(half + i).map_or_else(|| cells([String::new(), String::new()]), row),
        );
        line
    });
    let pair = || [Column::words("Element", 5), Column::numbers("mg/L added", 3)];
    let columns = pair().into_iter().chain(pair()).collect();
    let caption = "What the feeds add; the water brings its own.";
    [one(Table::printed(caption, columns, rows.collect())), unnamed(grow, mix)].concat()
}

/// Traces that plants need and leaf feeds name, by their symbols (common practice, no source).
const TRACES: [&str; 6] = ["Fe", "Mn", "B", "Zn", "Cu", "Mo"];

/// What to do about traces that no label names.
fn unnamed(grow: &Grow<'_>, mix: usize) -> Vec<Block> {
    let elements = &grow.results.mixing[mix].elements;
    let fed = |symbol: &str| elements.iter().any(|e| e.symbol == symbol && e.amount > 0.0);
    let traces: Vec<&str> = TRACES.into_iter().filter(|symbol| !fed(symbol)).collect();
    let aim = &grow.plan.mixes[mix].aim;
    if traces.is_empty() || aim.is_some() {
        return Vec::new();
    }
    vec![paragraph(format!(
        "No feed here names {}, traces that plants need. Many feeds carry them all the \
         same (common practice, no source): ask the maker, or take one whose label names them.",
        traces.join(", ")
    ))]
}

/// Water, feeds and aim side by side.
fn whole_table(grow: &Grow<'_>, mix: usize) -> Table {
    let elements = &grow.results.mixing[mix].elements;
    let aim = grow.plan.mixes[mix].aim.as_ref();
    let rows = elements.iter().map(|e| {
        let known = |mg: Option<f64>| mg.map_or("–".into(), |mg| figures::plain(mg, 3));
        let mut row = cells([format!("{} ({})", e.name, e.symbol)]);
        row.extend(cells(parts(e)));
        if aim.is_some() {
            let off = e.aim.map(|aim| figures::decimals(100.0 * (e.all / aim - 1.0), 0));
            row.push(plain(known(e.aim)));
            row.push(plain(off.map_or(String::new(), |off| format!("{off} %"))));
        }
        row
    });
    let mut columns = words([("Element", 5)]);
    let heads = ["Water, mg/L", "Feeds, mg/L", "In all, mg/L", "Aim, mg/L", "Off by"];
    let shown = if aim.is_some() { 5 } else { 3 };
    columns.extend(heads[..shown].iter().map(|head| Column::numbers(head, 3)));
    let fed = match fed_by_dose(grow, mix) {
        fed if fed.is_empty() => fed,
        fed => format!(" Not in it: what the pH dose adds, up to {fed}."),
    };
    let caption = match aim {
        Some(aim) => format!(
            "What the solution holds, beside what it is to hold ({}). A dash: not in the water \
             report.",
            aim.name
        ),
        None => "What the solution holds. A dash: not in the water report.".into(),
    };
    Table::printed(&format!("{caption}{fed}"), columns, rows.collect())
}

/// What water and feeds bring, and both, so that what is printed adds up: a digit more where it takes
/// one.
fn parts(e: &Added) -> [String; 3] {
    let Some(water) = e.water else {
        return ["–".into(), figures::plain(e.amount, 3), figures::plain(e.all, 3)];
    };
    let all = [water, e.amount, e.all];
    let add = |places: &usize| {
        let [shown, fed, all] = all.map(|mg| figures::read(&figures::decimals(mg, *places)));
        // What a report says is not rounded away.
        (shown + fed - all).abs() < 1e-6 && (shown - water).abs() <= 0.01 * water
    };
    let least = match e.all {
        mg if mg >= 99.95 => 0,
        mg if mg >= 9.995 => 1,
        mg if mg >= 0.9995 => 2,
        _ => 3,
    };
    let places = (least..=least + 2).find(add).unwrap_or(least + 2);
    let shown = |mg: f64| {
        let text = figures::decimals(mg, places);
        // A report's whole number stays whole.
        match text.split_once('.') {
            Some((whole, rest)) if rest.bytes().all(|b| b == b'0') => whole.to_string(),
            _ => text,
        }
    };
    all.map(shown)
}

/// What the pH dose will add to that.
pub(super) fn fed_by_dose(grow: &Grow<'_>, mix: usize) -> String {
    let dosing = grow.results.chemistry[mix].as_ref().and_then(|c| c.dosing.as_ref());
    let Some(dosing) = dosing.filter(|d| !d.adds.is_empty()) else { return String::new() };
    super::chemistry::added(dosing)
}
