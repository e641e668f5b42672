//! A booklet carries its plan: it comes out as it went in, makes the same booklet again, and no
//! bytes make the reader fail, run long or write anywhere but where it is told.

use std::collections::{BTreeMap, BTreeSet};
use std::time::{Duration, Instant};

#[cfg(feature = "pdf")]
use binleaf::cli::{Class, Edition, Form};
use binleaf::{read, run, terminal, unpack};
use proptest::prelude::*;

use crate::files;

/// A PDF of these objects (the first is the catalogue), as plain as can be.
fn pdf(objects: &[&[u8]], trailer: &str) -> Vec<u8> {
    let mut out = b"%PDF-1.7\n".to_vec();
    let mut places = Vec::new();
    for (i, object) in objects.iter().enumerate() {
        places.push(out.len());
        out.extend(format!("{} 0 obj\n", i + 1).bytes());
        out.extend(*object);
        out.extend(b"\nendobj\n");
    }
    let start = out.len();
    out.extend(format!("xref\n0 {}\n0000000000 65535 f \n", places.len() + 1).bytes());
    for place in places {
        out.extend(format!("{place:010} 00000 n \n").bytes());
    }
    let trailer = trailer.replace("HERE", &start.to_string());
    out.extend(format!("trailer\n<</Root 1 0 R{trailer}>>\nstartxref\n{start}\n%%EOF\n").bytes());
    out
}

/// A PDF that carries `plan` under the name `name`, its stream with these keys.
fn carrying(name: &str, plan: &[u8], keys: &str) -> Vec<u8> {
    let file = format!("<</Type/Filespec/F({name})/EF<</F 3 0 R>>>>");
    let mut stream = format!("<</Length {}{keys}>>stream\n", plan.len()).into_bytes();
    stream.extend(plan);
    stream.extend(b"\nendstream");
    pdf(&[b"<</AF[2 0 R]>>", file.as_bytes(), &stream], "")
}

fn code(bytes: &[u8]) -> &'static str {
    read::carried(bytes).map_or_else(|finding| finding.code, |_| "read")
}

/// Reads within a time that leaves room for a slow machine.
#[expect(clippy::panic_in_result_fn, reason = "a test")]
fn soon(bytes: &[u8]) -> Result<read::Carried, binleaf::finding::Finding> {
    let start = Instant::now();
    let carried = read::carried(bytes);
    assert!(start.elapsed() < Duration::from_secs(5), "{:?}", start.elapsed());
    carried
}

#[test]
fn every_bad_booklet_says_what_is_wrong() {
    let bless = std::env::var_os("BINLEAF_BLESS").is_some();
    for (path, text) in files("tests/booklets/bad", "pdf") {
        let code = path.file_stem().unwrap().to_string_lossy().into_owned();
        let unpacked = unpack::unpack(text.as_bytes());
        let found: BTreeSet<&str> = unpacked.findings.iter().map(|f| f.code).collect();
        assert_eq!(found, BTreeSet::from([code.as_str()]));
        let said = terminal::render(&unpacked.findings, "", "booklet.pdf", false);
        let expected = path.with_extension("txt");
        if bless {
            std::fs::write(&expected, &said).unwrap();
        }
        let expected = std::fs::read_to_string(&expected).unwrap_or_default();
        assert_eq!(said, expected, "what is said about {code} has changed");
    }
}

#[cfg(feature = "pdf")]
#[test]
fn pages_of_ones_own_come_back_and_make_the_same_booklet() {
    let text = include_str!("../data/plans/shelf-totes.toml");
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let make = |text: &str, pages: &std::path::Path| {
        let folder = tempfile::tempdir().unwrap();
        let own = binleaf::club::read(pages).unwrap();
        let mut worked = run::work_with(text.into(), "plan.toml", own);
        let made = run::make(&mut worked, &[Form::Pdf], folder.path(), &Class::default()).unwrap();
        std::fs::read(&made[0]).unwrap()
    };
    let first = make(text, &root.join("data/pages/seed-shelf"));
    let carried = unpack::unpack(&first).carried.unwrap();
    assert_eq!(carried.pages.len(), 3);
    let folder = tempfile::tempdir().unwrap();
    unpack::write(&carried, folder.path()).unwrap();
    assert!(make(&carried.plan, &folder.path().join(unpack::FOLDER)) == first);
}

