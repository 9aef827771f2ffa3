//! The job: its files, and the flows that lead from them to a plan or a record.

pub mod section;
pub mod toml_reader;
