//! Runs the commands, prints, sets the exit code: 0 done, 1 findings with errors, 2 wrong usage.
#![expect(clippy::print_stderr, reason = "this is the program's mouth")]

use std::io::{IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use binleaf::booklet::own::Own;
use binleaf::cli::{Class, Cli, Command, Form};
use binleaf::{club, look, run, terminal, unpack};
use clap::Parser;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

#[cfg(feature = "pdf")]
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    let fine = match Cli::parse().command {
        Command::New { file } => new(&file),
        // Every plan is looked at, also after one that failed.
        Command::Check { plans, pages } => {
            plans.iter().filter(|path| !check(path, pages.as_deref())).count() == 0
        }
        Command::Make { plans, to, out, edition, groups, seed, apart, pages } => {
            let class = Class { editions: edition, groups, seed, apart };
            make(&plans, &to, &out, &class, pages.as_deref())
        }
        Command::Pages { name, to } => pages(name.as_deref(), to.as_deref()),
        Command::Review { plan, log, to, out } => review(&plan, &log, &to, &out),
        Command::Unpack { booklet, out } => unpack(&booklet, &out),
        Command::Explain { plan, id } => explain(&plan, &id),
        Command::Numbers { plan } => numbers(&plan),
    };
    if fine { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// Prints to standard output; a reader that has gone away is no reason to complain.
fn say(text: &str) {
    let mut out = std::io::stdout().lock();
    let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
}

fn new(file: &Path) -> bool {
    if file == Path::new("-") {
        say(run::STARTER);
        return true;
    }
    match run::new(file) {
        Ok(()) => {
            let name = file.display();
            say(&format!("{name}: a plan to start from; then:  binleaf make {name}\n"));
            true
        }
        Err(line) => complain(&line),
    }
}

fn complain(line: &str) -> bool {
    eprintln!("binleaf: {line}");
    false
}

/// Reads and works one plan.
fn work(path: &Path) -> Option<run::Worked> {
    work_with(path, None)
}

/// Reads and works one plan with the pages of a folder.
fn work_with(path: &Path, pages: Option<&Path>) -> Option<run::Worked> {
    let name = path.display().to_string();
    let own = pages.map_or_else(|| Ok(Own::default()), club::read);
    match own.and_then(|own| Ok(run::work_with(run::read(path)?, &name, own))) {
        Ok(worked) => Some(worked),
        Err(line) => {
            complain(&line);
            None
        }
    }
}

fn pages(name: Option<&str>, to: Option<&Path>) -> bool {
    let text = match name {
        Some(name) => club::page(name).map(ToString::to_string),
        None => club::reference(to.is_some()),
    };
    let done = text.and_then(|text| {
        if let Some(file) = to {
            return club::write(file, &text);
        }
        say(&text);
        Ok(())
    });
    done.map_or_else(|line| complain(&line), |()| true)
}

/// What there is to say about a plan, in colour on a terminal.
fn findings(worked: &run::Worked, styled: bool) -> String {
    club::said(worked, styled)
}

/// Says why a plan stops here, if it does.
fn stopped(worked: &run::Worked) -> bool {
    if worked.failed() {
        eprint!("{}", findings(worked, std::io::stderr().is_terminal()));
    }
    worked.failed()
}

fn check(path: &Path, pages: Option<&Path>) -> bool {
    let Some(worked) = work_with(path, pages) else { return false };
    say(&findings(&worked, std::io::stdout().is_terminal()));
    !worked.failed()
}

fn make(plans: &[PathBuf], to: &[Form], out: &Path, class: &Class, pages: Option<&Path>) -> bool {
    let bar = progress(plans.len());
    let mut fine = true;
    let mut stems: Vec<String> = Vec::new();
    for path in plans {
        let stem = run::stem(&path.display().to_string());
        if stems.contains(&stem) {
            let line = format!("{}: an earlier plan writes {stem} too; rename it", path.display());
            fine = complain(&line);
            continue;
        }
        stems.push(stem);
        bar.set_message(path.display().to_string());
        fine &= make_one(path, to, out, (class, pages), &bar);
        bar.inc(1);
    }
    bar.finish_and_clear();
    fine
}

fn make_one(
    path: &Path,
    to: &[Form],
    out: &Path,
    (class, pages): (&Class, Option<&Path>),
    bar: &ProgressBar,
) -> bool {
    let Some(mut worked) = bar.suspend(|| work_with(path, pages)) else { return false };
    if bar.suspend(|| stopped(&worked)) {
        return false;
    }
    let made = run::make(&mut worked, to, out, class);
    bar.suspend(|| told(path, &worked, made))
}

/// Says what was made, or why nothing was.
fn told(path: &Path, worked: &run::Worked, made: Result<Vec<PathBuf>, Vec<String>>) -> bool {
    match made {
        Ok(files) => {
            let booklets = files.iter().filter(|f| f.extension().is_some_and(|e| e != "svg"));
            for file in booklets {
                say(&format!("{}\n", file.display()));
            }
            advise(worked);
            let pages = worked.own.pages.values().map(|p| p.findings.sorted().len());
            let cautions = worked.findings.len() + pages.sum::<usize>();
            if cautions > 0 {
                let name = path.display();
                let things = if cautions == 1 { "thing" } else { "things" };
                eprintln!(
                    "{name}: {cautions} {things} to know; read them with:  binleaf check {name}"
                );
            }
            true
        }
        Err(lines) => {
            stopped(worked);
            for line in lines {
                complain(&line);
            }
            false
        }
    }
}

/// What whoever prints should know.
fn advise(worked: &run::Worked) {
    for line in &worked.advice {
        eprintln!("{line}");
    }
}

fn review(plan: &Path, log: &Path, to: &[Form], out: &Path) -> bool {
    let Some(mut worked) = work(plan) else { return false };
    if stopped(&worked) {
        return false;
    }
    let text = match run::read_log(log) {
        Ok(text) => text,
        Err(line) => return complain(&line),
    };
    let looked = look::review(&worked, &text);
    let name = log.display().to_string();
    let styled = std::io::stderr().is_terminal();
    eprint!("{}", terminal::render(&looked.findings, &text, &name, styled));
    match look::make_review(&mut worked, &looked, to, out) {
        Ok(files) => {
            for file in files.iter().filter(|f| f.extension().is_some_and(|e| e != "svg")) {
                say(&format!("{}\n", file.display()));
            }
            advise(&worked);
            !looked.bins.is_empty()
        }
        Err(lines) => {
            for line in lines {
                complain(&line);
            }
            false
        }
    }
}

fn unpack(booklet: &Path, out: &Path) -> bool {
    let bytes = match unpack::read(booklet) {
        Ok(bytes) => bytes,
        Err(line) => return complain(&line),
    };
    let unpacked = unpack::unpack(&bytes);
    if !unpacked.findings.is_empty() {
        let styled = std::io::stderr().is_terminal();
        let name = booklet.display().to_string();
        eprint!("{}", terminal::render(&unpacked.findings, "", &name, styled));
    }
    let Some(carried) = unpacked.carried else { return false };
    match unpack::write(&carried, out) {
        Ok(files) => {
            for file in &files {
                say(&format!("{}\n", file.display()));
            }
            let plan = files.first().map(|f| f.display().to_string()).unwrap_or_default();
            let made = match &unpacked.version {
                Some(version) if version == unpack::THIS => {
                    format!("made with binleaf {version}, as this one is; the same booklet again")
                }
                Some(version) => format!("made with binleaf {version}; a booklet of this version"),
                None => "made with an unknown version; a booklet of this version".into(),
            };
            let pages = match carried.pages.len() {
                0 => String::new(),
                _ => format!(" --pages {}", out.join(unpack::FOLDER).display()),
            };
            say(&format!("{made}:  binleaf make {plan}{pages}\n"));
            true
        }
        Err(lines) => {
            for line in lines {
                complain(&line);
            }
            false
        }
    }
}

/// A bar on a terminal, nothing elsewhere.
fn progress(count: usize) -> ProgressBar {
    let bar = ProgressBar::with_draw_target(Some(count as u64), ProgressDrawTarget::stderr());
    let style = ProgressStyle::with_template("{spinner} {bar:24} {pos} of {len}  {elapsed}  {msg}");
    let bar = bar.with_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
    // One plan may be thirty groups: the hand of the clock goes on.
    bar.enable_steady_tick(std::time::Duration::from_millis(120));
    bar
}

fn explain(path: &Path, id: &str) -> bool {
    let Some(worked) = work(path) else { return false };
    if stopped(&worked) {
        return false;
    }
    match run::explain(&worked, id) {
        Ok(text) => {
            say(&text);
            true
        }
        Err(line) => complain(&line),
    }
}

fn numbers(path: &Path) -> bool {
    let Some(worked) = work(path) else { return false };
    stopped(&worked);
    match run::numbers(&worked) {
        Ok(json) => {
            say(&json);
            say("\n");
            !worked.failed()
        }
        Err(line) => complain(&line),
    }
}
