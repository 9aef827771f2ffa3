//! Hydrogen bake-out by diffusion: how long until a share of the hydrogen is left, and what a hold leaves behind.
//!
//! [`bake_out()`] answers for a weld; [`Wall`] gives the shares by the Fourier number (Crank 1975); [`Layers`] marches a
//! wall of several metals.

mod answer;
mod history;
mod layers;
mod series;
mod wall;

pub mod diffusivity;
pub mod value;

pub use answer::{Asked, BakeOut, ByCoefficient, HoldLeaves, Hopeless, bake_out};
pub use history::History;
pub use layers::{Layer, Layers};
pub use wall::{Left, Wall, Where};
