//! Requirement against scans: findings.
//!
//! A plan, a log and a running cycle all end as scans, and all are judged here in the same way. A check is a fold of
//! [`Checker::push`]: whatever pieces the scans arrive in, the findings are the same, and what is kept in memory is a
//! few windows, never the log. A silent channel is `None`; silence never counts as compliance.
//!
//! No standard that we know defines how to read a chart. The definitions used are ours, stated in [`Definitions`],
//! numbered in `docs/reading-a-log.md`, and printed beside every finding.

mod assembly;
mod attempt;
mod attempt_run;
mod attempts;
mod between;
mod channel;
mod checker;
mod definition_words;
mod definitions;
mod disposition;
mod envelope;
mod event;
mod failing;
mod failure;
mod filter;
mod finding;
mod folds;
mod gradient;
mod guard;
mod heating_spread;
mod hold_clock;
mod hold_stage;
mod judge;
mod judge_hold;
mod judge_peak;
mod judge_rate;
mod judge_spread;
mod levels;
mod over;
mod pace;
mod peak;
mod portrait;
mod ramp;
mod rate;
mod removal;
mod roster;
mod seen;
mod signs;
mod sitter;
mod slope;
mod spread;
mod table;
mod trailing;
mod unfinished;
mod words;
mod zone;

pub use attempt::{Attempt, Attempts, Ending, HoldCredit, ThermalCycles};
pub use channel::ChannelUse;
pub use checker::Checker;
pub use definitions::{Definition, Definitions, HoldCount, Interruption};
pub use disposition::{CheckError, Disposition, Removal, Removed};
pub use event::{Event, Happening};
pub use failure::{Failure, FailureKind};
pub use finding::{
    Beside, Finding, Findings, Measured, Origin, OtherReadings, Readings, Silent, Verdict,
};
pub use gradient::Gradient;
pub use portrait::{ExposureTold, HoldAlone, Portrait, RateAlone};
pub use signs::FailureSigns;
pub use words::{clause_words, level_words, limit_words, time_words};
pub use zone::Zone;
