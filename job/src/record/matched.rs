//! Which channel of the log is which thermocouple of the job.

use checks::ChannelUse;
use readings::{Log, Scan};

use super::{Basis, RecordError};

/// Which channel of the log is which thermocouple of the job.
#[derive(Clone, Debug)]
pub struct Matched {
    /// The thermocouples of the job, in its order.
    pub channels: Vec<ChannelUse>,
    /// For each its place in the scans of the log.
    places: Vec<Option<usize>>,
    /// Thermocouples of the job that the log does not have.
    pub missing: Vec<String>,
    /// Thermocouples that the log has, and the job fits no wire for; they judge nothing.
    pub without_wire: Vec<String>,
    /// Channels of the log that the job does not know; they judge nothing.
    pub unknown: Vec<String>,
}

/// Matches by name; blanks, strokes and capitals do not count.
pub(super) fn matched(basis: &Basis, log: &Log) -> Result<Matched, RecordError> {
    let channels: Vec<ChannelUse> = basis.channels.iter().map(|(c, _)| c.clone()).collect();
    let names: Vec<String> = log
        .channels
        .iter()
        .map(|c| plain(in_file(&c.name)))
        .collect();
    for channel in &channels {
        let wanted = plain(&channel.name);
        let fit = (0..names.len()).filter(|place| names[*place] == wanted);
        let fit: Vec<String> = fit.map(|place| log.channels[place].name.clone()).collect();
        if fit.len() > 1 {
            return Err(RecordError::SeveralFit {
                job: basis.file_name.clone(),
                wanted: channel.name.clone(),
                fit,
            });
        }
    }
    let places: Vec<Option<usize>> = channels
        .iter()
        .map(|channel| names.iter().position(|name| *name == plain(&channel.name)))
        .collect();
    if places.iter().all(Option::is_none) {
        return Err(RecordError::NoChannel {
            job: basis.file_name.clone(),
            wanted: channels
                .iter()
                .map(|c| c.name.as_str())
                .collect::<Vec<_>>()
                .join(", "),
            found: log
                .channels
                .iter()
                .map(|c| c.name.as_str())
                .collect::<Vec<_>>()
                .join(", "),
        });
    }
    let missing = channels
        .iter()
        .zip(&places)
        .filter(|(c, place)| place.is_none() && c.fitted);
    let both = channels.iter().zip(&places);
    let without_wire = both.filter(|(c, place)| place.is_some() && !c.fitted);
    let known = |index: &usize| places.contains(&Some(*index));
    let unknown = (0..log.channels.len()).filter(|index| !known(index));
    Ok(Matched {
        without_wire: without_wire.map(|(c, _)| c.name.clone()).collect(),
        missing: missing.map(|(c, _)| c.name.clone()).collect(),
        unknown: unknown
            .map(|index| log.channels[index].name.clone())
            .collect(),
        channels,
        places,
    })
}

impl Matched {
    /// The thermocouple of the job that a channel of the log is, by its place in the scans.
    pub fn of_log(&self, place: usize) -> Option<&ChannelUse> {
        let at = self.places.iter().position(|p| *p == Some(place))?;
        Some(&self.channels[at])
    }

    /// The place in the scans of the log of a fitted thermocouple of the job, by its name in the job.
    pub fn in_log(&self, name: &str) -> Option<(usize, &ChannelUse)> {
        let at = self
            .channels
            .iter()
            .position(|c| c.fitted && c.name == name)?;
        Some((self.places[at]?, &self.channels[at]))
    }

    /// A scan in the order of the job's thermocouples.
    pub fn scan(&self, scan: &Scan) -> Scan {
        let reading =
            |place: &Option<usize>| place.and_then(|at| scan.readings.get(at).copied().flatten());
        Scan {
            elapsed: scan.elapsed,
            readings: self.places.iter().map(reading).collect(),
        }
    }
}

/// The name without the number by which columns of one name are told apart: `TC2 #2`.
fn in_file(name: &str) -> &str {
    match name.rsplit_once(" #") {
        Some((stem, number)) if number.bytes().all(|b| b.is_ascii_digit()) => stem,
        _ => name,
    }
}

fn plain(name: &str) -> String {
    name.chars()
        .filter(|c| c.is_alphanumeric())
        .flat_map(char::to_lowercase)
        .collect()
}
