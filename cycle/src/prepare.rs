//! From a setup with its coil to what the solvers need: section, mesh, equations, laws of heat, and what is read.

use std::sync::Arc;

use field::FieldError;
use field::eddy::{self, Drive, Problem, smallest_skin_depths_m};
use field::heat;
use field::mesh::MeshSettings;
use field::section::{Body, Outer, Section, Shape, Symmetry};
use num_complex::Complex64;
use quantity::Millimeters;

use crate::check::{check, check_frequency};
use crate::circuit::{LeadsImpedance, SourceLimits, leads_impedance};
use crate::coil::{PlacedCoil, place};
use crate::error::CycleError;
use crate::grain::Grain;
use crate::joint::{JointSection, joint_section};
use crate::laws::metal_laws;
use crate::practice::{BoreAir, Practice};
use crate::setup::{Coil, Setup};
use crate::surface_lines::{SurfaceLine, pieces};
use crate::surroundings::bore::{Bore, BoreNode, bore_air};
use crate::surroundings::boundaries::boundaries;
use crate::watch::Watch;

/// Beyond blanket and coil the pipe is modeled for so many diffusion lengths sqrt(a t) of the whole cycle: less than a
/// thousandth of the heat goes further (surroundings.md, section 6).
const DIFFUSION_LENGTHS: f64 = 2.5;

/// Hottest temperature that tables of loss cover, in °C: above every treatment of this trade.
const HOTTEST_C: f64 = 1150.0;

/// Layers of the mesh are chosen for this part of the largest current: most of a cycle runs near it.
const USUAL_CURRENT: f64 = 0.5;

/// A mesh that fails is made finer by this factor, so often.
const FINER: f64 = 0.7;
const FINER_MESHES: usize = 4;

/// A joint and a coil ready to be solved.
pub struct Prepared {
    /// The joint as a section.
    pub joint: JointSection,
    /// The coil round it.
    pub coil: PlacedCoil,
    /// The equations of the field.
    pub problem: Arc<Problem>,
    /// The equations of heat.
    pub heat: Arc<heat::Model>,
    /// The bore as rings.
    pub bore: Bore,
    /// For each point that gives off heat: the ring of the bore that it is, if any.
    pub ring_of_exchange: Vec<Option<usize>>,
    /// Nodes of the bore's rings.
    pub bore_nodes: Vec<u32>,
    /// Outline of the blanket (r, z) in m, counter-clockwise.
    pub blanket_outline_m: Vec<[f64; 2]>,
    /// What is read.
    pub watch: Watch,
    /// Working frequency in Hz.
    pub frequency_hz: f64,
    /// The leads at that frequency.
    pub leads: LeadsImpedance,
    /// Resistance of the coil's cable at that frequency, in ohm.
    pub coil_ohm: f64,
    /// What the source and the cable allow.
    pub limits: SourceLimits,
}

/// The joint of a setup, cut where the heat of its cycle does not reach.
///
/// # Errors
/// Dimensions and temperatures outside the range of the model.
pub fn joint_of(setup: &Setup, practice: &Practice) -> Result<JointSection, CycleError> {
    check(setup)?;
    let reach_m = setup.blanket.reach.map(Millimeters::m);
    let coil_reach_m = |side: usize| {
        let turns = setup.coil.iter().flat_map(|coil| &coil.turns);
        let sign = [-1.0, 1.0][side];
        turns
            .map(|turn| sign * turn.axial.m())
            .fold(0.5 * setup.heated_band.m(), f64::max)
    };
    let longest_m = [0, 1].map(|side| {
        let diffused_m =
            DIFFUSION_LENGTHS * (diffusivity_m2_s(setup, side) * duration_s(setup)).sqrt();
        let neighbors = setup
            .neighbors
            .iter()
            .map(|n| [-1.0, 1.0][side] * n.axial.m());
        let band_m = reach_m[side].max(coil_reach_m(side));
        neighbors.fold(band_m + diffused_m, f64::max)
    });
    joint_section(&setup.joint, longest_m, reach_m, practice.taper.value)
}

