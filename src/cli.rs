//! What can be typed: commands and options, no logic.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

/// Field booklets for growing in still-water bins: from one plan file, the sums and the paper.
#[derive(Debug, Parser)]
#[command(version, disable_help_subcommand = true)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// A command.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write a commented plan to start from (never over a file that is there)
    New {
        /// Where to; "-" prints it
        #[arg(value_name = "FILE", default_value = "plan.toml")]
        file: PathBuf,
    },
    /// List what there is to say about plans
    Check {
        /// Plan files; "-" reads one from standard input
        #[arg(value_name = "PLAN", required = true)]
        plans: Vec<PathBuf>,
        /// Folder of pages of your own; they are looked at, too
        #[arg(long, value_name = "DIR")]
        pages: Option<PathBuf>,
    },
    /// Make booklets
    Make {
        /// Plan files; "-" reads one from standard input
        #[arg(value_name = "PLAN", required = true)]
        plans: Vec<PathBuf>,
        /// In which forms
        #[arg(long, value_name = "FORMS", value_delimiter = ',', default_value = "pdf,md")]
        to: Vec<Form>,
        /// Into which folder; it is made if it is not there
        #[arg(long, value_name = "DIR", default_value = "out")]
        out: PathBuf,
        /// For whom: the grower, the shelf, pupils, their teacher
        #[arg(long, value_name = "FOR", value_delimiter = ',', default_value = "grower")]
        edition: Vec<Edition>,
        /// Numbers of their own for so many groups of pupils (with --edition pupil or key)
        #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=60))]
        groups: u32,
        /// Where the groups' numbers begin: the same seed gives the same sheets
        #[arg(long, value_name = "SEED", default_value_t = 1)]
        seed: u64,
        /// The sheets of each group in a file of their own
        #[arg(long)]
        apart: bool,
        /// Folder of pages of your own, in place of ours or beside them
        #[arg(long, value_name = "DIR")]
        pages: Option<PathBuf>,
    },
    /// List what pages of your own may use, or print a page of ours to begin from
    Pages {
        /// Name of a page, such as glossary
        #[arg(value_name = "NAME")]
        name: Option<String>,
        /// Into which file, as Markdown (never over one that is there)
        #[arg(long, value_name = "FILE")]
        to: Option<PathBuf>,
    },
    /// Correct the forecast by a filled-in log, and print the rest of the season
    Review {
        /// Plan file
        #[arg(value_name = "PLAN")]
        plan: PathBuf,
        /// The log as CSV: the file that `make` wrote beside the booklet, filled in
        #[arg(value_name = "LOG")]
        log: PathBuf,
        /// In which forms
        #[arg(long, value_name = "FORMS", value_delimiter = ',', default_value = "pdf,md")]
        to: Vec<Form>,
        /// Into which folder; it is made if it is not there
        #[arg(long, value_name = "DIR", default_value = "out")]
        out: PathBuf,
    },
    /// Take the plan and the results out of a booklet again
    Unpack {
        /// A booklet that `make` wrote; "-" reads it from standard input
        #[arg(value_name = "BOOKLET.pdf")]
        booklet: PathBuf,
        /// Into which folder; it is made if it is not there
        #[arg(long, value_name = "DIR", default_value = ".", alias = "to")]
        out: PathBuf,
    },
    /// Show how one quantity was worked, and what it rests on
    Explain {
        /// Plan file; "-" reads it from standard input
        #[arg(value_name = "PLAN")]
        plan: PathBuf,
        /// Id of the quantity, as `numbers` prints it, such as start-line
        #[arg(value_name = "ID")]
        id: String,
    },
    /// Print every computed quantity of a plan as JSON
    Numbers {
        /// Plan file; "-" reads it from standard input
        #[arg(value_name = "PLAN")]
        plan: PathBuf,
    },
}

/// Which editions, and for how many groups.
#[derive(Debug, Clone)]
pub struct Class {
    /// For whom.
    pub editions: Vec<Edition>,
    /// Groups of pupils with numbers of their own; 1 for the plan's numbers.
    pub groups: u32,
    /// Where the groups' numbers begin.
    pub seed: u64,
    /// Whether the sheets of each group are a file of their own.
    pub apart: bool,
}

impl Default for Class {
    fn default() -> Self {
        Self { editions: vec![Edition::Grower], groups: 1, seed: 1, apart: false }
    }
}

/// A form of booklet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// For paper
    Pdf,
    /// Markdown, with its drawings beside it
    Md,
    /// Sheets for the printer, two half-size pages on each side, to fold and staple
    Fold,
}

/// For whom a booklet is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Edition {
    /// The whole booklet, results filled in
    Grower,
    /// For the bins themselves: gauge strips, cards, labels, lids
    Shelf,
    /// The calculations as exercises
    Pupil,
    /// Their answers, what to accept, what wrong answers reveal
    Key,
}
