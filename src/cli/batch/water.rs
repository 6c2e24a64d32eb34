//! `batch water`: a titration, a result that was read off, or the gain in mass on standing; and help with the
//! next titration.

use clap::Args;
use serde_json::json;

use super::answer::{answer, write};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{RecordArgs, code, open_book, quantity, standing};
use crate::input::{Fault, Faults, Place};
use crate::plan::{
    COULOMETRIC_AIM, MassGain, charge_of, coulometric_sample, disturbances, method_for, titrant_of,
    volumetric_sample,
};
use crate::quantity::{
    Drift, FractionInterval, Mass, MassFraction, TimeSpan, Titre, Typed, Volume, significant,
};
use crate::record::batch::{WaterMeasured, WaterReplicate};
use crate::record::{Code, Event};
use crate::report::document::{Block, Caution, Document, facts, paragraph};
use crate::report::standing::{Standing, WaterPoint, frozen_balance};

/// Titrant that a volumetric titration aims at (common practice: enough of a 5 mL burette to be read well).
const TITRANT_AIM: Volume = Volume::new(1.0);
/// A usual titre (common practice).
const USUAL_TITRE: Titre = Titre::new(5.0);

/// Record a water content: replicates of a titration, a result, or the gain in mass on standing; or be advised
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook batch water E1 --advise
  meltbook batch water E1 --method \"Karl Fischer, coulometric\" --sample \"0.2500 g\" \\
      --found \"830 µg\" --drift \"10 µg/min\" --ran \"3 min\"
  meltbook batch water E1 --method \"Karl Fischer, volumetric\" --result \"0.42 wt%\"")]
pub(super) struct WaterArgs {
    /// The batch
    #[arg(value_name = "CODE")]
    code: String,
    /// Say which method and how much sample to take, and what disturbs; records nothing
    #[arg(long, conflicts_with_all = ["sample", "result", "before"])]
    advise: bool,
    /// Water to advise for [default: what is known of the batch]
    #[arg(long, value_name = "WT%", allow_hyphen_values = true, requires = "advise")]
    expected: Option<String>,
    /// Titre to advise for [default: 5 mg/mL]
    #[arg(long, value_name = "TITRE", allow_hyphen_values = true, requires = "advise")]
    titre: Option<String>,
    /// Karl Fischer coulometric or volumetric, loss on drying
    #[arg(long, value_name = "TEXT")]
    method: Option<String>,
    /// Mass of a sample; repeatable, each with its --found
    #[arg(long, value_name = "MASS", conflicts_with_all = ["result", "before"])]
    sample: Vec<String>,
    /// Water that the instrument showed for it, drift and blank not taken off
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    found: Vec<String>,
    /// How long the titration ran, for the drift; once for all, or one for each
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    ran: Vec<String>,
    /// Drift of the cell
    #[arg(long, value_name = "RATE", allow_hyphen_values = true, requires = "sample")]
    drift: Option<String>,
    /// Blank of each sample
    #[arg(long, value_name = "MASS", allow_hyphen_values = true, requires = "sample")]
    blank: Option<String>,
    /// A result that was read off
    #[arg(long, value_name = "WT%", allow_hyphen_values = true, conflicts_with = "before")]
    result: Option<String>,
    /// Mass before standing, net; with --after: what was gained is taken as water
    #[arg(long, value_name = "MASS", allow_hyphen_values = true, requires = "after")]
    before: Option<String>,
    /// Mass after standing
    #[arg(long, value_name = "MASS", allow_hyphen_values = true, requires = "before")]
    after: Option<String>,
    /// The instrument
    #[arg(long, value_name = "TEXT")]
    instrument: Option<String>,
    #[command(flatten)]
    record: RecordArgs,
}

