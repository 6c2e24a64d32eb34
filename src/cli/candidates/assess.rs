//! One combination: everything that limits speak of, each with what it rests on.

use super::hazards::{alert_level, hazards};
use crate::cli::request::CandidatesRequest;
use crate::compose::candidates::{
    AlertLevel, Combination, Facts, Graded, LiquidFacts, MeasuredMelting, Standing, ideal_liquidus,
    measured_melting, seen_liquid,
};
use crate::report::view::{Candidate, CandidateHouse, CandidatePrice, CandidateRecipe};

/// Knows what a call asks and brings.
pub(super) struct Assessor<'r> {
    request: &'r CandidatesRequest,
}

impl<'r> Assessor<'r> {
    pub(super) fn new(request: &'r CandidatesRequest) -> Self {
        Self { request }
    }

    pub(super) fn candidate(&self, combination: &Combination) -> Candidate {
        let (hazards, alerts) = hazards(combination, self.request.scheme);
        let ideal = ideal_liquidus(combination);
        let (measured, seen) = (measured_melting(combination), seen_liquid(combination));
        let level = alert_level(&alerts);
        let moistness = combination.parts.iter().filter(|(component, _)| !component.is_water());
        let moistness = moistness.map(|(component, _)| component.hygroscopic.as_ref().map(|own| own.level));
        let (price, house) = (self.price(combination), self.house(combination));
        let facts = Facts {
            liquid: LiquidFacts {
                measured_k: kelvins(&measured, false),
                least_k: kelvins(&measured, true),
                seen_liquid_k: seen.as_ref().map(|own| own.temperature.kelvin()),
                ideal_k: ideal.sets.iter().map(|own| own.temperature.kelvin()).collect(),
            },
            signal: hazards.signal,
            alerts: Graded::known(level),
            price_per_kg: price.per_kg,
            hygroscopic: Graded::of(moistness),
            house_batch_g: house.batch_g,
        };
        let refused = level == AlertLevel::Block;
        Candidate {
            standing: Standing::new(&self.request.limits, &facts, refused, combination.shorthand()),
            recipes: self.recipes(combination),
            combination: combination.clone(),
            facts,
            ideal,
            measured,
            seen,
            hazards,
            alerts,
            price,
            house,
        }
    }

    /// Prices of the components by their mass fractions, as if each were pure.
    fn price(&self, combination: &Combination) -> CandidatePrice {
        let known = &self.request.prices.per_gram;
        let prices: Vec<Option<f64>> = combination
            .parts
            .iter()
            .map(|(component, _)| known.get(component.id.as_str()).copied())
            .collect();
        let parts = combination.parts.iter().zip(&prices);
        let missing = parts.filter(|(_, price)| price.is_none()).map(|((own, _), _)| own.name.clone());
        let shares = combination.mass_fractions();
        let sum = shares.zip(prices.iter().copied().collect::<Option<Vec<f64>>>());
        let per_kg = sum.map(|(shares, prices)| {
            1000.0 * shares.iter().zip(prices).map(|(share, price)| share * price).sum::<f64>()
        });
        CandidatePrice { per_kg, missing: missing.collect() }
    }

    /// The largest batch that the bottles allow, as if their content were pure.
    fn house(&self, combination: &Combination) -> CandidateHouse {
        let Some(stock) = &self.request.stock.grams else { return CandidateHouse::default() };
        let Some(shares) = combination.mass_fractions() else { return CandidateHouse::default() };
        let allows = combination.parts.iter().zip(shares).map(|((component, _), share)| {
            (stock.get(component.id.as_str()).copied().unwrap_or(0.0) / share, component.name.clone())
        });
        let least = allows.reduce(|least, next| if next.0 < least.0 { next } else { least });
        CandidateHouse { batch_g: least.as_ref().map(|own| own.0), ends_first: least.map(|own| own.1) }
    }

    /// Worked recipes of this very composition.
    fn recipes(&self, combination: &Combination) -> Vec<CandidateRecipe> {
        let same = self.request.recipes.iter().filter(|(_, recipe)| {
            let parts = recipe.proportions.parts.iter();
            combination.is(&parts.map(|part| (part.component.id.as_str(), part.ratio)).collect::<Vec<_>>())
        });
        same.map(|(name, recipe)| CandidateRecipe {
            name: (*name).to_owned(),
            source: recipe.source.clone().unwrap_or_default(),
        })
        .collect()
    }
}

/// Melting points of the composition itself, or eutectics that only say how low it can't melt.
fn kelvins(measured: &[MeasuredMelting], least: bool) -> Vec<f64> {
    let own = measured.iter().filter(|point| point.is_least == least);
    own.map(|point| point.temperature.kelvin()).collect()
}
