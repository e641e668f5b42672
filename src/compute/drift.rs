//! What is left in a bin as the season goes: elements, conductivity, and with what to top up.

use jiff::civil::Date;

use super::fill::data;
use super::mixing::Added;
use super::season::{Check, Event};
use super::walk::Walk;
use super::{Desk, Fill, Season, batch_scope, bin_scope, dates, take, thirst};
use crate::number::unit::{
    GRAM_PER_LITRE, KILOPASCAL, LITRE, MILLIGRAM_PER_GRAM, MILLIGRAM_PER_LITRE,
};
use crate::number::{Name, Origin, Pen, Traced};
use crate::science::drift::{Drifted, DryMatter, UptakeRate};

/// What to top up with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum With {
    /// Water, its pH in range.
    Plain,
    /// Solution of half the strength.
    Half,
    /// Solution as at first.
    Full,
    /// Strong and hungry at once: the salts that are left are those the plants do not want. A change is
    /// planned instead, but not just before the end.
    Spent,
}

/// One element in a bin.
#[derive(Debug, Clone, PartialEq)]
pub struct Element {
    /// Symbol.
    pub symbol: String,
    /// At first (mg/L).
    pub start: f64,
    /// On each check day, before anything is added (mg/L).
    pub days: Vec<f64>,
    /// Share of all that was put in that is left on the last check day.
    pub left: f64,
}

/// A bin's solution through the season.
#[derive(Debug, Clone, PartialEq)]
pub struct Drift {
    /// Elements that are fed.
    pub elements: Vec<Element>,
    /// On each check day, conductivity as a part of what it was at first.
    pub conductivity: Vec<f64>,
    /// For each check day with a top-up, what to top up with.
    pub with: Vec<Option<With>>,
    /// On each check day, whether the solution is too strong and too poor at once.
    pub spent: Vec<bool>,
}

/// A bin with less of its filling than this says nothing more of concentrations.
pub(super) const EMPTY: f64 = 0.03;

/// What plants of a batch take with each litre of each element (mg/L).
pub(super) fn uptake<'s>(
    desk: &Desk<'s>,
    mix: usize,
    around: thirst::Around<'s>,
    elements: &[Added],
) -> Vec<(String, Traced<'s>)> {
    let (sheet, facts) = (desk.sheet, &desk.library.uptake);
    sheet.about(&batch_scope(&desk.plan.mixes[mix].name));
    let fact = |symbol, what, fact| thirst::fact(desk, symbol, what, fact, GRAM_PER_LITRE);
    let usual = || fact("m_1", "dry plant for a litre, in usual air", &facts.dry_matter);
    let m = around.deficit.map_or_else(usual, |deficit| {
        let formula = DryMatter {
            m: usual(),
            reference: take(sheet, "D_1", "usual air", 1.0, KILOPASCAL, data(&facts.dry_matter)),
            deficit,
            least: fact("m_min", "in the driest air", &facts.dry_matter_least),
            most: fact("m_max", "in the moistest air", &facts.dry_matter_most),
        };
        sheet.work(&Name::new("dry-matter", "m", "Dry plant that grows with a litre"), formula)
    });
    let of = |e: &Added| {
        let tissue = facts.tissue.get(&e.symbol)?;
        let s = thirst::fact(desk, "s", "in dry plant", tissue, MILLIGRAM_PER_GRAM);
        let name = Name::new("uptake-rate", "U", "Taken with each litre").of(&e.symbol);
        Some((e.symbol.clone(), sheet.work(&name, UptakeRate { m, s })))
    };
    elements.iter().filter_map(of).collect()
}

