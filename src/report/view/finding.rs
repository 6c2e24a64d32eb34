//! What a plan has to say beside its numbers, as warnings.

use super::amount::{mass, percent, short};
use crate::component::AdditionAmount;
use crate::input::Warning;
use crate::plan::{Balance, Flag, Line, Plan};
use crate::quantity::Mass;
use crate::report::document::Caution;

/// Everything that the person should know about this plan.
pub fn plan_warnings(plan: &Plan) -> Vec<Warning> {
    let mut warnings = Vec::new();
    warnings.extend(plan.dry_first.map(|surplus| dry_first(plan, surplus)));
    warnings.extend(tolerance_used_up(plan));
    warnings.extend(of_flags(plan));
    warnings.extend(plan.lines.iter().filter_map(assumed_basis));
    warnings.extend(density_of_recipe(plan));
    warnings.extend(density_without_temperature(plan));
    warnings.extend(no_volume(plan));
    warnings
}

/// A warning as a caution: what makes the answer no is shown heavier than what is only to be known.
pub fn warning_shown(warning: &Warning) -> Caution {
    if makes_it_a_no(warning) {
        Caution::warn(warning.message.as_str())
    } else {
        Caution::note(warning.message.as_str())
    }
}

/// True for what has to be put right before anything is weighed.
pub(super) fn makes_it_a_no(warning: &Warning) -> bool {
    matches!(warning.code.as_ref(), "dry_first" | "not_enough" | "out_of_tolerance")
}

fn dry_first(plan: &Plan, surplus: Mass) -> Warning {
    let asked = plan.request.recipe.proportions.water.as_ref();
    let asked = asked.map_or("the water of the ratio".to_owned(), |water| format!("{} water", water.text));
    let message = format!(
        "dry first: the components bring {} g of water ({} wt%), and the recipe asks for {asked}; {} g must be \
         dried off, and nothing can be added to make that good",
        mass(plan.composition.water, None),
        short(plan.composition.water_fraction().percent(), 4),
        mass(surplus, None)
    );
    Warning::new("dry_first", message)
}

/// One warning for all lines: it is the same for each of them.
fn tolerance_used_up(plan: &Plan) -> Option<Warning> {
    let tolerance = plan.request.tolerance.value.get();
    (tolerance <= plan.guard).then(|| {
        let message = format!(
            "the uncertainty of the ratio ({}, k = 2) takes up the whole tolerance of {}, so there is no window: \
             state narrower assays and moistures, use a better balance or a larger batch, or widen the tolerance",
            percent(plan.guard, 2),
            percent(tolerance, 3)
        );
        Warning::new("tolerance_used_up", message)
    })
}

/// Lines with the same trouble share one warning: what would help one of them helps all.
fn of_flags(plan: &Plan) -> Vec<Warning> {
    let mut warnings: Vec<Warning> = Vec::new();
    for code in Flag::CODES {
        let flagged: Vec<(&Line, &Flag)> = plan
            .lines
            .iter()
            .flat_map(|line| line.flags.iter().map(move |flag| (line, flag)))
            .filter(|(_, flag)| flag.code() == code)
            .collect();
        warnings.extend(flagged.first().and_then(|(_, first)| told(plan, first, &flagged)));
    }
    warnings
}

/// What is said of lines that all have a flag of the kind of `first`.
fn told(plan: &Plan, first: &Flag, flagged: &[(&Line, &Flag)]) -> Option<Warning> {
    let balance = plan.request.balance.as_ref();
    let named = |grams: &dyn Fn(&Line, &Flag) -> String| {
        let each =
            flagged.iter().map(|(line, flag)| format!("{} ({} g)", line.component.name, grams(line, flag)));
        each.collect::<Vec<_>>().join(", ")
    };
    let shown = named(&|line, _| mass(line.target(), balance));
    let each = if flagged.len() == 1 { "it" } else { "each" };
    let batch = largest_batch(flagged);
    let message = match first {
        Flag::ToleranceUsedUp { .. } => return None,
        Flag::BalanceTooCoarse { mass_that_would_do, .. } => format!(
            "too little for this balance, whose uncertainty takes more than half of the window: {shown}; {} g of \
             {each} would do (a batch of {} g), or a balance with a standard uncertainty of {} g",
            short(mass_that_would_do.get(), 3),
            short(batch, 3),
            short(finest(flagged), 2)
        ),
        Flag::NoStepInWindow { step, mass_that_would_do, .. } => format!(
            "no digit of the display (step {} g) lies inside the window, so none is given: {}; a finer balance, a \
             wider tolerance, or {} g of {each} (a batch of {} g) would do",
            short(step.get(), 3),
            named(&|line, _| mass(line.target(), None)),
            short(mass_that_would_do.get(), 3),
            short(batch, 3)
        ),
        Flag::BelowMinimumWeight { minimum } => format!(
            "below this balance's minimum weight of {} g (USP general chapter 41): {shown}",
            short(minimum.get(), 4)
        ),
        Flag::RoundsToZero => {
            format!("rounds to nothing on this balance: {}", named(&|line, _| mass(line.target(), None)))
        }
        Flag::BuoyancyNotCorrected => {
            let names = flagged.iter().map(|(line, _)| line.component.name.as_str()).collect::<Vec<_>>();
            format!(
                "air buoyancy is not corrected for in any target, since no density is known of {}: give it with \
                 density= in --bottle",
                names.join(", ")
            )
        }
        Flag::NotEnough { .. } => format!(
            "the stock is short of {}",
            flagged.iter().map(|(line, flag)| shortage(line, flag, balance)).collect::<Vec<_>>().join(", ")
        ),
    };
    Some(Warning::new(first.code(), message))
}

