//! How fast, as ratios from one run on one machine: run with `cargo bench`, or one part of it with
//! `cargo bench --bench speed -- chemistry`.
//!
//! Nothing here passes or fails; machines are noisy. The closing numbers of a change are copied
//! from its output.
#![expect(clippy::print_stdout, clippy::disallowed_methods, reason = "a bench prints and measures")]

#[expect(clippy::unwrap_used, reason = "a bench that cannot read its fixture has failed")]
mod cases;

use std::hint::black_box;
use std::process::Command;
use std::time::Instant;

use binleaf::number::Formula;
use binleaf::run;
use binleaf::science::shape::TaperedVolume;
use binleaf::science::share::ShareDrunk;
use binleaf::write::markdown;

/// The shelf plan with `bins` totes.
fn plan(bins: u32) -> String {
    let text = run::STARTER.replace("name = \"Tote\"", "name = \"Tote\"\ncopies = COPIES");
    text.replace("COPIES", &bins.to_string())
}

/// Seconds a call takes: the best of `rounds`.
fn best(rounds: u32, mut call: impl FnMut()) -> f64 {
    let mut least = f64::INFINITY;
    for _ in 0..rounds {
        let start = Instant::now();
        call();
        least = least.min(start.elapsed().as_secs_f64());
    }
    least
}

fn formulas() {
    let n = 2_000_000;
    let inputs: Vec<f64> = (0..1000).map(|i| f64::from(i) / 1000.0).collect();
    let by_hand = best(7, || {
        let mut sum = 0.0;
        for i in 0..n {
            let x = black_box(inputs[i % 1000]);
            let share = (libm::exp(3.0 * x) - 1.0) / (libm::exp(3.0) - 1.0);
            sum += 100.0 * x / 6.0 * (0.1 + 4.0 * 0.11 + share);
        }
        black_box(sum);
    });
    let silent = best(7, || {
        let mut sum = 0.0;
        for i in 0..n {
            let x = black_box(inputs[i % 1000]);
            let top = ShareDrunk { k: 3.0, x }.value();
            sum += TaperedVolume { h: 100.0 * x, floor: 0.1, middle: 0.11, top }.value();
        }
        black_box(sum);
    });
    println!("silent formula over by hand: {:.2}", silent / by_hand);
}

fn stages() {
    for bins in [12_u32, 50, 200] {
        let text = plan(bins);
        let check = best(5, || {
            black_box(run::work(text.clone(), "plan.toml"));
        });
        let worked = run::work(text.clone(), "plan.toml");
        let compose = best(3, || {
            black_box(worked.booklet().map(|b| b.map(|b| markdown::write(&b, "d/"))).is_some());
        });
        println!(
            "{bins:>3} bins: check {:.1} ms ({:.3} a bin), compose and Markdown {:.1} ms ({:.3} a bin)",
            1e3 * check,
            1e3 * check / f64::from(bins),
            1e3 * compose,
            1e3 * compose / f64::from(bins),
        );
        #[cfg(feature = "pdf")]
        {
            let booklet = worked.booklet().and_then(Result::ok);
            let data = booklet.map(|b| binleaf::write::typst::write(&b)).unwrap_or_default();
            let pdf = best(2, || {
                black_box(binleaf::write::pdf::render(&data, &run::LOOK).is_ok());
            });
            println!(
                "          PDF {:.0} ms ({:.2} a bin)",
                1e3 * pdf,
                1e3 * pdf / f64::from(bins)
            );
        }
    }
}

/// The whole program, as a grower starts it.
fn process() {
    let folder = std::env::temp_dir().join("binleaf-speed");
    let file = folder.join("plan.toml");
    if std::fs::create_dir_all(&folder).and_then(|()| std::fs::write(&file, plan(12))).is_err() {
        return;
    }
    let out = folder.join("out");
    let go = |args: &[&str]| {
        best(5, || {
            let mut command = Command::new(env!("CARGO_BIN_EXE_binleaf"));
            command.args(args).arg(&file);
            if args[0] == "make" {
                command.arg("--out").arg(&out);
            }
            black_box(command.output().is_ok());
        })
    };
    println!("whole process, 12 bins: check {:.1} ms", 1e3 * go(&["check"]));
    println!("                        Markdown {:.1} ms", 1e3 * go(&["make", "--to", "md"]));
    println!("                        PDF {:.0} ms", 1e3 * go(&["make", "--to", "pdf"]));
}

