//! No sheet of paper comes out blank, not in any edition, for groups, nor in large letters; few have little on
//! them, and hardly a row of a table stands alone.

use std::collections::{BTreeMap, BTreeSet};

use binleaf::booklet::Booklet;
use binleaf::booklet::block::Block;
use binleaf::booklet::folio::Page;
use binleaf::cli::Class;
use binleaf::plan::Sheet;
use binleaf::run::{self, Worked};
use binleaf::write::{pdf, runs, typst};
use pdf_extract::{Dictionary, Document, Object, ObjectId, output_doc};

use crate::large::Letters;

/// What is wrong with the sheets of a booklet.
#[derive(Debug, Default)]
struct Flaws {
    sheets: usize,
    /// Sheets with hardly more than a line or two.
    little: usize,
    /// Rows of tables that stand alone on a sheet, apart from all others.
    lone: usize,
    /// Lists that go on over a sheet, and those whose last item stands alone there.
    lists: [usize; 2],
}

impl std::ops::AddAssign for Flaws {
    fn add_assign(&mut self, other: Self) {
        self.sheets += other.sheets;
        self.little += other.little;
        self.lone += other.lone;
        for (all, more) in self.lists.iter_mut().zip(other.lists) {
            *all += more;
        }
    }
}

fn checked(what: &str, booklet: &Booklet) -> Flaws {
    let bytes = pdf::render(&typst::write(booklet), &run::LOOK);
    let bytes = bytes.unwrap_or_else(|e| panic!("{what}: {e:?}"));
    let document = Document::load_mem(&bytes).unwrap();
    let mut letters = Letters::default();
    output_doc(&document, &mut letters).unwrap();
    for (i, count) in letters.sheets.iter().enumerate() {
        assert!(*count > 3, "{what}: sheet {} is blank", i + 1);
    }
    if let Some((sheet, [x, y])) = printed_over(letters.places) {
        panic!(
            "{what}: sheet {sheet}: a letter stands on another, {x:.0} pt, {y:.0} pt from below"
        );
    }
    let little = letters.sheets.iter().filter(|count| **count < 100).count();
    // A sheet of lines or of a log to write on has few letters, and is full.
    let lines = |page: &&Page| {
        let card = booklet.large && page.id == "shelf-card";
        card || matches!(page.blocks.last(), Some(Block::Lines { count: 0 }))
    };
    let little = little.saturating_sub(booklet.pages.iter().filter(lines).count());
    let (lone, lists) = (lone_rows(&document), last_items(&document));
    Flaws { sheets: letters.sheets.len(), little, lone, lists }
}

/// The first letter that stands on one of another line: nearer than half a letter in height, and hardly
/// beside it. (Among the letters of two words that cross, some always do.)
fn printed_over(mut places: Vec<(usize, [f64; 3])>) -> Option<(usize, [f64; 2])> {
    places.sort_by(|(a, [_, y, _]), (b, [_, other, _])| a.cmp(b).then(y.total_cmp(other)));
    for (i, (sheet, [x, y, size])) in places.iter().enumerate() {
        let near =
            |(on, [_, other, _]): &&(usize, [f64; 3])| on == sheet && other - y < 0.45 * size;
        for (_, [beside, above, other]) in places[i + 1..].iter().take_while(near) {
            let size = size.min(*other);
            let line = 0.03 * size..0.45 * size;
            if line.contains(&(above - y)) && (beside - x).abs() < 0.12 * size {
                return Some((*sheet, [*x, *y]));
            }
        }
    }
    None
}

#[test]
fn letters_that_cross_are_found() {
    let line = |y: f64| (0..6).map(move |i| (1, [4.5 * f64::from(i), y, 10.0]));
    assert!(printed_over(line(0.0).chain(line(11.0)).collect()).is_none());
    let over = printed_over(line(0.0).chain(line(2.4)).collect());
    assert_eq!(over, Some((1, [0.0, 0.0])));
}

/// Counts the rows that stand alone, by the tags of the PDF.
fn lone_rows(document: &Document) -> usize {
    let tables = parts(document, b"Table");
    let parted = tables.iter().filter(|sheets| sheets.len() > 1);
    parted.flat_map(BTreeMap::values).filter(|rows| rows.len() == 1).count()
}

/// Counts the lists that go on over a sheet, and those whose last item stands alone, by the tags of the PDF.
fn last_items(document: &Document) -> [usize; 2] {
    let alone = |list: &Rows| {
        let last = list.values().flatten().copied().max();
        let with = |items: &&BTreeSet<usize>| last.is_some_and(|last| items.contains(&last));
        // It may begin beside the others and go on; and a pair may be parted.
        let apart = list.values().filter(with).all(|items| items.len() == 1);
        last > Some(2) && list.len() > 1 && apart
    };
    let lists = parts(document, b"L");
    let parted = lists.iter().filter(|list| list.len() > 1);
    [parted.count(), lists.iter().filter(|list| alone(list)).count()]
}

/// The rows of all tables, or the items of all lists.
fn parts(document: &Document, kind: &[u8]) -> Vec<Rows> {
    let root = document.catalog().unwrap().get(b"StructTreeRoot").unwrap();
    let mut all = Vec::new();
    walk(document, root, kind, &mut all);
    all
}

/// Rows of a table, without its head, or items of a list, that have something on each sheet.
type Rows = BTreeMap<ObjectId, BTreeSet<usize>>;

