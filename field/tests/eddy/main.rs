//! Promises of meshing and of the eddy-current solver.

mod mesh;
mod sections;
