//! Booklet data and templates → PDF (PDF/UA-1 and PDF/A-3a). The only file that names typst.
//!
//! The typesetter gets its templates, its data and three font families from the program and has no
//! way to anything else: no files, no packages, no network, no clock.

mod boxes;
mod fit;

use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::sync::{LazyLock, Mutex, PoisonError};

use typst::WorldExt;
use typst::comemo;
use typst::diag::{Severity, SourceDiagnostic};
use typst::foundations::Smart;
use typst::layout::Point;
use typst::model::Document;
use typst::syntax::Source;
use typst::text::Font;
use typst_as_lib::conversions::IntoSource;
use typst_as_lib::{TypstAsLibError, TypstEngine};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use self::boxes::{measure, titles};
use self::fit::filled;
use super::crew::side_by_side;
use super::typst::Manuscript;

/// The families the templates use, of those the typesetter brings along.
const FAMILIES: [&str; 3] = ["Libertinus Serif", "DejaVu Sans Mono", "New Computer Modern Math"];

/// What made the file, in its metadata.
const CREATOR: &str = concat!("binleaf ", env!("CARGO_PKG_VERSION"));

/// How many booklets later the typesetter forgets what it set and did not need again.
const KEPT: usize = 3;

/// Where the templates look for the booklet.
const DATA: &str = "/booklet.json";

/// Where the template of what stands round the pages looks for their running heads.
const ROUND: &str = "/round.json";

/// Sizes that are tried to save a sheet with little on it (%): of letters, or of the space between lines
/// where letters are large.
const SIZES: [u32; 2] = [95, 90];

/// How much (0 to 1) is little on the last of so many sheets. More are not set again for the sake of one.
const LITTLE: [(usize, f64); 2] = [(8, 0.35), (24, 0.15)];

