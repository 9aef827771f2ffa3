//! The board: every weld of the project with its state and what is missing.

mod calibrations;
mod create;
mod page;
mod register;
mod weld_list;

pub use create::{create, demo_log, has_demo_log};
pub use job::folder::Row;
pub use page::{path_of, show, state_line};
pub use register::Register;
pub use weld_list::{check_list, make_from_list, template};
