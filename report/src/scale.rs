//! The one color scale, for temperature alone: dark when cold, bright when hot, rising evenly in lightness so that a gray
//! copy reads as well.
//!
//! It is our own path through the Oklab color space (B. Ottosson, "A perceptual color space for image processing", 2020;
//! the matrices are in the public domain): lightness rises in a straight line while the hue goes from night blue through
//! ember red and orange to pale yellow.

/// Lightness, green-red and blue-yellow of Oklab at evenly spaced fractions of the scale.
const PATH: [[f64; 3]; 6] = [
    [0.245, 0.030, -0.085],
    [0.383, 0.105, -0.085],
    [0.521, 0.170, 0.015],
    [0.659, 0.135, 0.110],
    [0.797, 0.050, 0.148],
    [0.935, -0.020, 0.115],
];

/// Red, green and blue (sRGB, 0 to 255) of a fraction of the scale; beyond 0 and 1 the ends hold.
#[must_use]
pub fn color(fraction: f64) -> [u8; 3] {
    oklab_to_srgb(oklab(fraction)).map(|channel| (channel.clamp(0.0, 1.0) * 255.0).round() as u8)
}

/// The color as `#rrggbb`.
#[must_use]
pub fn hex(fraction: f64) -> String {
    let [red, green, blue] = color(fraction);
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// Where a temperature lies between the ends of the scale, from 0 to 1; anything between equal ends is 0.
#[must_use]
pub fn fraction(value: f64, cold: f64, hot: f64) -> f64 {
    if hot > cold {
        ((value - cold) / (hot - cold)).clamp(0.0, 1.0)
    } else {
        0.0
    }
}

/// Smooth path through the given points (Catmull-Rom).
fn oklab(fraction: f64) -> [f64; 3] {
    let last = PATH.len() - 1;
    let at = if fraction.is_finite() {
        fraction.clamp(0.0, 1.0)
    } else {
        0.0
    } * last as f64;
    let i = (at.floor() as usize).min(last - 1);
    let t = at - i as f64;
    let (before, after) = (PATH[i.saturating_sub(1)], PATH[(i + 2).min(last)]);
    std::array::from_fn(|k| {
        let (p0, p1, p2, p3) = (before[k], PATH[i][k], PATH[i + 1][k], after[k]);
        if k == 0 {
            return p1 + (p2 - p1) * t;
        }
        let (m1, m2) = ((p2 - p0) / 2.0, (p3 - p1) / 2.0);
        let (t2, t3) = (t * t, t * t * t);
        (2.0 * t3 - 3.0 * t2 + 1.0) * p1
            + (t3 - 2.0 * t2 + t) * m1
            + (3.0 * t2 - 2.0 * t3) * p2
            + (t3 - t2) * m2
    })
}

/// Oklab to sRGB in fractions, not clamped (Ottosson 2020).
fn oklab_to_srgb([lightness, a, b]: [f64; 3]) -> [f64; 3] {
    let l = (lightness + 0.396_337_777_4 * a + 0.215_803_757_3 * b).powi(3);
    let m = (lightness - 0.105_561_345_8 * a - 0.063_854_172_8 * b).powi(3);
    let s = (lightness - 0.089_484_177_5 * a - 1.291_485_548_0 * b).powi(3);
    let linear = [
        4.076_741_662_1 * l - 3.307_711_591_3 * m + 0.230_969_929_2 * s,
        -1.268_438_004_6 * l + 2.609_757_401_1 * m - 0.341_319_396_5 * s,
        -0.004_196_086_3 * l - 0.703_418_614_7 * m + 1.707_614_701_0 * s,
    ];
    linear.map(srgb_curve)
}

fn srgb_curve(linear: f64) -> f64 {
    if linear <= 0.003_130_8 {
        12.92 * linear
    } else {
        1.055 * linear.powf(1.0 / 2.4) - 0.055
    }
}
