//! Feeds of a solution: grams, spoons and millilitres per pail and per bin, elements added.

use super::fill::Worked;
use super::{batch_scope, bin_scope, take};
use crate::finding::{Finding, Findings, Severity};
use crate::library::Library;
use crate::number::unit::{
    GRAM_PER_LITRE, GRAM_PER_MILLILITRE, GRAM_PER_MOLE, GRAM_PER_TEASPOON, LITRE,
    LITRE_PER_GALLON, LITRES_PER_US_GALLON, MILLIGRAM_PER_GRAM, MILLILITRE_PER_LITRE, NONE,
    TEASPOON_PER_GALLON,
};
use crate::number::{Name, Origin, Pen, Sheet, Traced, figures};
use crate::plan::{Dose, Feed, LabelRate, Mix, Part, Plan};
use crate::science::mixing::{
    ChosenMass, ChosenSpoons, ChosenVolume, ElementAdded, ElementShare, ElementSum, FeedMass,
    FeedVolume, LiquidMass, Pails, SpoonRate, Spoons, SpoonsFor, TotalVolume,
};

/// How much of one feed goes into one volume.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Amount {
    /// By weight (g).
    pub grams: Option<f64>,
    /// By level teaspoons (tsp).
    pub spoons: Option<f64>,
    /// By volume (mL).
    pub millilitres: Option<f64>,
}

impl Amount {
    /// Eighths of a teaspoon nearest to it, and how far that is off (share of the dose).
    #[must_use]
    pub fn eighths(&self) -> Option<(f64, f64)> {
        let spoons = self.spoons.filter(|s| *s > 0.0)?;
        let nearest = (spoons * 8.0).round() / 8.0;
        Some((nearest, nearest / spoons - 1.0))
    }
}

/// One feed of a solution.
#[derive(Debug, Clone, PartialEq)]
pub struct FeedDose {
    /// Index into the plan's feeds.
    pub feed: usize,
    /// Chosen rate, in the label's own unit.
    pub rate: f64,
    /// For a full pail, the last part pail (if any), then each bin of [`Mixing::bins`].
    pub amounts: Vec<Amount>,
}

/// An element and what the feeds add of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Added {
    /// Symbol.
    pub symbol: String,
    /// Name.
    pub name: String,
    /// Added (mg/L).
    pub amount: f64,
}

/// A solution ready to mix.
#[derive(Debug, Clone, PartialEq)]
pub struct Mixing {
    /// Bins filled with it, by index.
    pub bins: Vec<usize>,
    /// All of it (L).
    pub total: f64,
    /// Full pails.
    pub full: u32,
    /// The last, part pail (L); 0 if none.
    pub part: f64,
    /// Its feeds in order.
    pub feeds: Vec<FeedDose>,
    /// What they add, in the order of the elements' file; empty if no weight is known.
    pub elements: Vec<Added>,
}

/// A volume to dose: how it is called, and how much.
type Vessel<'s> = (String, &'static str, Traced<'s>);

