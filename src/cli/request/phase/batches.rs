//! `--batch`: where the last crystal of a batch of the book went, and what the batch was made of then.

use super::pure::PureData;
use crate::book::{Book, batch, batch_codes};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::cli::request::{codes, failure, lives, open_book};
use crate::component::{Component, Composition};
use crate::compose::liquidus::MeasuredPoint;
use crate::input::{Fault, Place, Warning};
use crate::quantity::{MassFraction, Property, Temperature};
use crate::record::Code;
use crate::record::batch::PropertyMeasured;
use crate::record::life::{BatchLife, BatchStatus, Recorded};
use crate::report::standing::{Lives, Mixer};
use crate::report::view::{LiquidusOrigin, LiquidusWater};

/// The word for every batch of the book.
const ALL: &str = "all";
/// More water than this is worth a warning: it takes a few kelvins off the liquidus of most such liquids.
const WET: MassFraction = MassFraction::new(0.005);

/// Points, where each comes from, and what to know of them.
#[derive(Default)]
pub(super) struct OfBook {
    pub(super) points: Vec<MeasuredPoint>,
    pub(super) origins: Vec<LiquidusOrigin>,
    pub(super) warnings: Vec<Warning>,
    /// Why batches give no point, and which.
    left_out: Vec<(String, Vec<String>)>,
    judged: Vec<(BatchStatus, String)>,
}

/// The measured liquidus of the named batches, or of all, that hold these two components and nothing else but water.
pub(super) fn of_batches(common: &Common, names: &[String], pair: &[PureData]) -> Result<OfBook, Failure> {
    let every = names.iter().any(|name| name.trim().eq_ignore_ascii_case(ALL));
    let named = if every { Vec::new() } else { codes("--batch", names)? };
    let book = open_book(common)?;
    let codes = if every { batch_codes(&book).map_err(|error| failure(&error))? } else { named };
    let mut found = OfBook::default();
    for code in &codes {
        found.add(&book, code, pair)?;
    }
    if found.points.is_empty() {
        return Err(found.nothing(pair).into());
    }
    found.warn();
    Ok(found)
}

impl OfBook {
    fn add(&mut self, book: &Book, code: &Code, pair: &[PureData]) -> Result<(), Failure> {
        let lives = lives(code, |code| batch(book, code)).map_err(|error| failure(&error))?;
        let Some(life) = lives.get(code) else { return Ok(()) };
        let seen: Vec<_> = of_property(life, Property::Liquidus).collect();
        if seen.is_empty() {
            self.leave(without(life), code);
        }
        for own in seen {
            match point(&lives, life, own, pair) {
                Ok((point, origin)) => {
                    self.points.push(point);
                    self.origins.push(origin);
                    self.judge(life);
                }
                Err(reason) => self.leave(reason, code),
            }
        }
        Ok(())
    }

    fn leave(&mut self, reason: String, code: &Code) {
        let code = code.to_string();
        match self.left_out.iter_mut().find(|(known, _)| *known == reason) {
            Some((_, codes)) if codes.contains(&code) => {}
            Some((_, codes)) => codes.push(code),
            None => self.left_out.push((reason, vec![code])),
        }
    }

    fn judge(&mut self, life: &BatchLife) {
        let own = (life.status, life.code.to_string());
        if !self.judged.contains(&own) {
            self.judged.push(own);
        }
    }

    fn nothing(&self, pair: &[PureData]) -> Fault {
        let names: Vec<&str> = pair.iter().map(|own| own.name.as_str()).collect();
        let why = self.left_out.iter().map(|(reason, codes)| format!("; {}: {reason}", codes.join(", ")));
        let message =
            format!("no batch has a liquidus of {} alone{}", names.join(" and "), why.collect::<String>());
        Fault::new("nothing_measured", message, Place::named("--batch")).with_hint(
            "Record it with: meltbook batch measure CODE liquidus VALUE --method \"how it was seen\".",
        )
    }

    fn warn(&mut self) {
        for (reason, codes) in &self.left_out {
            let message = format!("left out: {}: {reason}", codes.join(", "));
            self.warnings.push(Warning::new("batches_left_out", message));
        }
        for (status, words) in [
            (BatchStatus::Rejected, "rejected, which says nothing against what was measured of it"),
            (BatchStatus::Started, "not finished, and counts as it was weighed so far"),
        ] {
            let own = self.judged.iter().filter(|(own, _)| *own == status).map(|(_, code)| code.as_str());
            let own: Vec<&str> = own.collect();
            if !own.is_empty() {
                let message = format!("taken in: {}: {words}", own.join(", "));
                self.warnings.push(Warning::new("batches_taken_in", message));
            }
        }
        self.warn_of_water();
    }

