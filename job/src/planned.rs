//! What the plan in a folder says, read back from its `plan.json`: turns and frequency, and what stands in the way of
//! heating on it.

use checks::{Measured, limit_words};
use cycle::setup::{Coil, Turn};
use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour, Millimeters, Units};
use rules::Confirmation;
use rules::requirement::LimitKind;
use serde::Deserialize;

use crate::file::planned_sha256;
use crate::folder::Fingerprint;

/// A plan as it lies in a folder.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// Fingerprint of the job file that it was made from.
    job: Fingerprint,
    /// SHA-256 of what of that file it was made from; plans of earlier versions lack it.
    planned_sha256: Option<String>,
    /// Its turns.
    pub coil: Coil,
    /// Its frequency in Hz.
    pub frequency_hz: f64,
    /// Whether the predicted values meet every limit and nothing foreseen stands in the way.
    pub complies: bool,
    /// How many limits were judged.
    pub limits: usize,
    /// Limits that the predicted values do not meet or that could not be judged, in the order of the plan.
    pub limits_open: Vec<InTheWay>,
    /// What only the model can say and what is not as it should be, worst first.
    pub foreseen_open: Vec<InTheWay>,
    /// How many cautions it tells; plans of earlier versions do not say.
    pub cautions: usize,
}

/// Something that stands in the way of heating on a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct InTheWay {
    /// Whether it is not met; else it could not be judged.
    pub is_missed: bool,
    /// The limit with its clause, or what the model speaks of.
    pub what: String,
    /// By how much, where and when.
    pub says: String,
    /// What can be done about it.
    pub remedy: Option<String>,
}

impl Planned {
    /// Limits that the predicted values do not meet.
    pub fn missed(&self) -> usize {
        self.limits_open.iter().filter(|one| one.is_missed).count()
    }

    /// What stands in the way in a few words, for a board; `None` where nothing does.
    pub fn note(&self) -> Option<String> {
        let missed = self.missed();
        let unjudged = self.limits_open.len() - missed;
        let mut parts = Vec::new();
        match missed {
            0 => {}
            1 => parts.push("1 limit not met".to_owned()),
            more => parts.push(format!("{more} limits not met")),
        }
        if unjudged > 0 {
            parts.push(format!("{unjudged} not judged"));
        }
        if missed == 0 && !self.foreseen_open.is_empty() {
            let about: Vec<&str> = self.foreseen_open.iter().map(|f| f.what.as_str()).collect();
            parts.push(format!("needs a look: {}", about.join(", ")));
        }
        (!parts.is_empty()).then(|| parts.join(", "))
    }

    /// Whether it is the plan of this text with these rows confirmed: what only a record reads of a job file ages no plan.
    pub fn is_of(&self, job: &str, confirmed: &[Confirmation]) -> bool {
        match &self.planned_sha256 {
            Some(planned) => *planned == planned_sha256(job, confirmed),
            None => self.job == Fingerprint::of(job.as_bytes()),
        }
    }

    /// Reads a `plan.json`; `None` where it is none of this format. Differences and temperatures are told in `units`.
    pub fn read(bytes: &[u8], units: Units) -> Option<Planned> {
        let file: File = serde_json::from_slice(bytes).ok()?;
        let turns = file.wrap.coil.turns.iter().map(|turn| Turn {
            axial: Millimeters::from_mm(turn.axial_mm),
            standoff: Millimeters::from_mm(turn.standoff_mm),
        });
        let open = |verdict: &str| verdict != "met";
        let findings = file.verdicts.findings.iter();
        let foreseen = file.verdicts.foreseen.iter();
        Some(Planned {
            job: Fingerprint(file.job.sha256),
            planned_sha256: file.job.planned_sha256,
            coil: Coil {
                turns: turns.collect(),
            },
            frequency_hz: file.wrap.source.frequency_hz,
            complies: file.complies,
            limits: file.verdicts.findings.len(),
            cautions: file.verdicts.cautions.len(),
            limits_open: findings
                .filter(|f| open(&f.verdict))
                .map(|f| f.in_the_way(units))
                .collect(),
            foreseen_open: foreseen
                .filter(|f| open(&f.verdict))
                .map(|f| InTheWay {
                    is_missed: f.verdict == "not_met",
                    what: f.about.clone(),
                    says: f.says.clone(),
                    remedy: f.remedy.clone(),
                })
                .collect(),
        })
    }
}

