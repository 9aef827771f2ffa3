//! What can go wrong in this room: one message a case, with the place, the two numbers and a hint.

use crate::section::Point;

/// Why a section could not be meshed or solved.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FieldError {
    /// A polygon has too few corners, a number that is not finite, or no area.
    #[error(
        "body \"{body}\": {problem}; give at least three corners, counter-clockwise, in meters"
    )]
    BadPolygon {
        /// The body.
        body: String,
        /// What is wrong with its outline.
        problem: String,
    },
    /// The outline of a body crosses itself.
    #[error(
        "body \"{body}\": its outline crosses itself near ({:.5}, {:.5}) m; order the corners counter-clockwise",
        place_m[0],
        place_m[1]
    )]
    OutlineCrossesItself {
        /// The body.
        body: String,
        /// Where.
        place_m: Point,
    },
    /// An axisymmetric section reaches beyond the axis.
    #[error(
        "{what}: radius {radius_m} m is left of the axis (r = 0); an axisymmetric section lies at r >= 0"
    )]
    LeftOfAxis {
        /// The body or conductor.
        what: String,
        /// Its smallest radius in meters.
        radius_m: f64,
    },
    /// Two bodies cover the same place.
    #[error(
        "bodies \"{first}\" and \"{second}\" overlap near ({:.5}, {:.5}) m; they may touch, never overlap",
        place_m[0],
        place_m[1]
    )]
    BodiesOverlap {
        /// One body.
        first: String,
        /// The other body.
        second: String,
        /// Where.
        place_m: Point,
    },
    /// A conductor of a winding reaches into a body that conducts.
    #[error(
        "winding \"{winding}\", conductor {conductor}: it overlaps body \"{body}\" near ({:.5}, {:.5}) m; \
         move it into the air",
        place_m[0],
        place_m[1]
    )]
    ConductorInBody {
        /// The winding.
        winding: String,
        /// The conductor, counted from 1.
        conductor: usize,
        /// The body.
        body: String,
        /// Where.
        place_m: Point,
    },
    /// A conductor lies where there is no mesh.
    #[error(
        "winding \"{winding}\", conductor {conductor}: ({:.5}, {:.5}) m lies outside the meshed region; \
         mesh again with this conductor in the section",
        place_m[0],
        place_m[1]
    )]
    ConductorOutside {
        /// The winding.
        winding: String,
        /// The conductor, counted from 1.
        conductor: usize,
        /// Where.
        place_m: Point,
    },
    /// A piece of boundary was named that is not there.
    #[error(
        "no boundary of a body runs from ({:.5}, {:.5}) m to ({:.5}, {:.5}) m; \
         an edge must lie on straight outlines of the bodies",
        from_m[0],
        from_m[1],
        to_m[0],
        to_m[1]
    )]
    NoSuchEdge {
        /// Where it should begin.
        from_m: Point,
        /// Where it should end.
        to_m: Point,
    },
    /// A number is outside what it may be.
    #[error("{what} is {value} {unit}; it must lie between {lowest} and {highest} {unit}")]
    OutOfRange {
        /// The name of the number.
        what: String,
        /// The number.
        value: f64,
        /// The smallest allowed.
        lowest: f64,
        /// The largest allowed.
        highest: f64,
        /// Unit of all three.
        unit: &'static str,
    },
    /// A list has the wrong number of entries.
    #[error("{what}: {got} given, {need} needed")]
    WrongCount {
        /// The list.
        what: String,
        /// How many there are.
        got: usize,
        /// How many there should be.
        need: usize,
    },
    /// The currents of a plane in open space do not add up to zero.
    #[error(
        "the currents through the plane add up to {net_a} A instead of 0 A; \
         give return conductors (negative turns), or model the section as axisymmetric"
    )]
    CurrentsDoNotReturn {
        /// Their sum.
        net_a: f64,
    },
    /// The section could not be meshed.
    #[error(
        "the mesh failed near ({:.5}, {:.5}) m: {what}; look there for slivers, needles or nearly touching outlines",
        place_m[0],
        place_m[1]
    )]
    MeshFailed {
        /// What failed.
        what: String,
        /// Where.
        place_m: Point,
    },
    /// Power does not balance.
    #[error(
        "the sources feed in {fed_w:.6e} W and the bodies set {heat_w:.6e} W free; the mesh may be broken"
    )]
    PowersDiffer {
        /// Active power of windings and edges in W.
        fed_w: f64,
        /// Heat in all bodies in W.
        heat_w: f64,
    },
    /// The linear system was solved too inaccurately.
    #[error(
        "the solution leaves a residual of {residual:.2e} of the right-hand side, {allowed:.0e} is allowed"
    )]
    ResidualTooLarge {
        /// Residual over right-hand side.
        residual: f64,
        /// The limit.
        allowed: f64,
    },
    /// A pivot of a factorization vanished.
    #[error(
        "the matrix is singular at unknown {unknown}: the pivot {pivot:.1e} is nothing beside its diagonal entry \
         {diagonal:.1e}; look for a part of the section that nothing holds (no given value, no loss)"
    )]
    Singular {
        /// The unknown, as the caller numbers it.
        unknown: usize,
        /// Magnitude of the pivot.
        pivot: f64,
        /// Magnitude of the diagonal entry before elimination.
        diagonal: f64,
    },
    /// Newton's method or the control of steps found no way on.
    #[error(
        "no convergence at {time_s} s: temperatures still move by {left_k:.3e} K, {allowed_k:.1e} K is allowed; \
         look for a law of heat that jumps"
    )]
    NotConverged {
        /// Time in seconds.
        time_s: f64,
        /// What is left in kelvin.
        left_k: f64,
        /// What may be left in kelvin.
        allowed_k: f64,
    },
    /// No body of the section conducts heat.
    #[error("no body conducts heat; give at least one metal a conductivity above 0 W/(m K)")]
    NothingConductsHeat,
    /// The heat content of a metal does not rise with temperature.
    #[error(
        "body \"{body}\": its heat content does not rise with temperature; its specific heat must be positive"
    )]
    HeatContentFlat {
        /// The body.
        body: String,
    },
    /// A point of heat lies where no metal is.
    #[error(
        "({:.5}, {:.5}) m lies on no body that conducts heat; heat is only known in the bodies",
        place_m[0],
        place_m[1]
    )]
    OutsideMetal {
        /// Where.
        place_m: Point,
    },
}
