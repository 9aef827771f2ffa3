//! Power of the source as it was planned, at the times of the log.

use quantity::Hours;

use super::pieces::Piece;
use super::plan_read::PlanRead;

/// The power that the plan foresaw at one time of the log.
#[derive(Clone, Copy, Debug)]
pub struct PowerForeseen {
    /// Time since the first scan of the log.
    pub at: Hours,
    /// Out of the source in kW.
    pub source_kw: f64,
    /// Number of the piece.
    pub piece: usize,
}

pub(super) fn powers(plan: &PlanRead, laid: &[Piece]) -> Vec<PowerForeseen> {
    let of_piece = |(piece, one): (usize, &Piece)| {
        let (piece, one) = (piece, *one);
        plan.powers.iter().filter_map(move |power| {
            let log_s = one.log_from_s + power.time_s - one.plan_from_s;
            one.plan_time_s(log_s).map(|_| PowerForeseen {
                at: Hours::from_s(log_s),
                source_kw: power.source_kw,
                piece,
            })
        })
    };
    laid.iter().enumerate().flat_map(of_piece).collect()
}
