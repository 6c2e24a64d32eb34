//! Which salt a molar conductivity counts, and how much of a liquid holds a mole of it.

use crate::component::{Component, Composition, Proportions, RatioBasis, Role};

/// Groups of components that are salts whatever part they play.
const SALTS: [&str; 3] = ["halide-quaternary", "ammonium-salt", "halide-salt"];

/// Grams of a liquid for each mole of its salt.
pub(super) struct PerMole {
    pub(super) salt: String,
    pub(super) grams: f64,
    pub(super) is_dry: bool,
}

fn is_salt(component: &Component) -> bool {
    let of_group = || component.groups.iter().any(|group| SALTS.contains(&group.as_str()));
    component.roles.contains(&Role::Salt) || (component.roles.contains(&Role::Acceptor) && of_group())
}

/// The salt among components: the one named, else the only one there is.
fn salt<'c>(
    components: impl Iterator<Item = &'c Component> + Clone,
    named: Option<&str>,
) -> Result<&'c Component, String> {
    if let Some(named) = named {
        let mut own = components.filter(|own| own.id.as_str() == named);
        return own.next().ok_or_else(|| format!("it holds no {named}"));
    }
    let salts: Vec<&Component> = components.filter(|own| is_salt(own)).collect();
    match salts[..] {
        [] => Err("none of its components is known as a salt: name one with --carrier".to_owned()),
        [salt] => Ok(salt),
        _ => {
            let names: Vec<&str> = salts.iter().map(|own| own.id.as_str()).collect();
            Err(format!("it holds more than one salt ({}): name one with --carrier", names.join(", ")))
        }
    }
}

/// Of a ratio by moles, dry.
pub(super) fn of_ratio(proportions: &Proportions, named: Option<&str>) -> Result<PerMole, String> {
    if proportions.basis != RatioBasis::Mole || !proportions.additions.is_empty() {
        return Err("only a plain ratio by moles says how much of it holds a mole of salt".to_owned());
    }
    let salt = salt(proportions.parts.iter().map(|part| part.component.as_ref()), named)?;
    let masses = proportions.parts.iter().map(|part| {
        let formula = part.component.formula.as_ref()?;
        Some((part.component.id == salt.id, part.ratio, formula.molar_mass().get()))
    });
    let masses: Vec<(bool, f64, f64)> =
        masses.collect::<Option<_>>().ok_or("one of its components has no formula")?;
    let all: f64 = masses.iter().map(|(_, ratio, mass)| ratio * mass).sum();
    let moles: f64 = masses.iter().filter(|(own, ..)| *own).map(|(_, ratio, _)| ratio).sum();
    Ok(PerMole { salt: salt.id.to_string(), grams: all / moles, is_dry: true })
}

/// Of a batch as it is, with its water.
pub(super) fn of_composition(composition: &Composition, named: Option<&str>) -> Result<PerMole, String> {
    let salt = salt(composition.constituents.iter().map(|own| own.component.as_ref()), named)?;
    let amount = composition.constituent(salt.id.as_str()).and_then(|own| own.amount);
    let moles = amount.map(|amount| amount.get()).filter(|moles| 0.0 < *moles);
    let moles = moles.ok_or_else(|| format!("{} has no molar mass", salt.name))?;
    Ok(PerMole { salt: salt.id.to_string(), grams: composition.mass().get() / moles, is_dry: false })
}
