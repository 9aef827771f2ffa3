//! What the joint gives off: to the air outside through or beside the blanket, and within its bore
//! (docs/theory/surroundings.md).

pub mod bore;
pub mod boundaries;
pub mod convection;
pub mod outside;
pub mod view;
