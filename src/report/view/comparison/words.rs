//! The conclusion in plain words: size, interval, and what is not shown.

use super::{ComparisonView, Figures, sure};
use crate::report::view::sample_figures::{plain, probability};
use crate::statistics::comparison::{Adjustment, Comparison, Member, Pair, Unit};

/// Below this a difference counts as shown.
pub(super) fn level(comparison: &Comparison) -> f64 {
    1.0 - comparison.question.confidence
}

/// One sentence for each pair, those that are shown first, or why there is none; then what it stands on.
pub fn conclusions(view: &ComparisonView<'_>) -> Vec<String> {
    let (comparison, figures) = (view.comparison, view.figures());
    if comparison.pairs.is_empty() {
        return vec![no_pairs(comparison)];
    }
    let (shown, open): (Vec<&Pair>, Vec<&Pair>) =
        comparison.pairs.iter().partition(|pair| pair.p_adjusted < level(comparison));
    let mut said: Vec<String> = shown.iter().map(|pair| differs(comparison, pair, &figures)).collect();
    said.extend(open.iter().map(|pair| not_shown(comparison, pair, &figures)));
    said.extend(once_made(comparison));
    said.push(stands_on(view));
    said
}

fn no_pairs(comparison: &Comparison) -> String {
    match comparison.question.baseline {
        Some(baseline) if comparison.left_out.contains(&baseline) => {
            let name = &comparison.members[baseline].name;
            let one_batch = comparison.unit == Unit::Batch && comparison.members[baseline].batches == 1;
            if one_batch {
                return format!(
                    "Nothing can be compared with {name}: it was made once, and the unit is the batch. {}",
                    way_out(&comparison.members[baseline].name)
                );
            }
            format!("Nothing can be compared with {name}: it has too few values.")
        }
        _ => "Nothing can be said about a difference: fewer than two groups have enough values, or none of them has any spread. Read \
              more cells, or read to more digits."
            .to_owned(),
    }
}

/// Groups of one batch among groups of several: they have cells, and no part in this.
fn once_made(comparison: &Comparison) -> Option<String> {
    if comparison.unit != Unit::Batch {
        return None;
    }
    let members = comparison.left_out.iter().map(|&place| &comparison.members[place]);
    let names: Vec<&str> =
        members.filter(|member| member.batches == 1).map(|member| member.name.as_str()).collect();
    let first = *names.first()?;
    Some(format!(
        "Nothing is said of {}: made once, and the unit is the batch. {}",
        names.join("; "),
        way_out(first)
    ))
}

fn way_out(name: &str) -> String {
    format!(
        "Make {name} again, or compare lots, by batch: that says how these lots differ, and not how electrolytes do."
    )
}

pub(super) fn names<'c>(comparison: &'c Comparison, pair: &Pair) -> (&'c str, &'c str) {
    (&comparison.members[pair.a].name, &comparison.members[pair.b].name)
}

/// "above" or "below".
fn side(difference: f64) -> &'static str {
    if difference < 0.0 { "below" } else { "above" }
}

fn differs(comparison: &Comparison, pair: &Pair, figures: &Figures) -> String {
    let (a, b) = names(comparison, pair);
    let interval = pair.interval.map(|limits| {
        format!(", {} interval {}", sure(comparison), figures.limits(turned(pair.difference, limits)))
    });
    let size = pair
        .effect
        .map(|effect| format!(", Hedges g {}", plain(effect.hedges_g.abs(), 2)))
        .unwrap_or_default();
    format!(
        "{a} lies {} {} {b} ({}{}{size}).",
        figures.value(pair.difference.abs()),
        side(pair.difference),
        significance(comparison, pair),
        interval.unwrap_or_default()
    )
}

/// Limits of a difference taken as positive.
fn turned(difference: f64, [low, high]: [f64; 2]) -> [f64; 2] {
    if difference < 0.0 { [-high, -low] } else { [low, high] }
}

fn significance(comparison: &Comparison, pair: &Pair) -> String {
    let p = probability(pair.p_adjusted);
    let p = if p.starts_with('<') { format!("p {p}") } else { format!("p = {p}") };
    match comparison.adjustment {
        Adjustment::OnePair => p,
        _ if comparison.question.baseline.is_some() => {
            format!("{p}, adjusted for {} comparisons with the baseline", comparison.pairs.len())
        }
        _ => format!("{p} among all pairs"),
    }
}

fn not_shown(comparison: &Comparison, pair: &Pair, figures: &Figures) -> String {
    let (a, b) = names(comparison, pair);
    let found =
        format!("{a} came out {} {} {b}", figures.value(pair.difference.abs()), side(pair.difference));
    let fits = match pair.interval {
        Some([low, high]) => format!(
            "anything from {} {} to {} {} fits these data",
            figures.value(low.abs()),
            side(low),
            figures.value(high.abs()),
            side(high)
        ),
        None => format!("so few values give no interval at {}", sure(comparison)),
    };
    format!(
        "No difference between {a} and {b} is shown ({}): {found}, and {fits}. That is no evidence that they are equal.",
        significance(comparison, pair)
    )
}

fn stands_on(view: &ComparisonView<'_>) -> String {
    let comparison = view.comparison;
    let one_batch = |member: &&Member| member.batches == 1;
    if comparison.unit == Unit::Batch {
        let least =
            comparison.members.iter().map(|member| member.batches).filter(|&batches| 1 < batches).min();
        let few = match least {
            // So few give no interval by ranks.
            Some(2) if comparison.pairs.iter().any(|pair| pair.interval.is_none()) => {
                " Two batches tell little of how batches scatter, and ranks of so few can't reach a small p."
            }
            Some(2) => {
                " Two batches tell little of how batches scatter: take the interval, and not p or g, as the answer."
            }
            _ => "",
        };
        return format!(
            "This stands on the means of batches: it speaks of electrolytes that were made more than once.{few}"
        );
    }
    if view.groups_are_batches {
        return "This stands on cells, and speaks of these batches: not of the electrolytes that they are made by.".to_owned();
    }
    if !view.batched {
        return "This stands on cells. Nothing says which came from which batch: if each electrolyte was made once, it speaks of those \
                batches, not of the electrolytes."
            .to_owned();
    }
    let names: Vec<&str> =
        comparison.members.iter().filter(one_batch).map(|member| member.name.as_str()).collect();
    format!(
        "This stands on cells, and {} came from one batch each: a difference may be one of batches. To speak of electrolytes, make each \
         of them at least twice more.",
        names.join(", ")
    )
}
