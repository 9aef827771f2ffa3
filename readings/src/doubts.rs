//! What a person should look at again although the file could be read.

use crate::complaint::ComplaintKind;
use crate::file::File;
use crate::log::Log;
use crate::read::Reading;
use crate::words::{Unit, words};

impl Reading {
    /// Names of the mapping that the file does not have, and a name that it gives to two channels.
    pub(crate) fn note_strangers(&mut self, files: &[File<'_>], channels: &[String]) {
        let Some(file) = files.first() else {
            return;
        };
        let called = |name: &String| file.mapping.name.get(name).unwrap_or(name).clone();
        for (index, name) in channels.iter().enumerate() {
            if channels[..index]
                .iter()
                .any(|other| called(other) == called(name))
            {
                let (channel, name) = (name.clone(), called(name));
                self.complain(None, ComplaintKind::NameTwice { channel, name });
            }
        }
        let columns = files.iter().flat_map(|file| &file.columns);
        let columns = columns.map(|c| c.name.as_str());
        let known: Vec<&str> = columns.chain(channels.iter().map(String::as_str)).collect();
        let strange = |name: &&String| !known.contains(&name.as_str());
        let columns = file
            .mapping
            .column
            .keys()
            .filter(strange)
            .map(|n| format!("column.{n}"));
        let names = file
            .mapping
            .name
            .keys()
            .filter(strange)
            .map(|n| format!("name.{n}"));
        let mut found: Vec<&str> = channels.iter().map(String::as_str).collect();
        if found.is_empty() {
            found.clone_from(&known);
        }
        let found = found.join(", ");
        for key in columns.chain(names).collect::<Vec<_>>() {
            let found = found.clone();
            self.complain(None, ComplaintKind::MappedNotThere { key, found });
        }
    }

    /// Degrees Celsius at a plateau where a hold in °F would lie.
    pub(crate) fn flag_fahrenheit(&mut self, files: &[File<'_>], log: &Log) {
        let of_fahrenheit = |unit: &Option<Unit>| *unit == Some(Unit::Fahrenheit);
        let stated = |file: &File<'_>| {
            file.columns.iter().any(|c| of_fahrenheit(&c.unit)) || of_fahrenheit(&file.head.unit)
        };
        let is_asked = self.questions.iter().any(|question| question.key == "unit");
        let is_said = |file: &File<'_>| file.mapping.unit.is_some() || stated(file);
        if is_asked || files.iter().any(is_said) {
            return;
        }
        let mut hottest: Vec<f64> = log
            .scans
            .iter()
            .filter_map(|scan| {
                scan.readings
                    .iter()
                    .flatten()
                    .map(|t| t.c())
                    .reduce(f64::max)
            })
            .collect();
        hottest.sort_by(f64::total_cmp);
        let reach = &words().reach;
        // The temperature above which the hottest tenth of the log lies: a hold takes at least that long.
        if let Some(plateau) = hottest.get(hottest.len() * 9 / 10)
            && (reach.fahrenheit_hold_from..=reach.fahrenheit_hold_to).contains(plateau)
        {
            let plateau = plateau.round() as i64;
            self.complain(None, ComplaintKind::LooksLikeFahrenheit { plateau });
        }
    }
}
