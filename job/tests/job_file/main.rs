//! What a person may rely on when a job file is read.

mod demos;
mod examples;
mod faults;
mod keys;
mod mutated;
mod reading;
mod spelled;
mod us_units;
mod welding;
