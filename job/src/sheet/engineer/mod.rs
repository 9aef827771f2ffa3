//! The pages of the engineer: what was found first, then what it rests on.

mod along;
pub(crate) mod bands;
mod circuit;
mod course;
mod findings;
mod foreseen;
mod ground;
pub(crate) mod needs;
pub(crate) mod picture;
mod proposal;
mod welding;

use report::{Block, Fact, Text};

use super::PlanSheet;
use crate::need::blocks::exposure;

/// Everything after the page to work from.
pub(super) fn pages(plan: &PlanSheet) -> Vec<Block> {
    let mut blocks = vec![Block::heading(1, "What the prediction says")];
    blocks.extend(findings::blocks(plan));
    blocks.extend(foreseen::blocks(plan));
    blocks.push(Block::heading(1, "What the weld needs"));
    blocks.extend(needs::blocks(plan.requirement, plan.job.units));
    blocks.extend(needs::confirmed(&plan.job.weld.confirmed));
    blocks.extend(bands::blocks(plan.bands, plan.job.units));
    blocks.extend(needs::advice(plan.advice));
    blocks.extend(welding::blocks(plan));
    blocks.push(Block::heading(1, "How it will go"));
    blocks.extend(course::blocks(plan));
    blocks.extend(along::blocks(plan));
    blocks.extend(picture::blocks(plan));
    blocks.push(Block::heading(1, "Coil, source and circuit"));
    blocks.extend(proposal::blocks(plan));
    blocks.extend(circuit::blocks(plan));
    blocks.extend(exposure(plan.exposure, plan.job.units));
    blocks.push(Block::heading(1, "What it rests on"));
    blocks.extend(ground::blocks(plan));
    blocks
}

/// A name and its value.
fn fact(name: &str, value: impl Into<Text>) -> Fact {
    Fact::new(name, value)
}
