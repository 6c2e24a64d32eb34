//! Where a continuous function of one number is zero.

/// Most steps; bisection alone would need about a hundred.
const STEPS: usize = 200;

/// The root of `function` between `low` and `high`, at which its signs must differ, to the last few bits.
/// NaN if they do not, or if the function is NaN on the way.
///
/// Brent's method: inverse quadratic or secant steps where they converge, bisection where not (R. P. Brent,
/// Algorithms for Minimization without Derivatives, 1973, chapter 4).
pub fn between(function: impl Fn(f64) -> f64, low: f64, high: f64) -> f64 {
    let (mut a, mut b) = (low, high);
    let (mut fa, mut fb) = (function(a), function(b));
    if fa.is_nan() || fb.is_nan() || (fa < 0.0) == (fb < 0.0) && fa != 0.0 && fb != 0.0 {
        return f64::NAN;
    }
    let (mut c, mut fc) = (a, fa);
    let mut last = b - a;
    let mut before = last;
    for _ in 0..STEPS {
        if (fb < 0.0) == (fc < 0.0) {
            (c, fc) = (a, fa);
            last = b - a;
            before = last;
        }
        if fc.abs() < fb.abs() {
            (a, b, c) = (b, c, b);
            (fa, fb, fc) = (fb, fc, fb);
        }
        let tolerance = 2.0 * f64::EPSILON * b.abs();
        let half = (c - b) / 2.0;
        if half.abs() <= tolerance || fb == 0.0 {
            return b;
        }
        let step = step((a, fa), (b, fb), (c, fc), half);
        let good = step.filter(|step| {
            2.0 * step.abs() < (3.0 * half.abs() - tolerance).min(before.abs())
                && (*step < 0.0) == (half < 0.0)
                && tolerance <= before.abs()
        });
        before = if good.is_some() { last } else { half };
        last = good.unwrap_or(half);
        (a, fa) = (b, fb);
        b += if tolerance < last.abs() { last } else { tolerance.copysign(half) };
        fb = function(b);
        if fb.is_nan() {
            return f64::NAN;
        }
    }
    b
}

/// The step from `b` that a line or a parabola through the last points suggests.
fn step((a, fa): (f64, f64), (b, fb): (f64, f64), (c, fc): (f64, f64), half: f64) -> Option<f64> {
    if fa.abs() <= fb.abs() {
        return None;
    }
    let s = fb / fa;
    let (p, q) = if a == c {
        (2.0 * half * s, 1.0 - s)
    } else {
        let (q, r) = (fa / fc, fb / fc);
        (s * (2.0 * half * q * (q - r) - (b - a) * (r - 1.0)), (q - 1.0) * (r - 1.0) * (s - 1.0))
    };
    let step = if 0.0 < p { p / -q } else { -p / q };
    step.is_finite().then_some(step)
}

/// The root of an increasing function on `low < x < high`, either of which may be infinite, searched outward
/// from `start` in steps that double. NaN if there is none within the range of a double.
pub fn of_increasing(function: impl Fn(f64) -> f64, low: f64, high: f64, start: f64) -> f64 {
    let rises = function(start) < 0.0;
    let mut near = start;
    let mut stride = start.abs().max(0.5) / 16.0;
    for _ in 0..1100 {
        let far = if rises { outward(near, stride, high) } else { -outward(-near, stride, -low) };
        let value = function(far);
        if value.is_nan() || !far.is_finite() {
            return f64::NAN;
        }
        if (value < 0.0) != rises || value == 0.0 {
            return between(&function, near.min(far), near.max(far));
        }
        near = far;
        stride *= 2.0;
    }
    f64::NAN
}

/// A stride towards a bound, or half of the way to it.
fn outward(from: f64, stride: f64, bound: f64) -> f64 {
    if from + stride < bound { from + stride } else { from + (bound - from) / 2.0 }
}
