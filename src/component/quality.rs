//! What is really in a bottle: form, assay with its basis, moisture, each with its uncertainty.

use serde::{Deserialize, Serialize};

use super::entry::Component;
use super::form::Form;
use super::table::ComponentTable;
use crate::input::{Fault, Faults, FlagValue, KeyValue};
use crate::quantity::{FractionInterval, MassFraction, QuantityError, Typed};

/// What an assay counts and what it is a fraction of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum AssayBasis {
    /// A fraction of what is left after drying: gross = pure / (assay × (1 − moisture)).
    #[default]
    Dried,
    /// A fraction of the bottle's content: gross = pure / assay; moisture is part of the rest.
    AsIs,
    /// A fraction of the bottle's content counted as the hydrate that the form names; above 100 % where
    /// the hydrate has lost some of its water.
    AsHydrate,
}

/// The quality of one bottle.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Quality {
    /// The form; `None` means the component as its formula stands.
    pub form: Option<Form>,
    /// The assay; `None` means pure apart from moisture.
    pub assay: Option<FractionInterval>,
    /// What the assay counts.
    pub basis: AssayBasis,
    /// True if a person gave the basis, false if it is the default.
    pub basis_stated: bool,
    /// Water beside the crystal water, as a fraction of the bottle's content.
    pub moisture: Option<FractionInterval>,
}

impl AssayBasis {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Dried, Self::AsIs, Self::AsHydrate];

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Dried => "dried",
            Self::AsIs => "as-is",
            Self::AsHydrate => "as-hydrate",
        }
    }
}

