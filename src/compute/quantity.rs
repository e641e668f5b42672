//! Computed quantities as other programs read them (`binleaf numbers`).

use jiff::civil::Date;
use serde::Serialize;

use super::season::Event;
use super::{BinResults, Chemistry, Dates, Dose, Mixing, Results, Season, batch_scope, bin_scope};
use crate::number::Step;
use crate::number::Unit;
use crate::number::unit::{LITRE, MILLIGRAM_PER_LITRE, MILLIMETRE};
use crate::plan::Plan;

/// A value: a number, or a day.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Value {
    /// A number.
    Number(f64),
    /// A day as year-month-day.
    Text(String),
}

/// A computed quantity.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Quantity {
    /// Stable kebab-case id.
    pub id: String,
    /// `grow`, `batch/NAME` or `bin/NAME`.
    pub scope: String,
    /// Which of several of its kind in this scope (a feed, a line, a day); empty if there is one.
    pub item: String,
    /// The value; expected, if low and high are given.
    pub value: Value,
    /// Its unit; empty for a bare number or a day.
    pub unit: String,
    /// Low end, if it is an estimate.
    pub low: Option<Value>,
    /// High end, if it is an estimate.
    pub high: Option<Value>,
    /// Formula id, or how it was found.
    pub method: String,
    /// Key of the source in `data/sources.toml`.
    pub source: String,
}

impl Quantity {
    fn of_step(step: &Step) -> Self {
        Self {
            id: step.id.into(),
            scope: step.scope.clone(),
            item: step.item.clone(),
            value: Value::Number(step.value),
            unit: step.card.unit.text.into(),
            low: None,
            high: None,
            method: step.card.id.into(),
            source: step.card.source.into(),
        }
    }
}

/// Every quantity of a plan: the worked steps, then what was found.
pub(super) fn all(plan: &Plan, results: &Results) -> Vec<Quantity> {
    let mut all: Vec<Quantity> = results.steps.iter().map(Quantity::of_step).collect();
    add_bands(&mut all, plan, &results.bins);
    for (bin, worked) in plan.bins.iter().zip(&results.bins) {
        let scope = bin_scope(&bin.name);
        of_bin(&scope, &worked.dates, &worked.season, &mut all);
        chances(&scope, worked, &mut all);
    }
    for (i, batch) in plan.mixes.iter().enumerate() {
        let scope = batch_scope(&batch.name);
        of_batch(&scope, &results.mixing[i], &mut all);
        if let Some(chemistry) = &results.chemistry[i] {
            of_chemistry(&scope, chemistry, &mut all);
        }
        if let Some(dose) = &results.doses[i] {
            of_dose(plan, (dose, &results.mixing[i].bins), &mut all);
        }
    }
    all
}

/// Adds the low and high ends of what is an estimate.
fn add_bands(quantities: &mut [Quantity], plan: &Plan, bins: &[BinResults]) {
    for (bin, results) in plan.bins.iter().zip(bins) {
        let scope = bin_scope(&bin.name);
        let mut set = |id: &str, item: &str, low: f64, high: f64| {
            let this = |q: &&mut Quantity| q.id == id && q.scope == scope && q.item == item;
            if let Some(quantity) = quantities.iter_mut().find(this) {
                quantity.low = Some(Value::Number(low));
                quantity.high = Some(Value::Number(high));
            }
        };
        for (planting, thirst) in bin.plants.iter().zip(&results.thirst) {
            let (n, water) = (f64::from(planting.count), &thirst.litres);
            set("crop-water", &planting.crop.name, n * water.low, n * water.high);
        }
        if let Some(last) = bin.plants.last() {
            set("water-need", &last.crop.name, results.season.need.low, results.season.need.high);
        }
    }
}

/// What the feeds of a batch add of each element in all (mg/L).
fn of_batch(scope: &str, mixing: &Mixing, into: &mut Vec<Quantity>) {
    let mut add = |id: &str, item: &str, value: f64, unit: &str| {
        into.push(Quantity {
            id: id.into(),
            scope: scope.into(),
            item: item.into(),
            value: Value::Number(value),
            unit: unit.into(),
            low: None,
            high: None,
            method: "element-sum".into(),
            source: "fertilizer-calculations".into(),
        });
    };
    for e in &mixing.elements {
        let unit = MILLIGRAM_PER_LITRE.text;
        add("element-total", &e.symbol, e.amount, unit);
        add("element-in-all", &e.symbol, e.all, unit);
        if let Some(aim) = e.aim {
            add("element-aim", &e.symbol, aim, unit);
        }
    }
    if let Some(two) = &mixing.concentrate {
        for (bottle, load) in ["A", "B"].into_iter().zip(two.load) {
            add("bottle-load", bottle, load, "");
        }
        if let Some(times) = two.in_one {
            add("one-bottle-limit", "", times, "");
        }
    }
}

