//! Hazards of the bottles in the plan.

use super::super::Grow;
use super::super::block::{Block, Line, Table, plain};
use super::{one, words};
use crate::number::figures;

pub(in super::super) fn hazards_table(grow: &Grow<'_>) -> Vec<Block> {
    let mut rows: Vec<Vec<Line>> = Vec::new();
    for adjuster in &grow.plan.adjusters {
        let key = adjuster.substance.as_deref();
        rows.push(row(grow, &adjuster.name, key, adjuster.strength));
    }
    let strength = Some(grow.plan.bleach.strength);
    rows.push(row(grow, "Household bleach (for cleaning)", Some("sodium-hypochlorite"), strength));
    let columns =
        words([("Bottle", 4), ("What is in it", 5), ("Its label warns", 8), ("Keep it", 6)]);
    one(Table::printed("The bottles of this plan. The label on the bottle wins.", columns, rows))
}

fn row(grow: &Grow<'_>, name: &str, key: Option<&str>, strength: Option<f64>) -> Vec<Line> {
    let Some(substance) = key.and_then(|k| grow.library.substances.get(k)) else {
        let unknown = "unknown: treat it as corrosive until you have read its label";
        return [name, "not said in the plan", unknown, "closed, locked, out of reach"]
            .map(plain)
            .to_vec();
    };
    let contents = match strength {
        Some(s) => format!("{}, {} %", substance.name, figures::plain(s, 3)),
        None => format!("{}, strength not said", substance.name),
    };
    // Of unknown strength, the strongest applies.
    let strongest = substance.hazards.iter().max_by(|a, b| a.from.total_cmp(&b.from));
    let hazard = match strength {
        Some(s) => substance.hazard(s),
        None => strongest,
    };
    let warns =
        hazard.map_or("no hazard class at this strength; keep it off eyes and skin".into(), |h| {
            let mark = grow.library.source(&h.source).kind.mark();
            let all = h.statements.join("; ");
            let signal =
                if h.signal.is_empty() { String::new() } else { format!("{}: ", h.signal) };
            if all.is_empty() {
                "no hazard class at this strength; keep it off eyes and skin".to_string()
            } else {
                format!("{signal}{all} ({mark})")
            }
        });
    vec![plain(name), plain(contents), plain(warns), plain(substance.storage.clone())]
}
