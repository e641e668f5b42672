//! Pages of one's own: what is said about bad ones, what good ones become, and that no bytes make
//! them reach or grow.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use binleaf::booklet::block::{Block, letters};
use binleaf::booklet::own::{Found, Own};
use binleaf::booklet::{Grow, reference};
use binleaf::library::Library;
use binleaf::run::Worked;
use binleaf::write::markdown;
use binleaf::{club, run};
use proptest::prelude::*;

use crate::good_plans;

const PLAN: &str = include_str!("plans/pages.toml");

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The plan with these pages, by file name.
fn with(plan: &str, pages: &[(&str, &str)]) -> Worked {
    let found = pages.iter().map(|(n, t)| ((*n).to_string(), Found::page(t.as_bytes().to_vec())));
    run::work_with(plan.into(), "plan.toml", Own::read("pages", found.collect()))
}

fn codes(worked: &Worked) -> BTreeSet<&'static str> {
    let own = &worked.own;
    let all = own.pages.values().flat_map(|page| page.findings.sorted());
    let all = all.chain(own.findings.sorted()).map(|f| f.code);
    all.chain(worked.findings.iter().map(|f| f.code).filter(|c| *c == "own-safety")).collect()
}

/// Names of the bad folders.
pub(crate) fn bad() -> Vec<String> {
    let entries = std::fs::read_dir(root().join("tests/pages/bad")).unwrap();
    let mut names: Vec<String> = entries
        .map(|e| e.unwrap())
        .filter(|e| e.path().is_dir())
        .map(|e| e.file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

#[test]
fn every_bad_folder_says_what_is_wrong() {
    let bless = std::env::var_os("BINLEAF_BLESS").is_some();
    for code in bad() {
        let folder = root().join("tests/pages/bad").join(&code);
        let own = club::read(&folder).unwrap();
        let mut worked = run::work_with(PLAN.into(), "plan.toml", own);
        assert!(codes(&worked).contains(code.as_str()), "{code}: {:?}", codes(&worked));
        worked.findings.retain(|f| f.code == "own-safety");
        let said = club::said(&worked, false).replace(&folder.display().to_string(), "pages");
        let expected = folder.with_extension("txt");
        if bless {
            std::fs::write(&expected, &said).unwrap();
        }
        let expected = std::fs::read_to_string(&expected).unwrap_or_default();
        assert_eq!(said, expected, "what is said about {code} has changed");
        let notes = ["page-passed", "not-worked", "own-safety"].contains(&code.as_str());
        assert_eq!(worked.failed(), !notes, "{code}");
    }
}

#[test]
fn every_finding_of_a_page_stands_in_its_own_text() {
    for code in bad() {
        let own = club::read(&root().join("tests/pages/bad").join(&code)).unwrap();
        let worked = run::work_with(PLAN.into(), "plan.toml", own);
        for page in worked.own.pages.values() {
            for finding in page.findings.sorted() {
                let (place, _) = finding.label.clone().unwrap();
                assert!(page.text.get(place.clone()).is_some(), "{code}: {finding:?}");
                assert!(!finding.help.is_empty() && !finding.message.ends_with('.'), "{finding:?}");
            }
        }
    }
}

/// Letters of a page, its blocks' own words included.
fn words(blocks: &[Block]) -> String {
    let mut all = String::new();
    for block in blocks {
        match block {
            Block::Heading { text, .. } | Block::Paragraph { text } => all += &letters(text),
            Block::List { items, .. } => items.iter().for_each(|i| all += &words(i)),
            Block::Ticks { items } => items.iter().for_each(|i| all += &letters(i)),
            Block::Table(t) => t.rows.iter().flatten().for_each(|c| all += &letters(c)),
            Block::Alert { blocks, .. } => all += &words(blocks),
            Block::Labels { labels } => labels.iter().for_each(|l| all += &words(&l.blocks)),
            Block::Figure(_) | Block::Worked(_) | Block::Verbatim { .. } | Block::Lines { .. } => {}
        }
        all.push('\n');
    }
    all
}

#[test]
fn the_pages_of_a_club_stand_where_they_say() {
    let folder = root().join("data/pages/seed-shelf");
    let text = include_str!("../data/plans/shelf-totes.toml");
    let make = || {
        let worked = run::work_with(text.into(), "plan.toml", club::read(&folder).unwrap());
        assert!(!worked.failed(), "{}", club::said(&worked, false));
        worked.booklet().unwrap().unwrap()
    };
    let booklet = make();
    let ids: Vec<&str> = booklet.pages.iter().map(|p| p.id.as_str()).collect();
    assert_eq!(ids[..2], ["cover", "glance"]);
    let bins = ids.iter().filter(|id| **id == "bin").count();
    assert_eq!(ids.iter().filter(|id| **id == "card").count(), bins);
    let last = ids.iter().rposition(|id| *id == "bin").unwrap();
    assert_eq!(ids[last + 1], "card");
    let page = |id: &str| booklet.pages.iter().find(|p| p.id == id).unwrap();
    assert_eq!(letters(&page("glossary").title), "Words on our shelf");
    assert!(
        words(&page("card").blocks).contains("Upper tote")
            || letters(&page("card").title).contains("Upper tote")
    );
    let rota = page("cover").blocks.iter().filter_map(|block| {
        let Block::Table(table) = block else { return None };
        Some((table.rows.len(), table.row_height))
    });
    // A row for each bin and each week, high enough to write in.
    assert_eq!(rota.collect::<Vec<_>>(), [(bins, 8.0), (8, 8.0)]);
    // The foot tells these pages from others, and the same pages are the same bytes.
    let plain = run::work(text.into(), "plan.toml").booklet().unwrap().unwrap();
    assert!(booklet.digest.starts_with(&format!("{}, pages ", plain.digest)));
    assert_eq!(markdown::write(&booklet, "d/"), markdown::write(&make(), "d/"));
}

#[test]
fn our_own_pages_put_in_by_hand_make_the_same_booklet() {
    for (name, text) in good_plans() {
        let plain = run::work(text.clone(), &name).booklet().unwrap().unwrap();
        let pages: Vec<(String, &str)> = reference::names()
            .map(|id| (format!("{id}.md"), reference::text(id).unwrap()))
            .collect();
        let pages: Vec<(&str, &str)> = pages.iter().map(|(n, t)| (n.as_str(), *t)).collect();
        let worked = with(&text, &pages);
        assert!(!worked.failed(), "{name}: {}", club::said(&worked, false));
        assert_eq!(plain.pages.len(), worked.booklet().unwrap().unwrap().pages.len());
        // But for the foot and the page that prints it.
        let same = |pages: &[binleaf::booklet::folio::Page]| format!("{pages:?}");
        assert_eq!(same(&plain.pages), same(&worked.booklet().unwrap().unwrap().pages), "{name}");
    }
}

#[test]
fn the_plan_orders_pages_and_leaves_some_out() {
    let plan = format!(
        "{PLAN}\n[pages]\norder = [\"safety\", \"rota\", \"glance\"]\nleave-out = [\"chemistry\", \"plan\"]\n"
    );
    let rota = "---\nafter: trouble\n---\n# Rota\n\nWho and when.\n";
    let worked = with(&plan, &[("rota.md", rota)]);
    assert!(!worked.failed(), "{}", club::said(&worked, false));
    let booklet = worked.booklet().unwrap().unwrap();
    let ids: Vec<&str> = booklet.pages.iter().map(|p| p.id.as_str()).collect();
    assert_eq!(ids[..4], ["safety", "rota", "glance", "gather"]);
    assert!(!ids.contains(&"chemistry") && !ids.contains(&"plan"));
    // Without the folder the plan names a page that is not there.
    let alone = run::work(plan.clone(), "plan.toml");
    let said: Vec<&str> = alone.findings.iter().map(|f| f.code).collect();
    assert!(said.contains(&"unknown-page") && !alone.failed(), "{said:?}");
    assert!(with(&plan, &[("other.md", rota)]).failed(), "with a folder that has it not");
}

#[test]
fn a_page_of_ours_may_be_moved() {
    let text = format!("---\nafter: glance\n---\n{}", reference::text("glossary").unwrap());
    let booklet = with(PLAN, &[("glossary.md", &text)]).booklet().unwrap().unwrap();
    let ids: Vec<&str> = booklet.pages.iter().map(|p| p.id.as_str()).collect();
    assert_eq!(ids[..2], ["glance", "glossary"]);
    assert_eq!(ids.iter().filter(|id| **id == "glossary").count(), 1);
}

#[test]
fn plan_text_stays_letters_on_a_page() {
    let plan = PLAN.replace("title = \"Two totes\"", "title = \"{{ sown }} **a** <b> {% x %}\"");
    let page = "---\nafter: glance\n---\n# T\n\n{{ title }}\n\n{{ title | upper }}\n";
    let booklet = with(&plan, &[("t.md", page)]).booklet().unwrap().unwrap();
    let own = booklet.pages.iter().find(|p| p.id == "t").unwrap();
    let said = words(&own.blocks);
    assert_eq!(
        said.lines().collect::<Vec<_>>(),
        ["{{ sown }} **a** <b> {% x %}", "{{ SOWN }} **A** <B> {% X %}"]
    );
}

#[test]
fn the_reference_names_all_that_pages_get() {
    for (name, text) in good_plans() {
        let worked = run::work(text, &name);
        let (plan, results) = worked.done.as_ref().unwrap();
        let (library, findings) = (Library::embedded(), worked.findings.as_slice());
        let grow = Grow { plan, results, library, findings, digest: &worked.digest };
        let drift = reference::drift(&grow);
        assert!(drift.is_empty(), "{name}: add to src/booklet/words_of.rs: {drift:?}");
    }
}

#[test]
fn the_reference_kept_is_the_reference_made() {
    let path = root().join("data/pages/reference.md");
    let made = club::reference(true).unwrap();
    if std::env::var_os("BINLEAF_BLESS").is_some() {
        std::fs::write(&path, &made).unwrap();
    }
    assert_eq!(std::fs::read_to_string(&path).unwrap_or_default(), made);
}

/// One page of each kind with all that the reference says it may use.
#[test]
fn every_value_and_block_of_the_reference_can_be_used() {
    let example = run::work(include_str!("../data/plans/shelf-totes.toml").into(), "plan.toml");
    let (plan, results) = example.done.as_ref().unwrap();
    let (library, findings) = (Library::embedded(), example.findings.as_slice());
    let grow = Grow { plan, results, library, findings, digest: "" };
    let sections = reference::reference(&grow);
    for (kind, place, groups) in [
        ("once", "every page", &[][..]),
        ("each bin", "for each bin", &["bin"]),
        ("each solution", "for each solution", &["mix", "ph"]),
    ] {
        let mut page = vec![format!("---\nafter: glance\nfor: {kind}\n---\n# T")];
        for [name, _, example] in &sections[1].rows {
            let group = name.split(['.', '[']).next().unwrap();
            let write = |name: &str| match example.as_str() {
                "yes" | "no" => format!("{{% if {name} %}}yes{{% endif %}}"),
                _ => format!("{{{{ {name} }}}}"),
            };
            let looped = |list: &str, name: &str| {
                format!("{{% for one in {list} %}}{}{{% endfor %}}", write(name))
            };
            if let Some((list, rest)) = name.split_once("[]") {
                page.push(looped(list, &format!("one{rest}")));
            } else if group == "loop" {
                page.push(looped("bins", name));
            } else if groups.contains(&group) || !["bin", "mix", "ph"].contains(&group) {
                page.push(write(name));
            }
        }
        let called = sections[2].rows.iter().chain(&sections[3].rows);
        let called = called.filter(|[_, _, on]| on == place || on == "every page");
        page.extend(called.map(|[call, _, _]| format!("{{{{ {call} }}}}")));
        page.extend(sections[4].rows.iter().map(|[_, _, written]| written.clone()));
        // Lines to the end of the sheet stand last.
        page.sort_by_key(|written| written.contains("write_to_end"));
        let page = page.join("\n\n");
        let worked = with(&plan.text, &[("t.md", &page)]);
        assert!(codes(&worked).is_empty(), "{}", club::said(&worked, false));
        let booklet = worked.booklet().unwrap().unwrap();
        assert!(booklet.pages.iter().filter(|p| p.id == "t").all(|p| p.blocks.len() > 80));
    }
}

#[cfg(unix)]
#[test]
fn links_and_odd_files_are_said_and_not_followed() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    std::fs::write(at("secret.txt"), "# Secret\n\nkeep\n").unwrap();
    std::os::unix::fs::symlink(at("secret.txt"), at("glossary.md")).unwrap();
    std::fs::create_dir(at("trouble.md")).unwrap();
    std::fs::write(at("notes.md"), vec![b'x'; 70_000]).unwrap();
    std::fs::write(at(".hidden.md"), "# Hidden\n").unwrap();
    std::fs::write(at("a b.md"), "# Space\n").unwrap();
    std::fs::write(at("new\nline.md"), "# Line\n").unwrap();
    let made = std::process::Command::new("mkfifo").arg(at("pipe.md")).status();
    let worked = run::work_with(PLAN.into(), "plan.toml", club::read(folder.path()).unwrap());
    assert!(worked.failed() && worked.own.pages.is_empty());
    let said = club::said(&worked, false);
    for wanted in [
        "glossary.md is a link",
        "trouble.md is no file",
        "notes.md is longer",
        "a b.md cannot",
        "new\\nline.md cannot",
    ] {
        assert!(said.contains(wanted), "{wanted}: {said}");
    }
    assert!(!made.is_ok_and(|m| m.success()) || said.contains("pipe.md is no file"), "{said}");
    assert!(!said.contains("hidden") && !said.contains("keep"), "{said}");
    assert!(club::read(Path::new("/no/such/folder")).is_err());
}

#[test]
fn a_folder_of_too_many_pages_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    for i in 0..61 {
        std::fs::write(folder.path().join(format!("p{i}.md")), "---\nafter: bin\n---\n# P\n")
            .unwrap();
    }
    assert!(club::read(folder.path()).unwrap_err().contains("more than 60 pages"));
}

