//! A property over temperature: points, the range in which they hold, and their source.

use serde::{Deserialize, Serialize};

use crate::Source;

/// A property given by points over temperature in °C, straight between them, refused outside.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Curve {
    /// What it is, as a reader knows it ("thermal conductivity").
    pub property: String,
    /// The unit of the values.
    pub unit: String,
    /// (temperature in °C, value), temperature ascending.
    pub points: Vec<(f64, f64)>,
    /// Where it comes from.
    pub source: Source,
}

/// A value was asked for outside the range of a curve.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{property} is known from {first_c} °C to {last_c} °C, asked at {asked_c} °C")]
pub struct OutOfRange {
    /// What the curve gives.
    pub property: String,
    /// The lowest temperature of the curve.
    pub first_c: f64,
    /// The highest temperature of the curve.
    pub last_c: f64,
    /// The temperature that was asked for.
    pub asked_c: f64,
}

impl Curve {
    /// The lowest and the highest temperature in °C at which the curve holds.
    pub fn range_c(&self) -> (f64, f64) {
        (
            self.points.first().map_or(0.0, |p| p.0),
            self.points.last().map_or(0.0, |p| p.0),
        )
    }

    /// The value at a temperature.
    ///
    /// # Errors
    /// [`OutOfRange`] with both numbers when the temperature lies outside the points.
    pub fn at_c(&self, temperature_c: f64) -> Result<f64, OutOfRange> {
        let (first_c, last_c) = self.range_c();
        let inside = self
            .points
            .iter()
            .rposition(|p| p.0 <= temperature_c)
            .filter(|_| temperature_c <= last_c);
        let Some(below) = inside else {
            return Err(OutOfRange {
                property: self.property.clone(),
                first_c,
                last_c,
                asked_c: temperature_c,
            });
        };
        let Some(above) = self.points.get(below + 1) else {
            return Ok(self.points[below].1);
        };
        let (x0, y0) = self.points[below];
        Ok(y0 + (above.1 - y0) * (temperature_c - x0) / (above.0 - x0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Status;

    fn curve() -> Curve {
        Curve {
            property: "thermal conductivity".into(),
            unit: "W/(m K)".into(),
            points: vec![(20.0, 50.0), (100.0, 40.0), (200.0, 30.0)],
            source: Source {
                citation: "test".into(),
                status: Status::Estimate,
                note: None,
            },
        }
    }

    #[test]
    fn straight_between_points_and_refused_outside() {
        assert_eq!(curve().at_c(60.0), Ok(45.0));
        assert_eq!(curve().at_c(200.0), Ok(30.0));
        let refused = curve().at_c(250.0).expect_err("outside");
        assert!(refused.to_string().contains("200 °C") && refused.to_string().contains("250 °C"));
    }
}
