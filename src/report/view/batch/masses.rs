//! What went in, what that comes to, and where it went.

use crate::plan::{RetargetLine, Window};
use crate::quantity::Mass;
use crate::record::life::PutIn;
use crate::report::document::{Block, Table, big, column, facts, heading, paragraph, text, together};
use crate::report::standing::{Standing, frozen_balance};
use crate::report::view::amount::{ends, mass, percent, short};
use crate::report::view::moment;

/// A mass to the digit of the batch's balance.
pub fn grams_of(standing: &Standing, grams: f64) -> String {
    let balance = standing.life.plan().and_then(frozen_balance);
    mass(Mass::new(grams), balance.as_ref())
}

/// Both ends of a window in words, rounded inward.
pub fn window_in_words(standing: &Standing, (low, high): (f64, f64)) -> String {
    let balance = standing.life.plan().and_then(frozen_balance);
    let window = Window { low: Mass::new(low), high: Mass::new(high) };
    if let Some((low, high)) = balance.as_ref().map(|balance| window.on_display(balance))
        && high < low
    {
        return "no digit of the display lies inside".to_owned();
    }
    let (low, high) = ends(window, balance.as_ref());
    format!("{low} g to {high} g")
}

/// The ratio so far, such as "1 : 2.0001".
pub fn ratio_in_words(standing: &Standing) -> String {
    standing.ratio().iter().map(|(_, number, _)| short(*number, 6)).collect::<Vec<_>>().join(" : ")
}

pub(super) fn weighed(standing: &Standing) -> Block {
    let grams = |grams: f64| grams_of(standing, grams);
    let mut columns = vec![
        column("Component").key("component"),
        column("From").key("bottle"),
        column("Planned").unit("g").key("target_g").decimal(),
        column("Weighed").unit("g").key("actual_g").decimal(),
    ];
    // Nothing is to be added any more once it is made.
    let open = standing.retarget.is_some();
    if open {
        columns.push(column("Add now").unit("g").key("add_g").decimal());
    }
    let width = columns.len();
    let mut table = Table::new(columns);
    let rest = |id: &str| -> Option<&RetargetLine> {
        standing.retarget.as_ref()?.lines.iter().find(|line| line.component.as_str() == id)
    };
    for line in standing.life.plan().map(|plan| plan.lines.as_slice()).unwrap_or_default() {
        let id = line.component.id.as_str();
        let row = [
            text(id),
            text(standing.bottles_of(line).unwrap_or_default()),
            text(grams(line.target_g)),
            text(standing.weighed_g(id).map_or("not yet".to_owned(), grams)),
            rest(id).map_or(text(""), |rest| big(as_fine_as(&grams(line.target_g), rest.to_add().get()))),
        ];
        table.push(row.into_iter().take(width));
    }
    for put in standing.unplanned() {
        let (what, from, mass) = match put {
            PutIn::Component(weighed) => (
                weighed.component.to_string(),
                weighed.from.as_ref().map_or(String::new(), ToString::to_string),
                weighed.mass.value.get(),
            ),
            PutIn::Batch(added) => ("batch".to_owned(), added.from.to_string(), added.mass.value.get()),
        };
        table.push([text(what), text(from), text(""), text(grams(mass)), text("")].into_iter().take(width));
    }
    table.into()
}

/// A mass in grams with as many decimals as its target has: a rest is weighed on the same balance.
fn as_fine_as(target: &str, grams: f64) -> String {
    let decimals = target.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    format!("{grams:.decimals$}")
}

