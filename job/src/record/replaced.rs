//! Whether a folder keeps a later revision of a record than the one at hand.

use std::path::Path;

use serde_json::Value;

use super::stem;
use super::verify::RECORD;
use crate::calendar;

/// A record that a later revision replaced.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Replaced {
    /// The revision at hand.
    pub number: u32,
    /// The last revision of the folder.
    pub by: u32,
    /// When that one was made, as it says itself; empty where it does not.
    pub made: String,
}

impl Replaced {
    /// In a sentence without its period.
    pub fn words(&self) -> String {
        let made = match self.made.as_str() {
            "" => String::new(),
            made => format!(", made {}", calendar::in_words(made)),
        };
        format!(
            "this is revision {}; revision {}{made}, replaced it",
            self.number, self.by
        )
    }
}

/// The revision of a folder that replaced a record, known by the data that the record carries; `None` where the folder does
/// not keep this record, or keeps none that is later.
pub fn replaced(folder: &Path, pdf: &[u8]) -> Option<Replaced> {
    let attached = report::attached(pdf).ok()?;
    let (_, own) = attached.into_iter().find(|(name, _)| name == RECORD)?;
    let data = |number: u32| std::fs::read(folder.join(format!("{}.json", stem(number)))).ok();
    let kept: Vec<Vec<u8>> = (1..).map_while(data).collect();
    let place = kept.iter().position(|data| *data == own)?;
    let last = kept.last().filter(|_| place + 1 < kept.len())?;
    let last: Value = serde_json::from_slice(last).unwrap_or_default();
    let number = |place: usize| u32::try_from(place).unwrap_or(u32::MAX);
    Some(Replaced {
        number: number(place + 1),
        by: number(kept.len()),
        made: last["made"].as_str().unwrap_or_default().to_owned(),
    })
}
