//! What the room promises its users.

mod bands;
mod families;
mod layout;
mod levels;
mod requirement;
mod rows;
mod thresholds;
mod two_sides;
mod welds;
