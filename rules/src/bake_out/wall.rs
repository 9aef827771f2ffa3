//! The wall that is baked, and the share of its hydrogen that is left.

use quantity::{Hours, Millimeters};
use serde::{Deserialize, Serialize};

use super::series::{cylinder_center, cylinder_mean, slab_center, slab_mean};
use crate::fault::RuleError;
use crate::time_temperature::bad_measure;

/// A wall of one metal. The first two are slabs, the last is a long bar.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Wall {
    /// Both faces let hydrogen out.
    BothFacesFree(Millimeters),
    /// One face is sealed by a lining, an overlay or wet sour service; the wall counts twice.
    OneFaceSealed(Millimeters),
    /// A bar of this radius.
    Cylinder(Millimeters),
}

/// Where the content is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Where {
    /// The mean over the wall.
    Mean,
    /// The slowest place: the middle, or the sealed face.
    Slowest,
}

/// Shares of the first content that are left.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Left {
    /// Of the mean.
    pub mean: f64,
    /// At the slowest place.
    pub slowest: f64,
}

impl Where {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Where::Mean => "of the mean",
            Where::Slowest => "at the slowest place",
        }
    }
}

impl Wall {
    /// The length that counts: the whole thickness with both faces free, twice that with one, the radius of a bar.
    pub fn length(self) -> Millimeters {
        match self {
            Wall::BothFacesFree(thickness) => thickness,
            Wall::OneFaceSealed(thickness) => thickness * 2.0,
            Wall::Cylinder(radius) => radius,
        }
    }

    /// Fourier number ∫D dt/L² of an amount of diffusion ∫D dt in m².
    pub fn fourier(self, diffused_m2: f64) -> f64 {
        diffused_m2 / self.length().m().powi(2)
    }

    /// What is left at a Fourier number.
    pub fn left(self, fourier: f64) -> Left {
        match self {
            Wall::BothFacesFree(_) | Wall::OneFaceSealed(_) => Left {
                mean: slab_mean(fourier),
                slowest: slab_center(fourier),
            },
            Wall::Cylinder(_) => Left {
                mean: cylinder_mean(fourier),
                slowest: cylinder_center(fourier),
            },
        }
    }

    /// The Fourier number at which a share is left.
    ///
    /// # Errors
    /// [`crate::fault::RuleFault::BadMeasure`] for a share that does not lie between 0 and 1.
    pub fn fourier_to(self, share: f64, place: Where) -> Result<f64, RuleError> {
        if !(share > 0.0 && share < 1.0) {
            return Err(bad_measure(
                "share of the hydrogen",
                share,
                "of 1",
                "it must lie between 0 and 1",
            ));
        }
        /// Beyond this less than 10⁻³⁰⁰ is left in a slab.
        const LARGEST: f64 = 70.0;
        let is_more = |fourier: f64| {
            let left = self.left(fourier);
            let found = match place {
                Where::Mean => left.mean,
                Where::Slowest => left.slowest,
            };
            found > share
        };
        let (mut low, mut high) = (0.0, LARGEST);
        for _ in 0..200 {
            let middle = 0.5 * (low + high);
            if is_more(middle) {
                low = middle
            } else {
                high = middle
            }
        }
        Ok(high)
    }

    /// The time at a diffusion coefficient in m²/s until a share is left.
    ///
    /// # Errors
    /// As [`Wall::fourier_to`].
    pub fn time_to(self, share: f64, place: Where, m2_s: f64) -> Result<Hours, RuleError> {
        let fourier = self.fourier_to(share, place)?;
        Ok(Hours::from_s(fourier * self.length().m().powi(2) / m2_s))
    }
}