fn walk(document: &Document, at: &Object, wanted: &[u8], all: &mut Vec<Rows>) {
    each_kid(document, at, &mut |kid, kind| {
        if kind == wanted {
            let (mut rows, mut count) = (Rows::new(), 0);
            body(document, kid, &mut |row| {
                count += 1;
                sheets(document, row, None, &mut |sheet| {
                    rows.entry(sheet).or_default().insert(count);
                });
            });
            all.push(rows);
        } else {
            walk(document, kid, wanted, all);
        }
    });
}

/// Calls for each row of a table that is not in its head, or each item of a list.
fn body(document: &Document, at: &Object, row: &mut dyn FnMut(&Object)) {
    each_kid(document, at, &mut |kid, kind| match kind {
        b"TR" | b"LI" => row(kid),
        b"THead" => {}
        _ => body(document, kid, row),
    });
}

/// Calls for each sheet that something of an element stands on.
fn sheets(document: &Document, at: &Object, on: Option<ObjectId>, sheet: &mut dyn FnMut(ObjectId)) {
    let Some(element) = dictionary(document, at) else {
        return on.into_iter().for_each(sheet);
    };
    let on = element.get(b"Pg").and_then(Object::as_reference).ok().or(on);
    match element.get(b"K") {
        Ok(Object::Array(kids)) => kids.iter().for_each(|kid| sheets(document, kid, on, sheet)),
        Ok(kid) => sheets(document, kid, on, sheet),
        Err(_) if element.has(b"MCID") => on.into_iter().for_each(sheet),
        Err(_) => {}
    }
}

fn dictionary<'a>(document: &'a Document, at: &'a Object) -> Option<&'a Dictionary> {
    document.dereference(at).ok()?.1.as_dict().ok()
}

/// Calls for each element within another, with its kind.
fn each_kid(document: &Document, at: &Object, each: &mut dyn FnMut(&Object, &[u8])) {
    let Some(kids) = dictionary(document, at).and_then(|element| element.get(b"K").ok()) else {
        return;
    };
    let alone = std::slice::from_ref(kids);
    for kid in kids.as_array().map_or(alone, Vec::as_slice) {
        let kind = dictionary(document, kid).and_then(|kid| kid.get(b"S").ok()?.as_name().ok());
        if let Some(kind) = kind {
            each(kid, kind);
        }
    }
}

fn example(name: &str, change: impl Fn(String) -> String) -> Worked {
    let text = crate::good_plans().into_iter().find(|(n, _)| n == name).unwrap().1;
    run::work(change(text), name)
}

#[test]
fn no_sheet_is_blank() {
    let (mut usual, mut large) = (Flaws::default(), Flaws::default());
    let plans = ["classroom-jars.toml", "club-salts.toml", "shelf-totes.toml", "starter.toml"];
    for name in plans {
        let mut worked = example(name, |text| text);
        usual += checked(name, &worked.booklet().unwrap().unwrap());
        // Letters of cards have many sizes.
        for paper in [Sheet::Letter, Sheet::HalfLetter, Sheet::A5] {
            let (plan, _) = worked.done.as_mut().unwrap();
            let own = std::mem::replace(&mut plan.paper, paper);
            let shelf = worked.shelf().unwrap().unwrap();
            assert!(checked(&format!("{name}, shelf, {paper:?}"), &shelf).sheets > 2);
            worked.done.as_mut().unwrap().0.paper = own;
        }
        worked.done.as_mut().unwrap().0.large = true;
        large += checked(name, &worked.booklet().unwrap().unwrap());
        large += checked(&format!("{name}, shelf, large"), &worked.shelf().unwrap().unwrap());
    }
    assert!(usual.sheets > 100 && usual.little == 0 && usual.lone <= 1, "{usual:?}");
    let [parted, alone] = [0, 1].map(|i| usual.lists[i] + large.lists[i]);
    assert!(parted > 10 && alone == 0, "{usual:?} {large:?}");
    // Most rows of a large table take several lines, and no letter may become smaller.
    assert!(
        large.sheets > 300 && large.little * 50 < large.sheets && large.lone * 25 < large.sheets,
        "{large:?}"
    );
}

/// Groups share a file, and each begins a sheet of its own.
#[test]
fn no_sheet_of_a_class_is_blank() {
    for (name, large) in [("classroom-jars.toml", false), ("shelf-totes.toml", true)] {
        let mut worked = example(name, |text| text);
        worked.done.as_mut().unwrap().0.large = large;
        for key in [false, true] {
            let of = |groups| {
                let class = Class { groups, ..Class::default() };
                let booklet = worked.worksheet(key, &class).unwrap().unwrap();
                checked(&format!("{name}, key {key}, groups {groups}"), &booklet).sheets
            };
            assert!(of(1) > 5 && of(3) > 20);
        }
    }
}

/// Every block of every page is set once, in its place, and each bin begins a sheet.
#[test]
fn runs_hold_all_pages_in_order() {
    let worked = example("shelf-totes.toml", |text| text);
    for large in [false, true] {
        let booklet = Booklet { large, ..worked.booklet().unwrap().unwrap() };
        let runs = runs::runs(&booklet);
        let pages = || runs.iter().flatten();
        let titles: Vec<_> = pages().map(|page| page.title.0).collect();
        assert_eq!(titles, booklet.pages.iter().map(|page| &page.title).collect::<Vec<_>>());
        let blocks: Vec<_> = pages().flat_map(|page| page.blocks).collect();
        let all = booklet.pages.iter().flat_map(|page| &page.blocks);
        assert_eq!(blocks, all.collect::<Vec<_>>());
        let begin = |id: &str| runs.iter().filter(|run| run[0].id == id).count();
        assert_eq!(begin("bin"), worked.done.as_ref().unwrap().0.bins.len());
        assert!(pages().all(|part| (0.0..=1.0).contains(&part.room)));
    }
}
