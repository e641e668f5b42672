//! From files to files: the only module that reads and writes them.
//!
//! Nothing is lost or half-written: a file is written beside its place and then renamed, and a
//! plan is never written over.
#![expect(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    reason = "this module touches files"
)]

use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::booklet::block::Block;
use crate::booklet::{Booklet, Grow, compose};
use crate::cli::Form;
use crate::compute::{Results, compute};
use crate::finding::{Finding, Findings, Severity};
use crate::library::Library;
use crate::plan::{self, Plan};
use crate::write::{markdown, numbers, svg, typst};

/// The plan that `binleaf new` writes.
pub const STARTER: &str = include_str!("../data/plans/starter.toml");

/// A plan as far as it could be worked.
#[derive(Debug)]
pub struct Worked {
    /// The plan text.
    pub text: String,
    /// What a person calls it: its path.
    pub name: String,
    /// What there is to say.
    pub findings: Vec<Finding>,
    /// The plan and its results, if nothing found is an error.
    pub done: Option<(Plan, Results)>,
    /// Short digest of the text.
    pub digest: String,
}

impl Worked {
    /// Whether something found stops the booklet.
    #[must_use]
    pub fn failed(&self) -> bool {
        self.done.is_none()
    }

    /// Composes the booklet.
    ///
    /// # Errors
    /// A fault in the page templates.
    #[must_use]
    pub fn booklet(&self) -> Option<Result<Booklet, String>> {
        let (plan, results) = self.done.as_ref()?;
        let (library, findings) = (Library::embedded(), self.findings.as_slice());
        Some(compose(&Grow { plan, results, library, findings, digest: &self.digest }))
    }
}

/// Reads, checks and computes a plan text.
#[must_use]
pub fn work(text: String, name: &str) -> Worked {
    let findings = Findings::default();
    let plan = plan::read(&text, &findings);
    let done = plan.map(|plan| {
        let results = compute(&plan, Library::embedded(), &findings);
        (plan, results)
    });
    let digest = digest(&text);
    Worked { name: name.into(), findings: findings.sorted(), done, digest, text }
}

fn digest(text: &str) -> String {
    let digest = Sha256::digest(text.as_bytes());
    let [a, b, c, d, ..] = *digest else { return String::new() };
    format!("{:08x}", u32::from_be_bytes([a, b, c, d]))
}

/// Reads the plan at `path`, or from standard input if it is `-`.
///
/// # Errors
/// One line: what could not be read and what to do.
pub fn read(path: &Path) -> Result<String, String> {
    let name = path.display();
    let too_long = || {
        format!(
            "{name}: longer than a plan can be ({} bytes); is it the right file?",
            plan::LONGEST
        )
    };
    let limit = plan::LONGEST as u64 + 1;
    let mut bytes = Vec::new();
    let read = if path == Path::new("-") {
        std::io::stdin().lock().take(limit).read_to_end(&mut bytes)
    } else {
        fs::File::open(path).and_then(|file| file.take(limit).read_to_end(&mut bytes))
    };
    read.map_err(|e| format!("{name}: cannot be read: {e}; check the name and who may read it"))?;
    if bytes.len() > plan::LONGEST {
        return Err(too_long());
    }
    let text = String::from_utf8(bytes).map_err(|_| {
        format!("{name}: is not a text file; a plan is written in a plain text editor")
    })?;
    // A mark some editors put in front; it is no letter of the plan.
    let text = text.strip_prefix('\u{FEFF}').map(str::to_string).unwrap_or(text);
    if text.contains('\0') {
        return Err(format!("{name}: is not a text file; it holds zero bytes"));
    }
    Ok(text)
}

/// Makes the booklet of one plan and returns the files written.
///
/// # Errors
/// One line each: a file that could not be written, or a fault of the typesetter.
pub fn make(worked: &mut Worked, forms: &[Form], dir: &Path) -> Result<Vec<PathBuf>, Vec<String>> {
    let Some(booklet) = worked.booklet() else { return Ok(Vec::new()) };
    let booklet = booklet.map_err(|e| vec![e])?;
    let stem = stem(&worked.name);
    let mut files: Vec<(PathBuf, Vec<u8>)> = Vec::new();
    if forms.contains(&Form::Md) {
        let folder = format!("{stem}-drawings");
        let text = markdown::write(&booklet, &format!("{}/", linked(&folder)));
        for drawing in drawings(&booklet) {
            let path = dir.join(&folder).join(format!("{}.svg", drawing.name));
            files.push((path, svg::write(drawing).into_bytes()));
        }
        files.push((dir.join(format!("{stem}.md")), text.into_bytes()));
    }
    if forms.contains(&Form::Pdf) {
        let bytes = pdf(&booklet).map_err(|e| no_glyph(worked, e))?;
        files.push((dir.join(format!("{stem}.pdf")), bytes));
    }
    // All is looked at before anything is written, so that a refusal leaves nothing behind.
    for (path, _) in &files {
        may_write(path, Path::new(&worked.name)).map_err(|e| vec![e])?;
    }
    let write = |(path, bytes): &(PathBuf, Vec<u8>)| write_file(path, bytes);
    files.iter().map(write).collect::<Result<Vec<_>, _>>().map_err(|e| vec![e])
}

/// File name of a plan without its ending; "booklet" for standard input.
#[must_use]
pub fn stem(name: &str) -> String {
    let stem = Path::new(name).file_stem().map(|s| s.to_string_lossy().into_owned());
    stem.filter(|s| s != "-").unwrap_or_else(|| "booklet".into())
}

