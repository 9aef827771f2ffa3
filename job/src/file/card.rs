//! A cycle card: limits and channels without a weld, for those who have a log and no job file.

use checks::ChannelUse;
use quantity::Millimeters;
use rules::thermocouple::{Face, Place, Role};

use crate::record::Basis;
use crate::toml_reader::{Faults, Table};

use super::{Refusal, head, limits, paper, reading};
use crate::file::places::Silent;

/// Whether a file is a cycle card: it has a table `[card]`.
pub fn is_card(text: &str) -> bool {
    text.lines()
        .any(|line| line.trim_start().starts_with("[card]"))
}

/// Reads a cycle card. `file_name` is only for the messages.
///
/// # Errors
/// [`Refusal`] with everything that is wrong.
pub fn read_card(text: &str, file_name: &str) -> Result<Basis, Refusal> {
    let faults = Faults::new(file_name, text);
    let parsed = faults.parse(text);
    let basis = if faults.is_empty() {
        read_root(&Table::root(&parsed, &faults), text, file_name)
    } else {
        None
    };
    match basis {
        Some(basis) if faults.is_empty() => Ok(basis),
        _ => Err(Refusal::of(faults.into_list(), text, Vec::new())),
    }
}

fn read_root(root: &Table<'_>, text: &str, file_name: &str) -> Option<Basis> {
    let silent = Silent::default();
    let paper = paper::read(root);
    let reading = reading::reading(root);
    let units = head::units(root, &silent);
    let demo = head::demo(root);
    let identification = head::identification(root);
    let card = root
        .need("card", "the table [card]")
        .and_then(|v| v.table());
    let read = card
        .as_ref()
        .map(|card| (channels(card), limits::of_card(card)));
    if let Some(card) = &card {
        card.finish();
    }
    root.finish();
    let (channels, own) = read?;
    if !channels.iter().any(|c| c.role == Role::Control) {
        card?.note(
            "no control thermocouple".into(),
            "control = [\"TC1\", ...] with the names of the log's channels".into(),
            None,
        );
        return None;
    }
    if own.hold_time.is_some() && own.hold_min.is_none() {
        card?.note(
            "hold_time without hold_min".into(),
            "hold_min = \"595 °C\" beside it".into(),
            Some("without it any temperature would count as the hold".into()),
        );
        return None;
    }
    let limits = match rules::card_limits(&own, units) {
        Ok(limits) if !limits.is_empty() => limits,
        Ok(_) => {
            let allowed = "hold_min, hold_max, hold_time, heating_rate, cooling_rate, rate_threshold or spread";
            card?.note("a card without a limit".into(), allowed.into(), None);
            return None;
        }
        Err(error) => {
            for fault in &error.faults {
                root.note(fault.to_string(), "a number above zero".into(), None);
            }
            return None;
        }
    };
    Some(Basis {
        file_name: file_name.to_owned(),
        text: text.to_owned(),
        demo,
        units,
        identification,
        what: own.document.clone().unwrap_or_else(|| "cycle card".into()),
        confirmed: None,
        limits,
        remarks: Vec::new(),
        channels: channels
            .into_iter()
            .map(|channel| (channel, None))
            .collect(),
        definitions: reading,
        paper,
    })
}

/// The channels of the card in the order of its lists.
fn channels(card: &Table<'_>) -> Vec<ChannelUse> {
    let lists = [
        ("control", Role::Control, Place::SoakBand),
        ("monitor", Role::Monitor, Place::SoakBand),
        ("spare", Role::Spare, Place::SoakBand),
        ("edge", Role::Monitor, Place::HeatedBandEdge),
        ("neighbor", Role::Monitor, Place::Neighbor),
    ];
    let mut channels: Vec<ChannelUse> = Vec::new();
    for (key, role, place) in lists {
        let names = card.get(key).and_then(|v| v.list()).unwrap_or_default();
        for name in names.iter() {
            let Some(text) = name.text() else { continue };
            if channels.iter().any(|c| c.name == text) {
                name.fault(format!("{text} a second time"), "every channel once", None);
                continue;
            }
            channels.push(ChannelUse {
                name: text.to_owned(),
                role,
                face: Face::Outside,
                axial: Millimeters::from_mm(0.0),
                place,
                fitted: true,
            });
        }
    }
    channels
}
