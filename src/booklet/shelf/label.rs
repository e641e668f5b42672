//! Labels for the bins and for the bottles a plan uses.

use minijinja::value::Value;

use super::super::Grow;
use super::super::block::letters;
use super::super::page::{care, glance, mixing, safety};
use super::super::values::{group, used_mixes};
use crate::compute::concentrate::Concentrate;
use crate::library::Bottle;
use crate::number::figures;

/// Feeds that are named on the label of a bin; more would not be read.
const NAMED: usize = 3;

/// What the labels say, one group of values each.
pub(super) fn all(grow: &Grow<'_>) -> Vec<Value> {
    let bins = (0..grow.plan.bins.len()).map(|bin| of_bin(grow, bin));
    let adjusters = grow.plan.adjusters.iter().map(|adjuster| {
        let own = safety::adjuster(grow, adjuster, false);
        let [name, contents, warns, keep] = [0, 1, 2, 3].map(|i| letters(&own[i]));
        let stated = adjuster.strength.is_some() || adjuster.dry;
        let way = if adjuster.up { "raises" } else { "lowers" };
        group([
            ("kind", "adjuster".into()),
            ("name", name.into()),
            ("way", way.into()),
            ("contents", contents.into()),
            ("stated", stated.into()),
            ("warns", glance::capital(&warns).into()),
            ("keep", keep.into()),
        ])
    });
    let bottles = used_mixes(grow).flat_map(|mix| {
        let two = grow.results.mixing[mix].concentrate.as_ref();
        two.into_iter().flat_map(move |two| bottles(grow, mix, two))
    });
    // A plan that says nothing of bleach gets none.
    let bleach = grow.plan.bleach.stated.then(|| {
        let own = care::bleach(grow).map(|(name, text)| (name, Value::from(text)));
        Value::from_pairs(own.into_iter().chain([("kind", "bleach".into())]))
    });
    let mut labels: Vec<Value> = bins.chain(adjusters).chain(bottles).chain(bleach).collect();
    // Two stand side by side, but not in large letters: the place of an odd one is to be filled in by hand.
    if !grow.plan.large && labels.len() % 2 == 1 {
        labels.push(group([("kind", "spare".into())]));
    }
    labels
}

fn of_bin(grow: &Grow<'_>, index: usize) -> Value {
    let bin = &grow.plan.bins[index];
    let reads = grow.results.chemistry[bin.mix].as_ref();
    let reads = reads.map_or(String::new(), |c| figures::plain(c.closed.conductivity, 2));
    group([
        ("kind", "bin".into()),
        ("name", bin.name.as_str().into()),
        ("mix", grow.plan.mixes[bin.mix].name.as_str().into()),
        ("strength", strength(grow, bin.mix).into()),
        ("reads", reads.into()),
    ])
}

/// How strong a solution is mixed, in few words.
fn strength(grow: &Grow<'_>, mix: usize) -> String {
    let (batch, mixing) = (&grow.plan.mixes[mix], &grow.results.mixing[mix]);
    if let Some(two) = &mixing.concentrate {
        let times = figures::plain(two.times, 3);
        return format!("1 part of {} in {times}", two.bottles().join(", 1 of "));
    }
    let doses: Vec<_> = mixing.feeds.iter().filter(|dose| dose.rate > 0.0).collect();
    if doses.len() > NAMED {
        return format!("{} feeds, weighed as the booklet says", doses.len());
    }
    let dose = |dose: &&crate::compute::mixing::FeedDose| {
        let feed = &grow.plan.feeds[dose.feed];
        format!("{} of {}", mixing::rate(&feed.rate, dose.rate, grow.plan.system), feed.name)
    };
    let doses: Vec<String> = doses.iter().map(dose).collect();
    if doses.is_empty() { batch.name.clone() } else { doses.join(", ") }
}

/// Labels of the bottles of concentrate that hold anything.
fn bottles(grow: &Grow<'_>, mix: usize, two: &Concentrate) -> Vec<Value> {
    let batch = &grow.plan.mixes[mix];
    let names = two.bottles();
    let label = |(bottle, name): (Bottle, &'static str)| {
        let parts = two.parts.iter().filter(|p| p.bottle == bottle && p.grams > 0.0);
        let salts = parts.map(|p| {
            let grams = mixing::weight(p.grams, batch.scale);
            format!("{} {grams}", grow.plan.feeds[p.feed].name)
        });
        group([
            ("kind", "concentrate".into()),
            ("bottle", name.into()),
            ("mix", batch.name.as_str().into()),
            ("size", figures::volume(two.size, grow.plan.system).into()),
            ("times", figures::plain(two.times, 3).into()),
            ("salts", salts.collect::<Vec<_>>().join("; ").into()),
            ("pair", (names.len() > 1).into()),
            ("warns", safety::CONCENTRATES[0].into()),
            ("keep", safety::CONCENTRATES[1].into()),
        ])
    };
    let both = [(Bottle::A, "A"), (Bottle::B, "B")];
    both.into_iter().filter(|(_, name)| names.contains(name)).map(label).collect()
}
