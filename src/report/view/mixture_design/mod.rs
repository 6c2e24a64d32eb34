//! What a mixture design shows: what it is, its runs in order, and what they can tell.

mod notes;
mod picture;

use crate::component::RatioBasis;
use crate::compose::mixture::{
    Arrangement, Balance, Chosen, Crossing, Model, Process, Region, Run, RunQuality,
};
use crate::input::Warning;
use crate::report::document::{Block, Caution, Column, Document, Table, bullets, column, facts, heading};

pub use notes::mixture_design_notes;

/// A design with what it was made from.
#[derive(Debug, Clone, PartialEq)]
pub struct DesignView<'d> {
    /// Its kind in a word: lattice.
    pub kind: &'static str,
    /// The same in words: simplex lattice {3, 2}.
    pub words: String,
    /// The components in order.
    pub names: Vec<&'d str>,
    /// What the fractions count.
    pub basis: RatioBasis,
    /// What may be mixed.
    pub region: &'d Region,
    /// The linear rules of it, as typed.
    pub rules: &'d [String],
    /// What is to be told.
    pub model: &'d Model,
    /// True if the person chose the model.
    pub model_is_stated: bool,
    /// How process variables act.
    pub crossing: Crossing,
    /// How points became runs.
    pub arrangement: &'d Arrangement,
    /// The runs in the order of making.
    pub runs: &'d [Run],
    /// What they can tell.
    pub quality: RunQuality,
    /// How the blocks came out.
    pub balance: Option<Balance>,
    /// The choice among candidates.
    pub chosen: Option<ChosenView>,
    /// What to know beside it.
    pub warnings: Vec<Warning>,
}

/// A choice among candidates.
#[derive(Debug, Clone, PartialEq)]
pub struct ChosenView {
    /// The choice.
    pub chosen: Chosen,
    /// How many candidates there were.
    pub candidates: usize,
    /// How many random starts.
    pub starts: usize,
}

impl DesignView<'_> {
    /// The process variables.
    pub fn variables(&self) -> &[Process] {
        self.model.variables()
    }

    /// Names of terms.
    pub fn terms(&self, places: &[usize]) -> Vec<String> {
        places.iter().map(|at| self.model.name(&self.model.terms[*at], &self.names)).collect()
    }

    /// True if blocks were asked for and are orthogonal to the model; `None` without blocks.
    pub fn is_orthogonal(&self) -> Option<bool> {
        self.balance.as_ref().map(|balance| balance.off.is_empty())
    }
}

/// What fractions count, as an adjective.
pub(super) fn basis_words(basis: RatioBasis) -> &'static str {
    match basis {
        RatioBasis::Mole => "mole fractions",
        RatioBasis::Mass => "mass fractions",
    }
}

/// The runs, and what they can tell. `need` is what they need in all, if that was asked for.
pub fn mixture_design_document(view: &DesignView<'_>, need: Option<Vec<Block>>) -> Document {
    let mut document = Document::new(format!("Mixture design: {}", view.words)).with(summary(view));
    document.extend(view.warnings.iter().map(|warning| Caution::note(warning.message.as_str())));
    document.push(heading(1, "Runs, in the order of making"));
    document.push(runs(view, |value| format!("{value:.4}")));
    document.extend(picture::picture(view));
    if let Some(need) = need {
        document.push(heading(1, "What they need"));
        document.extend(need);
    }
    document.push(heading(1, "What these runs count and can tell"));
    document.push(bullets(mixture_design_notes(view)));
    document.with_data(runs(view, |value| value.to_string()))
}

fn summary(view: &DesignView<'_>) -> Block {
    let seed = view.arrangement.seed;
    let blocks = view.arrangement.blocks;
    let mut lines = vec![
        ("Components", view.names.join(", ")),
        ("Fractions", format!("{}, adding up to 1", basis_words(view.basis))),
        ("Runs", view.runs.len().to_string()),
        ("Seed of the order", seed.to_string()),
    ];
    if 1 < blocks {
        let fit = if view.is_orthogonal() == Some(true) { "orthogonal" } else { "not orthogonal, see below" };
        lines.push(("Blocks", format!("{blocks}, {fit}")));
    }
    facts(lines)
}

/// Every run; fractions are written by `fraction`.
fn runs(view: &DesignView<'_>, fraction: impl Fn(f64) -> String) -> Table {
    let has = |of: fn(&Run) -> Option<usize>| view.runs.iter().any(|run| of(run).is_some());
    let (blocked, plotted) = (has(|run| run.block), has(|run| run.plot));
    let mut columns: Vec<Column> = vec![column("Run").key("run").right()];
    columns.extend(blocked.then(|| column("Block").key("block").right()));
    columns.extend(plotted.then(|| column("Whole plot").key("whole_plot").right()));
    columns.push(column("Point").key("point"));
    columns.extend(view.names.iter().map(|name| column(*name).key(*name).decimal()));
    for variable in view.variables() {
        let unit = variable.unit.as_deref().unwrap_or_default();
        let key = if unit.is_empty() { variable.name.clone() } else { format!("{} ({unit})", variable.name) };
        columns.push(column(variable.name.as_str()).unit(unit).key(key).decimal());
    }
    let mut table = Table::new(columns);
    for run in view.runs {
        let place = |place: Option<usize>| place.map(|place| place.to_string());
        let mut cells = vec![run.run.to_string()];
        cells.extend(place(run.block));
        cells.extend(place(run.plot));
        cells.push(run.kind.name().to_owned());
        cells.extend(run.fractions.iter().map(|x| fraction(*x)));
        cells.extend(run.setting.iter().map(f64::to_string));
        table.push(cells);
    }
    table
}
