//! What is where: the first sheets of a long booklet.

use serde::Serialize;

use crate::booklet::Booklet;

/// A booklet of fewer pages is soon leafed through.
const LONG: usize = 8;

/// Whether a booklet says where its pages are. Class sheets and paper that is cut up are not looked
/// up in.
#[must_use]
pub fn wanted(booklet: &Booklet) -> bool {
    booklet.pages.len() >= LONG && booklet.pages.iter().any(|page| page.id == "bin")
}

/// A page, and on which sheet it begins.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Entry {
    /// Its title.
    pub title: String,
    /// The sheet, from 1.
    pub sheet: usize,
}

/// How much of a sheet there is for entries (lines), and how many letters surely go into a line.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Room {
    lines: usize,
    letters: usize,
}

impl Room {
    /// Of a booklet's paper and letters. Its title may take more than a line, and who keeps it and
    /// where it stands another.
    #[must_use]
    pub fn of(booklet: &Booklet) -> Self {
        let [lines, letters, title, line, below] = if booklet.large {
            [if booklet.paper.height > 290.0 { 24 } else { 22 }, 46, 30, 2, 45]
        } else if booklet.paper.width < 170.0 {
            [32, 50, 28, 2, 60]
        } else {
            [40, 72, 34, 3, 90]
        };
        let more = |text: usize, most: usize| text.saturating_sub(1) / most;
        let count = |text: &str| text.chars().count();
        let keeper = more(count(&booklet.keeper) + count(&booklet.place) + 16, below);
        let opening = line * more(count(&booklet.title), title) + keeper;
        Self { lines: lines - opening.min(lines / 2), letters }
    }

    /// Sheets of entries for titles and how many sheets into the rest they begin: none overflows.
    #[must_use]
    pub fn sheets(self, titles: &[(String, usize)]) -> Vec<Vec<Entry>> {
        let mut sheets: Vec<Vec<Entry>> = Vec::new();
        let mut used = self.lines;
        for (title, sheet) in titles {
            let lines = title.chars().count().div_ceil(self.letters.max(1)).max(1);
            used += lines;
            let entry = Entry { title: title.clone(), sheet: *sheet };
            if let Some(entries) = sheets.last_mut().filter(|_| used <= self.lines) {
                entries.push(entry);
            } else {
                sheets.push(vec![entry]);
                used = lines;
            }
        }
        let before = sheets.len();
        sheets.iter_mut().flatten().for_each(|entry| entry.sheet += before);
        sheets
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn entries_go_on_as_many_sheets_as_they_need() {
        let room = Room { lines: 4, letters: 10 };
        let titles = |n: usize, long: usize| -> Vec<(String, usize)> {
            (0..n).map(|i| ("x".repeat(long), i + 1)).collect()
        };
        let sheets = room.sheets(&titles(4, 10));
        assert_eq!((sheets.len(), sheets[0].len()), (1, 4));
        // One sheet of them stands before all else.
        assert_eq!(sheets[0].iter().map(|e| e.sheet).collect::<Vec<_>>(), [2, 3, 4, 5]);
        let sheets = room.sheets(&titles(5, 11));
        assert_eq!(sheets.iter().map(Vec::len).collect::<Vec<_>>(), [2, 2, 1]);
        assert_eq!(sheets[2][0].sheet, 5 + 3);
        assert!(room.sheets(&[]).is_empty());
    }
}
