//! Every reference case is solved and held against what it expects; there is no code for a single case.

use std::fs;
use std::path::{Path, PathBuf};

use job::section::{SectionProblem, Solved, read, solve};
use rayon::prelude::*;

/// The section files: every TOML file under `cases/`.
fn cases() -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("../cases")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("a folder of cases") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else if path
                .extension()
                .is_some_and(|extension| extension == "toml")
            {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

fn solved(path: &Path) -> Result<(SectionProblem, Solved), String> {
    let text = fs::read_to_string(path).map_err(|error| error.to_string())?;
    let problem = read(&path.display().to_string(), &text).map_err(|faults| {
        faults
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("\n")
    })?;
    let solved = solve(&problem, &mut |_| {}).map_err(|error| error.to_string())?;
    Ok((problem, solved))
}

/// What is not as the file says; empty where all is well.
fn complaints(path: &Path) -> Vec<String> {
    let (problem, solved) = match solved(path) {
        Ok(both) => both,
        Err(refusal) => return vec![refusal],
    };
    let name = path.display();
    if problem.rows.iter().all(|row| row.expected.is_none()) {
        return vec![format!("{name} expects nothing")];
    }
    if let Some(why) = &problem.known_wrong {
        let mended = format!("{name} holds now, though known to be wrong: {why}");
        return if solved.holds() {
            vec![mended]
        } else {
            Vec::new()
        };
    }
    let rows = problem.rows.iter().zip(&solved.rows);
    rows.filter(|(_, solved)| solved.holds == Some(false))
        .map(|(row, solved)| {
            let expected = row
                .expected
                .as_ref()
                .map(|expected| (expected.value, expected.allowed));
            let quantity = row.asked.quantity();
            format!(
                "{name}:{}: {quantity} is {}, expected {expected:?}",
                row.line, solved.computed
            )
        })
        .collect()
}

#[test]
fn every_case_holds() {
    let cases = cases();
    assert!(!cases.is_empty());
    let complaints: Vec<String> = cases.par_iter().flat_map(|path| complaints(path)).collect();
    assert!(complaints.is_empty(), "{}", complaints.join("\n"));
}

#[test]
fn every_solve_passes_its_gates() {
    // The power that the sources give is the loss of the bodies, up to rounding; so is a linear solve exact.
    const BALANCE: f64 = 1e-9;
    const RESIDUAL: f64 = 1e-10;
    // A field alone: those in time take long and pass the same gates in the test above.
    let fields = cases().into_iter().filter(|path| {
        let text = fs::read_to_string(path).expect("a case");
        text.contains("frequency_hz") && !text.contains("[heat]")
    });
    for path in fields {
        let (_, solved) = solved(&path).expect("a case that is solved");
        let effort = solved.effort;
        assert!(
            effort
                .power_balance
                .is_some_and(|balance| balance.abs() < BALANCE),
            "{path:?}: {effort:?}"
        );
        assert!(
            effort
                .largest_residual
                .is_some_and(|residual| residual < RESIDUAL),
            "{path:?}: {effort:?}"
        );
    }
}

/// A small problem of heat, to be spoiled.
const SLAB: &str = r#"
title = "a slab"
source = "test"
symmetry = "planar"
[material.metal]
conductivity_w_mk = [[20.0, 40.0], [100.0, 35.0]]
specific_heat_j_kgk = 500.0
density_kg_m3 = 7800.0
[[body]]
name = "slab"
material = "metal"
rectangle_m = [0.0, 0.02, 0.0, 0.01]
[[edge]]
from_m = [0.0, 0.0]
to_m = [0.0, 0.01]
heat_flux_w_m2 = 50000.0
[heat]
initial_c = 20.0
end_s = 1000.0
[[ask]]
quantity = "temperature_c"
point_m = [0.0, 0.005]
time_s = 1000.0
"#;

#[test]
fn a_run_that_leaves_a_table_is_refused_with_both_numbers() {
    let problem = read("slab.toml", SLAB).expect("a sound file");
    let refusal = solve(&problem, &mut |_| {})
        .expect_err("it grows far too hot")
        .to_string();
    assert!(
        refusal.contains("slab.toml:6: conductivity_w_mk of material \"metal\""),
        "{refusal}"
    );
    assert!(refusal.contains("from 20 °C to 100 °C"), "{refusal}");
}

#[test]
fn heat_that_enters_is_heat_that_is_stored() {
    let shorter = SLAB.replace("1000.0", "50.0");
    let problem = read("slab.toml", &shorter).expect("a sound file");
    let solved = solve(&problem, &mut |_| {}).expect("it stays within its table");
    // 50 kW/m2 for 50 s into 20 mm of 7800 * 500 J/(m3 K) is 32.05 K on the average, and more at the heated face.
    let rise_k = solved.rows[0].computed - 20.0;
    assert!((32.1..45.0).contains(&rise_k), "{rise_k}");
}
