//! A booklet read back by a library that did not write it: tags, headings, tables, figures,
//! bookmarks, fonts, language, and what it carries. `tests/reference/check_pdf.py` looks further.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use binleaf::booklet::block::letters;
use binleaf::run;
use binleaf::write::{carry, pdf, typst};
use pdf_extract::{Dictionary, Document, Object, ObjectId};

/// A booklet and the pages of its tags.
struct Paper {
    name: String,
    /// Titles of its pages.
    titles: Vec<String>,
    /// What stands on each sheet.
    sheets: Vec<String>,
    document: Document,
    pages: BTreeMap<ObjectId, usize>,
}

/// A tag: its kind, its dictionary, and where its first letters stand (page, mark).
type Tag<'a> = (String, &'a Dictionary, Option<(usize, i64)>);

impl Paper {
    fn of(name: String, text: String) -> Self {
        let booklet = run::work(text, &name).booklet().unwrap().unwrap();
        let bytes = pdf::render(&typst::write(&booklet), &run::LOOK).unwrap();
        let document = Document::load_mem(&bytes).unwrap();
        let pages = document.page_iter().enumerate().map(|(n, id)| (id, n)).collect();
        let titles = booklet.pages.iter().map(|page| letters(&page.title)).collect();
        let sheets = pdf_extract::extract_text_from_mem_by_pages(&bytes).unwrap();
        Self { name, titles, sheets, document, pages }
    }

    fn get<'a>(&'a self, dict: &'a Dictionary, key: &str) -> Option<&'a Object> {
        self.document.dereference(dict.get(key.as_bytes()).ok()?).ok().map(|(_, object)| object)
    }

    fn dict<'a>(&'a self, dict: &'a Dictionary, key: &str) -> &'a Dictionary {
        let found = self.get(dict, key).and_then(|object| object.as_dict().ok());
        found.unwrap_or_else(|| panic!("{}: no {key}", self.name))
    }

    fn words(&self, dict: &Dictionary, key: &str) -> String {
        self.get(dict, key)
            .map_or(String::new(), |text| pdf_extract::decode_text_string(text).unwrap_or_default())
    }

    fn kids<'a>(&'a self, element: &'a Dictionary) -> Vec<&'a Object> {
        let all = match self.get(element, "K") {
            Some(Object::Array(kids)) => kids.iter().collect(),
            Some(kid) => vec![kid],
            None => Vec::new(),
        };
        all.into_iter().map(|kid| self.document.dereference(kid).unwrap().1).collect()
    }

    fn page(&self, element: &Dictionary) -> Option<usize> {
        let page = element.get(b"Pg").ok()?.as_reference().ok()?;
        self.pages.get(&page).copied()
    }

    /// All tags below an element, in reading order.
    fn tags<'a>(&'a self, element: &'a Dictionary, into: &mut Vec<Tag<'a>>) {
        let own = into.len().checked_sub(1);
        for kid in self.kids(element) {
            let at = |page: Option<usize>, mark: i64| page.map(|page| (page, mark));
            let first = if let Object::Integer(mark) = kid {
                at(self.page(element), *mark)
            } else if let Object::Dictionary(kid) = kid {
                if let Ok(mark) = kid.get(b"MCID") {
                    at(self.page(kid).or(self.page(element)), mark.as_i64().unwrap())
                } else if let Ok(kind) = kid.get(b"S") {
                    let kind = String::from_utf8_lossy(kind.as_name().unwrap()).into_owned();
                    let here = into.len();
                    into.push((kind, kid, None));
                    self.tags(kid, into);
                    into[here].2
                } else {
                    None
                }
            } else {
                None
            };
            if let Some(own) = own.filter(|own| into[*own].2.is_none()) {
                into[own].2 = first;
            }
        }
    }
}

/// Every plan on paper, typeset once for all tests here.
static PAPERS: LazyLock<Vec<Paper>> = LazyLock::new(|| {
    crate::good_plans().into_iter().map(|(name, text)| Paper::of(name, text)).collect()
});

fn all(check: impl Fn(&Paper)) {
    PAPERS.iter().for_each(check);
}

