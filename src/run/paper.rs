//! A booklet on paper: typeset, or typeset smaller and placed on sheets to fold.

use std::panic::AssertUnwindSafe;
use std::path::Path;

use super::Worked;
use super::class::{compose, named};
use crate::booklet::Booklet;
use crate::cli::{Class, Edition};
use crate::disk;
use crate::plan::Sheet;
use crate::write::crew::side_by_side;
use crate::write::{fold, typst};

/// Templates of the look of the booklet.
pub const LOOK: [(&str, &str); 9] = [
    ("/booklet.typ", include_str!("../../templates/booklet.typ")),
    ("/round.typ", include_str!("../../templates/round.typ")),
    ("/part/text.typ", include_str!("../../templates/part/text.typ")),
    ("/part/block.typ", include_str!("../../templates/part/block.typ")),
    ("/part/table.typ", include_str!("../../templates/part/table.typ")),
    ("/part/math.typ", include_str!("../../templates/part/math.typ")),
    ("/part/worked.typ", include_str!("../../templates/part/worked.typ")),
    ("/part/card.typ", include_str!("../../templates/part/card.typ")),
    ("/part/figure.typ", include_str!("../../templates/part/figure.typ")),
];

/// Booklets typeset side by side: the editions of a class are hundreds of pages each.
pub(super) fn pdfs(booklets: &[(String, &Booklet)]) -> Vec<Result<Vec<u8>, Vec<String>>> {
    let stopped = |_| Err(vec!["the typesetter stopped; is there enough memory?".to_string()]);
    side_by_side(booklets.len(), |number| {
        let booklet = AssertUnwindSafe(booklets[number].1);
        std::panic::catch_unwind(|| pdf(&booklet)).unwrap_or_else(stopped)
    })
}

/// Reads what every booklet is set with.
pub(super) fn ready() {
    #[cfg(feature = "pdf")]
    crate::write::pdf::ready(&LOOK);
}

#[cfg(feature = "pdf")]
fn pdf(booklet: &Booklet) -> Result<Vec<u8>, Vec<String>> {
    crate::write::pdf::render(&typst::write(booklet), &LOOK)
}

/// Why the paper for the shelf is not folded.
pub(super) const CUT_UP: &str =
    "the paper for the shelf is cut up, so nothing may stand on its back: print it with --to pdf";

/// Every edition as sheets to fold, but for paper that is cut up.
pub(super) fn folded(
    worked: &mut Worked,
    stem: &str,
    class: &Class,
    dir: &Path,
) -> Result<Vec<disk::File>, Vec<String>> {
    let mut files = Vec::new();
    for edition in &class.editions {
        if *edition == Edition::Shelf {
            worked.advice.push(CUT_UP.into());
            continue;
        }
        let name = named(stem, *edition);
        files.extend(to_fold(worked, |w| compose(w, *edition, class), &name, dir)?);
    }
    Ok(files)
}

/// The template of the sheets to fold.
pub const FOLD: (&str, &str) = ("/fold.typ", include_str!("../../templates/fold.typ"));

/// Sheets to fold, and which page stands where.
#[cfg(feature = "pdf")]
fn fold(booklet: &Booklet) -> Result<(Vec<u8>, fold::Imposed), Vec<String>> {
    let mut imposed = fold::impose(0);
    let bytes = crate::write::pdf::fold(&typst::write(booklet), &LOOK, FOLD, |pages| {
        imposed = fold::impose(pages);
        fold::write(booklet, &imposed)
    })?;
    Ok((bytes, imposed))
}

#[cfg(not(feature = "pdf"))]
fn fold(booklet: &Booklet) -> Result<(Vec<u8>, fold::Imposed), Vec<String>> {
    pdf(booklet).map(|bytes| (bytes, fold::impose(0)))
}

#[cfg(not(feature = "pdf"))]
fn pdf(booklet: &Booklet) -> Result<Vec<u8>, Vec<String>> {
    let _ = typst::write(booklet);
    Err(vec!["this binleaf was built without PDF; use --to md".into()])
}

/// Sheets to fold: the booklet composed once more, for half the paper, and two pages on each side.
pub(crate) fn to_fold(
    worked: &mut Worked,
    compose: impl Fn(&Worked) -> Option<Result<Booklet, String>>,
    stem: &str,
    dir: &Path,
) -> Result<Option<disk::File>, Vec<String>> {
    let Some((plan, _)) = &worked.done else { return Ok(None) };
    if plan.large {
        let line = "large letters need whole sheets: leave out --to fold, or letters = \"large\"";
        return Err(vec![line.into()]);
    }
    let paper = plan.paper;
    worked.set_paper(paper.folded());
    let booklet = compose(worked);
    worked.set_paper(paper);
    let Some(booklet) = booklet else { return Ok(None) };
    let booklet = booklet.map_err(|e| vec![e])?;
    let (bytes, imposed) = fold(&booklet).map_err(|e| no_glyph(worked, e))?;
    let path = dir.join(format!("{stem}-fold.pdf"));
    worked.advice.push(format!("{}: {}", path.display(), fold::advice(&imposed)));
    Ok(Some((path, bytes)))
}

/// If the typesetter complains of letters without a shape, points at them where they were written.
pub(super) fn no_glyph(worked: &mut Worked, complaints: Vec<String>) -> Vec<String> {
    let Some(found) = worked.own.no_glyphs(&worked.text, &complaints) else { return complaints };
    worked.findings.extend(found);
    worked.done = None;
    Vec::new()
}

/// A name as a link of a web page spells it.
pub(super) fn linked(name: &str) -> String {
    let plain = |b: u8| b.is_ascii_alphanumeric() || b"-_.".contains(&b);
    name.bytes().fold(String::new(), |mut link, byte| {
        if plain(byte) {
            link.push(char::from(byte));
        } else {
            link.extend(['%', hex(byte >> 4), hex(byte & 15)]);
        }
        link
    })
}

fn hex(digit: u8) -> char {
    char::from_digit(u32::from(digit), 16).map_or('0', |c| c.to_ascii_uppercase())
}

impl Worked {
    fn set_paper(&mut self, paper: Sheet) {
        if let Some((plan, _)) = &mut self.done {
            plan.paper = paper;
        }
    }
}
