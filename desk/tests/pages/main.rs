//! Promises of the desk's addresses, without a browser.

mod confirmed;
mod door;
mod faults;
mod needs_early;
mod planned;
mod record;
mod visit;
mod weight;
mod welds;
