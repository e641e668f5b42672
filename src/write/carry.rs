//! What a booklet carries inside its PDF: its own plan, and its results for other programs.

use crate::booklet::folio::Carried;

/// Name of the plan inside a booklet.
pub const PLAN: &str = "plan.toml";
/// Name of the results inside a booklet.
pub const RESULTS: &str = "results.json";

/// The plan text and the results (as `numbers` prints them), ready to be carried.
#[must_use]
pub fn files(plan: &str, results: String) -> Vec<Carried> {
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
    vec![plan, results]
}
