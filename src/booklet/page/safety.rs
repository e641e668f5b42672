//! Hazards of the bottles in the plan.

use super::super::Grow;
use super::super::block::{Block, Line, Table, plain};
use super::{one, words};
use crate::number::figures;
use crate::plan::{Adjuster, LabelRate};

/// What concentrates of salts can do, and how to keep them.
pub(in super::super) const CONCENTRATES: [&str; 2] = [
    "harm the eyes; harmful if swallowed; B harms life in water",
    "labelled, child-proof cap, never in a bottle for drinks or food, locked, apart",
];

/// A bottle that moves pH: name, contents with strength, what it warns of (`marked` with where that comes
/// from, which no label needs), how to keep it.
pub(in super::super) fn adjuster(grow: &Grow<'_>, adjuster: &Adjuster, marked: bool) -> Vec<Line> {
    let key = adjuster.substance.as_deref();
    let strength = if adjuster.dry { Some(100.0) } else { adjuster.strength };
    let mut own = row(grow, &adjuster.name, (key, strength), marked);
    own[1] = plain(contents(grow, adjuster));
    own
}

/// What is in a bottle that moves pH, as far as the plan says.
pub(super) fn contents(grow: &Grow<'_>, adjuster: &Adjuster) -> String {
    let key = adjuster.substance.as_ref();
    let Some(substance) = key.and_then(|k| grow.library.substances.get(k)) else {
        return "not said in the plan".into();
    };
    let strength = if adjuster.dry { Some(100.0) } else { adjuster.strength };
    let holds = holds(&substance.name, strength);
    match adjuster.molar {
        Some(c) => format!("{holds} ({} mol/L)", figures::plain(c, 3)),
        None => holds,
    }
}

fn holds(name: &str, strength: Option<f64>) -> String {
    match strength {
        Some(s) => format!("{name}, {} %", figures::plain(s, 3)),
        None => format!("{name}, strength not said"),
    }
}

pub(in super::super) fn hazards_table(grow: &Grow<'_>) -> Vec<Block> {
    let mut rows: Vec<Vec<Line>> = Vec::new();
    rows.extend(grow.plan.adjusters.iter().map(|a| adjuster(grow, a, true)));
    let strength = Some(grow.plan.bleach.strength);
    let bleach = (Some("sodium-hypochlorite"), strength);
    rows.push(row(grow, "Household bleach (for cleaning)", bleach, true));
    rows.extend(salts(grow));
    rows.extend(label_feeds(grow));
    for mix in grow.plan.mixes.iter().filter(|m| m.concentrate.is_some()) {
        let name = format!("Concentrates A and B of {}", mix.name);
        let [warns, keep] = CONCENTRATES;
        rows.push([&name, "salts dissolved", warns, keep].map(plain).to_vec());
    }
    let columns =
        words([("Bottle or bag", 4), ("What is in it", 5), ("Its label warns", 8), ("Keep it", 6)]);
    one(Table::printed("The bottles and bags of this plan. The label on each wins.", columns, rows))
}

/// Feeds that have a label: what it warns of, the plan does not know.
fn label_feeds<'g>(grow: &'g Grow<'_>) -> impl Iterator<Item = Vec<Line>> + 'g {
    grow.plan.feeds.iter().filter(|feed| feed.salt.is_none()).map(|feed| {
        let brings = |forms: &[&str]| feed.contents.iter().any(|(f, _)| forms.contains(&f.as_str()));
        let calcium = brings(&["Ca", "CaO"]) && brings(&["N", "N-nitrate"]);
        let liquid = matches!(feed.rate, LabelRate::Liquid { .. });
        let warns = if calcium {
            "read it: feeds with calcium nitrate often carry DANGER, H302 and H318, serious eye damage \
             (from memory)"
        } else if liquid {
            "read it; keep drops off eyes, skin and food"
        } else {
            "read it; keep dust and drops off eyes, skin and food"
        };
        let keep = if liquid {
            "closed, labelled, locked, dark, free from frost, apart from food"
        } else {
            "dry, closed, labelled, locked, apart from food and from what burns"
        };
        [feed.name.as_str(), "feed, as its label says", warns, keep].map(plain).to_vec()
    })
}

/// Salts that are weighed and have something to warn of.
fn salts<'g>(grow: &'g Grow<'_>) -> impl Iterator<Item = Vec<Line>> + 'g {
    let library = grow.library;
    grow.plan.feeds.iter().filter_map(|feed| {
        let salt = library.salts.get(feed.salt.as_ref()?)?;
        let warns = salt.warns.as_ref()?;
        let mark = library.source(&warns.source).kind.mark();
        let all =
            format!("{}: {} ({}; {mark})", warns.signal, warns.statements.join("; "), warns.at);
        let fire = warns.statements.iter().any(|s| s.starts_with("H272"));
        let mut keep = "dry, closed, labelled, locked, apart from food".to_string();
        if fire {
            keep.push_str("; away from paper, oil, sawdust and anything that burns");
        }
        if !salt.care.is_empty() {
            keep = format!("{}; {keep}", salt.care);
        }
        Some(vec![plain(feed.name.clone()), plain(salt.name.clone()), plain(all), plain(keep)])
    })
}

fn row(
    grow: &Grow<'_>,
    name: &str,
    (key, strength): (Option<&str>, Option<f64>),
    marked: bool,
) -> Vec<Line> {
    let Some(substance) = key.and_then(|k| grow.library.substances.get(k)) else {
        let unknown = "unknown: treat it as corrosive until you have read its label";
        return [name, "not said in the plan", unknown, "closed, locked, out of reach"]
            .map(plain)
            .to_vec();
    };
    // Of unknown strength, the strongest applies.
    let strongest = substance.hazards.iter().max_by(|a, b| a.from.total_cmp(&b.from));
    let hazard = match strength {
        Some(s) => substance.hazard(s),
        None => strongest,
    };
    let warns =
        hazard.map_or("no hazard class at this strength, but your label may be stricter; keep it off eyes and skin".into(), |h| {
            let mark = grow.library.source(&h.source).kind.mark();
            let all = h.statements.join("; ");
            let signal =
                if h.signal.is_empty() { String::new() } else { format!("{}: ", h.signal) };
            if all.is_empty() {
                "no hazard class at this strength, but your label may be stricter; keep it off eyes and skin".to_string()
            } else if marked {
                format!("{signal}{all} ({mark})")
            } else {
                format!("{signal}{all}")
            }
        });
    vec![
        plain(name),
        plain(holds(&substance.name, strength)),
        plain(warns),
        plain(substance.storage.clone()),
    ]
}