/// What is read of the file.
#[derive(Deserialize)]
struct File {
    job: Job,
    complies: bool,
    verdicts: Verdicts,
    wrap: Wrap,
}

#[derive(Deserialize)]
struct Job {
    sha256: String,
    planned_sha256: Option<String>,
}

#[derive(Deserialize)]
struct Verdicts {
    findings: Vec<Finding>,
    foreseen: Vec<Foreseen>,
    #[serde(default)]
    cautions: Vec<String>,
}

#[derive(Deserialize)]
struct Finding {
    limit: Limit,
    verdict: String,
    predicted: Option<Value>,
    by_how_much: Option<Value>,
    when_h: Option<f64>,
    channel: Option<String>,
    reason: String,
}

#[derive(Deserialize)]
struct Limit {
    kind: String,
    value: Value,
    above_c: Option<f64>,
    within_mm: Option<f64>,
    clause: Clause,
}

#[derive(Deserialize)]
struct Clause {
    document: String,
    clause: String,
}

#[derive(Deserialize)]
struct Value {
    number: f64,
    unit: String,
}

#[derive(Deserialize)]
struct Foreseen {
    about: String,
    verdict: String,
    says: String,
    remedy: Option<String>,
}

#[derive(Deserialize)]
struct Wrap {
    coil: Turns,
    source: Source,
}

#[derive(Deserialize)]
struct Turns {
    turns: Vec<OneTurn>,
}

#[derive(Deserialize)]
struct OneTurn {
    axial_mm: f64,
    standoff_mm: f64,
}

#[derive(Deserialize)]
struct Source {
    frequency_hz: f64,
}

impl Finding {
    fn in_the_way(&self, units: Units) -> InTheWay {
        let is_missed = self.verdict == "not_met";
        let words = |value: &Value| value.measured().map(|m| m.words(units));
        let mut parts = Vec::new();
        if let Some(predicted) = self.predicted.as_ref().and_then(words) {
            parts.push(format!("predicted {predicted}"));
        }
        if let Some(by) = self
            .by_how_much
            .as_ref()
            .and_then(words)
            .filter(|_| is_missed)
        {
            parts.push(format!("missed by {by}"));
        }
        parts.extend(self.channel.clone());
        parts.extend(
            self.when_h
                .map(|h| format!("at {}", Hours::from_h(h).words())),
        );
        if !is_missed || parts.is_empty() {
            parts.push(self.reason.clone());
        }
        let limit = self.limit.kind();
        let what = limit.map_or(self.limit.kind.replace('_', " "), |kind| {
            limit_words(&kind, units)
        });
        let clause = &self.limit.clause;
        InTheWay {
            is_missed,
            what: format!("{what} ({} {})", clause.document, clause.clause),
            says: parts.join(", "),
            remedy: limit
                .filter(|_| is_missed)
                .map(|kind| remedy(&kind).to_owned()),
        }
    }
}

impl Limit {
    fn kind(&self) -> Option<LimitKind> {
        let number = self.value.number;
        let above = self.above_c.map(Celsius::from_c);
        Some(match self.kind.as_str() {
            "hold_min" => LimitKind::HoldMin(Celsius::from_c(number)),
            "hold_max" => LimitKind::HoldMax(Celsius::from_c(number)),
            "hold_time" => LimitKind::HoldTime(Hours::from_h(number)),
            "heating_rate" => LimitKind::HeatingRate {
                above: above?,
                rate: KelvinsPerHour::from_k_h(number),
            },
            "cooling_rate" => LimitKind::CoolingRate {
                above: above?,
                rate: KelvinsPerHour::from_k_h(number),
            },
            "hold_spread" => LimitKind::HoldSpread(Kelvins::from_k(number)),
            "heating_spread" => LimitKind::HeatingSpread {
                spread: Kelvins::from_k(number),
                within: Millimeters::from_mm(self.within_mm?),
            },
            _ => return None,
        })
    }
}

