//! On paper: every plan typesets without a warning, twice to the same bytes, tagged and archival,
//! with its letters as they were.

use binleaf::cli::{Class, Form};
use binleaf::run;
use binleaf::write::{pdf, typst};

use crate::good_plans;

fn paper(name: &str, text: String) -> Vec<u8> {
    let booklet = run::work(text, name).booklet().unwrap().unwrap();
    pdf::render(&typst::write(&booklet), &run::LOOK).unwrap_or_else(|e| panic!("{name}: {e:?}"))
}

#[test]
fn every_plan_typesets_twice_to_the_same_bytes() {
    for (name, text) in good_plans() {
        let bytes = paper(&name, text.clone());
        assert!(bytes == paper(&name, text), "{name} differs from run to run");
    }
}

/// ISO 14289-1 (PDF/UA-1) and ISO 19005-3 (PDF/A-3, level A) name themselves in the metadata.
#[test]
fn every_plan_is_tagged_and_archival() {
    for (name, text) in good_plans() {
        let bytes = paper(&name, text);
        let has = |needle: &str| bytes.windows(needle.len()).any(|w| w == needle.as_bytes());
        assert!(has("<pdfuaid:part>1</pdfuaid:part>"), "{name} is not PDF/UA-1");
        assert!(has("<pdfaid:part>3</pdfaid:part>"), "{name} is not PDF/A-3");
        assert!(has("<pdfaid:conformance>A</pdfaid:conformance>"), "{name} is not level A");
        assert!(has("/MarkInfo"), "{name} is not tagged");
    }
}

#[test]
fn hostile_letters_stay_letters_on_paper() {
    let (name, text) = good_plans().into_iter().find(|(n, _)| n == "hostile-letters.toml").unwrap();
    let bytes = paper(&name, text);
    let read = pdf_extract::extract_text_from_mem(&bytes).unwrap();
    let dense = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
    let read = dense(&read);
    for wanted in [
        r#"#panic("no") $x^2$ *b* @ref <l> // [x](y) \ _ ~ `c` {{ title }}"#,
        "<script>alert(1)</script> & # head | cell ![i](j)",
        r#"#eval("1"), {% for x in y %}, [^1], <b>bold</b>"#,
        r"[bin] @1 #2 \n *x* | y",
        "`mix` <!-- --> #show: none",
    ] {
        assert!(read.contains(&dense(wanted)), "not on paper: {wanted}");
    }
}

#[test]
fn a_letter_no_font_has_is_a_finding_at_its_place() {
    let text = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/plans/bad/no-glyph.toml"
    ));
    let mut worked = run::work(text.unwrap(), "plan.toml");
    let folder = tempfile::tempdir().unwrap();
    let out = run::make(&mut worked, &[Form::Pdf], folder.path(), &Class::default());
    assert_eq!(out, Err(Vec::new()));
    let found: Vec<_> = worked.findings.iter().filter(|f| f.code == "no-glyph").collect();
    assert_eq!(found.len(), 1, "{:?}", worked.findings);
    let (place, _) = found[0].label.clone().unwrap();
    assert_eq!(&worked.text[place], "漢");
    assert!(worked.failed());
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0, "nothing is half-written");
}

/// A booklet of one run, of which the templates know `json`.
fn one(json: &str) -> typst::Manuscript {
    let run = typst::Run { json: b"{}".to_vec(), ..typst::Run::default() };
    typst::Manuscript { json: json.into(), runs: vec![run], contents: None }
}

#[test]
fn a_fault_in_a_template_is_located() {
    let wrong = [("/booklet.typ", "#let x = json(\"/booklet.json\")\n#x.nothing")];
    let said = pdf::render(&one(r#"{"title":"x"}"#), &wrong).unwrap_err();
    assert!(said[0].contains("booklet.typ") && said[0].contains("nothing"), "{said:?}");
}

#[test]
fn a_template_reaches_nothing_outside() {
    for reach in ["#read(\"/etc/hostname\")", "#import \"@preview/x:0.1.0\": y", "#read(\"/../x\")"]
    {
        assert!(pdf::render(&one("{}"), &[("/booklet.typ", reach)]).is_err(), "{reach}");
    }
}

/// The example booklet in `out/` is what this version makes of its plan, byte for byte.
#[test]
fn the_example_booklet_is_made_again_byte_for_byte() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let plan = root.join("data/plans/shelf-totes.toml");
    let mut worked =
        run::work(std::fs::read_to_string(&plan).unwrap(), "data/plans/shelf-totes.toml");
    let folder = tempfile::tempdir().unwrap();
    let files =
        run::make(&mut worked, &[Form::Pdf, Form::Md], folder.path(), &Class::default()).unwrap();
    assert!(files.len() > 4);
    for file in files {
        let name = file.strip_prefix(folder.path()).unwrap();
        // A log is written in, so none is kept.
        if name.to_string_lossy().ends_with("-log.csv") {
            continue;
        }
        let kept = std::fs::read(root.join("out").join(name)).unwrap_or_default();
        let made = std::fs::read(&file).unwrap();
        assert!(
            kept == made,
            "out/{} is not what this version makes; run: cargo run -- make data/plans/shelf-totes.toml",
            name.display()
        );
    }
}