/// Under which conditions it was weighed, where anybody noted them, or why in spite of a limit.
pub(super) fn conditions(standing: &Standing) -> Option<Block> {
    let mut columns = vec![
        column("Entry").key("entry").right(),
        column("On").key("at"),
        column("Component").key("component"),
        column("Weighed").unit("g").key("mass_g").decimal(),
        column("Humidity").key("humidity"),
        column("Bottle open").key("open"),
    ];
    let weighings = standing.life.put_in.iter().filter_map(|put| match &put.what {
        PutIn::Component(weighed) => Some((put.entry, weighed)),
        PutIn::Batch(_) => None,
    });
    let weighings: Vec<_> = weighings.collect();
    let excused = weighings.iter().any(|(_, weighed)| weighed.because.is_some());
    if excused {
        columns.push(column("In spite of a limit").key("because"));
    }
    let width = columns.len();
    let mut table = Table::new(columns);
    for (entry, weighed) in &weighings {
        let row = [
            entry.to_string(),
            moment(weighed.at, &standing.zone),
            weighed.component.to_string(),
            grams_of(standing, weighed.mass.value.get()),
            weighed.humidity.as_ref().map_or(String::new(), |humidity| humidity.text.clone()),
            weighed.open.as_ref().map_or(String::new(), |open| open.text.clone()),
            weighed.because.clone().unwrap_or_default(),
        ];
        table.push(row.into_iter().take(width));
    }
    let noted = weighings.iter().any(|(_, weighed)| weighed.humidity.is_some() || weighed.open.is_some());
    (noted || excused).then(|| together([heading(1, "Weighings"), table.into()]))
}

pub(super) fn ratio(standing: &Standing) -> Vec<Block> {
    let mut blocks = Vec::new();
    let nominal = standing.targets.as_ref().map(|targets| {
        targets.parts().filter_map(|line| line.ratio()).map(|r| short(r, 6)).collect::<Vec<_>>().join(" : ")
    });
    let so_far = standing.ratio();
    if !so_far.is_empty() {
        let names: Vec<&str> = so_far.iter().map(|(name, ..)| name.as_str()).collect();
        let uncertain: Vec<String> =
            so_far.iter().filter_map(|(name, _, u)| Some(format!("{name} ± {}", short((*u)?, 2)))).collect();
        let mut sentence = format!("Ratio {} is {}", names.join(" : "), ratio_in_words(standing));
        if let Some(nominal) = nominal.filter(|nominal| !nominal.is_empty()) {
            sentence.push_str(&format!("; nominal {nominal}"));
        }
        if !uncertain.is_empty() {
            sentence.push_str(&format!("; standard uncertainty {}", uncertain.join(", ")));
        }
        let unstated = standing.unstated();
        let left_out =
            if unstated.is_empty() { String::new() } else { format!(", without {}", unstated.join("; ")) };
        blocks.push(paragraph(format!("{sentence}{left_out}.")));
    }
    if let Some(retarget) = &standing.retarget {
        blocks.push(paragraph(format!(
            "With what is to be added, the batch becomes {} g, off by {} at most.",
            grams_of(standing, retarget.batch.get()),
            percent(retarget.deviation_after, 3)
        )));
        for line in retarget.lines.iter().filter(|line| Mass::ZERO < line.missing) {
            blocks.push(paragraph(format!(
                "{}: {} g more is needed than the planned bottle holds.",
                line.component,
                grams_of(standing, line.missing.get())
            )));
        }
    }
    blocks
}

/// Made, dispensed, wasted, left, and what weighing back found beyond that.
pub(super) fn balance_of_masses(standing: &Standing) -> Block {
    let life = &standing.life;
    let grams = |value: f64| format!("{} g", grams_of(standing, value));
    let mut lines = vec![("Put in", grams(life.put_in_g()))];
    let lost = life.lost_g();
    if life.finished.as_ref().is_some_and(|finished| finished.what.mass.is_some()) {
        let share = percent(lost.abs() / life.put_in_g().max(f64::MIN_POSITIVE), 2);
        let words = if lost < 0.0 { "gained in making" } else { "lost in making" };
        lines.push(("Made", format!("{}: {} ({share}) {words}", grams(life.total_g()), grams(lost.abs()))));
    } else {
        lines.push(("Made", grams(life.total_g())));
    }
    lines.push(("Dispensed", grams(life.dispensed_g())));
    let titrated = life.sampled_g();
    let of_which =
        if 0.0 < titrated { format!(", {} of it titrated", grams(titrated)) } else { String::new() };
    lines.push(("Wasted", format!("{}{of_which}", grams(life.wasted_g()))));
    lines.push(("Left", grams(life.left_g())));
    let difference = life.difference_g();
    if difference != 0.0 {
        let words = if difference < 0.0 { "less" } else { "more" };
        lines.push(("Difference", format!("{} {words} than the records add up to", grams(difference.abs()))));
    }
    together([heading(1, "Masses"), facts(lines)])
}
