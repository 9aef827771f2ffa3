//! What a plan promises, from setup to outcome.

mod accuracy;
mod books;
mod following;
mod proposing;
mod refused;
mod setups;
mod trends;
