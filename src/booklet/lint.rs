//! What a page of one's own may do: name values, call blocks, choose with `if`, go over a list with
//! `for`. Everything else of the template language is refused before anything is filled in, so a
//! page cannot grow without bound nor reach another; and every word in it is held against
//! [`super::words_of`], so that a typo is found at its place, also in a branch not taken.
#![expect(clippy::wildcard_enum_match_arm, reason = "all else of the language is refused")]

use std::ops::Range;

use minijinja::machinery::ast::{Expr, Stmt};
use minijinja::machinery::{Span, Token, parse, tokenize};
use minijinja::syntax::SyntaxConfig;

use super::own::{OwnPage, guess};
use super::scope::{self, Kind, Scope};
use super::words::syntax;

/// What a page of one's own may say, for findings.
const LANGUAGE: &str = "a page may name values, call blocks, and use `if`, `elif`, `else` and \
                        `for ... in`";

/// The text with the bytes of `place` blanked; line ends stay, so that every place stays.
pub(super) fn blank(text: &str, place: Range<usize>) -> String {
    replaced(text, place, "")
}

/// The text with `by`, and blanks, in `place`.
fn replaced(text: &str, place: Range<usize>, by: &str) -> String {
    let (Some(before), Some(within), Some(after)) =
        (text.get(..place.start), text.get(place.clone()), text.get(place.end..))
    else {
        return text.into();
    };
    let blanks = within.bytes().enumerate().map(|(i, byte)| match by.as_bytes().get(i) {
        Some(letter) => char::from(*letter),
        None if byte == b'\n' => '\n',
        None => ' ',
    });
    let blanks: String = blanks.collect();
    format!("{before}{blanks}{after}")
}

pub(super) fn range(span: Span) -> Range<usize> {
    span.start_offset as usize..span.end_offset as usize
}

/// A statement alone on its line takes the line with it; at the end of a line of words the line
/// end stays, as whoever writes Markdown expects.
fn line_ends(text: &str) -> String {
    let ended = |line: &str| {
        let alone = line.trim_start().starts_with("{%") && line.matches("{%").count() == 1;
        match line.strip_suffix(" %}\n") {
            Some(words) if !alone => format!("{words}+%}}\n"),
            _ => line.to_string(),
        }
    };
    text.split_inclusive('\n').map(ended).collect()
}

/// Checks the template of a page, and blanks in it what cannot be filled in.
pub(super) fn check(page: &mut OwnPage) {
    page.template = line_ends(&page.template);
    let template = page.template.clone();
    let Ok(syntax) = syntax() else { return };
    if let Some(place) = crowded(&template, &syntax) {
        page.whole = false;
        let says = "this is more than a page may ask".to_string();
        let help = "at most 100 words and signs in one pair of braces, and 1000 pairs on a page";
        return page.error("page-language", place, says, help);
    }
    let root = match parse(&template, "page", syntax) {
        Ok(root) => root,
        Err(error) => {
            page.whole = false;
            let place = error.range().unwrap_or(0..0);
            let what = error.detail().unwrap_or("it cannot be read").to_string();
            let unknown = what.strip_prefix("unknown statement ");
            let (code, says) = match unknown {
                Some(word) => ("page-language", format!("pages know no `{word}`")),
                None => ("page-syntax", format!("this cannot be read: {what}")),
            };
            return page.error(
                code,
                place,
                says,
                &format!("are all braces closed, `{{{{ ... }}}}` and `{{% ... %}}`? {LANGUAGE}"),
            );
        }
    };
    let scope = Scope::of(page.repeats);
    let mut lint = Lint { page, scope, masks: Vec::new(), worked: Vec::new(), whole: true };
    lint.statement(&root);
    let (masks, worked, whole) = (lint.masks, lint.worked, lint.whole);
    (page.worked, page.whole) = (worked, whole);
    for place in masks {
        page.template = replaced(&page.template, place, "1");
    }
}

/// Where braces hold more, or there are more of them, than a parser that goes into them one by one
/// should be given.
fn crowded(template: &str, syntax: &SyntaxConfig) -> Option<Range<usize>> {
    let (mut pairs, mut within) = (0, 0);
    for token in tokenize(template, false, syntax.clone()) {
        // What is no token is said by the parser.
        let Ok((token, span)) = token else { return None };
        match token {
            Token::VariableStart | Token::BlockStart => (pairs, within) = (pairs + 1, 0),
            _ => within += 1,
        }
        if within > 100 || pairs > 1000 {
            return Some(range(span));
        }
    }
    None
}

