//! What is reviewed for cautions, and under which circumstances.

use clap::Args;

use super::settings::Settings;
use super::size::parsed;
use super::surroundings::settings;
use crate::caution::{Context, Review, Scheme, Subject, review};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::input::{Fault, Faults, Place, Warning, did_you_mean};
use crate::plan::Plan;
use crate::quantity::{Property, Temperature, TimeSpan};
use crate::recipe::Procedure;

/// What is done with the materials.
#[derive(Debug, Args)]
#[command(next_help_heading = "What is done with them")]
pub(in crate::cli) struct ContextArgs {
    /// They are closed in: a sealed cell, a closed vial
    #[arg(long)]
    sealed: bool,
    /// They meet in a cell
    #[arg(long)]
    cell: bool,
    /// The highest temperature; before the recipe's own
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    heat: Option<String>,
    /// How long they are hot
    #[arg(long = "for", value_name = "TIME", allow_hyphen_values = true)]
    time: Option<String>,
    /// The pH of the mixture, if it was measured; before the batch's own
    #[arg(long, value_name = "PH", allow_hyphen_values = true)]
    ph: Option<String>,
    /// They are evaporated or dried until no liquid is left
    #[arg(long)]
    to_dryness: bool,
    /// They are ground or milled together
    #[arg(long)]
    ground: bool,
    /// A short-circuit current is read, or leads are bare
    #[arg(long)]
    short_circuit: bool,
    /// They are open to damp air
    #[arg(long)]
    damp_air: bool,
    /// By whose rules and texts: ghs, clp or hcs [default: of meltbook.toml, else ghs]
    #[arg(long, value_name = "SCHEME", help_heading = "What is shown")]
    scheme: Option<String>,
    /// Show every topic of practice, not only those for what is at hand
    #[arg(long, help_heading = "What is shown")]
    all: bool,
}

impl ContextArgs {
    /// The circumstances, the flags before what the recipe or the batch says.
    pub(in crate::cli) fn context(
        &self,
        made: Context,
        warnings: &mut Vec<Warning>,
    ) -> Result<Context, Faults> {
        let mut faults = Faults::none();
        let heat = self.heat.as_ref().and_then(|t| parsed::<Temperature>("--heat", t, &mut faults, warnings));
        let time = self.time.as_ref().and_then(|t| parsed::<TimeSpan>("--for", t, &mut faults, warnings));
        let ph = self.ph.as_ref().and_then(|text| faults.collect(acidity(text)));
        let scheme = self.scheme.as_ref().map(|word| scheme(word));
        let scheme = scheme.and_then(|scheme| faults.collect(scheme)).unwrap_or(made.scheme);
        let how_hot_unknown = time.is_some() && self.heat.is_none() && made.heat.is_none();
        if how_hot_unknown {
            let message = "--for says how long they are hot, but nothing says how hot: give --heat \"90 °C\" to \
                           have temperatures compared";
            warnings.push(Warning::new("heat_unknown", message));
        }
        faults.or(Context {
            heated: how_hot_unknown || made.heated,
            sealed: self.sealed,
            cell: self.cell,
            heat: heat.map(|typed| typed.value).or(made.heat),
            time: time.map(|typed| typed.value).or(made.time),
            to_dryness: self.to_dryness,
            ground: self.ground,
            short_circuit: self.short_circuit,
            damp_air: self.damp_air,
            ph: ph.or(made.ph),
            scheme,
            all_practice: self.all,
            ..made
        })
    }
}

fn acidity(text: &str) -> Result<f64, Fault> {
    let place = Place::in_text("--ph", text, 0..text.len());
    Property::Ph.parse(text).map_err(|error| Fault::of_quantity(&error, place))
}

pub(super) fn scheme(word: &str) -> Result<Scheme, Fault> {
    Scheme::from_word(word).ok_or_else(|| {
        let words = Scheme::ALL.map(Scheme::word);
        let place = Place::in_text("--scheme", word, 0..word.len());
        let hint = did_you_mean(word, words, &format!("The schemes are {}.", words.join(", ")));
        Fault::new("unknown_scheme", format!("unknown scheme {word:?}"), place).with_hint(hint)
    })
}

/// What a recipe's procedure says.
pub(in crate::cli) fn procedure_context(procedure: &Procedure, scheme: Scheme) -> Context {
    Context {
        heat: procedure.heat.as_ref().map(|heat| heat.value),
        time: procedure.time.as_ref().map(|time| time.value),
        scheme,
        ..Context::default()
    }
}

/// The scheme of the book around, else the usual one.
pub(in crate::cli) fn scheme_here(common: &Common) -> Result<Scheme, Failure> {
    Ok(scheme_of(settings(common)?.as_ref()))
}

/// The scheme that the settings name, else the usual one.
pub(in crate::cli) fn scheme_of(settings: Option<&Settings>) -> Scheme {
    settings.and_then(|settings| settings.scheme).unwrap_or_default()
}

/// What to mind while cells are read, of which the short-circuit current is one thing or not.
pub(in crate::cli) fn review_reading(short_circuit: bool) -> Review {
    review(&Subject::default(), &Context { short_circuit, in_short: true, ..Context::default() })
}

/// The review of a plan by its recipe's own procedure.
pub(in crate::cli) fn review_plan(plan: &Plan, scheme: Scheme) -> Review {
    review_plan_in(plan, &procedure_context(&plan.request.recipe.procedure, scheme))
}

/// The review of a plan under circumstances that are stated.
pub(in crate::cli) fn review_plan_in(plan: &Plan, context: &Context) -> Review {
    let components: Vec<_> = plan.lines.iter().map(|line| std::sync::Arc::clone(&line.component)).collect();
    let subject = Subject { components: &components, composition: Some(&plan.composition), materials: &[] };
    review(&subject, &Context { in_short: true, ..context.clone() })
}
