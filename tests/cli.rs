//! (written below)