/// Sheets of their own for thirty groups of a class, beside thirty times the sheets of one; and what
/// the working and the class editions add to a booklet. Each in a process of its own, since the
/// typesetter remembers what it has set.
#[cfg(feature = "pdf")]
fn class() {
    let text = include_str!("../data/plans/classroom-jars.toml");
    let folder = std::env::temp_dir().join("binleaf-speed");
    let [whole, less] = ["whole.toml", "less.toml"].map(|name| folder.join(name));
    let shorter = format!("{text}\n[pages]\nleave-out = [\"working\", \"chemistry\"]\n");
    let written = std::fs::create_dir_all(&folder)
        .and_then(|()| std::fs::write(&whole, text))
        .and_then(|()| std::fs::write(&less, shorter));
    if written.is_err() {
        return;
    }
    let make = |plan: &std::path::Path, words: &[&str]| {
        best(3, || {
            let mut command = Command::new(env!("CARGO_BIN_EXE_binleaf"));
            command.args(["make", "--to", "pdf", "--out"]).arg(folder.join("out")).arg(plan);
            black_box(command.args(words).output().is_ok());
        })
    };
    for editions in [&["--edition", "pupil"][..], &["--edition", "pupil", "--edition", "key"]] {
        let one = make(&whole, editions);
        let [together, apart] = [&["--groups", "30"][..], &["--groups", "30", "--apart"]]
            .map(|groups| make(&whole, &[editions, groups].concat()));
        println!(
            "{}: one group {one:.2} s, 30 groups {together:.2} s, each in a file of its own {apart:.2} s, \
             {:.1} times one",
            editions.join(" "),
            apart / one
        );
    }
    let booklet = make(&whole, &[]);
    println!("booklet without its working {:.2} of one with it", make(&less, &[]) / booklet);
    let editions = ["--edition", "grower", "--edition", "pupil", "--edition", "key"];
    println!("booklet, sheets and key {:.2} of the booklet", make(&whole, &editions) / booklet);
    let set = |part: &str| {
        best(15, || {
            let this = std::env::current_exe().map(Command::new);
            let done = this.and_then(|mut this| this.arg(part).output());
            assert!(done.is_ok_and(|done| done.status.success()), "{part} stopped");
        })
    };
    let ratio = set("mathematics") / set("plain-lines");
    println!("booklet with calculations as mathematics {ratio:.2} of one with them as plain lines");
}

/// From its plan to PDF, the booklet of a class with its calculations set as mathematics.
#[cfg(feature = "pdf")]
fn mathematics() {
    one_booklet(&run::LOOK);
}

/// The same with the lines that Markdown has in their place.
#[cfg(feature = "pdf")]
fn plain_lines() {
    let before = "#let expression(e, plain, left, most) = {\n";
    let worked = run::LOOK.iter().find(|(path, _)| *path == "/part/worked.typ");
    let worked = worked.map_or("", |(_, text)| *text);
    assert!(worked.contains(before), "the template of a calculation has changed");
    let worked = worked.replace(before, &format!("{before}  return row(left, plain)\n"));
    let look = run::LOOK.map(|(path, text)| match path {
        "/part/worked.typ" => (path, worked.as_str()),
        _ => (path, text),
    });
    one_booklet(&look);
}

