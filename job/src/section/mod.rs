//! Section problems: a two-dimensional problem stated completely in one TOML file, solved, and held against what
//! the file expects. The format is documented in `docs/section-files.md`.

mod problem;
mod read;

pub use problem::{
    Asked, Blanket, Coil, Convection, Edge, Expectation, Heat, Law, Magnetization, Material,
    Radiation, RectangleSide, Row, SectionBody, SectionProblem,
};
pub use read::read;
