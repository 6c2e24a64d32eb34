//! Numbers that carry their derivatives: exact slopes of any formula without writing one by hand.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// Most parameters that a curve may have.
pub const MOST_PARAMETERS: usize = 8;

/// A value and its derivatives by each parameter (forward automatic differentiation by dual numbers,
/// A. Griewank and A. Walther, Evaluating Derivatives, 2nd ed. 2008, chapter 3).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dual {
    /// The value.
    pub value: f64,
    /// Its derivatives by the parameters, in their order.
    pub slopes: [f64; MOST_PARAMETERS],
}

impl Dual {
    /// A number that depends on no parameter.
    pub fn constant(value: f64) -> Self {
        Self { value, slopes: [0.0; MOST_PARAMETERS] }
    }

    /// The parameter in this place. A place beyond the last is a constant.
    pub fn parameter(value: f64, place: usize) -> Self {
        let mut own = Self::constant(value);
        if let Some(slope) = own.slopes.get_mut(place) {
            *slope = 1.0;
        }
        own
    }

    /// e to this.
    pub fn exp(self) -> Self {
        self.chain(self.value.exp(), self.value.exp())
    }

    /// The natural logarithm; NaN below zero.
    pub fn ln(self) -> Self {
        self.chain(self.value.ln(), 1.0 / self.value)
    }

    /// This to a fixed power.
    pub fn powf(self, power: f64) -> Self {
        self.chain(self.value.powf(power), power * self.value.powf(power - 1.0))
    }

    /// The value of a function here, and its derivative there times what was before.
    fn chain(self, value: f64, derivative: f64) -> Self {
        Self { value, slopes: self.slopes.map(|slope| slope * derivative) }
    }

    fn with(self, other: Self, value: f64, own: f64, others: f64) -> Self {
        let mut slopes = [0.0; MOST_PARAMETERS];
        for (slope, (a, b)) in slopes.iter_mut().zip(self.slopes.iter().zip(other.slopes)) {
            *slope = own * a + others * b;
        }
        Self { value, slopes }
    }
}

impl From<f64> for Dual {
    fn from(value: f64) -> Self {
        Self::constant(value)
    }
}

macro_rules! operator {
    ($trait:ident, $name:ident, |$a:ident, $b:ident| $value:expr, $own:expr, $other:expr) => {
        impl $trait for Dual {
            type Output = Self;
            fn $name(self, other: Self) -> Self {
                let ($a, $b) = (self.value, other.value);
                self.with(other, $value, $own, $other)
            }
        }
        impl $trait<f64> for Dual {
            type Output = Self;
            fn $name(self, other: f64) -> Self {
                self.$name(Self::constant(other))
            }
        }
        impl $trait<Dual> for f64 {
            type Output = Dual;
            fn $name(self, other: Dual) -> Dual {
                Dual::constant(self).$name(other)
            }
        }
    };
}

operator!(Add, add, |a, b| a + b, 1.0, 1.0);
operator!(Sub, sub, |a, b| a - b, 1.0, -1.0);
operator!(Mul, mul, |a, b| a * b, b, a);
operator!(Div, div, |a, b| a / b, 1.0 / b, -a / (b * b));

impl Neg for Dual {
    type Output = Self;
    fn neg(self) -> Self {
        self.chain(-self.value, -1.0)
    }
}
