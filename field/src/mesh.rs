//! A mesh: points and triangles, as data, and the deed that makes one from a section.
//!
//! Graded strips of triangles follow every surface where a field enters; the cores of the bodies and the air are
//! filled by Delaunay triangulation; the parts share their points exactly. See docs/theory/mesh.md.

mod air;
mod builder;
mod check;
mod delaunay;
mod depth;
mod gates;
pub(crate) mod geometry;
mod layers;
mod outline;
mod places;
mod settings;
mod spacing;
mod strips;

pub use places::{covers, lies_in, pieces_on};
pub use settings::{BodySettings, MeshSettings};

use crate::error::FieldError;
use crate::section::{Outer, Point, Section, Symmetry};
use builder::Builder;
use delaunay::Region as Domain;
use depth::Depth;
use geometry::{between, crossing, distance};
use layers::Layers;
use outline::{Outline, SideKind};
use spacing::SourceSizes;

/// Triangles of straight sides that fill the section.
#[derive(Clone, Debug, Default)]
pub struct Mesh {
    /// Corner points in meters.
    pub points: Vec<Point>,
    /// Corner numbers of each triangle, counter-clockwise.
    pub triangles: Vec<[u32; 3]>,
    /// What each triangle belongs to.
    pub regions: Vec<Region>,
    /// Every piece of a body's outline, in the order of its polygon, each with its two corner points.
    pub outlines: Vec<OutlinePiece>,
    /// Pieces of the far boundary, counter-clockwise; none with natural surroundings.
    pub arc: Vec<[u32; 2]>,
    /// The circle that these pieces stand for.
    pub far_circle: Option<FarCircle>,
    /// Length of the boundary of the whole domain in meters.
    pub outer_length_m: f64,
}

/// What a triangle belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Region {
    /// A body of the section, by number.
    Body(u16),
    /// The air round the bodies.
    Air,
}

/// A side of a triangle that lies on the outline of a body.
#[derive(Clone, Copy, Debug)]
pub struct OutlinePiece {
    /// The body.
    pub body: u16,
    /// The edge of its polygon (edge i runs from corner i to corner i + 1).
    pub edge: u16,
    /// The two points, in the direction of the polygon.
    pub points: [u32; 2],
}

/// The far boundary.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FarCircle {
    /// Its center, on the axis when axisymmetric.
    pub center_m: Point,
    /// Its radius.
    pub radius_m: f64,
}

/// Strips that turn out too deep somewhere are made shallower by this factor, at most so many times.
const SHALLOWER: f64 = 0.7;
const ATTEMPTS: usize = 20;

/// Meshes a section.
///
/// # Errors
/// Complaints about the section (polygons, overlaps, conductors inside metal, lists of the wrong length) and
/// [`FieldError::MeshFailed`] where no valid mesh was found.
pub fn build(section: &Section, settings: &MeshSettings) -> Result<Mesh, FieldError> {
    check::settings(section, settings)?;
    let outline = checked(section, &settings.breaks)?;
    let layers = Layers::new(section, &outline, settings);
    let mut depth = Depth::new(&outline, &layers, settings);
    let mut trouble = outline.corners.first().copied().unwrap_or([0.0, 0.0]);
    for _ in 0..ATTEMPTS {
        match with_strips(section, &outline, settings, &layers, &depth) {
            Ok(started) => return finish(section, &outline, settings, started),
            Err(place) => trouble = place,
        }
        depth.shallower_near(&outline, &layers, trouble, SHALLOWER);
    }
    Err(FieldError::MeshFailed {
        what: "layers along the surface do not fit".into(),
        place_m: trouble,
    })
}

/// Checks whether a section is fit to be meshed, without meshing it.
///
/// # Errors
/// The first complaint about polygons, overlaps or conductors inside metal.
pub fn check(section: &Section) -> Result<(), FieldError> {
    checked(section, &[]).map(|_| ())
}

fn checked(section: &Section, breaks: &[Point]) -> Result<Outline, FieldError> {
    check::polygons(section)?;
    check::conductors(section)?;
    let outline = Outline::new(section, breaks)?;
    check::outlines(section, &outline)?;
    Ok(outline)
}

/// A mesh with its strips, and what is still empty.
struct Started {
    builder: Builder,
    /// Points along each side.
    nodes: Vec<Vec<u32>>,
    /// What is left inside each body.
    cores: Vec<Vec<u32>>,
}

/// Lays the strips.
///
/// # Errors
/// A place where the strips are too deep.
fn with_strips(
    section: &Section,
    outline: &Outline,
    settings: &MeshSettings,
    layers: &Layers,
    depth: &Depth,
) -> Result<Started, Point> {
    let counts = layer_counts(outline, settings, layers, depth);
    let parameters = spacing::side_nodes(section, outline, settings, layers, depth, &counts);
    let mut builder = Builder::default();
    let mut nodes = Vec::new();
    for (side, parameters) in parameters.iter().enumerate() {
        let [a, b] = outline.ends(side);
        if parameters.windows(2).any(|pair| pair[1] <= pair[0]) {
            return Err(a);
        }
        nodes.push(
            parameters
                .iter()
                .map(|&t| builder.point(between(a, b, t)))
                .collect::<Vec<u32>>(),
        );
    }
    let mut cores = Vec::new();
    for (body, &count) in counts.iter().enumerate() {
        let strip = strips::strip(&mut builder, outline, layers, depth, body, count, &nodes)?;
        strip
            .triangles
            .into_iter()
            .for_each(|corners| builder.triangle(corners, Region::Body(body as u16)));
        let core: Vec<Point> = strip
            .core
            .iter()
            .map(|&number| builder.place(number))
            .collect();
        simple(&core)?;
        cores.push(strip.core);
    }
    Ok(Started {
        builder,
        nodes,
        cores,
    })
}

