//! The one color scale, for temperature alone: dark when cold, bright when hot, rising evenly in lightness so that a gray
//! copy reads as well.
//!
//! It is our own path through the Oklab color space (B. Ottosson, "A perceptual color space for image processing", 2020;
//! the matrices are in the public domain): lightness rises in a straight line while the hue goes from night blue through
//! ember red and orange to pale yellow.

use crate::drawing::{Anchor, Drawing, HAIRLINE_PT, Ink, Item, Label, Path, Stand, Stroke};
use crate::ticks::decimal_ticks;

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

/// Thickness of a scale bar in mm.
const BAR_MM: f64 = 3.2;
/// Height of a scale bar with its numbers in mm.
pub const BAR_HEIGHT_MM: f64 = 9.0;

/// A scale bar as items of a drawing in mm on paper: its upper left corner, its length in mm, the temperatures at its ends,
/// their unit, and the number of bands (the same as in the picture).
#[must_use]
pub fn bar(
    at: [f64; 2],
    length_mm: f64,
    cold: f64,
    hot: f64,
    unit: &str,
    bands: usize,
) -> Vec<Item> {
    let bands = bands.max(1);
    let [left, top] = at;
    let width = length_mm / bands as f64;
    let mut items: Vec<Item> = Vec::new();
    for band in 0..bands {
        let ink = Ink::Heat((band as f64 + 0.5) / bands as f64);
        // Each band reaches to the end, so that no seam of paper shows between two.
        let start = width * band as f64;
        items.push(
            Path::rectangle(left + start, top, length_mm - start, BAR_MM)
                .filled(ink)
                .into(),
        );
    }
    items.push(
        Path::rectangle(left, top, length_mm, BAR_MM)
            .stroked(Stroke::solid(Ink::Full, HAIRLINE_PT))
            .into(),
    );
    let ticks = decimal_ticks(cold, hot, (length_mm / 16.0).max(2.0));
    let last = ticks.len().saturating_sub(1);
    for (i, tick) in ticks.into_iter().enumerate() {
        let x = left + fraction(tick.value, cold, hot) * length_mm;
        let bottom = top + BAR_MM;
        items.push(
            Path::polyline(
                &[[x, bottom], [x, bottom + 1.0]],
                Stroke::solid(Ink::Full, HAIRLINE_PT),
            )
            .into(),
        );
        let label = if i == last {
            format!("{} {unit}", tick.label)
        } else {
            tick.label
        };
        items.push(
            Label::new([x, bottom + 1.8], label)
                .anchored(Anchor::Middle, Stand::Hang)
                .into(),
        );
    }
    items
}

/// A scale bar as a drawing of its own, this many mm long.
#[must_use]
pub fn bar_drawing(
    title: &str,
    length_mm: f64,
    cold: f64,
    hot: f64,
    unit: &str,
    bands: usize,
) -> Drawing {
    let mut drawing = Drawing::new(title, length_mm + 20.0, BAR_HEIGHT_MM, 1.0);
    drawing.items = bar([5.0, 0.5], length_mm, cold, hot, unit, bands);
    drawing
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_path_stays_within_what_a_screen_can_show() {
        for i in 0..=100 {
            let channels = oklab_to_srgb(oklab(f64::from(i) / 100.0));
            assert!(
                channels
                    .iter()
                    .all(|channel| (-0.01..=1.01).contains(channel)),
                "{i} %: {channels:?}"
            );
        }
    }
}