/// Meshes a joint with a coil and prepares every equation; `places` are further places where turns may come to lie.
///
/// # Errors
/// What [`joint_of`] and [`place`] refuse, a frequency outside the source's range, and what the solvers refuse.
pub fn prepare(
    setup: &Setup,
    coil: &Coil,
    frequency_hz: f64,
    places: Vec<Shape>,
    grain: &Grain,
    practice: &Practice,
) -> Result<Prepared, CycleError> {
    check_frequency(setup, frequency_hz)?;
    let joint = joint_of(setup, practice)?;
    let coil = place(coil, &setup.cable, &joint)?;
    let section = section(setup, &joint, &coil)?;
    let coldest_c = coldest_c(setup);
    let range_c = [coldest_c, setup.programme.set_point.c()];
    let drive = usual_drive(setup, frequency_hz);
    let mut settings = eddy::mesh_settings(&section, &drive, range_c);
    settings.breaks.extend(&joint.breaks_m);
    settings.places = places;
    let depths_m = smallest_skin_depths_m(&section, &drive, range_c);
    grain.apply(&mut settings, &depths_m, slenderest_m(setup));
    let problem = mesh(&section, settings)?;
    let (mesh, space) = (problem.mesh(), problem.space());
    let pieces = pieces(mesh, &joint);
    let ends = [0, 1].map(|side: usize| setup.joint.sides[side].bore_end);
    let air = bore_air(&practice.bore, ends, setup.joint.orientation).clone();
    let laws = boundaries(
        setup,
        &joint,
        &pieces,
        air.coefficient.value,
        [coldest_c - 20.0, HOTTEST_C],
    )?;
    let bore_laws = laws.bore;
    let heat =
        heat::Model::new(&section, mesh, space, laws.laws).map_err(solver("preparing heat"))?;
    let line = |nodes: &mut dyn Iterator<Item = u32>| SurfaceLine::new(mesh, space, nodes);
    let covered_and_bare = pieces.covered.iter().chain(&pieces.bare);
    let outside = line(&mut covered_and_bare.flatten().copied());
    let bore_line = line(&mut pieces.bore.iter().flatten().copied());
    let rings = bore_line.nodes();
    let bore = bore_of(setup, &joint, &rings, air);
    let ring_of_exchange = rings_of_exchange(&heat, bore_laws, &rings);
    let metal_nodes: Vec<(u32, [f64; 2])> = heat
        .nodes()
        .iter()
        .map(|&node| (node, space.nodes[node as usize]))
        .collect();
    let watch = Watch::new(setup, &joint, outside, bore_line, &metal_nodes)?;
    let copper_c = setup.cable.max_cable_temperature_c.value;
    Ok(Prepared {
        leads: leads_impedance(&setup.leads, frequency_hz)
            .map_err(property("computing the leads"))?,
        coil_ohm: coil
            .resistance_ohm(&setup.cable, frequency_hz, copper_c)
            .map_err(property("computing the cable"))?,
        limits: SourceLimits::new(setup),
        bore_nodes: rings.iter().map(|&(_, node)| node).collect(),
        blanket_outline_m: blanket_outline_m(setup, &joint),
        joint,
        coil,
        heat: Arc::new(heat),
        bore,
        ring_of_exchange,
        watch,
        frequency_hz,
        problem: Arc::new(problem),
    })
}

fn coldest_c(setup: &Setup) -> f64 {
    let start_c = setup.programme.start.c();
    start_c.min(setup.surroundings.ambient.c())
}

/// The current near which most of a cycle runs.
fn usual_drive(setup: &Setup, frequency_hz: f64) -> Drive {
    let current_a = USUAL_CURRENT * std::f64::consts::SQRT_2 * SourceLimits::new(setup).most_a();
    Drive {
        frequency_hz,
        currents_a: vec![Complex64::new(current_a, 0.0)],
        edges: Vec::new(),
    }
}

