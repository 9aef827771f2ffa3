//! The pages of one weld: from need to record, downwards.

mod against_before;
mod drawing;
mod drop;
mod faults;
mod files;
mod form;
mod look;
mod named;
mod page;
mod plan_document;
mod rest;
mod run;
mod running;
mod verdict;

pub use drawing::{Drawing, drawing};
pub use drop::drop_log;
pub use files::{ascii, plan_file, read_job, save_job};
pub use look::{look, look_at_saved};
pub use named::{remove, rename};
pub use page::show;
pub use rest::{rest, rest_of_saved};
pub use run::{Runs, begin, cancel, events};
pub use running::running;