#[test]
fn a_screen_reader_finds_its_way() {
    all(|paper| {
        let name = &paper.name;
        let root = paper.document.catalog().unwrap();
        assert_eq!(paper.words(root, "Lang"), "en", "{name}");
        let shown = paper.dict(root, "ViewerPreferences").get(b"DisplayDocTitle");
        assert!(shown.unwrap().as_bool().unwrap(), "{name}: the title is not shown");
        assert!(paper.dict(root, "MarkInfo").get(b"Marked").unwrap().as_bool().unwrap());
        let mut tags = Vec::new();
        paper.tags(paper.dict(root, "StructTreeRoot"), &mut tags);
        let count = |kind: &str| tags.iter().filter(|t| t.0 == kind).count();
        assert!(count("Figure") > 0 && count("Table") > 0 && count("H1") > 0, "{name}");
        for (_, figure, _) in tags.iter().filter(|t| t.0 == "Figure") {
            assert!(!paper.words(figure, "Alt").is_empty(), "{name}: a figure has no words");
        }
        for (_, table, _) in tags.iter().filter(|t| t.0 == "Table") {
            let mut inside = Vec::new();
            paper.tags(table, &mut inside);
            assert!(inside.iter().any(|t| t.0 == "TH"), "{name}: a table has no head");
        }
        let level = |kind: &str| kind.strip_prefix('H').and_then(|n| n.parse::<u8>().ok());
        let heads: Vec<_> =
            tags.iter().filter_map(|t| Some((level(&t.0)?, t.2.unwrap()))).collect();
        assert_eq!(heads[0].0, 1, "{name}");
        for pair in heads.windows(2) {
            assert!(pair[1].0 <= pair[0].0 + 1, "{name}: a heading jumps: {pair:?}");
            assert!(pair[1].1 > pair[0].1, "{name}: headings are out of order: {pair:?}");
        }
    });
}

#[test]
fn bookmarks_lead_to_every_heading_and_fonts_are_inside() {
    all(|paper| {
        let name = &paper.name;
        let root = paper.document.catalog().unwrap();
        let mut tags = Vec::new();
        paper.tags(paper.dict(root, "StructTreeRoot"), &mut tags);
        let heads = tags.iter().filter(|t| ["H1", "H2", "H3"].contains(&t.0.as_str())).count();
        let dicts = || paper.document.objects.values().filter_map(|o| o.as_dict().ok());
        let marks: Vec<_> = dicts().filter(|d| d.has(b"Dest") && d.has(b"Title")).collect();
        assert_eq!(marks.len(), heads, "{name}");
        assert!(marks.iter().all(|m| !paper.words(m, "Title").is_empty()), "{name}");
        let fonts: Vec<_> = dicts().filter(|d| d.has_type(b"FontDescriptor")).collect();
        assert!(fonts.len() > 1, "{name}");
        for font in fonts {
            let inside = font.has(b"FontFile2") || font.has(b"FontFile3");
            assert!(inside, "{name}: {:?} is not inside", font.get(b"FontName"));
        }
    });
}

#[test]
fn what_it_carries_says_what_it_is() {
    all(|paper| {
        let files = paper.get(paper.document.catalog().unwrap(), "AF").unwrap();
        let files = files.as_array().unwrap().iter().map(|file| {
            let file = paper.document.dereference(file).unwrap().1.as_dict().unwrap();
            let relation = file.get(b"AFRelationship").unwrap().as_name().unwrap();
            assert!(!paper.words(file, "Desc").is_empty());
            (paper.words(file, "UF"), String::from_utf8_lossy(relation).into_owned())
        });
        let expected = [(carry::PLAN, "Source"), (carry::RESULTS, "Data")];
        let expected: Vec<_> = expected.map(|(n, r)| (n.to_string(), r.to_string())).into();
        assert_eq!(files.collect::<Vec<_>>(), expected, "{}", paper.name);
    });
}

/// Each page is listed, with the sheet that its bookmark leads to.
#[test]
fn the_contents_say_where_pages_are() {
    all(|paper| {
        let name = &paper.name;
        let dense = |text: &str| text.split_whitespace().collect::<String>();
        // In large letters the list goes on.
        let list = dense(&paper.sheets[..4].concat());
        let dicts = || paper.document.objects.values().filter_map(|o| o.as_dict().ok());
        let mut seen = 0;
        for title in &paper.titles {
            // Two pages of the same name would both be found.
            // A name keeps its number on its line.
            let titled = |d: &&Dictionary| paper.words(d, "Title").replace('\u{a0}', " ") == *title;
            let of_title = dicts().filter(|d| d.has(b"Dest")).filter(titled);
            for mark in of_title {
                let place = paper.get(mark, "Dest").unwrap().as_array().unwrap();
                let sheet = 1 + paper.pages[&place[0].as_reference().unwrap()];
                let line = format!("{}{sheet}", dense(title));
                assert!(list.contains(&line), "{name}: {title} on sheet {sheet}: {list}");
                seen += 1;
            }
        }
        assert!(seen >= paper.titles.len(), "{name}: {seen} of {}", paper.titles.len());
        let links = dicts()
            .filter(|d| d.get(b"Subtype").is_ok_and(|s| s.as_name().is_ok_and(|n| n == b"Link")));
        assert!(links.count() >= paper.titles.len(), "{name}: the list leads nowhere");
    });
}
