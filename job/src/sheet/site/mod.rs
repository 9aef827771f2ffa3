//! The page to work from: what is wrapped where, how it is heated, what to tick, what to heed.

mod channels;
mod cycle_card;
mod head;
mod safety;
mod section;
mod shape;
mod source_card;
mod unrolled;
mod wrap;

pub(super) use unrolled::number;

use report::{Block, Column, Sheet};

use super::PlanSheet;

/// How much room the parts of the page take; tried from generous to tight until the page holds them.
#[derive(Clone, Copy, Debug)]
struct Room {
    /// Height of the unrolled wrap in mm on paper.
    unrolled_mm: f64,
    /// Height of the drawn cycle in mm on paper.
    cycle_mm: f64,
    /// Whether the cautions of this weld stand here too, or only on the page after.
    all_cautions: bool,
}

/// From generous to tight.
const ROOMS: [Room; 8] = [
    room(60.0, 36.0, true),
    room(48.0, 32.0, true),
    room(40.0, 28.0, true),
    room(40.0, 26.0, false),
    room(32.0, 22.0, false),
    room(26.0, 20.0, false),
    room(21.0, 20.0, false),
    room(18.0, 17.0, false),
];

const fn room(unrolled_mm: f64, cycle_mm: f64, all_cautions: bool) -> Room {
    Room {
        unrolled_mm,
        cycle_mm,
        all_cautions,
    }
}

/// The page: one that is held together where its parts fit on the paper, else the same parts over two.
pub(super) fn page(plan: &PlanSheet, frame: &Sheet) -> Vec<Block> {
    for room in ROOMS {
        let blocks = vec![Block::OnePage(parts(plan, room))];
        let trial = Sheet {
            blocks: blocks.clone(),
            ..frame.clone()
        };
        if report::one_page_fits(&trial).is_ok_and(|fits| fits.iter().all(report::Fit::fits)) {
            return blocks;
        }
    }
    let mut blocks = parts(plan, ROOMS[ROOMS.len() - 1]);
    blocks.push(Block::PageBreak);
    blocks
}

fn parts(plan: &PlanSheet, room: Room) -> Vec<Block> {
    let mut blocks = head::head(plan);
    blocks.push(wrap::figure(plan, room.unrolled_mm));
    blocks.push(Block::Columns(vec![
        Column::new(
            1.2,
            vec![cycle_card::numbers(plan), source_card::settings(plan)],
        ),
        Column::new(
            1.0,
            vec![
                cycle_card::curve(plan, room.cycle_mm),
                safety::checks(plan, room.all_cautions),
            ],
        ),
    ]));
    blocks.push(channels::table(plan));
    blocks.extend(safety::sign(plan));
    blocks
}
