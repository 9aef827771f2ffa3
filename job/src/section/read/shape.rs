//! Placeholder.
use super::super::problem::SectionProblem;
use crate::toml_reader::Faults;
pub fn check(_: &SectionProblem, _: &Faults) {}
