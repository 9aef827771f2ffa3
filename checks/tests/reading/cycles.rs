//! Requirements and chart lines with known answers.

use std::time::Duration;

use checks::{ChannelUse, Checker, Definitions, Finding, Findings};
use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour, Millimeters, Status};
use readings::Scan;
use rules::requirement::{Clause, GoverningThickness, Level, Limit, LimitKind, Requirement};
use rules::thermocouple::{Face, Place, Role};
use rules::weld::{CodeEdition, Purpose};

pub fn clause() -> Clause {
    Clause {
        document: "A made-up code".into(),
        clause: "1.1".into(),
        status: Status::UserGiven,
        note: None,
    }
}

pub fn limit(level: Level, kind: LimitKind) -> Limit {
    Limit {
        kind,
        level,
        clause: clause(),
        reason: "test".into(),
    }
}

/// 600 to 650 °C for 2 h, 150 K/h above 300 °C both ways, 40 K in the hold, 100 K while heating within 4.6 m.
pub fn usual_kinds() -> Vec<LimitKind> {
    let above = Celsius::from_c(300.0);
    let rate = KelvinsPerHour::from_k_h(150.0);
    vec![
        LimitKind::HoldMin(Celsius::from_c(600.0)),
        LimitKind::HoldMax(Celsius::from_c(650.0)),
        LimitKind::HoldTime(Hours::from_h(2.0)),
        LimitKind::HeatingRate { above, rate },
        LimitKind::CoolingRate { above, rate },
        LimitKind::HoldSpread(Kelvins::from_k(40.0)),
        LimitKind::HeatingSpread {
            spread: Kelvins::from_k(100.0),
            within: Millimeters::from_m(4.6),
        },
    ]
}

pub fn requirement(kinds: Vec<LimitKind>) -> Requirement {
    Requirement {
        standing: None,
        purpose: Purpose::StressRelief,
        code: CodeEdition {
            code: "made up".into(),
            edition: "1".into(),
        },
        governing_thickness: GoverningThickness {
            thickness: Millimeters::from_mm(25.0),
            reason: "test".into(),
            clause: clause(),
        },
        limits: kinds
            .into_iter()
            .map(|kind| limit(Level::Code, kind))
            .collect(),
        remarks: Vec::new(),
    }
}

pub fn thermocouples(count: usize) -> Vec<ChannelUse> {
    (0..count)
        .map(|i| ChannelUse {
            name: format!("TC{}", i + 1),
            role: if i == 0 { Role::Control } else { Role::Monitor },
            face: Face::Outside,
            axial: Millimeters::from_mm(10.0 * i as f64),
            place: Place::SoakBand,
            fitted: true,
        })
        .collect()
}

/// Straight lines between (hours, °C).
pub fn line(points: &[(f64, f64)], hours: f64) -> f64 {
    let after = points
        .iter()
        .position(|p| p.0 > hours)
        .unwrap_or(points.len() - 1)
        .max(1);
    let ((x0, y0), (x1, y1)) = (points[after - 1], points[after]);
    y0 + (y1 - y0) * ((hours - x0) / (x1 - x0)).clamp(0.0, 1.0)
}

/// 100 K/h up to 620 °C at 6 h, 2.5 h hold, 120 K/h down.
pub const GOOD: &[(f64, f64)] = &[(0.0, 20.0), (6.0, 620.0), (8.5, 620.0), (12.0, 200.0)];

/// Up to 660 °C for a while, at 80 K/h both ways.
pub const OVERSHOT: &[(f64, f64)] = &[
    (0.0, 20.0),
    (6.0, 620.0),
    (7.0, 620.0),
    (7.5, 660.0),
    (8.0, 620.0),
    (10.0, 400.0),
];

pub fn scans(lines: &[&[(f64, f64)]], interval_s: u64) -> Vec<Scan> {
    let end_h = lines
        .iter()
        .filter_map(|l| l.last())
        .map(|p| p.0)
        .fold(0.0, f64::max);
    (0..=(end_h * 3600.0) as u64 / interval_s)
        .map(|i| {
            let elapsed = Duration::from_secs(i * interval_s);
            let hours = elapsed.as_secs_f64() / 3600.0;
            let readings = lines
                .iter()
                .map(|l| Some(Celsius::from_c(line(l, hours))))
                .collect();
            Scan { elapsed, readings }
        })
        .collect()
}

pub fn judge(requirement: &Requirement, channels: &[ChannelUse], scans: &[Scan]) -> Findings {
    let mut checker = Checker::new(requirement, channels, Definitions::default());
    scans.iter().for_each(|s| checker.push(s));
    checker.findings()
}

/// The usual limits against one line a thermocouple, a scan a minute.
pub fn usual(lines: &[&[(f64, f64)]]) -> Findings {
    judge(
        &requirement(usual_kinds()),
        &thermocouples(lines.len()),
        &scans(lines, 60),
    )
}

pub fn of(findings: &Findings, wanted: fn(&LimitKind) -> bool) -> &Finding {
    findings
        .findings
        .iter()
        .find(|f| wanted(&f.limit.kind))
        .expect("a limit of this kind")
}

pub fn is_hold_time(kind: &LimitKind) -> bool {
    matches!(kind, LimitKind::HoldTime(_))
}

pub fn is_hold_max(kind: &LimitKind) -> bool {
    matches!(kind, LimitKind::HoldMax(_))
}

pub fn is_hold_min(kind: &LimitKind) -> bool {
    matches!(kind, LimitKind::HoldMin(_))
}

pub fn is_heating_rate(kind: &LimitKind) -> bool {
    matches!(kind, LimitKind::HeatingRate { .. })
}

pub fn is_cooling_rate(kind: &LimitKind) -> bool {
    matches!(kind, LimitKind::CoolingRate { .. })
}

pub fn is_hold_spread(kind: &LimitKind) -> bool {
    matches!(kind, LimitKind::HoldSpread(_))
}

pub fn is_heating_spread(kind: &LimitKind) -> bool {
    matches!(kind, LimitKind::HeatingSpread { .. })
}
