//! Columns side by side.

use crate::sheet::Column;

use super::blocks::Setter;
use super::slab::{Slab, stacked};

impl Setter {
    /// Columns as one piece, their first lines level.
    pub(super) fn columns<'a>(&mut self, columns: &'a [Column], width_pt: f64) -> Slab<'a> {
        let shares: f64 = columns.iter().map(share).sum();
        let room_pt =
            width_pt - self.setting.column_gap_pt * columns.len().saturating_sub(1) as f64;
        let mut whole = Slab::default();
        let mut x_pt = 0.0;
        for column in columns {
            let column_pt = room_pt * share(column) / shares;
            let slabs = self.blocks(&column.blocks, column_pt);
            let stack = stacked(slabs);
            whole.before_pt = whole.before_pt.max(stack.before_pt);
            whole.height_pt = whole.height_pt.max(stack.height_pt);
            whole.take(stack, x_pt, 0.0);
            x_pt += column_pt + self.setting.column_gap_pt;
        }
        whole
    }
}

fn share(column: &Column) -> f64 {
    if column.share.is_finite() {
        column.share.max(0.05)
    } else {
        1.0
    }
}