pub(super) fn run(common: &Common, args: &WaterArgs) -> Result<Outcome, Failure> {
    let batch = code("CODE", &args.code)?;
    if args.advise {
        return advise(common, args, &batch);
    }
    let measured = measured(common, args, &batch)?;
    let sequence = write(common, &args.record, |writer| writer.append(&Event::BatchWater(measured)))?;
    let mut outcome =
        answer(common, &batch, "Water measured", Vec::new(), |standing| said(standing, sequence))?;
    let series = outcome.answer["water"]["series"].as_array();
    let own = series.and_then(|series| series.iter().find(|point| point["entry"] == sequence)).cloned();
    outcome.answer["measurement"] = own.unwrap_or_default();
    Ok(outcome)
}

/// The result with its uncertainty, beside what was predicted.
fn said(standing: &Standing, entry: u64) -> Vec<Block> {
    let Some(point) = standing.water.iter().find(|point| point.entry == entry) else { return Vec::new() };
    let result = &point.result;
    let uncertainty = match result.standard_uncertainty {
        Some(u) => format!(" ± {} wt% (standard uncertainty)", digits(u * 100.0, 2)),
        None => ", uncertainty not stated".to_owned(),
    };
    let mut lines = vec![(
        "Measured",
        format!(
            "{} wt%, {} ppm{uncertainty}",
            digits(result.fraction * 100.0, 4),
            digits(result.fraction * 1e6, 4)
        ),
    )];
    if 1 < result.replicates.len() {
        let each: Vec<String> = result.replicates.iter().map(|w| digits(w * 1e6, 4)).collect();
        lines.push(("Replicates", format!("{} ppm", each.join(", "))));
    }
    if !result.unstated.is_empty() {
        lines.push(("Left out of the uncertainty", result.unstated.join("; ")));
    }
    lines.extend(predicted(point));
    vec![facts(lines)]
}

fn predicted(point: &WaterPoint) -> Option<(&'static str, String)> {
    let predicted = point.predicted?;
    let apart = (point.result.fraction - predicted) * 100.0;
    let direction = if apart < 0.0 { "less" } else { "more" };
    Some((
        "Predicted",
        format!(
            "{} wt% by the masses and bottles; {} wt% {direction} was found",
            digits(predicted * 100.0, 4),
            digits(apart.abs(), 3)
        ),
    ))
}

fn measured(common: &Common, args: &WaterArgs, batch: &Code) -> Result<WaterMeasured, Failure> {
    let mut faults = Faults::none();
    let replicates = faults.collect(replicates(args)).unwrap_or_default();
    let drift = args.drift.as_ref().and_then(|text| faults.collect(quantity::<Drift>("--drift", text)));
    let blank = args.blank.as_ref().and_then(|text| faults.collect(quantity::<Mass>("--blank", text)));
    let mut result = args.result.as_ref().and_then(|text| faults.collect(fraction("--result", text)));
    if drift.is_some() && args.ran.is_empty() {
        let fault =
            Fault::new("no_time", "a drift counts by the time that a titration ran", Place::named("--drift"));
        faults.push(fault.with_hint("Say how long it ran with --ran \"3 min\"."));
    }
    if replicates.is_empty() && args.result.is_none() && args.before.is_none() && faults.is_empty() {
        let fault = Fault::new("no_result", "no water content is given", Place::named("batch water"));
        faults.push(fault.with_hint(
            "Give --sample and --found, or --result, or --before and --after; --advise helps with a titration.",
        ));
    }
    if !faults.is_empty() {
        return Err(faults.into());
    }
    let mut method = args.method.clone();
    if let (Some(before), Some(after)) = (&args.before, &args.after) {
        result = Some(gained(common, batch, before, after)?);
        method = method.or_else(|| Some("gain in mass on standing".to_owned()));
    }
    let unnamed = if replicates.is_empty() { "method not stated" } else { "titration, method not stated" };
    Ok(WaterMeasured {
        batch: batch.clone(),
        method: method.unwrap_or_else(|| unnamed.to_owned()),
        replicates,
        drift_ug_per_min: drift.map(|drift| drift.value.get()),
        blank_ug: blank.map(|blank| blank.value.get() * 1e6),
        result,
        instrument: args.instrument.clone(),
        at: args.record.at()?,
    })
}

