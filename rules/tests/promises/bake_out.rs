//! Hydrogen bake-out by diffusion. Times in h, temperatures in °C, walls in mm, D in m²/s.

use proptest::prelude::*;
use quantity::{Celsius, Hours, Millimeters};
use rules::bake_out::diffusivity::{Diffusivity, DiffusivityPoints};
use rules::bake_out::value::BakeOutValue;
use rules::bake_out::{Asked, BakeOut, History, Layer, Layers, Wall, Where, bake_out};
use rules::row::Value;
use rules::shelf;
use rules::weld::Weld;

use crate::welds::*;

fn free(wall_mm: f64) -> Wall {
    Wall::BothFacesFree(Millimeters::from_mm(wall_mm))
}

fn deg(c: f64) -> Celsius {
    Celsius::from_c(c)
}

fn values() -> impl Iterator<Item = &'static BakeOutValue> {
    let tables = shelf::tables().expect("tables");
    tables
        .iter()
        .flat_map(|table| &table.rows)
        .filter_map(|row| match &row.value {
            Value::BakeOut(value) => Some(value),
            _ => None,
        })
}

fn law(metal: &str, from_c: f64) -> &'static Diffusivity {
    let mut laws = values().filter_map(|value| match value {
        BakeOutValue::Diffusivity(law) => Some(law),
        _ => None,
    });
    laws.find(|law| law.metal == metal && law.from_c == from_c)
        .expect("a law")
}

fn points() -> &'static DiffusivityPoints {
    let mut all = values().filter_map(|value| match value {
        BakeOutValue::DiffusivityPoints(points) => Some(points),
        _ => None,
    });
    all.next().expect("points")
}

#[test]
fn fourier_numbers_of_the_slab() {
    // Crank 1975, chapter 4: slab with two free faces, recomputed; given to 0.001.
    for (percent, mean, center) in [
        (50.0, 0.049, 0.095),
        (20.0, 0.142, 0.188),
        (10.0, 0.212, 0.258),
        (5.0, 0.282, 0.328),
        (1.0, 0.445, 0.491),
    ] {
        let of = |place| {
            free(25.0)
                .fourier_to(percent / 100.0, place)
                .expect("a share")
        };
        assert!(
            (of(Where::Mean) - mean).abs() < 6e-4,
            "{percent}: {}",
            of(Where::Mean)
        );
        assert!(
            (of(Where::Slowest) - center).abs() < 6e-4,
            "{percent}: {}",
            of(Where::Slowest)
        );
    }
}

#[test]
fn short_times_and_the_series_meet() {
    // Crank 1975, equations 4.20 and 5.24: solutions for short times.
    for wall in [free(10.0), Wall::Cylinder(Millimeters::from_mm(10.0))] {
        let (below, above) = (wall.left(0.000_999_9), wall.left(0.001_000_1));
        assert!(
            (below.mean - above.mean).abs() < 2e-5,
            "{below:?} {above:?}"
        );
        assert!((below.slowest - above.slowest).abs() < 1e-9);
        assert_eq!((wall.left(0.0).mean, wall.left(0.0).slowest), (1.0, 1.0));
    }
}

#[test]
fn a_cylinder_by_its_radius() {
    // Crank 1975, chapter 5: at long times the first zero of J0, 2.4048, alone; 4/2.4048² of the mean, 1.6020 at the axis.
    let bar = Wall::Cylinder(Millimeters::from_mm(20.0));
    let decay = (-2.404_825_6f64.powi(2) * 0.5).exp();
    assert!((bar.left(0.5).mean - 4.0 / 2.404_825_6f64.powi(2) * decay).abs() < 1e-6);
    assert!((bar.left(0.5).slowest - 1.601_975 * decay).abs() < 1e-6);
    // Before that the next zeros, 5.5201 and 8.6537, count: Σ 4·exp(−β²Fo)/β².
    let sum: f64 = [2.404_826f64, 5.520_078, 8.653_728, 11.791_534]
        .iter()
        .map(|b| 4.0 * (-b * b * 0.05).exp() / (b * b))
        .sum();
    assert!(
        (bar.left(0.05).mean - sum).abs() < 1e-4,
        "{} {sum}",
        bar.left(0.05).mean
    );
}

