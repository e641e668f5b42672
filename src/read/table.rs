//! Where the objects of a PDF stand: its tables of objects, the newest first.

use hayro_syntax::object::Dict;

use super::{Fault, WINDOW, number, parse};

/// The most tables (a reader that saves a remark adds one) and the most parts of all of them.
const MOST_TABLES: usize = 16;
const MOST_PARTS: usize = 1024;
/// Bytes of an entry: offset, generation, in use or free.
const ENTRY: usize = 20;

/// Where objects stand.
pub(super) struct Table<'a> {
    bytes: &'a [u8],
    parts: Vec<Part>,
    /// The object of the catalogue.
    pub(super) root: Option<u32>,
}

/// Entries of objects that follow each other.
struct Part {
    first: usize,
    count: usize,
    at: usize,
}

impl<'a> Table<'a> {
    pub(super) fn read(bytes: &'a [u8]) -> Result<Self, Fault> {
        if !bytes.starts_with(b"%PDF-") {
            return Err(Fault::Broken);
        }
        let tail = bytes.len().saturating_sub(2048);
        let start = find_last(&bytes[tail..], b"startxref").ok_or(Fault::Broken)?;
        let mut at = tail + start + b"startxref".len();
        let mut next = digits(bytes, &mut at);
        let mut table = Self { bytes, parts: Vec::new(), root: None };
        for _ in 0..MOST_TABLES {
            let Some(at) = next else { break };
            next = table.add(at)?;
        }
        Ok(table)
    }

    /// Adds the table at `at` and returns where an earlier one is.
    fn add(&mut self, mut at: usize) -> Result<Option<usize>, Fault> {
        let bytes = self.bytes;
        let rest = bytes.get(at..).ok_or(Fault::Broken)?;
        if !rest.starts_with(b"xref") {
            // A newer form of table, packed; binleaf writes the plain one.
            let packed = rest.first().is_some_and(u8::is_ascii_digit);
            return Err(if packed { Fault::Resaved } else { Fault::Broken });
        }
        at += b"xref".len();
        while let Some(first) = digits(bytes, &mut at) {
            let count = digits(bytes, &mut at).ok_or(Fault::Broken)?;
            skip_space(bytes, &mut at);
            if self.parts.len() >= MOST_PARTS || count > bytes.len() / ENTRY {
                return Err(Fault::Broken);
            }
            self.parts.push(Part { first, count, at });
            at += count * ENTRY;
        }
        skip_space(bytes, &mut at);
        let rest = bytes.get(at..).and_then(|rest| rest.strip_prefix(b"trailer"));
        let rest = rest.ok_or(Fault::Broken)?;
        let window = &rest[..rest.len().min(WINDOW)];
        let end = find(window, b"startxref").ok_or(Fault::Broken)?;
        let trailer: Dict<'_> = parse(&window[..end])?;
        if trailer.contains_key("Encrypt") {
            return Err(Fault::Locked);
        }
        if trailer.contains_key("XRefStm") {
            return Err(Fault::Resaved);
        }
        if self.root.is_none() {
            self.root = Some(number(trailer.get_ref("Root").ok_or(Fault::Broken)?)?);
        }
        Ok(trailer.get::<u32>("Prev").map(|at| at as usize))
    }

    /// Where an object stands, by the newest table that knows it.
    pub(super) fn place(&self, object: u32) -> Option<usize> {
        let object = object as usize;
        let holds = |p: &&Part| p.first <= object && object - p.first < p.count;
        let part = self.parts.iter().find(holds)?;
        let mut at = part.at + (object - part.first) * ENTRY;
        let used = self.bytes.get(at + 17) == Some(&b'n');
        digits(self.bytes, &mut at).filter(|_| used)
    }
}

/// Where the words of an object begin, after "12 0 obj".
pub(super) fn header(bytes: &[u8], mut at: usize, object: u32) -> Option<usize> {
    let same = digits(bytes, &mut at)? == object as usize;
    digits(bytes, &mut at)?;
    skip_space(bytes, &mut at);
    let word = bytes.get(at..)?.starts_with(b"obj");
    (same && word).then_some(at + b"obj".len())
}

/// Reads a whole number after white space and steps over it; stays if there is none.
fn digits(bytes: &[u8], at: &mut usize) -> Option<usize> {
    let mut end = *at;
    skip_space(bytes, &mut end);
    let digits = bytes.get(end..)?.iter().take(10).take_while(|b| b.is_ascii_digit());
    let mut value = None;
    for digit in digits {
        value = Some(value.unwrap_or(0_usize) * 10 + usize::from(digit - b'0'));
        end += 1;
    }
    *at = if value.is_some() { end } else { *at };
    value
}

/// Steps over a little white space.
fn skip_space(bytes: &[u8], at: &mut usize) {
    let rest = bytes.get(*at..).unwrap_or_default();
    *at += rest.iter().take(64).take_while(|b| b.is_ascii_whitespace()).count();
}

/// Where `needle` first stands.
pub(super) fn find(hay: &[u8], needle: &[u8]) -> Option<usize> {
    hay.windows(needle.len()).position(|w| w == needle)
}

fn find_last(hay: &[u8], needle: &[u8]) -> Option<usize> {
    hay.windows(needle.len()).rposition(|w| w == needle)
}
