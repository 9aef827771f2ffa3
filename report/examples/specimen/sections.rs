//! Pictures of a section in the specimen: invented fields on a plain mesh.

use report::section_picture::{SectionPicture, Triangles, Window, even_levels};
use report::{Anchor, Drawing, Ink, Stroke, THIN_PT};

const WALL_MM: f64 = 18.3;
const INSIDE_MM: f64 = 91.25;

struct Mesh {
    nodes: Vec<[f64; 2]>,
    corners: Vec<[usize; 3]>,
}

/// A grid of triangles over a rectangle.
fn grid(window: Window, columns: usize, rows: usize) -> Mesh {
    let mut nodes = Vec::new();
    for row in 0..=rows {
        for column in 0..=columns {
            nodes.push([
                window.left_mm
                    + (window.right_mm - window.left_mm) * column as f64 / columns as f64,
                window.low_mm + (window.high_mm - window.low_mm) * row as f64 / rows as f64,
            ]);
        }
    }
    let mut corners = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            let a = row * (columns + 1) + column;
            let b = a + columns + 1;
            corners.push([a, a + 1, b + 1]);
            corners.push([a, b + 1, b]);
        }
    }
    Mesh { nodes, corners }
}

fn wall() -> Window {
    Window {
        left_mm: -180.0,
        right_mm: 180.0,
        low_mm: INSIDE_MM,
        high_mm: INSIDE_MM + WALL_MM,
    }
}

fn around() -> Window {
    Window {
        low_mm: 80.0,
        high_mm: 150.0,
        ..wall()
    }
}

/// Temperature in the wall.
pub fn temperature() -> Drawing {
    let mesh = grid(wall(), 180, 16);
    let values: Vec<f64> = mesh
        .nodes
        .iter()
        .map(|[x, r]| 25.0 + (600.0 + 0.6 * (r - INSIDE_MM)) * (-(x / 95.0).powi(2)).exp())
        .collect();
    let mut picture = SectionPicture::new("Temperature at the end of the hold", around(), 166.0);
    picture.describe("Hottest under the coil at the weld, falling to both sides");
    let triangles = Triangles {
        nodes_mm: &mesh.nodes,
        corners: &mesh.corners,
    };
    picture.heat(triangles, &values, 0.0, 650.0, 26);
    picture.lines(
        triangles,
        &values,
        &[595.0],
        &Stroke::solid(Ink::Full, 0.7).dashed(&[3.0, 1.5]),
    );
    parts(&mut picture);
    picture.point(
        [0.0, INSIDE_MM + WALL_MM],
        "1",
        "Thermocouple 1 on the weld",
    );
    picture.point(
        [38.0, INSIDE_MM + WALL_MM],
        "4",
        "Thermocouple 4 at the edge of the soak band",
    );
    picture.axes();
    picture.heat_scale(0.0, 650.0, "°C", 26);
    picture.finish()
}

/// Loss and field lines.
pub fn loss() -> Drawing {
    let mesh = grid(wall(), 180, 40);
    let values: Vec<f64> = mesh
        .nodes
        .iter()
        .map(|[x, r]| (-(INSIDE_MM + WALL_MM - r) / 3.0).exp() / (1.0 + (x / 110.0).powi(8)))
        .collect();
    let mut picture = SectionPicture::new("Loss density and field lines", around(), 166.0);
    let triangles = Triangles {
        nodes_mm: &mesh.nodes,
        corners: &mesh.corners,
    };
    picture.density(triangles, &values, 0.0, 1.2, 14);
    let air = grid(around(), 120, 50);
    let flux: Vec<f64> = air
        .nodes
        .iter()
        .map(|[x, r]| ((r - 137.0) / 60.0).powi(2) * 0.6 + (x / 160.0).powi(2))
        .collect();
    let around_mesh = Triangles {
        nodes_mm: &air.nodes,
        corners: &air.corners,
    };
    picture.lines(
        around_mesh,
        &flux,
        &even_levels(&flux, 10),
        &Stroke::solid(Ink::Soft, 0.4),
    );
    parts(&mut picture);
    picture.axes();
    picture.finish()
}

/// Wall, weld, blanket and turns.
fn parts(picture: &mut SectionPicture) {
    let outside = INSIDE_MM + WALL_MM;
    let wall = [
        [-400.0, INSIDE_MM],
        [400.0, INSIDE_MM],
        [400.0, outside],
        [-400.0, outside],
    ];
    picture.outline(&wall, true, &Stroke::solid(Ink::Full, THIN_PT));
    let blanket = [
        [-140.0, outside],
        [140.0, outside],
        [140.0, outside + 25.0],
        [-140.0, outside + 25.0],
    ];
    picture.outline(&blanket, true, &Stroke::hairline());
    let weld = [
        [-12.0, outside],
        [12.0, outside],
        [2.5, INSIDE_MM],
        [-2.5, INSIDE_MM],
    ];
    picture.outline(
        &weld,
        true,
        &Stroke::solid(Ink::Full, 0.4).dashed(&[2.0, 1.2]),
    );
    for turn in 0..9 {
        picture.turn([-100.0 + 25.0 * f64::from(turn), outside + 32.0], 6.5);
    }
    picture.words([-112.0, outside + 12.0], "blanket", Anchor::Middle);
}
