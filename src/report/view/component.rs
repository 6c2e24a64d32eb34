//! The component table and one of its entries.

use std::sync::Arc;

use super::amount::short;
use crate::component::{Component, HazardBasis};
use crate::quantity::to_digits_of;
use crate::report::document::{Block, Document, Table, Text, column, facts, heading, paragraph};

/// One row for each component.
pub fn component_list<'c>(components: impl IntoIterator<Item = &'c Arc<Component>>) -> Document {
    let mut table = Table::new([
        column("Component").key("component"),
        column("Roles").key("roles"),
        column("CAS").key("cas"),
        column("Molar mass").unit("g/mol").key("molar_mass_g_per_mol").decimal(),
        column("Hazard data").key("hazard_basis"),
        column("Also").key("aliases").if_room(),
        column("Formula").key("formula").if_room(),
    ]);
    for component in components {
        table.push([
            component.id.to_string(),
            roles(component),
            component.cas.as_ref().map_or(String::new(), ToString::to_string),
            molar_mass(component),
            hazard_in_short(component),
            component.aliases.join(", "),
            component.formula.as_ref().map_or(String::new(), |formula| formula.text().to_owned()),
        ]);
    }
    Document::new("Components").with(table)
}

fn roles(component: &Component) -> String {
    component.roles.iter().map(|role| role.word()).collect::<Vec<_>>().join(", ")
}

fn molar_mass(component: &Component) -> String {
    component.formula.as_ref().map_or(String::new(), |formula| {
        to_digits_of(formula.molar_mass().get(), formula.molar_mass_uncertainty().get(), 4)
    })
}

fn hazard_in_short(component: &Component) -> String {
    let hazard = &component.hazard;
    match hazard.basis {
        HazardBasis::NoneFound => "no data".to_owned(),
        basis if hazard.codes.is_empty() => format!("{}: no code given", basis.word()),
        basis => format!("{}: {}", basis.word(), hazard.codes.join(" ")),
    }
}

/// All that is known of one component, each value with its source.
pub fn component_document(component: &Component) -> Document {
    let mut document = Document::new(component.name.as_str()).with(identity(component));
    document.push(properties(component));
    document.push(heading(1, "Hazard data"));
    document.extend(hazard(component));
    if let Some(note) = &component.note {
        document.push(paragraph(format!("Note: {note}")));
    }
    document
}

fn identity(component: &Component) -> Block {
    let unknown = || "not in the table".to_owned();
    let mut lines = vec![
        ("Id", component.id.to_string()),
        ("Also", component.aliases.join(", ")),
        ("Roles", roles(component)),
        ("CAS number", component.cas.as_ref().map_or_else(unknown, ToString::to_string)),
        ("Formula", component.formula.as_ref().map_or_else(unknown, |formula| formula.text().to_owned())),
    ];
    if component.formula.is_some() {
        lines.push(("Molar mass", format!("{} g/mol, computed from the formula", molar_mass(component))));
    }
    if 0.0 < component.crystal_water() {
        lines.push(("Crystal water", format!("{} mol per mol", short(component.crystal_water(), 4))));
    }
    if let Some(parent) = &component.hydrate_of {
        lines.push(("Hydrate of", parent.to_string()));
    }
    lines.push(("State at 25 °C", component.state.map_or_else(unknown, |state| state.word().to_owned())));
    let groups: Vec<&str> = component.groups.iter().map(|group| group.as_str()).collect();
    if !groups.is_empty() {
        lines.push(("Reactive groups", groups.join(", ")));
    }
    lines.push(("Source", component.identity.clone()));
    lines.retain(|(_, value)| !value.is_empty());
    facts(lines)
}

fn properties(component: &Component) -> Table {
    let mut table = Table::new([
        column("Property").key("property"),
        column("Value").key("value"),
        column("Source").key("source"),
    ]);
    let mut row =
        |property: &str, value: String, source: &str| table.push([property, value.as_str(), source]);
    if let Some(h) = &component.hygroscopic {
        row("hygroscopic", h.level.word().to_owned(), &h.source);
    }
    for d in &component.density {
        let slope = d.slope.map_or(String::new(), |s| format!(", {} g/mL per K", short(s.get(), 4)));
        row(
            "density",
            format!("{} g/mL at {} °C{slope}", short(d.value.get(), 6), d.at.celsius()),
            &d.source,
        );
    }
    for m in &component.melting {
        row("melting point", format!("{:.2} °C ({} K)", m.at.celsius(), m.at.kelvin()), &m.source);
    }
    for f in &component.fusion {
        let u = f.enthalpy_u.map_or(String::new(), |u| format!(" (u {} J/mol)", short(u.get(), 3)));
        let at_u = f.at_u_k.map_or(String::new(), |u| format!(" (u {u} K)"));
        let value = format!("{} J/mol{u} at {} K{at_u}", short(f.enthalpy.get(), 6), f.at.kelvin());
        row("enthalpy of fusion", value, &f.source);
    }
    for t in &component.transition {
        let enthalpy = t.enthalpy.map_or(String::new(), |h| format!(", {} J/mol", short(h.get(), 6)));
        row("solid transition", format!("{} at {} K{enthalpy}", t.name, t.at.kelvin()), &t.source);
    }
    for h in &component.heat_limit {
        let at = h.at.map_or(String::new(), |at| format!("{} °C: ", at.celsius()));
        row("on heating", format!("{at}{}", h.what), &h.source);
    }
    if table.rows().is_empty() {
        table.push(["no property", "the table has none", ""]);
    }
    table
}

fn hazard(component: &Component) -> Vec<Block> {
    let hazard = &component.hazard;
    if hazard.basis == HazardBasis::NoneFound {
        let mut text = String::from(
            "No hazard data were found for this component. That says nothing about the substance: read the \
             supplier's safety data sheet.",
        );
        if let Some(note) = &hazard.note {
            text.push_str(&format!(" Note: {note}."));
        }
        return vec![paragraph(text), facts([("Looked at", hazard.source.clone())])];
    }
    let codes = if hazard.codes.is_empty() {
        "the source gives no code; that is not proof of no hazard".to_owned()
    } else {
        hazard.codes.join(", ")
    };
    let mut lines: Vec<(&str, Text)> = vec![("Basis", hazard.basis.word().into()), ("H codes", codes.into())];
    let mut optional = |label, value: Option<String>| lines.extend(value.map(|value| (label, value.into())));
    optional("EUH codes", (!hazard.euh.is_empty()).then(|| hazard.euh.join(", ")));
    optional("Classes", (!hazard.classes.is_empty()).then(|| hazard.classes.join("; ")));
    optional("Index number", hazard.index_no.clone());
    optional("Limits", hazard.limits.clone());
    optional("Oral estimate", hazard.ate_oral_mg_per_kg.map(|ate| format!("{ate} mg/kg, for mixtures")));
    optional("Confidence", hazard.confidence.clone());
    optional("Note", hazard.note.clone());
    optional("Source", Some(hazard.source.clone()));
    vec![facts(lines), paragraph("The supplier's safety data sheet wins over this table.")]
}