#[cfg(feature = "pdf")]
#[test]
fn a_booklet_gives_its_plan_and_the_plan_the_same_booklet() {
    for (name, text) in crate::good_plans() {
        let folder = tempfile::tempdir().unwrap();
        let make = |text: &str| {
            let mut worked = run::work(text.into(), "plan.toml");
            let to = [Form::Pdf];
            let files = run::make(&mut worked, &to, folder.path(), &Class::default()).unwrap();
            (std::fs::read(&files[0]).unwrap(), run::numbers(&worked).unwrap())
        };
        let (booklet, numbers) = make(&text);
        let unpacked = unpack::unpack(&booklet);
        assert!(unpacked.findings.is_empty(), "{name}: {:?}", unpacked.findings);
        assert_eq!(unpacked.version.as_deref(), Some(unpack::THIS));
        let carried = unpacked.carried.unwrap();
        assert!(carried.plan == text, "{name}: the plan has changed");
        assert_eq!(carried.results, Some(numbers), "{name}");
        let out = folder.path().join("back");
        let written = unpack::write(&carried, &out).unwrap();
        assert_eq!(written, [out.join("plan.toml"), out.join("results.json")]);
        if !["starter.toml", "hostile-letters.toml"].contains(&name.as_str()) {
            continue; // the same text; that it gives the same bytes is tested in typst.rs
        }
        let (again, _) = make(&std::fs::read_to_string(&written[0]).unwrap());
        assert!(again == booklet, "{name}: the booklet is not the same");
    }
}

#[cfg(feature = "pdf")]
#[test]
fn sheets_for_pupils_do_not_carry_the_answers() {
    let folder = tempfile::tempdir().unwrap();
    let mut worked = run::work(run::STARTER.into(), "plan.toml");
    let class = Class { editions: vec![Edition::Pupil, Edition::Key], ..Class::default() };
    let files = run::make(&mut worked, &[Form::Pdf], folder.path(), &class).unwrap();
    assert_eq!(files.len(), 2);
    for file in files {
        assert_eq!(code(&std::fs::read(file).unwrap()), "booklet-bare");
    }
}

#[test]
fn what_differs_is_never_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let pages = BTreeMap::from([("rota".to_string(), "# Rota\n".to_string())]);
    let carried = read::Carried { plan: "a = 1\n".into(), results: Some("{}".into()), pages };
    let plan = folder.path().join("plan.toml");
    std::fs::write(&plan, "my own work").unwrap();
    let said = unpack::write(&carried, folder.path()).unwrap_err();
    assert!(said[0].contains("plan.toml: is already there and differs"), "{said:?}");
    assert_eq!(std::fs::read_to_string(&plan).unwrap(), "my own work");
    assert!(!folder.path().join("results.json").exists(), "a refusal leaves nothing behind");
    std::fs::write(&plan, "a = 1\n").unwrap();
    assert_eq!(unpack::write(&carried, folder.path()).unwrap().len(), 3);
}

#[test]
fn a_name_in_the_file_is_never_used() {
    assert_eq!(code(&carrying("plan.toml", b"a = 1", "")), "read");
    for name in ["../plan.toml", "/etc/plan.toml", "PLAN.TOML", "plan.toml\\000", ""] {
        assert_eq!(code(&carrying(name, b"a = 1", "")), "booklet-bare", "{name}");
    }
}

#[test]
fn a_small_file_cannot_unfold_into_a_big_one() {
    let bomb = miniz_oxide::deflate::compress_to_vec_zlib(&vec![b'#'; 50_000_000], 6);
    assert!(bomb.len() < 100_000);
    let booklet = carrying("plan.toml", &bomb, "/Filter/FlateDecode");
    assert_eq!(soon(&booklet).unwrap_err().code, "booklet-too-big");
    let fits = miniz_oxide::deflate::compress_to_vec_zlib(&vec![b'#'; 900_000], 6);
    assert!(soon(&carrying("plan.toml", &fits, "/Filter/FlateDecode")).is_ok());
    // Filters one within another are not followed.
    let twice = miniz_oxide::deflate::compress_to_vec_zlib(&bomb, 6);
    let booklet = carrying("plan.toml", &twice, "/Filter[/FlateDecode/FlateDecode]");
    assert_eq!(soon(&booklet).unwrap_err().code, "booklet-resaved");
}

#[test]
fn what_points_at_itself_or_is_nested_deep_ends_soon() {
    let stream = b"<</Length 3 0 R>>stream\na = 1\nendstream".as_slice();
    let file = b"<</F(plan.toml)/EF<</F 3 0 R>>>>".as_slice();
    assert!(soon(&pdf(&[b"<</AF[2 0 R]>>", file, stream], "")).is_err());
    assert!(soon(&pdf(&[b"<</AF 1 0 R>>"], "")).is_err());
    assert!(soon(&pdf(&[b"<</AF[1 0 R 1 0 R 1 0 R]>>"], "")).is_err());
    assert!(soon(&pdf(&[b"<</AF[2 0 R]>>", b"<</F 2 0 R/EF 2 0 R>>"], "")).is_err());
    // A table that names itself as the earlier one.
    assert!(soon(&pdf(&[b"<</AF[]>>"], "/Prev HERE")).is_err());
    for open in ["[", "<<", "<</A", "(", "<</AF[", "<<<"] {
        for times in [5, 40, 4000, 16_000, 2_000_000] {
            let deep = open.repeat(times);
            assert!(soon(&pdf(&[deep.as_bytes()], "")).is_err(), "{open} {times}");
            assert!(soon(&pdf(&[b"<</AF[]>>"], &format!("/X {deep}"))).is_err());
        }
    }
    let many = format!("<</AF[{}]>>", "2 0 R ".repeat(2000));
    assert!(soon(&pdf(&[many.as_bytes(), file, stream], "")).is_err());
}