/// What the chemistry of a batch comes to, closed and in air.
fn of_chemistry(scope: &str, chemistry: &Chemistry, into: &mut Vec<Quantity>) {
    let mut add = |id: &str, item: &str, value: f64, unit: &str| {
        into.push(Quantity {
            id: id.into(),
            scope: scope.into(),
            item: item.into(),
            value: Value::Number(value),
            unit: unit.into(),
            low: None,
            high: None,
            method: "speciation".into(),
            source: "phreeqc-amm".into(),
        });
    };
    let mut all = vec![("just mixed", chemistry.closed), ("in air", chemistry.open)];
    if let Some(dosing) = &chemistry.dosing {
        all.push(("after the dose now", dosing.after));
        all.push(("next day", dosing.next_day));
        all.push(("after the dose in all", dosing.at_last));
        add("dose-now", "", dosing.closed, "mmol/L");
        add("dose-in-all", "", dosing.open, "mmol/L");
    }
    for (item, reading) in all {
        add("ph", item, reading.ph, "");
        add("conductivity-25", item, reading.conductivity, "mS/cm");
        add("ionic-strength", item, reading.strength, "mmol/L");
        // Without its ions a solid is no concern, and its index no number.
        let solids = [
            ("brushite", reading.brushite),
            ("gypsum", reading.gypsum),
            ("calcite", reading.calcite),
        ];
        for (id, index) in solids {
            if index.is_finite() {
                add(&format!("saturation-{id}"), item, index, "");
            }
        }
    }
}

/// What each bin takes of an adjuster, in portions.
fn of_dose(plan: &Plan, (dose, bins): (&Dose, &[usize]), into: &mut Vec<Quantity>) {
    let adjuster = &plan.adjusters[dose.adjuster];
    let unit = if adjuster.dry { "g" } else { "mL" };
    for (bin, p) in bins.iter().zip(&dose.bins) {
        let portions = [
            ("dose-first-part", p.first),
            ("dose-first-day", p.today),
            ("dose-step", p.step),
            ("dose-all-days", p.all),
        ];
        into.extend(portions.map(|(id, value)| Quantity {
            id: id.into(),
            scope: bin_scope(&plan.bins[*bin].name),
            item: adjuster.name.clone(),
            value: Value::Number(value),
            unit: unit.into(),
            low: None,
            high: None,
            method: "portions".into(),
            source: "common-practice".into(),
        }));
    }
}

/// The quantities of a bin that are found rather than worked: days, levels, top-ups.
fn of_bin(scope: &str, dates: &Dates, season: &Season, into: &mut Vec<Quantity>) {
    let [early, late] = dates.roots;
    let [from, to] = dates.harvest;
    into.push(day(scope, "sown", [None, Some(dates.sown), None], "plan"));
    let set_out = [Some(early), Some(dates.set_out), Some(late)];
    into.push(day(scope, "set-out", set_out, "crop-table"));
    into.push(day(scope, "first-harvest", [Some(from), Some(from), Some(to)], "crop-table"));
    into.push(day(scope, "last-harvest", [None, Some(dates.end), None], "crop-table"));
    into.push(day(scope, "dry-day", season.dry, "share-curve"));
    for check in &season.checks {
        let found = |id: &str, value: f64, unit: Unit| Quantity {
            id: id.into(),
            scope: scope.into(),
            item: check.day.to_string(),
            value: Value::Number(value),
            unit: unit.text.into(),
            low: None,
            high: None,
            method: "share-curve".into(),
            source: "derived".into(),
        };
        let level = found("level", check.level.expected, MILLIMETRE);
        let (low, high) = (Value::Number(check.level.low), Value::Number(check.level.high));
        into.push(Quantity { low: Some(low), high: Some(high), ..level });
        match &check.event {
            Some(Event::TopUp(pour)) => into.push(found("top-up", pour.litres, LITRE)),
            Some(Event::ChangeOut(pour)) => into.push(found("change-out", pour.litres, LITRE)),
            None => {}
        }
    }
}

/// How often a bin runs dry, and what is left in it.
fn chances(scope: &str, worked: &BinResults, into: &mut Vec<Quantity>) {
    let mut add = |id: &str, item: &str, value: f64, method: &str| {
        into.push(Quantity {
            id: id.into(),
            scope: scope.into(),
            item: item.into(),
            value: Value::Number(value),
            unit: String::new(),
            low: None,
            high: None,
            method: method.into(),
            source: "derived".into(),
        });
    };
    add("chance-dry", "nothing added", worked.odds.alone, "ensemble");
    add("chance-dry", "with the planned top-ups", worked.odds.topped, "ensemble");
    let Some(drift) = &worked.drift else { return };
    for e in &drift.elements {
        add("share-left", &e.symbol, e.left, "drifted");
    }
    for (check, part) in worked.season.checks.iter().zip(&drift.conductivity) {
        add("conductivity-share", &check.day.to_string(), *part, "drifted");
    }
}

/// A day: early, expected, late.
fn day(scope: &str, id: &str, days: [Option<Date>; 3], method: &str) -> Quantity {
    let [low, value, high] = days.map(|d| d.map(|d| Value::Text(d.to_string())));
    Quantity {
        id: id.into(),
        scope: scope.into(),
        item: String::new(),
        value: value.unwrap_or(Value::Text("none".into())),
        unit: String::new(),
        low,
        high,
        method: method.into(),
        source: "common-practice".into(),
    }
}
