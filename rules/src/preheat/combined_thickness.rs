//! Combined thickness: every leg that carries the heat away, as EN 1011-2 method A asks for it.

use quantity::Millimeters;

use crate::welding::JointKind;

/// The combined thickness of a joint. Of a fillet the first part is the one that runs through; it carries heat to both
/// sides and counts twice. Twin fillets laid at the same time share the legs, so each has half of them.
pub fn combined_thickness(
    joint: JointKind,
    first: Millimeters,
    second: Millimeters,
) -> Millimeters {
    match joint {
        JointKind::Butt => first + second,
        JointKind::Fillet => first * 2.0 + second,
        JointKind::TwinFillet => (first * 2.0 + second) * 0.5,
    }
}

/// The mean thickness of one leg over a length from the weld line; `steps` are lengths along the leg with their
/// thickness, from the weld line on. What the steps do not cover counts as the last of them.
pub fn mean_thickness(
    steps: &[(Millimeters, Millimeters)],
    over: Millimeters,
) -> Option<Millimeters> {
    let (_, last) = steps.last()?;
    let (mut covered_mm, mut area_mm2) = (0.0, 0.0);
    for (length, thickness) in steps {
        let used_mm = length.mm().clamp(0.0, over.mm() - covered_mm);
        covered_mm += used_mm;
        area_mm2 += used_mm * thickness.mm();
    }
    area_mm2 += (over.mm() - covered_mm) * last.mm();
    Some(Millimeters::from_mm(area_mm2 / over.mm()))
}