fn slenderest_m(setup: &Setup) -> f64 {
    let diameters_m = setup.joint.sides.iter().map(|s| s.outside_diameter.m());
    diameters_m.fold(f64::INFINITY, f64::min)
}

/// Meshes a section; a mesh that fails is tried again with smaller triangles: slivers come by the accident of sizes.
fn mesh(section: &Section, mut settings: MeshSettings) -> Result<Problem, CycleError> {
    for _ in 0..FINER_MESHES {
        match Problem::new(section, &settings) {
            Err(FieldError::MeshFailed { .. }) => {
                settings.air_gradation *= FINER;
                for body in &mut settings.bodies {
                    body.largest_size_m *= FINER;
                    body.first_layer_m = body.first_layer_m.map(|m| FINER * m);
                }
            }
            other => return other.map_err(solver("meshing the joint")),
        }
    }
    Problem::new(section, &settings).map_err(solver("meshing the joint"))
}

fn section(setup: &Setup, joint: &JointSection, coil: &PlacedCoil) -> Result<Section, CycleError> {
    let bodies = joint
        .polygons
        .iter()
        .zip(&joint.metal_of)
        .map(|(polygon, &side)| {
            let metal = &setup.joint.sides[side].metal;
            Ok(Body {
                name: metal.name.clone(),
                polygon: polygon.clone(),
                metal: metal_laws(metal)?,
            })
        })
        .collect::<Result<_, CycleError>>()?;
    Ok(Section {
        symmetry: Symmetry::Axisymmetric,
        outer: Outer::Far,
        bodies,
        windings: vec![coil.winding()],
    })
}

/// How long the programme takes, in s, if nothing holds it up.
pub fn duration_s(setup: &Setup) -> f64 {
    let programme = &setup.programme;
    let (start, threshold, set_point) = (
        programme.start.c(),
        programme.threshold.c(),
        programme.set_point.c(),
    );
    let corner = threshold.clamp(start, set_point);
    let hours = (corner - start) / programme.free_heating_rate.k_h()
        + (set_point - corner) / programme.heating_rate.k_h()
        + programme.hold_time.h()
        + (set_point - programme.controlled_down_to.c()) / programme.cooling_rate.k_h();
    3600.0 * hours
}

/// Thermal diffusivity of a side in m2/s at half the set point: the largest that matters along the pipe.
fn diffusivity_m2_s(setup: &Setup, side: usize) -> f64 {
    let metal = &setup.joint.sides[side].metal;
    let middle_c = 0.5 * setup.programme.set_point.c();
    let at = |curve: &quantity::Curve, otherwise: f64| curve.at_c(middle_c).unwrap_or(otherwise);
    let capacity = metal.density_kg_m3.value * at(&metal.specific_heat, 500.0);
    at(&metal.conductivity, 50.0) / capacity
}

fn emissivity(setup: &Setup, axial_m: f64) -> f64 {
    setup.joint.sides[usize::from(axial_m > 0.0)]
        .metal
        .emissivity
        .value
}

/// The blanket as an outline: along the pipe within its reach, and back outside.
fn blanket_outline_m(setup: &Setup, joint: &JointSection) -> Vec<[f64; 2]> {
    let reach_m = setup.blanket.reach.map(Millimeters::m);
    let (from_m, to_m) = (
        -reach_m[0].min(joint.lengths_m[0]),
        reach_m[1].min(joint.lengths_m[1]),
    );
    let corners = joint
        .faces
        .iter()
        .flat_map(|face| face.ends_m)
        .map(|end| end[1]);
    let mut stops: Vec<f64> = corners
        .filter(|z| *z > from_m && *z < to_m)
        .chain([from_m, to_m])
        .collect();
    stops.sort_by(f64::total_cmp);
    stops.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let thickness_m = setup.blanket.thickness.m();
    let inner = stops.iter().rev().map(|&z| [joint.outside_radius_m(z), z]);
    let outer = stops
        .iter()
        .map(|&z| [joint.outside_radius_m(z) + thickness_m, z]);
    outer.chain(inner).collect()
}