#[test]
fn times_of_worked_walls() {
    // D = 6.2e-9 m²/s at 250 °C (Coe and Moreton): middle down to 10 %, two free faces. Recomputed.
    for (wall_mm, h, within) in [
        (12.0, 1.7, 0.06),
        (25.0, 7.2, 0.06),
        (50.0, 28.9, 0.1),
        (75.0, 65.0, 0.5),
    ] {
        let time = free(wall_mm)
            .time_to(0.1, Where::Slowest, 6.2e-9)
            .expect("a time")
            .h();
        assert!((time - h).abs() < within, "{wall_mm}: {time}");
    }
    // Two hours at 250 °C leave 70 % of the mean and 98 % at the middle of 50 mm, 40 % of the mean of 25 mm.
    let after = |wall_mm: f64| free(wall_mm).left(free(wall_mm).fourier(6.2e-9 * 7200.0));
    assert!((after(50.0).mean - 0.70).abs() < 0.01, "{:?}", after(50.0));
    assert!((after(50.0).slowest - 0.98).abs() < 0.01);
    assert!((after(25.0).mean - 0.40).abs() < 0.01);
}

#[test]
fn a_sealed_face_counts_the_wall_twice() {
    let sealed = Wall::OneFaceSealed(Millimeters::from_mm(25.0));
    let of = |wall: Wall| wall.time_to(0.1, Where::Mean, 6.2e-9).expect("a time").h();
    assert!((of(sealed) / of(free(25.0)) - 4.0).abs() < 1e-9);
    assert!((of(sealed) / of(free(50.0)) - 1.0).abs() < 1e-9);
}

#[test]
fn coefficients_at_worked_temperatures() {
    let at = |metal: &str, from_c: f64, c: f64| law(metal, from_c).m2_s(deg(c));
    // Recomputed from the printed constants; given to two digits.
    for (metal, from_c, c, m2_s) in [
        ("ferritic weld metal", 249.0, 250.0, 6.4e-9),
        ("ferritic weld metal", 20.0, 250.0, 6.4e-9),
        ("ferritic weld metal", 249.0, 300.0, 8.4e-9),
        ("ferritic weld metal", 249.0, 350.0, 1.1e-8),
        ("iron, from binary alloys", 25.0, 250.0, 5.4e-9),
        ("iron, from binary alloys", 25.0, 300.0, 6.0e-9),
        ("iron, from binary alloys", 25.0, 350.0, 6.7e-9),
        ("austenitic steel 316", 20.0, 300.0, 1.2e-11),
        ("austenitic steel", -50.0, 300.0, 1.1e-11),
    ] {
        let found = at(metal, from_c, c);
        assert!(
            (found / m2_s - 1.0).abs() < 0.06,
            "{metal} {c}: {found:.3e}"
        );
    }
    // The two forms of the weld metal meet at 249 °C and lie 1.6 times apart at the printed 200 °C.
    let ratio = |c| at("ferritic weld metal", 249.0, c) / at("ferritic weld metal", 20.0, c);
    assert!(
        (ratio(249.0) - 1.0).abs() < 0.01 && (ratio(200.0) - 1.6).abs() < 0.05,
        "{}",
        ratio(200.0)
    );
    // At 300 °C austenite is 555 times slower than bulk iron and 774 times slower than weld metal.
    let slower = |metal, from_c| at(metal, from_c, 300.0) / at("austenitic steel", -50.0, 300.0);
    assert!(
        (slower("iron, from binary alloys", 25.0) / 555.0 - 1.0).abs() < 0.02,
        "{}",
        slower("iron, from binary alloys", 25.0)
    );
    assert!((slower("ferritic weld metal", 249.0) / 774.0 - 1.0).abs() < 0.02);
}

