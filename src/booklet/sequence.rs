//! Which pages a booklet has, in which order: the usual one, changed by what the plan wishes.

use std::ops::Range;

use super::catalogue::SAFETY;
use super::own::{Own, guess};
use crate::finding::{Finding, Findings, Severity};
use crate::plan::{Named, Pages};

/// Names of the pages in order.
pub(super) fn sequence<'a>(wishes: &'a Pages, own: &'a Own) -> Vec<&'a str> {
    let usual = own.usual();
    let mut order: Vec<&str> = Vec::new();
    let named = wishes.order.iter().map(|n| n.name.as_str()).filter(|n| usual.contains(n));
    for name in named.chain(usual.iter().copied()) {
        if !order.contains(&name) && !wishes.leave_out.iter().any(|n| n.name == name) {
            order.push(name);
        }
    }
    order
}

/// Says what does not fit in a plan's wishes for its pages.
pub fn check(wishes: &Pages, own: &Own, findings: &Findings) {
    let usual = own.usual();
    let error = |code, place: &Range<usize>, says: String, help: &str| {
        let finding = Finding::new(Severity::Error, code, says, help);
        findings.add(finding.at(place.clone(), "here"));
    };
    let mut seen: Vec<&str> = Vec::new();
    for Named { name, place } in wishes.order.iter().chain(&wishes.leave_out) {
        if !usual.contains(&name.as_str()) {
            let says = format!("there is no page \"{}\"", name.escape_debug());
            // Without its folder a plan can still be worked, corrected by a log, explained.
            let severity = if own.path.is_empty() { Severity::Note } else { Severity::Error };
            let known = guess(name, &usual);
            let help = format!("{known}; pages of one's own are there with  --pages DIR");
            let finding = Finding::new(severity, "unknown-page", says, help);
            findings.add(finding.at(place.clone(), "here"));
        } else if seen.contains(&name.as_str()) {
            let says = format!("the page \"{name}\" is named twice");
            error("page-twice", place, says, "name it once, in `order` or in `leave-out`");
        }
        seen.push(name);
    }
    for Named { name, place } in &wishes.leave_out {
        if let Some((_, _, why)) = SAFETY.iter().find(|(id, _, _)| id == name) {
            let says = format!("the page \"{name}\" cannot be left out: {why}");
            let help = "whoever gets the paper has nothing else to go by; a folder of pages may put \
                        it in other words";
            error("page-needed", place, says, help);
        }
    }
    late(wishes, own, findings);
    others(own, findings);
}

/// Says which pages that keep people safe are in others' words.
fn others(own: &Own, findings: &Findings) {
    let differs = |id: &str| own.pages.get(id).is_some_and(|page| page.differs(id));
    for (id, _, _) in SAFETY.iter().filter(|(id, _, _)| differs(id)) {
        let says = format!("the page \"{id}\" was not written by binleaf");
        let help = format!(
            "whoever hands it out answers for it: compare it with `binleaf pages {id}` before \
             anyone mixes"
        );
        findings.add(Finding::new(Severity::Caution, "own-safety", says, help));
    }
}

/// Whoever reads from the front reads of the dangers before the first bottle.
fn late(wishes: &Pages, own: &Own, findings: &Findings) {
    let order = sequence(wishes, own);
    let at = |id| order.iter().position(|name| *name == id);
    let Some(safety) = at("safety") else { return };
    if ["mixing", "acidity"].iter().filter_map(|id| at(id)).all(|page| safety < page) {
        return;
    }
    let says = "the page \"safety\" stands after a page it has to be read before";
    let help = "put \"safety\" before \"mixing\" and \"acidity\"";
    let finding = Finding::new(Severity::Error, "safety-late", says, help);
    findings.add(match wishes.order.first() {
        Some(first) => finding.at(first.place.clone(), "this order"),
        None => finding,
    });
}
