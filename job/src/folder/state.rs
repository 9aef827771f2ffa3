//! How far a weld has come, by what lies in its folder.

use jiff::Timestamp;

use super::LastRecord;
use crate::file::Account;
use crate::model::Job;

/// How far a weld has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// There is a job file.
    Drafted,
    /// There is a plan of the job file as it stands.
    Planned,
    /// There are logs.
    Run,
    /// There is a record.
    Recorded,
    /// Somebody has put their name to the record.
    Accepted,
}

impl State {
    /// All of them, in the order of the work.
    pub const ALL: [State; 5] = [
        State::Drafted,
        State::Planned,
        State::Run,
        State::Recorded,
        State::Accepted,
    ];

    /// One word.
    pub fn word(self) -> &'static str {
        match self {
            State::Drafted => "drafted",
            State::Planned => "planned",
            State::Run => "run",
            State::Recorded => "recorded",
            State::Accepted => "accepted",
        }
    }
}

/// What a folder holds, as far as it matters for the board.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Contents {
    /// Whether the job file is a cycle card, which has no plan.
    pub is_card: bool,
    /// What is wrong in the job file and what it lacks; `None` where there is no job file that can be read as text.
    pub account: Option<Account>,
    /// Whether a plan is there, and whether it was made from the job file as it stands.
    pub plan: Option<PlanAge>,
    /// Names of the logs.
    pub logs: Vec<String>,
    /// Whether a record is there.
    pub record: bool,
    /// Whether the record is accepted.
    pub accepted: bool,
}

/// Whether a plan belongs to the job file beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlanAge {
    /// Made from this very file.
    OfThisFile,
    /// The file has been changed since.
    OfAnEarlierFile,
}

impl Contents {
    /// The state that they make.
    pub fn state(&self) -> State {
        if self.record {
            return if self.accepted {
                State::Accepted
            } else {
                State::Recorded
            };
        }
        if !self.logs.is_empty() {
            return State::Run;
        }
        match self.plan {
            Some(PlanAge::OfThisFile) => State::Planned,
            _ => State::Drafted,
        }
    }

    /// The state with the revision that it rests on, and what of the folder was changed since: "accepted (revision 1); changed
    /// since: job.toml was changed".
    pub fn state_words(&self, last: Option<&LastRecord>) -> String {
        let word = self.state().word();
        match last.filter(|_| self.record) {
            Some(last) if last.changed.is_empty() => format!("{word} (revision {})", last.revision),
            Some(last) => {
                let what = last.what_changed().unwrap_or_default();
                format!("{word} (revision {}); changed since: {what}", last.revision)
            }
            None => word.to_owned(),
        }
    }

    /// What is missing before the next step, in plain words.
    pub fn missing(&self) -> Vec<String> {
        let mut missing = Vec::new();
        match self.account {
            None => missing.push("the job file cannot be read".to_owned()),
            Some(account) => missing.extend(account.briefly()),
        }
        match self.plan {
            // Once a heat was run, a plan comes too late.
            _ if self.is_card || !self.logs.is_empty() => {}
            None => missing.push("a plan".to_owned()),
            Some(PlanAge::OfAnEarlierFile) => {
                missing.push("a new plan, for the job file was changed".to_owned())
            }
            Some(PlanAge::OfThisFile) => {}
        }
        if self.logs.is_empty() {
            missing.push("a log".to_owned());
        } else if !self.record {
            missing.push("a record".to_owned());
        } else if !self.accepted {
            missing.push("acceptance of the record by name".to_owned());
        }
        missing
    }
}

/// Time since welding ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SinceWelding {
    /// When it ended.
    pub ended: Timestamp,
    /// Whole hours since; negative where the date lies ahead.
    pub hours: i64,
}

impl SinceWelding {
    /// Of a job whose file says when welding ended.
    pub fn of(job: &Job, now: Timestamp) -> Option<SinceWelding> {
        job.welding_ended.map(|ended| SinceWelding {
            ended,
            hours: (now.as_second() - ended.as_second()).div_euclid(3600),
        })
    }

    /// "5 h", "3 d 4 h".
    pub fn words(&self) -> String {
        let hours = self.hours;
        match hours {
            ..0 => "the date lies ahead".to_owned(),
            0..48 => format!("{hours} h"),
            _ => format!("{} d {} h", hours / 24, hours % 24),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_state_follows_from_what_is_there() {
        let mut contents = Contents {
            account: Some(Account::default()),
            ..Contents::default()
        };
        assert_eq!(contents.state(), State::Drafted);
        contents.plan = Some(PlanAge::OfAnEarlierFile);
        assert_eq!(contents.state(), State::Drafted);
        assert!(contents.missing().iter().any(|m| m.contains("new plan")));
        contents.plan = Some(PlanAge::OfThisFile);
        assert_eq!(contents.state(), State::Planned);
        contents.logs.push("log.csv".to_owned());
        assert_eq!(contents.state(), State::Run);
        contents.record = true;
        assert_eq!(contents.state(), State::Recorded);
        // What was decided about a thermocouple changes the job file, and the heat was run all the same.
        contents.plan = Some(PlanAge::OfAnEarlierFile);
        assert_eq!(contents.missing(), ["acceptance of the record by name"]);
        contents.accepted = true;
        assert_eq!(contents.state(), State::Accepted);
        assert!(contents.missing().is_empty());
    }
}
