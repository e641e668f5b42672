//! The booklet as words: both writers have the same letters, and a plan's letters stay letters.

use binleaf::booklet::Booklet;
use binleaf::booklet::block::{Block, Inline, letters};
use binleaf::run;
use binleaf::write::{markdown, svg, typst};
use comrak::nodes::NodeValue;
use comrak::{Arena, format_commonmark, parse_document};

use crate::good_plans;

fn booklet(name: &str) -> Booklet {
    let (name, text) = good_plans().into_iter().find(|(n, _)| n == name).unwrap();
    run::work(text, &name).booklet().unwrap().unwrap()
}

fn shelf(name: &str) -> Booklet {
    let (name, text) = good_plans().into_iter().find(|(n, _)| n == name).unwrap();
    run::work(text, &name).shelf().unwrap().unwrap()
}

#[test]
fn markdown_read_and_written_again_is_unchanged() {
    let both = good_plans().into_iter().flat_map(|(name, text)| {
        let worked = run::work(text, &name);
        [worked.booklet(), worked.shelf()].map(|b| (name.clone(), b.unwrap().unwrap()))
    });
    for (name, booklet) in both {
        let once = markdown::write(&booklet, "d/");
        let arena = Arena::new();
        let options = markdown::options();
        let root = parse_document(&arena, &once, &options);
        let mut again = String::new();
        format_commonmark(root, &options, &mut again).unwrap();
        // The one letter that is escaped beyond what CommonMark asks for.
        assert!(once.replace("\\$", "$") == again, "{name} changes when it is read and written");
    }
}

/// Every word of the booklet, without layout.
fn words(blocks: &[Block], into: &mut Vec<String>) {
    for block in blocks {
        match block {
            Block::Heading { text, .. } | Block::Paragraph { text } => into.push(letters(text)),
            Block::List { items, .. } => items.iter().for_each(|item| words(item, into)),
            Block::Ticks { items } => into.extend(items.iter().map(|i| letters(i))),
            Block::Table(t) => {
                into.extend(t.columns.iter().map(|c| letters(&c.head)));
                into.extend(t.rows.iter().flatten().map(|cell| letters(cell)));
            }
            Block::Alert { blocks, .. } => words(blocks, into),
            Block::Figure(f) => into.push(f.caption.clone()),
            Block::Worked(w) => into.extend([w.title.clone(), w.result.clone()]),
            Block::Labels { labels } => labels.iter().for_each(|label| {
                into.push(letters(&label.title));
                words(&label.blocks, into);
            }),
            Block::Verbatim { .. } | Block::Lines { .. } => {}
        }
    }
}

#[test]
fn both_writers_have_every_word() {
    let names = ["shelf-totes.toml", "hostile-letters.toml"];
    let both = names.map(|name| [(name, booklet(name)), (name, shelf(name))]);
    for (name, booklet) in both.into_iter().flatten() {
        let mut json = String::new();
        for run in typst::write(&booklet).runs {
            gather(&serde_json::from_slice(&run.json).unwrap(), &mut json);
        }
        // On paper a number holds its unit.
        let json = json.replace('\u{a0}', " ");
        let text = markdown::write(&booklet, "d/");
        let arena = Arena::new();
        let options = markdown::options();
        let plain = plain_text(parse_document(&arena, &text, &options)).replace('\u{a0}', " ");
        let mut all = Vec::new();
        for page in &booklet.pages {
            all.push(letters(&page.title));
            words(&page.blocks, &mut all);
        }
        for word in all.iter().map(|w| w.trim()).filter(|w| !w.is_empty()) {
            let word = word.replace('\u{a0}', " ");
            let word = word.as_str();
            assert!(json.contains(word), "{name}: not in the JSON: {word}");
            assert!(plain.contains(word), "{name}: not in the Markdown: {word}");
        }
    }
}

