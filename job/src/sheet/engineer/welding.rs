//! What the welding before this heat needs, and what becomes of its hydrogen.

use report::Block;

use super::needs::note;
use crate::need::blocks::{after_cycle, bake_out, compared};
use crate::sheet::PlanSheet;

/// Preheat by every method, the bake-out, and what this cycle leaves of the hydrogen.
pub(super) fn blocks(plan: &PlanSheet) -> Vec<Block> {
    let units = plan.job.units;
    let mut blocks = compared(plan.preheat, units);
    blocks.extend(bake_out(plan.bake_out, units));
    let answer = &plan.bake_out.answer;
    blocks.extend(after_cycle(answer).map(Block::paragraph));
    let remarks = plan.preheat.remarks.iter().chain(&answer.remarks);
    blocks.push(Block::Notes(remarks.map(note).collect()));
    blocks
}
