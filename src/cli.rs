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
    /// Print every computed quantity of a plan as JSON
    Numbers {
        /// Plan file; "-" reads it from standard input
        #[arg(value_name = "PLAN")]
        plan: PathBuf,
    },
}

/// A form of booklet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// For paper
    Pdf,
    /// Markdown, with its drawings beside it
    Md,
}
