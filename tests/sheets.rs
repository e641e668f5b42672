//! No sheet of paper comes out blank: not in any edition, for groups, nor in large letters.

use binleaf::booklet::Booklet;
use binleaf::cli::Class;
use binleaf::run::{self, Worked};
use binleaf::write::{pdf, runs, typst};
use pdf_extract::{Document, output_doc};

use crate::large::Letters;

fn checked(what: &str, booklet: &Booklet) -> usize {
    let bytes = pdf::render(&typst::write(booklet), &run::LOOK);
    let bytes = bytes.unwrap_or_else(|e| panic!("{what}: {e:?}"));
    let mut letters = Letters::default();
    output_doc(&Document::load_mem(&bytes).unwrap(), &mut letters).unwrap();
    for (i, count) in letters.sheets.iter().enumerate() {
        assert!(*count > 3, "{what}: sheet {} is blank", i + 1);
    }
    letters.sheets.len()
}

fn example(name: &str, change: impl Fn(String) -> String) -> Worked {
    let text = crate::good_plans().into_iter().find(|(n, _)| n == name).unwrap().1;
    run::work(change(text), name)
}

#[test]
fn no_sheet_is_blank() {
    let mut sheets = 0;
    let plans = ["classroom-jars.toml", "club-salts.toml", "shelf-totes.toml", "starter.toml"];
    for name in plans {
        let mut worked = example(name, |text| text);
        sheets += checked(name, &worked.booklet().unwrap().unwrap());
        worked.done.as_mut().unwrap().0.large = true;
        sheets += checked(name, &worked.booklet().unwrap().unwrap());
    }
    assert!(sheets > 300, "{sheets}");
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
                checked(&format!("{name}, key {key}, groups {groups}"), &booklet)
            };
            assert!(of(1) > 5 && of(3) > 20);
        }
    }
}

/// Every block of every page is set once, in its place; each bin begins a sheet, and a long working begins
/// more than one.
#[test]
fn runs_hold_all_pages_in_order() {
    let worked = example("shelf-totes.toml", |text| text);
    for large in [false, true] {
        let booklet = Booklet { large, ..worked.booklet().unwrap().unwrap() };
        let runs = runs::runs(&booklet);
        let parts = || runs.iter().flatten();
        let titles: Vec<_> = parts().filter_map(|part| part.title).map(|title| title.0).collect();
        assert_eq!(titles, booklet.pages.iter().map(|page| &page.title).collect::<Vec<_>>());
        let blocks: Vec<_> = parts().flat_map(|part| part.blocks).collect();
        let all = booklet.pages.iter().flat_map(|page| &page.blocks);
        assert_eq!(blocks, all.collect::<Vec<_>>());
        let begin = |id: &str| runs.iter().filter(|run| run[0].id == id).count();
        assert_eq!(begin("bin"), worked.done.as_ref().unwrap().0.bins.len());
        assert!(begin("working") > 1);
        assert!(parts().all(|part| (0.0..=1.0).contains(&part.room)));
    }
}
