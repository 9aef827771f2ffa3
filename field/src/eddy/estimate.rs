//! Fields and skin depths before anything is meshed: good enough to choose the layers by.

use num_complex::Complex64;

use super::drive::Drive;
use crate::mesh::MeshSettings;
use crate::mesh::geometry::{
    between, bounds, direction, distance, dot, left_of, minus, nearest_parameter, sides,
};
use crate::permeability::VACUUM_PERMEABILITY_H_M;
use crate::section::{Metal, Point, Section};

/// Temperatures at which a range is looked at, ends included.
const TEMPERATURES: usize = 41;
/// Triangles in a body are at most this large, and at most this share of its diagonal: heat spreads that far in
/// minutes, and quadratic elements follow it.
const LARGEST_SIZE_M: f64 = 0.06;
const LARGEST_OVER_DIAGONAL: f64 = 0.25;
/// Places along each edge of a body, besides those nearest to conductors.
const PLACES: usize = 16;

/// Depth at which the field has fallen to 1/e: sqrt(rho / (pi f mu)), equation (1) of docs/theory/eddy-currents.md.
pub fn skin_depth_m(resistivity_ohm_m: f64, relative_permeability: f64, frequency_hz: f64) -> f64 {
    let permeability = VACUUM_PERMEABILITY_H_M * relative_permeability;
    (resistivity_ohm_m / (std::f64::consts::PI * frequency_hz * permeability)).sqrt()
}

/// Largest peak field strength along the surface of each body in A/m: of the conductors as straight filaments and of
/// their images in a plane through which no flux passes, and of the given edges.
pub fn surface_fields_a_m(section: &Section, drive: &Drive) -> Vec<f64> {
    let edges_a_m = drive
        .edges
        .iter()
        .map(|edge| edge.tangential_a_m.norm())
        .fold(0.0, f64::max);
    let filaments: Vec<(Point, Complex64)> = section
        .windings
        .iter()
        .zip(&drive.currents_a)
        .flat_map(|(winding, &current_a)| {
            winding
                .conductors
                .iter()
                .map(move |c| (c.shape.center_m(), current_a * c.turns))
        })
        .collect();
    let on_body = |polygon: &[Point]| {
        sides(polygon)
            .flat_map(|[a, b]| {
                let spread = (0..=PLACES).map(|k| k as f64 / PLACES as f64);
                let nearest: Vec<f64> = filaments
                    .iter()
                    .map(|&(center, _)| nearest_parameter(a, b, center))
                    .collect();
                let normal = left_of(direction(a, b));
                spread
                    .chain(nearest)
                    .map(|t| filament_field_a_m(&filaments, between(a, b, t), normal))
                    .collect::<Vec<f64>>()
            })
            .fold(edges_a_m, f64::max)
    };
    section
        .bodies
        .iter()
        .map(|body| on_body(&body.polygon))
        .collect()
}

fn filament_field_a_m(filaments: &[(Point, Complex64)], place: Point, normal: Point) -> f64 {
    let one = |&(center, current_a): &(Point, Complex64)| {
        let gap = minus(place, center);
        let far_m = distance(place, center).max(f64::MIN_POSITIVE);
        current_a * (dot(gap, normal) / (std::f64::consts::PI * far_m * far_m))
    };
    filaments.iter().map(one).sum::<Complex64>().norm()
}

/// Mesh settings that suit a drive and all temperatures of a range.
pub fn mesh_settings(section: &Section, drive: &Drive, range_c: [f64; 2]) -> MeshSettings {
    let depths_m = smallest_skin_depths_m(section, drive, range_c);
    let mut settings = MeshSettings::for_field(&depths_m, LARGEST_SIZE_M);
    for (body, settings) in section.bodies.iter().zip(&mut settings.bodies) {
        let [low, high] = bounds(body.polygon.iter());
        settings.largest_size_m = settings
            .largest_size_m
            .min(LARGEST_OVER_DIAGONAL * distance(low, high));
    }
    settings.entries = drive
        .edges
        .iter()
        .map(|edge| [edge.from_m, edge.to_m])
        .collect();
    settings.breaks = settings.entries.iter().flatten().copied().collect();
    settings
}

/// The smallest skin depth that each body will see between two temperatures; `None` for insulators.
pub fn smallest_skin_depths_m(
    section: &Section,
    drive: &Drive,
    range_c: [f64; 2],
) -> Vec<Option<f64>> {
    let fields_a_m = surface_fields_a_m(section, drive);
    section
        .bodies
        .iter()
        .zip(fields_a_m)
        .map(|(body, field_a_m)| {
            smallest_skin_depth_m(&body.metal, drive.frequency_hz, field_a_m, range_c)
        })
        .collect()
}

fn smallest_skin_depth_m(
    metal: &Metal,
    frequency_hz: f64,
    field_a_m: f64,
    range_c: [f64; 2],
) -> Option<f64> {
    let resistivity = metal.resistivity_ohm_m.as_ref()?;
    let at = |k: usize| {
        let share = k as f64 / (TEMPERATURES - 1) as f64;
        let temperature_c = (1.0 - share) * range_c[0] + share * range_c[1];
        let relative = metal.permeability.relative(field_a_m, temperature_c);
        skin_depth_m(resistivity.at(temperature_c), relative, frequency_hz)
    };
    (0..TEMPERATURES).map(at).reduce(f64::min)
}
