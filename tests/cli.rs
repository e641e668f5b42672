//! The program as it is typed: exit codes, standard input, and that it writes only where told.

use std::path::Path;
use std::process::{Command, Output, Stdio};

const PLAN: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/data/plans/starter.toml");

fn binleaf(args: &[&str], input: Option<&str>, folder: &Path) -> Output {
    use std::io::Write;
    let mut child = Command::new(env!("CARGO_BIN_EXE_binleaf"))
        .args(args)
        .current_dir(folder)
        .stdin(if input.is_some() { Stdio::piped() } else { Stdio::null() })
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    if let Some(text) = input {
        child.stdin.take().unwrap().write_all(text.as_bytes()).unwrap();
    }
    child.wait_with_output().unwrap()
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&[output.stdout.as_slice(), &output.stderr].concat()).into_owned()
}

fn names(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap();
    let mut names: Vec<String> =
        entries.map(|e| e.unwrap().file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

#[test]
fn new_writes_a_plan_that_checks_and_never_writes_over_one() {
    let folder = tempfile::tempdir().unwrap();
    let new = binleaf(&["new", "mine.toml"], None, folder.path());
    assert_eq!(new.status.code(), Some(0), "{}", said(&new));
    let check = binleaf(&["check", "mine.toml"], None, folder.path());
    assert_eq!(check.status.code(), Some(0), "{}", said(&check));
    std::fs::write(folder.path().join("mine.toml"), "my own work").unwrap();
    let again = binleaf(&["new", "mine.toml"], None, folder.path());
    assert_eq!(again.status.code(), Some(1));
    assert!(said(&again).contains("already there"), "{}", said(&again));
    let kept = std::fs::read_to_string(folder.path().join("mine.toml")).unwrap();
    assert_eq!(kept, "my own work");
}

#[test]
fn sheets_of_groups_may_be_files_of_their_own() {
    let folder = tempfile::tempdir().unwrap();
    let words = ["make", PLAN, "--edition", "pupil", "--groups", "2", "--apart", "--to"];
    let made = binleaf(&[&words[..], &["md"]].concat(), None, folder.path());
    assert_eq!(made.status.code(), Some(0), "{}", said(&made));
    let files = names(&folder.path().join("out"));
    for name in ["starter-pupil-01.md", "starter-pupil-02.md"] {
        assert!(files.iter().any(|file| file == name), "{files:?}");
    }
    assert!(!files.iter().any(|file| file == "starter-pupil.md"), "{files:?}");
    let folded = binleaf(&[&words[..], &["fold"]].concat(), None, folder.path());
    assert_eq!(folded.status.code(), Some(1), "{}", said(&folded));
    assert!(said(&folded).contains("not folded"), "{}", said(&folded));
}

#[test]
fn make_writes_only_into_the_folder_it_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let made = binleaf(&["make", PLAN, "--to", "md", "--out", "a/b"], None, folder.path());
    assert_eq!(made.status.code(), Some(0), "{}", said(&made));
    assert_eq!(names(folder.path()), ["a"]);
    assert_eq!(
        names(&folder.path().join("a/b")),
        ["starter-drawings", "starter-log.csv", "starter.md"]
    );
    assert_eq!(
        names(&folder.path().join("a/b/starter-drawings")),
        ["forecast-1.svg", "season-1.svg", "section-1.svg"]
    );
}

#[test]
fn a_dash_reads_standard_input() {
    let folder = tempfile::tempdir().unwrap();
    let text = std::fs::read_to_string(PLAN).unwrap();
    let made = binleaf(&["make", "-", "--to", "md"], Some(&text), folder.path());
    assert_eq!(made.status.code(), Some(0), "{}", said(&made));
    assert_eq!(
        names(&folder.path().join("out")),
        ["booklet-drawings", "booklet-log.csv", "booklet.md"]
    );
}

#[test]
fn numbers_are_json_with_what_is_promised() {
    let folder = tempfile::tempdir().unwrap();
    let out = binleaf(&["numbers", PLAN], None, folder.path());
    assert_eq!(out.status.code(), Some(0));
    let json: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!(json["version"], env!("CARGO_PKG_VERSION"));
    assert_eq!(json["digest"].as_str().unwrap().len(), 8);
    assert!(json["findings"].is_array());
    let quantities = json["quantities"].as_array().unwrap();
    let keys = ["id", "scope", "item", "value", "unit", "low", "high", "method", "source"];
    for quantity in quantities {
        assert!(keys.iter().all(|key| quantity.get(key).is_some()), "{quantity}");
        assert!(!quantity["value"].is_null(), "{quantity}");
    }
    let find = |id: &str| quantities.iter().find(|q| q["id"] == id).unwrap();
    assert_eq!(find("start-line")["scope"], "bin/Tote");
    assert_eq!(find("start-line")["unit"], "mm");
    assert!(find("water-need")["low"].as_f64() < find("water-need")["high"].as_f64());
}

#[test]
fn a_wrong_plan_is_one_a_wrong_command_is_two() {
    let folder = tempfile::tempdir().unwrap();
    let wrong = binleaf(&["check", "-"], Some("title = 3\n"), folder.path());
    assert_eq!(wrong.status.code(), Some(1), "{}", said(&wrong));
    let made = binleaf(&["make", "-"], Some("title = 3\n"), folder.path());
    assert_eq!(made.status.code(), Some(1));
    assert!(names(folder.path()).is_empty(), "nothing is written for a wrong plan");
    for args in [&["bake"][..], &["make"], &["make", PLAN, "--to", "epub"]] {
        assert_eq!(binleaf(args, None, folder.path()).status.code(), Some(2), "{args:?}");
    }
}

#[test]
fn files_that_are_no_plans_get_one_line() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    std::fs::write(at("binary.toml"), [0xff, 0xfe, 0, 1]).unwrap();
    std::fs::write(at("zeros.toml"), [b'a', 0, b'b']).unwrap();
    std::fs::write(at("huge.toml"), vec![b'#'; 50_000_000]).unwrap();
    std::fs::create_dir(at("folder.toml")).unwrap();
    for name in ["binary.toml", "zeros.toml", "huge.toml", "folder.toml", "not-there.toml"] {
        let out = binleaf(&["check", name], None, folder.path());
        let said = said(&out);
        assert_eq!(out.status.code(), Some(1), "{name}: {said}");
        assert_eq!(said.lines().count(), 1, "{said}");
        assert!(said.contains(name) && !said.contains("panicked"), "{said}");
    }
}

