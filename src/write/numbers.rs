//! Findings and quantities → JSON, for other programs; the README documents it.

use crate::compute::Quantity;
use crate::finding::Finding;

/// A finding as other programs read it.
#[derive(Debug, serde::Serialize)]
struct Said<'a> {
    code: &'a str,
    severity: &'a str,
    message: &'a str,
    help: &'a str,
    line: Option<usize>,
    column: Option<usize>,
}

#[derive(serde::Serialize)]
struct Numbers<'a> {
    version: &'a str,
    digest: &'a str,
    findings: Vec<Said<'a>>,
    quantities: &'a [Quantity],
}

/// The JSON of a plan with this digest and text.
///
/// # Errors
/// If a quantity is no number, which a test excludes.
pub fn write(
    digest: &str,
    findings: &[Finding],
    text: &str,
    quantities: &[Quantity],
) -> Result<String, String> {
    let findings = findings.iter().map(|f| {
        let place = f.label.as_ref().map(|(place, _)| line_and_column(text, place.start));
        Said {
            code: f.code,
            severity: f.severity.word(),
            message: &f.message,
            help: &f.help,
            line: place.map(|p| p.0),
            column: place.map(|p| p.1),
        }
    });
    let version = env!("CARGO_PKG_VERSION");
    let numbers = Numbers { version, digest, findings: findings.collect(), quantities };
    serde_json::to_string_pretty(&numbers).map_err(|e| e.to_string())
}

/// Line and column of a byte, both from 1.
fn line_and_column(text: &str, at: usize) -> (usize, usize) {
    let before = &text[..at.min(text.len())];
    let column = before.rsplit('\n').next().map_or(0, |l| l.chars().count());
    (before.matches('\n').count() + 1, column + 1)
}
