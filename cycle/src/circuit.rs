//! The circuit: coil with joint, cable and leads in series, and what the source allows.

use std::f64::consts::PI;

use materials::MaterialError;

use crate::closed_forms::two_wire::pair_inductance_h;
use crate::outcome::Limit;
use crate::setup::{Leads, Setup};

/// The series impedance at the source in ohm, by part (circuit.md eq. 9).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Impedance {
    /// Resistance that stands for the power into the metal.
    pub metal_ohm: f64,
    /// Resistance of the cable of the coil.
    pub coil_ohm: f64,
    /// Resistance of both leads.
    pub leads_ohm: f64,
    /// Reactance of the coil with the joint.
    pub coil_reactance_ohm: f64,
    /// Reactance of the leads.
    pub leads_reactance_ohm: f64,
}

impl Impedance {
    /// All resistance.
    pub fn resistance_ohm(&self) -> f64 {
        self.metal_ohm + self.coil_ohm + self.leads_ohm
    }

    /// All reactance.
    pub fn reactance_ohm(&self) -> f64 {
        self.coil_reactance_ohm + self.leads_reactance_ohm
    }

    /// Amount of the impedance.
    pub fn amount_ohm(&self) -> f64 {
        libm::hypot(self.resistance_ohm(), self.reactance_ohm())
    }
}

/// Resistance and reactance of the two leads.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LeadsImpedance {
    /// Resistance in ohm.
    pub resistance_ohm: f64,
    /// Reactance in ohm.
    pub reactance_ohm: f64,
}

/// The leads at a frequency in Hz (circuit.md eq. 7 and 8).
///
/// # Errors
/// The range of the resistivity of copper.
pub fn leads_impedance(leads: &Leads, frequency_hz: f64) -> Result<LeadsImpedance, MaterialError> {
    let (length_m, spacing_m) = (leads.length.m(), leads.spacing.m());
    if length_m <= 0.0 {
        return Ok(LeadsImpedance::default());
    }
    let cable = &leads.cable;
    let copper_c = cable.max_cable_temperature_c.value;
    let neighbor_1_m = 1.0 / (2.0 * PI * spacing_m);
    let factor = cable.alternating_factor(frequency_hz, neighbor_1_m, copper_c)?;
    let radius_m = 0.5e-3 * cable.bundle_diameter_mm.value;
    let inductance_h = pair_inductance_h(length_m, spacing_m.max(2.0 * radius_m), radius_m);
    Ok(LeadsImpedance {
        resistance_ohm: 2.0 * length_m * cable.direct_resistance_ohm_m(copper_c)? * factor,
        reactance_ohm: 2.0 * PI * frequency_hz * inductance_h,
    })
}

/// What bounds the current.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SourceLimits {
    /// Rated power in W.
    pub power_w: f64,
    /// Largest current of the source in A rms.
    pub current_rms_a: f64,
    /// Largest voltage in V rms.
    pub voltage_rms_v: f64,
    /// The current that the cable bears in A rms.
    pub cable_rms_a: f64,
}

impl SourceLimits {
    /// The limits of the source, the cable of the coil and that of the leads together.
    pub fn new(setup: &Setup) -> SourceLimits {
        let source = &setup.source;
        let coil_a = setup.cable.max_current_a_rms.value;
        let leads_a = match setup.leads.length.m() > 0.0 {
            true => setup.leads.cable.max_current_a_rms.value,
            false => f64::INFINITY,
        };
        SourceLimits {
            power_w: source.power_kw * 1e3,
            current_rms_a: source.current_rms_a,
            voltage_rms_v: source.voltage_rms_v,
            cable_rms_a: coil_a.min(leads_a),
        }
    }

    /// The largest current in A rms, whatever it flows into.
    pub fn most_a(&self) -> f64 {
        self.current_rms_a.min(self.cable_rms_a)
    }