/// Works the mixing of one solution.
pub fn work<'s>(
    sheet: &'s Sheet,
    plan: &Plan,
    mix: usize,
    fills: &[Worked<'s>],
    library: &Library,
    findings: &Findings,
) -> Mixing {
    let batch = &plan.mixes[mix];
    let scope = batch_scope(&batch.name);
    sheet.about(&scope);
    let bins: Vec<usize> = (0..plan.bins.len()).filter(|b| plan.bins[*b].mix == mix).collect();
    let total = total(sheet, plan, &bins, fills);
    let all = total.map_or(0.0, Traced::number);
    let (full, part) = pails(sheet, batch, total);
    let mut vessels: Vec<Vessel<'s>> = Vec::new();
    let pail = |symbol, what, v| take(sheet, symbol, what, v, LITRE, Origin::Plan);
    vessels.push((scope.clone(), "full pail", pail("V_pail", "one full pail", batch.pail)));
    if part > 0.0 {
        vessels.push((scope.clone(), "part pail", pail("V_part", "the last, part pail", part)));
    }
    for &bin in &bins {
        vessels.push((bin_scope(&plan.bins[bin].name), "", fills[bin].start_volume));
    }
    let mut feeds = Vec::new();
    let mut elements: Vec<(String, Traced<'s>)> = Vec::new();
    for chosen in &batch.parts {
        sheet.about(&scope);
        let feed = &plan.feeds[chosen.feed];
        let (dose, by_mass) = feed_dose(sheet, feed, chosen, &vessels);
        sheet.about(&scope);
        if let Some(rate) = by_mass {
            added(sheet, feed, rate, library, &mut elements);
        }
        feeds.push(dose);
    }
    let in_order = |e: &crate::library::Element| {
        let sum = elements.iter().find(|(symbol, _)| *symbol == e.symbol)?;
        Some(Added { symbol: e.symbol.clone(), name: e.name.clone(), amount: sum.1.number() })
    };
    let elements = library.elements.iter().filter_map(in_order).collect();
    say(plan, batch, library, findings);
    Mixing { bins, total: all, full, part, feeds, elements }
}

fn total<'s>(
    sheet: &'s Sheet,
    plan: &Plan,
    bins: &[usize],
    fills: &[Worked<'s>],
) -> Option<Traced<'s>> {
    let name = Name::new("batch-volume", "V_all", "All the solution so far");
    let mut bins = bins.iter();
    let mut so_far = fills[*bins.next()?].start_volume;
    for &bin in bins {
        let formula = TotalVolume { so_far, next: fills[bin].start_volume };
        so_far = sheet.work(&name.of(&plan.bins[bin].name), formula);
    }
    Some(so_far)
}

/// Full pails, and the litres of the last one.
fn pails(sheet: &Sheet, batch: &Mix, total: Option<Traced<'_>>) -> (u32, f64) {
    let Some(v) = total else { return (0, 0.0) };
    let pail = take(sheet, "V_pail", "one full pail", batch.pail, LITRE, Origin::Plan);
    let name = Name::new("pails", "n_pail", "Pails of solution");
    let pails = sheet.work(&name, Pails { v, pail }).number();
    let full = (0..1_000_000).take_while(|n| f64::from(*n) + 0.995 < pails).last();
    let full = full.map_or(0, |n| n + 1);
    let part = v.number() - f64::from(full) * batch.pail;
    (full, if part > 0.005 * batch.pail { part } else { 0.0 })
}

