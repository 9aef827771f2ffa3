//! The words of a finding: what was met or not, by how much, by which thermocouples, under which clause, as defined
//! where.

use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour, Units};
use rules::requirement::{Level, Limit, LimitKind};

use crate::channel::ChannelUse;
use crate::finding::{Finding, Findings, Measured, Origin, Readings, Verdict};

impl Measured {
    /// The value with its unit, no finer than a field thermocouple bears.
    pub fn words(self, units: Units) -> String {
        match self {
            Measured::Temperature(t) => temperature(t, units),
            Measured::Difference(d) => difference(d, units),
            Measured::Time(h) => time_words(h),
            Measured::Rate(r) => rate(r, units),
        }
    }
}

impl Verdict {
    /// The words for the verdict, never a bare pass.
    pub fn words(self, origin: Origin) -> &'static str {
        match (self, origin) {
            (Verdict::Met, Origin::Measured) => "measured values met",
            (Verdict::Met, Origin::Predicted) => "predicted values meet",
            (Verdict::NotMet, Origin::Measured) => "measured values did not meet",
            (Verdict::NotMet, Origin::Predicted) => "predicted values do not meet",
            (Verdict::NotJudged, _) => "could not be judged:",
        }
    }
}

impl Finding {
    /// The finding as one sentence. `thermocouples` are the names by which it was judged.
    pub fn sentence(&self, origin: Origin, units: Units, thermocouples: &[String]) -> String {
        let limit = format!(
            "{} ({})",
            limit_words(&self.limit.kind, units),
            clause_words(&self.limit)
        );
        let verdict = self.verdict.words(origin);
        let by = thermocouples.join(", ");
        format!(
            "{verdict} {limit}: {}, by {by}, as defined in {}{}",
            self.evidence(units),
            self.definition,
            self.otherwise(units)
        )
    }

    /// What the readings that do not bind say, where they say otherwise.
    fn otherwise(&self, units: Units) -> String {
        let Some(other) = &self.other_readings else {
            return String::new();
        };
        let kind = match other.readings {
            Readings::Raw => "raw",
            Readings::Filtered => "filtered",
        };
        let value = other
            .measured
            .map_or(String::new(), |m| format!(" ({})", m.words(units)));
        let says = match other.verdict {
            Verdict::Met => "would meet it",
            Verdict::NotMet => "would not meet it",
            Verdict::NotJudged => "could not be judged",
        };
        format!("; {kind} readings{value} {says}")
    }

    fn evidence(&self, units: Units) -> String {
        let mut words = self.reason.clone();
        if let Some(measured) = self.measured {
            words = format!("{}, {words}", measured.words(units));
        }
        if let Some(channel) = &self.channel {
            words = format!("{words}, {channel}");
        }
        if let Some(when) = self.when {
            // A hold is told by where it begins.
            let at = match self.limit.kind {
                LimitKind::HoldTime(_) => "from",
                _ => "at",
            };
            words = format!("{words}, {at} {}", when.words());
        }
        match (self.verdict, self.by_how_much) {
            (Verdict::NotMet, Some(by)) => format!("{words}, missed by {}", by.words(units)),
            _ => words,
        }
    }
}

impl Findings {
    /// Names of the thermocouples by which a kind of limit was judged, with the time from which on one of them judged or
    /// judged no more.
    ///
    /// One that left before the first scan judged nothing.
    pub fn names_for(&self, kind: &LimitKind) -> Vec<String> {
        let judges = |t: &&ChannelUse| match kind {
            LimitKind::HoldMax(_) => true,
            LimitKind::HeatingRate { .. } | LimitKind::CoolingRate { .. } => {
                t.judges_rate() || (t.rates_place() && self.steps_in(t))
            }
            _ => self.held_by(t),
        };
        self.names(judges)
    }

    fn held_by(&self, thermocouple: &ChannelUse) -> bool {
        let stands_in = || thermocouple.holds_place() && self.steps_in(thermocouple);
        thermocouple.judges_hold() || stands_in()
    }

    fn names(&self, judges: impl Fn(&&ChannelUse) -> bool) -> Vec<String> {
        let in_set = self.thermocouples.iter().filter(judges);
        in_set
            .filter(|t| !self.never_in(t))
            .map(|t| self.name_with_times(&t.name))
            .collect()
    }

    fn name_with_times(&self, name: &str) -> String {
        let mut removed = self.removed.iter();
        let stood_in = removed.find(|r| r.replaced_by.as_deref() == Some(name));
        let from = stood_in.map_or(String::new(), |r| format!(" from {}", r.from.words()));
        let left = self.removed.iter().find(|r| r.channel == name);
        let until = left.map_or(String::new(), |r| format!(" until {}", r.from.words()));
        format!("{name}{from}{until}")
    }

