//! One electrode, out of a flag, a design and the records: the flag's values come first, key by key.

use std::sync::Arc;

use crate::cell::{Electrode, Part, Side};
use crate::component::{Component, ComponentTable};
use crate::input::{Fault, Faults, FlagValue, Place};
use crate::quantity::{Area, Density, Length, Mass, MassFraction, Temperature, Typed, parse_number};
use crate::record;

/// What is known of an electrode so far.
#[derive(Debug, Clone, Default)]
pub(super) struct ElectrodeSpec {
    /// The flag's text, if there was one.
    pub(super) flag: Option<String>,
    material: Option<String>,
    mass: Option<Mass>,
    /// Mass of cathode mix.
    pub(super) mix: Option<Mass>,
    /// How much of the mix reacts, in words and as a factor.
    pub(super) oxide: Option<(f64, String)>,
    purity: Option<(f64, String)>,
    electrons: Option<f64>,
    area: Option<Area>,
    thickness: Option<Length>,
    density: Option<Density>,
}

/// The keys of the flags.
const KEYS: [&str; 8] = ["mass", "mix", "oxide", "purity", "electrons", "area", "thickness", "density"];
/// Where densities of the component table are taken.
const ROOM_CELSIUS: f64 = 25.0;
/// No element gives or takes more.
const MOST_ELECTRONS: f64 = 8.0;
/// Electrons for each formula unit where nobody says otherwise: zinc to zinc(II), manganese(IV) to
/// manganese(III).
const USUAL_ELECTRONS: [(&str, f64, Side); 4] = [
    ("zinc", 2.0, Side::Negative),
    ("zinc-powder", 2.0, Side::Negative),
    ("zinc-powder-pyrophoric", 2.0, Side::Negative),
    ("manganese-dioxide", 1.0, Side::Positive),
];

impl ElectrodeSpec {
    /// Out of a flag such as `zinc mass=1.2g purity=99%`.
    pub(super) fn of_flag(side: Side, text: &str) -> Result<Self, Faults> {
        let flag = FlagValue::parse(flag_name(side), text, &KEYS)?;
        let mut faults = Faults::none();
        let named = (!flag.name.is_empty()).then(|| flag.name.clone());
        let mass =
            |key: &str, faults: &mut Faults| flag.quantity::<Mass>(key, faults).map(|typed| typed.value);
        let fraction = |key: &str, faults: &mut Faults| fraction(&flag, key, faults);
        let spec = Self {
            flag: Some(text.to_owned()),
            material: named,
            mass: mass("mass", &mut faults),
            mix: mass("mix", &mut faults),
            oxide: fraction("oxide", &mut faults)
                .map(|(factor, text)| (factor, format!("{text} of the mix"))),
            purity: fraction("purity", &mut faults),
            electrons: electrons(&flag, &mut faults),
            area: flag.quantity::<Area>("area", &mut faults).map(|typed| typed.value),
            thickness: flag.quantity::<Length>("thickness", &mut faults).map(|typed| typed.value),
            density: flag.quantity::<Density>("density", &mut faults).map(|typed| typed.value),
        };
        faults.or(spec)
    }

    /// Out of a cell design. A positive electrode with a mass and an oxide fraction is a mix.
    pub(super) fn of_design(design: &record::Electrode) -> Self {
        let mass = design.mass.as_ref().map(|typed| typed.value);
        let oxide = design.oxide_mass_fraction.as_ref();
        let oxide = oxide.map(|typed| {
            (typed.value.get(), format!("{} of the mix in the design, taken as pure", typed.text))
        });
        let is_mix = oxide.is_some();
        Self {
            material: Some(design.material.clone()),
            mass: mass.filter(|_| !is_mix),
            mix: mass.filter(|_| is_mix),
            oxide,
            area: design.area.as_ref().map(|typed| typed.value),
            thickness: design.thickness.as_ref().map(|typed| typed.value),
            ..Self::default()
        }
    }

