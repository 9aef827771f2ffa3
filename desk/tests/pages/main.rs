//! Promises of the desk's addresses, without a browser.

mod against_before;
mod board;
mod coil;
mod confirmed;
mod door;
mod evidence;
mod faults;
mod form;
mod needs_early;
mod of_one_file;
mod planned;
mod questions;
mod record;
mod visit;
mod weight;
mod welds;