#[test]
fn iron_with_an_alloying_element_by_the_printed_formula() {
    // Koenig and Lange 1975: log10 D in cm²/s with mol-%; written out here for 2 mol-% at 250 °C.
    let t = 523.15;
    for (element, a, b, c, d) in [
        ("chromium", -3.635, 0.014, 1486.0, 44.0),
        ("nickel", -3.512, 0.024, 1651.0, 112.0),
        ("manganese", -3.625, -0.032, 1491.0, 23.0),
    ] {
        let printed = 10f64.powf(a + b * 2.0 - (c + d * 2.0) / (4.575 * t)) * 1e-4;
        let law = law(&format!("iron with {element}"), 25.0);
        let alloyed = law.alloyed.as_ref().expect("an element");
        // The weight percent that makes 2 mol-%.
        let weight =
            2.0 * alloyed.atomic_mass / (2.0 * alloyed.atomic_mass + 98.0 * 55.845) * 100.0;
        assert!((alloyed.atom_percent(weight) - 2.0).abs() < 1e-9);
        let found = law.alloyed_with(weight).expect("inside").m2_s(deg(250.0));
        // 4.575 is the gas constant times ln 10 to four digits.
        assert!(
            (found / printed - 1.0).abs() < 1e-3,
            "{element}: {found:.4e} {printed:.4e}"
        );
        assert!(law.alloyed_with(9.0).is_none(), "beyond 5 mol-%");
    }
}

#[test]
fn manganese_of_the_parent_metal_slows_it() {
    let mut steel = side("1", 1, 500.0, 25.0);
    steel.chemistry.insert("Mn".into(), 1.5);
    let answer = answer(&weld("ASME B31.3", "2016", &steel), &asked(25.0, 250.0));
    let slowest = &answer.by_coefficient[answer.governing.expect("one holds")];
    assert_eq!(slowest.metal, "iron with manganese (1.5 %)");
}

#[test]
fn measured_points_are_met_and_never_left() {
    // Coe and Moreton 1966, steel of 0.73 % carbon.
    let points = points();
    for (c, m2_s) in [
        (44.0, 5.2e-12),
        (155.0, 4.9e-9),
        (250.0, 6.2e-9),
        (650.0, 9.9e-9),
    ] {
        assert!((points.m2_s(deg(c)).expect("inside") / m2_s - 1.0).abs() < 1e-9);
    }
    assert!(points.m2_s(deg(43.0)).is_none() && points.m2_s(deg(651.0)).is_none());
    assert!(
        points.c.windows(2).all(|pair| pair[0] < pair[1]) && points.c.len() == points.m2_s.len()
    );
}

fn asked(wall_mm: f64, c: f64) -> Asked {
    Asked {
        wall: free(wall_mm),
        temperature: deg(c),
        share: 0.1,
        place: Where::Slowest,
        history: Vec::new(),
    }
}

fn answer(weld: &Weld, asked: &Asked) -> BakeOut {
    bake_out(weld, asked).expect("an answer")
}

#[test]
fn the_slowest_coefficient_in_range_governs() {
    let answer = answer(&carbon("ASME B31.3", "2016", 25.0), &asked(25.0, 250.0));
    let slowest = &answer.by_coefficient[answer.governing.expect("one holds")];
    assert_eq!(slowest.metal, "iron, from binary alloys");
    for one in &answer.by_coefficient {
        assert!(
            one.time
                .is_none_or(|time| time <= slowest.time.expect("a time")),
            "{one:?}"
        );
    }
    let lattice = answer
        .by_coefficient
        .iter()
        .find(|one| one.metal == "annealed pure iron");
    assert!(lattice.expect("shown").time.is_none(), "10 to 40 °C only");
    assert!(
        answer
            .remarks
            .iter()
            .any(|r| r.text.contains("the coefficients disagree at 250 °C"))
    );
}

