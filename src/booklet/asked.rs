//! What a page of one's own asks for within its braces: values, filters, choices, calls.
#![expect(clippy::wildcard_enum_match_arm, reason = "all else of the language is refused")]

use minijinja::machinery::ast::{BinOpKind, CallArg, CompareOpKind, Expr, Filter, UnaryOpKind};

use super::lint::{Lint, range};
use super::own::guess;
use super::scope::{self, Kind};
use super::words_of::FILTERS;
use crate::plan::unprintable;

impl Lint<'_> {
    pub(super) fn printed(&mut self, expr: &Expr<'_>) {
        match expr {
            Expr::Var(_) | Expr::GetAttr(_) => self.value(expr),
            Expr::Const(it) => {
                if it.value.as_str().is_some_and(|t| t.chars().any(unprintable)) {
                    let says = "a character that cannot be printed".to_string();
                    self.says("control-character", expr.span(), says, "delete it");
                }
            }
            Expr::Filter(it) => self.filtered(expr, it),
            Expr::IfExpr(it) => {
                self.condition(&it.test_expr);
                self.printed(&it.true_expr);
                match &it.false_expr {
                    Some(other) => self.printed(other),
                    None => self.refused(expr.span(), "`if` within braces needs its `else`"),
                }
            }
            Expr::Call(it) => self.function(expr, &it.expr, &it.args),
            _ => self.refused(expr.span(), "this cannot be printed"),
        }
    }

    /// A value that is printed is a text.
    fn value(&mut self, expr: &Expr<'_>) {
        let Some(path) = self.path(expr) else { return };
        let (what, help) = match scope::kind(&path) {
            Some(Kind::Text) | None => return,
            Some(Kind::Flag) => (
                "is yes or no, and cannot be printed",
                format!("choose by it:  {{% if {path} %}} ... {{% endif %}}"),
            ),
            Some(Kind::List) => {
                ("is a list", format!("go over it:  {{% for one in {path} %}} ... {{% endfor %}}"))
            }
            Some(Kind::Group) => {
                let parts = self.scope.within(&path).join(", ");
                ("is a group of values", format!("say which: {parts}"))
            }
        };
        let written = self.written(expr, &path);
        self.says("wrong-kind", expr.span(), format!("`{written}` {what}"), &help);
    }

    fn filtered(&mut self, whole: &Expr<'_>, it: &Filter<'_>) {
        let Some(inner) = &it.expr else { return };
        if FILTERS.iter().any(|(name, _)| *name == it.name) && it.args.is_empty() {
            return self.printed(inner);
        }
        let says = format!("there is no filter `{}`", it.name.escape_debug());
        let known = FILTERS.map(|(name, _)| name);
        self.says("unknown-filter", whole.span(), says, &guess(it.name, &known));
        // The place is the filter's name; it is blanked with its value.
        self.masks.pop();
        self.masks.push(range(inner.span()).start..range(whole.span()).end);
    }

    /// A value as the page writes it: a part of a list has a name of its own there.
    fn written(&self, expr: &Expr<'_>, path: &str) -> String {
        let written = self.page.text.get(range(expr.span())).unwrap_or(path);
        written.escape_debug().to_string()
    }

    /// A call of a function that gives words: its arguments are plain.
    fn function(&mut self, whole: &Expr<'_>, name: &Expr<'_>, args: &[CallArg<'_>]) {
        let Expr::Var(name) = name else {
            return self.refused(whole.span(), "pages call nothing but blocks");
        };
        let plain: Option<Vec<_>> = args
            .iter()
            .map(|arg| match arg {
                CallArg::Pos(Expr::Const(it)) => Some(it.value.clone()),
                _ => None,
            })
            .collect();
        let Some(plain) = plain else {
            return self.refused(whole.span(), "a call takes plain words or numbers in quotes");
        };
        match scope::arguments(name.id, &plain) {
            Ok(()) => {
                let ids = plain.iter().filter_map(|v| v.as_str());
                self.worked.extend(ids.map(|id| (id.to_string(), range(whole.span()))));
            }
            Err((says, help)) => self.says("page-syntax", whole.span(), says, &help),
        }
    }

    /// What is asked after `if`.
    pub(super) fn condition(&mut self, expr: &Expr<'_>) {
        match expr {
            Expr::Var(_) | Expr::GetAttr(_) => {
                let _ = self.path(expr);
            }
            Expr::Const(_) => {}
            Expr::UnaryOp(it) if matches!(it.op, UnaryOpKind::Not) => self.condition(&it.expr),
            Expr::BinOp(it) if may(it.op) => {
                self.condition(&it.left);
                self.condition(&it.right);
            }
            Expr::Compare(it)
                if it.ops.iter().all(|o| matches!(o.op, CompareOpKind::Eq | CompareOpKind::Ne)) =>
            {
                self.condition(&it.expr);
                it.ops.iter().for_each(|o| self.condition(&o.expr));
            }
            _ => {
                let says =
                    "values are texts: they can be there, or be the same, and no more".into();
                let help =
                    "write such as  {% if bin.topup_needed %}  or  {% if place == \"Shed\" %}";
                self.says("page-language", expr.span(), says, help);
            }
        }
    }

    /// The path of a value, such as `bin.name`, if there is one.
    pub(super) fn path(&mut self, expr: &Expr<'_>) -> Option<String> {
        match expr {
            Expr::Var(it) => match self.scope.find(it.id) {
                Some(path) => Some(path),
                None => self.unknown(expr, it.id, &self.scope.names()),
            },
            Expr::GetAttr(it) => {
                let Some(outer) = self.path(&it.expr) else {
                    self.masks.push(range(expr.span()));
                    return None;
                };
                let path = format!("{outer}.{}", it.name);
                if scope::kind(&path).is_some() {
                    return Some(path);
                }
                let known = self.scope.within(&outer);
                self.unknown(expr, &path, &known)
            }
            _ => {
                self.refused(expr.span(), "a value is named, such as `bin.name`");
                None
            }
        }
    }

    fn unknown(&mut self, expr: &Expr<'_>, name: &str, known: &[String]) -> Option<String> {
        let written = self.written(expr, name);
        let says = format!("there is no value `{written}` on this page");
        let known: Vec<&str> = known.iter().map(String::as_str).collect();
        let help = match scope::elsewhere(name) {
            Some(place) => format!(
                "it belongs to pages that are made {place}: front line  for: {}",
                place.trim_start_matches("for ")
            ),
            None if known.is_empty() => "it is a text and has no parts".into(),
            None => guess(&written, &known),
        };
        self.says("unknown-value", expr.span(), says, &help);
        None
    }
}

/// Operations that only choose.
fn may(op: BinOpKind) -> bool {
    matches!(op, BinOpKind::ScAnd | BinOpKind::ScOr | BinOpKind::Eq | BinOpKind::Ne)
}
