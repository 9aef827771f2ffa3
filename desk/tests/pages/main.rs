//! Promises of the desk's addresses, without a browser.

mod door;
mod faults;
mod record;
mod visit;
mod weight;
mod welds;
