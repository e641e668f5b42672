//! Two bottles of concentrate: what goes into which, how much of it dissolves, how much of each
//! goes into a pail.

use super::feed::Rates;
use super::fill::data;
use super::mixing::Vessel;
use super::{Desk, batch_scope, take};
use crate::library::{Bottle, Salt};
use crate::number::unit::{GRAM, GRAM_PER_LITRE, LITRE, MILLILITRE_PER_LITRE, NONE};
use crate::number::{Name, Origin, Pen, Traced, figures};
use crate::plan::{Feed, Mix, holds};
use crate::science::electrolyte;
use crate::science::mixing::{FeedMass, FeedVolume};
use crate::science::recipe::{BottleContent, Makes, ShareDissolved};
use crate::science::root::root;
use crate::science::speciation::Solution;
use crate::science::species::{Amounts, COMPONENTS};

/// One feed in a bottle of concentrate.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Index into the plan's feeds.
    pub feed: usize,
    /// Which bottle.
    pub bottle: Bottle,
    /// To weigh for one bottle (g).
    pub grams: f64,
    /// Content (g/L).
    pub content: f64,
    /// Share of what dissolves, if that is known.
    pub share: Option<f64>,
}

/// A solution's two concentrates.
#[derive(Debug, Clone, PartialEq)]
pub struct Concentrate {
    /// How many times stronger than the solution.
    pub times: f64,
    /// Size of a bottle (L).
    pub size: f64,
    /// Solution a pair of bottles makes (L).
    pub makes: f64,
    /// What goes into them, in the order of the mix.
    pub parts: Vec<Part>,
    /// Shares of what dissolves, added up for bottle A and B.
    pub load: [f64; 2],
    /// Of each bottle: for a full pail, the part pail of all (if any), each bin, then the part pails
    /// of bins (mL).
    pub millilitres: Vec<f64>,
    /// How many times stronger one bottle with everything could be before lime or gypsum falls
    /// out, in pure water; none if it never does, or a feed's make-up is not known.
    pub in_one: Option<f64>,
}

impl Concentrate {
    /// The bottles that hold anything.
    #[must_use]
    pub fn bottles(&self) -> Vec<&'static str> {
        let holds = |b: Bottle| self.parts.iter().any(|p| p.bottle == b && p.grams > 0.0);
        [(Bottle::A, "A"), (Bottle::B, "B")]
            .into_iter()
            .filter(|(b, _)| holds(*b))
            .map(|(_, name)| name)
            .collect()
    }
}

/// What is weighed for one part: a weight found and rounded to the scale, and for how much.
pub(super) type Weighed<'s> = (f64, Traced<'s>);

/// The litres that what is weighed at once makes.
pub(super) fn made<'s>(desk: &Desk<'s>, batch: &Mix) -> Traced<'s> {
    let sheet = desk.sheet;
    let Some(two) = batch.concentrate else {
        return take(sheet, "V_pail", "one full pail", batch.pail, LITRE, Origin::Plan);
    };
    let bottle = take(sheet, "V_b", "one bottle", two.bottle, LITRE, Origin::Plan);
    let what = "times stronger than the solution";
    let n = take(sheet, "n", what, two.times, NONE, Origin::Plan);
    let name = Name::new("concentrate-makes", "V_made", "Solution that a pair of bottles makes");
    sheet.work(&name, Makes { bottle, n })
}

