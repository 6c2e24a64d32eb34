//! Round numbers for axes, and how they are written.

/// About `count` round numbers with steps of 1, 2 or 5 times a power of ten.
pub(super) fn steps(low: f64, high: f64, count: usize) -> (Vec<f64>, f64) {
    let rough = (high - low) / count.max(1) as f64;
    let power = 10f64.powf(rough.log10().floor());
    let step =
        [1.0, 2.0, 5.0, 10.0].map(|part| part * power).into_iter().find(|step| rough <= *step * 1.000_001);
    let step = step.unwrap_or(10.0 * power);
    let first = (low / step - 1e-9).ceil() as i64;
    let last = (high / step + 1e-9).floor() as i64;
    ((first..=last).take(200).map(|at| at as f64 * step).collect(), step)
}

/// The numbers with their texts, in the steps of the axis.
pub(super) fn named((values, step): (Vec<f64>, f64), inner: impl Fn(f64) -> f64) -> Vec<(f64, String)> {
    let exponent = step.log10().floor();
    let largest = values.iter().fold(0.0f64, |most, value| most.max(value.abs()));
    let text = |value: f64| {
        if 1e6 <= largest || (0.0 < largest && largest < 1e-4) {
            return scientific(value, step);
        }
        signed(value, (-exponent).max(0.0) as usize)
    };
    let positive = |value: &&f64| inner(**value).is_finite();
    values.iter().filter(positive).map(|value| (inner(*value), text(*value))).collect()
}

/// A number with so many decimals and the sign of print; zero has no sign.
pub(super) fn signed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let zero = text.trim_start_matches(['-', '0', '.']).is_empty();
    text.replace('-', if zero { "" } else { "−" })
}

/// 2.5×10⁶, with the digits of the step.
pub(super) fn scientific(value: f64, step: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let exponent = value.abs().log10().floor();
    let digits = (exponent - step.log10().floor()).max(0.0) as usize;
    let raised: String = format!("{exponent}").chars().map(superscript).collect();
    format!("{}×10{raised}", signed(value / 10f64.powf(exponent), digits))
}

fn superscript(digit: char) -> char {
    match digit {
        '-' => '⁻',
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        digit => digit.to_digit(10).and_then(|digit| char::from_u32(0x2070 + digit)).unwrap_or(digit),
    }
}
