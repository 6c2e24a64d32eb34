//! The series of one liquid, and which of their curves the answer goes by.

use super::{CurveView, FittedSeries};
use crate::compose::curve::PropertyCurve;
use crate::quantity::Temperature;

/// Series of one liquid.
#[derive(Debug, Clone, PartialEq)]
pub struct Liquid<'v> {
    /// Components and ratio, where they are known.
    pub name: Option<&'v str>,
    /// The series, all together at the end.
    pub series: Vec<&'v FittedSeries>,
}

impl CurveView {
    /// The series liquid by liquid, in their order.
    pub fn liquids(&self) -> Vec<Liquid<'_>> {
        let mut liquids: Vec<Liquid<'_>> = Vec::new();
        for own in &self.series {
            let name = own.series.liquid.as_deref();
            match liquids.iter_mut().find(|known| known.name == name) {
                Some(known) => known.series.push(own),
                None => liquids.push(Liquid { name, series: vec![own] }),
            }
        }
        liquids
    }
}

impl<'v> Liquid<'v> {
    /// The curves that mean something.
    pub fn curves(&self) -> impl Iterator<Item = &'v PropertyCurve> {
        self.series.iter().filter_map(|own| own.told())
    }

    /// The curve that the answer goes by at a temperature: that of all together; without it the single one that says
    /// something there and reaches nearest, the one with most points before others.
    pub fn head(&self, view: &CurveView, at: Temperature) -> Option<&'v PropertyCurve> {
        let together = self.series.iter().filter(|own| own.is_together).find_map(|own| own.told());
        let distance = |curve: &PropertyCurve| {
            let beyond = curve.beyond(at.kelvin(), None).map_or(0.0, |own| own.kelvin.abs());
            if curve.at(at.kelvin(), view.water()).is_ok() { beyond } else { f64::INFINITY }
        };
        let nearest = |one: &&PropertyCurve, other: &&PropertyCurve| {
            distance(one).total_cmp(&distance(other)).then(other.count.cmp(&one.count))
        };
        together.or_else(|| self.curves().min_by(nearest))
    }
}
