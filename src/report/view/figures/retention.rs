//! Charge retention: what stored cells still give.

use crate::cell::{Retention, Set};
use crate::report::document::{Block, Text, facts, paragraph};
use crate::report::view::amount::short;

pub(super) fn blocks(retention: Option<&Retention>, storage: Option<&str>) -> Vec<Block> {
    let Some(retention) = retention else { return Vec::new() };
    let percent = |share: f64, digits: usize| format!("{} %", short(share * 100.0, digits));
    let spread = match retention.uncertainty {
        Some(u) => format!(", standard uncertainty {} from the spread of both sets", percent(u, 2)),
        None => ", its uncertainty not known: a set of one has no spread".to_owned(),
    };
    let mut lines: Vec<(&str, Text)> = vec![
        ("Fresh", set(&retention.fresh).into()),
        ("Stored", set(&retention.stored).into()),
        ("Storage", storage.unwrap_or_default().into()),
        ("Retention", format!("{}{spread}", percent(retention.retention, 4)).into()),
        (
            "Lost",
            format!(
                "{} mAh for each cell, {} mAh a week",
                short(retention.lost_mah(), 4),
                short(retention.lost_mah() / retention.weeks(), 4)
            )
            .into(),
        ),
        ("Loss", {
            let month = retention.loss_per_30_days();
            let month = month.map(|loss| format!("; {} in 30 d if the share is constant", percent(loss, 3)));
            format!("{} a week if even{}", percent(retention.loss_per_week(), 3), month.unwrap_or_default())
                .into()
        }),
    ];
    let current = if retention.lost_mah() <= 0.0 {
        "none: the stored cells gave no less than the fresh ones, so no loss is shown; what came out is scatter between cells"
            .to_owned()
    } else {
        format!(
            "{} µA, if it had flowed all the time: from the lost charge alone",
            short(retention.parasitic_amperes() * 1e6, 4)
        )
    };
    lines.push(("Equivalent current", current.into()));
    let note = "Stored over fresh cells of one lot, discharged the same way down to one voltage (the ratio of IEC \
                60086-3:2021, 5.4). Other cells were stored than were fresh: what they differed in from the beginning \
                is in it too.";
    vec![facts(lines), paragraph(note)]
}

fn set(set: &Set) -> String {
    let sd = set.sd_mah.map(|sd| format!(", standard deviation {} mAh", short(sd, 3))).unwrap_or_default();
    let n = if set.n == 1 { "1 cell".to_owned() } else { format!("{} cells", set.n) };
    format!("{} mAh, mean of {n}{sd}", short(set.mean_mah, 5))
}
