//! What follows from a failure, and what was removed.

use quantity::Hours;

use crate::checker::Checker;
use crate::disposition::{Removal, Removed};
use crate::failure::{Failing, Failure};

impl Checker {
    /// A failure was found: by the rule it leaves the set, or is silent, or stays judged.
    pub(crate) fn found(&mut self, mut failing: Failing) {
        let leaves = failing.kind.proven() && self.definitions.removal == Removal::WithEvidence;
        if leaves || failing.kind.blind() {
            // What was judged before the evidence came stays judged.
            let oldest_s = self.oldest_waiting_s().unwrap_or(failing.found_s);
            let acts_from_s = failing.first_s.max(oldest_s);
            failing.acts_from_s = Some(acts_from_s);
            if leaves {
                self.leaves(failing.channel, acts_from_s);
            }
        }
        self.failing.push(failing);
    }

    pub(crate) fn failures_told(&self) -> Vec<Failure> {
        let told = |f: &Failing| Failure {
            channel: self.channels[f.channel].name.clone(),
            kind: f.kind,
            first_evidence: Hours::from_s(f.first_s),
            found: Hours::from_s(f.found_s),
            evidence: f.evidence.clone(),
            acts_from: f.acts_from_s.map(Hours::from_s),
        };
        let mut failures: Vec<Failure> = self.failing.iter().map(told).collect();
        failures.sort_by(|a, b| a.first_evidence.h().total_cmp(&b.first_evidence.h()));
        failures
    }

    pub(crate) fn removed_told(&self) -> Vec<Removed> {
        let by_word = self.dispositions.iter().map(|d| Removed {
            channel: d.channel.clone(),
            from: d.from,
            reason: d.reason.clone(),
            by: Some(d.by.clone()),
            replaced_by: d.replaced_by.clone(),
        });
        let evidence = self.definitions.removal == Removal::WithEvidence;
        let proven = self.failing.iter().filter(|f| evidence && f.kind.proven());
        let by_evidence = proven.filter_map(|f| {
            Some(Removed {
                channel: self.channels[f.channel].name.clone(),
                from: Hours::from_s(f.acts_from_s?),
                reason: format!("{}: {}", f.kind.words(), f.evidence),
                by: None,
                replaced_by: None,
            })
        });
        by_word.chain(by_evidence).collect()
    }

    /// Why a limit that seems met is in doubt: a thermocouple that judged was doubtful before `until_s`.
    pub(crate) fn doubt(&self, judges: impl Fn(usize) -> bool, until_s: f64) -> Option<String> {
        let evidence_removes = self.definitions.removal == Removal::WithEvidence;
        let doubtful = self.failing.iter().find(|f| {
            let counted_too_long = f.kind.blind() && f.acts_from_s.is_some_and(|s| s > f.first_s);
            let is_in_doubt = match f.acts_from_s {
                None => f.kind.doubtful(),
                Some(_) => counted_too_long && !evidence_removes,
            };
            is_in_doubt
                && f.first_s <= until_s
                && judges(f.channel)
                && !self.left_before(f.channel, f.first_s)
        })?;
        Some(format!(
            "{} is doubtful from {} ({}) and was not taken out of the set",
            self.channels[doubtful.channel].name,
            Hours::from_s(doubtful.first_s).words(),
            doubtful.kind.words()
        ))
    }

    fn left_before(&self, channel: usize, first_s: f64) -> bool {
        let name = &self.channels[channel].name;
        self.dispositions
            .iter()
            .any(|d| d.channel == *name && d.from.s() <= first_s)
    }
}
