//! What `blend` shows.

use super::amount::{mass, percent, short};
use crate::component::{ComponentId, Composition};
use crate::input::Warning;
use crate::plan::{Added, Blend};
use crate::quantity::{Mass, significant};
use crate::report::document::{
    Block, Document, Table, big, bullets, column, facts, heading, paragraph, text,
};

/// The blend without warnings and cautions, which stand beside it. `wish` is what was asked, as typed. The
/// first table has one row for each thing to add, or without a wish for each component.
pub fn blend_document(blend: &Blend, wish: &[(&str, String)]) -> Document {
    let mut lines: Vec<(String, String)> = Vec::new();
    for (place, liquid) in (1..).zip(&blend.liquids) {
        let text = format!("{} g of {}", mass(liquid.mass, None), liquid.source.text());
        lines.push((format!("Liquid {place}"), text));
    }
    lines.extend(wish.iter().map(|(label, text)| ((*label).to_owned(), text.clone())));
    let title = if 1 < blend.liquids.len() { "Blend" } else { "Liquid" };
    let mut document = Document::new(title).with(facts(lines));
    if let Some((_, adjustment)) = &blend.wish {
        document.extend(what_to_add(blend, &adjustment.additions));
        if let Some(instead) = &adjustment.instead {
            document.push(heading(1, "Instead of drying"));
            document.push(paragraph("This much of everything dilutes the water to the same end:"));
            document.push(additions(instead));
        }
        document.push(heading(1, "Before anything is added"));
        document.push(state(blend, &blend.composition));
        let undried = if blend.dry_first().is_some() { ", undried" } else { "" };
        document.push(heading(1, format!("When it is in{undried}")));
    }
    document.push(state(blend, blend.result()));
    document.push(composition(blend.result()));
    document
}

/// What the numbers count.
pub fn blend_background(blend: &Blend) -> Vec<Block> {
    let conventions = bullets(blend.conventions().into_iter().map(|convention| convention.text));
    vec![heading(1, "What these numbers count"), conventions.into()]
}

fn what_to_add(blend: &Blend, list: &[Added]) -> Vec<Block> {
    let mut blocks = vec![heading(1, "What to add")];
    match (list, blend.dry_first()) {
        ([], None) => blocks.push(paragraph("Nothing: it is what is asked for.")),
        ([], Some(dry)) => {
            blocks.push(paragraph(format!("Nothing, once {} g of water are dried off.", mass(dry, None))))
        }
        (list, dry) => {
            if let Some(dry) = dry {
                blocks.push(paragraph(format!("Once {} g of water are dried off:", mass(dry, None))));
            }
            blocks.push(additions(list).into());
        }
    }
    blocks
}

fn additions(list: &[Added]) -> Table {
    let mut table = Table::new([
        column("Component").key("component"),
        column("Add").unit("g").key("weigh_g").decimal(),
        column("Out of").key("bottle"),
    ]);
    for added in list {
        let bottle = added.supply.label.clone().unwrap_or_default();
        table.push([text(added.component.id.as_str()), big(mass(added.weigh(), None)), text(bottle)]);
    }
    table
}

fn state(blend: &Blend, composition: &Composition) -> Block {
    let fraction = short(composition.water_fraction().percent(), 4);
    let mut lines = vec![
        ("Ratio", ratio(&blend.ratio_as.of(composition))),
        ("Mass", format!("{} g", mass(composition.mass(), None))),
        ("Water", format!("{} g, {fraction} wt%", mass(composition.water, None))),
    ];
    if Mass::ZERO < composition.unknown {
        let fraction = percent(composition.unknown_fraction().get(), 3);
        lines.push(("Impurities", format!("{} g, {fraction}", mass(composition.unknown, None))));
    }
    facts(lines)
}

/// `choline-chloride 1 : urea 2.2`; a component without moles has no number.
fn ratio(ratio: &[(ComponentId, Option<f64>)]) -> String {
    let one = |(id, number): &(ComponentId, Option<f64>)| match number {
        Some(number) => format!("{id} {}", short(*number, 6)),
        None => format!("{id} (no moles)"),
    };
    ratio.iter().map(one).collect::<Vec<_>>().join(" : ")
}

fn composition(composition: &Composition) -> Table {
    let mut table = Table::new([
        column("Component").key("component"),
        column("Amount").unit("mmol").key("amount_mmol").decimal(),
        column("Pure").unit("g").key("dry_pure_g").decimal(),
        column("x, water counted").key("mole_fraction").decimal(),
        column("x, water not counted").key("mole_fraction_dry").decimal(),
        column("Mass fraction").unit("wt%").key("mass_percent").decimal(),
    ]);
    let number = |value: Option<f64>| value.map_or(String::new(), |value| format!("{value:.4}"));
    for share in composition.shares(None) {
        let own = composition.constituent(&share.component);
        let amount = own.map_or(Some(composition.water_amount()), |own| own.amount);
        let grams = own.map_or(composition.water, |own| own.anhydrous);
        table.push([
            share.component,
            amount.map_or(String::new(), |amount| significant(amount.get() * 1e3, 5)),
            mass(grams, None),
            number(share.mole_fraction.map(|x| x.get())),
            number(share.mole_fraction_dry.map(|x| x.get())),
            format!("{:.3}", share.mass_fraction.percent()),
        ]);
    }
    table
}

/// What the person should know about this blend.
pub fn blend_warnings(blend: &Blend) -> Vec<Warning> {
    let mut warnings: Vec<Warning> = blend.dry_first().map(|dry| dry_first(blend, dry)).into_iter().collect();
    for id in blend.not_in_wish() {
        let message = format!("{id} stays in the liquid: the ratio that is asked for does not name it");
        warnings.push(Warning::new("not_in_wish", message));
    }
    warnings
}

fn dry_first(blend: &Blend, dry: Mass) -> Warning {
    let result = blend.result();
    let asked = blend.wish.as_ref().and_then(|(wish, _)| wish.water);
    let asked = asked
        .map_or("the water of the ratio".to_owned(), |water| format!("{} wt%", short(water.percent(), 6)));
    let brought = result.water - blend.composition.water;
    let with = if Mass::ZERO < brought {
        format!(" and what is added brings {} g more", mass(brought, None))
    } else {
        String::new()
    };
    let beyond = if blend.composition.water < dry {
        "; the liquid does not hold as much, so what is added must be dried too"
    } else {
        ""
    };
    let message = format!(
        "dry first: the liquid holds {} g of water ({} wt%){with}, and {asked} is asked for; {} g must be dried \
         off{beyond}",
        mass(blend.composition.water, None),
        short(blend.composition.water_fraction().percent(), 4),
        mass(dry, None)
    );
    Warning::new("dry_first", message)
}
