//! Nominal sizes of pipe, which are easily taken for outside diameters.

use std::sync::LazyLock;

use serde::Deserialize;

const DATA: &str = include_str!("../data/nominal-pipe.toml");

#[derive(Deserialize)]
struct Sizes {
    source: String,
    size: Vec<Size>,
}

#[derive(Deserialize)]
struct Size {
    name: String,
    size: f64,
    inches: f64,
    mm: f64,
}

static SIZES: LazyLock<Sizes> =
    LazyLock::new(|| toml::from_str(DATA).expect("the data file of this program"));

/// Nearer than this a diameter is taken for a nominal size, in inches.
const SAME_INCHES: f64 = 0.02;

impl Size {
    fn words(&self) -> String {
        format!(
            "pipe of nominal size {} is {} in ({:.1} mm) outside ({}, from memory)",
            self.name, self.inches, self.mm, SIZES.source
        )
    }
}

/// What to say of an outside diameter in mm that looks like a nominal size; `None` where it does not, or where it is the
/// diameter of another size.
pub fn remark(outside_mm: f64) -> Option<String> {
    let inches = outside_mm / 25.4;
    let near = |a: f64| (a - inches).abs() < SAME_INCHES;
    if SIZES.size.iter().any(|one| near(one.inches)) {
        return None;
    }
    let size = SIZES.size.iter().find(|one| near(one.size))?;
    Some(format!("Is it meant? A {}.", size.words()))
}

/// The same of a diameter as it stands in a file (`10 in`, `254 mm`); `None` also where it cannot be read.
pub fn remark_on(written: &str) -> Option<String> {
    let written = written.trim();
    let end = written.find(|c: char| !c.is_ascii_digit() && c != '.')?;
    let (number, unit) = written.split_at(end);
    let number: f64 = number.parse().ok()?;
    let mm = match unit.trim() {
        "mm" => 1.0,
        "cm" => 10.0,
        "m" => 1000.0,
        "in" | "inch" | "\"" | "″" => 25.4,
        _ => return None,
    };
    remark(number * mm)
}

/// What to say where somebody wrote a nominal size, `NPS 10`, for a diameter.
pub fn of_size(written: &str) -> Option<String> {
    let plain = written.trim_matches(|c: char| !c.is_alphanumeric());
    let size = plain
        .strip_prefix("NPS")
        .or_else(|| plain.strip_prefix("nps"))?
        .trim();
    let size = SIZES.size.iter().find(|one| one.name == size)?;
    Some(format!("A {}; write that.", size.words()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_taken_for_a_diameter_is_remarked_upon() {
        let words = remark(254.0).expect("ten inches");
        assert!(
            words.contains("10.75 in") && words.contains("273.0 mm"),
            "{words}"
        );
        // NPS 12 and NPS 3 1/2, whose diameter is the size of another.
        for fine in [323.85, 101.6, 406.4, 1.0] {
            assert_eq!(remark(fine), None, "{fine}");
        }
        assert!(remark_on("10 in").is_some() && remark_on("10.75 in").is_none());
        assert!(of_size("\"NPS 10\"").is_some_and(|words| words.contains("10.75 in")));
        assert_eq!(of_size("10 in"), None);
    }
}