#[test]
fn holds_in_use_stand_beside_with_what_they_leave() {
    let answer = answer(&carbon("ASME B31.3", "2016", 50.0), &asked(50.0, 316.0));
    let post_heating = answer
        .holds
        .iter()
        .find(|hold| hold.clause.document == "EN 1011-2")
        .expect("listed");
    let (left, _) = post_heating.left.as_ref().expect("known");
    assert!(
        left.mean > 0.69 && left.slowest > 0.97,
        "{left:?}: 2 h at 250 °C do little for 50 mm"
    );
    let refinery = answer
        .holds
        .iter()
        .find(|hold| hold.clause.document == "Refinery practice")
        .expect("listed");
    assert_eq!((refinery.temperature.c(), refinery.time.h()), (316.0, 4.0));
    let thick = self::answer(&carbon("ASME B31.3", "2016", 150.0), &asked(150.0, 316.0));
    let refinery = thick
        .holds
        .iter()
        .find(|hold| hold.clause.document == "Refinery practice")
        .expect("listed");
    assert_eq!(refinery.time.h(), 6.0, "1 h for each 25 mm");
}

#[test]
fn austenitic_metal_is_refused_with_the_numbers() {
    let weld = weld("ASME B31.3", "2016", &side("8", 1, 500.0, 25.0));
    let answer = answer(&weld, &asked(25.0, 300.0));
    assert!(answer.governing.is_none());
    let hopeless = &answer.hopeless[0];
    assert!(
        hopeless.times.iter().all(|(_, time)| time.h() > 3000.0),
        "{hopeless:?}"
    );
    assert!(
        hopeless
            .reason
            .contains(" h by the coefficient of austenitic steel 316"),
        "{}",
        hopeless.reason
    );
    let mut dissimilar = weld.clone();
    dissimilar.sides[0] = side("1", 1, 500.0, 25.0);
    let answer = self::answer(&dissimilar, &asked(25.0, 300.0));
    assert!(
        answer.governing.is_some()
            && answer.hopeless.len() == 1
            && answer.hopeless[0].who == "side 2"
    );
}

#[test]
fn a_history_at_constant_temperature_is_the_constant_hold() {
    let wall = free(25.0);
    let weld = carbon("ASME B31.3", "2016", 25.0);
    let mut asked = asked(25.0, 300.0);
    asked.history = vec![
        (Hours::from_h(0.0), deg(300.0)),
        (Hours::from_h(1.0), deg(300.0)),
        (Hours::from_h(4.0), deg(300.0)),
    ];
    for one in answer(&weld, &asked)
        .by_coefficient
        .iter()
        .filter(|one| one.m2_s.is_some())
    {
        let after = one.history.expect("a history");
        let hold = wall.left(wall.fourier(one.m2_s.expect("known") * 4.0 * 3600.0));
        assert!(
            (after.left.mean - hold.mean).abs() < 1e-12 && after.not_counted.h() == 0.0,
            "{one:?}"
        );
    }
}

#[test]
fn what_lies_outside_a_range_is_not_counted_and_told() {
    let law = law("iron, from binary alloys", 25.0);
    let mut history = History::new(|t| law.holds(t).then(|| law.m2_s(t)));
    for (h, c) in [(0.0, 200.0), (1.0, 200.0), (2.0, 400.0), (3.0, 400.0)] {
        history
            .push(Hours::from_h(h), Some(deg(c)))
            .expect("in order");
    }
    assert!(
        (history.not_counted().h() - 1.5).abs() < 0.03,
        "{:?}: from 300 °C on",
        history.not_counted()
    );
    history.push(Hours::from_h(4.0), None).expect("in order");
    assert!((history.not_counted().h() - 2.5).abs() < 0.03);
    assert!(history.push(Hours::from_h(3.0), None).is_err());
    assert!(history.push(Hours::from_h(5.0), Some(deg(-500.0))).is_err());
}

fn layer(mm: f64, m2_s: f64, first_content: f64) -> Layer {
    Layer {
        thickness: Millimeters::from_mm(mm),
        m2_s,
        first_content,
    }
}

