//! Large letters: whatever the plan, they are large, stay on the page, and lose nothing.

use binleaf::booklet::Booklet;
use binleaf::booklet::block::{Block, letters};
use binleaf::booklet::drawing::{Drawing, Mark};
use binleaf::run;
use binleaf::write::{pdf, typst};
use pdf_extract::{Document, MediaBox, OutputDev, OutputError, Transform, output_doc};

type Edges = (f64, f64, f64, f64);

/// Counts the letters of a PDF.
#[derive(Default)]
pub(crate) struct Letters {
    all: usize,
    small: usize,
    text: String,
    height: f64,
    /// Letters of each sheet between what stands at its head and at its foot.
    pub(crate) sheets: Vec<usize>,
    /// Where each letter stands: its sheet, from the left, from below, its size (pt).
    pub(crate) places: Vec<(usize, [f64; 3])>,
}

impl OutputDev for Letters {
    fn begin_page(&mut self, _: u32, m: &MediaBox, _: Option<Edges>) -> Result<(), OutputError> {
        self.height = m.ury - m.lly;
        self.sheets.push(0);
        Ok(())
    }
    fn end_page(&mut self) -> Result<(), OutputError> {
        Ok(())
    }
    fn output_character(
        &mut self,
        at: &Transform,
        _: f64,
        _: f64,
        size: f64,
        letter: &str,
    ) -> Result<(), OutputError> {
        let letters = letter.chars().filter(|c| !c.is_whitespace());
        let before = self.text.len();
        self.text.extend(letters);
        let seen = usize::from(self.text.len() > before);
        self.all += seen;
        if (0.06 * self.height..0.94 * self.height).contains(&at.m32) {
            *self.sheets.last_mut().unwrap() += seen;
        }
        if seen > 0 {
            self.places.push((self.sheets.len(), [at.m31, at.m32, size]));
        }
        self.small += if size < 12.9 { seen } else { 0 };
        Ok(())
    }
    fn begin_word(&mut self) -> Result<(), OutputError> {
        Ok(())
    }
    fn end_word(&mut self) -> Result<(), OutputError> {
        Ok(())
    }
    fn end_line(&mut self) -> Result<(), OutputError> {
        Ok(())
    }
}

/// A plan's booklet in large letters, on paper that is wide enough.
fn large(name: &str, text: &str) -> (Booklet, Letters) {
    let whole = text.replace("\"A5\"", "\"A4\"").replace("\"half-letter\"", "\"letter\"");
    let mut worked = run::work(whole, name);
    let (plan, _) = worked.done.as_mut().unwrap_or_else(|| panic!("{name}"));
    plan.large = true;
    let booklet = worked.booklet().unwrap().unwrap();
    let seen = seen(name, &booklet);
    (booklet, seen)
}

/// The letters of a booklet on paper.
fn seen(name: &str, booklet: &Booklet) -> Letters {
    let bytes = pdf::render(&typst::write(booklet), &run::LOOK);
    let bytes = bytes.unwrap_or_else(|e| panic!("{name}: {e:?}"));
    let mut letters = Letters::default();
    output_doc(&Document::load_mem(&bytes).unwrap(), &mut letters).unwrap();
    letters
}

/// `tests/reference/check_pdf.py` looks where the letters stand.
#[test]
fn every_plan_can_be_printed_large_and_loses_nothing() {
    for (name, text) in crate::good_plans() {
        let (booklet, seen) = large(&name, &text);
        // Small are what stands in drawings, and below a symbol; the lines round the page have 13 pt.
        assert!(seen.small * 15 < seen.all, "{name}: {} of {}", seen.small, seen.all);
        let mut cells = 0;
        for block in booklet.pages.iter().flat_map(|page| &page.blocks) {
            let Block::Table(table) = block else { continue };
            for cell in table.rows.iter().flatten() {
                let cell: String = letters(cell).chars().filter(|c| !c.is_whitespace()).collect();
                assert!(seen.text.contains(&cell), "{name}: {cell} is not on paper");
                cells += 1;
            }
        }
        assert!(cells > 100, "{name}");
        let figures = booklet.pages.iter().flat_map(|p| &p.blocks);
        for pair in figures.collect::<Vec<_>>().windows(2) {
            let Block::Figure(drawing) = pair[0] else { continue };
            let Block::Paragraph { text } = pair[1] else { panic!("{name}: no words") };
            assert!(letters(text).contains(&drawing.alt), "{name}: {}", drawing.name);
        }
    }
}

/// Cards, labels and how to use them are as large as the booklet; strips have large numbers.
#[test]
fn paper_for_the_shelf_is_large_too() {
    for (name, text) in crate::good_plans() {
        let whole = text.replace("\"A5\"", "\"A4\"").replace("\"half-letter\"", "\"letter\"");
        let mut worked = run::work(whole, &name);
        worked.done.as_mut().unwrap().0.large = true;
        let shelf = worked.shelf().unwrap().unwrap();
        let told = ["shelf", "shelf-card", "shelf-labels"];
        let pages = shelf.pages.iter().filter(|page| told.contains(&page.id.as_str())).cloned();
        let written = seen(&name, &Booklet { pages: pages.collect(), ..shelf.clone() });
        let sizes = written.places.iter().map(|(_, [_, y, size])| {
            // Head and foot of a sheet.
            let inside = (0.06 * written.height..0.94 * written.height).contains(y);
            if inside { *size } else { size + 5.0 }
        });
        let least = sizes.fold(f64::MAX, f64::min);
        assert!(written.all > 1000 && least > 17.9, "{name}: {least} pt");
        // Numbers of 18 pt, days of nearly 14: capitals are 0.7 em high.
        let strips = shelf.pages.iter().flat_map(|page| &page.blocks);
        let mut numbers = 0;
        for block in strips {
            let Block::Figure(Drawing { name, marks, .. }) = block else { continue };
            for mark in marks.iter().filter(|_| name.starts_with("strip-")) {
                let Mark::Words { size, text, .. } = mark else { continue };
                let points = size / 0.7 / 25.4 * 72.0;
                let number = text.parse::<f64>().is_ok();
                assert!(points > if number { 17.9 } else { 13.7 }, "{name}: {text}, {points} pt");
                numbers += usize::from(number);
            }
        }
        assert!(numbers > 10, "{name}: {numbers}");
    }
}