/// Follows a bin; `None` if what its feeds bring is not known.
pub(super) fn work<'s>(
    desk: &Desk<'s>,
    bin: usize,
    (fill, season): (&Fill, &Season),
    added: &[Added],
    uptake: &[(String, Traced<'s>)],
) -> Option<Drift> {
    if added.is_empty() {
        return None;
    }
    let mut walk = Walk::new(fill.start_volume, added, uptake);
    for check in &season.checks {
        walk.to(check);
    }
    show(desk, bin, (fill, season), added, uptake);
    if let Some((day, element)) = walk.starved {
        hungry(desk, bin, day, element, season);
    }
    let last = season.checks.last().map_or(0.0, |c| c.left);
    let (days, masses) = (walk.days, walk.masses);
    let element = |((e, days), mass): ((&Added, Vec<f64>), f64)| Element {
        symbol: e.symbol.clone(),
        start: e.all,
        left: days.last().map_or(1.0, |c| c * last / mass.max(1e-9)).min(1.0),
        days,
    };
    let elements = added.iter().zip(days).zip(masses).map(element).collect();
    Some(Drift { elements, conductivity: walk.conductivity, with: walk.with, spent: walk.spent })
}

/// The first check day on which the solution is strong and hungry at once and no change is planned,
/// well before the end.
pub(super) fn spent(
    filling: f64,
    added: &[Added],
    uptake: &[(String, Traced<'_>)],
    checks: &[Check],
) -> Option<Date> {
    let end = checks.last()?.day;
    let mut walk = Walk::new(filling, added, uptake);
    for check in checks {
        walk.to(check);
    }
    let changed = |check: &Check| matches!(check.event, Some(Event::ChangeOut(_)));
    let days = checks.iter().zip(walk.spent);
    let mut spent = days.filter(|(c, spent)| *spent && !changed(c)).map(|(check, _)| check.day);
    spent.find(|day| super::season::days_between(*day, end) > SOON)
}

/// Says that a bin runs out of an element well before its end.
fn hungry(desk: &Desk<'_>, bin: usize, day: Date, element: &str, season: &Season) {
    let bin = &desk.plan.bins[bin];
    let Some(end) = season.checks.last().map(|c| c.day) else { return };
    if super::season::days_between(day, end) < SOON {
        return;
    }
    let name = if element == "N" { "nitrogen" } else { "potassium" };
    let day = dates::told(day);
    let message = format!("\"{}\" may be out of {name} by {day}", bin.called);
    let help = "worked with what leaf crops usually take: top up with full strength, change the \
                solution earlier, start stronger within the label, or take a larger bin; old leaves \
                yellow first";
    desk.caution("runs-out", &bin.place, message, help);
}

/// So close to the end a plant lives on what it has (d).
const SOON: f64 = 10.0;

/// One worked example for each element: from the first filling to the first check day on which
/// half of it is gone, or to the last before anything is added.
fn show<'s>(
    desk: &Desk<'s>,
    bin: usize,
    (fill, season): (&Fill, &Season),
    added: &[Added],
    uptake: &[(String, Traced<'s>)],
) {
    let sheet = desk.sheet;
    sheet.about(&bin_scope(&desk.plan.bins[bin].name));
    let Some((check, drunk)) = half_gone(fill, season) else { return };
    for (symbol, u) in uptake {
        let Some(e) = added.iter().find(|e| e.symbol == *symbol) else { continue };
        let day = check.day.strftime("%-d %b");
        let litres = |symbol, what: &str, v| take(sheet, symbol, what, v, LITRE, Origin::Found);
        let c = take(
            sheet,
            "c_0",
            "content of the first filling",
            e.all,
            MILLIGRAM_PER_LITRE,
            Origin::Found,
        );
        let formula = Drifted {
            c,
            v: litres("V_start", "solution of the first filling", fill.start_volume),
            u: *u,
            drunk: litres("W", "drunk by the plants until then", drunk),
            left: litres("V", "left in the bin then, after losses too", check.left),
        };
        let item = format!("{symbol} on {day}");
        // Where the plants would want more than there is, there is nothing to show.
        if e.all * fill.start_volume <= u.number() * drunk {
            continue;
        }
        sheet.work(&Name::new("drifted", "c", "Left in the solution").of(&item), formula);
    }
}

/// The first check day on which half the filling is gone, or something is planned; and what the
/// plants drank until then (L).
#[must_use]
pub fn half_gone<'a>(fill: &Fill, season: &'a Season) -> Option<(&'a Check, f64)> {
    let mut drunk = 0.0;
    let mut reached = None;
    for check in &season.checks {
        drunk += check.drunk;
        if check.left > EMPTY * fill.start_volume && check.drunk > 0.0 {
            reached = Some((check, drunk));
        }
        if check.left < fill.start_volume / 2.0 || check.event.is_some() {
            break;
        }
    }
    reached
}
