//! The macro that declares a quantity once: name, base unit, other units, bounds, an example.

/// Declares a newtype over `f64` with text, serde, and the arithmetic that never changes the unit. It is
/// printed in its base unit.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $noun:literal, base $base:literal, $($rest:tt)+) => {
        $crate::quantity::define::unprinted!($(#[$doc])* $name, $noun, base $base, $($rest)+);

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                std::fmt::Display::fmt(&self.0, f)?;
                f.write_str(concat!(" ", $base))
            }
        }
    };
}

/// The same for a quantity that says itself how it is printed.
macro_rules! unprinted {
    ($(#[$doc:meta])* $name:ident, $noun:literal, base $base:literal,
     units [$(($symbol:literal, $factor:expr)),+ $(,)?],
     from $low:literal to $high:expr, example $example:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, serde::Serialize, serde::Deserialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl $name {
            /// Zero in the base unit.
            pub const ZERO: Self = Self(0.0);

            #[doc = concat!("A value given in ", $base, ".")]
            pub const fn new(value: f64) -> Self {
                Self(value)
            }

            #[doc = concat!("The value in ", $base, ".")]
            pub const fn get(self) -> f64 {
                self.0
            }
        }

        impl $crate::quantity::Quantity for $name {
            const NOUN: &'static str = $noun;
            const UNITS: &'static [$crate::quantity::Unit] =
                &[$($crate::quantity::Unit { symbol: $symbol, factor: $factor, offset: 0.0 }),+];
            const LOW: f64 = $low;
            const HIGH: f64 = $high;
            const EXAMPLE: &'static str = $example;

            fn from_base(value: f64) -> Self {
                Self(value)
            }
        }

        impl std::str::FromStr for $name {
            type Err = $crate::quantity::QuantityError;

            fn from_str(text: &str) -> Result<Self, Self::Err> {
                $crate::quantity::Typed::<Self>::parse(text).map(|typed| typed.value)
            }
        }

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl std::ops::Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }

        impl std::ops::Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(values: I) -> Self {
                // An empty float sum is −0, which prints with its sign.
                Self(values.fold(0.0, |sum, value| sum + value.0))
            }
        }
    };
}

pub(super) use {quantity, unprinted};
