//! The reference of what pages of one's own may use → Markdown, or lines for a terminal.

use crate::booklet::reference::Section;

/// How a page is written, in front of the lists.
const HOW: [&str; 6] = [
    "A folder of pages goes with a plan: `binleaf make PLAN --pages DIR`; `binleaf check` takes it, \
     too. Each page is a Markdown file with one title: headings, paragraphs, lists, boxes to tick, \
     tables, frames (`> [!NOTE]`, `> [!CAUTION]`, `> [!WARNING]`, `> [!IMPORTANT]`), strong, emphasis, \
     code. No HTML, pictures or links. A table with a column that has no words is there to be filled \
     in, and gets room for a hand.",
    "A file with the name of a page of the booklet stands in its place. Any other name (small letters, \
     digits, hyphens) adds a page, which says in front lines where it stands, and for what it is made \
     again: `once`, `each bin` or `each solution`; without that line once.",
    "    ---\n    after: mixing\n    for: each bin\n    ---\n    # Card of {{ bin.name }}",
    "`before:` goes as well as `after:`. A page in place of ours may be moved by such a line. The copies \
     of a page stand together. In the plan `[pages]` says `order = [...]`, the pages that stand first, \
     and `leave-out = [...]`.",
    "At most 60 pages of 60000 bytes. A page names values, calls blocks, and uses `if`, `elif`, `else` and \
     `for ... in`; no more of the template language. What is not known is said with its line and column.",
    "Made by `binleaf pages --to FILE`; examples from `data/plans/shelf-totes.toml`.",
];

/// As Markdown.
#[must_use]
pub fn markdown(sections: &[Section]) -> String {
    let mut out = vec!["# What a page of your own may use\n".to_string()];
    out.extend(HOW.map(|paragraph| format!("\n{paragraph}\n")));
    for section in sections {
        let [a, b, c] = section.head;
        out.push(format!("\n## {}\n\n{}\n\n", section.title, coded(section.about)));
        out.push(format!("| {a} | {b} | {c} |\n|---|---|---|\n"));
        for [name, what, example] in &section.rows {
            // A bar would end the cell.
            let [name, what, example] = [name, what, example].map(|cell| cell.replace('|', "\\|"));
            out.push(format!("| `{name}` | {} | {} |\n", coded(&what), coded(&example)));
        }
    }
    out.concat()
}

/// What stands in braces as code.
fn coded(text: &str) -> String {
    let (mut out, mut rest) = (Vec::new(), text);
    while let Some(start) = rest.find('{') {
        let end = ["}}", "%}"].iter().filter_map(|e| rest[start..].find(e)).min();
        let end = end.map_or(rest.len(), |e| start + e + 2);
        out.push(format!("{}`{}`", &rest[..start], &rest[start..end]));
        rest = &rest[end..];
    }
    out.concat() + rest
}

/// As lines for a terminal.
#[must_use]
pub fn plain(sections: &[Section]) -> String {
    let mut out = HOW.map(|paragraph| format!("{}\n\n", folded(paragraph))).to_vec();
    for section in sections {
        let width = section.rows.iter().map(|[name, ..]| name.chars().count()).max().unwrap_or(0);
        out.push(format!("{}\n{}\n\n", section.title.to_uppercase(), folded(section.about)));
        for [name, what, example] in &section.rows {
            out.push(format!("  {name:width$}  {what}: {example}\n"));
        }
        out.push("\n".into());
    }
    out.concat()
}

/// In lines of at most 80 letters; what is written as lines stays.
fn folded(text: &str) -> String {
    if text.starts_with("    ") {
        return text.into();
    }
    let (mut out, mut column) = (String::new(), 0);
    for word in text.split(' ') {
        let length = word.chars().count();
        if column > 0 && column + 1 + length > 80 {
            out.push('\n');
            column = 0;
        } else if column > 0 {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += length;
    }
    out
}