    fn never_in(&self, channel: &ChannelUse) -> bool {
        let mut removed = self.removed.iter();
        removed.any(|r| r.channel == channel.name && r.from.h() <= 0.0)
    }

    fn steps_in(&self, spare: &ChannelUse) -> bool {
        self.removed
            .iter()
            .any(|r| r.replaced_by.as_ref() == Some(&spare.name))
    }

    /// Names of the thermocouples by which the hold was judged.
    pub fn soak_band_names(&self) -> Vec<String> {
        self.names(|t| self.held_by(t))
    }
}

/// A limit in words.
pub fn limit_words(kind: &LimitKind, units: Units) -> String {
    match *kind {
        LimitKind::HoldMin(min) => format!("hold at {} or above", temperature(min, units)),
        LimitKind::HoldMax(max) => format!("at most {}", temperature(max, units)),
        LimitKind::HoldTime(hold) => format!("hold of {}", time_words(hold)),
        LimitKind::HeatingRate { above, rate: r } => {
            format!(
                "heating no faster than {} above {}",
                rate(r, units),
                temperature(above, units)
            )
        }
        LimitKind::CoolingRate { above, rate: r } => {
            format!(
                "cooling no faster than {} above {}",
                rate(r, units),
                temperature(above, units)
            )
        }
        LimitKind::HoldSpread(spread) => format!(
            "spread in the hold of {} at most",
            difference(spread, units)
        ),
        LimitKind::HeatingSpread { spread, within } => {
            let reach = match units {
                Units::Si => format!("{:.1} m", within.m()),
                Units::Us => format!("{:.0} ft", within.inches() / 12.0),
            };
            format!(
                "spread while heating of {} at most within {reach}",
                difference(spread, units)
            )
        }
    }
}

/// Who sets a limit and where it stands.
pub fn clause_words(limit: &Limit) -> String {
    let clause = &limit.clause;
    let mark = if clause.status.needs_mark() {
        format!(", {}", clause.status.words())
    } else {
        String::new()
    };
    format!(
        "{}: {} {}{mark}",
        level_words(limit.level),
        clause.document,
        clause.clause
    )
}

/// Who sets a limit.
pub fn level_words(level: Level) -> &'static str {
    match level {
        Level::Code => "code",
        Level::Owner => "owner",
        Level::Procedure => "procedure",
        Level::Guidance => "guidance",
    }
}

fn temperature(value: Celsius, units: Units) -> String {
    match units {
        Units::Si => format!("{:.0} °C", value.c()),
        Units::Us => format!("{:.0} °F", value.f()),
    }
}

fn difference(value: Kelvins, units: Units) -> String {
    match units {
        Units::Si => format!("{} K", digits(value.k())),
        Units::Us => format!("{} °F", digits(value.f_difference())),
    }
}

fn rate(value: KelvinsPerHour, units: Units) -> String {
    match units {
        Units::Si => format!("{} K/h", digits(value.k_h())),
        Units::Us => format!("{} °F/h", digits(value.f_h())),
    }
}

/// A temperature in both units, for words that do not know their reader.
pub(crate) fn both_c(c: f64) -> String {
    format!("{c:.0} °C ({:.0} °F)", Celsius::from_c(c).f())
}

/// A rate in both units.
pub(crate) fn both_rate(k_h: f64) -> String {
    let f_h = KelvinsPerHour::from_k_h(k_h).f_h();
    format!("{} K/h ({} °F/h)", digits(k_h), digits(f_h))
}

/// Which way a change goes.
pub(crate) fn way(change: f64) -> &'static str {
    if change < 0.0 { "down" } else { "up" }
}

/// A difference in both units.
pub(crate) fn both_k(k: f64) -> String {
    let f = Kelvins::from_k(k).f_difference();
    format!("{} K ({} °F)", digits(k), digits(f))
}

/// A small amount is given with one decimal, so that a narrow miss does not read as none.
pub(crate) fn digits(value: f64) -> String {
    if value.abs() < SMALL {
        format!("{value:.1}")
    } else {
        format!("{value:.0}")
    }
}

const SMALL: f64 = 10.0;

/// Hours and minutes; of short times no more than the second is told, of longer ones a tenth of a minute.
pub fn time_words(value: Hours) -> String {
    let (seconds, minutes) = (value.s(), value.minutes());
    if seconds.abs() < 120.0 {
        return format!("{seconds:.0} s");
    }
    let tenths = (10.0 * minutes).round() as i64;
    let (whole_h, rest) = (tenths / 600, tenths % 600);
    let rest = match rest % 10 {
        0 => format!("{} min", rest / 10),
        _ => format!("{:.1} min", rest as f64 / 10.0),
    };
    match (whole_h, rest.as_str()) {
        (0, _) => rest,
        (_, "0 min") => format!("{whole_h} h"),
        _ => format!("{whole_h} h {rest}"),
    }
}