    fn warn_of_water(&mut self) {
        let waters: Vec<(&str, &LiquidusWater)> =
            self.origins.iter().filter_map(|own| Some((own.name.as_str(), own.water.as_ref()?))).collect();
        let listed = |of: &dyn Fn(&LiquidusWater) -> bool| {
            let mut names: Vec<&str> =
                waters.iter().filter(|(_, water)| of(water)).map(|(name, _)| *name).collect();
            names.dedup();
            names.join(", ")
        };
        let wet = listed(&|water| WET < water.fraction);
        if !wet.is_empty() {
            let message = format!(
                "{wet}: more than {} wt% water, and water lowers a liquidus: part of what looks like a depression is \
                 water's",
                WET.percent()
            );
            self.warnings.push(Warning::new("wet_points", message));
        }
        let untitrated = listed(&|water| !water.titrated);
        if !untitrated.is_empty() {
            let message = format!(
                "{untitrated}: water was not titrated and is what was weighed in and what bottles state; what it took up \
                 from air is not in it"
            );
            self.warnings.push(Warning::new("water_not_titrated", message));
        }
    }
}

fn of_property(life: &BatchLife, property: Property) -> impl Iterator<Item = &Recorded<PropertyMeasured>> {
    life.properties.iter().filter(move |own| own.what.property == property.id())
}

/// Why a batch without a liquidus gives no point.
fn without(life: &BatchLife) -> String {
    let onset = of_property(life, Property::MeltingOnset).next().is_some();
    let words = if onset { "; the onset of melting is the eutectic, not the liquidus" } else { "" };
    format!("no liquidus was measured{words}")
}

/// One point, of the batch as it was between what was put in before the measurement and what was put in after it.
fn point(
    lives: &Lives,
    life: &BatchLife,
    measured: &Recorded<PropertyMeasured>,
    pair: &[PureData],
) -> Result<(MeasuredPoint, LiquidusOrigin), String> {
    let later = life.put_in.iter().map(|put| put.entry).find(|entry| measured.entry < *entry);
    let until = later.unwrap_or(u64::MAX);
    let made = Mixer { lives, by_titration: true }.made_before(&life.code, until);
    let made = made.ok_or("nothing was weighed into it")?;
    let (fraction, water) = fractions(&made.composition, pair)?;
    let last = life.put_in.iter().map(|put| put.entry).filter(|entry| *entry < until).max().unwrap_or(0);
    let titrated = life.water.iter().any(|own| last < own.entry && own.entry < until);
    let own = &measured.what;
    let point = MeasuredPoint { fraction, temperature: Temperature::from_celsius(own.value), weight: 1.0 };
    let rate = own.scan_rate_k_per_min.map(|rate| format!("{rate} K/min"));
    let method: Vec<String> = own.method.iter().cloned().chain(rate).collect();
    let water = water.map(|share| LiquidusWater {
        fraction: made.composition.water_fraction(),
        mole_fraction: share,
        titrated,
    });
    let origin = LiquidusOrigin {
        name: life.code.to_string(),
        water,
        uncertainty_k: own.uncertainty,
        method: Some(method.join(", ")).filter(|method| !method.is_empty()),
    };
    Ok((point, origin))
}

/// The mole fraction of the first of two components among both, and that of water in the whole; no water where it is
/// one of the two.
fn fractions(composition: &Composition, pair: &[PureData]) -> Result<(f64, Option<f64>), String> {
    let shares = composition.shares(None);
    let is = |own: &PureData, id: &str| own.id.eq_ignore_ascii_case(id);
    let others = shares.iter().map(|own| own.component.as_str());
    let others: Vec<&str> =
        others.filter(|id| *id != Component::WATER && !pair.iter().any(|own| is(own, id))).collect();
    if !others.is_empty() {
        return Err(format!("holds {} too", others.join(", ")));
    }
    let mut own = Vec::new();
    for part in pair {
        let share = shares.iter().find(|own| is(part, &own.component));
        let share = share.ok_or_else(|| format!("holds no {}", part.name))?;
        own.push(share.mole_fraction.ok_or_else(|| format!("{} has no molar mass", part.name))?.get());
    }
    let water = shares.iter().find(|own| own.component == Component::WATER);
    let counts = pair.iter().any(|own| is(own, Component::WATER));
    let beside = water.and_then(|own| own.mole_fraction).map_or(0.0, |share| share.get());
    Ok((own[0] / (own[0] + own[1]), (!counts).then_some(beside)))
}
