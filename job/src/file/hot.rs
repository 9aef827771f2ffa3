//! Whether set point, blanket and cable fit the temperatures that the limits ask for.

use rules::requirement::Requirement;

use crate::model::Job;
use crate::programme::{self, HoldRange};

use super::places::Places;

/// Notes a set point outside the hold range, and a blanket or cable that does not bear the heat.
pub(crate) fn note(job: &Job, requirement: &Requirement, places: &Places<'_, '_>) {
    let range = programme::hold_range(requirement);
    let set_point_c = programme::set_point(job, &range).c();
    set_point_in_range(set_point_c, &range, places);
    blanket_bears(job, &range, places);
    cable_bears(job, set_point_c, places);
}

fn set_point_in_range(set_point_c: f64, range: &HoldRange, places: &Places<'_, '_>) {
    let (low_c, high_c) = (range.low.c(), range.high.c());
    if (low_c..=high_c).contains(&set_point_c) {
        return;
    }
    if let Some(at) = &places.set_point {
        let allowed = format!("{low_c:.0} to {high_c:.0} °C, the range that all limits leave");
        at.fault(format!("a set point of {set_point_c:.0} °C"), allowed, None);
    }
}

fn blanket_bears(job: &Job, range: &HoldRange, places: &Places<'_, '_>) {
    let Some(table) = &places.blanket else { return };
    let material = &job.blanket.material;
    let limit_c = material.limit_c.value;
    if range.high.c() > limit_c {
        table.note(
            format!(
                "{} under a hold of up to {:.0} °C",
                material.name,
                range.high.c()
            ),
            format!("a blanket that bears it; this one bears {limit_c:.0} °C"),
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
            format!("{} on work at {set_point_c:.0} °C", job.cable.name),
            format!("work up to {:.0} °C ({status})", bears.value),
            Some("use a liquid-cooled cable".into()),
        );
    }
}
