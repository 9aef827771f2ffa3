//! Differences along the pipe, from the soak band to the edge of the heated band.

use quantity::{Celsius, Hours, Kelvins, Millimeters};
use rules::thermocouple::Place;
use serde::Serialize;

use crate::channel::ChannelUse;
use crate::hold_stage::Phase;
use crate::pace::Moment;

/// The largest difference between the soak band and one place at the edge of the heated band.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Gradient {
    /// The thermocouple at the edge.
    pub edge: String,
    /// The thermocouple of the soak band with the largest difference to it.
    pub soak: String,
    /// Distance between them along the pipe.
    pub apart: Millimeters,
    /// Whether it was found in the hold; else while heating or cooling.
    pub in_hold: bool,
    /// Soak band less edge in the same scan.
    pub largest: Kelvins,
    /// What the edge read then.
    pub edge_reads: Celsius,
    /// When.
    pub when: Hours,
}

/// One difference.
#[derive(Clone, Copy, Debug)]
struct Found {
    largest_k: f64,
    edge_c: f64,
    soak: usize,
    time_s: f64,
}

/// Follows every edge in and out of the hold.
#[derive(Clone, Debug)]
pub(crate) struct GradientFold {
    soak: Vec<usize>,
    edges: Vec<(usize, [Option<Found>; 2])>,
}

impl GradientFold {
    pub fn new(channels: &[ChannelUse], soak: Vec<usize>) -> GradientFold {
        let edge = |c: &usize| channels[*c].fitted && channels[*c].place == Place::HeatedBandEdge;
        GradientFold {
            soak,
            edges: (0..channels.len())
                .filter(edge)
                .map(|c| (c, [None; 2]))
                .collect(),
        }
    }

    pub fn push(&mut self, moment: &Moment, phase: Phase) {
        let read = |c: usize| moment.readings_c[c].filter(|_| moment.judges.any[c]);
        let judging = self.soak.iter().filter(|c| moment.judges.hold[**c]);
        let soak = judging.filter_map(|c| Some((*c, read(*c)?)));
        let Some((soak, soak_c)) = soak.reduce(|a, b| if b.1 > a.1 { b } else { a }) else {
            return;
        };
        for (edge, found) in &mut self.edges {
            let Some(edge_c) = read(*edge) else { continue };
            let largest_k = soak_c - edge_c;
            let kept = &mut found[usize::from(phase == Phase::Hold)];
            if kept.is_none_or(|k| largest_k > k.largest_k) {
                *kept = Some(Found {
                    largest_k,
                    edge_c,
                    soak,
                    time_s: moment.time_s,
                });
            }
        }
    }

    pub fn told(&self, channels: &[ChannelUse]) -> Vec<Gradient> {
        let told = |edge: usize, in_hold: bool, found: &Found| Gradient {
            edge: channels[edge].name.clone(),
            soak: channels[found.soak].name.clone(),
            apart: Millimeters::from_mm(
                (channels[edge].axial.mm() - channels[found.soak].axial.mm()).abs(),
            ),
            in_hold,
            largest: Kelvins::from_k(found.largest_k),
            edge_reads: Celsius::from_c(found.edge_c),
            when: Hours::from_s(found.time_s),
        };
        let both = self.edges.iter().flat_map(|(edge, found)| {
            let [outside, inside] = found;
            [(*edge, true, inside), (*edge, false, outside)]
        });
        both.filter_map(|(edge, in_hold, found)| Some(told(edge, in_hold, found.as_ref()?)))
            .collect()
    }
}
