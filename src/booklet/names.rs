//! Names that a plan gives to its own things: in every language they are printed as they stand there.

use std::collections::{BTreeMap, BTreeSet};

use crate::library::Library;
use crate::plan::Plan;

/// Names of a plan, and how they are kept out of the hands of a translator.
#[derive(Debug, Default)]
pub(super) struct Names {
    /// As written and as printed.
    whole: BTreeMap<String, String>,
    /// Those of several words, the longest first: only these can be torn apart.
    several: Vec<(String, String)>,
}

/// The first of the letters that stand for names; nobody writes them.
const FIRST: u32 = 0xE000;
/// The last of them.
const LAST: u32 = 0xF8FF;

impl Names {
    /// The names of a plan. A crop, salt, acid or base that is called as in our data is no name of
    /// the plan's own.
    pub(super) fn of(plan: &Plan) -> Self {
        let ours = ours();
        let own = |name: &&String| !ours.contains(name.as_str());
        let mut names: BTreeSet<&String> = BTreeSet::from([&plan.water.name]);
        for bin in &plan.bins {
            names.insert(&bin.name);
            names.extend(bin.plants.iter().map(|p| &p.crop.name).filter(own));
        }
        names.extend(plan.mixes.iter().map(|m| &m.name));
        let feeds = plan.feeds.iter().map(|f| &f.name);
        names.extend(feeds.chain(plan.adjusters.iter().map(|a| &a.name)).filter(own));
        let paragraphs = plan.notes.split("\n\n");
        let paragraphs = paragraphs.map(|p| p.split_whitespace().collect::<Vec<_>>().join(" "));
        let said = [&plan.title, &plan.place, &plan.keeper, &plan.notes].into_iter().cloned();
        let codes = plan.curriculum.iter().map(|(_, said)| said.clone());
        let texts = said.chain(paragraphs).chain(codes).map(|text| (text.clone(), text));
        let printed = names.into_iter().map(|name| (name.clone(), unbroken(name)));
        Self::new(texts.chain(printed).filter(|(text, _)| !text.is_empty()).collect())
    }

    pub(super) fn new(whole: BTreeMap<String, String>) -> Self {
        let several = whole.iter().filter(|(name, _)| name.contains(' '));
        let mut several: Vec<(String, String)> =
            several.map(|(name, printed)| (name.clone(), printed.clone())).collect();
        several.sort_by_key(|(name, _)| std::cmp::Reverse(name.len()));
        // More names than letters: the shortest go without.
        several.truncate((LAST - FIRST) as usize);
        Self { whole, several }
    }

    /// A name as it is printed, if the text is one.
    pub(super) fn printed(&self, text: &str) -> Option<String> {
        self.whole.get(text).cloned()
    }

    /// The text with one letter in the place of every name, or nothing if it has no name in it.
    pub(super) fn hidden(&self, text: &str) -> Option<String> {
        if text.chars().any(|c| (FIRST..=LAST).contains(&u32::from(c))) {
            return None;
        }
        let mut hidden = text.to_string();
        for (at, (name, _)) in self.several.iter().enumerate() {
            if hidden.contains(name.as_str()) {
                hidden = replaced(&hidden, name, letter(at));
            }
        }
        (hidden != text).then_some(hidden)
    }

    /// The names in their places again.
    pub(super) fn shown(&self, text: &str) -> String {
        let name = |c: char| {
            let at = u32::from(c).checked_sub(FIRST)?;
            self.several.get(usize::try_from(at).ok()?)
        };
        text.chars().map(|c| name(c).map_or_else(|| c.to_string(), |n| n.1.clone())).collect()
    }
}

/// A name that no line breaks at a hyphen: some languages write a second one there.
fn unbroken(name: &str) -> String {
    name.replace('-', "\u{2011}")
}

/// The letter that stands for a name.
fn letter(at: usize) -> char {
    u32::try_from(at).ok().and_then(|at| char::from_u32(FIRST + at)).unwrap_or(char::MAX)
}

/// Every `name` that is not a part of a longer word replaced by `letter`.
fn replaced(text: &str, name: &str, letter: char) -> String {
    let mut all = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once(name) {
        let begins = !before.ends_with(char::is_alphanumeric);
        let ends = !after.starts_with(char::is_alphanumeric);
        all.push_str(before);
        if begins && ends {
            all.push(letter);
        } else {
            all.push_str(name);
        }
        rest = after;
    }
    all + rest
}

/// What crops, salts, acids and bases are called in our data; a salt also without its water.
fn ours() -> BTreeSet<&'static str> {
    let library = Library::embedded();
    let mut all: BTreeSet<&str> = library.crops.values().map(|c| c.name.as_str()).collect();
    for salt in library.salts.values() {
        all.insert(&salt.name);
        all.extend(
            salt.name.strip_suffix("-hydrate").and_then(|n| n.rsplit_once(' ')).map(|n| n.0),
        );
    }
    all.extend(library.substances.values().map(|s| s.name.as_str()));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_hidden_whole_and_come_back() {
        let all = ["Bottle A", "Bottle", "Tap water", "Old Tap water", "One-part B"];
        let names = Names::new(all.map(|n| (n.to_string(), unbroken(n))).into());
        for text in ["2 mL/L of Bottle A, 2 mL/L of Tap water", "Old Tap water"] {
            let hidden = names.hidden(text).unwrap();
            assert!(!hidden.contains("Tap"), "{hidden}");
            assert_eq!(names.shown(&hidden), text);
        }
        let hidden = names.hidden("One-part B, twice-told").unwrap();
        assert_eq!(names.shown(&hidden), "One\u{2011}part B, twice-told");
        assert_eq!(names.printed("One-part B").unwrap(), "One\u{2011}part B");
        // A part of a longer word is no name, nor is one word alone that can be looked up.
        assert_eq!(names.hidden("Bottle AB, Bottle"), None);
    }
}