fn bore_of(setup: &Setup, joint: &JointSection, rings: &[(f64, u32)], air: BoreAir) -> Bore {
    let node = |&(axial_m, _): &(f64, u32)| BoreNode {
        axial_m,
        emissivity: emissivity(setup, axial_m),
    };
    Bore::new(
        rings.iter().map(node).collect(),
        mean_bore_radius_m(joint, rings),
        [0, 1].map(|side: usize| setup.joint.sides[side].bore_end),
        [-setup.blanket.reach[0].m(), setup.blanket.reach[1].m()],
        setup.surroundings.ambient.c(),
        air,
    )
}

/// For each point that gives off heat: the ring of the bore that it is, if any.
fn rings_of_exchange(
    heat: &heat::Model,
    bore_laws: [Option<usize>; 2],
    rings: &[(f64, u32)],
) -> Vec<Option<usize>> {
    let ring = |exchange: &heat::Exchange| {
        let in_bore = bore_laws.contains(&Some(exchange.boundary as usize));
        in_bore.then(|| nearest_ring(rings, exchange.place_m[1]))
    };
    heat.exchanges().iter().map(ring).collect()
}

fn mean_bore_radius_m(joint: &JointSection, rings: &[(f64, u32)]) -> f64 {
    let (mut sum, mut length_m) = (0.0, 0.0);
    for pair in rings.windows(2) {
        let width_m = pair[1].0 - pair[0].0;
        sum += width_m * joint.bore_radius_m(0.5 * (pair[0].0 + pair[1].0));
        length_m += width_m;
    }
    sum / length_m
}

fn nearest_ring(rings: &[(f64, u32)], axial_m: f64) -> usize {
    let after = rings.partition_point(|ring| ring.0 < axial_m);
    let candidates = [after.saturating_sub(1), after.min(rings.len() - 1)];
    let gap = |ring: usize| (rings[ring].0 - axial_m).abs();
    if gap(candidates[0]) <= gap(candidates[1]) {
        candidates[0]
    } else {
        candidates[1]
    }
}

/// An error of the solver with what was being done.
pub fn solver(doing: &'static str) -> impl Fn(FieldError) -> CycleError {
    move |cause| CycleError::Solver {
        doing: doing.into(),
        detail: cause.to_string(),
    }
}

fn property(doing: &'static str) -> impl Fn(materials::MaterialError) -> CycleError {
    move |cause| CycleError::Property {
        doing: doing.into(),
        detail: cause.to_string(),
    }
}

impl Prepared {
    /// Ambient temperature of radiation for every point that gives off heat, from the temperatures of all nodes.
    pub fn radiation_ambient_c(&self, nodal_c: &[f64]) -> Vec<f64> {
        let bore_c: Vec<f64> = self
            .bore_nodes
            .iter()
            .map(|&node| nodal_c[node as usize])
            .collect();
        let rings_c = self.bore.radiation_ambient_c(&bore_c);
        let stated = self.heat.radiation_ambient_c();
        let both = stated.into_iter().zip(&self.ring_of_exchange);
        both.map(|(stated_c, ring)| ring.map_or(stated_c, |ring| rings_c[ring]))
            .collect()
    }

    /// Temperatures of a state of heat on all nodes of the space; the air is given the first one.
    pub fn nodal_c(&self, state: &heat::State) -> Vec<f64> {
        let mut nodal_c = vec![state.temperature_c[0]; self.problem.space().nodes.len()];
        for (&node, &c) in self.heat.nodes().iter().zip(&state.temperature_c) {
            nodal_c[node as usize] = c;
        }
        nodal_c
    }
}