#[test]
fn pages_that_would_grow_or_sink_end_soon() {
    let many = |part: &str, n: usize| format!("# T\n\n{}", part.repeat(n));
    for page in [
        many("> ", 29_000),
        many("- ", 29_000),
        many("*a **b ", 8_000),
        many("[", 59_000),
        many("![", 29_000),
        many("`", 59_000),
        many("{{ title }}", 5_000),
        many("{% if title %}", 4_000),
        many("{{ (((", 9_000),
        format!("{}\n{}", many("|a", 29_000), "|-".repeat(29_000)),
        format!("{}a|\n|-|\n{}", many("|", 1), "|\n".repeat(29_000)),
        many("{{ working() }}\n\n", 3_000),
        format!("# T\n\n{}", "{% for a in bins %}".repeat(140)),
        format!("# T\n\n{{{{ {} }}}}", "not ".repeat(14_000)),
        format!("# T\n\n{{{{ {}title }}}}", "-".repeat(50_000)),
        format!("# T\n\n{{{{ title{} }}}}", " | upper".repeat(6_000)),
        format!("# T\n\n{{{{ bin{} }}}}", ".a".repeat(20_000)),
        format!("# T\n\n{}", "&#x202e;".repeat(7_000)),
        many("{% set x = 'aaaaaaaaaaaaaaaa' * 1000000000 %}{{ x }}", 1),
        many("{{ 'a' * 1000000000000 }}", 1),
    ] {
        let worked = with(PLAN, &[("glossary.md", &page)]);
        let _ = club::said(&worked, false);
    }
}

