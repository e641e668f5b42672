//! Files, read and written: the only module that touches them.
//!
//! Nothing is lost or half-written: a file is written beside its place and then renamed; a plan, or
//! a log that is there, is never written over.
#![expect(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    reason = "this module touches files"
)]

use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use crate::booklet::own::{self, Found};
use crate::write::crew::side_by_side;

/// A file to be: where, and what is in it.
pub(crate) type File = (PathBuf, Vec<u8>);

/// Reads a file of at most `longest` bytes, from standard input if `path` is `-`.
pub(crate) fn read_bytes(path: &Path, longest: usize, kind: &str) -> Result<Vec<u8>, String> {
    let name = path.display();
    let limit = longest as u64 + 1;
    let mut bytes = Vec::new();
    let read = if path == Path::new("-") {
        std::io::stdin().lock().take(limit).read_to_end(&mut bytes)
    } else {
        fs::File::open(path).and_then(|file| file.take(limit).read_to_end(&mut bytes))
    };
    read.map_err(|e| format!("{name}: cannot be read: {e}; check the name and who may read it"))?;
    if bytes.len() > longest {
        return Err(format!(
            "{name}: longer than {kind} can be ({longest} bytes); is it the right file?"
        ));
    }
    Ok(bytes)
}

/// Reads a text of at most `longest` bytes, from standard input if `path` is `-`.
pub(crate) fn read_text(path: &Path, longest: usize, kind: &str) -> Result<String, String> {
    let name = path.display();
    let bytes = read_bytes(path, longest, kind)?;
    let text = String::from_utf8(bytes).map_err(|_| {
        format!(
            "{name}: is not a text file in UTF-8; {kind} is written in a plain text editor, or saved \
             from a spreadsheet as CSV UTF-8"
        )
    })?;
    // A mark some editors put in front; it is no letter of the text.
    let text = text.strip_prefix('\u{FEFF}').map(str::to_string).unwrap_or(text);
    if text.contains('\0') {
        return Err(format!("{name}: is not a text file; it holds zero bytes"));
    }
    Ok(text)
}

/// Reads a folder of pages, in the order of their names. Links are not followed: a folder from a
/// stranger must not print what lies elsewhere.
pub(crate) fn read_pages(dir: &Path) -> Result<Vec<(String, Found)>, String> {
    let name = dir.display();
    let say = |e: std::io::Error| {
        format!("{name}: cannot be read: {e}; give the folder that your pages are in")
    };
    let mut found = Vec::new();
    // More than this is no folder of pages.
    for entry in fs::read_dir(dir).map_err(say)?.take(10 * own::MOST) {
        let entry = entry.map_err(say)?;
        let file = entry.file_name().to_string_lossy().into_owned();
        // Hidden files are what editors and systems leave; the other tells people of the folder.
        if !file.starts_with('.') && !file.eq_ignore_ascii_case("README.md") {
            let kind = entry.file_type().map_err(say)?;
            found.push((file, page(&entry.path(), kind)));
        }
    }
    found.sort_by(|a, b| a.0.cmp(&b.0));
    let pages = found.iter().filter(|(_, f)| !matches!(f, Found::Passed(_))).count();
    if pages > own::MOST {
        return Err(format!("{name}: holds more than {} pages; keep fewer", own::MOST));
    }
    Ok(found)
}

/// What a file of a folder of pages is.
fn page(path: &Path, kind: fs::FileType) -> Found {
    let meant = path.extension().is_some_and(|e| e.eq_ignore_ascii_case("md"));
    if !meant {
        return Found::Passed("does not end in .md");
    }
    if kind.is_symlink() {
        return Found::Unreadable("is a link to elsewhere", "put the page itself into the folder");
    }
    if !kind.is_file() {
        return Found::Unreadable("is no file", "a page is a text file; take this away");
    }
    let mut bytes = Vec::new();
    let limit = own::LONGEST as u64 + 1;
    let read = fs::File::open(path).and_then(|file| file.take(limit).read_to_end(&mut bytes));
    if read.is_err() {
        return Found::Unreadable("cannot be read", "look who may read it");
    }
    Found::page(bytes)
}

/// Writes files, having looked at all of them first, so that a refusal leaves nothing behind.
pub(crate) fn write_all(files: &[File], plan: &Path) -> Result<Vec<PathBuf>, Vec<String>> {
    let free: Vec<&File> =
        files.iter().filter(|(path, _)| !(is_log(path) && path.exists())).collect();
    for (path, _) in &free {
        may_write(path, plan).map_err(|e| vec![e])?;
    }
    let written = side_by_side(free.len(), |i| write_file(&free[i].0, &free[i].1));
    written.into_iter().collect::<Result<_, String>>().map_err(|e| vec![e])
}

/// Writes files that were taken out of a booklet: what is there and the same is left, what is
/// there and differs is never written over, and then nothing is written at all.
pub(crate) fn write_beside(files: &[File]) -> Result<Vec<PathBuf>, Vec<String>> {
    let mut missing = Vec::new();
    let mut refused = Vec::new();
    for (path, bytes) in files {
        if !path.exists() {
            missing.push((path, bytes));
        } else if !holds(path, bytes) {
            let name = path.display();
            refused.push(format!(
                "{name}: is already there and differs; it is left as it is; choose another --out"
            ));
        }
    }
    if !refused.is_empty() {
        return Err(refused);
    }
    for (path, bytes) in missing {
        write_file(path, bytes).map_err(|e| vec![e])?;
    }
    Ok(files.iter().map(|(path, _)| path.clone()).collect())
}

/// Whether this file holds just these bytes.
fn holds(path: &Path, bytes: &[u8]) -> bool {
    let Ok(file) = fs::File::open(path) else { return false };
    let mut there = Vec::new();
    let read = file.take(bytes.len() as u64 + 1).read_to_end(&mut there);
    read.is_ok() && there == bytes
}

/// Whether this is a log: one that is there may be filled in, so it is never written over.
fn is_log(path: &Path) -> bool {
    path.file_name().is_some_and(|n| n.to_string_lossy().ends_with("-log.csv"))
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
    let begun = Read::by_ref(&mut file).take(10).read_to_end(&mut bytes).is_ok();
    if begun && (bytes.starts_with(b"%PDF-") || bytes == b"<svg xmlns") {
        return Ok(());
    }
    let read = begun && file.read_to_end(&mut bytes).is_ok();
    let text = String::from_utf8_lossy(&bytes);
    if read && text.trim_end().lines().last().is_some_and(|l| l.starts_with("binleaf ")) {
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
    file.write_all(bytes).map_err(say)?;
    // A drawing is made again in a moment; a booklet should outlive a power cut.
    if path.extension().is_none_or(|e| e != "svg") {
        file.as_file().sync_all().map_err(say)?;
    }
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

/// Writes a new file, never over one that is there.
///
/// # Errors
/// One line: what could not be written and what to do.
pub(crate) fn new(path: &Path, text: &str) -> Result<(), String> {
    let name = path.display();
    let file = fs::OpenOptions::new().write(true).create_new(true).open(path);
    let written = file.and_then(|mut file| file.write_all(text.as_bytes()));
    written.map_err(|e| {
        if e.kind() == std::io::ErrorKind::AlreadyExists {
            format!("{name}: is already there and is left as it is; give another name")
        } else {
            format!("{name}: cannot be written: {e}; check the folder and who may write there")
        }
    })
}
