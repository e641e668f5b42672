//! Where the words of [`super::words_of`] may stand: on which pages, at which place of a page.

use minijinja::value::Value;

use super::catalogue::Repeats;
use super::words_of::{BLOCKS, FUNCTIONS, VALUES};

/// Most lines to write on in one place.
pub(super) const LINES: usize = 40;

/// What a value is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Finished text, or a number.
    Text,
    /// Yes or no.
    Flag,
    /// A list to go over.
    List,
    /// Values that belong together.
    Group,
}

/// For what a page is made again, in words.
pub(super) fn spoken(repeats: Repeats) -> &'static str {
    match repeats {
        Repeats::Once => "once",
        Repeats::Bin => "for each bin",
        Repeats::Mix => "for each solution",
    }
}

/// On which pages a value stands, by the first part of its path.
pub(super) fn pages_of(path: &str) -> Repeats {
    match path.split('.').next() {
        Some("bin") => Repeats::Bin,
        Some("mix" | "ph") => Repeats::Mix,
        _ => Repeats::Once,
    }
}

/// If a value stands on other pages: which.
pub(super) fn elsewhere(path: &str) -> Option<&'static str> {
    let there = kind(path).is_some() && path.split('.').next() != Some("loop");
    Some(spoken(pages_of(path))).filter(|s| there && *s != "once")
}

/// What stands at a path.
pub(super) fn kind(path: &str) -> Option<Kind> {
    let mut found = None;
    for (name, _) in VALUES {
        match name.strip_prefix(path) {
            Some("") => return Some(Kind::Text),
            Some("?") => return Some(Kind::Flag),
            Some(rest) if rest.starts_with("[]") => found = Some(Kind::List),
            Some(rest) if rest.starts_with('.') => found = Some(Kind::Group),
            _ => {}
        }
    }
    found
}

/// The names a page may use at one place of its text.
#[derive(Debug, Clone)]
pub(super) struct Scope {
    repeats: Repeats,
    /// Names given to the parts of lists, with their paths.
    named: Vec<(String, String)>,
}

impl Scope {
    /// What a page has outside of any loop.
    pub(super) fn of(repeats: Repeats) -> Self {
        Self { repeats, named: Vec::new() }
    }

    /// Goes into a loop over the list at `path`.
    pub(super) fn enter(&mut self, name: &str, path: &str) {
        self.named.push(("loop".into(), "loop".into()));
        self.named.push((name.into(), format!("{path}[]")));
    }

    /// The path a name stands for.
    pub(super) fn find(&self, name: &str) -> Option<String> {
        if let Some((_, path)) = self.named.iter().rev().find(|(n, _)| n == name) {
            return Some(path.clone());
        }
        self.names().into_iter().find(|n| n == name)
    }

    /// Names outside of any loop, and those given in one.
    pub(super) fn names(&self) -> Vec<String> {
        let here = |path: &&str| {
            let pages = pages_of(path);
            (pages == Repeats::Once || pages == self.repeats) && !path.starts_with("loop")
        };
        let paths = VALUES.iter().map(|(path, _)| *path).filter(here);
        let first = |path: &str| path.split(['.', '[', '?']).next().unwrap_or("").to_string();
        let mut names: Vec<String> = paths.map(first).collect();
        names.extend(self.named.iter().map(|(name, _)| name.clone()));
        names.dedup();
        names
    }

    /// The lists there are.
    pub(super) fn lists(&self) -> Vec<String> {
        self.names().into_iter().filter(|n| kind(n) == Some(Kind::List)).collect()
    }

    /// What belongs to a group.
    pub(super) fn within(&self, path: &str) -> Vec<String> {
        let inner =
            VALUES.iter().filter_map(|(name, _)| name.strip_prefix(path)?.strip_prefix('.'));
        // As the page calls it: a part of a list has a name of its own.
        let called = self.named.iter().find(|(_, p)| p == path).map_or(path, |(name, _)| name);
        inner.map(|rest| format!("{called}.{}", rest.trim_end_matches('?'))).collect()
    }
}

/// Where a block may stand.
pub(super) enum Block {
    /// On this page.
    Here,
    /// On pages of another kind.
    Elsewhere(&'static str),
    /// There is none of that name; those there are.
    Unknown(Vec<&'static str>),
}

/// Looks for a block that a page of this kind may call.
pub(super) fn block(name: &str, repeats: Repeats) -> Block {
    let here = |pages: Repeats| pages == Repeats::Once || pages == repeats;
    match BLOCKS.iter().find(|(known, _, _)| *known == name) {
        Some((_, pages, _)) if here(*pages) => Block::Here,
        Some((_, pages, _)) => Block::Elsewhere(spoken(*pages)),
        None => {
            let known =
                BLOCKS.iter().filter(|(_, pages, _)| here(*pages)).map(|(name, _, _)| *name);
            Block::Unknown(known.chain(["write_lines", "write_to_end"]).collect())
        }
    }
}

/// How a function is called, if there is one of that name.
pub(super) fn function(name: &str) -> Option<&'static str> {
    let called = FUNCTIONS.iter().map(|(called, _)| *called);
    called.into_iter().find(|called| called.split('(').next() == Some(name))
}

/// Whether a function may be called with these.
///
/// # Errors
/// What is wrong and what to do.
pub(super) fn arguments(name: &str, given: &[Value]) -> Result<(), (String, String)> {
    let Some(called) = function(name) else {
        let says =
            format!("`{}` is a block, and stands alone in its paragraph", name.escape_debug());
        return Err((
            says,
            "put it between two empty lines, with nothing else in its braces".into(),
        ));
    };
    let words = given.iter().all(|v| v.as_str().is_some());
    let lines = |v: &Value| v.as_usize().is_some_and(|n| (1..=LINES).contains(&n));
    let fine = match name {
        "write_lines" => given.len() == 1 && lines(&given[0]),
        "write_to_end" => given.is_empty(),
        "worked" => given.len() == 1 && words,
        _ => !given.is_empty() && words,
    };
    let says = format!("`{name}` cannot be called like this");
    if fine { Ok(()) } else { Err((says, format!("write such as  {{{{ {called} }}}}"))) }
}
