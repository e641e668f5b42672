//! What a page may call: filters, blocks, the numbers of calculations.

use std::collections::BTreeMap;
use std::sync::Arc;

use minijinja::value::Rest;
use minijinja::{Environment, Error};

use super::catalogue::CALLS;
use super::language::Language;
use super::page::working;
use super::words::MARK;

/// Filters, block calls and the numbers of calculations.
pub(super) fn add_calls(
    environment: &mut Environment<'_>,
    numbered: BTreeMap<&'static str, usize>,
    language: &Arc<Language>,
) {
    environment.add_filter("upper", minijinja::filters::upper);
    environment.add_filter("lower", minijinja::filters::lower);
    environment.add_filter("capitalize", minijinja::filters::capitalize);
    for call in CALLS {
        environment.add_function(call, move || mark(call));
    }
    environment.add_function("write_lines", |n: u32| mark(&format!("write-lines {n}")));
    environment.add_function("write_to_end", || mark("write-lines 0"));
    let places = numbered.clone();
    let tongue = Arc::clone(language);
    environment.add_function("worked", move |id: &str| match numbered.get(id) {
        Some(number) => Ok(tongue.say(&format!("calculation {number}"))),
        None => Ok::<_, Error>(tongue.say("the working")),
    });
    let tongue = Arc::clone(language);
    environment.add_function("worked_in", move |ids: Rest<String>| {
        let all = ids.iter().filter_map(|id| places.get(id.as_str()).copied());
        tongue.say(&working::together(all))
    });
}

fn mark(name: &str) -> String {
    format!("{}{name}{}", MARK[0], MARK[1])
}