    /// The largest current in A rms into an impedance, and what limits it (circuit.md eq. 10).
    pub fn allowed_rms_a(&self, impedance: &Impedance) -> (f64, Limit) {
        let resistance_ohm = impedance.resistance_ohm().max(f64::MIN_POSITIVE);
        let amount_ohm = impedance.amount_ohm().max(f64::MIN_POSITIVE);
        [
            ((self.power_w / resistance_ohm).sqrt(), Limit::Power),
            (self.current_rms_a, Limit::Current),
            (self.voltage_rms_v / amount_ohm, Limit::Voltage),
            (self.cable_rms_a, Limit::Cable),
        ]
        .into_iter()
        .fold((f64::INFINITY, Limit::Power), |least, next| {
            if next.0 < least.0 { next } else { least }
        })
    }

    /// What is left of power, current and voltage at a current in A rms, in percent, each on its own.
    pub fn reserves_percent(&self, impedance: &Impedance, current_rms_a: f64) -> [f64; 3] {
        let power_w = current_rms_a * current_rms_a * impedance.resistance_ohm();
        let voltage_v = current_rms_a * impedance.amount_ohm();
        [
            100.0 * (1.0 - power_w / self.power_w),
            100.0 * (1.0 - current_rms_a / self.most_a()),
            100.0 * (1.0 - voltage_v / self.voltage_rms_v),
        ]
    }
}

#[cfg(test)]
mod tests {
    use quantity::Millimeters;

    use super::{Impedance, SourceLimits, leads_impedance};
    use crate::outcome::Limit;
    use crate::setup::Leads;

    fn impedance(resistance_ohm: f64, reactance_ohm: f64) -> Impedance {
        Impedance {
            metal_ohm: resistance_ohm,
            coil_reactance_ohm: reactance_ohm,
            ..Impedance::default()
        }
    }

    fn limits() -> SourceLimits {
        SourceLimits {
            power_w: 35e3,
            current_rms_a: 350.0,
            voltage_rms_v: 700.0,
            cable_rms_a: 500.0,
        }
    }

    #[test]
    fn each_limit_bites_where_it_should() {
        let (by_power, power) = limits().allowed_rms_a(&impedance(0.5, 1.0));
        assert_eq!(power, Limit::Power);
        assert!((by_power * by_power * 0.5 - 35e3).abs() < 1e-6);
        assert_eq!(
            limits().allowed_rms_a(&impedance(0.05, 1.0)).1,
            Limit::Current
        );
        let (by_voltage, voltage) = limits().allowed_rms_a(&impedance(0.1, 4.0));
        assert_eq!(voltage, Limit::Voltage);
        assert!((by_voltage * libm::hypot(0.1, 4.0) - 700.0).abs() < 1e-9);
        let thin = SourceLimits {
            cable_rms_a: 200.0,
            ..limits()
        };
        assert_eq!(thin.allowed_rms_a(&impedance(0.05, 1.0)).1, Limit::Cable);
    }

    #[test]
    fn leads_lose_by_their_length_and_more_at_a_higher_frequency() {
        let leads = |length_mm: f64| Leads {
            length: Millimeters::from_mm(length_mm),
            spacing: Millimeters::from_mm(30.0),
            cable: materials::cable("liquid-cooled cable")
                .expect("known")
                .clone(),
        };
        let short = leads_impedance(&leads(3000.0), 10e3).expect("in range");
        let long = leads_impedance(&leads(6000.0), 10e3).expect("in range");
        let faster = leads_impedance(&leads(3000.0), 30e3).expect("in range");
        assert!((long.resistance_ohm / short.resistance_ohm - 2.0).abs() < 1e-12);
        assert!(faster.resistance_ohm > short.resistance_ohm);
        // 2 x 3 m of 50 mm2 copper at 60 °C: 2.39 mohm to direct current, a little more at 10 kHz.
        assert!(
            (2.39e-3..4.5e-3).contains(&short.resistance_ohm),
            "{short:?}"
        );
        assert_eq!(
            leads_impedance(&leads(0.0), 10e3)
                .expect("none")
                .resistance_ohm,
            0.0
        );
    }
}
