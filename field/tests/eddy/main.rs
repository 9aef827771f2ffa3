//! Promises of meshing and of the eddy-current solver.

mod any_mesh;
mod closed_forms;
mod mesh;
mod order;
mod outlets;
mod refused;
mod sections;
mod trade;