#[test]
fn sixty_pages_of_the_working_for_each_bin_are_refused() {
    let plan = PLAN.replacen("shape = \"box\"", "copies = 90\nshape = \"box\"", 1);
    let page = "---\nafter: bin\nfor: each bin\n---\n# T\n\n{{ working() }}\n";
    let names: Vec<String> = (0..60).map(|i| format!("p{i}.md")).collect();
    let pages: Vec<(&str, &str)> = names.iter().map(|n| (n.as_str(), page)).collect();
    let worked = with(&plan, &pages);
    assert!(worked.failed() && codes(&worked).contains("too-long"), "{:?}", codes(&worked));
}

/// Markdown at its edges: nothing in it, much of it, parts within parts.
#[cfg(feature = "pdf")]
const EDGES: [&str; 9] = [
    "# A\n\n> [!NOTE]\n",
    "# B\n\n- x\n  - y\n\n    | a | b |\n    |---|---|\n    | 1 | |\n\n  > [!WARNING]\n  > in list\n\n-\n- \n\n1. z\n2.\n",
    "# C\n\n| a | b |\n|---|---|\n\n## **s** `c` *e*\n\n### deep\n\n|a|b|c|d|e|f|g|h|i|j|k|l|\n|-|-|-|-|-|-|-|-|-|-|-|-|\n|x|\n",
    "# D `x` **y** {{ title }}\n",
    "# E\n\n{{ write_lines(40) }}\n\n- [ ] t **u**\n- [x] v\n",
    "# G\n\n> [!CAUTION]\n> | a | b |\n> |---|---|\n> | 1 | |\n>\n> 1. x\n>    - [ ] tick\n>\n> {{ write_lines(3) }}\n",
    "# H\n\n| long | fill |\n|---|---|\n| word word word word word word word word word word word | |\n",
    "# I\n\n{{ climate_table() }}\n\n{{ supply_table() }}\n\n{{ supply_summary() }}\n\n{{ working() }}\n\n{{ plan_text() }}\n",
    "# J\n\n~~x~~ a^b^ $x$ http://example.org \\\\ &amp; #panic(1) **a*b*c** ***d*** `` ` ``\\\nz\n",
];

