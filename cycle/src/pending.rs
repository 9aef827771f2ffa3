//! Stand-ins for the types of the materials room until they land there.

/// A metal of the materials room.
#[derive(Clone, Debug)]
pub struct Metal;

/// A blanket of the materials room.
#[derive(Clone, Debug)]
pub struct Blanket;

/// A cable of the materials room.
#[derive(Clone, Debug)]
pub struct Cable;
