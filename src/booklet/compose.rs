//! The list of pages, and the values and blocks each of them gets.

use std::collections::BTreeMap;

use minijinja::value::Value;

use super::Grow;
use super::catalogue::{PAGES, Repeats, SAFETY, repeats};
use super::folio::{Booklet, Day, Page, Paper};
use super::language::Language;
use super::own::{Own, OwnPage};
use super::page::{
    acidity, bin, care, chemistry, climate, concentrate, drift, electrolyte, expected, fan, gather,
    glance, harvest, mixing, pails, safety, season, section, sources, supply, titration, topup,
    trial, working,
};
use super::sequence::sequence;
use super::values::{self, Values};
use super::words::{Blocks, Words};
use super::words_of::BLOCKS;
use crate::plan::Sheet;

/// Composes a booklet, with pages of one's own if there are any. What is wrong with those is said
/// in their own findings, and they are left out.
///
/// # Errors
/// A fault in a page template of ours, with its place.
pub fn compose(grow: &Grow<'_>, own: &Own) -> Result<Booklet, String> {
    let folds = working::folds(&grow.results.steps);
    let numbers = working::numbers(&folds);
    own.pages.values().for_each(|page| page.ask_for(&numbers));
    let words = Words::new(numbers, Language::of(grow.plan))?.with(own);
    let base = base(grow);
    let all = if own.pages.is_empty() { Blocks::new() } else { every_block(grow) };
    let mixes: BTreeMap<usize, _> =
        values::used_mixes(grow).map(|m| (m, of_mix(grow, m))).collect();
    let bins: Vec<_> = (0..grow.plan.bins.len()).map(|index| of_bin(grow, index)).collect();
    let mut pages = Vec::new();
    for id in sequence(&grow.plan.pages, own) {
        let mine = own.pages.get(id);
        let once;
        let fillings: Vec<&(Values, Blocks)> = match mine.map_or(repeats(id), |p| p.repeats) {
            Repeats::Mix => mixes_of(grow, id).filter_map(|mix| mixes.get(&mix)).collect(),
            Repeats::Bin => bins.iter().collect(),
            Repeats::Once if empty(grow, id) => Vec::new(),
            Repeats::Once => {
                once = (Values::new(), of_grow(grow, id));
                vec![&once]
            }
        };
        for (values, blocks) in fillings {
            let values = Value::from_pairs(base.clone().into_iter().chain(values.clone()));
            match mine {
                Some(page) => pages.extend(own_page(&words, id, page, &values, [blocks, &all])),
                None => pages.push(words.page(id, &values, blocks)?),
            }
        }
    }
    let booklet = words.finish(bound(grow, pages), "");
    Ok(Booklet { digest: own.digest(&booklet.digest), ..booklet })
}

/// A page of one's own, if nothing is wrong with it.
fn own_page(
    words: &Words<'_>,
    id: &str,
    page: &OwnPage,
    values: &Value,
    blocks: [&Blocks; 2],
) -> Option<Page> {
    if !page.whole {
        return None;
    }
    let needed = SAFETY.iter().find(|(name, _, _)| *name == id).map(|(_, block, _)| *block);
    let faults = match words.own_page(id, values, blocks, needed) {
        Ok(filled) => return Some(filled),
        Err(faults) => faults,
    };
    // Where something was blanked, a page may stop short; that much was said already.
    let blanked = page.findings.has_errors();
    for fault in faults.into_iter().filter(|f| !(blanked && f.code == "page-syntax")) {
        page.error(fault.code, fault.place, fault.says, &fault.help);
    }
    None
}

/// Values that every page has.
pub(super) fn base(grow: &Grow<'_>) -> Values {
    let bleach = values::group(care::bleach(grow).map(|(k, v)| (k, v.into())));
    values::base(grow).into_iter().chain([("bleach", bleach)]).collect()
}

/// Every block of the pages that stand once; those with nothing to say are empty.
pub(super) fn every_block(grow: &Grow<'_>) -> Blocks {
    let once = BLOCKS.iter().filter(|(_, pages, _)| *pages == Repeats::Once);
    let none = once.map(|(name, _, _)| (*name, Vec::new()));
    let full =
        PAGES.iter().filter(|(id, _)| !empty(grow, id)).flat_map(|(id, _)| of_grow(grow, id));
    none.chain(full).collect()
}

pub(super) fn bound(grow: &Grow<'_>, pages: Vec<Page>) -> Booklet {
    let plan = grow.plan;
    let (width, height) = match plan.paper {
        Sheet::Letter => (215.9, 279.4),
        Sheet::A4 => (210.0, 297.0),
        Sheet::A5 => (148.0, 210.0),
        Sheet::HalfLetter => (139.7, 215.9),
    };
    Booklet {
        title: plan.title.clone(),
        keeper: plan.keeper.clone(),
        place: plan.place.clone(),
        date: Day { year: plan.sown.year(), month: plan.sown.month(), day: plan.sown.day() },
        digest: grow.digest.into(),
        version: env!("CARGO_PKG_VERSION").into(),
        paper: Paper { width, height },
        large: plan.large,
        pages,
        carries: Vec::new(),
        language: "en".into(),
        words: BTreeMap::new(),
        untold: Vec::new(),
    }
}