#[test]
fn a_plan_full_of_errors_or_brackets_ends_soon() {
    let folder = tempfile::tempdir().unwrap();
    let many: String = (0..30_000).map(|i| format!("k{i} = {i}")).collect::<Vec<_>>().join("\n");
    let same = "title = \"x\"\n".repeat(30_000);
    let deep = format!("a = {}{}", "[".repeat(100_000), "]".repeat(100_000));
    for text in [many, same, deep] {
        let out = binleaf(&["check", "-"], Some(&text), folder.path());
        assert_eq!(out.status.code(), Some(1));
        let said = said(&out);
        assert!(!said.contains("panicked"));
        assert!(said.matches("error[").count() <= 200, "{}", said.len());
    }
}

#[test]
fn several_plans_are_all_looked_at() {
    let folder = tempfile::tempdir().unwrap();
    let out =
        binleaf(&["make", "no.toml", PLAN, PLAN, "--to", "md", "--out", "x"], None, folder.path());
    assert_eq!(out.status.code(), Some(1));
    assert!(said(&out).contains("an earlier plan writes starter too"), "{}", said(&out));
    assert!(folder.path().join("x/starter.md").exists());
}

#[test]
fn a_plan_is_never_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let text = std::fs::read_to_string(PLAN).unwrap();
    std::fs::write(folder.path().join("plan.md"), &text).unwrap();
    let out = binleaf(&["make", "plan.md", "--to", "md", "--out", "."], None, folder.path());
    assert_eq!(out.status.code(), Some(1), "{}", said(&out));
    assert_eq!(std::fs::read_to_string(folder.path().join("plan.md")).unwrap(), text);
}

#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_written_leaves_nothing_half_done() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("out"), "a file, not a folder").unwrap();
    let out = binleaf(&["make", PLAN, "--to", "md"], None, folder.path());
    assert_eq!(out.status.code(), Some(1));
    assert!(said(&out).contains("cannot be written"), "{}", said(&out));
    assert_eq!(names(folder.path()), ["out"]);
    // A full disk: /dev/full takes no byte.
    if Path::new("/dev/full").exists() {
        let full =
            binleaf(&["make", PLAN, "--to", "md", "--out", "/dev/full"], None, folder.path());
        assert_eq!(full.status.code(), Some(1));
    }
}

#[test]
fn only_booklets_are_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let text = std::fs::read_to_string(PLAN).unwrap();
    std::fs::write(folder.path().join("s.toml"), &text).unwrap();
    // Another plan that happens to stand where the booklet would go.
    std::fs::write(folder.path().join("s.md"), &text).unwrap();
    let out = binleaf(&["make", "s.toml", "--to", "md", "--out", "."], None, folder.path());
    assert_eq!(out.status.code(), Some(1), "{}", said(&out));
    assert_eq!(std::fs::read_to_string(folder.path().join("s.md")).unwrap(), text);
    assert_eq!(names(folder.path()), ["s.md", "s.toml"], "a refusal leaves nothing behind");
    // An earlier booklet is replaced.
    std::fs::remove_file(folder.path().join("s.md")).unwrap();
    for _ in 0..2 {
        let out = binleaf(&["make", "s.toml", "--to", "md", "--out", "."], None, folder.path());
        assert_eq!(out.status.code(), Some(0), "{}", said(&out));
    }
}

#[test]
fn a_windows_file_with_a_mark_in_front_is_read() {
    let folder = tempfile::tempdir().unwrap();
    let text = std::fs::read_to_string(PLAN).unwrap().replace('\n', "\r\n");
    let text = format!("\u{FEFF}{text}");
    let out = binleaf(&["make", "-", "--to", "md"], Some(&text), folder.path());
    assert_eq!(out.status.code(), Some(0), "{}", said(&out));
}