fn feed_dose<'s>(
    sheet: &'s Sheet,
    feed: &Feed,
    part: &Part,
    vessels: &[Vessel<'s>],
) -> (FeedDose, Option<Traced<'s>>) {
    let rate = chosen_rate(sheet, feed, part);
    let label = |symbol, what, v, unit| take(sheet, symbol, what, v, unit, Origin::Label);
    let spoon = |m: f64| {
        take(sheet, "m_tsp", "one level teaspoon weighs", m, GRAM_PER_TEASPOON, Origin::Plan)
    };
    let gallon = || take(sheet, "G", "litres in a US gallon", LITRES_PER_US_GALLON, LITRE_PER_GALLON, GALLON);
    let mut by_mass = None;
    let mut m_tsp = None;
    match feed.rate {
        LabelRate::Spoons { teaspoon: Some(m), .. } => {
            let formula = SpoonRate { r: rate, m_tsp: spoon(m), gallon: gallon() };
            let name = Name::new("feed-rate", "r", "Feed per litre").of(&feed.name);
            by_mass = Some(sheet.work(&name, formula));
            m_tsp = Some(spoon(m));
        }
        LabelRate::Mass { teaspoon, .. } => {
            by_mass = Some(rate);
            m_tsp = teaspoon.map(spoon);
        }
        LabelRate::Liquid { density: Some(d), .. } => {
            let density = label("ρ", "density of the feed", d, GRAM_PER_MILLILITRE);
            let name = Name::new("feed-rate", "r", "Feed per litre").of(&feed.name);
            by_mass = Some(sheet.work(&name, LiquidMass { r: rate, density }));
        }
        LabelRate::Spoons { .. } | LabelRate::Liquid { .. } => {}
    }
    let amounts = vessels.iter().map(|(scope, item, v)| {
        sheet.about(scope);
        let item = if item.is_empty() { feed.name.clone() } else { format!("{}, {item}", feed.name) };
        let name = |id, symbol, what| Name::new(id, symbol, what).of(&item);
        let mut amount = Amount::default();
        match (&feed.rate, by_mass) {
            (LabelRate::Liquid { .. }, _) => {
                let name = name("feed-volume", "V_feed", "Feed to measure");
                amount.millilitres = Some(sheet.work(&name, FeedVolume { r: rate, v: *v }).number());
            }
            (_, Some(r)) => {
                let m = sheet.work(&name("feed-mass", "m", "Feed to weigh"), FeedMass { r, v: *v });
                amount.grams = Some(m.number());
                let spoons = m_tsp.map(|m_tsp| {
                    let name = name("feed-spoons", "n_tsp", "The same in level teaspoons");
                    sheet.work(&name, Spoons { m, m_tsp }).number()
                });
                amount.spoons = spoons;
            }
            (_, None) => {
                let name = name("feed-spoons", "n_tsp", "Feed in level teaspoons");
                let formula = SpoonsFor { r: rate, v: *v, gallon: gallon() };
                amount.spoons = Some(sheet.work(&name, formula).number());
            }
        }
        amount
    });
    let amounts = amounts.collect();
    (FeedDose { feed: part.feed, rate: rate.number(), amounts }, by_mass)
}

const GALLON: Origin<'_> = Origin::Data("nist-hb-44", "US gallon of 231 cubic inches");

/// The chosen rate in the label's own unit.
fn chosen_rate<'s>(sheet: &'s Sheet, feed: &Feed, part: &Part) -> Traced<'s> {
    let unit = match feed.rate {
        LabelRate::Spoons { .. } => TEASPOON_PER_GALLON,
        LabelRate::Mass { .. } => GRAM_PER_LITRE,
        LabelRate::Liquid { .. } => MILLILITRE_PER_LITRE,
    };
    match part.dose {
        Dose::Rate(rate) => take(sheet, "r_feed", "chosen rate", rate, unit, Origin::Plan),
        Dose::OfLabelLow(factor) => {
            let f = take(sheet, "f", "chosen part of the label's lowest", factor, NONE, Origin::Plan);
            let what = "lowest rate on the label";
            let low = take(sheet, "r_low", what, feed.rate.ends().0, unit, Origin::Label);
            let name = Name::new("chosen-rate", "r_feed", "Chosen rate").of(&feed.name);
            match feed.rate {
                LabelRate::Spoons { .. } => sheet.work(&name, ChosenSpoons { f, low }),
                LabelRate::Mass { .. } => sheet.work(&name, ChosenMass { f, low }),
                LabelRate::Liquid { .. } => sheet.work(&name, ChosenVolume { f, low }),
            }
        }
    }
}

