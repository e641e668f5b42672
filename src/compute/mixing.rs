//! Feeds of a solution: grams, spoons and millilitres per pail and per bin, elements added.

use super::concentrate::Concentrate;
use super::feed::Rates;
use super::fill::Worked;
use super::pails::{Pails, Vessels};
use super::recipe::Found;
use super::{Desk, advice, batch_scope, concentrate, feed, ingredients, pails, take, total};
use crate::number::unit::MILLIGRAM_PER_LITRE;
use crate::number::{Name, Origin, Pen, Traced};
use crate::plan::{Mix, Part};
use crate::science::mixing::ElementSum;

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
    /// So many times as much.
    #[must_use]
    pub fn times(&self, n: f64) -> Self {
        let times = |amount: Option<f64>| amount.map(|a| n * a);
        Self {
            grams: times(self.grams),
            spoons: times(self.spoons),
            millilitres: times(self.millilitres),
        }
    }

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
    /// For a full pail, the part pail of all (if any), each bin of [`Mixing::bins`], then the part
    /// pails of bins.
    pub amounts: Vec<Amount>,
}

/// An element and what the feeds add of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Added {
    /// Symbol.
    pub symbol: String,
    /// Name.
    pub name: String,
    /// Added by the feeds (mg/L).
    pub amount: f64,
    /// In the water already (mg/L), if its report says.
    pub water: Option<f64>,
    /// Both (mg/L).
    pub all: f64,
    /// What the solution is to hold (mg/L), if the plan says.
    pub aim: Option<f64>,
}

/// A solution ready to mix.
#[derive(Debug, Clone, PartialEq)]
pub struct Mixing {
    /// Bins filled with it, by index.
    pub bins: Vec<usize>,
    /// All of it (L).
    pub total: f64,
    /// Pails of all of it, if it is mixed on one day.
    pub together: Option<Pails>,
    /// Pails of each of its bins.
    pub pails: Vec<Pails>,
    /// Its feeds in order.
    pub feeds: Vec<FeedDose>,
    /// What they add, in the order of the elements' file; empty if no weight is known.
    pub elements: Vec<Added>,
    /// Ammonium and urea as a share of the nitrogen (0 to 1).
    pub ammonium: f64,
    /// Its concentrates, if it is mixed from them.
    pub concentrate: Option<Concentrate>,
}

impl Mixing {
    /// Place of its first bin among the volumes that are dosed.
    #[must_use]
    pub fn first_bin(&self) -> usize {
        1 + usize::from(self.together.is_some_and(|all| all.place.is_some()))
    }
}

/// A volume to dose: its scope, which pail it is (a bin has none), and how much.
pub(super) type Vessel<'s> = (String, &'static str, Traced<'s>);

/// Works the mixing of one solution.
pub(crate) fn work<'s>(
    desk: &Desk<'s>,
    mix: usize,
    fills: &[Worked<'s>],
    found: Option<&Found>,
) -> Mixing {
    let (plan, sheet) = (desk.plan, desk.sheet);
    let batch = &plan.mixes[mix];
    let scope = batch_scope(&batch.name);
    sheet.about(&scope);
    let bins: Vec<usize> = (0..plan.bins.len()).filter(|b| plan.bins[*b].mix == mix).collect();
    let total = total::of_mix(desk, mix, fills);
    let Vessels { all: vessels, together, bins: pails } =
        pails::work(desk, batch, (&bins, fills), total);
    let weights = found.map_or(&[][..], |f| &f.weights);
    let made = concentrate::made(desk, batch);
    let (rates, elements) = rates(desk, batch, weights, made);
    let feeds = batch.parts.iter().zip(&rates).map(|(chosen, rates)| {
        let feed = &plan.feeds[chosen.feed];
        // What is thinned from two bottles is not weighed for every pail.
        let weighed = if batch.concentrate.is_some() { &[][..] } else { &vessels[..] };
        let amounts = weighed.iter().map(|vessel| feed::amount(sheet, feed, rates, vessel));
        let amounts = amounts.collect();
        FeedDose { feed: chosen.feed, rate: rates.chosen.number(), amounts }
    });
    let feeds: Vec<FeedDose> = feeds.collect();
    let concentrate = concentrate::work(desk, batch, &rates, (weights, made), &vessels);
    sheet.about(&scope);
    let elements = in_all(desk, batch, &elements);
    advice::on_feeds(desk, batch, &feeds);
    let ammonium = advice::ammonium_share(desk, &feeds);
    let total = total.map_or(0.0, Traced::number);
    Mixing { bins, total, together, pails, feeds, elements, ammonium, concentrate }
}

/// The rate of every part, and what they add of every element.
fn rates<'s>(
    desk: &Desk<'s>,
    batch: &Mix,
    weights: &[Option<f64>],
    made: Traced<'s>,
) -> (Vec<Rates<'s>>, Vec<(String, Traced<'s>)>) {
    let mut elements = Vec::new();
    let of_part = |(i, chosen): (usize, &Part)| {
        let feed = &desk.plan.feeds[chosen.feed];
        let weighed = weights.get(i).copied().flatten().map(|grams| (grams, made));
        let rates = feed::rates(desk.sheet, feed, chosen, weighed);
        if let Some(rate) = rates.by_mass {
            feed::added(desk.sheet, feed, rate, desk.library, &mut elements);
        }
        rates
    };
    let rates = batch.parts.iter().enumerate().map(of_part).collect();
    (rates, elements)
}

/// Every element that feeds, water or aim name: what each brings, and all of it.
fn in_all(desk: &Desk<'_>, batch: &Mix, fed: &[(String, Traced<'_>)]) -> Vec<Added> {
    let water = ingredients::of_water(&desk.plan.water, desk.library);
    let aim = |symbol: &str| {
        let contents = &batch.aim.as_ref()?.contents;
        let of = |form: &str| form == symbol || (symbol == "N" && form.starts_with("N-"));
        let of: Vec<f64> = contents.iter().filter(|(f, _)| of(f)).map(|(_, mg)| *mg).collect();
        (!of.is_empty()).then(|| of.iter().sum())
    };
    let of_element = |e: &crate::library::Element| {
        let fed = fed.iter().find(|(symbol, _)| *symbol == e.symbol).map(|(_, c)| *c);
        let water = water.iter().find(|(symbol, _)| *symbol == e.symbol).map(|(_, mg)| *mg);
        let aim = aim(&e.symbol);
        // Sodium is never fed on purpose, but it stays, so it is followed.
        let stays = e.symbol == "Na" && water.is_some();
        if fed.is_none() && aim.is_none() && !stays {
            return None;
        }
        let amount = fed.map_or(0.0, Traced::number);
        let all = match (fed, water) {
            (Some(so_far), Some(mg)) => {
                // A water report has these two as ions.
                let what = match e.symbol.as_str() {
                    "N" | "S" => "in the water already as the element",
                    _ => "in the water already",
                };
                let next = take(desk.sheet, "c_w", what, mg, MILLIGRAM_PER_LITRE, Origin::Plan);
                let name =
                    Name::new("element-with-water", "c_all", "In the solution").of(&e.symbol);
                desk.sheet.work(&name, ElementSum { so_far, next }).number()
            }
            _ => amount + water.unwrap_or(0.0),
        };
        let (symbol, name) = (e.symbol.clone(), e.name.clone());
        Some(Added { symbol, name, amount, water, all, aim })
    };
    desk.library.elements.iter().filter_map(of_element).collect()
}
