//! The capacity of a cell on a screen.

use super::amount::{percent, short};
use crate::cell::{CellCapacity, Electrode, Pairing, Side};
use crate::input::Warning;
use crate::report::document::{
    Block, Caution, Document, Table, Text, bullets, column, facts, heading, paragraph,
};

/// What limits beside the electrodes; it is said of every cell, since no mass shows it.
const ELECTROLYTE: &str = "Theoretical: what is left out of reach, and the electrolyte itself, take from it. The \
     electrolyte can end a discharge before either electrode: the oxide takes up protons, which its water, acid or \
     ammonium must give, and zinc salts may fill up what it can dissolve.";

/// What to know beside the numbers.
pub fn capacity_warnings(capacity: &CellCapacity) -> Vec<Warning> {
    let mut warnings = Vec::new();
    let Some(pairing) = capacity.pairing() else { return warnings };
    if pairing.limiting == Side::Negative {
        let message = format!(
            "the zinc side limits ({}): at the end all electrolytes look alike, since every cell stops when its metal \
             is gone; take more of it to compare electrolytes",
            ratio(&pairing)
        );
        warnings.push(Warning::new("negative_limits", message));
    }
    if let Some(water) = capacity.water_capacity().filter(|water| *water < pairing.capacity) {
        let message = format!(
            "the electrolyte's water alone gives protons for {} mAh of {} mAh (one water for each electron, general \
             electrochemistry, from memory): unless something else in it gives the rest, such as an acid or ammonium, the electrolyte limits",
            short(water.milliampere_hours(), 4),
            short(pairing.capacity.milliampere_hours(), 4)
        );
        warnings.push(Warning::new("water_limits", message));
    }
    warnings
}

/// Both electrodes, the one that ends first, and what follows.
pub fn capacity_document(title: &str, capacity: &CellCapacity, warnings: &[Warning]) -> Document {
    let request = &capacity.request;
    let mut document = Document::new(format!("Capacity: {title}")).with(electrodes(capacity));
    let mut lines: Vec<(&str, Text)> = Vec::new();
    if let Some(pairing) = capacity.pairing() {
        lines.extend(paired(&pairing));
    }
    if let Some((wanted, mass)) = request.wanted_ratio.zip(capacity.negative_for_ratio()) {
        let text = format!("{} g of negative electrode", short(mass.get(), 4));
        lines.push(("For N/P", format!("{}: {text}", short(wanted, 4)).into()));
    }
    if let Some(per_mix) = capacity.electrolyte_per_mix() {
        lines.push(("Electrolyte", format!("{} g for each gram of cathode mix", short(per_mix, 4)).into()));
    }
    if let Some(water) = capacity.water_capacity() {
        let text = format!(
            "protons for {} mAh, one water for each electron (from memory)",
            short(water.milliampere_hours(), 4)
        );
        lines.push(("Its water", text.into()));
    }
    if !lines.is_empty() {
        document.push(facts(lines));
    }
    document.extend(at_load(capacity));
    document.extend(warnings.iter().map(|warning| Caution::warn(warning.message.as_str())));
    document.push(paragraph(ELECTROLYTE));
    document.push(heading(1, "What these numbers count"));
    let faraday = "charge n F m / M with the Faraday constant 96485.33212 C/mol (CODATA 2022) and the abridged atomic \
                   weights, CIAAW 2021 with the 2024 revisions";
    let known = [&request.negative, &request.positive].into_iter().flatten();
    let steps = known.filter_map(steps);
    document.push(bullets(steps.chain(request.conventions.clone()).chain([faraday.to_owned()])));
    document
}

/// How much of what was weighed reacts, factor by factor.
fn steps(electrode: &Electrode) -> Option<String> {
    let factors = electrode.parts.iter().map(|part| format!(" × {} ({})", short(part.factor, 5), part.what));
    let factors: String = factors.collect();
    let (gross, active) = (short(electrode.gross.get(), 5), short(electrode.active().get(), 5));
    (!factors.is_empty()).then(|| format!("{}: {gross} g{factors} = {active} g", electrode.material))
}

fn electrodes(capacity: &CellCapacity) -> Table {
    let mut table = Table::new([
        column("Electrode").key("side"),
        column("Reacts").key("material"),
        column("Weighed").unit("g").key("gross_g").decimal(),
        column("Of it reacts").unit("g").key("active_g").decimal(),
        column("Electrons").key("electrons").right(),
        column("Charge").unit("mAh/g").key("specific_mah_per_g").decimal(),
        column("Capacity").unit("mAh").key("capacity_mah").decimal(),
        column("per area").unit("mAh/cm²").key("areal_mah_per_cm2").decimal(),
    ]);
    let request = &capacity.request;
    let sides = [(Side::Negative, &request.negative), (Side::Positive, &request.positive)];
    for (side, electrode) in sides {
        match electrode {
            Some(electrode) => table.push(row(side, electrode)),
            None => table.push([side.word().to_owned(), "not known".to_owned()]),
        }
    }
    table
}

fn row(side: Side, electrode: &Electrode) -> [String; 8] {
    [
        side.word().to_owned(),
        electrode.material.clone(),
        short(electrode.gross.get(), 5),
        short(electrode.active().get(), 5),
        short(electrode.electrons, 3),
        short(electrode.specific_mah_per_g(), 5),
        short(electrode.capacity().milliampere_hours(), 5),
        electrode.areal_mah_per_cm2().map_or(String::new(), |areal| short(areal, 4)),
    ]
}

fn paired(pairing: &Pairing) -> Vec<(&'static str, Text)> {
    let other = match pairing.limiting {
        Side::Negative => Side::Positive,
        Side::Positive => Side::Negative,
    };
    vec![
        (
            "Ends first",
            format!(
                "the {} electrode, after {} mAh",
                pairing.limiting.word(),
                short(pairing.capacity.milliampere_hours(), 5)
            )
            .into(),
        ),
        ("Ratio", ratio(pairing).into()),
        (
            "Left then",
            format!(
                "{} mAh, {} g of the {} side",
                short(pairing.excess.milliampere_hours(), 4),
                short(pairing.excess_mass.get(), 4),
                other.word()
            )
            .into(),
        ),
        (
            "Both without excess",
            format!(
                "{} g/Ah, {} Ah/kg",
                short(pairing.grams_per_ah, 4),
                short(1000.0 / pairing.grams_per_ah, 4)
            )
            .into(),
        ),
    ]
}

fn ratio(pairing: &Pairing) -> String {
    format!("negative to positive (N/P) {}", short(pairing.ratio, 3))
}

fn at_load(capacity: &CellCapacity) -> Vec<Block> {
    let Some((load, at_load)) = capacity.request.load.zip(capacity.at_load()) else { return Vec::new() };
    let behind = load.internal.map(|ohms| format!(" behind {} Ω", short(ohms.get(), 4))).unwrap_or_default();
    let mut lines: Vec<(&str, Text)> = vec![
        ("Circuit", format!("{} V{behind} on {} Ω", load.open.get(), short(load.resistance.get(), 6)).into()),
        ("Current", format!("{} mA at the beginning", short(at_load.current.get() * 1000.0, 4)).into()),
    ];
    if let Some(density) = at_load.density_ma_per_cm2 {
        lines.push(("Current density", format!("{} mA/cm²", short(density, 3)).into()));
    }
    if let Some(hours) = at_load.hours {
        let share = percent(1.0 / hours, 2);
        lines.push((
            "Would last",
            format!("{} h if that current held ({share} of the capacity an hour)", short(hours, 3)).into(),
        ));
    }
    vec![heading(2, "At the load"), facts(lines)]
}