#[cfg(feature = "pdf")]
#[test]
fn pages_at_the_edges_of_markdown_typeset_to_the_same_bytes() {
    use binleaf::write::{pdf, typst};
    let names: Vec<String> = (0..EDGES.len()).map(|i| format!("p{i}.md")).collect();
    let texts = EDGES.map(|text| format!("---\nafter: glance\n---\n{text}"));
    let pages: Vec<(&str, &str)> =
        names.iter().zip(&texts).map(|(n, t)| (n.as_str(), t.as_str())).collect();
    let paper = || {
        let worked = with(PLAN, &pages);
        assert!(!worked.failed(), "{}", club::said(&worked, false));
        let booklet = worked.booklet().unwrap().unwrap();
        pdf::render(&typst::write(&booklet), &run::LOOK).unwrap()
    };
    let bytes = paper();
    assert!(bytes == paper());
    let read = pdf_extract::extract_text_from_mem(&bytes).unwrap();
    assert!(read.contains("#panic(1)"), "letters stay letters");
}

#[cfg(feature = "pdf")]
#[test]
fn a_letter_no_font_has_is_found_in_the_page() {
    use binleaf::cli::{Class, Form};
    let mut worked = with(PLAN, &[("glossary.md", "# Words\n\nAn ideograph: 漢\n")]);
    assert!(!worked.failed());
    let folder = tempfile::tempdir().unwrap();
    let out = run::make(&mut worked, &[Form::Pdf], folder.path(), &Class::default());
    assert_eq!(out, Err(Vec::new()));
    assert!(worked.failed() && codes(&worked).contains("no-glyph"));
    let said = club::said(&worked, false);
    assert!(said.contains("pages/glossary.md:3:15"), "{said}");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0, "nothing is half-written");
}