/// A reader that saves a remark adds a table of its own at the end; the plan is still there.
#[test]
fn a_booklet_with_a_remark_still_gives_its_plan() {
    let mut booklet = carrying("plan.toml", b"a = 1", "");
    let text = String::from_utf8(booklet.clone()).unwrap();
    let before = text.split("startxref\n").nth(1).unwrap().lines().next().unwrap();
    let remark = booklet.len();
    booklet.extend(b"4 0 obj\n<</Type/Annot>>\nendobj\n");
    let start = booklet.len();
    let table = format!(
        "xref\n4 1\n{remark:010} 00000 n \ntrailer\n<</Root 1 0 R/Prev {before}>>\nstartxref\n{start}\n%%EOF\n"
    );
    booklet.extend(table.bytes());
    assert_eq!(soon(&booklet).unwrap().plan, "a = 1");
}

/// A booklet to spoil: a real one if this binleaf typesets, or a plain one.
fn sound() -> Vec<u8> {
    #[cfg(feature = "pdf")]
    {
        use binleaf::write::{pdf, typst};
        let booklet = run::work(run::STARTER.into(), "plan.toml").booklet().unwrap().unwrap();
        pdf::render(&typst::write(&booklet), &run::LOOK).unwrap()
    }
    #[cfg(not(feature = "pdf"))]
    carrying("plan.toml", run::STARTER.as_bytes(), "")
}

/// Spoils `bytes`: a place in thousandths from the end, and what happens there.
fn spoil(bytes: &mut Vec<u8>, place: usize, how: u8, with: &[u8]) {
    // Squared, so that the end, where the tables are, is hit most.
    let back = bytes.len() * place * place / 1_000_000;
    let at = bytes.len().saturating_sub(back + 1);
    match how % 4 {
        0 => bytes.truncate(at),
        1 => drop(bytes.splice(at..at, with.iter().copied())),
        2 => drop(bytes.drain(at..(at + with.len()).min(bytes.len()))),
        _ => {
            for (byte, new) in bytes[at..].iter_mut().zip(with) {
                *byte = *new;
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn no_bytes_make_the_reader_fail(
        bytes in prop::collection::vec(any::<u8>(), 0..3000), words in "[ -~\n]{0,400}",
    ) {
        let _ = soon(&bytes);
        let _ = soon(&[b"%PDF-1.7\n", bytes.as_slice()].concat());
        let _ = soon(&pdf(&[words.as_bytes(), &bytes], ""));
        let _ = soon(&pdf(&[b"<</AF[2 0 R]>>", words.as_bytes()], &words));
        let file = b"<</F(plan.toml)/EF<</F 3 0 R>>>>";
        let stream = [b"<</Length 9", words.as_bytes(), b">>stream\n", &bytes].concat();
        let _ = soon(&pdf(&[b"<</AF[2 0 R]>>", file, &stream], ""));
    }
}

#[test]
fn no_spoilt_booklet_makes_the_reader_fail() {
    let sound = sound();
    assert!(soon(&sound).is_ok());
    let plan = read::carried(&sound).unwrap().plan;
    let mut runner = proptest::test_runner::TestRunner::new(ProptestConfig {
        cases: 400,
        ..ProptestConfig::default()
    });
    let with = prop_oneof![
        prop::collection::vec(any::<u8>(), 1..20),
        "[0-9 ]{1,12}".prop_map(String::into_bytes),
        prop::sample::select(vec!["<<", ">>", "[", "R", "obj", "/Prev 9", "stream\n", "xref\n"])
            .prop_map(|s| s.as_bytes().to_vec()),
    ];
    let wounds = prop::collection::vec((0_usize..1000, any::<u8>(), with), 1..4);
    let result = runner.run(&wounds, |wounds| {
        let mut bytes = sound.clone();
        for (place, how, with) in wounds {
            spoil(&mut bytes, place, how, &with);
        }
        if let Ok(carried) = soon(&bytes) {
            // The packed data has a checksum: a plan that comes out is the one that went in.
            prop_assert!(carried.plan == plan || cfg!(not(feature = "pdf")));
        }
        Ok(())
    });
    result.unwrap();
}
