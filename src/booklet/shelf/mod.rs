//! Paper for the bins themselves: gauge strips at full size, shelf cards, labels, lids.

use std::collections::BTreeMap;

use minijinja::value::Value;

use super::Grow;
use super::compose::bound;
use super::folio::{Booklet, Page};
use super::language::Language;
use super::values::{Values, group};
use super::words::{Blocks, Words};
use crate::plan::Bin;

mod card;
mod hand;
mod label;
mod lid;
mod ruler;
mod strip;
mod told;

/// Composes the shelf edition: how to use it, strips, cards, labels, lids.
///
/// # Errors
/// A fault in a page template, with its place.
pub fn shelf(grow: &Grow<'_>) -> Result<Booklet, String> {
    let words = Words::new(BTreeMap::new(), Language::of(grow.plan))?;
    let empty = bound(grow, Vec::new());
    let room = room(empty.paper.width, empty.paper.height);
    let sheets = strip::sheets(grow, room);
    let page = |id: &str, values: Values, blocks: &Blocks| {
        words.page(id, &Value::from_pairs(values), blocks)
    };
    let mut pages: Vec<Page> = Vec::new();
    let (values, blocks) = strip::overview(grow, &sheets);
    pages.push(page("shelf", values, &blocks)?);
    for sheet in &sheets {
        let (values, blocks) = strip::page(grow, sheet);
        pages.push(page("shelf-strip", values, &blocks)?);
    }
    for bin in 0..grow.plan.bins.len() {
        let (values, blocks) = card::page(grow, bin);
        pages.push(page("shelf-card", values, &blocks)?);
    }
    pages.push(labels(grow, &page)?);
    for (i, bins) in alike(&grow.plan.bins, lid_of).iter().enumerate() {
        let (values, blocks) = lid::page(grow, bins, room, i == 0);
        pages.push(page("shelf-lid", values, &blocks)?);
    }
    Ok(words.finish(Booklet { pages, ..empty }, ": for the shelf"))
}

/// The words of one label stand in a template of its own; together they make a sheet.
fn labels(
    grow: &Grow<'_>,
    page: &dyn Fn(&str, Values, &Blocks) -> Result<Page, String>,
) -> Result<Page, String> {
    let all = label::all(grow).into_iter().map(|label| {
        let Page { title, blocks, .. } =
            page("shelf-label", Values::from([("label", label)]), &Blocks::new())?;
        Ok(super::block::Label { title, blocks })
    });
    let labels = all.collect::<Result<Vec<_>, String>>()?;
    let sheet = vec![super::block::Block::Labels { labels }];
    page("shelf-labels", Values::new(), &Blocks::from([("labels", sheet)]))
}

/// Width and height (mm) that the page leaves inside its margins; `templates/booklet.typ` sets
/// them.
fn room(width: f64, height: f64) -> [f64; 2] {
    if width < 170.0 { [width - 24.0, height - 30.0] } else { [width - 38.0, height - 38.0] }
}

/// Bins that are the same in what `key` tells, in the plan's order.
fn alike<K: PartialEq>(bins: &[Bin], key: impl Fn(&Bin) -> K) -> Vec<Vec<usize>> {
    let mut groups: Vec<(K, Vec<usize>)> = Vec::new();
    for (i, bin) in bins.iter().enumerate() {
        let own = key(bin);
        match groups.iter_mut().find(|(other, _)| *other == own) {
            Some((_, group)) => group.push(i),
            None => groups.push((own, vec![i])),
        }
    }
    groups.into_iter().map(|(_, group)| group).collect()
}

/// All of a bin but what it is called.
fn nameless(bin: &Bin) -> Bin {
    Bin { name: String::new(), called: String::new(), place: 0..0, ..bin.clone() }
}

/// What decides where the holes of its lid are.
fn lid_of(bin: &Bin) -> impl PartialEq + use<> {
    (bin.vessel.clone(), bin.pot.clone(), bin.rows, bin.pots())
}

/// Names that are listed; of more, how many.
const NAMED: usize = 3;

/// What some bins are called together.
fn together(grow: &Grow<'_>, bins: &[usize]) -> String {
    let mut names: Vec<&str> = Vec::new();
    for &bin in bins {
        let called = grow.plan.bins[bin].called.as_str();
        if !names.contains(&called) {
            names.push(called);
        }
    }
    let more = names.len().saturating_sub(NAMED);
    let listed = names[..names.len() - more].join(", ");
    if more > 0 { format!("{listed} and {more} more") } else { listed }
}

fn values_of<const N: usize>(name: &'static str, values: [(&'static str, Value); N]) -> Values {
    Values::from([(name, group(values))])
}
