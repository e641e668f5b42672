//! Where the holes of a lid are, in words.

use crate::compute::lid::{Lid, Opening};
use crate::number::figures::{self, System};

/// Positions that are listed one by one.
const LISTED: usize = 12;

/// Where the holes are, in words.
pub(in super::super) fn places(lid: &Lid, system: System) -> String {
    let length = |mm: f64| figures::short_length(mm, system);
    let list = |all: &[f64]| {
        let listed: Vec<String> = all.iter().take(LISTED).map(|mm| length(*mm)).collect();
        let more = if all.len() > LISTED { " and so on" } else { "" };
        format!("{}{more}", listed.join(", "))
    };
    if let Opening::Box(_) = lid.opening {
        let mut rows: Vec<(f64, Vec<f64>)> = Vec::new();
        for [x, y] in &lid.holes {
            match rows.last_mut().filter(|(row, _)| (row - y).abs() < 1e-6) {
                Some((_, own)) => own.push(*x),
                None => rows.push((*y, vec![*x])),
            }
        }
        let ys: Vec<f64> = rows.iter().map(|(y, _)| *y).collect();
        let first = list(&rows[0].1);
        let last = &rows[rows.len() - 1].1;
        let own = if last.len() == rows[0].1.len() {
            String::new()
        } else {
            format!(" In the last row: {} from the left.", list(last))
        };
        return format!("{first} from the left; rows {} from the front.{own}", list(&ys));
    }
    match lid.ring {
        None => "in the middle.".into(),
        Some(ring) => format!(
            "on a circle {} across, {} from centre to centre, {} from the edge.",
            length(ring),
            length(lid.pitch[0]),
            length(lid.edge)
        ),
    }
}