pub(super) struct Lint<'a> {
    pub(super) page: &'a OwnPage,
    pub(super) scope: Scope,
    /// Expressions that cannot be filled in.
    pub(super) masks: Vec<Range<usize>>,
    /// Calculations that are asked for.
    pub(super) worked: Vec<(String, Range<usize>)>,
    /// Whether the page can be filled in with these masked.
    whole: bool,
}

impl Lint<'_> {
    /// Says what is wrong with an expression, which is then masked.
    pub(super) fn says(&mut self, code: &'static str, span: Span, what: String, help: &str) {
        self.page.error(code, range(span), what, help);
        self.masks.push(range(span));
    }

    pub(super) fn refused(&mut self, span: Span, what: &str) {
        self.whole = false;
        self.page.error("page-language", range(span), what.into(), LANGUAGE);
    }

    fn all(&mut self, statements: &[Stmt<'_>]) {
        for statement in statements {
            self.statement(statement);
        }
    }

    fn statement(&mut self, statement: &Stmt<'_>) {
        match statement {
            Stmt::Template(it) => self.all(&it.children),
            Stmt::EmitRaw(_) => {}
            Stmt::EmitExpr(it) => self.emitted(&it.expr),
            Stmt::IfCond(it) => {
                self.condition(&it.expr);
                self.all(&it.true_body);
                self.all(&it.false_body);
            }
            Stmt::ForLoop(it) => {
                let Expr::Var(target) = &it.target else {
                    return self
                        .refused(it.target.span(), "a list has one name for each of its parts");
                };
                if it.recursive {
                    return self.refused(it.span(), "a list cannot be gone over within itself");
                }
                let Some(path) = self.list(&it.iter) else {
                    self.whole = false;
                    return;
                };
                if let Some(filter) = &it.filter_expr {
                    self.condition(filter);
                }
                let before = self.scope.clone();
                self.scope.enter(target.id, &path);
                self.all(&it.body);
                self.scope = before;
                self.all(&it.else_body);
            }
            Stmt::Set(it) => self.refused(it.span(), "pages cannot set values"),
            Stmt::SetBlock(it) => self.refused(it.span(), "pages cannot set values"),
            Stmt::WithBlock(it) => self.refused(it.span(), "pages cannot set values"),
            Stmt::AutoEscape(it) => self.refused(it.span(), "letters always stay letters"),
            Stmt::FilterBlock(it) => self.refused(it.span(), "filters stand beside a value"),
            Stmt::Do(it) => self.refused(it.span(), "pages call nothing but blocks"),
        }
    }

    /// The path of a list that is gone over.
    fn list(&mut self, expr: &Expr<'_>) -> Option<String> {
        let path = self.path(expr)?;
        if scope::kind(&path) == Some(Kind::List) {
            return Some(path);
        }
        let help = format!("the lists are: {}", self.scope.lists().join(", "));
        self.says("wrong-kind", expr.span(), "this is not a list".into(), &help);
        None
    }

    /// What is printed: a value, a text, a filter of one, a choice, or a block.
    fn emitted(&mut self, expr: &Expr<'_>) {
        let block = match expr {
            Expr::Call(call) => match &call.expr {
                Expr::Var(name) if scope::function(name.id).is_none() => {
                    Some((name.id, call.args.len()))
                }
                _ => None,
            },
            _ => None,
        };
        let Some((name, arguments)) = block else { return self.printed(expr) };
        match scope::block(name, self.page.repeats) {
            scope::Block::Here if arguments == 0 => {}
            scope::Block::Here => {
                let says = format!("`{name}` takes nothing in its brackets");
                self.says("page-syntax", expr.span(), says, &format!("write  {{{{ {name}() }}}}"));
            }
            scope::Block::Elsewhere(place) => {
                let says = format!("`{name}` belongs to a page that is made {place}");
                let help = format!(
                    "let this page be such a one (front line  for: {}), or leave the block out",
                    place.trim_start_matches("for ")
                );
                self.says("block-elsewhere", expr.span(), says, &help);
            }
            scope::Block::Unknown(known) => {
                let says = format!("there is no block `{}`", name.escape_debug());
                self.says("unknown-block", expr.span(), says, &guess(name, &known));
            }
        }
    }
}
