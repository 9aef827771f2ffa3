//! How fine the mesh of a joint is.

use field::mesh::MeshSettings;

/// How fine a mesh is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grain {
    /// First layer over the smallest skin depth.
    pub first_layer: f64,
    /// Growth of the layers.
    pub growth: f64,
    /// Spacing along surfaces over the distance to the nearest turn.
    pub surface: f64,
    /// Size of air triangles at a turn over its distance to the pipe.
    pub air: f64,
    /// Spacing at free corners.
    pub corner: f64,
    /// Largest triangles, in m.
    pub largest_m: f64,
}

impl Grain {
    /// For a plan: against [`Grain::FINE`] temperatures of a cycle differ by less than half a kelvin in the soak band, and
    /// reactance by half a percent.
    pub const PLAN: Grain = Grain {
        first_layer: 0.7,
        growth: 1.7,
        surface: 0.5,
        air: 0.4,
        corner: 0.25,
        largest_m: 0.12,
    };
    /// For comparing layouts of a coil: power within half a percent, reactance within three.
    pub const PROPOSAL: Grain = Grain {
        first_layer: 1.0,
        growth: 2.0,
        surface: 0.7,
        air: 1.0,
        corner: 0.4,
        largest_m: 0.2,
    };
    /// For checking what [`Grain::PLAN`] costs.
    pub const FINE: Grain = Grain {
        first_layer: 0.5,
        growth: 1.4,
        surface: 0.25,
        air: 0.2,
        corner: 0.1,
        largest_m: 0.06,
    };
}

impl Grain {
    /// Sets a mesh to this grain, with the smallest skin depth of each body and the diameter of the slenderer pipe:
    /// much longer triangles would make needles of the air in its bore.
    pub fn apply(
        &self,
        settings: &mut MeshSettings,
        smallest_depths_m: &[Option<f64>],
        diameter_m: f64,
    ) {
        settings.growth = self.growth;
        settings.surface_spacing = self.surface;
        settings.corner_spacing = self.corner;
        settings.air_size = self.air;
        for (body, depth_m) in settings.bodies.iter_mut().zip(smallest_depths_m) {
            body.first_layer_m = depth_m.map(|depth_m| self.first_layer * depth_m);
            body.largest_size_m = self.largest_m.min(diameter_m);
        }
    }
}
