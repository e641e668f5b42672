//! Calculations in the Markdown booklet: formula, numbers put in and result, a line each.

use comrak::nodes::{Node, NodeValue};

use super::markdown::Writer;
use crate::booklet::block::{Inline, Line, Worked, plain};
use crate::number::line::Written;

impl<'a> Writer<'a, '_> {
    pub(super) fn worked(&self, parent: Node<'a>, worked: &Worked) {
        let title = format!("{}. {}", worked.number, worked.title);
        let title = Inline::Strong { of: plain(title) };
        let about = plain(format!(" ({})", worked.about));
        self.paragraph(parent, &[vec![title], about].concat());
        self.equalities(parent, worked);
        let accept = (!worked.accept.is_empty()).then(|| format!("{}.", worked.accept));
        for judged in accept.iter().chain(&worked.wrong) {
            self.paragraph(parent, &plain(judged.as_str()));
        }
        let mut legend: Line = Vec::new();
        for (symbol, what, from) in &worked.legend {
            legend.extend(plain(if legend.is_empty() { "" } else { "; " }));
            legend.push(Inline::Symbol(symbol.clone()));
            legend.extend(plain(format!(": {what} ({from})")));
        }
        if !legend.is_empty() {
            self.paragraph(parent, &[legend, plain(".")].concat());
        }
        if !worked.source.is_empty() {
            self.paragraph(parent, &[Inline::Emphasis { of: plain(worked.source.as_str()) }]);
        }
        if let Some(others) = &worked.others {
            self.table(parent, others);
        }
    }

    /// Symbol = formula, = numbers put in, = result: a line each.
    fn equalities(&self, parent: Node<'a>, worked: &Worked) {
        let piece = |piece: Written| match piece {
            Written::Letters(text) => Inline::Text { text: self.told(text) },
            Written::Symbol(symbol) => Inline::Symbol(symbol),
        };
        let formula = worked.expression.written(false).into_iter().map(piece).collect();
        let result = Inline::Strong { of: plain(worked.result.as_str()) };
        let (list, kind) = self.list(false);
        for right in [formula, plain(worked.numbers.as_str()), vec![result]] {
            let left = [vec![Inline::Symbol(worked.symbol.clone())], plain(" = ")].concat();
            let item = self.node(NodeValue::Item(kind));
            self.paragraph(item, &[left, right].concat());
            list.append(item);
        }
        parent.append(list);
    }

    /// The few words of a formula, in the booklet's language.
    fn told(&self, text: String) -> String {
        let all = ["larger of", "smaller of"].into_iter();
        all.filter_map(|word| Some((word, self.words.get(word)?)))
            .fold(text, |text, (word, own)| text.replace(word, own))
    }
}
