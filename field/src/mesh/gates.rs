//! What every mesh must satisfy before anything is solved on it.

use super::delaunay::smallest_angle_deg;
use super::geometry::{area, distance, sides, triangle_area};
use super::outline::Outline;
use super::{Mesh, Region};
use crate::error::FieldError;
use crate::section::{Point, Section};

/// Areas and perimeters agree with the polygons up to rounding; a gap or overlap of one triangle is far larger.
const AGREEMENT: f64 = 1e-9;
/// Thinnest air triangle, in degrees. Narrow gaps make thin triangles; thinner than this are two points in one place.
const THINNEST_AIR_DEG: f64 = 0.02;

/// Checks areas, outlines and angles.
///
/// # Errors
/// [`FieldError::MeshFailed`] with the gate that did not hold.
pub(crate) fn check(
    mesh: &Mesh,
    section: &Section,
    outline: &Outline,
    far_polygon: &[Point],
) -> Result<(), FieldError> {
    let mut covered = 0.0;
    for (number, body) in section.bodies.iter().enumerate() {
        let meshed: f64 = triangles_of(mesh, Region::Body(number as u16))
            .map(|[a, b, c]| triangle_area(a, b, c))
            .sum();
        let polygon = outline.polygon(number);
        let place_m = polygon[0];
        agree(
            &format!("the area of body \"{}\"", body.name),
            meshed,
            area(&polygon),
            place_m,
        )?;
        let pieces = mesh
            .outlines
            .iter()
            .filter(|piece| piece.body as usize == number);
        let round: f64 = pieces
            .map(|piece| {
                distance(
                    mesh.points[piece.points[0] as usize],
                    mesh.points[piece.points[1] as usize],
                )
            })
            .sum();
        let perimeter = sides(&polygon).map(|[a, b]| distance(a, b)).sum();
        agree(
            &format!("the perimeter of body \"{}\"", body.name),
            round,
            perimeter,
            place_m,
        )?;
        covered += meshed;
    }
    if !far_polygon.is_empty() {
        let air: f64 = triangles_of(mesh, Region::Air)
            .map(|[a, b, c]| triangle_area(a, b, c))
            .sum();
        agree(
            "the area of the air",
            air,
            area(far_polygon) - covered,
            far_polygon[0],
        )?;
    }
    edges_match(mesh)?;
    for corners in triangles_of(mesh, Region::Air) {
        if smallest_angle_deg(corners) < THINNEST_AIR_DEG {
            let what = format!("an air triangle is thinner than {THINNEST_AIR_DEG} degrees");
            return Err(FieldError::MeshFailed {
                what,
                place_m: corners[0],
            });
        }
    }
    Ok(())
}

fn triangles_of(mesh: &Mesh, region: Region) -> impl Iterator<Item = [Point; 3]> + '_ {
    let own = mesh
        .triangles
        .iter()
        .zip(&mesh.regions)
        .filter(move |(_, of)| **of == region);
    own.map(|(triangle, _)| triangle.map(|corner| mesh.points[corner as usize]))
}

fn agree(name: &str, meshed: f64, wanted: f64, place_m: Point) -> Result<(), FieldError> {
    if (meshed - wanted).abs() <= AGREEMENT * wanted.abs() {
        return Ok(());
    }
    let what = format!("{name} came out as {meshed:.9e} instead of {wanted:.9e} (m, m2)");
    Err(FieldError::MeshFailed { what, place_m })
}

/// Each side of a triangle is used once forwards and once backwards, or lies on the edge of the domain.
fn edges_match(mesh: &Mesh) -> Result<(), FieldError> {
    let mut uses: Vec<[u32; 2]> = mesh
        .triangles
        .iter()
        .flat_map(|&[a, b, c]| [[a, b], [b, c], [c, a]])
        .collect();
    uses.sort_unstable();
    let twice = uses
        .windows(2)
        .find(|pair| pair[0] == pair[1])
        .map(|pair| pair[0]);
    let single = uses
        .iter()
        .filter(|&&[a, b]| uses.binary_search(&[b, a]).is_err());
    let outer: f64 = single
        .map(|&[a, b]| distance(mesh.points[a as usize], mesh.points[b as usize]))
        .sum();
    if let Some([a, _]) = twice {
        return Err(FieldError::MeshFailed {
            what: "triangles overlap".into(),
            place_m: mesh.points[a as usize],
        });
    }
    agree(
        "the length of the outer boundary",
        outer,
        mesh.outer_length_m,
        mesh.points[0],
    )
}