/// Works the concentrates of a mix, if it has them.
pub(super) fn work<'s>(
    desk: &Desk<'s>,
    batch: &Mix,
    rates: &[Rates<'s>],
    (weights, makes): (&[Option<f64>], Traced<'s>),
    vessels: &[Vessel<'s>],
) -> Option<Concentrate> {
    let two = batch.concentrate?;
    let sheet = desk.sheet;
    sheet.about(&batch_scope(&batch.name));
    let mut parts = Vec::new();
    for (i, rate) in rates.iter().enumerate() {
        let feed = batch.parts[i].feed;
        let weight = weights.get(i).copied().flatten();
        parts.push(part(desk, feed, rate.by_mass?, weight, (two.bottle, makes)));
    }
    split(desk, &mut parts);
    let load = [Bottle::A, Bottle::B].map(|bottle| dissolved(&parts, bottle));
    crowded(desk, batch, load);
    let per_litre = 1000.0 / two.times;
    let millilitres = vessels.iter().map(|(scope, pail, v)| {
        sheet.about(scope);
        let what = "of each bottle, 1000 over its strength";
        let r = take(sheet, "r_b", what, per_litre, MILLILITRE_PER_LITRE, Origin::Plan);
        let name = Name::new("bottle-volume", "V_each", "Of each concentrate").of(pail);
        sheet.work(&name, FeedVolume { r, v: *v }).number()
    });
    let millilitres = millilitres.collect();
    let in_one = in_one(desk, &parts, two.times);
    let makes = makes.number();
    Some(Concentrate {
        times: two.times,
        size: two.bottle,
        makes,
        parts,
        load,
        millilitres,
        in_one,
    })
}

/// Shares of what dissolves in one bottle, added up.
fn dissolved(parts: &[Part], bottle: Bottle) -> f64 {
    parts.iter().filter(|p| p.bottle == bottle).filter_map(|p| p.share).sum()
}

fn part<'s>(
    desk: &Desk<'s>,
    feed: usize,
    rate: Traced<'s>,
    weight: Option<f64>,
    (size, makes): (f64, Traced<'s>),
) -> Part {
    let sheet = desk.sheet;
    let it = &desk.plan.feeds[feed];
    let m = if let Some(grams) = weight {
        take(sheet, "m", "found, to the scale", grams, GRAM, Origin::Found)
    } else {
        let name = Name::new("bottle-mass", "m", "To weigh for one bottle").of(&it.name);
        sheet.work(&name, FeedMass { r: rate, v: makes })
    };
    let bottle = take(sheet, "V_b", "one bottle", size, LITRE, Origin::Plan);
    let name = Name::new("bottle-content", "c_b", "Content of the concentrate").of(&it.name);
    let c = sheet.work(&name, BottleContent { m, bottle });
    let share = salt(desk, it).map(|salt| {
        let most = &salt.solubility;
        let what = "dissolves in a litre of water";
        let most = take(sheet, "S", what, most.value, GRAM_PER_LITRE, data(most));
        let name = Name::new("share-dissolved", "x", "Share of what dissolves").of(&it.name);
        sheet.work(&name, ShareDissolved { c, most }).number()
    });
    Part { feed, bottle: Bottle::A, grams: m.number(), content: c.number(), share }
}

fn salt<'d>(desk: &Desk<'d>, feed: &Feed) -> Option<&'d Salt> {
    desk.library.salts.get(feed.salt.as_ref()?)
}

/// Calcium goes into A, sulfate and phosphate into B, the rest where less is dissolved so far.
fn split(desk: &Desk<'_>, parts: &mut [Part]) {
    let fixed = |part: &Part| {
        let feed = &desk.plan.feeds[part.feed];
        let calcium = holds(feed, &["Ca", "CaO"]);
        let other = holds(feed, &["P", "P2O5", "S", "SO3", "SO4"]);
        match (calcium, other, salt(desk, feed).and_then(|s| s.bottle)) {
            (true, _, _) => Some(Bottle::A),
            (_, true, _) => Some(Bottle::B),
            (_, _, own) => own,
        }
    };
    let mut load = [0.0; 2];
    for part in parts.iter_mut() {
        if let Some(bottle) = fixed(part) {
            part.bottle = bottle;
            load[bottle as usize] += part.share.unwrap_or(0.0);
        }
    }
    for part in parts.iter_mut().filter(|p| fixed(p).is_none()) {
        part.bottle = if load[0] <= load[1] { Bottle::A } else { Bottle::B };
        load[part.bottle as usize] += part.share.unwrap_or(0.0);
    }
}

/// Says so if a bottle is asked to hold more than dissolves.
fn crowded(desk: &Desk<'_>, batch: &Mix, load: [f64; 2]) {
    let most = desk.library.limits.dissolved_share.value;
    let Some(two) = batch.concentrate else { return };
    for (bottle, load) in ["A", "B"].into_iter().zip(load) {
        if load > most {
            let percent = figures::plain(100.0 * load, 2);
            let message = format!(
                "bottle {bottle} of \"{}\" would hold {percent} % of what dissolves",
                batch.name
            );
            let times = figures::plain((two.times * most / load).floor().max(1.0), 3);
            let help = format!(
                "on a cool night crystals fall out and the mix is no longer what the plan says: \
                 make it {times} times as strong, no more"
            );
            desk.caution("not-soluble", &batch.place, message, &help);
        }
    }
}

/// Strongest single bottle in pure water before brushite or gypsum is saturated.
fn in_one(desk: &Desk<'_>, parts: &[Part], times: f64) -> Option<f64> {
    let library = desk.library;
    let mut bin: Amounts = [0.0; COMPONENTS];
    for part in parts {
        let salt = salt(desk, &desk.plan.feeds[part.feed])?;
        let moles = part.content / times / salt.molar_mass.value;
        let own = salt.amounts(&library.species.charge);
        bin.iter_mut().zip(own).for_each(|(all, n)| *all += moles * n);
    }
    let c = library.species.at(desk.plan.water.temperature);
    let index = |n: f64| {
        let totals = bin.map(|mol| n * mol);
        let e = Solution { totals, air: None }.equilibrium(&c);
        e.map_or(f64::NAN, |e| electrolyte::gypsum(&c, &e).max(electrolyte::brushite(&c, &e)))
    };
    // Without its ions a solid has no index, and the search has no ends.
    root(1.0, STRONGEST, 0.01, |n| index(n).max(-9.0))
}

/// Nobody mixes a stronger concentrate.
const STRONGEST: f64 = 200.0;
