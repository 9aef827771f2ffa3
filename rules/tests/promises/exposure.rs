//! Reference levels of magnetic fields, on either side of each corner.

use rules::exposure::{BodyPart, Persons, ReferenceLevel, reference_levels};

fn level(frequency_hz: f64, document: &str, who: Persons, part: BodyPart) -> Option<f64> {
    let wanted = |one: &&ReferenceLevel| {
        one.clause.document.contains(document) && one.who == who && one.part == part
    };
    let levels = reference_levels(frequency_hz).expect("levels");
    levels.iter().find(wanted).map(|one| one.microtesla)
}

#[test]
fn icnirp_2010_turns_at_3_khz() {
    // ICNIRP (2010) Tables 3 and 4: 0.3/f and 0.08/f T below 3 kHz, 100 and 27 µT from there.
    let whole = |hz: f64, who: Persons| level(hz, "ICNIRP (2010)", who, BodyPart::Whole);
    assert_eq!(whole(1000.0, Persons::Workers), Some(300.0));
    assert_eq!(whole(1000.0, Persons::Public), Some(80.0));
    assert_eq!(whole(2999.0, Persons::Workers), Some(300_000.0 / 2999.0));
    assert_eq!(whole(3000.0, Persons::Workers), Some(100.0));
    assert_eq!(whole(3000.0, Persons::Public), Some(27.0));
    assert_eq!(whole(299.0, Persons::Workers), None);
}

#[test]
fn the_directive_has_limbs_and_ieee_its_own_corner() {
    // Directive 2013/35/EU Table B2: 3e5/f, limbs 9e5/f µT. IEEE C95.1-2019: 687/f and 2060/f mT below 3.35 kHz.
    assert_eq!(
        level(1000.0, "2013/35/EU", Persons::Workers, BodyPart::Limbs),
        Some(900.0)
    );
    assert_eq!(
        level(10_000.0, "2013/35/EU", Persons::Workers, BodyPart::Limbs),
        Some(300.0)
    );
    assert_eq!(
        level(1000.0, "IEEE", Persons::Public, BodyPart::Whole),
        Some(687.0)
    );
    assert_eq!(
        level(3349.0, "IEEE", Persons::Workers, BodyPart::Whole),
        Some(2_060_000.0 / 3349.0)
    );
    assert_eq!(
        level(3350.0, "IEEE", Persons::Workers, BodyPart::Whole),
        Some(615.0)
    );
}

#[test]
fn the_lowest_level_comes_first() {
    let levels = reference_levels(10_000.0).expect("levels");
    assert!(
        levels
            .windows(2)
            .all(|pair| pair[0].microtesla <= pair[1].microtesla)
    );
    assert_eq!(levels[0].microtesla, 6.25);
}
