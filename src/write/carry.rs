//! What a booklet carries inside its PDF: its own plan, and its results for other programs.

use std::collections::BTreeMap;

use crate::booklet::folio::Carried;

/// Name of the plan inside a booklet.
pub const PLAN: &str = "plan.toml";
/// Name of the results inside a booklet.
pub const RESULTS: &str = "results.json";

/// Name of the pages of one's own inside a booklet: their texts by name, as JSON.
pub const PAGES: &str = "pages.json";

/// The plan text, the results (as `numbers` prints them) and the pages of one's own by name, ready to
/// be carried.
///
/// # Panics
/// Never: texts by name can be written as JSON.
#[must_use]
pub fn files(plan: &str, results: String, pages: &BTreeMap<&str, &str>) -> Vec<Carried> {
    let plan = Carried {
        name: PLAN,
        relation: "source",
        media: "application/toml",
        about: "The plan this booklet was made from",
        text: plan.into(),
    };
    let results = Carried {
        name: RESULTS,
        relation: "data",
        media: "application/json",
        about: "Every computed quantity of the plan",
        text: results,
    };
    let mut all = vec![plan, results];
    if !pages.is_empty() {
        all.push(Carried {
            name: PAGES,
            relation: "source",
            media: "application/json",
            about: "The pages of their own that this booklet was made with",
            text: serde_json::to_string_pretty(pages).expect("texts by name"),
        });
    }
    all
}
