//! Whatever the sizes, a joint of a sensible kind gets a mesh (which checks itself); whatever the corners, nothing
//! panics.

use field::mesh::{self, MeshSettings};
use field::section::{Body, Point, Section};
use proptest::prelude::*;

use crate::sections::*;

fn build(section: &Section, depths_m: &[f64]) -> Result<mesh::Mesh, field::FieldError> {
    let depths_m: Vec<Option<f64>> = depths_m.iter().copied().map(Some).collect();
    mesh::build(section, &MeshSettings::for_field(&depths_m, 0.06))
}

fn steel(name: &str, corners: &[Point]) -> Body {
    polygon(name, metal(5e-7, 60.0), corners)
}

fn skin_depth_m() -> impl Strategy<Value = f64> {
    (-4.3..-2.0_f64).prop_map(|power| 10_f64.powf(power))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn single_v_joints(
        bore_m in 0.03..0.5_f64,
        wall_m in 0.005..0.1_f64,
        bevel in 0.1..0.8_f64,
        nose in 0.05..0.2_f64,
        gap_m in 0.0005..0.005_f64,
        counterbore in 0.0..0.3_f64,
        filled in any::<bool>(),
        depths_m in proptest::array::uniform3(skin_depth_m()),
    ) {
        let outer_m = bore_m + wall_m;
        let (root_m, nose_m) = (bore_m + counterbore * wall_m, bore_m + (counterbore + nose) * wall_m);
        let (half_m, flank_m) = (0.5 * gap_m, 0.5 * gap_m + bevel * wall_m);
        let lower = [[bore_m, -0.6], [outer_m, -0.6], [outer_m, -flank_m], [nose_m, -half_m], [root_m, -half_m],
            [root_m, -half_m - wall_m], [bore_m, -half_m - 2.5 * wall_m]];
        let upper = [[root_m, half_m], [nose_m, half_m], [outer_m, flank_m], [outer_m, 0.6], [root_m, 0.6]];
        let weld = [[root_m, -half_m], [nose_m, -half_m], [outer_m, -flank_m], [outer_m + 0.002, 0.0],
            [outer_m, flank_m], [nose_m, half_m], [root_m, half_m]];
        let mut bodies = vec![steel("lower", &lower), steel("upper", &upper)];
        if filled {
            bodies.push(steel("weld", &weld));
        }
        let count = bodies.len();
        let section = turned(bodies, solenoid(6, outer_m + 0.03, 0.025, 0.006));
        prop_assert!(build(&section, &depths_m[..count]).is_ok());
    }

    #[test]
    fn pipes_of_different_walls_end_to_end(
        outer_m in 0.03..0.4_f64,
        walls in proptest::array::uniform3(0.05..0.6_f64),
        lengths_m in proptest::array::uniform3(0.005..0.3_f64),
        depths_m in proptest::array::uniform3(skin_depth_m()),
    ) {
        let mut bottom_m = -0.3;
        let bodies = walls.iter().zip(lengths_m).map(|(wall, length_m): (&f64, f64)| {
            bottom_m += length_m;
            rectangle("pipe", metal(5e-7, 60.0), [(1.0 - wall) * outer_m, outer_m, bottom_m - length_m, bottom_m])
        });
        let section = turned(bodies.collect(), solenoid(4, outer_m + 0.02, 0.03, 0.005));
        prop_assert!(build(&section, &depths_m).is_ok());
    }

    #[test]
    fn any_corners_at_all(corners in proptest::collection::vec((0.0..0.3, -0.2..0.2), 3..10), depth_m in skin_depth_m()) {
        let corners: Vec<Point> = corners.into_iter().map(|(u, v): (f64, f64)| [u, v]).collect();
        let _ = build(&turned(vec![steel("any", &corners)], vec![]), &[depth_m]);
    }
}
