//! What can be chosen in the forms of decisions: deviations that are told, thermocouples of the job, its spares.

use checks::ChannelUse;
use cycle::words::length;
use job::record::Deviation;
use job::sheet::clock as clock_words;
use maud::{Markup, html};
use quantity::Units;
use rules::thermocouple::{Face, Role, told_as};
use serde::Serialize;

use super::judged::Judged;

/// The choices of each list.
#[derive(Debug, Serialize)]
pub struct Choices {
    deviation: String,
    channel: String,
    replaced_by: String,
}

impl Choices {
    pub fn of(judged: &Judged) -> Choices {
        Choices {
            deviation: deviations(judged).into_string(),
            channel: channels(judged).into_string(),
            replaced_by: spares(judged).into_string(),
        }
    }
}

/// Those that wait first; what somebody answered for already is not offered again.
fn deviations(judged: &Judged) -> Markup {
    let told = match &judged.record {
        Ok(record) => record.deviations.as_slice(),
        Err(_) => &[],
    };
    let accepted = &judged.basis.paper.accepted;
    let answered = |one: &&Deviation| {
        let mut accepted = accepted.iter();
        accepted.any(|a| {
            one.says.starts_with(&a.deviation)
                || (one.says.starts_with(&a.by) && one.says.ends_with(&a.deviation))
        })
    };
    let (waiting, others): (Vec<&Deviation>, Vec<&Deviation>) = told
        .iter()
        .filter(|one| !answered(one))
        .partition(|one| one.open);
    let option =
        |one: &Deviation| html! { option value=(one.says) data-cause=[&one.cause] { (one.says) } };
    html! {
        option value="" { "choose" }
        @if !waiting.is_empty() { optgroup label="They wait for an answer" { @for one in waiting { (option(one)) } } }
        @if !others.is_empty() { optgroup label="Told, and need none" { @for one in others { (option(one)) } } }
    }
}

fn channels(judged: &Judged) -> Markup {
    let gone = |name: &str| {
        judged
            .basis
            .paper
            .dispositions
            .iter()
            .any(|d| d.channel == name)
    };
    html! {
        option value="" { "choose" }
        @for (channel, _) in judged.basis.channels.iter().filter(|(c, _)| c.fitted && !gone(&c.name)) {
            option value=(channel.name) { (channel.name) ", " (told_as(channel.role, channel.place)) }
        }
    }
}

fn spares(judged: &Judged) -> Markup {
    let channels = judged.basis.channels.iter();
    let spares: Vec<_> = channels.filter(|(c, _)| c.role == Role::Spare).collect();
    html! {
        option value="" { @if spares.is_empty() { "the job has no spare" } @else { "by none" } }
        @for (one, clock) in spares { option value=(one.name) { (spare_words(one, *clock, judged.basis.units)) } }
    }
}

/// A spare with where it sits, as far as the job says: a card names no places.
fn spare_words(one: &ChannelUse, clock: Option<f64>, units: Units) -> String {
    let role = told_as(one.role, one.place);
    let Some(hours) = clock else {
        return format!("{}, {role}", one.name);
    };
    let along = match one.axial.mm().round() == 0.0 {
        true => "at the weld center".to_owned(),
        false => format!("{} from the weld center", length(one.axial, units)).replacen('-', "−", 1),
    };
    let face = match one.face {
        Face::Bore => ", in the bore",
        Face::Outside => "",
    };
    format!(
        "{}, {along}{face}, at {}, {role}",
        one.name,
        clock_words(hours)
    )
}

#[cfg(test)]
mod tests {
    use quantity::Millimeters;
    use rules::thermocouple::Place;

    use super::*;

    #[test]
    fn a_spare_says_where_it_sits() {
        let spare = |mm: f64, face: Face| ChannelUse {
            name: "TC9".to_owned(),
            role: Role::Spare,
            face,
            axial: Millimeters::from_mm(mm),
            place: Place::SoakBand,
            fitted: true,
        };
        let said = [
            (
                spare(0.0, Face::Outside),
                Some(3.0),
                "TC9, at the weld center, at 3:00, spare",
            ),
            (
                spare(-50.8, Face::Bore),
                Some(12.0),
                "TC9, −2 in from the weld center, in the bore, at 12:00, spare",
            ),
            (spare(0.0, Face::Outside), None, "TC9, spare"),
        ];
        for (one, clock, words) in said {
            assert_eq!(spare_words(&one, clock, Units::Us), words);
        }
    }
}
