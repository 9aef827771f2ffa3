//! Readings: what thermocouples said, one time and all channels together.
//!
//! A plan, a logger file and a live wire all end as the same thing, a run of [`Scan`]s. Nothing here knows what is
//! good or bad.
//!
//! [`read`] takes the bytes of a logger's file and returns a [`Log`] with complaints, or the [`Question`]s that only a
//! person can answer; [`join`] makes one log of several. The dialects are listed in `docs/log-dialects.md`.

mod assemble;
mod cell;
mod clock;
mod column;
mod comma_twice;
mod complaint;
mod decimal;
mod delimiter;
mod digest;
mod doubts;
mod file;
mod gathered;
mod head;
mod heats;
pub mod its90;
mod join;
mod laid_out;
mod log;
mod long;
mod looks;
mod mapping;
mod moment;
mod of_file;
mod overlap;
mod part;
mod print_out;
mod question;
mod read;
mod reading_cell;
mod role;
mod scale;
mod scan;
mod settle;
mod stated_weld;
mod status;
mod table;
mod tally;
mod text;
mod timer;
mod understood;
mod wide;
mod words;
mod workbook;

pub use complaint::{Complaint, ComplaintKind};
pub use digest::sha256;
pub use heats::other_heats;
pub use join::{JoinError, join};
pub use log::{Log, LogEvent, LogFile, Series, SeriesKind, Start};
pub use mapping::{KEYS, Mapping, MappingError};
pub use of_file::{HEAT, OTHER_HEAT, key_of_file, of_one_file};
pub use question::Question;
pub use read::{Reading, read};
pub use role::Role;
pub use scan::{Channel, Scan};
pub use stated_weld::StatedWeld;
pub use understood::{PreviewRow, Understood, UnderstoodColumn};
