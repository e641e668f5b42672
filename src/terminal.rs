//! Findings as a person reads them in a terminal: what, where, why, what to do.

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use crate::finding::{Finding, MOST, Severity};

/// A text with what there is to say about it.
pub struct Said<'a> {
    /// The findings.
    pub findings: &'a [Finding],
    /// The text.
    pub text: &'a str,
    /// What a person calls it.
    pub path: &'a str,
}

/// All findings of one plan, in colour if `styled`.
#[must_use]
pub fn render(findings: &[Finding], text: &str, path: &str, styled: bool) -> String {
    render_all(&[Said { findings, text, path }], styled)
}

/// All findings of several texts, and their sum.
#[must_use]
pub fn render_all(said: &[Said<'_>], styled: bool) -> String {
    let mut out: String = said.iter().map(|s| drawn(s.findings, s.text, s.path, styled)).collect();
    let all: Vec<&Finding> = said.iter().flat_map(|s| s.findings).collect();
    out.push_str(&summary(&all));
    out
}

fn drawn(findings: &[Finding], text: &str, path: &str, styled: bool) -> String {
    let renderer = if styled { Renderer::styled() } else { Renderer::plain() };
    let renderer = renderer.decor_style(DecorStyle::Ascii);
    let mut out = String::new();
    for finding in findings {
        let level = match finding.severity {
            Severity::Error => Level::ERROR,
            Severity::Caution => Level::WARNING.with_name("caution"),
            Severity::Note => Level::NOTE,
        };
        let mut group = Group::with_title(level.primary_title(&finding.message).id(finding.code));
        if let Some((place, says)) = &finding.label {
            let place = clipped(place.clone(), text);
            let mark = AnnotationKind::Primary.span(place).label(says.as_str());
            group = group.element(Snippet::source(text).path(path).annotation(mark));
        }
        group = group.element(Level::HELP.message(&finding.help));
        out.push_str(&renderer.render(&[group]));
        out.push_str("\n\n");
    }
    out
}

/// A place within the first of its lines: a finding about a table points at its head.
fn clipped(place: std::ops::Range<usize>, text: &str) -> std::ops::Range<usize> {
    let end = text.len();
    let (start, stop) = (place.start.min(end), place.end.min(end));
    let line = text.get(start..stop).and_then(|t| t.find('\n')).map_or(stop, |n| start + n);
    start..line.max(start)
}

fn summary(findings: &[&Finding]) -> String {
    let count = |severity| findings.iter().filter(|f| f.severity == severity).count();
    let say = |n: usize, word: &str| match n {
        1 => format!("1 {word}"),
        n => format!("{n} {word}s"),
    };
    let parts = [
        say(count(Severity::Error), "error"),
        say(count(Severity::Caution), "caution"),
        say(count(Severity::Note), "note"),
    ];
    let more = if findings.len() >= MOST { "; mend these first, there may be more" } else { "" };
    format!("{}{more}\n", parts.join(", "))
}
