//! The limits in `data/mixture/rules.toml`, read when a mixture is first classified.

use std::sync::LazyLock;

use serde::Deserialize;

use super::class::Class;
use super::limit::Exposure;
use super::sum::ROUNDING;
use crate::caution::scheme::Scheme;

/// All limits.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct Rules {
    pub(super) cutoff: Cutoff,
    pub(super) acute: Acute,
    pub(super) skin: Skin,
    pub(super) eye: Eye,
    pub(super) not_additive: NotAdditive,
    pub(super) single: Vec<Single>,
    pub(super) elicitation: Elicitation,
    pub(super) aquatic: Aquatic,
    pub(super) presumed: Presumed,
}

/// Below these an ingredient is left out, in %.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct Cutoff {
    pub(super) acute_category_1_to_3: f64,
    pub(super) acute_category_4_and_5: f64,
    pub(super) skin: f64,
    pub(super) eye: f64,
    pub(super) stot_se_3: f64,
    pub(super) aspiration: f64,
    pub(super) aquatic_category_1: f64,
    pub(super) aquatic_other: f64,
    #[serde(rename = "source")]
    _source: String,
}

/// Chapter 3.1.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct Acute {
    pub(super) chapter: String,
    pub(super) formula: String,
    pub(super) formula_unknown: String,
    pub(super) unknown_above: f64,
    pub(super) unknown_statement_from: f64,
    pub(super) source: String,
    oral: Bands,
    dermal: Bands,
    gas: Bands,
    vapour: Bands,
    dust: Bands,
}

/// The categories of one way in, 1 first.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct Bands {
    pub(super) unit: String,
    /// The highest estimate of each category.
    pub(super) upto: Vec<f64>,
    /// What stands for a category whose estimate is not known.
    pub(super) point: Vec<f64>,
}

/// Chapter 3.2.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct Skin {
    pub(super) chapter: String,
    pub(super) corrosive: f64,
    pub(super) irritant_from_category_1: f64,
    pub(super) irritant: f64,
    pub(super) mild_from_category_2: f64,
    pub(super) mild: f64,
    pub(super) not_additive_corrosive: f64,
    pub(super) not_additive_irritant: f64,
    pub(super) source: String,
}

/// Chapter 3.3.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct Eye {
    pub(super) chapter: String,
    pub(super) damage: f64,
    pub(super) irritant_from_category_1: f64,
    pub(super) irritant: f64,
    pub(super) not_additive_damage: f64,
    pub(super) not_additive_irritant: f64,
    pub(super) source: String,
}

/// What additivity does not apply to.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct NotAdditive {
    pub(super) groups: Vec<String>,
    #[serde(rename = "source")]
    _source: String,
}

/// A class of which one component at its limit is enough.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Single {
    class: String,
    gives: Option<String>,
    #[serde(default)]
    pub(super) gas: bool,
    pub(super) chapter: String,
    #[serde(default)]
    pub(super) summed: bool,
    ghs: f64,
    clp: f64,
    hcs: f64,
    /// A lower limit that GHS leaves to the authority.
    authority: Option<f64>,
    lower: Option<Lower>,
    pub(super) condition: Option<String>,
    pub(super) source: String,
}

/// The class below a class, for less of it.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Lower {
    class: String,
    from: f64,
    schemes: Vec<Scheme>,
}

/// From where on a label names a sensitiser below its limit.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct Elicitation {
    pub(super) category_1: f64,
    pub(super) category_1a: f64,
    pub(super) of_own_limit: f64,
    #[serde(rename = "source")]
    _source: String,
}

/// Chapter 4.1.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct Aquatic {
    pub(super) chapter: String,
    pub(super) limit: f64,
    pub(super) step: f64,
    pub(super) source: String,
}

/// What is presumed of an extreme pH.
#[derive(Debug, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct Presumed {
    pub(super) acid_at_or_below: f64,
    pub(super) base_at_or_above: f64,
    pub(super) source: String,
}

/// Read once. A faulty file would leave no limit at all, which the tests rule out.
pub(super) static RULES: LazyLock<Rules> =
    LazyLock::new(|| toml::from_str(include_str!("../../../data/mixture/rules.toml")).unwrap_or_default());

impl Acute {
    /// The categories of a way in.
    pub(super) fn bands(&self, exposure: Exposure) -> &Bands {
        match exposure {
            Exposure::Oral => &self.oral,
            Exposure::Dermal => &self.dermal,
            Exposure::Gas => &self.gas,
            Exposure::Vapour => &self.vapour,
            Exposure::Dust => &self.dust,
        }
    }
}

impl Bands {
    /// The category of an estimate, and its upper end; `None` above the last that the scheme knows.
    pub(super) fn category(&self, estimate: f64, scheme: Scheme) -> Option<(usize, f64)> {
        let upto = &self.upto[..self.known(scheme)];
        let at = upto.iter().position(|upto| estimate <= *upto * (1.0 + ROUNDING))?;
        Some((at + 1, upto[at]))
    }

    /// The upper end of the last category that the scheme knows. What is above is not counted.
    pub(super) fn last(&self, scheme: Scheme) -> f64 {
        self.upto.get(self.known(scheme).wrapping_sub(1)).copied().unwrap_or(0.0)
    }

    /// Category 5 is in GHS alone.
    fn known(&self, scheme: Scheme) -> usize {
        let known = if scheme == Scheme::Ghs { 5 } else { 4 };
        self.upto.len().min(known)
    }
}

impl Single {
    /// The class of a component that it is about.
    pub(super) fn class(&self) -> Option<Class> {
        Class::written(&self.class).first().copied()
    }

    /// The class that it gives the mixture.
    pub(super) fn gives(&self) -> Option<Class> {
        Class::written(self.gives.as_ref().unwrap_or(&self.class)).first().copied()
    }

    /// The limit in a scheme, in %.
    pub(super) fn limit(&self, scheme: Scheme) -> f64 {
        match scheme {
            Scheme::Ghs => self.ghs,
            Scheme::Clp => self.clp,
            Scheme::Hcs => self.hcs,
        }
    }

    /// The lower limit that the scheme leaves to the authority.
    pub(super) fn authority(&self, scheme: Scheme) -> Option<f64> {
        self.authority.filter(|_| scheme == Scheme::Ghs)
    }

    /// The class for less of it, and from where on.
    pub(super) fn lower(&self, scheme: Scheme) -> Option<(Class, f64)> {
        let lower = self.lower.as_ref().filter(|lower| lower.schemes.contains(&scheme))?;
        Class::written(&lower.class).first().map(|class| (*class, lower.from))
    }
}