/// Pieces that templates and Markdown are made of, so that random pages get far.
fn pieces() -> impl Strategy<Value = String> {
    let piece = prop::sample::select(vec![
        "# T\n\n",
        "## H\n\n",
        "{{ ",
        " }}",
        "{% if ",
        " %}",
        "{% endif %}",
        "{% for a in bins %}",
        "{% endfor %}",
        "title",
        "bin.name",
        "bins",
        "a.name",
        "ph.low",
        "loop.index",
        " | upper",
        "working()",
        "section()",
        "write_lines(3)",
        "write_to_end()",
        "worked(\"x\")",
        "\n\n",
        "\n",
        "| a | b |\n|---|---|\n| c | |\n",
        "- x\n",
        "- [ ] y\n",
        "1. z\n",
        "> [!NOTE]\n> n\n",
        "**",
        "*",
        "`",
        "<b>",
        "![",
        "](x)",
        "&#0;",
        "\u{E000}",
        "\u{E001}",
        "é",
        "漢",
        "---\nafter: bin\nfor: each bin\n---\n",
        "{# c #}",
        "{% raw %}",
        "{% set x = 1 %}",
        "not ",
        " and ",
        "==",
        "\"",
        "\\",
        "(",
        ")",
        "[",
        "]",
        ".",
        ",",
        "~",
        "-%}",
        "{%-",
    ]);
    prop::collection::vec(piece, 0..60).prop_map(|p| p.concat())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_bytes_make_a_page_panic(bytes in prop::collection::vec(any::<u8>(), 0..400), name in "[ -~]{0,20}") {
        let own = Own::read("pages", vec![(name, Found::page(bytes))]);
        let worked = run::work_with(PLAN.into(), "plan.toml", own);
        let _ = club::said(&worked, false);
    }

    #[test]
    fn no_pieces_make_a_page_panic(text in pieces(), name in "card|glossary|safety|bin|notes") {
        let worked = with(PLAN, &[(&format!("{name}.md"), &text)]);
        let said = club::said(&worked, false);
        prop_assert!(worked.failed() != said.contains("0 errors"), "{said}");
    }
}
