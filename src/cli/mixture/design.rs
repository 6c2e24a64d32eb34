//! From points to runs, recipes and what they need.

use serde_json::json;

use crate::book::bottles;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{
    self, DesignRequest, Need, RunArgs, RunRecipe, Stores, failure, noted, open_book, run_plans, run_recipes,
    write_recipes,
};
use crate::compose::mixture::{Point, PointKind, arrange, run_quality, settings};
use crate::input::Warning;
use crate::report::answer::mixture_design_answer;
use crate::report::document::{Block, Table, column, facts, paragraph};
use crate::report::view::{ChosenView, DesignView, mixture_design_document};

/// What a kind of design has found.
pub(super) struct Found {
    pub(super) kind: &'static str,
    pub(super) words: String,
    pub(super) points: Vec<Point>,
    pub(super) chosen: Option<ChosenView>,
    pub(super) warnings: Vec<Warning>,
}

/// Runs out of points, with all that was asked of them.
pub(super) fn designed(
    common: &Common,
    request: &DesignRequest,
    args: &RunArgs,
    found: Found,
) -> Result<Outcome, Failure> {
    let Found { kind, words, mut points, chosen, mut warnings } = found;
    let centre = request.space.region.centroid();
    points.extend((0..request.centre).map(|_| Point::new(PointKind::Centre, centre.clone())));
    let crossed = if points.iter().all(|point| point.setting.is_some()) {
        1
    } else {
        settings(request.variables()).len()
    };
    request.check_size(points.len(), crossed)?;
    let row = |x: &[f64], setting: &[f64]| request.model.row(x, setting);
    let (runs, balance) = arrange(&points, request.variables(), &request.arrangement, row);
    request.check_blocks(runs.len())?;
    let noted = if args.recipes.is_some() { noted(request) } else { Vec::new() };
    warnings.extend(by_hand(&noted));
    warnings.splice(0..0, request.space.warnings.iter().cloned());
    let names: Vec<&str> = request.space.names.iter().map(|name| name.id.as_str()).collect();
    let mut view = DesignView {
        kind,
        words,
        basis: request.space.basis,
        region: &request.space.region,
        rules: &request.space.rules,
        model: &request.model,
        model_is_stated: request.model_is_stated,
        crossing: request.crossing,
        arrangement: &request.arrangement,
        quality: run_quality(&request.model, &runs),
        runs: &runs,
        balance,
        chosen,
        warnings,
        names,
    };
    let mut answer = mixture_design_answer(&view);
    let wanted = args.recipes.is_some() || request.mass.is_some();
    let recipes = if wanted { run_recipes(request, &view.words, &runs)? } else { Vec::new() };
    let need = request.mass.as_ref().map(|_| need(common, request, &recipes)).transpose()?;
    let mut wet = Vec::new();
    if let Some(own) = &need {
        answer["need"] = own.answer.clone();
        answer["dry_first"] = json!(own.wet);
        wet.clone_from(&own.wet);
    }
    view.warnings.extend(too_wet(&wet, recipes.len()));
    let mut document = mixture_design_document(&view, need.map(|own| own.blocks));
    if let Some(folder) = &args.recipes {
        let paths = write_recipes(folder, &recipes)?;
        document.push(facts([("Recipes", written(&paths, &noted, wet.len()))]));
        answer["recipes"] = json!(paths);
    }
    let mut outcome = Outcome::new("mixture", answer, document);
    outcome.warnings = view.warnings;
    Ok(outcome)
}

fn written(paths: &[String], noted: &[String], wet: usize) -> String {
    let ready = match noted {
        [] if 0 < wet => {
            format!("for plan and batch start, {wet} of {} of them only once water is off", paths.len())
        }
        [] => "each ready for plan and batch start".to_owned(),
        noted => format!("for plan and batch start; {} stands in their notes alone", noted.join(", ")),
    };
    match paths {
        [only] => format!("{only}, {ready}"),
        [first, .., last] => format!("{first} to {last}, {ready}"),
        [] => String::new(),
    }
}

/// What a plan of these recipes does not hold.
fn by_hand(noted: &[String]) -> Option<Warning> {
    (!noted.is_empty()).then(|| {
        let message = format!(
            "no component is called so, and no recipe holds it: {} stands in the note of each recipe alone, and neither a plan \
             nor what is needed counts it: set it by hand",
            noted.join(", ")
        );
        Warning::new("in_note_alone", message)
    })
}

/// Runs for which the components bring more water than they ask for: nothing that is added makes that good.
fn too_wet(wet: &[String], runs: usize) -> Option<Warning> {
    (!wet.is_empty()).then(|| {
        let message = format!(
            "in {} of {runs} runs the water that the components bring is more than asked: {}; dry first what brings it, or \
             take another bottle of it, such as one without crystal water",
            wet.len(),
            wet.join(", ")
        );
        Warning::new("dry_first", message)
    })
}

/// What the runs need.
struct Needed {
    blocks: Vec<Block>,
    answer: serde_json::Value,
    /// Names of the runs that must be dried first.
    wet: Vec<String>,
}

/// What all runs need, out of the bottles if there is a book.
fn need(common: &Common, request: &DesignRequest, recipes: &[RunRecipe]) -> Result<Needed, Failure> {
    let has_book = request::book_folder(common).is_some();
    let rows =
        if has_book { bottles(&open_book(common)?).map_err(|error| failure(&error))? } else { Vec::new() };
    let stores = Stores::of(&rows, request::today()?);
    let plans = run_plans(request, recipes, &stores.supplies())?;
    let runs = recipes.iter().zip(&plans).filter(|(_, plan)| plan.dry_first.is_some());
    let wet = runs.map(|(recipe, _)| recipe.run_name().to_owned()).collect();
    let need = Need::of_plans(&plans, None, &rows, &stores);
    let each = request.mass.as_ref().map_or(String::new(), |mass| mass.text.clone());
    let counted = format!("{} batches of {each} each.", plans.len());
    if has_book {
        let short = if need.is_short() { " Not all of it is in the house." } else { "" };
        let words = format!("{counted} {}{short}", need.basis());
        return Ok(Needed {
            blocks: vec![need.table().into(), paragraph(words)],
            answer: need.answer(),
            wet,
        });
    }
    let mut table = Table::new([
        column("Component").key("component"),
        column("Needed").unit("g").key("needed_g").decimal(),
    ]);
    need.needed().for_each(|(component, grams)| table.push([component.to_owned(), format!("{grams:.2}")]));
    let lines: Vec<serde_json::Value> = need
        .needed()
        .map(|(component, grams)| json!({ "component": component, "needed_g": grams }))
        .collect();
    let words = format!(
        "{counted} There is no book here, so no bottles are compared, and all is counted as pure and dry: a real bottle \
         needs more."
    );
    Ok(Needed { blocks: vec![table.into(), paragraph(words)], answer: json!({ "lines": lines }), wet })
}
