//! Section problems: a two-dimensional problem stated completely in one TOML file, solved, and held against what
//! the file expects. The format is documented in `docs/section-files.md`.

mod answer;
mod boundaries;
mod error;
mod field_alone;
mod heat_alone;
mod laws;
mod picture;
mod problem;
mod range;
mod read;
mod scene;
mod solve;
mod together;

pub use answer::{Effort, Solved, SolvedRow};
pub use error::SectionError;
pub use picture::picture;
pub use problem::{
    Asked, Blanket, Coil, Convection, Edge, Expectation, Heat, Law, Magnetization, Material,
    Radiation, RectangleSide, Row, SectionBody, SectionProblem,
};
pub use read::read;
pub use scene::Scene;
pub use solve::solve;