    /// The same with what `other` says put over it.
    pub(super) fn under(self, other: Self) -> Self {
        // A mass of one kind takes the place of one of the other.
        let (mass, mix) = match (&other.mass, &other.mix) {
            (None, None) => (self.mass, self.mix),
            _ => (other.mass, other.mix),
        };
        Self {
            flag: other.flag.or(self.flag),
            material: other.material.or(self.material),
            mass,
            mix,
            oxide: other.oxide.or(self.oxide),
            purity: other.purity.or(self.purity),
            electrons: other.electrons.or(self.electrons),
            area: other.area.or(self.area),
            thickness: other.thickness.or(self.thickness),
            density: other.density.or(self.density),
        }
    }

    /// The component that it names.
    pub(super) fn component(
        &self,
        side: Side,
        table: &ComponentTable,
    ) -> Result<Option<Arc<Component>>, Fault> {
        let Some(name) = &self.material else { return Ok(None) };
        table.find(name).map(|found| Some(Arc::clone(found))).map_err(|error| error.fault(self.place(side)))
    }

    /// The electrode. `Ok(None)` if nothing is known of it, or if a design names a material of which nobody
    /// says how many electrons it takes.
    pub(super) fn electrode(
        &self,
        side: Side,
        table: &ComponentTable,
        conventions: &mut Vec<String>,
    ) -> Result<Option<Electrode>, Fault> {
        let Some(component) = self.component(side, table)? else {
            return match self.flag {
                Some(_) => {
                    let hint = format!("Name it as in {}.", example(side));
                    Err(self.unclear(side, "no material is named", &hint))
                }
                None => Ok(None),
            };
        };
        let name = component.name.as_str();
        let usual = USUAL_ELECTRONS.iter().find(|(id, ..)| *id == component.id.as_str());
        if let Some((.., own)) = usual.filter(|(.., own)| self.flag.is_some() && *own != side) {
            let what = format!("{name} is the {} electrode of such a cell", own.word());
            return Err(self.unclear(
                side,
                &what,
                "Swap --negative and --positive: the negative one is oxidised on discharge.",
            ));
        }
        let electrons = match (self.electrons, usual) {
            (Some(electrons), _) => electrons,
            (None, Some((_, electrons, _))) => {
                conventions.push(format!("{} for each formula unit of {name} (default)", count(*electrons)));
                *electrons
            }
            (None, None) if self.flag.is_some() => {
                let what = format!("nobody says how many electrons {name} gives or takes");
                return Err(self.unclear(side, &what, "Add electrons=…, as in electrons=2."));
            }
            (None, None) => {
                conventions
                    .push(format!("{} electrode: {name} takes no electrons that are known", side.word()));
                return Ok(None);
            }
        };
        let Some(molar_mass) = component.molar_mass() else {
            let what = format!("{name} has no formula, so that its capacity can't be computed");
            return Err(self.unclear(side, &what, "Name a component with a formula."));
        };
        if self.flag.is_none() && !self.has_mass(&component) {
            let example = example(side);
            conventions
                .push(format!("{} electrode: its mass is not said; give it as in {example}", side.word()));
            return Ok(None);
        }
        let (gross, mut parts) = self.gross(side, &component, conventions)?;
        match &self.purity {
            Some((factor, text)) => parts.push(Part { what: format!("purity {text}"), factor: *factor }),
            None if self.oxide.is_none() => conventions.push(format!("{name} is taken as pure")),
            None => {}
        }
        let material = component.name.clone();
        Ok(Some(Electrode { material, molar_mass, electrons, gross, parts, area: self.area }))
    }

    fn has_mass(&self, component: &Component) -> bool {
        let density = self.density.or_else(|| table_density(component));
        self.mass.is_some()
            || self.mix.is_some()
            || (self.area.zip(self.thickness).is_some() && density.is_some())
    }

