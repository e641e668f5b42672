//! Large letters: what stands side by side to save paper is set in one column, and what a drawing
//! shows is also told in words, because its own letters are bound to its scale.

use super::block::{Block, Column, Table, plain};
use super::folio::Page;

/// Writing rows are this much higher.
const ROWS: f64 = 1.5;
/// Drawings whose own letters are large.
const LARGE: [&str; 2] = ["strip-", "lid-"];

/// The pages, ready for large letters; `in_words` leads in what a drawing shows.
pub(super) fn spread(pages: Vec<Page>, in_words: &str) -> Vec<Page> {
    let blocks = |blocks: Vec<Block>| blocks.into_iter().flat_map(|b| block(b, in_words)).collect();
    pages.into_iter().map(|page| Page { blocks: blocks(page.blocks), ..page }).collect()
}

fn block(block: Block, in_words: &str) -> Vec<Block> {
    match block {
        Block::Table(table) => vec![Block::Table(one_column(table))],
        // What is cut out has large letters itself.
        Block::Figure(drawing) if LARGE.iter().any(|kind| drawing.name.starts_with(kind)) => {
            vec![Block::Figure(drawing)]
        }
        Block::Figure(drawing) => {
            let text = plain(format!("{in_words}: {}", drawing.alt));
            vec![Block::Figure(drawing), Block::Paragraph { text }]
        }
        Block::Alert { voice, blocks } => {
            let blocks = blocks.into_iter().flat_map(|b| self::block(b, in_words)).collect();
            vec![Block::Alert { voice, blocks }]
        }
        block @ (Block::Heading { .. }
        | Block::Paragraph { .. }
        | Block::List { .. }
        | Block::Ticks { .. }
        | Block::Worked(_)
        | Block::Verbatim { .. }
        | Block::Labels { .. }
        | Block::Lines { .. }) => vec![block],
    }
}

/// A table whose right half goes on where its left half ends, as one.
fn one_column(table: Table) -> Table {
    let row_height = table.row_height * ROWS;
    let half = table.columns.len() / 2;
    let heads = |columns: &[Column]| -> Vec<_> { columns.iter().map(|c| c.head.clone()).collect() };
    let (left, right) = table.columns.split_at(half);
    if half == 0 || heads(left) != heads(right) {
        return Table { row_height, ..table };
    }
    let columns = left.to_vec();
    let (first, rest): (Vec<_>, Vec<_>) = table
        .rows
        .into_iter()
        .map(|mut row| {
            let rest = row.split_off(half.min(row.len()));
            (row, rest)
        })
        .unzip();
    // The right half may be shorter by a blank row.
    let filled = |row: &Vec<_>| row.iter().any(|cell| *cell != plain(""));
    let rows = first.into_iter().chain(rest.into_iter().filter(filled)).collect();
    Table { columns, rows, row_height, ..table }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::booklet::page::cells;

    #[test]
    fn two_halves_side_by_side_become_one_column() {
        let pair = || [Column::words("Element", 5), Column::numbers("mg/L", 3)];
        let columns: Vec<Column> = pair().into_iter().chain(pair()).collect();
        let rows = vec![
            cells(["N".into(), "1".into(), "Ca".into(), "3".into()]),
            cells(["K".into(), "2".into(), String::new(), String::new()]),
        ];
        let table = one_column(Table::printed("What", columns, rows));
        assert_eq!(table.columns, pair());
        let wanted = [["N", "1"], ["K", "2"], ["Ca", "3"]];
        assert_eq!(table.rows, wanted.map(|row| cells(row.map(String::from))));
    }

    #[test]
    fn other_tables_keep_their_columns() {
        let columns = vec![Column::words("Day", 1), Column::words("Level", 1)];
        let table = Table::to_fill("Log", columns, vec![cells(["Mon".into(), String::new()])]);
        let spread = one_column(table.clone());
        assert!((spread.row_height - 1.5 * table.row_height).abs() < 1e-9);
        assert_eq!((spread.columns, spread.rows), (table.columns, table.rows));
    }
}
