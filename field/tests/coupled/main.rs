//! Field and heat together: what a run promises.

mod hour;
mod pipe;
mod rest;
mod trials;
