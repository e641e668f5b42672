//! A booklet that comes back: the plan and the results its PDF carries.
//!
//! The file comes from a stranger. So that no file can cost more than its own size, only what
//! leads to the carried files is looked at, in windows of a fixed size: the table of objects, the
//! catalogue, its associated files. The library parses what is in a window; it never follows a
//! reference, mends a table or unpacks anything. Names in the file are compared, never used.

mod table;

use std::collections::BTreeMap;

use hayro_syntax::object::{Dict, FromBytes, MaybeRef, Name, ObjRef, Object};
use miniz_oxide::inflate::{TINFLStatus, decompress_to_vec_zlib_with_limit};

use crate::booklet::own;
use crate::finding::{Finding, Severity};
use crate::plan;
use crate::write::carry;
use table::Table;

/// The longest booklet that is read (bytes).
pub const LONGEST: usize = 64_000_000;
/// The longest results that are read (bytes).
pub const LONGEST_RESULTS: usize = 32_000_000;
/// The longest pages that are read (bytes): as many as may be, every letter spelt out.
pub const LONGEST_PAGES: usize = 6 * own::MOST * own::LONGEST;
/// The longest object that is looked at (bytes), how deep it may be nested, and the most files.
const WINDOW: usize = 16_384;
const DEEPEST: usize = 32;
const MOST_FILES: usize = 16;

/// What a booklet carries.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Carried {
    /// The text of its plan.
    pub plan: String,
    /// Its results as JSON, if they are there.
    pub results: Option<String>,
    /// Pages of their own by name, each a name that a page may have.
    pub pages: BTreeMap<String, String>,
}

/// Why a booklet gives nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fault {
    Broken,
    Locked,
    Resaved,
    Bare,
    TooBig,
}

/// Reads what a booklet carries.
///
/// # Errors
/// What is wrong with the file and what to do.
pub fn carried(bytes: &[u8]) -> Result<Carried, Finding> {
    look(bytes).map_err(finding)
}

fn look(bytes: &[u8]) -> Result<Carried, Fault> {
    let table = Table::read(bytes)?;
    let book = Book { bytes, table };
    let files = book.files()?;
    let Some(plan) = files.iter().find(|f| f.0 == carry::PLAN.as_bytes()) else {
        return Err(Fault::Bare);
    };
    let plan = text(book.stream(plan.1, plan::LONGEST)?)?;
    let results = files.iter().find(|f| f.0 == carry::RESULTS.as_bytes());
    let results = results.map(|f| text(book.stream(f.1, LONGEST_RESULTS)?)).transpose()?;
    let pages = files.iter().find(|f| f.0 == carry::PAGES.as_bytes());
    let pages = pages.map(|f| pages_of(&text(book.stream(f.1, LONGEST_PAGES)?)?)).transpose()?;
    Ok(Carried { plan, results, pages: pages.unwrap_or_default() })
}

/// Pages by name: only what could be a folder of pages.
fn pages_of(json: &str) -> Result<BTreeMap<String, String>, Fault> {
    let pages: BTreeMap<String, String> = serde_json::from_str(json).map_err(|_| Fault::Broken)?;
    let fits = |(name, page): (&String, &String)| own::is_name(name) && page.len() <= own::LONGEST;
    if pages.len() <= own::MOST && pages.iter().all(fits) { Ok(pages) } else { Err(Fault::TooBig) }
}

fn text(bytes: Vec<u8>) -> Result<String, Fault> {
    let text = String::from_utf8(bytes).map_err(|_| Fault::Broken)?;
    if text.contains('\0') { Err(Fault::Broken) } else { Ok(text) }
}

/// A booklet and where its objects stand.
struct Book<'a> {
    bytes: &'a [u8],
    table: Table<'a>,
}

impl<'a> Book<'a> {
    /// Names of the associated files and the objects they are in.
    fn files(&self) -> Result<Vec<(Vec<u8>, u32)>, Fault> {
        let root = self.table.root.ok_or(Fault::Broken)?;
        let root: Dict<'_> = parse(self.object(root)?.0)?;
        let all = self.get(&root, "AF")?.and_then(Object::into_array).ok_or(Fault::Bare)?;
        let mut files = Vec::new();
        for entry in all.raw_iter().take(MOST_FILES) {
            let MaybeRef::Ref(at) = entry else { continue };
            let file: Dict<'_> = parse(self.object(number(at)?)?.0)?;
            let name = self.get(&file, "F")?.and_then(Object::into_string);
            let held = self.get(&file, "EF")?.and_then(Object::into_dict);
            let held = held.and_then(|held| held.get_ref("F"));
            if let (Some(name), Some(held)) = (name, held) {
                files.push((name.as_ref().to_vec(), number(held)?));
            }
        }
        Ok(files)
    }

    /// What stands under a key, or in the object it points at.
    fn get(&self, dict: &Dict<'a>, key: &str) -> Result<Option<Object<'a>>, Fault> {
        match dict.get_raw::<Object<'_>>(key) {
            None => Ok(None),
            Some(MaybeRef::NotRef(value)) => Ok(Some(value)),
            Some(MaybeRef::Ref(at)) => parse(self.object(number(at)?)?.0).map(Some),
        }
    }

