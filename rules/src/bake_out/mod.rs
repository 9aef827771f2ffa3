//! Hydrogen bake-out by diffusion: how long until a share of the hydrogen is left, and what a hold leaves behind.
//!
//! [`of_weld()`] says what a weld asks, [`bake_out()`] answers; [`Wall`] gives the shares by the Fourier number (Crank 1975); [`Layers`] marches a
//! wall of several metals.

mod answer;
mod history;
mod law;
mod layers;
mod of_weld;
mod refused;
mod series;
mod wall;

pub mod diffusivity;
pub mod value;

pub use answer::{AfterHistory, Asked, BakeOut, ByCoefficient, HoldLeaves, TimeTo, bake_out};
pub use history::History;
pub use layers::{Layer, Layers};
pub use of_weld::{OfWeld, of_weld};
pub use refused::Hopeless;
pub use wall::{Left, Wall, Where};
