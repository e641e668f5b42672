//! Booklets to fold: each half of a side shows the page that belongs there, upright, at its size,
//! and the same plan gives the same bytes.

use std::path::Path;

use binleaf::booklet::Booklet;
use binleaf::cli::{Class, Edition, Form};
use binleaf::plan::Sheet;
use binleaf::run;
use binleaf::write::{fold, pdf, typst};
use pdf_extract::Document;
use pdf_extract::content::Content;

/// What is drawn on each page.
fn pages(bytes: &[u8]) -> Vec<Vec<u8>> {
    let document = Document::load_mem(bytes).unwrap();
    document.page_iter().map(|page| document.get_page_content(page).unwrap()).collect()
}

/// The drawings placed on each page: how far from its left edge (mm), and what is drawn.
fn placed(bytes: &[u8]) -> Vec<Vec<(f64, Vec<u8>)>> {
    let document = Document::load_mem(bytes).unwrap();
    let on = |page| {
        let resources = document.get_dictionary(page).unwrap().get_deref(b"Resources", &document);
        let resources = resources.unwrap().as_dict().unwrap();
        let Ok(forms) = resources.get(b"XObject") else { return Vec::new() };
        let forms = document.dereference(forms).unwrap().1.as_dict().unwrap();
        let mut left = 0.0;
        let mut drawn = Vec::new();
        for step in Content::decode(&document.get_page_content(page).unwrap()).unwrap().operations {
            match step.operator.as_str() {
                "q" => left = 0.0,
                "cm" => {
                    let m: Vec<f64> =
                        step.operands.iter().map(|o| f64::from(o.as_float().unwrap())).collect();
                    // Neither turned, nor made larger or smaller, nor moved up or down.
                    assert_eq!((&m[..4], m[5]), ([1.0, 0.0, 0.0, 1.0].as_slice(), 0.0));
                    left = m[4] / 72.0 * 25.4;
                }
                "Do" => {
                    let form = forms.get(step.operands[0].as_name().unwrap()).unwrap();
                    let form = document.dereference(form).unwrap().1.as_stream().unwrap();
                    drawn.push((left, form.decompressed_content().unwrap()));
                }
                other => assert_eq!(other, "Q"),
            }
        }
        drawn
    };
    document.page_iter().map(on).collect()
}

fn small(text: &str) -> Booklet {
    let mut worked = run::work(text.into(), "plan.toml");
    let (plan, _) = worked.done.as_mut().unwrap();
    plan.paper = plan.paper.folded();
    worked.booklet().unwrap().unwrap()
}

fn made(text: &str, forms: &[Form], class: &Class, folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut worked = run::work(text.into(), "plan.toml");
    let files = run::make(&mut worked, forms, folder, class).unwrap();
    assert_eq!(worked.advice.len(), class.editions.len(), "{:?}", worked.advice);
    let name = |p: &Path| p.file_name().unwrap().to_string_lossy().into_owned();
    files.iter().map(|p| (name(p), std::fs::read(p).unwrap())).collect()
}

#[test]
fn every_half_shows_the_page_that_belongs_there() {
    for plan in ["starter", "classroom-jars"] {
        let text = crate::good_plans().into_iter().find(|(n, _)| n.starts_with(plan)).unwrap().1;
        let booklet = small(&text);
        let single = pages(&pdf::render(&typst::write(&booklet), &run::LOOK).unwrap());
        let folder = tempfile::tempdir().unwrap();
        let files = made(&text, &[Form::Fold], &Class::default(), folder.path());
        assert_eq!(files[0].0, "plan-fold.pdf");
        let sides = placed(&files[0].1);
        let imposed = fold::impose(single.len());
        assert_eq!(sides.len(), imposed.sides.len(), "{plan}");
        let half = if booklet.paper.width > 145.0 { 148.5 } else { booklet.paper.width };
        for (side, halves) in sides.iter().zip(&imposed.sides) {
            let wanted: Vec<(f64, usize)> = [0.0, half].into_iter().zip(*halves).collect();
            let wanted: Vec<_> = wanted.into_iter().filter(|(_, page)| *page > 0).collect();
            assert_eq!(side.len(), wanted.len());
            for ((left, drawn), (edge, page)) in side.iter().zip(wanted) {
                assert!((left - edge).abs() < 0.3, "{plan}: page {page} stands at {left} mm");
                assert!(
                    drawn.trim_ascii() == single[page - 1].trim_ascii(),
                    "{plan}: this is not page {page}"
                );
            }
        }
        let again = made(&text, &[Form::Fold], &Class::default(), folder.path());
        assert!(again[0].1 == files[0].1, "{plan} differs from run to run");
    }
}

