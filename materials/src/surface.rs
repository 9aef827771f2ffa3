//! Surfaces: how strongly a surface radiates.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::MaterialError;
use crate::entry::RangedEntry;
use crate::find::{nearest, plain};
use crate::ranged::Ranged;

/// A kind of surface.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// The name that stands on a plan.
    pub name: String,
    /// Total hemispherical emissivity (0-1) with its range.
    pub emissivity: Ranged,
    /// The temperatures in °C between which it holds.
    pub range_c: (f64, f64),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SurfacesFile {
    surfaces: Vec<SurfaceEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SurfaceEntry {
    name: String,
    emissivity: RangedEntry,
    range_c: (f64, f64),
}

static SURFACES: LazyLock<Vec<Surface>> = LazyLock::new(|| {
    let file: SurfacesFile = toml::from_str(include_str!("../data/surfaces.toml"))
        .expect("the data files are read by tests");
    let surface = |entry: SurfaceEntry| Surface {
        emissivity: entry.emissivity.resolve(),
        name: entry.name,
        range_c: entry.range_c,
    };
    file.surfaces.into_iter().map(surface).collect()
});

/// All surfaces, in the order of the data file.
pub fn surfaces() -> &'static [Surface] {
    &SURFACES
}

/// The surface of a name.
///
/// # Errors
/// [`MaterialError::Unknown`] with the nearest names.
pub fn surface(name: &str) -> Result<&'static Surface, MaterialError> {
    let wanted = plain(name);
    let found = surfaces()
        .iter()
        .find(|surface| plain(&surface.name) == wanted);
    found.ok_or_else(|| MaterialError::Unknown {
        kind: "surface".into(),
        asked: name.into(),
        suggestions: nearest(
            name,
            &surfaces()
                .iter()
                .map(|surface| surface.name.as_str())
                .collect::<Vec<_>>(),
        ),
    })
}
