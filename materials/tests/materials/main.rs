//! What the materials room promises.

mod air;
mod blankets;
mod cables;
mod magnetization;
mod metals;
mod names;
mod page;
mod standards;
