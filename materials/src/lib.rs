//! Metals, blankets, cables, surfaces and air: properties over temperature, each with its source and status.
//!
//! A *property* here is a [`quantity::Curve`]: points over temperature, straight lines between them, refused outside
//! with both numbers. The trap is that printed tables disagree by 5-20 %, above all for chromium steels, so a metal
//! also knows how low and how high a property may be ([`Metal::at_edge`]) and a plan can say what that does.
//!
//! All numbers live in `data/`; `docs/materials.md` says which set is recommended and why.

mod air;
mod blanket;
mod cable;
mod entry;
mod error;
mod find;
mod heat;
mod magnetization;
mod metal;
mod metal_file;
mod metals;
mod ranged;
mod sources;
mod spelling;
mod standard;
mod surface;

pub use air::{Air, AirCheck, air};
pub use blanket::{Blanket, blanket, blankets};
pub use cable::{Cable, Cooling, cable, cables};
pub use error::MaterialError;
pub use heat::heat_content;
pub use magnetization::{CurieLaw, Magnetization, MagnetizationForm};
pub use metal::{CheckValue, Edge, Metal, Property};
pub use metals::{metal, metals};
pub use ranged::Ranged;
pub use sources::{Work, works};
pub use standard::{standard, standard_names};
pub use surface::{Surface, surface, surfaces};
