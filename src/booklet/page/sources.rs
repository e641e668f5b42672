//! Where the numbers of this booklet come from, and the plan itself.

use std::collections::BTreeSet;

use super::super::Grow;
use super::super::block::{Block, Table};
use super::glance::capital;
use super::{cells, one, words};
use crate::number::From;

pub(in super::super) fn sources_table(grow: &Grow<'_>) -> Vec<Block> {
    let mut used: BTreeSet<&str> = BTreeSet::new();
    for step in &grow.results.steps {
        used.insert(step.card.source);
        for given in &step.givens {
            if let From::Data(key, _) = &given.from {
                used.insert(key);
            }
        }
    }
    for crop in grow.plan.bins.iter().flat_map(|b| &b.plants).map(|p| &p.crop) {
        let spans = [&crop.ph, &crop.sow_to_set_out, &crop.set_out_to_harvest, &crop.spacing];
        used.extend(spans.iter().map(|s| s.source.as_str()));
        used.insert(&crop.water.source);
    }
    let recipes = grow.plan.mixes.iter().filter_map(|m| m.aim.as_ref()?.recipe.as_ref());
    for recipe in recipes.map(|key| &grow.library.recipes[key]) {
        used.extend([recipe.source.as_str(), recipe.traces_source.as_str()]);
    }
    if grow.results.climate.oxygen.is_some() {
        used.insert("benson-krause-1984");
    }
    used.remove("plan");
    let mut rows: Vec<_> = used.into_iter().map(|key| (grow.library.source(key), key)).collect();
    rows.sort_by_key(|(source, key)| (source.kind, *key));
    let rows = rows.into_iter().map(|(source, _)| {
        let year = source.year.map_or(String::new(), |y| format!("{y}."));
        // A name is written as its owner writes it.
        let all = [ended(&source.who), year, sentence(&source.title), sentence(&source.place)];
        let told: Vec<String> = all.into_iter().filter(|part| !part.is_empty()).collect();
        cells([told.join(" "), source.kind.mark().into()])
    });
    one(Table::printed("", words([("Source", 9), ("Mark", 2)]), rows.collect()))
}

/// With a full stop at its end, and not two.
fn ended(text: &str) -> String {
    if text.is_empty() || text.ends_with('.') { text.into() } else { format!("{text}.") }
}

/// With a capital letter and a full stop.
fn sentence(text: &str) -> String {
    ended(&capital(text))
}

pub(in super::super) fn plan_text(grow: &Grow<'_>) -> Vec<Block> {
    vec![Block::Verbatim { text: grow.plan.text.replace("\r\n", "\n").replace('\t', "    ") }]
}
