//! Inductance of rings, coils and leads by published formulas (docs/theory/circuit.md).
//!
//! They give the circuit what the section does not show (leads), the row "coil alone" of the circuit table, and the
//! tests an outside to be compared with. All in SI units, currents uniform over their conductors.

pub mod elliptic;
pub mod ring;
pub mod solenoid;
pub mod two_wire;

/// Permeability of vacuum in H/m (CODATA 2018).
pub const VACUUM_PERMEABILITY_H_M: f64 = 1.256_637_062_12e-6;