/// What one feed adds of every element, summed into `elements`.
fn added<'s>(
    sheet: &'s Sheet,
    feed: &Feed,
    r: Traced<'s>,
    library: &Library,
    elements: &mut Vec<(String, Traced<'s>)>,
) {
    for (form, percent) in &feed.contents {
        let Some(form) = library.forms.iter().find(|f| f.form == *form) else { continue };
        let item = format!("{} from {}, {}", form.element, form.form, feed.name);
        let what = "label content (mg/g is ten times %)";
        let w = take(sheet, "w", what, 10.0 * percent, MILLIGRAM_PER_GRAM, Origin::Label);
        let f = if form.is_element() {
            Traced::from(1.0)
        } else {
            let atom = library.element(&form.element);
            let weights = Origin::Data(&atom.source, &atom.at);
            let n = take(sheet, "n", "atoms of it in the form", f64::from(form.atoms), NONE, weights);
            let what = "atomic weight";
            let a = take(sheet, "A", what, atom.atomic_weight, GRAM_PER_MOLE, weights);
            let m = form.molar_mass(library);
            let m = take(sheet, "M", "molar mass of the form", m, GRAM_PER_MOLE, weights);
            let name = Name::new("element-share", "f", "Element in the label's form");
            sheet.work(&name.of(&item), ElementShare { n, a, m })
        };
        let name = Name::new("element-from", "c", "Added by this line of the label").of(&item);
        let c = sheet.work(&name, ElementAdded { r, w, f });
        match elements.iter_mut().find(|(symbol, _)| *symbol == form.element) {
            Some((_, sum)) => {
                let name = Name::new("element-sum", "c_sum", "Added in all, so far").of(&item);
                *sum = sheet.work(&name, ElementSum { so_far: *sum, next: c });
            }
            None => elements.push((form.element.clone(), c)),
        }
    }
}

fn say(plan: &Plan, batch: &Mix, library: &Library, findings: &Findings) {
    let caution = |code, message: String, help: &str| {
        let finding = Finding::new(Severity::Caution, code, message, help);
        findings.add(finding.at(batch.place.clone(), "this mix"));
    };
    let mut nitrogen = [0.0; 2];
    let mut calcium = plan.water.calcium.unwrap_or(0.0) >= 40.0;
    for part in &batch.parts {
        let feed = &plan.feeds[part.feed];
        let of = |forms: &[&str]| -> f64 {
            feed.contents.iter().filter(|c| forms.contains(&c.0.as_str())).map(|c| c.1).sum()
        };
        let strength = dose_strength(feed, part);
        nitrogen[0] += strength * of(&["N-ammonium", "N-urea", "NH4"]);
        nitrogen[1] += strength * of(&["N", "N-nitrate", "N-ammonium", "N-urea", "NO3", "NH4"]);
        calcium |= of(&["Ca", "CaO"]) > 0.0;
        if let (Dose::OfLabelLow(f), low) = (part.dose, library.limits.label_factor_low.value)
            && f < low
        {
            let message = format!(
                "\"{}\" gets only {} of the lowest label rate",
                feed.name,
                figures::plain(f, 2)
            );
            caution("very-weak", message, "plants may starve; just under 1 is common practice");
        }
        if dose_strength(feed, part) > feed.rate.ends().1 {
            let message = format!("\"{}\" is dosed above its label", feed.name);
            caution("above-label", message, "the label is the limit; a still bin only gets stronger");
        }
    }
    if !calcium {
        let message = format!("nothing in \"{}\" brings calcium", batch.name);
        let help = "a hydroponic feed has calcium or comes with calcium nitrate as a second part; \
                    garden-soil fertiliser has not, and leaf edges burn; hard water may bring it: \
                    write [water] calcium";
        caution("no-calcium", message, help);
    }
    let share = if nitrogen[1] > 0.0 { nitrogen[0] / nitrogen[1] } else { 0.0 };
    let percent = figures::plain(100.0 * share, 2);
    if share > library.limits.soil_feed_share.value {
        let message = format!("{percent} % of the nitrogen in \"{}\" is ammonium or urea", batch.name);
        let help = "this is a soil fertiliser: without soil life it turns the bin sour and harms \
                    the roots; use a feed whose nitrogen is mostly nitrate";
        caution("soil-feed", message, help);
    } else if share > library.limits.ammonium_share.value {
        let message = format!("{percent} % of the nitrogen in \"{}\" is ammonium or urea", batch.name);
        caution("much-ammonium", message, "pH may fall as the plants feed; check it twice a week");
    }
}

/// A dose in the label's own unit.
fn dose_strength(feed: &Feed, part: &Part) -> f64 {
    match part.dose {
        Dose::Rate(rate) => rate,
        Dose::OfLabelLow(factor) => factor * feed.rate.ends().0,
    }
}
