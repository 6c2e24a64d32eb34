//! What was asked, and what each column rests on.

use super::model::{Candidate, CandidatesView};
use super::words;
use crate::compose::candidates::LimitKind;
use crate::report::document::{Block, Table, Text, bullets, column, facts, heading, strong};
use crate::report::view::short;

/// What was combined, and the limits.
pub(super) fn asked(view: &CandidatesView) -> Block {
    let default = |is: bool| if is { " (default)" } else { "" };
    let mut lines: Vec<(String, String)> = Vec::new();
    for list in &view.lists {
        let mut name = list.flag.clone();
        name[..1].make_ascii_uppercase();
        lines.push((name, format!("{}{}", list.words.join(", "), default(list.by_default))));
    }
    let ratios: Vec<String> = view
        .ratios
        .moles
        .iter()
        .map(|moles| moles.iter().map(f64::to_string).collect::<Vec<_>>().join(":"))
        .collect();
    lines.push((
        "Ratios".to_owned(),
        format!("{} by moles{}", ratios.join(", "), default(view.ratios.by_default)),
    ));
    let limits = limits(view);
    let limits = if limits.is_empty() { "none".to_owned() } else { limits.join("; ") };
    lines.push(("Your limits".to_owned(), limits));
    lines.extend(left_out(view).map(|words| ("Left out".to_owned(), words)));
    facts(lines)
}

fn limits(view: &CandidatesView) -> Vec<String> {
    let (limits, texts) = (&view.limits, &view.texts);
    let each = [
        texts.liquid_at.as_ref().map(|text| format!("liquid at {text}")),
        limits.hazards_below.map(|level| format!("signal word below {}", words::signal_level(level))),
        limits.alerts_below.map(|level| format!("alerts below {}", words::alert_level(level).to_lowercase())),
        texts.price.as_ref().map(|text| format!("below {text}")),
        limits.hygroscopic_below.map(|level| format!("water uptake below {}", level.word())),
        texts.in_house.as_ref().map(|text| format!("{text} from what is in the house")),
    ];
    each.into_iter().flatten().collect()
}

fn left_out(view: &CandidatesView) -> Option<String> {
    let each = [
        (view.with_itself, "in which a component would meet itself"),
        (view.again, "that are the same composition the other way round"),
    ];
    let said: Vec<String> = each
        .iter()
        .filter(|(count, _)| 0 < *count)
        .map(|(count, words)| format!("{count} {words}"))
        .collect();
    (!said.is_empty()).then(|| said.join(", "))
}

/// One point for each column.
pub(super) fn columns(view: &CandidatesView) -> Block {
    let mut points = vec![liquid().to_owned(), hazards(view), alerts().to_owned()];
    points.extend(price(view));
    points.push(
        "Takes up water: the worst level of the component table (none, moderate within hours or days, strong within \
         minutes), each with its source there; the mixture itself was not looked at."
            .to_owned(),
    );
    points.extend(house(view));
    bullets(points).into()
}

fn liquid() -> &'static str {
    "Liquid from: measured, a published melting point of this composition (a eutectic of the pair at another \
     or an unstated composition only says how low it can't melt: it may say no and never yes, and a melting point below \
     it contradicts it, so that nobody can tell unless it was seen as a liquid between that eutectic and your \
     temperature); seen, the lowest temperature at which a \
     published density, viscosity or conductivity of it was measured, stable or supercooled; ideal, the liquidus by the \
     relation of Schröder and van Laar for an ideal liquid, a range where published fusion data disagree, salts as one \
     formula unit. Components that attract each other melt lower than that, so that an ideal liquidus above your \
     temperature rules nothing out; those that repel each other melt higher, so that one below it proves nothing."
}

fn hazards(view: &CandidatesView) -> String {
    format!(
        "Signal word: of the mixture by {}, from pure components, with what is presumed of a strong acid or base; \
         none found: by what the sources say, which proves nothing; or more: of a component no hazard data were found, \
         and that counts as unknown.",
        view.scheme.title()
    )
}

fn alerts() -> &'static str {
    "Alert: the gravest rule that speaks for these components together, neither heated nor closed in (note, warn, \
     block); none proves nothing. What blocks is never proposed."
}

fn price(view: &CandidatesView) -> Option<String> {
    let prices = &view.prices;
    if prices.per_gram.is_empty() && !view.limits.asks(LimitKind::Price) {
        return None;
    }
    let mut words = format!(
        "Price: by the mass of each component, as if it were pure; {} from your file, {} from the bottles of the book; \
         nothing is built in, and work and waste are not counted.",
        prices.from_file, prices.from_bottles
    );
    if !prices.other_currency.is_empty() {
        let each: Vec<String> =
            prices.other_currency.iter().map(|(id, currency)| format!("{id} ({currency})")).collect();
        words.push_str(&format!(" Left out, in another currency: {}.", each.join(", ")));
    }
    Some(words)
}

fn house(view: &CandidatesView) -> Option<String> {
    match &view.stock.grams {
        Some(_) => Some(
            "House: the largest batch that the bottles of the book allow now, as if their content were pure: a real \
             bottle gives a little less. A bottle past its date or given to waste does not count."
                .to_owned(),
        ),
        None if view.limits.asks(LimitKind::InHouse) => {
            Some("House: no data, since there is no book.".to_owned())
        }
        None => None,
    }
}

/// What is known of the shown ones already, with its sources.
pub(super) fn known(shown: &[&Candidate]) -> Vec<Block> {
    let points: Vec<Text> = shown.iter().filter_map(|own| known_of(own)).collect();
    if points.is_empty() {
        return Vec::new();
    }
    vec![heading(1, "Known already"), bullets(points).into()]
}

fn known_of(own: &Candidate) -> Option<Text> {
    let measured = own.measured.iter().map(|point| {
        let at = words::celsius(point.temperature.kelvin());
        let least = if point.is_least { "melts no lower than " } else { "" };
        format!("{least}{at}\u{a0}°C, {} ({})", point.what, point.source)
    });
    let seen = own.seen.iter().map(|seen| {
        let at = words::celsius(seen.temperature.kelvin());
        format!("{} measured as a liquid at {at}\u{a0}°C ({})", seen.property, seen.source)
    });
    let recipes =
        own.recipes.iter().map(|recipe| format!("worked recipe {} ({})", recipe.name, recipe.source));
    let all: Vec<String> = measured.chain(seen).chain(recipes).collect();
    let name = strong(words::short_recipe(&own.combination));
    (!all.is_empty()).then(|| name.then(format!(": {}.", all.join("; "))))
}

/// The fusion data that the shown ideal liquidus rest on, each once.
pub(super) fn fusion(shown: &[&Candidate]) -> Vec<Block> {
    let mut rows: Vec<[String; 4]> = Vec::new();
    for own in shown {
        for set in &own.ideal.sets {
            for ((component, _), (fusion, source)) in own.combination.parts.iter().zip(&set.fusion) {
                let row = [
                    component.name.clone(),
                    words::celsius(fusion.melting.kelvin()),
                    short(fusion.enthalpy.get() / 1000.0, 4),
                    source.clone(),
                ];
                if !rows.contains(&row) {
                    rows.push(row);
                }
            }
        }
    }
    rows.sort();
    let mut table = Table::new([
        column("Component"),
        column("Melts").unit("°C").decimal(),
        column("Enthalpy").unit("kJ/mol").decimal(),
        column("Source"),
    ]);
    rows.into_iter().for_each(|row| table.push(row));
    if table.rows().is_empty() {
        return Vec::new();
    }
    vec![heading(1, "Fusion data"), table.into()]
}
