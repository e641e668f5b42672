//! Calculations of one kind: those with the same numbers are told of once, the others are the rows of a
//! table: the numbers that differ, and the result.

use super::super::block::{Align, Column, Inline, Line, Table, plain};
use super::working::about;
use crate::number::{Step, Symbol};
use crate::plan::Sheet;

/// Which of the numbers put in are printed, and how.
pub(in super::super) struct Inputs<'a> {
    first: &'a Step,
    /// Places of the numbers that are not the same everywhere.
    differ: Vec<usize>,
    /// Each has a column of its own; or else all stand in one.
    apart: bool,
    /// Shares of the columns: of what a row is for, and of each number.
    shares: Vec<u32>,
    /// Share of the column of results.
    result: u32,
}

impl<'a> Inputs<'a> {
    /// Of the first, which is worked in full, and the others, with what their rows are for; results have
    /// `room` at least, as a share of the sheet.
    pub(in super::super) fn of(
        first: &'a Step,
        others: &[&Step],
        names: &[String],
        (paper, room): (Sheet, usize),
    ) -> Self {
        let most = if roomy(paper) { 6 } else { 5 };
        let differs =
            |i: &usize| others.iter().any(|s| given_at(first, s, *i) != given_at(first, first, *i));
        let differ: Vec<usize> = (0..first.givens.len()).filter(differs).collect();
        // A share is about a letter, and a column has a space on either side.
        let share = |letters: usize| letters + 2;
        let longest = |texts: &mut dyn Iterator<Item = usize>| texts.max().unwrap_or(0);
        let put_in = |i: &usize| {
            let mut shown = others.iter().map(|step| given_at(first, step, *i).chars().count());
            share(longest(&mut shown)).max(9)
        };
        let numbers: Vec<usize> = differ.iter().map(put_in).collect();
        let result = share(longest(&mut others.iter().map(|s| s.result.chars().count()))).max(room);
        // Numbers stand in one line; what a row is for gets the rest, as far as its words ask for it. If they
        // took more than two lines, the numbers stand together.
        let line: usize = if roomy(paper) { 107 } else { 85 };
        let left = line.saturating_sub(numbers.iter().sum::<usize>() + result);
        let name = share(longest(&mut names.iter().map(|name| name.chars().count())));
        let apart = differ.len() <= most && name <= 2 * left.max(18);
        let what_for = if apart { name.min(left) } else { name.min(27) }.max(18);
        let shares = std::iter::once(what_for).chain(numbers);
        let narrow = |share: usize| u32::try_from(share).unwrap_or(18);
        let shares = shares.map(narrow).collect();
        Self { first, differ, apart, shares, result: narrow(result) }
    }

    /// Some numbers are the same everywhere, and are not printed again.
    pub(in super::super) fn some_are_left_out(&self) -> bool {
        self.differ.len() < self.first.givens.len()
    }

    /// Share of the column of results.
    pub(in super::super) fn result(&self) -> u32 {
        self.result
    }

    /// Columns for what the calculation is for and what is put in.
    pub(in super::super) fn columns(&self) -> Vec<Column> {
        if !self.apart {
            return vec![Column::words("For", self.shares[0]), Column::words("Put in", 45)];
        }
        let symbol = |(i, share): (&usize, &u32)| {
            Column::under(&self.first.givens[*i].symbol, Align::Right, *share)
        };
        let what_for = Column::words("For", self.shares[0]);
        let numbers = self.differ.iter().zip(&self.shares[1..]).map(symbol);
        [what_for].into_iter().chain(numbers).collect()
    }

    /// The cells of one of them.
    pub(in super::super) fn cells(&self, what_for: String, step: &Step) -> Vec<Line> {
        let given = |i: &usize| given_at(self.first, step, *i);
        let mut cells = vec![plain(what_for)];
        if self.apart {
            cells.extend(self.differ.iter().map(given).map(plain));
            return cells;
        }
        let mut all: Line = Vec::new();
        for (n, i) in self.differ.iter().enumerate() {
            all.extend(plain(if n > 0 { "; " } else { "" }));
            all.push(Inline::Symbol(Symbol::of(&self.first.givens[*i].symbol)));
            all.extend(plain(format!(" = {}", given(i))));
        }
        cells.push(all);
        cells
    }
}

fn roomy(paper: Sheet) -> bool {
    matches!(paper, Sheet::A4 | Sheet::Letter)
}

/// What the first of a kind is worked for, and with the same numbers others.
pub(super) fn alike(steps: &[&Step]) -> String {
    let same = |step: &&&Step| equal(steps[0], steps[0], step);
    all_of(&steps.iter().filter(same).copied().collect::<Vec<_>>())
}

