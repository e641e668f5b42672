//! Booklet data and templates → PDF (PDF/UA-1 and PDF/A-3a). The only file that names typst.
//!
//! The typesetter gets its templates, its data and three font families from the program and has no
//! way to anything else: no files, no packages, no network, no clock.

use std::sync::LazyLock;

use typst::WorldExt;
use typst::diag::{Severity, SourceDiagnostic};
use typst::foundations::Smart;
use typst::text::Font;
use typst_as_lib::{TypstAsLibError, TypstEngine};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

/// The families the templates use, of those the typesetter brings along.
const FAMILIES: [&str; 3] = ["Libertinus Serif", "DejaVu Sans Mono", "New Computer Modern Math"];

/// What made the file, in its metadata.
const CREATOR: &str = concat!("binleaf ", env!("CARGO_PKG_VERSION"));

/// How many booklets later the typesetter forgets what it set and did not need again.
const KEPT: usize = 3;

/// Where the templates look for the booklet.
const DATA: &str = "/booklet.json";

/// Typesets `data` (the booklet as JSON) with `templates` (path from the root, text; the first is
/// the entry).
///
/// # Errors
/// One line per complaint of the typesetter: a fault in a template with its place, or letters
/// that no font of the booklet has.
pub fn render(data: &[u8], templates: &[(&'static str, &str)]) -> Result<Vec<u8>, Vec<String>> {
    typeset(&[(DATA, data)], templates, &options()).map(|(bytes, _)| bytes)
}

/// Typesets `data` as [`render`] does, and then sheets on which `template` places its pages.
/// `place` says where, from the number of pages, as JSON for that template.
///
/// # Errors
/// As [`render`].
pub fn fold(
    data: &[u8],
    templates: &[(&'static str, &str)],
    template: (&'static str, &str),
    place: impl FnOnce(usize) -> Vec<u8>,
) -> Result<Vec<u8>, Vec<String>> {
    let (pages, count) = typeset(&[(DATA, data)], templates, &options())?;
    let files = [("/booklet.pdf", pages.as_slice()), ("/fold.json", &place(count))];
    // For a printer: no tags, no archive.
    let plain = PdfOptions { standards: PdfStandards::default(), tagged: false, ..options() };
    typeset(&files, &[template], &plain).map(|(bytes, _)| bytes)
}

/// The PDF of some files and templates, and how many pages it has.
fn typeset(
    files: &[(&'static str, &[u8])],
    templates: &[(&'static str, &str)],
    options: &PdfOptions,
) -> Result<(Vec<u8>, usize), Vec<String>> {
    let Some((entry, parts)) = templates.split_first() else {
        return Err(vec!["there is no template".into()]);
    };
    let engine = TypstEngine::builder()
        .main_file(*entry)
        .with_static_source_file_resolver(parts.iter().copied())
        .with_static_file_resolver(files.iter().copied())
        .fonts(fonts())
        // What another thread is at work with is not forgotten under its hands.
        .comemo_evict_max_age(Some(KEPT))
        .build();
    let result = engine.with_world(|world| {
        let compiled = typst::compile::<PagedDocument>(world);
        let place = |d: &SourceDiagnostic| complaint(world, d);
        if !compiled.warnings.is_empty() {
            return Err(compiled.warnings.iter().map(place).collect());
        }
        let document = compiled.output.map_err(|e| e.iter().map(place).collect::<Vec<_>>())?;
        let bytes = typst_pdf::pdf(&document, options);
        let bytes = bytes.map_err(|e| e.iter().map(place).collect::<Vec<_>>())?;
        Ok((bytes, document.pages().len()))
    });
    result.unwrap_or_else(|e: TypstAsLibError| Err(vec![e.to_string()]))
}

fn options() -> PdfOptions {
    let standards = PdfStandards::new(&[PdfStandard::Ua_1, PdfStandard::A_3a])
        .expect("the two standards go together");
    PdfOptions { standards, creator: Smart::Custom(Some(CREATOR.into())), ..PdfOptions::default() }
}

/// The fonts, read once: a class may be thirty booklets.
fn fonts() -> Vec<Font> {
    static FONTS: LazyLock<Vec<Font>> = LazyLock::new(|| {
        typst_assets::fonts()
            .flat_map(|data| Font::iter(typst::foundations::Bytes::new(data)))
            .filter(|font| FAMILIES.contains(&font.info().family.as_str()))
            .collect()
    });
    FONTS.clone()
}

fn complaint(world: &dyn typst::World, diagnostic: &SourceDiagnostic) -> String {
    let word = match diagnostic.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    };
    let place = diagnostic.span.id().map(|id| format!("{:?}", id.vpath())).unwrap_or_default();
    let range = world.range(diagnostic.span).map(|r| format!(" at {r:?}")).unwrap_or_default();
    let hints: Vec<&str> = diagnostic.hints.iter().map(|h| h.v.as_str()).collect();
    format!("{word}: {} {} ({place}{range})", diagnostic.message, hints.join("; "))
}