impl Quality {
    /// The keys that a flag may give.
    pub const KEYS: [&'static str; 6] = ["form", "assay", "assay_u", "basis", "moisture", "moisture_u"];

    /// The assay as a fraction, 1 if none is given.
    pub fn assay_value(&self) -> f64 {
        self.assay.as_ref().map_or(1.0, |assay| assay.value.get())
    }

    /// The moisture as a fraction, 0 if none is given.
    pub fn moisture_value(&self) -> f64 {
        self.moisture.as_ref().map_or(0.0, |moisture| moisture.value.get())
    }

    /// Crystal water per mole in this form of `component`.
    pub fn crystal_water(&self, component: &Component) -> f64 {
        self.form.as_ref().map_or_else(|| component.crystal_water(), |form| form.crystal_water)
    }

    /// Reads the keys of a flag such as `ChCl assay=98% basis=dried moisture=1.5%`. All faults come together.
    pub fn from_flag(
        flag: &FlagValue,
        component: &Component,
        table: &ComponentTable,
    ) -> Result<Self, Faults> {
        let mut faults = Faults::none();
        let form = flag.get("form").and_then(|pair| {
            let fault = |rule: String| {
                Fault::new("bad_form", rule, flag.place_of(pair))
                    .with_hint("Give a hydrate's name (heptahydrate), its water (7H2O) or anhydrous.")
            };
            faults.collect(Form::resolve(&pair.value, component, table).map_err(fault))
        });
        let quality = Self { form, ..Self::values(flag, &mut faults) };
        // What contradicts a value that is at fault itself is not known yet.
        let broken =
            if faults.is_empty() { quality.contradictions(component) } else { quality.out_of_bounds() };
        for (rule, hint) in broken {
            faults.push(Fault::new("bad_quality", rule, flag.place()).with_hint(hint));
        }
        faults.or(quality)
    }

    /// Collects the faults of values where the component is not known, so that they come with that fault.
    pub fn check_values(flag: &FlagValue, faults: &mut Faults) {
        for (rule, hint) in Self::values(flag, faults).out_of_bounds() {
            faults.push(Fault::new("bad_quality", rule, flag.place()).with_hint(hint));
        }
    }

    /// Everything but the form.
    fn values(flag: &FlagValue, faults: &mut Faults) -> Self {
        let assay = interval(flag, "assay", "assay_u", faults);
        let moisture = interval(flag, "moisture", "moisture_u", faults);
        let basis = flag.get("basis").and_then(|pair| faults.collect(basis(flag, pair)));
        let basis_stated = basis.is_some();
        Self { form: None, assay, basis: basis.unwrap_or_default(), basis_stated, moisture }
    }

    /// Values that no bottle has, whatever is in it.
    fn out_of_bounds(&self) -> Vec<(String, String)> {
        let mut broken = Vec::new();
        if self.assay_value() <= 0.0 {
            broken.push(("an assay must be above 0 %".to_owned(), "Write it like assay=98%.".to_owned()));
        }
        if 1.0 <= self.moisture_value() {
            let hint = "Write it like moisture=1.5%.".to_owned();
            broken.push(("moisture must be below 100 %".to_owned(), hint));
        }
        broken
    }

    /// The rules that the values break together: (rule, way out).
    pub fn contradictions(&self, component: &Component) -> Vec<(String, String)> {
        let (assay, moisture) = (self.assay_value(), self.moisture_value());
        let hydrate = 0.0 < self.crystal_water(component);
        let mut broken = self.out_of_bounds();
        let mut refuse = |rule: String, hint: &str| broken.push((rule, hint.to_owned()));
        if self.form.is_some() && component.formula.is_none() {
            refuse(format!("{} has no formula, so it has no hydrates", component.name), "Leave form= out.");
        }
        match self.basis {
            AssayBasis::AsHydrate if !hydrate => refuse(
                format!("basis=as-hydrate, but {} is not in a form with crystal water", component.name),
                "Name the hydrate with form=, or use basis=as-is.",
            ),
            AssayBasis::AsHydrate => self.hydrate_rules(component, &mut refuse),
            _ if 1.0 < assay => refuse(
                format!("an assay of {} % is above 100 %", percent(assay)),
                "Only an assay that counts a hydrate may be: then give form= and basis=as-hydrate.",
            ),
            AssayBasis::AsIs if 1.0 + 1e-12 < assay + moisture && self.assay.is_some() => refuse(
                format!(
                    "assay {} % and moisture {} % add up to more than 100 %",
                    percent(assay),
                    percent(moisture)
                ),
                "If the assay is of the dried substance, use basis=dried.",
            ),
            _ => {}
        }
        broken
    }

    /// Counted as a hydrate, more than 100 % means lost crystal water: never more than there was.
    fn hydrate_rules(&self, component: &Component, refuse: &mut impl FnMut(String, &str)) {
        let Some(formula) = &component.formula else { return };
        let anhydrous = formula.anhydrous_molar_mass().get();
        let water = self.crystal_water(component) * crate::chemistry::water_molar_mass().get();
        let most = (anhydrous + water) / anhydrous;
        let (assay, moisture) = (self.assay_value(), self.moisture_value());
        if most + 1e-12 < assay {
            let rule = format!(
                "an assay of {:.2} % as hydrate is above {:.2} %, which is the anhydrous substance alone",
                assay * 100.0,
                most * 100.0
            );
            refuse(rule, "Check the form and the certificate.");
        }
        if 0.0 < moisture && 1.0 + 1e-12 < assay + moisture {
            refuse(
                "an assay as hydrate and moisture that add up to more than 100 %".to_owned(),
                "A hydrate that has lost water has no moisture beside it: leave moisture= out.",
            );
        }
    }
}

fn basis(flag: &FlagValue, pair: &KeyValue) -> Result<AssayBasis, Fault> {
    AssayBasis::ALL.into_iter().find(|basis| basis.word() == pair.value).ok_or_else(|| {
        Fault::new("bad_basis", format!("unknown assay basis {:?}", pair.value), flag.place_of(pair))
            .with_hint("Use dried, as-is or as-hydrate.")
    })
}

/// Without the dust that a product with 100 leaves behind the last digit.
fn percent(fraction: f64) -> f64 {
    (fraction * 1e10).round() / 1e8
}

fn interval(flag: &FlagValue, key: &str, key_u: &str, faults: &mut Faults) -> Option<FractionInterval> {
    let Some(pair) = flag.get(key) else {
        let alone = flag.get(key_u).map(|pair_u| {
            Fault::new("missing_key", format!("{key_u} is given without {key}"), flag.place_of(pair_u))
                .with_hint(format!("Give {key}= too, or leave {key_u}= out."))
        });
        faults.extend(alone.map(Faults::from).unwrap_or_default());
        return None;
    };
    let fault = |error: QuantityError| Fault::of_quantity(&error, flag.place_of(pair));
    let mut interval =
        faults.collect(FractionInterval::parse(&with_percent(key, &pair.value)).map_err(fault))?;
    interval.text.clone_from(&pair.value);
    if let Some(pair_u) = flag.get(key_u) {
        let fault = |error: QuantityError| Fault::of_quantity(&error, flag.place_of(pair_u));
        let stated = faults.collect(Typed::<MassFraction>::parse(&pair_u.value).map_err(fault))?;
        interval.standard_uncertainty = Some(stated.value);
    }
    Some(interval)
}

/// A bare assay such as 0.98 can only be a fraction. A bare moisture could be either, so it stays as it
/// is and is refused for its missing unit.
fn with_percent(key: &str, text: &str) -> String {
    match text.parse::<f64>() {
        Ok(value) if key == "assay" && (0.2..=1.2).contains(&value) => format!("{value} g/g"),
        _ => text.to_owned(),
    }
}