fn fraction(flag: &str, text: &str) -> Result<Typed<MassFraction>, Fault> {
    let typed = quantity::<MassFraction>(flag, text)?;
    if typed.value < MassFraction::new(1.0) {
        return Ok(typed);
    }
    let place = Place::in_text(flag, text, 0..text.len());
    Err(Fault::new("bad_fraction", format!("{text:?} is the whole batch or more"), place)
        .with_hint("Give less than 100 wt%."))
}

fn replicates(args: &WaterArgs) -> Result<Vec<WaterReplicate>, Faults> {
    let mut faults = Faults::none();
    let (samples, found, ran) = (args.sample.len(), args.found.len(), args.ran.len());
    if samples != found || !(ran <= 1 || ran == samples) {
        let message =
            format!("{samples} samples, {found} masses of water and {ran} times do not go together");
        let fault = Fault::new("unpaired", message, Place::named("--sample"));
        faults
            .push(fault.with_hint("Give one --found for each --sample, and one --ran for all or for each."));
        return Err(faults);
    }
    let mut replicates = Vec::new();
    for (at, (sample, text)) in args.sample.iter().zip(&args.found).enumerate() {
        let sample = faults.collect(quantity::<Mass>("--sample", sample));
        let found = faults.collect(quantity::<Mass>("--found", text));
        let ran = args.ran.get(at).or(args.ran.first());
        let time = ran.and_then(|text| faults.collect(quantity::<TimeSpan>("--ran", text)));
        if let Some(sample) = &sample {
            faults.collect(super::weigh::above_zero(sample, "--sample"));
        }
        if let (Some(sample), Some(water)) = (sample, found) {
            if sample.value <= water.value {
                let message = format!("{} of water is not in {} of sample", water.text, sample.text);
                let place = Place::in_text("--found", text.as_str(), 0..text.len());
                let fault = Fault::new("more_than_sample", message, place);
                faults.push(fault.with_hint("Check the units: instruments show micrograms, µg."));
            }
            replicates.push(WaterReplicate { sample, water, time });
        }
    }
    faults.or(replicates)
}

/// Water after standing, if all that was gained is water.
fn gained(common: &Common, batch: &Code, before: &str, after: &str) -> Result<Typed<MassFraction>, Failure> {
    let mut faults = Faults::none();
    let masses = (
        faults.collect(quantity::<Mass>("--before", before)),
        faults.collect(quantity::<Mass>("--after", after)),
    );
    let (Some(before), Some(after)) = masses else { return Err(faults.into()) };
    let standing = standing(&open_book(common)?, batch)?;
    let now = standing.water_now().map_or(0.0, |(water, _)| water);
    let balance = standing.life.plan().and_then(frozen_balance);
    let gain = MassGain {
        before: before.value,
        after: after.value,
        water_before: &FractionInterval::exact(MassFraction::new(now)),
        balance: balance.as_ref(),
    };
    let water = gain.water().map(|water| water.value).filter(|water| (0.0..1.0).contains(water));
    let Some(water) = water else {
        let place = Place::in_text("--after", after.text.as_str(), 0..after.text.len());
        let fault = Fault::new("no_gain", "more was lost than there was water", place);
        return Err(fault.with_hint("Check the two masses: both are net.").into());
    };
    let text = format!("{} wt%", digits(water * 100.0, 6));
    Ok(Typed { value: MassFraction::new(water), text, decimal_comma: false })
}