/// Letters of the JSON, in order.
fn gather(value: &serde_json::Value, into: &mut String) {
    match value {
        serde_json::Value::Object(map) => {
            for (_, value) in map.iter().filter(|(key, _)| *key != "is") {
                gather(value, into);
            }
        }
        serde_json::Value::Array(all) => all.iter().for_each(|value| gather(value, into)),
        serde_json::Value::String(text) => into.push_str(text),
        serde_json::Value::Null | serde_json::Value::Bool(_) | serde_json::Value::Number(_) => {}
    }
}

/// Letters of a Markdown document as a reader sees them, one line a block.
#[expect(clippy::wildcard_enum_match_arm, reason = "all else of Markdown has no letters")]
fn plain_text(node: comrak::nodes::Node<'_>) -> String {
    let mut out = String::new();
    for node in node.descendants() {
        match &node.data().value {
            NodeValue::Text(text) => out.push_str(text),
            NodeValue::Code(code) => out.push_str(&code.literal),
            NodeValue::CodeBlock(code) => out.push_str(&code.literal),
            NodeValue::SoftBreak | NodeValue::LineBreak => out.push(' '),
            NodeValue::Paragraph | NodeValue::Heading(_) | NodeValue::TableCell => out.push('\n'),
            _ => {}
        }
    }
    out
}

#[test]
fn hostile_letters_stay_letters_in_markdown() {
    let booklet = booklet("hostile-letters.toml");
    let text = markdown::write(&booklet, "d/");
    let arena = Arena::new();
    let options = markdown::options();
    let root = parse_document(&arena, &text, &options);
    for node in root.descendants() {
        let value = &node.data().value;
        // What stands below the line in a symbol is the only HTML.
        let own = matches!(value, NodeValue::HtmlInline(tag) if tag == "<sub>" || tag == "</sub>");
        let bad = matches!(
            value,
            NodeValue::HtmlBlock(_) | NodeValue::HtmlInline(_) | NodeValue::Link(_)
        ) && !own;
        assert!(!bad, "{value:?} came of plain letters");
    }
    assert!(text.contains(r"\$x^2\$"), "a dollar sign may be read as mathematics");
    let plain = plain_text(root);
    for wanted in [
        r#"#panic("no") $x^2$ *b* @ref <l> // [x](y) \ _ ~ `c` {{ title }}"#,
        "<script>alert(1)</script> & # head | cell ![i](j)",
        r"> quote, | a | b |, ***, ---, \\ end, $ #sys.inputs $, ~~~",
        r"[bin] @1 #2 \n *x* | y",
    ] {
        assert!(plain.contains(wanted), "{wanted}\nis not in\n{}", &plain[..plain.len().min(3000)]);
    }
}

#[test]
fn drawings_say_in_words_what_they_show() {
    let booklet = booklet("garden-pails.toml");
    let mut drawings = 0;
    for block in booklet.pages.iter().flat_map(|p| &p.blocks) {
        if let Block::Figure(drawing) = block {
            let picture = svg::write(drawing);
            assert!(picture.starts_with("<svg") && picture.ends_with("</svg>\n"));
            assert!(!picture.contains("NaN") && !picture.contains("inf"));
            if drawing.name.starts_with("season") {
                for word in ["sown", "in the bin", "harvest", "topped up 19 times", "changed on"] {
                    assert!(drawing.alt.contains(word), "{}", drawing.alt);
                }
                continue;
            }
            if drawing.name.starts_with("titration") {
                assert!(drawing.alt.contains("pH"), "{}", drawing.alt);
                continue;
            }
            if drawing.name.starts_with("forecast") {
                for word in ["expected", "Ceiling", "reserve", "set-out", "mm"] {
                    assert!(drawing.alt.contains(word), "{}", drawing.alt);
                }
                continue;
            }
            drawings += 1;
            for word in ["reserve line", "ceiling", "start line", "mm"] {
                assert!(drawing.alt.contains(word), "{}", drawing.alt);
            }
        }
    }
    assert_eq!(drawings, 3);
}

#[test]
fn a_line_knows_its_letters() {
    let line = vec![
        Inline::Text { text: "a ".into() },
        Inline::Strong { of: vec![Inline::Code { text: "b".into() }] },
    ];
    assert_eq!(letters(&line), "a b");
}