    fn gross(
        &self,
        side: Side,
        component: &Component,
        conventions: &mut Vec<String>,
    ) -> Result<(Mass, Vec<Part>), Fault> {
        if let Some(mix) = self.mix {
            let Some((factor, what)) = &self.oxide else {
                let hint = "Add oxide=…, as in oxide=60%; a design or the batch of the mix says it too.";
                return Err(self.unclear(side, "how much of the mix reacts is not said", hint));
            };
            return self
                .above_zero(side, mix)
                .map(|mix| (mix, vec![Part { what: what.clone(), factor: *factor }]));
        }
        if let Some(mass) = self.mass {
            return self.above_zero(side, mass).map(|mass| (mass, Vec::new()));
        }
        let density = self.density.or_else(|| table_density(component));
        match (self.area.zip(self.thickness), density) {
            (Some((area, thickness)), Some(density)) => {
                conventions.push(format!(
                    "{}: {} × {} at {} g/mL",
                    component.name,
                    area,
                    thickness,
                    density.get()
                ));
                // Square centimetres times millimetres are tenths of a millilitre.
                self.above_zero(side, Mass::new(area.get() * thickness.get() / 10.0 * density.get()))
                    .map(|mass| (mass, Vec::new()))
            }
            _ => {
                let what = format!("the mass of the {} electrode is not known", side.word());
                Err(self.unclear(side, &what, &format!("Give it as in {}.", example(side))))
            }
        }
    }

    fn above_zero(&self, side: Side, mass: Mass) -> Result<Mass, Fault> {
        if Mass::ZERO < mass {
            return Ok(mass);
        }
        Err(self.unclear(side, "an electrode's mass must be above 0", "Give what was really weighed."))
    }

    fn place(&self, side: Side) -> Place {
        match &self.flag {
            Some(text) => Place::in_text(flag_name(side), text.as_str(), 0..text.len()),
            None => Place::named(format!("the {} electrode", side.word())),
        }
    }

    fn unclear(&self, side: Side, what: &str, hint: &str) -> Fault {
        Fault::new("electrode_unclear", what, self.place(side)).with_hint(hint)
    }
}

fn table_density(component: &Component) -> Option<Density> {
    component.density_at(Temperature::from_celsius(ROOM_CELSIUS)).map(|(density, _)| density)
}

fn flag_name(side: Side) -> &'static str {
    match side {
        Side::Negative => "--negative",
        Side::Positive => "--positive",
    }
}

fn example(side: Side) -> String {
    match side {
        Side::Negative => "--negative \"zinc mass=1.2g\"".to_owned(),
        Side::Positive => "--positive \"MnO2 mix=0.4g oxide=60%\"".to_owned(),
    }
}

fn count(electrons: f64) -> String {
    if electrons == 1.0 { "1 electron".to_owned() } else { format!("{electrons} electrons") }
}

fn fraction(flag: &FlagValue, key: &str, faults: &mut Faults) -> Option<(f64, String)> {
    let typed: Typed<MassFraction> = flag.quantity(key, faults)?;
    let value = typed.value.get();
    if 0.0 < value && value <= 1.0 {
        return Some((value, typed.text));
    }
    let place = flag.get(key).map_or_else(|| flag.place(), |pair| flag.place_of(pair));
    let fault = Fault::new(
        "bad_share",
        format!("{key} is {}, but must lie above 0 and up to 100 %", typed.text),
        place,
    );
    faults.push(fault.with_hint(format!("Write it like {key}=92%.")));
    None
}

fn electrons(flag: &FlagValue, faults: &mut Faults) -> Option<f64> {
    let pair = flag.get("electrons")?;
    let number = parse_number(&pair.value).ok().map(|number| number.value);
    let fits = number.filter(|number| 0.0 < *number && *number <= MOST_ELECTRONS);
    if fits.is_none() {
        let message = format!("{:?} is no number of electrons", pair.value);
        let fault = Fault::new("bad_electrons", message, flag.place_of(pair));
        faults.push(fault.with_hint("Write it like electrons=2."));
    }
    fits
}
