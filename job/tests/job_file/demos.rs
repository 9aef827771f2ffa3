//! The demo jobs, read as any other.

use quantity::Units;
use rules::weld::Orientation;

pub const DEMOS: [(&str, &str); 3] = [
    (
        "carbon-steel-line.toml",
        include_str!("../../../jobs/carbon-steel-line.toml"),
    ),
    (
        "thick-9cr-header.toml",
        include_str!("../../../jobs/thick-9cr-header.toml"),
    ),
    (
        "unequal-heavy-fitting.toml",
        include_str!("../../../jobs/unequal-heavy-fitting.toml"),
    ),
];

#[test]
fn every_demo_is_read_and_says_that_it_is_invented() {
    for (name, text) in DEMOS {
        let job = job::read(text, name).unwrap_or_else(|refusal| panic!("{refusal}"));
        assert!(
            job.demo
                .as_deref()
                .is_some_and(|scenario| scenario.contains("invented")),
            "{name}"
        );
    }
}

#[test]
fn the_folder_of_demos_is_the_list_of_demos() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../jobs");
    let files = std::fs::read_dir(folder).expect("the folder of demo jobs");
    let mut names: Vec<String> = files
        .map(|f| {
            f.expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .filter(|name| name.ends_with(".toml"))
        .collect();
    names.sort();
    assert_eq!(names, DEMOS.map(|d| d.0.to_owned()));
}

#[test]
fn inches_and_fahrenheit_become_metric_inside() {
    let job = job::read(DEMOS[0].1, DEMOS[0].0).expect("a demo");
    assert_eq!(job.units, Units::Us);
    assert!((job.joint.sides[0].wall.mm() - 0.688 * 25.4).abs() < 1e-9);
    assert!((job.weld.owner.spread.expect("given").k() - 40.0).abs() < 1e-9);
    assert!((job.neighbors[0].limit.expect("given").c() - (400.0 - 32.0) / 1.8).abs() < 1e-9);
}

#[test]
fn rules_see_the_weld_end_and_the_model_sees_the_pipe() {
    let job = job::read(DEMOS[2].1, DEMOS[2].0).expect("a demo");
    assert_eq!(job.weld.orientation, Orientation::Vertical);
    assert!((job.weld.sides[1].wall.mm() - 18.3).abs() < 1e-9);
    assert!((job.joint.sides[1].wall.mm() - 45.0).abs() < 1e-9);
}

#[test]
fn what_the_file_leaves_out_is_listed_with_what_is_taken() {
    let job = job::read(DEMOS[2].1, DEMOS[2].0).expect("a demo");
    let taken: Vec<&str> = job.taken.iter().map(|t| t.key.as_str()).collect();
    for key in ["coil.lead_exit", "thermocouples", "side[1].p_number"] {
        assert!(taken.contains(&key), "{key} is missing in {taken:?}");
    }
}