/// A batch that would do for all.
fn largest_batch(flagged: &[(&Line, &Flag)]) -> f64 {
    let each = flagged.iter().map(|(_, flag)| match flag {
        Flag::BalanceTooCoarse { batch_that_would_do: batch, .. }
        | Flag::NoStepInWindow { batch_that_would_do: batch, .. } => batch.get(),
        _ => 0.0,
    });
    each.fold(0.0, f64::max)
}

/// Standard uncertainty of a balance that would do for all.
fn finest(flagged: &[(&Line, &Flag)]) -> f64 {
    let each = flagged.iter().filter_map(|(_, flag)| match flag {
        Flag::BalanceTooCoarse { balance_that_would_do, .. } => Some(balance_that_would_do.get()),
        _ => None,
    });
    each.fold(f64::INFINITY, f64::min)
}

fn shortage(line: &Line, flag: &Flag, balance: Option<&Balance>) -> String {
    let missing = match flag {
        Flag::NotEnough { missing } => *missing,
        _ => Mass::ZERO,
    };
    format!("{} g of {}", mass(missing, balance), line.component.name)
}

/// A default that changes the grams is named where it does so.
fn assumed_basis(line: &Line) -> Option<Warning> {
    let quality = &line.supply.quality;
    let matters = quality.assay.is_some() && quality.moisture.is_some() && !quality.basis_stated;
    matters.then(|| {
        let message = format!(
            "{}: no assay basis is stated, so the assay is taken as of the dried substance; if the certificate \
             means the content as it is, give basis=as-is",
            line.component.name
        );
        Warning::new("basis_assumed", message)
    })
}

/// Grams that follow from a density that nobody gave with this plan.
fn density_of_recipe(plan: &Plan) -> Option<Warning> {
    let request = &plan.request;
    let density = request.recipe.density.as_ref().filter(|_| request.density.is_none())?;
    let additions = &request.recipe.proportions.additions;
    let by_litre = additions.iter().any(|addition| matches!(addition.amount, AdditionAmount::Molarity(_)));
    let what = match (by_litre, request.size.needs_density()) {
        (true, true) => "mol/L and the batch size are",
        (true, false) => "mol/L is",
        (false, true) => "the batch size is",
        (false, false) => return None,
    };
    let at = density.at.as_ref().map_or(String::new(), |at| format!(" at {}", at.text));
    let source = density.source.as_deref().unwrap_or("which names no source for it");
    let message = format!(
        "{what} reckoned with the recipe's own density of the solution, {}{at} ({source}); give what is measured \
         with --density",
        density.value.text
    );
    Some(Warning::new("density_of_recipe", message))
}

/// A temperature was asked for at which a liquid's density is not known.
fn no_volume(plan: &Plan) -> Option<Warning> {
    let at = plan.request.liquids_at.typed.as_ref()?;
    let lacks = |line: &&Line| line.component.is_liquid() && line.volume.is_none();
    let names: Vec<&str> = plan.lines.iter().filter(lacks).map(|line| line.component.name.as_str()).collect();
    (!names.is_empty()).then(|| {
        let message = format!(
            "no volume is given of {}: no density is known at {}; weigh, or give density= in --bottle",
            names.join(", "),
            at.text
        );
        Warning::new("no_density_at", message)
    })
}

fn density_without_temperature(plan: &Plan) -> Option<Warning> {
    let density = plan.request.solution_density()?;
    density.at.is_none().then(|| {
        let message = format!("the density {} is given without its temperature", density.value.text);
        Warning::new("density_without_temperature", message)
    })
}