#[test]
fn layers_of_one_metal_are_one_wall() {
    let time = Hours::from_h(5.0);
    let halves = Layers::new(
        vec![layer(10.0, 6.2e-9, 1.0), layer(15.0, 6.2e-9, 1.0)],
        true,
        true,
    )
    .expect("a wall");
    let left = halves.left_after(time);
    let mean = (10.0 * left[0].mean + 15.0 * left[1].mean) / 25.0;
    let series = free(25.0).left(free(25.0).fourier(6.2e-9 * time.s()));
    // Crank 1975, chapter 4; 120 cells and 600 steps.
    assert!((mean - series.mean).abs() < 2e-3, "{mean} {series:?}");
    let sealed = Layers::new(vec![layer(25.0, 6.2e-9, 1.0)], false, true)
        .expect("a wall")
        .left_after(time)[0];
    let wall = Wall::OneFaceSealed(Millimeters::from_mm(25.0));
    let series = wall.left(wall.fourier(6.2e-9 * time.s()));
    assert!(
        (sealed.mean - series.mean).abs() < 2e-3 && (sealed.slowest - series.slowest).abs() < 2e-3,
        "{sealed:?} {series:?}"
    );
}

#[test]
fn a_cladding_is_nearly_a_seal() {
    let time = Hours::from_h(6.0);
    let clad = Layers::new(
        vec![layer(4.0, 1.1e-11, 0.0), layer(25.0, 8.4e-9, 1.0)],
        true,
        true,
    )
    .expect("a wall");
    let left = clad.left_after(time)[1];
    let wall = Wall::OneFaceSealed(Millimeters::from_mm(25.0));
    let sealed = wall.left(wall.fourier(8.4e-9 * time.s()));
    let bare = free(25.0).left(free(25.0).fourier(8.4e-9 * time.s()));
    assert!(left.mean > bare.mean + 0.1, "the bare wall is emptier");
    assert!(
        (left.mean - sealed.mean).abs() < 0.03,
        "{left:?} {sealed:?}"
    );
}

#[test]
fn what_cannot_be_is_refused_all_at_once() {
    let weld = carbon("ASME B31.3", "2016", 25.0);
    let mut bad = asked(-1.0, f64::NAN);
    bad.share = 1.0;
    assert_eq!(bake_out(&weld, &bad).expect_err("bad").faults.len(), 3);
    assert_eq!(
        Layers::new(vec![layer(0.0, -1.0, 1.0)], false, false)
            .expect_err("bad")
            .faults
            .len(),
        3
    );
    assert!(free(25.0).fourier_to(0.0, Where::Mean).is_err());
}

proptest! {
    #[test]
    fn thicker_or_cleaner_takes_longer_and_faster_takes_less(
        wall_mm in 3.0..200.0f64, share in 0.02..0.9f64, d in 1e-11..2e-8f64, more in 1.0..3.0f64, mean in any::<bool>(),
    ) {
        let place = if mean { Where::Mean } else { Where::Slowest };
        let at = |wall_mm: f64, share: f64, d: f64| free(wall_mm).time_to(share, place, d).expect("a time").h();
        let now = at(wall_mm, share, d);
        prop_assert!(at(wall_mm * more, share, d) >= now);
        prop_assert!(at(wall_mm, share / more, d) >= now);
        prop_assert!(at(wall_mm, share, d * more) <= now * (1.0 + 1e-12));
        let slowest = free(wall_mm).time_to(share, Where::Slowest, d).expect("a time").h();
        let of_mean = free(wall_mm).time_to(share, Where::Mean, d).expect("a time").h();
        prop_assert!(of_mean <= slowest);
    }

    #[test]
    fn what_is_left_only_falls(fourier in 0.0..2.0f64, more in 0.0..0.5f64, bar in any::<bool>()) {
        let wall = if bar { Wall::Cylinder(Millimeters::from_mm(10.0)) } else { free(10.0) };
        let (now, later) = (wall.left(fourier), wall.left(fourier + more));
        prop_assert!(later.mean <= now.mean + 1e-5 && later.slowest <= now.slowest + 1e-9, "{now:?} {later:?}");
        prop_assert!(now.mean <= now.slowest + 1e-9 && now.mean > 0.0);
    }
}