    /// The words of an object, up to its end or its stream, and where they end.
    fn object(&self, number: u32) -> Result<(&'a [u8], usize), Fault> {
        let start = self.table.place(number).ok_or(Fault::Broken)?;
        let start = table::header(self.bytes, start, number).ok_or(Fault::Broken)?;
        let window = self.bytes.get(start..).ok_or(Fault::Broken)?;
        let window = &window[..window.len().min(WINDOW)];
        let ends = [b"endobj".as_slice(), b"stream"];
        let end = ends.iter().filter_map(|word| table::find(window, word)).min();
        let end = end.ok_or(Fault::Broken)?;
        Ok((&window[..end], start + end))
    }

    /// The contents of a stream, of at most `longest` bytes.
    fn stream(&self, object: u32, longest: usize) -> Result<Vec<u8>, Fault> {
        let (words, end) = self.object(object)?;
        let dict: Dict<'_> = parse(words)?;
        let params = self.get(&dict, "Params")?.and_then(Object::into_dict);
        if params.and_then(|p| p.get::<u32>("Size")).is_some_and(|size| size as usize > longest) {
            return Err(Fault::TooBig);
        }
        let length = self.get(&dict, "Length")?.and_then(Object::into_i32);
        let length = length.and_then(|l| usize::try_from(l).ok()).ok_or(Fault::Broken)?;
        let rest = self.bytes.get(end..).ok_or(Fault::Broken)?;
        let rest = rest.strip_prefix(b"stream").ok_or(Fault::Broken)?;
        let rest = rest.strip_prefix(b"\r").unwrap_or(rest);
        let rest = rest.strip_prefix(b"\n").ok_or(Fault::Broken)?;
        let data = rest.get(..length).ok_or(Fault::Broken)?;
        if dict.contains_key("DecodeParms") {
            return Err(Fault::Resaved);
        }
        if !dict.contains_key("Filter") {
            return if length > longest { Err(Fault::TooBig) } else { Ok(data.to_vec()) };
        }
        match dict.get::<Name<'_>>("Filter") {
            Some(filter) if filter.as_ref() == b"FlateDecode" => inflate(data, longest),
            _ => Err(Fault::Resaved),
        }
    }
}

fn inflate(data: &[u8], longest: usize) -> Result<Vec<u8>, Fault> {
    decompress_to_vec_zlib_with_limit(data, longest).map_err(|e| {
        if e.status == TINFLStatus::HasMoreOutput { Fault::TooBig } else { Fault::Broken }
    })
}

fn number(at: ObjRef) -> Result<u32, Fault> {
    u32::try_from(at.obj_number).map_err(|_| Fault::Broken)
}

/// Parses the words of one object. The library calls itself for what is nested, so that is
/// counted first.
fn parse<'a, T: FromBytes<'a>>(words: &'a [u8]) -> Result<T, Fault> {
    let mut depth = 0_usize;
    for byte in words {
        match byte {
            b'[' | b'<' | b'(' => depth += 1,
            b']' | b'>' | b')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth > DEEPEST {
            return Err(Fault::Broken);
        }
    }
    T::from_bytes(words.trim_ascii()).ok_or(Fault::Broken)
}

fn finding(fault: Fault) -> Finding {
    let (code, message, help) = match fault {
        Fault::Broken => (
            "booklet-broken",
            "this is no PDF, or a broken one",
            "give the file that `binleaf make` wrote, whole: copy or download it again",
        ),
        Fault::Locked => (
            "booklet-locked",
            "this PDF is locked with a password or a permission",
            "give the file as `binleaf make` wrote it, before it was locked",
        ),
        Fault::Resaved => (
            "booklet-resaved",
            "this PDF was written anew by another program, in a way that is not read here",
            "give the file as `binleaf make` wrote it; or open it in a PDF reader and save its \
             attachment plan.toml",
        ),
        Fault::Bare => (
            "booklet-bare",
            "this PDF carries no plan",
            "only a grower's booklet carries one, as `binleaf make` wrote it: sheets for pupils, \
             keys, the rest of a season, booklets to fold and printed copies do not",
        ),
        Fault::TooBig => (
            "booklet-too-big",
            "what this PDF carries is bigger than any plan",
            "it is no booklet of binleaf; do not open its attachments",
        ),
    };
    Finding::new(Severity::Error, code, message, help)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_could_be_a_folder_of_pages_is_taken() {
        assert_eq!(pages_of("{\"rota\": \"# Rota\"}").unwrap()["rota"], "# Rota");
        for bad in ["../rota", "ro/ta", "", "Rota", "rota.md", "C:rota"] {
            let json = serde_json::to_string(&BTreeMap::from([(bad, "# Rota")])).unwrap();
            assert_eq!(pages_of(&json), Err(Fault::TooBig), "{bad}");
        }
        for broken in ["", "[]", "{\"a\": 1}", "{"] {
            assert_eq!(pages_of(broken), Err(Fault::Broken), "{broken}");
        }
        let many: BTreeMap<String, String> =
            (0..=own::MOST).map(|i| (format!("p{i}"), String::new())).collect();
        let json = serde_json::to_string(&many).unwrap();
        assert_eq!(pages_of(&json), Err(Fault::TooBig));
        let long = format!("{{\"a\": \"{}\"}}", "x".repeat(own::LONGEST + 1));
        assert_eq!(pages_of(&long), Err(Fault::TooBig));
    }
}
