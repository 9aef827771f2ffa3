//! Where and when a number is what it is.

use quantity::{Hours, Units};

use super::file::{Course, Peak};
use crate::rest_numbers::Shown;

/// From the begin of the hold so long the wall is still evening out.
const BEGINNING_H: f64 = 5.0 / 60.0;

/// Where and when.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Place {
    /// In the metal, or on which thermocouple.
    pub at: String,
    /// When, and what else is to be known of that time.
    pub when: String,
}

impl Place {
    /// Of a peak in the metal.
    pub(super) fn of(peak: &Peak, course: &Course, units: Units) -> Place {
        let wall_mm = course.wall_mm(peak.axial_mm);
        Place {
            at: Shown(units).place(peak.axial_mm, peak.depth_mm, wall_mm),
            when: format!("at {}", Hours::from_h(peak.time_h).words()),
        }
    }

    /// Of the coldest of the hold, which says so where it is of its very beginning.
    pub(super) fn of_coldest(peak: &Peak, course: &Course, units: Units) -> Place {
        let mut place = Place::of(peak, course, units);
        if course
            .hold_from_h()
            .is_some_and(|from| peak.time_h < from + BEGINNING_H)
        {
            place.when += ", at the beginning of the hold, before the wall has evened out";
        }
        place
    }

    /// On a thermocouple.
    pub(super) fn on(channel: &str, when: String) -> Place {
        Place {
            at: channel.to_owned(),
            when,
        }
    }

    /// Where and when it is now, and where it was before if it was elsewhere.
    pub(super) fn since(&self, was: Option<&Place>) -> String {
        let now = format!("{}, {}", self.at, self.when);
        let now = now.trim_end_matches(", ");
        match was {
            Some(was) if was.at != self.at => format!("{now}; was {}", was.at),
            _ => now.to_owned(),
        }
    }
}

impl Course {
    /// When the hold begins.
    fn hold_from_h(&self) -> Option<f64> {
        let hold = self.stages.iter().find(|stage| stage.stage == "hold");
        hold.map(|stage| stage.from_h)
    }

    /// The wall at a place along the pipe: that of the nearest line through it.
    fn wall_mm(&self, axial_mm: f64) -> f64 {
        let lines = self.profiles.iter().flat_map(|one| &one.through_wall);
        let far = |axial: f64| (axial - axial_mm).abs();
        let nearest = lines.min_by(|a, b| far(a.axial_mm).total_cmp(&far(b.axial_mm)));
        nearest
            .and_then(|line| line.points.last())
            .map_or(f64::INFINITY, |[depth_mm, _]| *depth_mm)
    }
}