/// Typesets a booklet with `templates` (path from the root, text).
///
/// # Errors
/// One line per complaint of the typesetter: a fault in a template with its place, or letters
/// that no font of the booklet has.
pub fn render(
    copy: &Manuscript,
    templates: &[(&'static str, &str)],
) -> Result<Vec<u8>, Vec<String>> {
    typeset(copy, templates).map(|(bytes, _)| bytes)
}

/// Reads `templates` and the fonts, once for all booklets.
pub(crate) fn ready(templates: &[(&'static str, &str)]) {
    drop(fonts());
    parsed(templates).for_each(drop);
}

/// Typesets a booklet as [`render`] does, and then sheets on which `template` places its pages.
/// `place` says where, from the number of pages, as JSON for that template.
///
/// # Errors
/// As [`render`].
pub fn fold(
    copy: &Manuscript,
    templates: &[(&'static str, &str)],
    template: (&'static str, &str),
    place: impl FnOnce(usize) -> Vec<u8>,
) -> Result<Vec<u8>, Vec<String>> {
    let (pages, count) = typeset(copy, templates)?;
    let place = place(count);
    let files = [("/booklet.pdf", pages.as_slice()), ("/fold.json", &place)];
    let files = files.map(|(path, bytes)| (path.into(), bytes));
    let press = engine(files, parsed(&[template]));
    let sheets = set(&press, template.0)?;
    // For a printer: no tags, no archive.
    let plain = PdfOptions { standards: PdfStandards::default(), tagged: false, ..options() };
    export(&press, template.0, &sheets, &plain)
}

/// The PDF of a booklet, and how many pages it has.
fn typeset(
    copy: &Manuscript,
    templates: &[(&'static str, &str)],
) -> Result<(Vec<u8>, usize), Vec<String>> {
    let sources = parsed(templates).chain((0..copy.runs.len()).flat_map(entries));
    let pages = copy.runs.iter().enumerate().map(|(i, run)| (pages(i), run.json.as_slice()));
    let press = engine([(DATA.into(), copy.json.as_slice())].into_iter().chain(pages), sources);
    comemo::evict(KEPT);
    let runs = runs(&press, copy)?;
    let document = joined(copy, templates, &runs)?;
    let bytes = export(&press, &entry(0, 100), &document, &options())?;
    Ok((bytes, document.pages().len()))
}

/// Sets all runs.
fn runs(press: &Press, copy: &Manuscript) -> Result<Vec<PagedDocument>, Vec<String>> {
    // The longest first, so that all end together.
    let mut order: Vec<usize> = (0..copy.runs.len()).collect();
    order.sort_by_key(|run| Reverse(copy.runs[*run].json.len()));
    let one = |i: usize| Ok((order[i], run(press, order[i], copy.runs[order[i]].fixed)?));
    let runs = side_by_side(order.len(), one).into_iter();
    let runs: BTreeMap<usize, PagedDocument> = runs.collect::<Result<_, Vec<String>>>()?;
    Ok(runs.into_values().collect())
}

/// Sets a run, in smaller letters where that saves a sheet with little on it and the run is not `fixed`.
fn run(press: &Press, run: usize, fixed: bool) -> Result<PagedDocument, Vec<String>> {
    let of_size = |size: u32| {
        let document = set(press, &entry(run, size))?;
        measure(&document);
        Ok::<_, Vec<String>>(document)
    };
    let usual = of_size(100)?;
    for size in SIZES {
        if fixed || !may_save(&usual, size) {
            continue;
        }
        let smaller: PagedDocument = of_size(size)?;
        if smaller.pages().len() < usual.pages().len() {
            return Ok(smaller);
        }
    }
    Ok(usual)
}

/// Whether letters of a size (%) may save the last sheet of a run.
fn may_save(run: &PagedDocument, size: u32) -> bool {
    let sheets = run.pages().len();
    let before = f64::from(u32::try_from(sheets).unwrap_or(u32::MAX)) - 1.0;
    let spill = run.pages().last().map_or(1.0, filled);
    // What is whole leaves room on the sheets before.
    let all: f64 = run.pages().iter().map(filled).sum();
    let little = LITTLE.iter().any(|(most, little)| sheets <= *most && spill < *little);
    // Rows of tables become lower, paragraphs also wider: between the size and its square.
    let less = f64::from(size) / 100.0;
    little && less * less.sqrt() * all <= before
}

/// Where the template of a run looks for its pages.
fn pages(run: usize) -> String {
    format!("/run/{run}.json")
}

/// Path of the template that sets a run in letters of a size (%).
fn entry(run: usize, size: u32) -> String {
    format!("/run/{run}/{size}.typ")
}

/// Templates that set a run, one for each size. What a template sets itself is known to the typesetter by
/// where it stands there, so each run has its own.
fn entries(run: usize) -> impl Iterator<Item = Source> {
    [100].into_iter().chain(SIZES).map(move |size| {
        let set =
            format!("#dressed(size: {size}, block(width: 100%, run(json(\"{}\"))))", pages(run));
        source(&entry(run, size), &format!("#import \"/booklet.typ\": dressed, run\n{set}"))
    })
}

/// All runs, with what stands round their pages.
fn joined(
    copy: &Manuscript,
    templates: &[(&'static str, &str)],
    runs: &[PagedDocument],
) -> Result<PagedDocument, Vec<String>> {
    let titles = copy.runs.iter().flat_map(|run| run.titles.iter().cloned()).zip(begin(runs));
    let contents = copy.contents.map(|room| room.sheets(&titles.collect::<Vec<_>>()));
    let contents = contents.unwrap_or_default();
    let sheets = runs.iter().zip(&copy.runs);
    let sheets = sheets.flat_map(|(run, about)| run.pages().iter().map(|_| about.running.as_str()));
    let running: Vec<&str> = contents.iter().map(|_| "").chain(sheets).collect();
    let around = serde_json::json!({ "running": running, "contents": contents });
    let around = serde_json::to_vec(&around).expect("names are plain data");
    let files = [(DATA, copy.json.as_slice()), (ROUND, &around)];
    let press = engine(files.map(|(path, bytes)| (path.into(), bytes)), parsed(templates));
    let round = set(&press, "/round.typ")?;
    let (first, others) = round.pages().split_at(contents.len());
    let pages = runs.iter().flat_map(PagedDocument::pages).zip(others).map(|(page, round)| {
        let mut page = page.clone();
        page.frame.push_frame(Point::zero(), round.frame.clone());
        page
    });
    let pages = first.iter().cloned().chain(pages).collect();
    Ok(PagedDocument::new(pages, round.info().clone()))
}

/// The sheets (from 1) on which the pages of all runs begin: where their titles stand.
fn begin(runs: &[PagedDocument]) -> impl Iterator<Item = usize> {
    let sheets = runs.iter().flat_map(PagedDocument::pages).enumerate();
    sheets.flat_map(|(i, sheet)| std::iter::repeat_n(i + 1, titles(&sheet.frame)))
}

/// Templates as the typesetter has read them.
fn parsed(templates: &[(&'static str, &str)]) -> impl Iterator<Item = Source> {
    templates.iter().map(|(path, text)| source(path, text))
}

/// A template that is read once: a class may be thirty booklets.
fn source(path: &str, text: &str) -> Source {
    static READ: Mutex<BTreeMap<String, Source>> = Mutex::new(BTreeMap::new());
    let mut read = READ.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(known) = read.get(path).filter(|known| known.text() == text) {
        return known.clone();
    }
    let new = (path, text).into_source();
    read.insert(path.into(), new.clone());
    new
}

/// A typesetter that knows some files and templates.
type Press = TypstEngine;

fn engine<'a>(
    files: impl IntoIterator<Item = (String, &'a [u8])>,
    sources: impl IntoIterator<Item = Source>,
) -> Press {
    let files: Vec<_> = files.into_iter().collect();
    TypstEngine::builder()
        .with_static_source_file_resolver(sources)
        .with_static_file_resolver(files.iter().map(|(path, bytes)| (path.as_str(), *bytes)))
        .fonts(fonts())
        // What another thread is at work with is not forgotten under its hands.
        .comemo_evict_max_age(None)
        .build()
}

/// Sets what stands in the template at `path`.
fn set(press: &Press, path: &str) -> Result<PagedDocument, Vec<String>> {
    let set = press.with_world(path, |world| {
        let compiled = typst::compile::<PagedDocument>(world);
        let place = |d: &SourceDiagnostic| complaint(world, d);
        if !compiled.warnings.is_empty() {
            return Err(compiled.warnings.iter().map(place).collect());
        }
        compiled.output.map_err(|e| e.iter().map(place).collect())
    });
    set.unwrap_or_else(|e: TypstAsLibError| Err(vec![e.to_string()]))
}

/// A document as PDF; complaints are placed in the templates that `path` knows.
fn export(
    press: &Press,
    path: &str,
    document: &PagedDocument,
    options: &PdfOptions,
) -> Result<Vec<u8>, Vec<String>> {
    let bytes = press.with_world(path, |world| {
        let place = |d: &SourceDiagnostic| complaint(world, d);
        typst_pdf::pdf(document, options).map_err(|e| e.iter().map(place).collect())
    });
    bytes.unwrap_or_else(|e: TypstAsLibError| Err(vec![e.to_string()]))
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
