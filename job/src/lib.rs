//! The job: its files, and the flows that lead from them to a plan or a record.

pub mod at_rest;
pub mod calendar;
pub mod confirmed;
pub mod document;
pub mod edit;
mod file;
pub mod folder;
pub mod foreseen;
pub mod hopeless;
pub mod known_names;
mod model;
pub mod need;
pub mod new_welds;
pub mod nominal_pipe;
pub mod pattern;
pub mod plan;
pub mod plan_before;
pub mod plan_json;
pub mod planned;
pub mod programme;
pub mod record;
pub mod rest_change;
pub mod rest_numbers;
pub mod same_pipe;
pub mod section;
pub mod sheet;
pub mod stands_against;
pub mod toml_reader;
mod turns_matched;
pub mod typed;
pub mod weld_list;
mod wording;

pub use file::{Account, NeedJob, Refusal, is_card, read, read_need, read_with, shape};
pub use model::{BlanketWish, CycleWish, Equipment, Identification, Job, Paper, Person, Taken};
