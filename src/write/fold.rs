//! Which page of a booklet stands where, when two half-size pages are printed on each side of a
//! sheet that is then folded.

use serde::Serialize;

use crate::booklet::Booklet;
use crate::booklet::folio::Day;

/// Up to so many sheets are folded into one another.
const ONE_FOLD: usize = 16;
/// More are folded in groups of at most so many: thicker ones spring open.
const GROUP: usize = 10;

/// The sides of all sheets, as they come from the printer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Imposed {
    /// Left and right page of each side, front and back in turn; 0 is blank.
    pub sides: Vec<[usize; 2]>,
    /// Sheets of each group that is folded together.
    #[serde(skip)]
    pub groups: Vec<usize>,
}

/// Places `pages` pages. Blank ones come last: inside the back cover and on it.
#[must_use]
pub fn impose(pages: usize) -> Imposed {
    let sheets = pages.div_ceil(4);
    let groups = groups(sheets);
    let mut sides = Vec::new();
    let mut first = 1;
    for group in &groups {
        let last = first + 4 * group - 1;
        for sheet in 0..*group {
            let (low, high) = (first + 2 * sheet, last - 2 * sheet);
            // Flipped on its short edge, a sheet shows its back with the same side up.
            sides.extend([[high, low], [low + 1, high - 1]]);
        }
        first = last + 1;
    }
    let blank = |page: usize| if page > pages { 0 } else { page };
    Imposed { sides: sides.into_iter().map(|side| side.map(blank)).collect(), groups }
}

/// Sheets of each group, as even as can be.
fn groups(sheets: usize) -> Vec<usize> {
    let count = if sheets <= ONE_FOLD { 1 } else { sheets.div_ceil(GROUP) };
    (0..count).map(|i| sheets / count + usize::from(i < sheets % count)).collect()
}

/// How to print and fold them, for the person at the printer.
#[must_use]
pub fn advice(imposed: &Imposed) -> String {
    let sheets: usize = imposed.groups.iter().sum();
    let print = "print double-sided, flip on the short edge, at 100 % (no fitting to the page)";
    let count = match sheets {
        1 => "1 sheet".into(),
        n => format!("{n} sheets"),
    };
    if imposed.groups.len() < 2 {
        return format!("{count}: {print}; fold, staple in the fold");
    }
    let groups: Vec<String> = imposed.groups.iter().map(ToString::to_string).collect();
    format!(
        "{count}: {print}; too many for one fold: fold groups of {} sheets in this order, lay them \
         on one another, staple beside the fold",
        groups.join(" + ")
    )
}

/// What the template of the sheets reads; lengths in millimetres.
#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct Job<'a> {
    title: &'a str,
    date: &'a Day,
    width: f64,
    height: f64,
    page_width: f64,
    sides: &'a [[usize; 2]],
}

/// The sheets of a booklet as JSON.
///
/// # Panics
/// Never: it is plain data.
#[must_use]
pub fn write(booklet: &Booklet, imposed: &Imposed) -> Vec<u8> {
    // A sheet of A4 is a millimetre wider than two of A5.
    let page_width = booklet.paper.width;
    let width = if page_width > 145.0 { 148.5 } else { page_width };
    let (title, date, height) = (booklet.title.as_str(), &booklet.date, booklet.paper.height);
    let job = Job { title, date, width, height, page_width, sides: &imposed.sides };
    serde_json::to_vec(&job).expect("a job is plain data")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: fold 1, 2, 3 sheets of paper and number the pages.
    #[test]
    fn pages_stand_as_in_a_booklet_folded_by_hand() {
        assert_eq!(impose(4).sides, [[4, 1], [2, 3]]);
        assert_eq!(impose(8).sides, [[8, 1], [2, 7], [6, 3], [4, 5]]);
        let twelve = [[12, 1], [2, 11], [10, 3], [4, 9], [8, 5], [6, 7]];
        assert_eq!(impose(12).sides, twelve);
    }

    #[test]
    fn blank_pages_come_last() {
        assert_eq!(impose(1).sides, [[0, 1], [0, 0]]);
        assert_eq!(impose(5).sides, [[0, 1], [2, 0], [0, 3], [4, 5]]);
        assert!(impose(0).sides.is_empty());
    }

    #[test]
    fn thick_booklets_are_folded_in_even_groups() {
        assert_eq!(impose(64).groups, [16]);
        assert_eq!(impose(65).groups, [9, 8]);
        for pages in 1..400 {
            let imposed = impose(pages);
            assert!(imposed.groups.len() == 1 || imposed.groups.iter().all(|g| *g <= GROUP));
            let mut all: Vec<usize> = imposed.sides.concat();
            all.retain(|page| *page > 0);
            all.sort_unstable();
            assert_eq!(all, (1..=pages).collect::<Vec<_>>());
            assert_eq!(imposed.sides.len(), 2 * pages.div_ceil(4));
            // Read in order: within a group, each opening shows two pages that follow.
            let mut first = 0;
            for group in imposed.groups {
                let fronts = imposed.sides[first..first + 2 * group].iter().step_by(2);
                let low: Vec<usize> = fronts.map(|side| side[1]).collect();
                assert!(low.windows(2).all(|w| w[1] == w[0] + 2 || w[1] == 0));
                first += 2 * group;
            }
        }
        assert!(advice(&impose(65)).contains("groups of 9 + 8 sheets"));
        assert!(advice(&impose(4)).starts_with("1 sheet: "));
    }
}