fn advise(common: &Common, args: &WaterArgs, batch: &Code) -> Result<Outcome, Failure> {
    let mut faults = Faults::none();
    let expected = args.expected.as_ref().and_then(|text| faults.collect(fraction("--expected", text)));
    let titre = args.titre.as_ref().and_then(|text| faults.collect(quantity::<Titre>("--titre", text)));
    if !faults.is_empty() {
        return Err(faults.into());
    }
    let standing = standing(&open_book(common)?, batch)?;
    let known = standing.water_now().map(|(water, _)| MassFraction::new(water));
    let expected = expected.map(|typed| typed.value).or(known).filter(|water| MassFraction::ZERO < *water);
    let Some(expected) = expected else {
        let fault =
            Fault::new("no_water_expected", "nothing is known of its water", Place::named("--expected"));
        return Err(fault.with_hint("Say what to expect, as in --expected \"0.3 wt%\".").into());
    };
    let titre = titre.map_or(USUAL_TITRE, |typed| typed.value);
    let method = method_for(expected);
    let by_current = coulometric_sample(expected, COULOMETRIC_AIM);
    let by_titrant = volumetric_sample(expected, TITRANT_AIM, titre);
    let components = components(&standing);
    let disturbed = disturbances(&components);
    let answer = json!({
        "code": batch.to_string(),
        "expected_wt_pct": expected.percent(),
        "expected_ppm": expected.ppm(),
        "method": method.method.word(),
        "coulometric_in_range": method.coulometric_in_range,
        "reason": method.reason,
        "source": method.source,
        "coulometric": {
            "sample_g": by_current.map(Mass::get),
            "water_ug": COULOMETRIC_AIM.get() * 1e6,
            "charge_c": charge_of(COULOMETRIC_AIM).get(),
        },
        "volumetric": {
            "sample_g": by_titrant.map(Mass::get),
            "titrant_ml": TITRANT_AIM.get(),
            "titre_mg_per_ml": titre.get(),
        },
        "disturbances": disturbed,
    });
    let grams =
        |mass: Option<Mass>| mass.map_or(String::new(), |mass| format!("{} g", digits(mass.get(), 3)));
    let takes =
        titrant_of(COULOMETRIC_AIM, titre).map_or(String::new(), |v| format!("{} mL", digits(v.get(), 3)));
    let mut document = Document::new(format!("Titrating {batch}")).with(facts([
        ("Expected", format!("{} wt%, {} ppm", digits(expected.percent(), 4), digits(expected.ppm(), 4))),
        ("Method", format!("{}: {} ({})", method.method.word(), method.reason, method.source)),
        (
            "Coulometric sample",
            format!(
                "{} for 1 mg of water, {} C (aim: common practice)",
                grams(by_current),
                digits(charge_of(COULOMETRIC_AIM).get(), 4)
            ),
        ),
        (
            "Volumetric sample",
            format!(
                "{} for {} mL of titrant of {} mg/mL (aim: common practice; 1 mg of water takes {takes})",
                grams(by_titrant),
                TITRANT_AIM.get(),
                titre.get()
            ),
        ),
    ]));
    let warnings: Vec<_> = disturbed.iter().map(|disturbance| disturbance.warning()).collect();
    document.extend(warnings.iter().map(|warning| Caution::warn(warning.message.as_str())));
    if warnings.is_empty() {
        document.push(paragraph(
            "No rule of this program names anything in it that disturbs. That proves nothing.",
        ));
    }
    let mut outcome = Outcome::new("batch water", answer, document);
    outcome.warnings = warnings;
    Ok(outcome)
}

/// What is in the batch, and what its plan names.
fn components(standing: &Standing) -> Vec<std::sync::Arc<crate::component::Component>> {
    let mut components: Vec<_> = standing
        .made
        .iter()
        .flat_map(|made| &made.composition.constituents)
        .map(|own| std::sync::Arc::clone(&own.component))
        .collect();
    for line in standing.life.plan().map(|plan| plan.lines.as_slice()).unwrap_or_default() {
        if components.iter().all(|known| known.id != line.component.id) {
            components.push(std::sync::Arc::clone(&line.component));
        }
    }
    components
}

fn digits(value: f64, digits: usize) -> String {
    significant(value, digits)
}