#[cfg(feature = "pdf")]
fn one_booklet(look: &[(&'static str, &str)]) {
    let text = include_str!("../data/plans/classroom-jars.toml").to_string();
    let booklet = run::work(text, "plan.toml").booklet().and_then(Result::ok);
    let data = booklet.map(|b| binleaf::write::typst::write(&b)).unwrap_or_default();
    let pdf = binleaf::write::pdf::render(&data, look);
    assert!(pdf.is_ok(), "{pdf:?}");
}

#[cfg(not(feature = "pdf"))]
fn mathematics() {}

#[cfg(not(feature = "pdf"))]
fn plain_lines() {}

#[cfg(not(feature = "pdf"))]
fn class() {}

/// One equilibrium, and one dose to a target, of a hard-water mix.
fn chemistry() {
    use binleaf::science::speciation::Solution;
    let constants = binleaf::library::Library::embedded().species.at(22.0);
    // Carbonate, phosphate, sulfate, ammonium, citrate, acetate, Ca, Mg, K, Na, Cl, nitrate.
    let totals =
        [3.4e-3, 1.2e-3, 2.0e-3, 6e-4, 0.0, 0.0, 4.5e-3, 1.8e-3, 5.4e-3, 9e-4, 1.1e-3, 1.01e-2];
    let mix = Solution { totals, air: None };
    let mut acid = [0.0; 12];
    acid[1] = 1.0;
    let equilibrium = best(5, || {
        for _ in 0..100 {
            black_box(mix.equilibrium(&constants).is_some());
        }
    });
    let dose = best(5, || {
        for _ in 0..100 {
            black_box(mix.dose(&constants, &acid, 5.8, 0.02).is_some());
        }
    });
    println!("one equilibrium {:.0} µs, one dose {:.0} µs", 1e4 * equilibrium, 1e4 * dose);
}

/// Every case of the geochemistry code that has a pH to reach: our answers and the microseconds of
/// each, for `tests/reference/compare_speciation.py` to set beside that code's.
fn targets() {
    let table = &binleaf::library::Library::embedded().species;
    println!("case_id,pH_before,equilibrium_us,dose_mmolL,dose_us");
    for row in cases::rows(include_str!("reference/open.csv")) {
        if row["kind"] != "target" {
            continue;
        }
        let constants = table.at(cases::number(&row, "temp_C"));
        let (_, mix) = cases::mix(&constants, &row);
        let compound = cases::reagent(&row["reagent"]);
        let target = cases::number(&row, "target_pH");
        let equilibrium = || mix.equilibrium(&constants);
        let dose = || mix.dose(&constants, &compound, target, 0.05);
        println!(
            "{},{},{},{},{}",
            row["case_id"],
            equilibrium().map_or(f64::NAN, |e| e.ph),
            1e6 * mean(|| {
                black_box(equilibrium());
            }),
            1e3 * dose().unwrap_or(f64::NAN),
            1e6 * mean(|| {
                black_box(dose());
            }),
        );
    }
}

/// Seconds a call takes: the mean of a hundred, so that no lucky one counts.
fn mean(mut call: impl FnMut()) -> f64 {
    let start = Instant::now();
    for _ in 0..100 {
        call();
    }
    start.elapsed().as_secs_f64() / 100.0
}

/// A thousand seasons of 120 days for 50, 100 and 200 bins, beside a plain loop that works the share
/// curve and the day's strayness anew for every day of every season.
fn seasons() {
    use binleaf::compute::Band;
    use binleaf::compute::ensemble::{Course, DRAWS, Draws};
    let days = 120_u32;
    let share = |d: f64| ShareDrunk { k: 3.0, x: d / f64::from(days) }.value();
    let course = |bin: u32| {
        let need = 30.0 + f64::from(bin % 7);
        Course {
            uses: (0..days).map(f64::from).map(|d| need * (share(d + 1.0) - share(d))).collect(),
            loss: 0.01,
            need: Band { low: 0.5 * need, expected: need, high: 2.0 * need },
            filling: 33.0,
            reserve: 4.0,
            topped: vec![0.0; 121],
        }
    };
    for bins in [50_u32, 100, 200] {
        let courses: Vec<Course> = (0..bins).map(course).collect();
        let ours = best(3, || {
            let draws = Draws::new(120);
            for course in &courses {
                black_box(course.odds(&draws).alone);
            }
        });
        let plain = best(1, || {
            let mut random = fastrand::Rng::with_seed(1);
            let mut dry = 0_u32;
            for course in &courses {
                for _ in 0..DRAWS {
                    let factor = course.factor(4.0 * random.f64() - 2.0);
                    let mut left = course.filling;
                    for day in (0..days).map(f64::from) {
                        let use_ = course.need.expected * (share(day + 1.0) - share(day));
                        left -= factor * use_ * libm::exp(0.5 * random.f64() - 0.25) + course.loss;
                        if left < course.reserve {
                            dry += 1;
                            break;
                        }
                    }
                }
            }
            black_box(dry);
        });
        println!(
            "{bins:>3} bins, 120 days, {DRAWS} seasons, alone and topped: {:.0} ms; plain loop, alone only: \
             {:.0} ms, {:.0} times as long",
            1e3 * ours,
            1e3 * plain,
            plain / ours
        );
    }
}

fn main() {
    let parts: [(&str, fn()); 9] = [
        ("seasons", seasons),
        ("chemistry", chemistry),
        ("formulas", formulas),
        ("stages", stages),
        ("process", process),
        ("class", class),
        ("targets", targets),
        ("mathematics", mathematics),
        ("plain-lines", plain_lines),
    ];
    let asked = std::env::args().skip(1).find(|word| !word.starts_with('-'));
    for (name, part) in parts {
        // The last ones are meant for a program.
        let alone = ["targets", "mathematics", "plain-lines"].contains(&name);
        if asked.as_ref().map_or(!alone, |asked| asked == name) {
            part();
        }
    }
}
