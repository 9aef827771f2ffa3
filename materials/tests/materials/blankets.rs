use materials::{Edge, blanket, blankets, surfaces};

#[test]
fn every_blanket_meets_its_check_value_and_has_sources() {
    for blanket in blankets() {
        let value = blanket
            .conductivity
            .at_c(blanket.check.at_c)
            .expect("inside");
        let off_percent = 100.0 * (value / blanket.check.value - 1.0);
        assert!(
            off_percent.abs() <= blanket.check.within_percent,
            "{}: {off_percent:.1} %",
            blanket.name
        );
        assert!(
            blanket
                .sources()
                .iter()
                .all(|source| !source.citation.is_empty())
        );
        assert!(
            blanket
                .thicknesses_mm
                .windows(2)
                .all(|pair| pair[0] < pair[1])
        );
    }
}

#[test]
fn a_blanket_conducts_more_when_hotter() {
    for blanket in blankets() {
        let points = &blanket.conductivity.points;
        let rises = points
            .windows(2)
            .all(|pair| pair[0].0 < pair[1].0 && pair[0].1 < pair[1].1);
        assert!(rises, "{}", blanket.name);
        let (first_c, last_c) = blanket.conductivity.range_c();
        assert!(
            first_c <= -40.0 && last_c >= blanket.limit_c.value,
            "{}",
            blanket.name
        );
    }
}

#[test]
fn the_edges_of_a_blanket_enclose_it() {
    let chosen = blanket("ceramic fiber").expect("known");
    let at = |blanket: &materials::Blanket| blanket.conductivity.at_c(500.0).expect("inside");
    assert!(at(&chosen.at_edge(Edge::Low)) < at(chosen));
    assert!(at(chosen) < at(&chosen.at_edge(Edge::High)));
}

#[test]
fn surfaces_radiate_less_than_a_black_body() {
    for surface in surfaces() {
        let emissivity = &surface.emissivity;
        assert!(
            0.0 < emissivity.low && emissivity.low <= emissivity.value,
            "{}",
            surface.name
        );
        assert!(
            emissivity.value <= emissivity.high && emissivity.high < 1.0,
            "{}",
            surface.name
        );
        assert!(surface.range_c.0 < surface.range_c.1);
    }
}