/// Those of a kind whose numbers are not those of the first; those with equal numbers share a row.
pub(super) fn others(steps: &[&Step], paper: Sheet) -> Option<Table> {
    let (first, rest) = steps.split_first()?;
    let rest: Vec<&Step> = rest.iter().filter(|s| !equal(first, first, s)).copied().collect();
    if rest.is_empty() {
        return None;
    }
    let mut groups: Vec<Vec<&Step>> = Vec::new();
    for step in &rest {
        let same = |g: &&mut Vec<&Step>| equal(first, g[0], step);
        match groups.iter_mut().find(same) {
            Some(group) => group.push(step),
            None => groups.push(vec![step]),
        }
    }
    let names: Vec<String> = groups.iter().map(|group| all_of(group)).collect();
    let inputs = Inputs::of(first, &rest, &names, (paper, 11));
    let mut columns = inputs.columns();
    columns.push(Column::under(&first.symbol, Align::Right, inputs.result));
    let row = |(group, name): (&Vec<&Step>, String)| {
        let mut row = inputs.cells(name, group[0]);
        row.push(plain(group[0].result.clone()));
        row
    };
    Some(Table::printed("", columns, groups.iter().zip(names).map(row).collect()))
}

fn equal(first: &Step, a: &Step, b: &Step) -> bool {
    let same = |i: usize| given_at(first, a, i) == given_at(first, b, i);
    a.result == b.result && (0..first.givens.len()).all(same)
}

/// What several calculations are for: "Jar 2 to 8", "Pail 1 and 2; reserve line".
fn all_of(steps: &[&Step]) -> String {
    // Names with the same items stand together.
    let mut named: Vec<(String, Vec<String>)> = Vec::new();
    for step in steps {
        let about = about(step);
        let (name, item) = about.split_once("; ").unwrap_or((&about, ""));
        match named.iter_mut().find(|(n, _)| n == name) {
            Some((_, items)) => items.push(item.into()),
            None => named.push((name.into(), vec![item.into()])),
        }
    }
    let mut told: Vec<String> = Vec::new();
    let mut done: Vec<&Vec<String>> = Vec::new();
    for (_, items) in &named {
        if done.contains(&items) {
            continue;
        }
        done.push(items);
        let same = named.iter().filter(|(_, i)| i == items).map(|(name, _)| name.as_str());
        let names = runs(&same.collect::<Vec<_>>());
        let items = listed(items);
        told.push(if items.is_empty() { names } else { format!("{names}; {items}") });
    }
    told.join("; ")
}

/// Names in words, those that are numbered on in short: "Jar 2 to 8 and Tub".
fn runs(names: &[&str]) -> String {
    let mut told: Vec<String> = Vec::new();
    let mut rest = names;
    while let Some(first) = rest.first() {
        let run = (1..rest.len()).take_while(|n| follows(first, *n, rest[*n])).count();
        let word = if run > 1 { "to" } else { "and" };
        match numbered(rest[run]) {
            Some((_, number)) if run > 0 => told.push(format!("{first} {word} {number}")),
            _ => told.push((*first).into()),
        }
        rest = &rest[run + 1..];
    }
    listed(&told)
}

fn listed(words: &[String]) -> String {
    match words.split_last() {
        Some((last, before)) if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        _ => words.concat(),
    }
}

/// Is the `n`th after `first`, by its number.
fn follows(first: &str, n: usize, other: &str) -> bool {
    let (Some((name, from)), Some((other, number))) = (numbered(first), numbered(other)) else {
        return false;
    };
    let wanted = u32::try_from(n).ok().and_then(|n| from.checked_add(n));
    name == other && wanted == Some(number)
}

/// A name and the number at its end.
fn numbered(name: &str) -> Option<(&str, u32)> {
    let digits = name.chars().rev().take_while(char::is_ascii_digit).count();
    let (name, number) = name.split_at(name.len() - digits);
    // 07 does not follow 6.
    let number = number.parse().ok().filter(|n: &u32| n.to_string() == number)?;
    Some((name, number))
}

/// A number put into a step, in the place it has in the first of its kind. Equal numbers are listed
/// once, so a step can be a number short: then it is said again.
pub(in super::super) fn given_at(first: &Step, step: &Step, i: usize) -> String {
    // The place counts where it can.
    let same = step.givens.len() == first.givens.len();
    let symbol = &first.givens[i].symbol;
    let by_symbol = || step.givens.iter().find(|g| g.symbol == *symbol);
    let own = if same { step.givens.get(i) } else { by_symbol() };
    own.map_or(String::new(), |g| g.shown.clone())
}

#[cfg(test)]
mod tests {
    use super::runs;

    #[test]
    fn names_that_are_numbered_on_stand_in_short() {
        assert_eq!(
            runs(&["Jar 2", "Jar 3", "Jar 4", "Tub", "Pail 9", "Pail 10"]),
            "Jar 2 to 4, Tub and Pail 9 and 10"
        );
        assert_eq!(runs(&["Jar 2", "Jar 4", "Jar 05", "5"]), "Jar 2, Jar 4, Jar 05 and 5");
    }
}
