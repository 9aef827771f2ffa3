//! Whether set point, blanket and cable fit the temperatures that the limits ask for.

use quantity::Celsius;
use rules::requirement::Requirement;

use crate::model::Job;
use crate::programme::{self, HoldRange};
use crate::wording::temperature;

use super::places::Places;

/// Notes a set point outside the hold range, and a blanket or cable that does not bear the heat.
pub(crate) fn note(job: &Job, requirement: &Requirement, places: &Places<'_, '_>) {
    let range = programme::hold_range(requirement);
    let set_point_c = programme::set_point(job, &range).c();
    set_point_in_range(job, set_point_c, &range, places);
    blanket_bears(job, &range, places);
    cable_bears(job, set_point_c, places);
}

fn set_point_in_range(job: &Job, set_point_c: f64, range: &HoldRange, places: &Places<'_, '_>) {
    let (low_c, high_c) = (range.low.c(), range.high.c());
    if (low_c..=high_c).contains(&set_point_c) {
        return;
    }
    if let Some(at) = &places.set_point {
        let [low, high, set_point] = [low_c, high_c, set_point_c].map(|c| degrees(job, c));
        let allowed = format!("{low} to {high}, the range that all limits leave");
        at.fault(format!("a set point of {set_point}"), allowed, None);
    }
}

fn degrees(job: &Job, c: f64) -> String {
    temperature(Celsius::from_c(c), job.units)
}

fn blanket_bears(job: &Job, range: &HoldRange, places: &Places<'_, '_>) {
    let Some(table) = &places.blanket else { return };
    let material = &job.blanket.material;
    let limit_c = material.limit_c.value;
    if range.high.c() > limit_c {
        table.note(
            format!(
                "{} under a hold of up to {}",
                material.name,
                degrees(job, range.high.c())
            ),
            format!(
                "a blanket that bears it; this one bears {}",
                degrees(job, limit_c)
            ),
            Some("choose another material".into()),
        );
    }
}

fn cable_bears(job: &Job, set_point_c: f64, places: &Places<'_, '_>) {
    let Some(at) = &places.cable else { return };
    let bears = &job.cable.max_work_temperature_c;
    if set_point_c > bears.value {
        let status = bears.source.status.words();
        at.fault(
            format!(
                "{} on work at {}",
                job.cable.name,
                degrees(job, set_point_c)
            ),
            format!("work up to {} ({status})", degrees(job, bears.value)),
            Some("use a liquid-cooled cable".into()),
        );
    }
}