/// Whether there is nothing to say on a page.
fn empty(grow: &Grow<'_>, id: &str) -> bool {
    match id {
        "climate" => !climate::known(grow),
        "supply" => grow.results.supply.is_none(),
        _ => false,
    }
}

/// Solutions that a page of this kind is made for.
fn mixes_of<'a>(grow: &'a Grow<'_>, id: &str) -> impl Iterator<Item = usize> + use<'a> {
    let chemistry = id == "chemistry";
    values::used_mixes(grow).filter(move |m| !chemistry || grow.results.chemistry[*m].is_some())
}

pub(super) fn of_mix(grow: &Grow<'_>, mix: usize) -> (Values, Blocks) {
    let blocks = Blocks::from([
        ("dose_table", mixing::dose_table(grow, mix)),
        ("label_table", mixing::label_table(grow, mix)),
        ("elements_table", mixing::elements_table(grow, mix)),
        ("check_table", pails::check_table(grow, mix)),
        ("bottles_table", concentrate::bottles_table(grow, mix)),
        ("dilution_table", concentrate::dilution_table(grow, mix)),
        ("bottle_note", acidity::bottle_note(grow, mix)),
        ("portions_table", acidity::portions_table(grow, mix)),
        ("lookup_table", acidity::lookup_table(grow, mix)),
        ("drift_note", acidity::drift_note(grow, mix)),
        ("trial_table", trial::trial_table(grow, mix)),
        ("last_time_note", trial::last_time_note(grow, mix)),
        ("jar_trial_form", trial::jar_trial_form()),
        ("household_table", trial::household_table(grow, mix)),
        ("acid_cautions", care::acid_cautions()),
        ("reading_table", expected::reading_table(grow, mix)),
        ("scale_note", expected::scale_note(grow, mix)),
        ("report_note", chemistry::report_note(grow, mix)),
        ("report_dose_table", chemistry::report_dose_table(grow, mix)),
        ("report_lookup_table", chemistry::report_lookup_table(grow, mix)),
        ("curve", titration::curve(grow, mix)),
        ("assumptions", chemistry::assumptions(grow, mix)),
        ("correction_table", electrolyte::correction_table(grow, mix)),
        ("ions_table", electrolyte::ions_table(grow, mix)),
        ("sums_table", electrolyte::sums_table(grow, mix)),
        ("saturation_table", electrolyte::saturation_table(grow, mix)),
        ("jar_note", electrolyte::jar_note(grow, mix)),
    ]);
    (values::of_mix(grow, mix), blocks)
}

pub(super) fn of_bin(grow: &Grow<'_>, index: usize) -> (Values, Blocks) {
    let values = values::of_bin(grow, index);
    let blocks = Blocks::from([
        ("section", section::section(grow, index)),
        ("lines_table", bin::lines_table(grow, index)),
        ("dates_table", bin::dates_table(grow, index)),
        ("topup_table", topup::topup_table(grow, index)),
        ("log_table", bin::log_table(grow, index)),
        ("drift_table", drift::drift_table(grow, index)),
        ("fan", fan::fan(grow, index)),
    ]);
    (Values::from([("bin", values)]), blocks)
}

/// Blocks of a page that stands once.
fn of_grow(grow: &Grow<'_>, id: &str) -> Blocks {
    match id {
        "glance" => Blocks::from([
            ("bins_table", glance::bins_table(grow)),
            ("calendar_table", glance::calendar_table(grow)),
            ("findings", glance::findings(grow)),
            ("season_chart", season::chart(grow)),
        ]),
        "gather" => Blocks::from([("gather_table", gather::gather_table(grow))]),
        "safety" => Blocks::from([("hazards_table", safety::hazards_table(grow))]),
        "sowing" => Blocks::from([("sowing_table", care::sowing_table(grow))]),
        "setting-out" => Blocks::from([
            ("setting_out_table", care::setting_out_table(grow)),
            ("crop_notes", care::crop_notes(grow)),
        ]),
        "topping-up" => Blocks::from([
            ("topup_overview", care::topup_overview(grow)),
            ("changeout_table", care::changeout_table(grow)),
        ]),
        "supply" => Blocks::from([
            ("supply_summary", supply::supply_summary(grow)),
            ("supply_bars", supply::supply_bars(grow)),
            ("supply_table", supply::supply_table(grow)),
        ]),
        "climate" => Blocks::from([
            ("climate_table", climate::climate_table(grow)),
            ("ways_table", climate::ways_table(grow)),
        ]),
        "cleaning" => Blocks::from([("bleach_table", care::bleach_table(grow))]),
        "harvest" => Blocks::from([("harvest_table", harvest::harvest_table(grow))]),
        "learned" => Blocks::from([("harvest_form", harvest::harvest_form(grow))]),
        "notes" => Blocks::from([("notes", care::notes(grow))]),
        "sources" => Blocks::from([("sources_table", sources::sources_table(grow))]),
        "working" => {
            let folds = working::folds(&grow.results.steps);
            Blocks::from([("working", working::working(grow, &folds))])
        }
        "plan" => Blocks::from([("plan_text", sources::plan_text(grow))]),
        _ => Blocks::new(),
    }
}
