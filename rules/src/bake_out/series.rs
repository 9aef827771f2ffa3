//! Crank's solutions for a slab and a cylinder with free faces, by the Fourier number (Crank 1975, The Mathematics of
//! Diffusion, chapters 4 and 5). A slab counts its whole thickness, a cylinder its radius.

use std::f64::consts::PI;

/// Below this Fourier number the solution for short times is exact to the last digits and the series is slow.
const SHORT: f64 = 1e-3;

/// Terms beyond this exponent do not change the sum.
const LAST_EXPONENT: f64 = 40.0;

/// Share of the mean content that is left in a slab with two free faces; Fo = Dt/L².
pub(crate) fn slab_mean(fourier: f64) -> f64 {
    if fourier <= SHORT {
        return 1.0 - 4.0 * (fourier.max(0.0) / PI).sqrt();
    }
    odd(fourier)
        .map(|n| (-(n * PI).powi(2) * fourier).exp() / (n * n))
        .sum::<f64>()
        * 8.0
        / (PI * PI)
}

/// Share of the content at the middle of a slab with two free faces.
pub(crate) fn slab_center(fourier: f64) -> f64 {
    if fourier <= SHORT {
        return 1.0;
    }
    let terms = odd(fourier).enumerate();
    terms
        .map(|(index, n)| sign(index) * (-(n * PI).powi(2) * fourier).exp() / n)
        .sum::<f64>()
        * 4.0
        / PI
}

/// The odd numbers that matter.
fn odd(fourier: f64) -> impl Iterator<Item = f64> {
    let last = (LAST_EXPONENT / fourier).sqrt() / PI;
    (0..)
        .map(|n| 2.0 * f64::from(n) + 1.0)
        .take_while(move |n| *n <= last.max(1.0))
}

fn sign(index: usize) -> f64 {
    if index.is_multiple_of(2) { 1.0 } else { -1.0 }
}

/// Share of the mean content that is left in a long cylinder; Fo = Dt/a².
pub(crate) fn cylinder_mean(fourier: f64) -> f64 {
    if fourier <= SHORT {
        let root = (fourier.max(0.0) / PI).sqrt();
        return 1.0 - 4.0 * root + fourier + fourier * root / 3.0;
    }
    zeros(fourier)
        .map(|zero| 4.0 * (-zero * zero * fourier).exp() / (zero * zero))
        .sum()
}

/// Share of the content at the axis of a long cylinder.
pub(crate) fn cylinder_center(fourier: f64) -> f64 {
    if fourier <= SHORT {
        return 1.0;
    }
    zeros(fourier)
        .map(|zero| 2.0 * (-zero * zero * fourier).exp() / (zero * bessel(1, zero)))
        .sum()
}

/// The zeros of J0 that matter.
fn zeros(fourier: f64) -> impl Iterator<Item = f64> {
    let last = (LAST_EXPONENT / fourier).sqrt();
    (1..)
        .map(zero_of_j0)
        .take_while(move |zero| *zero <= last.max(3.0))
}

/// Zero number n of J0: McMahon's start and Newton's steps.
pub(crate) fn zero_of_j0(n: u32) -> f64 {
    let b = (f64::from(n) - 0.25) * PI;
    (0..4).fold(b + 1.0 / (8.0 * b), |x, _| x + bessel(0, x) / bessel(1, x))
}

/// J of integer order by its integral over a period, which the trapezoidal rule sums to the last digit.
fn bessel(order: u32, x: f64) -> f64 {
    let points = 2 * (x.abs() as u32 + 32);
    let term = |k: u32| {
        let angle = PI * f64::from(2 * k + 1) / f64::from(points);
        (f64::from(order) * angle - x * angle.sin()).cos()
    };
    (0..points).map(term).sum::<f64>() / f64::from(points)
}
