//! The chain behind each mass, step by step, so that a student can check it by hand.

use super::plan_type::{Line, LineKind, Plan};
use crate::component::{AssayBasis, RatioBasis};
use crate::quantity::{Mass, significant};

/// One step of a calculation.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What is computed: "ideal", "form", "assay", "moisture", "water", "buoyancy", "rounding".
    pub label: &'static str,
    /// The arithmetic in words and numbers.
    pub arithmetic: String,
    /// The result in grams.
    pub result: Mass,
}

/// The steps of one line.
pub fn why(plan: &Plan, line: &Line) -> Vec<Step> {
    if line.component.is_water() {
        return water_steps(plan, line);
    }
    let mut steps = vec![ideal(plan, line)];
    steps.extend(form(line));
    steps.extend(assay(line));
    steps.extend(moisture(line));
    steps.extend(carried(line));
    steps.extend(instrument_steps(line, plan));
    steps
}

/// Nine significant digits, without the zeros that say nothing.
fn number(value: f64) -> String {
    let text = significant(value, 9);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

fn ideal(plan: &Plan, line: &Line) -> Step {
    let result = line.correction.as_asked;
    let by_mole = plan.request.recipe.proportions.basis == RatioBasis::Mole;
    let arithmetic = match (&line.kind, line.amount, line.molar_mass) {
        (LineKind::Part { ratio }, Some(amount), Some(molar_mass)) if by_mole => format!(
            "{ratio} × {} mol = {} mol; × {} g/mol",
            number(amount.get() / ratio),
            number(amount.get()),
            number(molar_mass.get())
        ),
        (LineKind::Part { ratio }, ..) => {
            format!("{ratio} × {} g per unit of the ratio", number(result.get() / ratio))
        }
        (LineKind::Addition { asked }, Some(amount), Some(molar_mass)) => {
            format!(
                "{asked}, solved in the final batch: {} mol × {} g/mol",
                number(amount.get()),
                number(molar_mass.get())
            )
        }
        (LineKind::Addition { asked }, ..) => format!("{asked}, solved in the final batch"),
        (LineKind::Water, ..) => "the target less what the components bring".to_owned(),
    };
    Step { label: "ideal", arithmetic, result }
}

fn form(line: &Line) -> Option<Step> {
    let form = line.supply.quality.form.as_ref()?;
    let ratio = line.correction.in_form / line.correction.as_asked;
    let arithmetic = format!("weighed as {}, {} H₂O: × {}", form.name, form.crystal_water, number(ratio));
    Some(Step { label: "form", arithmetic, result: line.correction.in_form })
}

fn assay(line: &Line) -> Option<Step> {
    let quality = &line.supply.quality;
    let assay = quality.assay.as_ref()?;
    let arithmetic =
        format!("÷ {} (assay {}, basis {})", number(assay.value.get()), assay.text, quality.basis.word());
    Some(Step { label: "assay", arithmetic, result: line.correction.after_assay })
}

fn moisture(line: &Line) -> Option<Step> {
    let quality = &line.supply.quality;
    let moisture = quality.moisture.as_ref()?;
    let counted = quality.assay.is_some() && quality.basis != AssayBasis::Dried;
    let arithmetic = if counted {
        format!("{} is part of what the assay leaves out: nothing more to weigh", moisture.text)
    } else {
        format!("÷ (1 − {})", number(moisture.value.get()))
    };
    Some(Step { label: "moisture", arithmetic, result: line.correction.gross })
}

/// Water and impurity that come with the mass.
fn carried(line: &Line) -> Option<Step> {
    let water = line.correction.water();
    if water <= Mass::ZERO && line.correction.impurity <= Mass::ZERO {
        return None;
    }
    let arithmetic = format!(
        "brings {} g crystal water and {} g moisture, and {} g that is neither",
        number(line.correction.crystal_water.get()),
        number(line.correction.moisture.get()),
        number(line.correction.impurity.get())
    );
    Some(Step { label: "water", arithmetic, result: water })
}

fn water_steps(plan: &Plan, line: &Line) -> Vec<Step> {
    let carried = plan.composition.water - line.weigh;
    let arithmetic = format!(
        "{} g in all − {} g that the components bring",
        number(plan.composition.water.get()),
        number(carried.get())
    );
    let mut steps = vec![Step { label: "water", arithmetic, result: line.weigh }];
    steps.extend(instrument_steps(line, plan));
    steps
}

fn instrument_steps(line: &Line, plan: &Plan) -> Vec<Step> {
    let mut steps = Vec::new();
    if let (Some(reading), Some(air)) = (line.reading, &plan.request.air) {
        let arithmetic =
            format!("× {} for air of {} (weights of 8 g/mL)", number(reading / line.weigh), air.0.text);
        steps.push(Step { label: "buoyancy", arithmetic, result: reading });
    }
    if let (Some(rounded), Some(balance)) = (line.rounded, &plan.request.balance) {
        let arithmetic = format!("to the display's {} g", balance.readability.get());
        steps.push(Step { label: "rounding", arithmetic, result: rounded });
    }
    steps
}
