//! No sheet of paper comes out blank: not in any edition, for groups, nor in large letters.

use binleaf::booklet::Booklet;
use binleaf::cli::Class;
use binleaf::run::{self, Worked};
use binleaf::write::{pdf, typst};
use pdf_extract::{Document, MediaBox, OutputDev, OutputError, Transform, output_doc};

/// Letters of each sheet between what stands at its head and at its foot.
#[derive(Default)]
struct Sheets {
    height: f64,
    letters: Vec<usize>,
}

impl OutputDev for Sheets {
    fn begin_page(
        &mut self,
        _: u32,
        sheet: &MediaBox,
        _: Option<(f64, f64, f64, f64)>,
    ) -> Result<(), OutputError> {
        self.height = sheet.ury - sheet.lly;
        self.letters.push(0);
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
        _: f64,
        letter: &str,
    ) -> Result<(), OutputError> {
        let within = (0.06 * self.height..0.94 * self.height).contains(&at.m32);
        if within && !letter.trim().is_empty() {
            *self.letters.last_mut().unwrap() += 1;
        }
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

fn checked(what: &str, booklet: &Booklet) -> usize {
    let bytes = pdf::render(&typst::write(booklet), &run::LOOK);
    let bytes = bytes.unwrap_or_else(|e| panic!("{what}: {e:?}"));
    let mut sheets = Sheets::default();
    output_doc(&Document::load_mem(&bytes).unwrap(), &mut sheets).unwrap();
    for (i, letters) in sheets.letters.iter().enumerate() {
        assert!(*letters > 3, "{what}: sheet {} is blank", i + 1);
    }
    sheets.letters.len()
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