impl Value {
    fn measured(&self) -> Option<Measured> {
        Some(match self.unit.as_str() {
            "°C" => Measured::Temperature(Celsius::from_c(self.number)),
            "K" => Measured::Difference(Kelvins::from_k(self.number)),
            "h" => Measured::Time(Hours::from_h(self.number)),
            "K/h" => Measured::Rate(KelvinsPerHour::from_k_h(self.number)),
            _ => return None,
        })
    }
}

/// What helps as a rule where a limit is missed (common practice, no source); which of it helps here, the next plan says.
fn remedy(kind: &LimitKind) -> &'static str {
    match kind {
        LimitKind::HoldMin(_) => {
            "a wider coil, more blanket, a plugged bore, or a higher set point inside the range"
        }
        LimitKind::HoldMax(_) => "a lower set point, or turns further apart where it is hottest",
        LimitKind::HoldTime(_) => {
            "a longer hold; where the source runs out, more turns or a larger source"
        }
        LimitKind::HeatingRate { .. } => "a slower heating rate",
        LimitKind::CoolingRate { .. } => "a slower cooling rate, or more blanket",
        LimitKind::HoldSpread(_) => {
            "turns closer at the ends than in the middle, a wider coil, more blanket, or a plugged bore"
        }
        LimitKind::HeatingSpread { .. } => "a slower heating rate, or a wider coil",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(verdict: &str) -> String {
        format!(
            r#"{{"format":"x","job":{{"sha256":"ab"}},"complies":false,
            "verdicts":{{"findings":[{{"limit":{{"kind":"hold_min","level":"code","value":{{"number":745,"unit":"°C"}},
            "clause":{{"document":"Code","clause":"1.2"}}}},"verdict":"{verdict}","predicted":{{"number":738,"unit":"°C"}},
            "by_how_much":{{"number":7,"unit":"K"}},"when_h":9.183,"channel":"TC 7","reason":"because"}}],
            "foreseen":[{{"about":"source","verdict":"met","says":"enough","remedy":null}}]}},
            "wrap":{{"coil":{{"turns":[{{"axial_mm":-10,"standoff_mm":50}},{{"axial_mm":10,"standoff_mm":50}}]}},"source":{{"frequency_hz":3700}}}}}}"#
        )
    }

    #[test]
    fn what_is_missed_is_told_with_its_limit_how_far_and_what_helps() {
        let planned = Planned::read(file("not_met").as_bytes(), Units::Si).expect("a plan");
        assert_eq!((planned.missed(), planned.limits), (1, 1));
        assert_eq!(planned.note().as_deref(), Some("1 limit not met"));
        assert_eq!(
            (planned.coil.turns.len(), planned.frequency_hz),
            (2, 3700.0)
        );
        let one = &planned.limits_open[0];
        assert_eq!(one.what, "hold at 745 °C or above (Code 1.2)");
        assert!(
            one.says.contains("738 °C") && one.says.contains("missed by 7"),
            "{one:?}"
        );
        assert!(
            one.says.contains("TC 7") && one.says.contains("9 h 11 min"),
            "{one:?}"
        );
        assert!(
            one.remedy
                .as_ref()
                .is_some_and(|r| r.contains("wider coil"))
        );
        let us = Planned::read(file("not_met").as_bytes(), Units::Us).expect("a plan");
        assert!(us.limits_open[0].says.contains("°F"));
    }

    #[test]
    fn what_is_met_is_in_nobodys_way_and_no_plan_is_none() {
        let planned = Planned::read(file("met").as_bytes(), Units::Si).expect("a plan");
        assert!(planned.limits_open.is_empty() && planned.note().is_none());
        for other in ["", "{}", "[1]", "{\"job\":{}}"] {
            assert_eq!(Planned::read(other.as_bytes(), Units::Si), None);
        }
    }
}
