//! Eddy currents and heat in a section of metal: finite elements in plain SI numbers.
//!
//! The flow: a [`section::Section`] (polygons, windings) is meshed into a [`mesh::Mesh`], carries quadratic
//! elements on a [`space::Space`], and is solved for the field (`eddy`), for temperature (`heat`), or for both
//! in time (`coupled`). Nothing here knows a material by name, a code, a file or a clock.

pub mod coupled;
pub mod eddy;
pub mod element;
pub mod error;
pub mod finder;
pub mod heat;
pub mod mesh;
pub mod permeability;
pub mod section;
pub mod space;
pub mod sparse;
pub mod table;

pub use error::FieldError;
