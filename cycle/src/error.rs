//! What can go wrong with a plan.

/// A plan that could not be made.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum CycleError {
    /// A dimension or value of the setup lies outside what the model covers.
    #[error("{what} is {given} {unit}, allowed is {least} to {most} {unit}: {hint}")]
    OutOfRange {
        /// What.
        what: String,
        /// The value given.
        given: f64,
        /// Least allowed.
        least: f64,
        /// Most allowed.
        most: f64,
        /// The unit of all three.
        unit: &'static str,
        /// What to do about it.
        hint: String,
    },
    /// The two sides do not make a joint.
    #[error("the sides do not meet at the weld: {detail}: {hint}")]
    Joint {
        /// What does not fit, with its numbers.
        detail: String,
        /// What to do about it.
        hint: String,
    },
    /// No thermocouple tells the controller anything.
    #[error(
        "no control thermocouple sits on the outside of the soak band: name at least one with the role `control`"
    )]
    NoControl,
    /// A property was asked for outside its range.
    #[error("while {doing}: {detail}")]
    Property {
        /// What was done.
        doing: String,
        /// The property with its range and the value asked for.
        detail: String,
    },
    /// Whoever asked for the plan did not want to wait for it.
    #[error("stopped as asked; nothing was planned")]
    Stopped,
    /// The solver refused or did not converge.
    #[error("the field and heat solver stopped while {doing}: {detail}")]
    Solver {
        /// What was done.
        doing: String,
        /// What the solver said.
        detail: String,
    },
}