fn drawings(booklet: &Booklet) -> impl Iterator<Item = &crate::booklet::drawing::Drawing> {
    let blocks = booklet.pages.iter().flat_map(|p| &p.blocks);
    blocks.filter_map(|b| if let Block::Figure(drawing) = b { Some(drawing) } else { None })
}

/// Templates of the look of the booklet; the first is the entry.
pub const LOOK: [(&str, &str); 6] = [
    ("/booklet.typ", include_str!("../templates/booklet.typ")),
    ("/part/text.typ", include_str!("../templates/part/text.typ")),
    ("/part/block.typ", include_str!("../templates/part/block.typ")),
    ("/part/table.typ", include_str!("../templates/part/table.typ")),
    ("/part/worked.typ", include_str!("../templates/part/worked.typ")),
    ("/part/figure.typ", include_str!("../templates/part/figure.typ")),
];

#[cfg(feature = "pdf")]
fn pdf(booklet: &Booklet) -> Result<Vec<u8>, Vec<String>> {
    crate::write::pdf::render(&typst::write(booklet), &LOOK)
}

#[cfg(not(feature = "pdf"))]
fn pdf(booklet: &Booklet) -> Result<Vec<u8>, Vec<String>> {
    let _ = typst::write(booklet);
    Err(vec!["this binleaf was built without PDF; use --to md".into()])
}

/// If the typesetter complains of letters without a shape, points at them in the plan.
fn no_glyph(worked: &mut Worked, complaints: Vec<String>) -> Vec<String> {
    let shown = |c: &char| complaints.iter().any(|line| line.contains(*c));
    let strange: Vec<(usize, char)> =
        worked.text.char_indices().filter(|(_, c)| !c.is_ascii() && shown(c)).collect();
    if strange.is_empty() || !complaints.iter().any(|c| c.contains("font")) {
        return complaints;
    }
    for (at, c) in strange.into_iter().take(20) {
        let finding = Finding::new(
            Severity::Error,
            "no-glyph",
            format!("the booklet's fonts have no letter {c}"),
            "write it in Latin, Greek or Cyrillic letters; or make Markdown only: --to md",
        );
        worked.findings.push(finding.at(at..at + c.len_utf8(), "this letter"));
    }
    worked.done = None;
    Vec::new()
}

/// A name as a link of a web page spells it.
fn linked(name: &str) -> String {
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

/// Whether a booklet may be written here: over an earlier booklet, but over nothing else, least
/// of all a plan.
fn may_write(path: &Path, plan: &Path) -> Result<(), String> {
    let name = path.display();
    let same = fs::canonicalize(path).ok().zip(fs::canonicalize(plan).ok());
    if same.is_some_and(|(a, b)| a == b) {
        return Err(format!("{name}: would overwrite the plan; choose another --out"));
    }
    let drawings = |dir: &Path| dir.to_string_lossy().ends_with("-drawings");
    if path.parent().is_some_and(|dir| drawings(dir) && dir.is_symlink()) {
        return Err(format!("{name}: its folder is a link to elsewhere; choose another --out"));
    }
    let Ok(mut file) = fs::File::open(path) else { return Ok(()) };
    let mut bytes = Vec::new();
    // What cannot be read is not known to be a booklet.
    let read = file.read_to_end(&mut bytes).is_ok();
    let text = String::from_utf8_lossy(&bytes);
    let own = bytes.starts_with(b"%PDF-")
        || text.starts_with("<svg xmlns")
        || text.trim_end().lines().last().is_some_and(|l| l.starts_with("binleaf "));
    if read && own {
        return Ok(());
    }
    Err(format!(
        "{name}: is already there and is no booklet; it is left as it is; choose another --out"
    ))
}

/// Writes a file whole: beside its place, then renamed.
fn write_file(path: &Path, bytes: &[u8]) -> Result<PathBuf, String> {
    let name = path.display();
    let dir = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let say = |e: std::io::Error| {
        format!(
            "{name}: cannot be written: {e}; check the folder, who may write there, and the room left"
        )
    };
    fs::create_dir_all(dir).map_err(say)?;
    let mut file = tempfile::NamedTempFile::new_in(dir).map_err(say)?;
    file.write_all(bytes).and_then(|()| file.as_file().sync_all()).map_err(say)?;
    readable(file.as_file());
    file.persist(path).map_err(|e| say(e.error))?;
    Ok(path.to_path_buf())
}

/// A file of one's own is private until finished; a booklet may be read by others.
fn readable(file: &fs::File) {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // Whoever cannot change the mode still has the booklet.
        let _ = file.set_permissions(fs::Permissions::from_mode(0o644));
    }
    #[cfg(not(unix))]
    let _ = file;
}

/// Writes the starter plan, never over a file that is there.
///
/// # Errors
/// One line: what could not be written and what to do.
pub fn new(path: &Path) -> Result<(), String> {
    let name = path.display();
    let file = fs::OpenOptions::new().write(true).create_new(true).open(path);
    let written = file.and_then(|mut file| file.write_all(STARTER.as_bytes()));
    written.map_err(|e| {
        if e.kind() == std::io::ErrorKind::AlreadyExists {
            format!("{name}: is already there and is left as it is; give another name")
        } else {
            format!("{name}: cannot be written: {e}; check the folder and who may write there")
        }
    })
}

/// Every computed quantity as JSON.
///
/// # Errors
/// If a quantity is no number, which a test excludes.
pub fn numbers(worked: &Worked) -> Result<String, String> {
    let quantities = worked.done.as_ref().map_or(&[][..], |(_, results)| &results.quantities);
    numbers::write(&worked.digest, &worked.findings, &worked.text, quantities)
}
