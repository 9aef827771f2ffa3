//! Preheat and hydrogen bake-out become plans like stress relief; the physics is real here, so the jobs are small.

use std::ops::ControlFlow;

use job::plan::plan;

/// A small pipe in still air, without limits of its own.
fn small_job(purpose: &str, metal: &str) -> String {
    let side = format!(
        "[[side]]\noutside_diameter_mm = 114.3\nwall_mm = 13.5\nlength_mm = 400\nbore_end = \"closed\"\nmetal = \"{metal}\"\n\
         group = 1\ntensile_strength_mpa = 415\nchemistry = {{ C = 0.12 }}\n"
    );
    format!(
        "purpose = \"{purpose}\"\ncode = \"ASME B31.3\"\nedition = \"2018\"\n\
         [weld]\ncap_width_mm = 16\norientation = \"horizontal\"\n{side}{side}\
         [blanket]\nmaterial = \"ceramic fiber blanket 128 kg/m3\"\nthickness_mm = 50\n\
         [coil]\ncable = \"liquid-cooled cable\"\ncable_diameter_mm = 19\n\
         [source]\npower_kw = 35\ncurrent_a = 400\nvoltage_v = 700\nfrequency_min_khz = 5\nfrequency_max_khz = 30\n"
    )
}

#[test]
fn a_preheat_and_a_bake_out_are_planned() {
    for (purpose, metal) in [
        ("preheat", "2¼Cr-1Mo"),
        ("hydrogen_bake_out", "carbon steel"),
    ] {
        let job = job::read(&small_job(purpose, metal), "small.toml")
            .unwrap_or_else(|refusal| panic!("{refusal}"));
        let plan = plan(&job, &mut |_| ControlFlow::Continue(()))
            .unwrap_or_else(|error| panic!("{purpose}: {error}"));
        assert!(
            plan.outcome.scans.len() > 10 && !plan.findings.findings.is_empty(),
            "{purpose}"
        );
        let taken: Vec<&str> = plan.taken.iter().map(|t| t.key.as_str()).collect();
        assert!(
            taken.contains(&"cycle.heating_rate"),
            "no rate is limited, one is taken: {taken:?}"
        );
    }
}
