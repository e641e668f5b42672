//! One feed: its rate, the amount for a volume, the elements it adds.

use super::concentrate::Weighed;
use super::mixing::{Amount, Vessel};
use super::take;
use crate::library::Library;
use crate::number::unit::{
    GRAM, GRAM_PER_LITRE, GRAM_PER_MILLILITRE, GRAM_PER_MOLE, GRAM_PER_TEASPOON, LITRE_PER_GALLON,
    LITRES_PER_US_GALLON, MILLIGRAM_PER_GRAM, MILLILITRE_PER_LITRE, NONE, TEASPOON_PER_GALLON,
};
use crate::number::{Name, Origin, Pen, Sheet, Traced};
use crate::plan::{Dose, Feed, LabelRate, Part};
use crate::science::mixing::{
    ChosenMass, ChosenSpoons, ChosenVolume, ElementAdded, ElementShare, ElementSum, FeedMass,
    FeedVolume, LiquidMass, SpoonRate, Spoons, SpoonsFor,
};
use crate::science::recipe::RateAsWeighed;

/// A feed's rate, in the ways it is known.
pub(super) struct Rates<'s> {
    /// As chosen, in the label's own unit.
    pub(super) chosen: Traced<'s>,
    /// By weight (g/L).
    pub(super) by_mass: Option<Traced<'s>>,
    /// Weight of a level teaspoon (g/tsp).
    spoon: Option<Traced<'s>>,
}

/// Works the rate of a feed.
pub(super) fn rates<'s>(
    sheet: &'s Sheet,
    feed: &Feed,
    part: &Part,
    weighed: Option<Weighed<'s>>,
) -> Rates<'s> {
    let chosen = chosen_rate(sheet, feed, part, weighed);
    let spoon = |m: f64| {
        take(sheet, "m_tsp", "one level teaspoon weighs", m, GRAM_PER_TEASPOON, Origin::Plan)
    };
    let name = Name::new("feed-rate", "r", "Feed per litre").of(&feed.name);
    match feed.rate {
        LabelRate::Spoons { teaspoon, .. } => {
            let spoon = teaspoon.map(spoon);
            let by_mass = spoon.map(|m_tsp| {
                sheet.work(&name, SpoonRate { r: chosen, m_tsp, gallon: gallon(sheet) })
            });
            Rates { chosen, by_mass, spoon }
        }
        LabelRate::Mass { teaspoon, .. } => {
            Rates { chosen, by_mass: Some(chosen), spoon: teaspoon.map(spoon) }
        }
        LabelRate::Liquid { density, .. } => {
            let by_mass = density.map(|d| {
                let what = "density of the feed";
                let density = take(sheet, "ρ", what, d, GRAM_PER_MILLILITRE, Origin::Label);
                sheet.work(&name, LiquidMass { r: chosen, density })
            });
            Rates { chosen, by_mass, spoon: None }
        }
    }
}

/// Works the amount of a feed for one volume.
pub(super) fn amount<'s>(
    sheet: &'s Sheet,
    feed: &Feed,
    rates: &Rates<'s>,
    (scope, pail, v): &Vessel<'s>,
) -> Amount {
    sheet.about(scope);
    let item = if pail.is_empty() { feed.name.clone() } else { format!("{}, {pail}", feed.name) };
    let name = |id, symbol, what| Name::new(id, symbol, what).of(&item);
    let (mut amount, r, v) = (Amount::default(), rates.chosen, *v);
    if let LabelRate::Liquid { .. } = feed.rate {
        let name = name("feed-volume", "V_feed", "Feed to measure");
        amount.millilitres = Some(sheet.work(&name, FeedVolume { r, v }).number());
    } else if let Some(r) = rates.by_mass {
        let m = sheet.work(&name("feed-mass", "m", "Feed to weigh"), FeedMass { r, v });
        amount.grams = Some(m.number());
        amount.spoons = rates.spoon.map(|m_tsp| {
            let name = name("feed-spoons", "n_tsp", "The same in level teaspoons");
            sheet.work(&name, Spoons { m, m_tsp }).number()
        });
    } else {
        let name = name("feed-spoons", "n_tsp", "Feed in level teaspoons");
        let formula = SpoonsFor { r, v, gallon: gallon(sheet) };
        amount.spoons = Some(sheet.work(&name, formula).number());
    }
    amount
}

fn gallon(sheet: &Sheet) -> Traced<'_> {
    let (what, from) = ("litres in a US gallon", "US gallon of 231 cubic inches");
    let from = Origin::Data("nist-hb-44", from);
    take(sheet, "G", what, LITRES_PER_US_GALLON, LITRE_PER_GALLON, from)
}

/// The chosen rate in the label's own unit.
fn chosen_rate<'s>(
    sheet: &'s Sheet,
    feed: &Feed,
    part: &Part,
    weighed: Option<Weighed<'s>>,
) -> Traced<'s> {
    let unit = match feed.rate {
        LabelRate::Spoons { .. } => TEASPOON_PER_GALLON,
        LabelRate::Mass { .. } => GRAM_PER_LITRE,
        LabelRate::Liquid { .. } => MILLILITRE_PER_LITRE,
    };
    match part.dose {
        Dose::ToAim => {
            let Some((grams, v)) = weighed else { return Traced::from(0.0) };
            let m = take(sheet, "m", "found, to the scale", grams, GRAM, Origin::Found);
            let name = Name::new("rate-as-weighed", "r_feed", "Rate as weighed").of(&feed.name);
            sheet.work(&name, RateAsWeighed { m, v })
        }
        Dose::Rate(rate) => take(sheet, "r_feed", "chosen rate", rate, unit, Origin::Plan),
        Dose::OfLabelLow(factor) => {
            let f =
                take(sheet, "f", "chosen part of the label's lowest", factor, NONE, Origin::Plan);
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
pub(super) fn added<'s>(
    sheet: &'s Sheet,
    feed: &Feed,
    r: Traced<'s>,
    library: &Library,
    elements: &mut Vec<(String, Traced<'s>)>,
) {
    for (form, percent) in &feed.contents {
        let Some(form) = library.forms.iter().find(|f| f.form == *form) else { continue };
        let form_of =
            if form.form == form.element { String::new() } else { format!(" from {}", form.form) };
        let item = format!("{}{form_of}, {}", form.element, feed.name);
        let what = "label content (mg/g is ten times %)";
        let w = take(sheet, "w", what, 10.0 * percent, MILLIGRAM_PER_GRAM, Origin::Label);
        let f = if form.is_element() {
            Traced::from(1.0)
        } else {
            let atom = library.element(&form.element);
            let weights = Origin::Data(&atom.source, &atom.at);
            let what = "atoms of the element in the form";
            let n = take(sheet, "n", what, f64::from(form.atoms), NONE, Origin::Label);
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
