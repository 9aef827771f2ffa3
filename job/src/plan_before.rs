//! A plan beside the one that lay in its folder: what was changed, what became better and what worse.

mod file;
mod left;
mod limits;
mod number;
mod place;
mod rows;
mod turns;
mod why;
mod wrap;

use std::fs;
use std::path::Path;

use quantity::Units;

use crate::folder::NewFile;
use crate::plan_json::FORMAT;
use file::File;
use rows::rows;

pub use number::{LimitKind, LimitOf, Number};

/// The plan as data, beside which the one before is kept.
const PLAN: &str = "plan.json";

/// The one before it.
pub const PLAN_BEFORE: &str = "plan-before.json";

/// One number that changed, or whose limit did.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    /// Which number it is.
    pub of: Number,
    /// The same in words.
    pub what: String,
    /// What the plan before said.
    pub was: String,
    /// What this one says.
    pub is: String,
    /// Whether that is better; `None` where neither is.
    pub better: Option<bool>,
    /// How much is left to the limit now; with what was left before where the limit was another.
    pub left: Option<String>,
    /// Where and when it is now; with where it was before if that was elsewhere.
    pub place: Option<String>,
    /// What made it differ, as far as the metal at rest tells it.
    pub because: Option<String>,
}

/// A plan against the one before; both lists are empty where nothing changed to the digits that are told.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AgainstBefore {
    /// What was changed in wrap and programme, each in words.
    pub wrap: Vec<String>,
    /// The numbers that differ.
    pub changed: Vec<Changed>,
}

impl AgainstBefore {
    /// Whether the plan before said the same.
    pub fn is_same(&self) -> bool {
        self.wrap.is_empty() && self.changed.is_empty()
    }
}

/// What changed from one `plan.json` to the next, with words in these units. `None` where the one before is of another
/// format or of another weld.
pub fn against_before(before: &[u8], now: &[u8], units: Units) -> Option<AgainstBefore> {
    let read = |bytes: &[u8]| serde_json::from_slice::<File>(bytes).ok();
    let (before, now) = (read(before)?, read(now)?);
    if before.format != FORMAT || now.format != FORMAT || before.job.weld != now.job.weld {
        return None;
    }
    let were = rows(&before, units);
    let changed = rows(&now, units).into_iter().filter_map(|is| {
        let was = were.iter().find(|was| was.of == is.of)?;
        is.since(was)
    });
    let at_rest = [before.at_rest(), now.at_rest()];
    Some(AgainstBefore {
        changed: why::with_reasons(changed.collect(), at_rest, units),
        wrap: wrap::changes(&before.wrap, &now.wrap, units),
    })
}

/// The files of a new plan together with the plan that lies in the folder, where there is one: written at once, each
/// plan keeps the one before beside it.
pub fn with_the_one_before(folder: &Path, mut files: Vec<NewFile>) -> Vec<NewFile> {
    if let Ok(bytes) = fs::read(folder.join(PLAN)) {
        files.push(NewFile {
            name: PLAN_BEFORE.to_owned(),
            bytes,
        });
    }
    files
}

/// The plan in a folder against the one before, which is kept there; `None` where one of them is missing or cannot be
/// compared.
pub fn in_folder(folder: &Path, units: Units) -> Option<AgainstBefore> {
    let read = |name: &str| fs::read(folder.join(name)).ok();
    against_before(&read(PLAN_BEFORE)?, &read(PLAN)?, units)
}

#[cfg(test)]
mod tests;
