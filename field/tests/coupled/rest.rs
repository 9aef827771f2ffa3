//! The state of rest.

use field::coupled::{Demand, Held, Settings, rest};

use crate::pipe::Pipe;

/// A long walk and the state of rest meet within what fields and steps leave.
const WITHIN_K: f64 = 2.0;

#[test]
fn the_current_that_holds_a_point_holds_it_in_a_long_walk_too() {
    let pipe = Pipe::small();
    let probe = pipe.probe([pipe.outer_m, 0.0]);
    for wanted_c in [400.0, 745.0] {
        let held = Held::Temperature {
            probe,
            temperature_c: wanted_c,
            guess_a: 100.0,
        };
        let parts = (&*pipe.problem, &*pipe.model);
        // Towards rest temperatures creep: a field that is 20 K old would be the error that is seen.
        let settings = Settings {
            field_change_k: 5.0,
            ..Settings::fine()
        };
        let setup = Pipe::setup();
        let ambient_c = pipe.model.radiation_ambient_c();
        let guess = pipe.model.uniform(wanted_c);
        let found = rest(parts, &setup, &settings, &ambient_c, &guess, held).expect("it settles");
        assert!((probe.temperature_c(&found.state) - wanted_c).abs() < 0.1);
        assert!(found.updates < 15, "{} fields", found.updates);

        let mut run = pipe.run(settings, 20.0);
        run.walk(1500.0, Demand::Current(found.current_a), |_, _| {})
            .expect("it converges");
        for place in [
            [pipe.outer_m, 0.0],
            [pipe.inner_m, 0.02],
            [pipe.outer_m, 0.05],
        ] {
            let (walked_c, rested_c) = (
                run.temperature_c(&pipe.probe(place)),
                pipe.probe(place).temperature_c(&found.state),
            );
            assert!(
                (walked_c - rested_c).abs() < WITHIN_K,
                "{place:?}: {walked_c} C after a walk, {rested_c} C at rest"
            );
        }

        let current = Held::Current(found.current_a);
        let again =
            rest(parts, &setup, &settings, &ambient_c, &guess, current).expect("it settles");
        assert!((probe.temperature_c(&again.state) - wanted_c).abs() < WITHIN_K);
        assert!((again.power_w / found.power_w - 1.0).abs() < 0.01);
    }
}
