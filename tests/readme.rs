//! What the README and the guide claim is run.

use std::path::{Path, PathBuf};
use std::process::Command;

use binleaf::finding::Severity;
use binleaf::run;

const README: &str = include_str!("../README.md");
const GUIDE: &str = include_str!("../DEVELOPERS.md");
const CI: &str = include_str!("../.ci/run");

/// Fenced blocks of a kind.
fn blocks(kind: &str) -> Vec<&'static str> {
    let start = format!("```{kind}\n");
    README.split(&start).skip(1).map(|rest| rest.split("\n```").next().unwrap()).collect()
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

#[test]
fn every_plan_in_the_readme_makes_a_booklet() {
    let plans = blocks("toml");
    assert!(!plans.is_empty());
    for plan in plans {
        let worked = run::work(plan.into(), "README.md");
        assert!(worked.booklet().is_some_and(|b| b.is_ok()), "{:?}", worked.findings);
    }
}

#[test]
fn every_command_in_the_readme_says_what_it_says_there() {
    let folder = tempfile::tempdir().unwrap();
    let mut ran = 0;
    for block in blocks("console") {
        let (command, expected) = block.split_once('\n').unwrap_or((block, ""));
        let command = command.strip_prefix("$ ").unwrap();
        if command == "cargo test" {
            continue; // this is it
        }
        let args = command.strip_prefix("cargo run -- ").or(command.strip_prefix("binleaf "));
        // Plans are named from the project's folder; what is written goes elsewhere.
        let args = args.unwrap().split(' ').map(|arg| {
            if arg.starts_with("data/") {
                root().join(arg).display().to_string()
            } else {
                arg.into()
            }
        });
        let mut binleaf = Command::new(env!("CARGO_BIN_EXE_binleaf"));
        let writes = command.contains(" make ") || command.contains(" review ");
        if cfg!(not(feature = "pdf")) && writes {
            continue;
        }
        let output = binleaf.args(args).current_dir(folder.path()).output().unwrap();
        assert!(output.status.success(), "{command}");
        assert_eq!(String::from_utf8_lossy(&output.stdout).trim(), expected.trim(), "{command}");
        ran += 1;
    }
    assert!(ran >= 1);
}

#[test]
fn ci_runs_the_readmes_test_command_and_ends_with_nothing_changed() {
    let commands = blocks("console");
    let test = commands.iter().find(|c| c.starts_with("$ cargo test")).unwrap();
    let test = test.strip_prefix("$ ").unwrap();
    assert!(CI.lines().any(|line| line == test), "{test} is not in .ci/run");
    assert_eq!(CI.trim_end().lines().last(), Some("git diff --exit-code"));
}

/// Texts in backticks that look like paths of this project.
fn paths(text: &str) -> Vec<&str> {
    let tops = ["src/", "data/", "templates/", "tests/", "out/", ".ci/", ".cargo/"];
    let ticks = text.split('`').skip(1).step_by(2);
    ticks
        .filter(|t| tops.iter().any(|top| t.starts_with(top)) && !t.contains(['*', '<', ' ']))
        .collect()
}

#[test]
fn every_path_the_documents_name_exists() {
    let named = [paths(README), paths(GUIDE)].concat();
    assert!(named.len() > 20, "{named:?}");
    for path in named {
        assert!(root().join(path).exists(), "{path} is named but not there");
    }
    for picture in README.split("](out/").skip(1) {
        let path = format!("out/{}", picture.split(')').next().unwrap());
        assert!(Path::new(&root().join(&path)).exists(), "{path}");
    }
}

#[test]
fn the_readme_names_every_key_of_a_plan() {
    for key in [
        "title",
        "place",
        "keeper",
        "notes",
        "sown",
        "checks-a-week",
        "units",
        "paper",
        "letters",
        "language",
        "volume",
        "mixing",
        "acidity",
        "ph",
        "alkalinity",
        "magnesium",
        "sodium",
        "potassium",
        "chloride",
        "sulfate",
        "nitrate",
        "temperature",
        "calcium",
        "where",
        "air",
        "bleach",
        "moves",
        "contents",
        "strength",
        "form",
        "rate",
        "teaspoon",
        "density",
        "salt",
        "pail",
        "feeds",
        "trial",
        "last-time",
        "shape",
        "poured",
        "floor",
        "rim",
        "depth",
        "lid-drop",
        "lid-thickness",
        "pot",
        "cube",
        "cube-lift",
        "immersion",
        "rows",
        "plants",
        "copies",
        "mix",
        "set-out",
        "like",
        "phosphate-as",
        "recipe",
        "recipe-strength",
        "aim",
        "scale",
        "concentrate",
        "humidity",
        "altitude",
        "latitude",
        "light",
        "hours",
        "daily-light",
        "lamp-power",
        "price-per-kwh",
        "of",
        "coolest",
        "warmest",
        "wind",
        "sun",
        "radiation",
        "crop",
        "heads-a-week",
        "weeks",
        "from",
        "order",
        "leave-out",
    ] {
        assert!(README.contains(&format!("`{key}`")), "{key}");
    }
}

/// What stands in quotes in a row of the README's table of keys, after a word.
fn offered(after: &str) -> Vec<String> {
    let rest = README.split(after).nth(1).unwrap().split('|').next().unwrap();
    let rest = rest.split(')').next().unwrap();
    rest.split('"').skip(1).step_by(2).map(Into::into).collect()
}

#[test]
fn values_and_crops_are_written_as_the_readme_says() {
    let plan = blocks("toml").into_iter().find(|plan| plan.contains("copies")).unwrap();
    let errors = |plan: String| {
        let worked = run::work(plan, "README.md");
        let errors = worked.findings.iter().filter(|f| f.severity == Severity::Error);
        errors.map(|f| f.message.clone()).collect::<Vec<_>>()
    };
    let alkalinities = offered("`alkalinity` (");
    assert!(alkalinities.len() >= 4, "{alkalinities:?}");
    let read: Vec<f64> = alkalinities
        .iter()
        .map(|alkalinity| {
            let text = format!("{plan}\n[water]\nph = 7.4\nalkalinity = \"{alkalinity}\"\n");
            let worked = run::work(text, "README.md");
            assert!(worked.done.is_some(), "{alkalinity}: {:?}", worked.findings);
            worked.done.unwrap().0.water.alkalinity.unwrap()
        })
        .collect();
    // They are one water, written in four ways.
    assert!(read.iter().all(|mg| (mg - 120.0).abs() < 0.5), "{alkalinities:?}: {read:?}");
    let library = binleaf::library::Library::embedded();
    let listed = README.split("that are known, with what differs:").nth(1).unwrap();
    let listed = listed.split('|').next().unwrap();
    assert!(README.contains(&format!("one of the {} that are known", library.crops.len())));
    for crop in library.crops.values() {
        let name = crop.name.replace(" lettuce", "").to_lowercase();
        assert!(listed.to_lowercase().contains(&name), "{name}");
        let text = plan.replace("\"lettuce\"", &format!("\"{}\"", crop.name));
        assert_eq!(errors(text), Vec::<String>::new(), "{}", crop.name);
    }
}
