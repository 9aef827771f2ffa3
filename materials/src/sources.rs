//! The works that the data files cite.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use quantity::{Source, Status};
use serde::Deserialize;

/// A book, paper or standard that data files cite by its key.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Work {
    /// The short form that stands on a plan ("EN 1993-1-2:2005").
    pub short: String,
    /// Author, year, title, publisher.
    pub full: String,
    /// What is used of it and how it was read.
    pub used_for: String,
}

/// Source of a value as the data files write it: a work, the place in it, and how far it can be trusted.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SourceEntry {
    pub work: String,
    pub place: Option<String>,
    pub status: Status,
    pub note: Option<String>,
}

static WORKS: LazyLock<BTreeMap<String, Work>> = LazyLock::new(|| {
    toml::from_str(include_str!("../data/sources.toml")).expect("the data files are read by tests")
});

/// All works that the data files cite, by key.
pub fn works() -> &'static BTreeMap<String, Work> {
    &WORKS
}

impl SourceEntry {
    /// The source with its work spelled out.
    pub fn resolve(&self) -> Source {
        let work = &works()
            .get(&self.work)
            .unwrap_or_else(|| {
                panic!(
                    "the data files cite \"{}\", which sources.toml lacks",
                    self.work
                )
            })
            .short;
        Source {
            citation: match &self.place {
                Some(place) => format!("{work}, {place}"),
                None => work.clone(),
            },
            status: self.status,
            note: self.note.clone(),
        }
    }
}