/// Layers of each body; bodies whose strips meet have equally many.
fn layer_counts(
    outline: &Outline,
    settings: &MeshSettings,
    layers: &Layers,
    depth: &Depth,
) -> Vec<usize> {
    let count = |body: usize| {
        let alike =
            (0..outline.loops.len()).filter(|&other| layers.group[other] == layers.group[body]);
        let deepest_m = alike.map(|other| depth.deepest(other)).fold(0.0, f64::max);
        spacing::layer_count(
            layers.first_m[body].unwrap_or(deepest_m),
            deepest_m,
            settings.growth,
        )
    };
    (0..outline.loops.len()).map(count).collect()
}

/// Does a closed loop of points nowhere cross itself? Otherwise the place.
fn simple(core: &[Point]) -> Result<(), Point> {
    let sides: Vec<[Point; 2]> = geometry::sides(core).collect();
    for (i, &[a, b]) in sides.iter().enumerate() {
        for &[c, d] in &sides[i + 1..] {
            let apart = a[0].max(b[0]) < c[0].min(d[0]) || c[0].max(d[0]) < a[0].min(b[0]);
            if let Some(place) = (!apart).then(|| crossing(a, b, c, d)).flatten() {
                return Err(place);
            }
        }
    }
    if geometry::area(core) > 0.0 {
        Ok(())
    } else {
        Err(core.first().copied().unwrap_or([0.0, 0.0]))
    }
}

/// Fills cores and air, and checks the whole.
fn finish(
    section: &Section,
    outline: &Outline,
    settings: &MeshSettings,
    started: Started,
) -> Result<Mesh, FieldError> {
    let Started {
        mut builder,
        nodes,
        cores,
    } = started;
    let circle = (section.outer == Outer::Far).then(|| air::far_circle(section, settings));
    let wishes = SourceSizes::new(section, settings);
    for (body, core) in cores.iter().enumerate() {
        let BodySettings {
            first_layer_m,
            largest_size_m,
        } = settings.bodies[body];
        // Conductors may lie inside an insulator.
        let size = |place: Point| match first_layer_m {
            Some(_) => largest_size_m,
            None => wishes.at(place, largest_size_m),
        };
        let domain = Domain {
            points: core.iter().map(|&number| builder.place(number)).collect(),
            pieces: (0..core.len()).map(|i| [i, (i + 1) % core.len()]).collect(),
            size: &size,
        };
        for corners in delaunay::fill(&domain)? {
            let corners = corners.map(|place| builder.point(place));
            builder.triangle(corners, Region::Body(body as u16));
        }
    }
    if let Some(circle) = circle {
        builder.mesh.far_circle = Some(circle);
        air::air(&mut builder, section, outline, settings, &nodes, circle)?;
    }
    let mut mesh = builder.mesh;
    mesh.outlines = outline_pieces(outline, &nodes);
    let far_polygon: Vec<Point> = far_polygon(&mesh, section.symmetry);
    mesh.outer_length_m = match section.outer {
        Outer::Far => geometry::sides(&far_polygon)
            .map(|[a, b]| distance(a, b))
            .sum(),
        Outer::Natural => outer_sides(outline).map(|[a, b]| distance(a, b)).sum(),
    };
    gates::check(&mesh, section, outline, &far_polygon)?;
    Ok(mesh)
}

fn outer_sides(outline: &Outline) -> impl Iterator<Item = [Point; 2]> + '_ {
    (0..outline.sides.len())
        .filter(|&i| outline.sides[i].kind != SideKind::Interface)
        .map(|i| outline.ends(i))
}

fn far_polygon(mesh: &Mesh, symmetry: Symmetry) -> Vec<Point> {
    let starts = mesh.arc.iter().map(|piece| piece[0]);
    let top = mesh
        .arc
        .last()
        .filter(|_| symmetry == Symmetry::Axisymmetric)
        .map(|piece| piece[1]);
    starts
        .chain(top)
        .map(|number| mesh.points[number as usize])
        .collect()
}

fn outline_pieces(outline: &Outline, nodes: &[Vec<u32>]) -> Vec<OutlinePiece> {
    let mut pieces = Vec::new();
    for (body, round) in outline.loops.iter().enumerate() {
        for step in round {
            let mut run = nodes[step.side].clone();
            if !step.forwards {
                run.reverse();
            }
            pieces.extend(run.windows(2).map(|pair| OutlinePiece {
                body: body as u16,
                edge: step.edge,
                points: [pair[0], pair[1]],
            }));
        }
    }
    pieces
}
