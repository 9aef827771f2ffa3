//! What the last revision of a record says and whether the folder is still what it was made from, read from its data and
//! not from its document, so that a board of hundreds of welds opens at once.

use serde::Deserialize;
use serde_json::Value;

use super::JobFolder;
use super::changed::changed_from;
use crate::record::{carried_by_data, stem};

/// Of what was changed, so much is told by name in a line of the board.
const TOLD: usize = 3;

/// The last revision of a record, as far as a board tells of it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LastRecord {
    /// Which revision it is.
    pub revision: u32,
    /// Limits that the measured values did not meet.
    pub missed: usize,
    /// Limits that could not be judged.
    pub unjudged: usize,
    /// Deviations that wait for an answer.
    pub waiting: usize,
    /// Questions of the rules that nobody had answered; records of earlier versions do not say.
    pub unanswered: usize,
    /// What of the folder is not what it was made from, in words.
    pub changed: Vec<String>,
}

#[derive(Deserialize)]
struct Data {
    findings: Findings,
    deviations: Vec<Deviation>,
    #[serde(default)]
    unanswered: Vec<String>,
}

#[derive(Deserialize)]
struct Findings {
    findings: Vec<Finding>,
}

#[derive(Deserialize)]
struct Finding {
    verdict: String,
}

#[derive(Deserialize)]
struct Deviation {
    open: bool,
}

impl LastRecord {
    /// What of it an inspector has to know before a name is put under it; `None` where it is all in order.
    pub fn note(&self) -> Option<String> {
        let counted = |count: usize, one: &str, many: &str| match count {
            0 => None,
            1 => Some(format!("1 {one}")),
            more => Some(format!("{more} {many}")),
        };
        let parts = [
            counted(self.missed, "limit not met", "limits not met"),
            counted(self.unjudged, "not judged", "not judged"),
            counted(
                self.waiting,
                "deviation waits for an answer",
                "deviations wait for an answer",
            ),
            counted(
                self.unanswered,
                "question of the rules not answered",
                "questions of the rules not answered",
            ),
        ];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        (!parts.is_empty()).then(|| parts.join(", "))
    }

    /// "changed since revision 2: job.toml was changed", where it was.
    pub fn changed_words(&self) -> Option<String> {
        let what = self.what_changed()?;
        Some(format!("changed since revision {}: {what}", self.revision))
    }

    /// What differs, the first few by name; `None` where nothing does.
    pub fn what_changed(&self) -> Option<String> {
        let (told, more) = self.changed.split_at(self.changed.len().min(TOLD));
        let more = match more.len() {
            0 => String::new(),
            more => format!("; {more} more"),
        };
        (!told.is_empty()).then(|| told.join("; ") + &more)
    }
}

impl JobFolder {
    /// What the last revision of the record says; `None` where there is none whose data can be read.
    pub fn last_record(&self) -> Option<LastRecord> {
        let data = |number: u32| self.record_path().join(format!("{}.json", stem(number)));
        let revision = (1..).take_while(|number| data(*number).is_file()).last()?;
        let bytes = std::fs::read(data(revision)).ok()?;
        let told: Value = serde_json::from_slice(&bytes).ok()?;
        let changed = changed_from(self, &carried_by_data(&told)).ok()?;
        let read = Data::deserialize(&told).ok()?;
        let verdicts = read.findings.findings.iter().map(|f| f.verdict.as_str());
        let count = |wanted: &str| verdicts.clone().filter(|one| *one == wanted).count();
        Some(LastRecord {
            revision,
            missed: count("not_met"),
            unjudged: count("not_judged"),
            waiting: read.deviations.iter().filter(|d| d.open).count(),
            unanswered: read.unanswered.len(),
            changed,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::LastRecord;

    #[test]
    fn what_a_name_must_not_be_put_under_unseen_is_told_in_a_few_words() {
        let mut last = LastRecord {
            revision: 2,
            missed: 1,
            unjudged: 2,
            waiting: 1,
            unanswered: 3,
            changed: Vec::new(),
        };
        assert_eq!(
            last.note().as_deref(),
            Some(
                "1 limit not met, 2 not judged, 1 deviation waits for an answer, 3 questions of the rules not answered"
            )
        );
        assert_eq!(last.changed_words(), None);
        last.changed = vec!["job.toml was changed".to_owned()];
        assert_eq!(
            last.changed_words().as_deref(),
            Some("changed since revision 2: job.toml was changed")
        );
        let logs = (1..=4).map(|number| format!("the log {number}.csv was changed"));
        last.changed = logs.collect();
        let words = last.changed_words().expect("changed");
        assert!(
            words.ends_with("the log 3.csv was changed; 1 more"),
            "{words}"
        );
        assert_eq!(LastRecord::default().note(), None);
    }
}
