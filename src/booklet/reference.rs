//! What a page of one's own may use, listed with an example from a plan: made from what fills the
//! pages and from what checks them.

use minijinja::value::{Value, ValueKind};

use super::Grow;
use super::block::Block;
use super::catalogue::{PAGES, Repeats, SAFETY, repeats};
use super::compose::{base, every_block, of_bin, of_mix};
use super::scope;
use super::words_of::{BLOCKS, FILTERS, FUNCTIONS, VALUES};

/// A list of the reference.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Section {
    /// What it lists.
    pub title: &'static str,
    /// What is to be known of all of it.
    pub about: &'static str,
    /// Headings of its columns.
    pub head: [&'static str; 3],
    /// Its rows: what is written, what it is, an example or where it stands.
    pub rows: Vec<[String; 3]>,
}

/// Text of a page of ours.
#[must_use]
pub fn text(name: &str) -> Option<&'static str> {
    PAGES.iter().find(|(id, _)| *id == name).map(|(_, text)| *text)
}

/// Names of our pages.
pub fn names() -> impl Iterator<Item = &'static str> {
    PAGES.iter().map(|(id, _)| *id)
}

/// The whole reference, with examples from `grow`.
#[must_use]
pub fn reference(grow: &Grow<'_>) -> Vec<Section> {
    vec![pages(), values(grow), blocks(grow), functions(), filters()]
}

fn pages() -> Section {
    let rows = PAGES.iter().map(|(id, text)| {
        let title = text.lines().next().unwrap_or("").trim_start_matches("# ");
        let needed = SAFETY.iter().find(|(name, _, _)| name == id);
        let needed = needed.map_or(String::new(), |(_, block, why)| {
            format!("; cannot be left out, and must call `{block}()`: {why}")
        });
        let made = scope::spoken(repeats(id));
        [format!("{id}.md"), title.to_string(), format!("{made}{needed}")]
    });
    Section {
        title: "Pages of the booklet",
        about: "In their usual order. A file of this name stands in the page's place; `binleaf pages \
                NAME` prints the page to begin from. Any other name adds a page. Notes, supply and \
                climate are made only if the plan has something for them.",
        head: ["File", "Title", "Made"],
        rows: rows.collect(),
    }
}

/// An example of every value, from the first bin and the first solution.
fn values(grow: &Grow<'_>) -> Section {
    let found = paths(grow, true);
    let rows = VALUES.iter().map(|(path, says)| {
        let example = found.iter().find(|(known, _)| known == path);
        let example = match (example, *path) {
            (Some((_, text)), _) => text.clone(),
            (None, "loop.index" | "loop.length" | "loop.revindex") => "1".into(),
            (None, _) => "yes".into(),
        };
        [path.trim_end_matches('?').to_string(), (*says).to_string(), example]
    });
    Section {
        title: "Values",
        about: "Written in braces: {{ bin.start_line }}. Those of `bin` stand on pages made for each \
                bin, those of `mix` and `ph` on pages made for each solution, all others on every \
                page. What is yes or no is asked: {% if bin.topup_needed %} ... {% else %} ... {% \
                endif %}; a text can be asked for, too, or compared: {% if place == \"Shed\" %}. `[]` \
                is a list, gone over part by part: {% for one in bins %} ... {{ one.name }} ... {% \
                endfor %}.",
        head: ["Value", "What it is", "Example"],
        rows: rows.collect(),
    }
}

fn blocks(grow: &Grow<'_>) -> Section {
    let once = every_block(grow);
    let rows = BLOCKS.iter().map(|(name, pages, says)| {
        let place = match pages {
            Repeats::Once => "every page",
            Repeats::Bin | Repeats::Mix => scope::spoken(*pages),
        };
        let drawn = once.get(name).is_some_and(|all| matches!(all[..], [Block::Figure(_)]));
        let says = if drawn { format!("{says} (drawing)") } else { (*says).to_string() };
        [format!("{name}()"), says, place.to_string()]
    });
    Section {
        title: "Blocks",
        about: "Tables, forms and drawings. A block stands alone between two empty lines, {{ \
                log_table() }}, once on a page, not in a list or frame.",
        head: ["Block", "What it shows", "On pages made"],
        rows: rows.collect(),
    }
}

fn functions() -> Section {
    let row = |(called, says): &(&str, &str)| {
        [(*called).to_string(), (*says).to_string(), "every page".to_string()]
    };
    Section {
        title: "Lines to write on, and where a number is worked",
        about: "With plain numbers, or words in quotes, in their brackets.",
        head: ["Written", "What it gives", "On pages made"],
        rows: FUNCTIONS.iter().map(row).collect(),
    }
}

fn filters() -> Section {
    let row = |(name, says): &(&str, &str)| {
        [(*name).to_string(), (*says).to_string(), format!("{{{{ title | {name} }}}}")]
    };
    Section {
        title: "Filters",
        about: "Behind a value, with a bar between.",
        head: ["Filter", "What it does", "Written"],
        rows: FILTERS.iter().map(row).collect(),
    }
}

/// Every path of a value with the text that stands there; with `first` of a list only its first
/// part.
fn paths(grow: &Grow<'_>, first: bool) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mix = grow.plan.bins.first().map_or(0, |bin| bin.mix);
    let own = [base(grow), of_bin(grow, 0).0, of_mix(grow, mix).0];
    for (name, value) in own.into_iter().flatten() {
        walk(name, &value, first, &mut found);
    }
    found
}

#[expect(clippy::wildcard_enum_match_arm, reason = "all else is finished text")]
fn walk(path: &str, value: &Value, first: bool, found: &mut Vec<(String, String)>) {
    let parts = value.try_iter().into_iter().flatten();
    match value.kind() {
        ValueKind::Map => {
            for key in parts {
                let inner = key.as_str().and_then(|k| value.get_attr(k).ok()).unwrap_or_default();
                walk(&format!("{path}.{key}"), &inner, first, found);
            }
        }
        ValueKind::Seq => {
            let most = if first { 1 } else { usize::MAX };
            parts.take(most).for_each(|part| walk(&format!("{path}[]"), &part, first, found));
        }
        ValueKind::Bool => {
            let word = if value.is_true() { "yes" } else { "no" };
            found.push((format!("{path}?"), word.into()));
        }
        _ => found.push((path.into(), value.to_string())),
    }
}

/// What pages get and the lists do not name, or the other way round: nothing, which a test holds.
#[must_use]
pub fn drift(grow: &Grow<'_>) -> Vec<String> {
    let found = paths(grow, false);
    let listed = |path: &str| VALUES.iter().any(|(known, _)| *known == path);
    let got = |path: &str| found.iter().any(|(known, _)| known == path);
    let values = found.iter().map(|(path, _)| path.as_str()).filter(|path| !listed(path));
    let idle = VALUES.iter().map(|(path, _)| *path).filter(|p| !got(p) && !p.starts_with("loop."));
    let mut drift: Vec<String> = values.chain(idle).map(ToString::to_string).collect();
    let all = [every_block(grow), of_bin(grow, 0).1, of_mix(grow, grow.plan.bins[0].mix).1];
    for (blocks, pages) in all.iter().zip([Repeats::Once, Repeats::Bin, Repeats::Mix]) {
        let listed: Vec<&str> =
            BLOCKS.iter().filter(|(_, p, _)| *p == pages).map(|(name, _, _)| *name).collect();
        drift.extend(blocks.keys().filter(|b| !listed.contains(b)).map(ToString::to_string));
        drift.extend(listed.iter().filter(|b| !blocks.contains_key(*b)).map(ToString::to_string));
    }
    drift
}
