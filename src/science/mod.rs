//! Formulas only, one subject a file. They know nothing of plans, files or paper.
//!
//! Numbers with a unit or a source are inputs; the bodies hold symbols, whole numbers and halves.

pub mod acidity;
pub mod air;
pub mod buffer;
pub mod cleaning;
pub mod curve;
pub mod dosing;
pub mod drift;
pub mod electrolyte;
pub mod evaporation;
pub mod hourly;
pub mod index;
pub mod light;
pub mod mixing;
pub mod oxygen;
pub mod pail;
pub mod radiation;
pub mod recipe;
pub mod root;
pub mod shape;
pub mod share;
pub mod speciation;
pub mod species;
pub mod supply;
pub mod thirst;
pub mod vessel;
pub mod water;

mod settle;

#[cfg(test)]
mod check;
