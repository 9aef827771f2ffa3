//! What a person may rely on when a job becomes a plan.

mod data;
mod foreseen;
mod invented;
mod purposes;
mod rest_change;
mod welding;
