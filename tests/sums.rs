//! Somebody else does the sums: every calculation that is printed in the Markdown of a booklet, a
//! class sheet or its key is read back as text and worked again by a general expression engine
//! (rhai), which knows nothing of this program. It has to find the printed result to its last digit.

#![expect(clippy::print_stdout, reason = "how much was worked again")]

use std::collections::BTreeMap;
use std::fmt::Write;

use binleaf::cli::Class;
use binleaf::run::{self, Worked};
use binleaf::write::markdown;
use comrak::nodes::{Node, NodeValue};
use comrak::{Arena, parse_document};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use rhai::{Engine, Scope};

use crate::good_plans;
use crate::properties::{tote, watered};

/// Digits that a result is printed with, without zeros at its end.
const DIGITS: f64 = 4.0;

#[derive(Debug, Clone, PartialEq)]
enum Token {
    Number(f64),
    Symbol(String),
    /// A sign, a bracket or a semicolon.
    Sign(char),
    Function(&'static str),
    Power(u32),
}

/// Words and signs before a bracket, and what the engine calls them.
const FUNCTIONS: [(&str, &str); 5] =
    [("exp", "exp"), ("ln", "ln"), ("√", "sqrt"), ("larger of ", "max"), ("smaller of ", "min")];

/// Takes a line apart; `Err` is what could not be read.
fn tokens(line: &str) -> Result<Vec<Token>, String> {
    let mut all = Vec::new();
    let mut rest = line.trim();
    while let Some(c) = rest.chars().next() {
        let function = FUNCTIONS.iter().find(|(word, _)| rest.starts_with(&format!("{word}(")));
        if let Some((word, name)) = function {
            all.push(Token::Function(name));
            rest = &rest[word.len()..];
        } else if c.is_ascii_digit() {
            let (number, after) = number(rest).ok_or_else(|| format!("no number: {rest}"))?;
            all.push(Token::Number(number));
            rest = after;
            rest = rest.strip_prefix(' ').map_or(rest, after_unit);
        } else if raised(c).is_some() {
            let digits: Vec<u32> = rest.chars().map_while(raised).collect();
            all.push(Token::Power(digits.iter().fold(0, |n, d| 10 * n + d)));
            rest = rest.trim_start_matches(|c| raised(c).is_some());
        } else if SIGNS.contains(&c) {
            all.push(Token::Sign(c));
            rest = &rest[c.len_utf8()..];
        } else if c.is_alphabetic() {
            let end = rest.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(rest.len());
            // Raised digits count as numeric.
            let end = rest[..end].find(|c| raised(c).is_some()).unwrap_or(end);
            all.push(Token::Symbol(rest[..end].into()));
            rest = &rest[end..];
        } else {
            return Err(format!("{c} in {line}"));
        }
        rest = rest.trim_start();
    }
    Ok(all)
}

const SIGNS: [char; 7] = ['+', '−', '×', '÷', '(', ')', ';'];

/// What follows a unit: all from the next sign on, for a unit may have brackets of its own,
/// "s/(m·d)", but no sign.
fn after_unit(text: &str) -> &str {
    let (mut open, mut before) = (0, ' ');
    for (at, c) in text.char_indices() {
        match c {
            '(' if before == '/' => open += 1,
            ')' if open > 0 => open -= 1,
            _ if SIGNS.contains(&c) => return &text[at..],
            _ => {}
        }
        before = c;
    }
    ""
}

fn raised(c: char) -> Option<u32> {
    "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().position(|r| r == c).and_then(|n| u32::try_from(n).ok())
}

/// A number at the start: "36", "0.25", "1 1/2", "3/4".
fn number(text: &str) -> Option<(f64, &str)> {
    let plain =
        |text: &str| text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let fraction = |text: &str| -> Option<(f64, usize)> {
        let (over, rest) = text.split_at(plain(text));
        let rest = rest.strip_prefix('/')?;
        let under = &rest[..plain(rest)];
        Some((over.parse::<f64>().ok()? / under.parse::<f64>().ok()?, over.len() + 1 + under.len()))
    };
    if let Some((value, length)) = fraction(text) {
        return Some((value, &text[length..]));
    }
    let (whole, rest) = text.split_at(plain(text));
    let value: f64 = whole.parse().ok()?;
    match rest.strip_prefix(' ').and_then(|r| fraction(r).map(|f| (f, r))) {
        Some(((part, length), r)) => Some((value + part, &r[length..])),
        None => Some((value, rest)),
    }
}

/// What stands first in a cell or a result.
fn quantity(text: &str) -> Result<f64, String> {
    match &tokens(text)?[..] {
        [Token::Number(n)] => Ok(*n),
        [Token::Sign('−'), Token::Number(n)] => Ok(-n),
        _ => Err(format!("no quantity: {text}")),
    }
}

/// Works a line whose symbols have all been replaced by numbers.
fn work(engine: &Engine, line: &[Token]) -> Result<f64, String> {
    let (mut script, mut scope) = (String::new(), Scope::new());
    for (i, token) in line.iter().enumerate() {
        let name = format!("n{i}");
        let part = match token {
            Token::Number(n) => {
                scope.push_constant(name.as_str(), *n);
                name
            }
            Token::Sign('−') => "-".into(),
            Token::Sign('×') => "*".into(),
            Token::Sign('÷') => "/".into(),
            Token::Sign(';') => ",".into(),
            Token::Sign(c) => c.to_string(),
            Token::Function(name) => (*name).into(),
            Token::Power(n) => format!("**{n}.0"),
            Token::Symbol(s) => return Err(format!("{s} has no number")),
        };
        write!(script, "{part} ").unwrap();
    }
    engine
        .eval_expression_with_scope::<f64>(&mut scope, &script)
        .map_err(|e| format!("{e} in {script}"))
}

/// Is `found` the printed number, to its last digit?
fn agrees(found: f64, printed: f64) -> bool {
    if printed == 0.0 {
        return found == 0.0;
    }
    let last = 10_f64.powf(printed.abs().log10().floor() + 1.0 - DIGITS);
    (found - printed).abs() <= 0.5 * last * (1.0 + 1e-6)
}

/// The numbers of a worked line, one for each symbol of its formula in order.
fn put_in(formula: &[Token], numbers: &[Token]) -> Result<Vec<f64>, String> {
    use Token::{Number, Sign};
    let mut rest = numbers;
    let mut all = Vec::new();
    for token in formula {
        let (taken, value) = match (token, rest) {
            (Token::Symbol(_), [Sign('('), Sign('−'), Number(n), Sign(')'), ..]) => (4, Some(-n)),
            (Token::Symbol(_), [Sign('('), Number(n), Sign(')'), ..]) => (3, Some(*n)),
            (Token::Symbol(_), [Sign('−'), Number(n), ..]) => (2, Some(-n)),
            (Token::Symbol(_), [Number(n), ..]) => (1, Some(*n)),
            (token, [same, ..]) if token == same => (1, None),
            _ => return Err(format!("{token:?} of the formula stands against {rest:?}")),
        };
        all.extend(value);
        rest = &rest[taken..];
    }
    if rest.is_empty() { Ok(all) } else { Err(format!("{rest:?} has no symbol")) }
}

/// A calculation as it is read.
#[derive(Debug, Default, Clone)]
struct Sum {
    title: String,
    /// Symbol, formula, numbers put in, result.
    lines: Vec<(String, String)>,
    /// Heads and rows of the tables under it.
    tables: Vec<Vec<Vec<String>>>,
}

/// Letters as a reader sees them; what stands below the line begins with an underscore.
#[expect(clippy::wildcard_enum_match_arm, reason = "all else has no letters")]
fn letters(node: Node<'_>) -> String {
    let mut out = String::new();
    for node in node.descendants() {
        match &node.data().value {
            NodeValue::Text(text) => out.push_str(text),
            NodeValue::HtmlInline(html) if html == "<sub>" => out.push('_'),
            _ => {}
        }
    }
    out
}

/// The calculations of a document.
#[expect(clippy::wildcard_enum_match_arm, reason = "all else is no part of a calculation")]
fn read(text: &str) -> Vec<Sum> {
    let arena = Arena::new();
    let root = parse_document(&arena, text, &markdown::options());
    let mut sums: Vec<Sum> = Vec::new();
    let mut open = false;
    for node in root.children() {
        let words = letters(node);
        match &node.data().value {
            NodeValue::Paragraph => {
                let strong = node.first_child();
                let strong = strong.is_some_and(|c| matches!(c.data().value, NodeValue::Strong));
                let number = words.split_once(". ").map(|(n, _)| n.parse::<usize>().is_ok());
                if strong && number == Some(true) {
                    sums.push(Sum { title: words, ..Sum::default() });
                    open = true;
                }
            }
            NodeValue::List(_) if open => {
                let lines = node.children().map(letters);
                let sum = sums.last_mut().unwrap();
                sum.lines.extend(lines.map(|line| {
                    let (left, right) = line.split_once(" = ").unwrap();
                    (left.to_string(), right.to_string())
                }));
            }
            NodeValue::Table(_) if open => {
                let row = |row: Node<'_>| row.children().map(letters).collect::<Vec<_>>();
                sums.last_mut().unwrap().tables.push(node.children().map(row).collect());
            }
            NodeValue::Heading(_) | NodeValue::ThematicBreak => open = false,
            _ => {}
        }
    }
    sums
}

/// What is put in by a row of a table: values by symbol, several if a symbol stands twice.
fn row_values(heads: &[String], row: &[String]) -> Result<BTreeMap<String, Vec<f64>>, String> {
    let mut values: BTreeMap<String, Vec<f64>> = BTreeMap::new();
    // Before them stands what it is for, after them the result.
    for (head, cell) in heads.iter().zip(row).take(heads.len() - 1).skip(1) {
        if head != "Put in" {
            values.entry(head.clone()).or_default().push(quantity(cell)?);
            continue;
        }
        for part in cell.split("; ") {
            let (symbol, number) = part.split_once(" = ").ok_or(part)?;
            values.entry(symbol.into()).or_default().push(quantity(number)?);
        }
    }
    Ok(values)
}

/// The formula with the numbers of a row, and those of the worked line where it is silent.
fn filled(formula: &[Token], worked: &[f64], row: &BTreeMap<String, Vec<f64>>) -> Vec<Token> {
    let mut worked = worked.iter();
    let mut met: BTreeMap<&str, usize> = BTreeMap::new();
    let mut line = Vec::new();
    for token in formula {
        let Token::Symbol(symbol) = token else {
            line.push(token.clone());
            continue;
        };
        let own = worked.next().copied().unwrap();
        let at = met.entry(symbol).or_insert(0);
        let value = row.get(symbol).map_or(own, |all| all[(*at).min(all.len() - 1)]);
        *at += 1;
        // As on paper: in brackets, so that a minus or a power takes the whole of it.
        line.extend([Token::Sign('('), Token::Number(value), Token::Sign(')')]);
    }
    line
}

/// Works all calculations of a document again, those of `key` for the answers that a class sheet
/// leaves open, and counts them.
pub(crate) fn check(engine: &Engine, sheet: &str, key: Option<&str>) -> Result<usize, String> {
    let sums = read(sheet);
    let keys = key.map(read);
    let mut count = 0;
    if keys.as_ref().is_some_and(|k| k.len() != sums.len()) {
        return Err("sheet and key differ".into());
    }
    for (i, sum) in sums.iter().enumerate() {
        let worked = keys.as_ref().map_or(sum, |k| &k[i]);
        let place = |e: String| format!("{}: {e}", sum.title);
        let [(_, formula), (_, numbers), (symbol, result)] = &worked.lines[..] else {
            return Err(place("has no three lines".into()));
        };
        let (formula, numbers) = (tokens(formula)?, tokens(numbers).map_err(place)?);
        same(work(engine, &numbers).map_err(place)?, result).map_err(place)?;
        count += 1;
        let own = put_in(&formula, &numbers).map_err(place)?;
        let answers: BTreeMap<&str, &str> = key
            .and_then(|_| worked.tables.first())
            .map(|table| table[1..].iter().map(|r| (r[0].as_str(), r[1].as_str())).collect())
            .unwrap_or_default();
        for table in &sum.tables {
            let (heads, rows) = table.split_first().unwrap();
            if heads.last() != Some(symbol) {
                return Err(place(format!("its table ends with {heads:?}")));
            }
            for row in rows {
                let values = row_values(heads, row).map_err(place)?;
                let printed = match answers.get(row[0].as_str()) {
                    Some(answer) => answer,
                    None => row.last().unwrap().as_str(),
                };
                let line = filled(&formula, &own, &values);
                same(work(engine, &line).map_err(place)?, printed)
                    .map_err(|e| place(format!("{}: {e}", row[0])))?;
                count += 1;
            }
        }
    }
    Ok(count)
}

fn same(found: f64, printed: &str) -> Result<(), String> {
    let wanted = quantity(printed)?;
    if agrees(found, wanted) { Ok(()) } else { Err(format!("{found} is not {printed}")) }
}

pub(crate) fn engine() -> Engine {
    let mut engine = Engine::new();
    engine.set_max_expr_depths(0, 0);
    engine
}

pub(crate) fn grower(plan: &Worked) -> String {
    markdown::write(&plan.booklet().unwrap().unwrap(), "d/")
}

fn class(plan: &Worked, key: bool, groups: u32) -> String {
    let class = Class { groups, ..Class::default() };
    markdown::write(&plan.worksheet(key, &class).unwrap().unwrap(), "d/")
}

#[test]
fn every_printed_sum_is_right() {
    let engine = engine();
    let (mut grown, mut taught) = (0, 0);
    for (name, text) in good_plans() {
        let plan = run::work(text, &name);
        let count = check(&engine, &grower(&plan), None);
        grown += count.unwrap_or_else(|e| panic!("{name}: {e}"));
        for groups in [1, 3] {
            let (sheet, key) = (class(&plan, false, groups), class(&plan, true, groups));
            let count = check(&engine, &sheet, Some(&key));
            taught += count.unwrap_or_else(|e| panic!("{name}, {groups} groups: {e}"));
        }
    }
    println!("{grown} lines of booklets and {taught} of class sheets worked again");
    assert!(grown > 800 && taught > 1000, "{grown} and {taught}");
}

/// A line that is wrong, or cannot be read, is found.
#[test]
fn a_wrong_sum_is_found() {
    let (name, text) = good_plans().remove(0);
    let good = grower(&run::work(text, &name));
    let engine = engine();
    assert!(check(&engine, &good, None).is_ok());
    let line = good.lines().find(|l| l.starts_with("- h<sub>start</sub> = **")).unwrap();
    let wrong = good.replacen(line, "- h<sub>start</sub> = **123.4 mm**", 1);
    assert!(check(&engine, &wrong, None).unwrap_err().contains("is not 123.4 mm"));
    let torn = good.replacen(line, "- h<sub>start</sub> = **about an inch**", 1);
    assert!(check(&engine, &torn, None).unwrap_err().contains("no quantity"));
    // The last digit counts.
    assert!(agrees(0.12344, 0.1234) && !agrees(0.12346, 0.1234));
    assert_eq!(quantity("1 1/2 tsp/gal"), Ok(1.5));
    let six = tokens("(−2 per mL²) × (3 m)² ÷ larger of (−6 kg; 2 kg) + √(ln(exp(9)))").unwrap();
    assert_eq!(work(&engine, &six), Ok(-6.0));
}

/// Works the sums of `cases` random plans again, and counts their lines.
fn random<S: Strategy<Value = String>>(cases: u32, plans: &S) -> usize {
    let engine = engine();
    let count = std::cell::Cell::new(0);
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    let tried = TestRunner::new(config).run(plans, |text| {
        let plan = run::work(text, "random");
        prop_assert!(plan.done.is_some(), "{:?}", plan.findings);
        match check(&engine, &grower(&plan), None) {
            Ok(lines) => count.set(count.get() + lines),
            Err(e) => return Err(TestCaseError::fail(e)),
        }
        Ok(())
    });
    tried.unwrap();
    println!("{} lines of {cases} random plans worked again", count.get());
    count.get()
}

#[test]
fn the_sums_of_five_hundred_bins_are_right() {
    let sides = (300u32..900, 250u32..600, 0u32..80, 0u32..60);
    let plans = (sides, (150u32..500, 1u32..7, 50u32..120, any::<bool>()));
    let plans = plans.prop_map(|((a, b, wider, deeper), (depth, plants, percent, us))| {
        let factor = f64::from(percent) / 100.0;
        let text = tote((a, b), (a + wider, b + deeper), depth, plants, factor);
        let units = if us { "US" } else { "metric" };
        text.replace("sown =", &format!("print = {{ units = \"{units}\" }}\nsown ="))
    });
    assert!(random(500, &plans) > 20_000);
}

#[test]
fn the_sums_of_five_hundred_waters_are_right() {
    let water = (3.0..11.0_f64, 0.0..600.0_f64, 5.0..35.0_f64);
    let salts = (
        proptest::collection::vec(0.0..400.0_f64, 7),
        proptest::collection::vec(0.005..3.0_f64, 4),
        prop::sample::select(vec!["phosphoric acid", "citric acid", "lye", "lime"]),
    );
    let plans = (water, salts).prop_map(|((ph, alkalinity, celsius), (ions, doses, target))| {
        watered(ph, alkalinity, &ions, &doses, celsius, target)
    });
    assert!(random(500, &plans) > 20_000);
}
