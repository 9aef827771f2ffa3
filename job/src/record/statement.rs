//! What a record says in one sentence: never a bare pass.

use checks::Verdict;

use super::Record;

impl Record {
    /// How many limits the measured values met, by which thermocouples, and what stays open; without its period.
    pub fn statement(&self) -> String {
        let all = &self.findings.findings;
        let count = |verdict| all.iter().filter(|f| f.verdict == verdict).count();
        let (missed, unjudged) = (count(Verdict::NotMet), count(Verdict::NotJudged));
        let mut parts = vec![format!(
            "Measured values met {} of {} limits, by thermocouples {}",
            count(Verdict::Met),
            all.len(),
            self.findings.soak_band_names().join(", ")
        )];
        if missed > 0 {
            parts.push(format!("did not meet {missed}"));
        }
        if unjudged > 0 {
            parts.push(format!("{unjudged} could not be judged"));
        }
        match self.deviations.iter().filter(|d| d.open).count() {
            0 => {}
            1 => parts.push("1 deviation waits for an answer".to_owned()),
            open => parts.push(format!("{open} deviations wait for an answer")),
        }
        parts.join("; ")
    }
}