/// Sheets are those a printer has, and what is drawn at 1 : 1 stays so.
#[test]
fn sheets_have_the_size_of_paper_and_pages_theirs() {
    for (paper, sheet) in [("A4", "297 210"), ("A5", "297 210"), ("letter", "279.4 215.9")] {
        let text = run::STARTER.replace("paper = \"letter\"", &format!("paper = \"{paper}\""));
        let folder = tempfile::tempdir().unwrap();
        let bytes = &made(&text, &[Form::Fold], &Class::default(), folder.path())[0].1;
        let document = Document::load_mem(bytes).unwrap();
        let millimetres: Vec<f64> = sheet.split(' ').map(|n| n.parse().unwrap()).collect();
        for page in document.page_iter() {
            let page = document.get_dictionary(page).unwrap();
            let size = page.get(b"MediaBox").and_then(pdf_extract::Object::as_array).unwrap();
            for (point, wanted) in size[2..].iter().zip(&millimetres) {
                let found = f64::from(point.as_float().unwrap()) / 72.0 * 25.4;
                assert!((found - wanted).abs() < 0.1, "{paper}: {found} for {wanted}");
            }
        }
    }
    assert_eq!(Sheet::A4.folded(), Sheet::A5);
    assert_eq!(Sheet::Letter.folded(), Sheet::HalfLetter);
}

#[test]
fn the_booklet_beside_it_is_as_ever_and_pupils_may_fold_too() {
    let folder = tempfile::tempdir().unwrap();
    let alone = || {
        let mut worked = run::work(run::STARTER.into(), "plan.toml");
        let files = run::make(&mut worked, &[Form::Pdf], folder.path(), &Class::default()).unwrap();
        std::fs::read(&files[0]).unwrap()
    };
    let class = Class { editions: vec![Edition::Grower, Edition::Pupil], ..Class::default() };
    let files = made(run::STARTER, &[Form::Fold, Form::Pdf], &class, folder.path());
    let names: Vec<&str> = files.iter().map(|(n, _)| n.as_str()).collect();
    for name in ["plan.pdf", "plan-fold.pdf", "plan-pupil.pdf", "plan-pupil-fold.pdf"] {
        assert!(names.contains(&name), "{names:?}");
    }
    assert!(files.iter().find(|(n, _)| n == "plan.pdf").unwrap().1 == alone());
}

/// Strips and labels are cut out: what would stand on their back is lost.
#[test]
fn the_paper_for_the_shelf_is_not_folded() {
    let folder = tempfile::tempdir().unwrap();
    let class = Class { editions: vec![Edition::Shelf], ..Class::default() };
    let mut worked = run::work(run::STARTER.into(), "plan.toml");
    let refused = run::make(&mut worked, &[Form::Fold], folder.path(), &class).unwrap_err();
    assert!(refused.concat().contains("cut up"), "{refused:?}");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
    let files = made(run::STARTER, &[Form::Fold, Form::Pdf], &class, folder.path());
    let names: Vec<&str> = files.iter().map(|(n, _)| n.as_str()).collect();
    assert_eq!(names, ["plan-shelf.pdf"]);
}
