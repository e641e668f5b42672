//! Arithmetic that can show its work: units, figures as printed, formulas, the worked sheet.
//!
//! Knows nothing of plants, plans or paper.

pub mod arithmetic;
pub mod audit;
pub mod expression;
pub mod figures;
pub mod formula;
pub mod line;
pub mod quantity;
pub mod sheet;
mod spelling;
pub mod step;
pub mod traced;
pub mod unit;

pub use arithmetic::Number;
pub use expression::{Expression, Symbol};
pub use formula::{Card, Datum, Formula, Name, Origin, Pen, Silent};
pub use quantity::Measure;
pub use sheet::Sheet;
pub use step::{From, Given, Step};
pub use traced::Traced;
pub use unit::Unit;
