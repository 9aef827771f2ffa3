//! What can be chosen in the forms of decisions: deviations that are told, thermocouples of the job, its spares.

use job::record::Deviation;
use maud::{Markup, html};
use rules::thermocouple::{Role, told_as};
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
    let channels = judged.basis.channels.iter().map(|(channel, _)| channel);
    let spares: Vec<&str> = channels
        .filter(|c| c.role == Role::Spare)
        .map(|c| c.name.as_str())
        .collect();
    html! {
        option value="" { @if spares.is_empty() { "the job has no spare" } @else { "by none" } }
        @for name in spares { option value=(name) { (name) } }
    }
}
