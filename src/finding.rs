//! What any stage has to say to a person about a plan.

use std::cell::RefCell;
use std::ops::Range;

/// Every code, in order; `tests/plans/bad`, `tests/logs/bad`, `tests/booklets/bad` or `tests/pages/bad` has a
/// case for each.
pub const CODES: [&str; 119] = [
    "above-label",
    "aim-missed",
    "aim-unclear",
    "bad-date",
    "bin-too-small",
    "bleach-assumed",
    "block-elsewhere",
    "block-place",
    "booklet-bare",
    "booklet-broken",
    "booklet-locked",
    "booklet-mixed",
    "booklet-resaved",
    "booklet-too-big",
    "booklet-version",
    "citric-hard",
    "climate-gap",
    "cold-air",
    "cold-nights",
    "comma",
    "control-character",
    "counted-twice",
    "crowded",
    "crown-under-water",
    "cube-too-big",
    "dose-feeds",
    "dose-unclear",
    "empty-plan",
    "empty-text",
    "heading-skips",
    "holes-do-not-fit",
    "immersion-unusual",
    "impossible-water",
    "jar-differs",
    "large-on-small",
    "level-odd",
    "level-rose",
    "little-light",
    "log-column",
    "log-empty",
    "log-row",
    "may-cloud",
    "may-run-dry",
    "missing",
    "more-visits",
    "much-ammonium",
    "much-sodium",
    "narrow-rim",
    "never-in-one-bottle",
    "no-adjuster",
    "no-alkalinity",
    "no-calcium",
    "no-common-ph",
    "no-glyph",
    "no-number",
    "no-such-name",
    "no-title",
    "no-unit",
    "no-weight",
    "not-needed",
    "not-on-paper",
    "not-soluble",
    "not-toml",
    "not-used",
    "not-weighed",
    "not-worked",
    "out-of-order",
    "out-of-range",
    "out-of-reach",
    "over-hundred",
    "own-safety",
    "page-circle",
    "page-file",
    "page-front",
    "page-language",
    "page-name",
    "page-needed",
    "page-passed",
    "page-syntax",
    "page-twice",
    "picked-again",
    "pot-falls-through",
    "pot-too-deep",
    "poured-not-rising",
    "powder-strength",
    "runs-dry",
    "runs-out",
    "safety-dropped",
    "safety-late",
    "same-name",
    "scale-too-coarse",
    "soil-feed",
    "start-above-rim",
    "too-few-readings",
    "too-long",
    "too-many",
    "too-strong",
    "too-weak",
    "trial-not-rising",
    "trial-of-powder",
    "trial-too-short",
    "trial-turns-back",
    "unknown-block",
    "unknown-crop",
    "unknown-filter",
    "unknown-key",
    "unknown-page",
    "unknown-pot",
    "unknown-recipe",
    "unknown-substance",
    "unknown-unit",
    "unknown-value",
    "unknown-word",
    "very-weak",
    "warm-air",
    "ways-differ",
    "wrong-kind",
    "wrong-unit",
    "wrong-way",
];

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// For the terminal only.
    Note,
    /// The booklet is made, and prints it.
    Caution,
    /// No booklet can be made.
    Error,
}

impl Severity {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Caution => "caution",
            Self::Error => "error",
        }
    }
}

/// Something to say: what is wrong or worth knowing, where, why it matters, what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// Stable name, kebab-case.
    pub code: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// What is wrong, in one sentence.
    pub message: String,
    /// The place in the plan (bytes) and what to say there, if it has one.
    pub label: Option<(Range<usize>, String)>,
    /// Why it matters and what to do.
    pub help: String,
}

impl Finding {
    /// A finding without a place.
    #[must_use]
    pub fn new(
        severity: Severity,
        code: &'static str,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        debug_assert!(CODES.contains(&code), "{code} is not in CODES");
        Self { code, severity, message: message.into(), label: None, help: help.into() }
    }

    /// The finding, pointing at `place`.
    #[must_use]
    pub fn at(self, place: Range<usize>, says: impl Into<String>) -> Self {
        Self { label: Some((place, says.into())), ..self }
    }
}

/// Findings after which the reader has enough to do.
pub const MOST: usize = 200;

/// Collects findings from stages that only have a shared reference to it.
#[derive(Debug, Default)]
pub struct Findings(RefCell<Vec<Finding>>);

impl Findings {
    /// Adds one, unless the same was said before or there are more errors than anyone reads.
    pub fn add(&self, finding: Finding) {
        let mut all = self.0.borrow_mut();
        if all.len() >= MOST && all.iter().any(|f| f.severity == Severity::Error) {
            return;
        }
        if !all.contains(&finding) {
            all.push(finding);
        }
    }

    /// Whether one of them stops the booklet.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.0.borrow().iter().any(|f| f.severity == Severity::Error)
    }

    /// All of them in the order of the plan, those without a place last.
    #[must_use]
    pub fn sorted(&self) -> Vec<Finding> {
        let mut all = self.0.borrow().clone();
        all.sort_by_key(|f| f.label.as_ref().map_or((usize::MAX, 0), |(r, _)| (r.start, r.end)));
        all
    }
}

/// The word in `known` that `word` was probably meant to be.
///
/// ```
/// use binleaf::finding::meant;
/// assert_eq!(meant("depht", ["depth", "floor"]), Some("depth"));
/// assert_eq!(meant("zzz", ["depth", "floor"]), None);
/// ```
pub fn meant<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.to_lowercase();
    let budget = word.chars().count().div_ceil(3).max(1);
    known
        .into_iter()
        .map(|k| (edits(&word, k), k))
        .filter(|(distance, _)| *distance <= budget)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, k)| k)
}

/// Fewest letters to change, add, drop or swap with a neighbour (optimal string alignment).
fn edits(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) =
        (a.chars().take(60).collect(), b.chars().take(60).collect());
    let mut rows = vec![vec![0; b.len() + 1]; a.len() + 1];
    for i in 0..=a.len() {
        for j in 0..=b.len() {
            rows[i][j] = if i == 0 || j == 0 {
                i + j
            } else {
                let differs = usize::from(a[i - 1] != b[j - 1]);
                let best = (rows[i - 1][j] + 1).min(rows[i][j - 1] + 1);
                let best = best.min(rows[i - 1][j - 1] + differs);
                let swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
                if swapped { best.min(rows[i - 2][j - 2] + 1) } else { best }
            };
        }
    }
    rows[a.len()][b.len()]
}
