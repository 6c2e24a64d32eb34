//! What is in a batch, through all that was put in, taken out and titrated, and through the batches that went
//! into it.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::frozen::balance;
use super::water::evaluate;
use crate::component::{Component, RatioBasis};
use crate::plan::{
    Balance, Correction, InAir, Made, MadeAddition, MadeAs, MadeContent, TargetLine, Targets, Weighed,
    Weighing, made,
};
use crate::quantity::{Density, Mass, MassFraction, Typed};
use crate::record::Code;
use crate::record::batch::{FrozenPart, FrozenPlan};
use crate::record::life::{BatchLife, PutIn, Reason, Recorded};

/// Batches by code.
pub type Lives = BTreeMap<Code, BatchLife>;

/// Follows batches through their records.
pub struct Mixer<'l> {
    /// The batch and all that are upstream of it.
    pub lives: &'l Lives,
    /// True if a titration replaces the water that the masses and bottles say.
    pub by_titration: bool,
}

/// Something put in, with what it is.
enum Item<'l> {
    Component { weighed: &'l crate::record::batch::Weighed, bottle: Option<String>, in_air: Option<InAir> },
    Batch { code: String, made: Box<Made>, mass: Mass },
}

/// How a batch is looked at.
struct View {
    basis: RatioBasis,
    parts: Vec<Arc<Component>>,
    weighing: Weighing,
    balance: Option<Balance>,
}

impl View {
    fn of(plan: &FrozenPlan) -> Self {
        let parts = plan.lines.iter().filter(|line| matches!(line.part, FrozenPart::Ratio(_)));
        Self {
            basis: plan.basis,
            parts: parts.map(|line| Arc::clone(&line.component)).collect(),
            weighing: if plan.cumulative { Weighing::Cumulative } else { Weighing::Each },
            balance: balance(plan),
        }
    }

    fn as_made(&self) -> MadeAs<'_> {
        MadeAs { basis: self.basis, parts: &self.parts, weighing: self.weighing }
    }

    fn made(&self, items: &[Item<'_>]) -> Made {
        let additions: Vec<MadeAddition<'_>> = items.iter().map(|item| self.addition(item)).collect();
        made(&additions, &self.as_made())
    }

    fn addition<'i>(&'i self, item: &'i Item<'_>) -> MadeAddition<'i> {
        let balance = self.balance.as_ref();
        match item {
            Item::Component { weighed, bottle, in_air } => MadeAddition {
                content: MadeContent::Component {
                    component: &weighed.entry,
                    quality: &weighed.quality,
                    bottle: bottle.as_deref(),
                },
                reading: weighed.mass.value,
                balance,
                in_air: *in_air,
            },
            Item::Batch { code, made, mass } => MadeAddition {
                content: MadeContent::Batch { code, made },
                reading: *mass,
                balance,
                in_air: None,
            },
        }
    }
}

impl Mixer<'_> {
    /// What the batch was just before an entry; `None` while nothing is in it.
    ///
    /// Between two additions something may have been taken out or titrated: then what was left goes on as one
    /// thing of known composition.
    pub fn made_before(&self, code: &Code, entry: u64) -> Option<Made> {
        let life = self.lives.get(code)?;
        let view = self.view(life)?;
        let mut items: Vec<Item<'_>> = Vec::new();
        let mut last = None;
        for put in life.put_in.iter().filter(|put| put.entry < entry) {
            if let Some(last) = last.filter(|last| self.interrupted(life, *last, put.entry)) {
                let made = self.titrated(view.made(&items), life, (last, put.entry), &view);
                let mass = Mass::new(life.left_before_g(put.entry));
                items = vec![Item::Batch { code: code.to_string(), made: Box::new(made), mass }];
            }
            items.extend(self.item(life, put));
            last = Some(put.entry);
        }
        let made = view.made(&items);
        (Mass::ZERO < made.mass).then(|| self.titrated(made, life, (last.unwrap_or(0), entry), &view))
    }

    /// The view of the plan; that of the first batch put in for a blend, or none where that leads nowhere.
    fn view(&self, life: &BatchLife) -> Option<View> {
        if let Some(plan) = life.plan() {
            return Some(View::of(plan));
        }
        let first = life.put_in.iter().find_map(|put| match &put.what {
            PutIn::Batch(added) => self.lives.get(&added.from).map(|from| (from, put.entry)),
            PutIn::Component(_) => None,
        });
        first.and_then(|(from, _)| self.view(from))
    }

    fn interrupted(&self, life: &BatchLife, from: u64, to: u64) -> bool {
        let between = |entry: u64| from < entry && entry < to;
        let moved = life
            .movements
            .iter()
            .any(|movement| between(movement.entry) && movement.reason != Reason::PutIn.words());
        moved || (self.by_titration && life.water.iter().any(|water| between(water.entry)))
    }

    /// The same with its water as titrated last between two entries.
    fn titrated(&self, made: Made, life: &BatchLife, (from, to): (u64, u64), view: &View) -> Made {
        let last = life.water.iter().rfind(|water| from < water.entry && water.entry < to);
        let result = last.filter(|_| self.by_titration).and_then(|last| evaluate(&last.what));
        let Some(result) = result else { return made };
        let u = result.standard_uncertainty.map(MassFraction::new);
        let source = format!("water of {}", life.code);
        made.with_measured_water(MassFraction::new(result.fraction), u, &source, &view.as_made())
    }

    fn item<'i>(&'i self, life: &'i BatchLife, put: &'i Recorded<PutIn>) -> Option<Item<'i>> {
        match &put.what {
            PutIn::Component(weighed) => {
                let line = life
                    .plan()
                    .and_then(|plan| plan.lines.iter().find(|line| line.component.id == weighed.component));
                let in_air = line
                    .and_then(|line| line.in_air_g_per_ml)
                    .map(|(air, sample)| InAir { air: Density::new(air), sample: Density::new(sample) });
                let bottle = weighed.from.as_ref().map(ToString::to_string);
                Some(Item::Component { weighed, bottle, in_air })
            }
            PutIn::Batch(added) => {
                let made = Box::new(self.made_before(&added.from, put.entry)?);
                Some(Item::Batch { code: added.from.to_string(), made, mass: added.mass.value })
            }
        }
    }

    /// What was put in, as masses of the plan's own bottles: a bottle of another quality, or a stock solution,
    /// counts for as much as it brings of what the ratio counts.
    pub(super) fn counting_for(&self, life: &BatchLife, targets: &Targets) -> Vec<Weighed> {
        let counting = life.put_in.iter().flat_map(|put| match &put.what {
            PutIn::Component(weighed) => of_component(life, weighed, targets).into_iter().collect::<Vec<_>>(),
            PutIn::Batch(added) => {
                let made = self.made_before(&added.from, put.entry);
                made.map_or_else(Vec::new, |made| of_batch(&made, added.mass.value, targets))
            }
        });
        counting.collect()
    }
}

fn of_component(
    life: &BatchLife,
    weighed: &crate::record::batch::Weighed,
    targets: &Targets,
) -> Option<Weighed> {
    targets.line(weighed.component.as_str())?;
    let plan = life.plan()?;
    let line = plan.lines.iter().find(|line| line.component.id == weighed.component)?;
    let mut mass = weighed.mass.clone();
    if line.quality != weighed.quality && !weighed.entry.is_water() {
        let counted = |quality| Correction::of_gross(Mass::new(1.0), &weighed.entry, quality).anhydrous;
        mass.value = mass.value * (counted(&weighed.quality) / counted(&line.quality));
    }
    Some(Weighed { component: weighed.component.clone(), mass })
}

fn of_batch(made: &Made, mass: Mass, targets: &Targets) -> Vec<Weighed> {
    if made.mass <= Mass::ZERO {
        return Vec::new();
    }
    let share = mass / made.mass;
    let weighed = |line: &TargetLine| {
        let value = if line.is_water() {
            made.water.mass * share
        } else {
            let own = made.estimates.components.iter().find(|own| own.component.id == line.component)?;
            let counted = match targets.basis {
                RatioBasis::Mole => own.amount.as_ref().map_or(own.named.value, |amount| amount.value),
                RatioBasis::Mass => own.named.value,
            };
            line.target * (counted * share / line.counted)
        };
        let mass = Typed { text: format!("{value}"), value, decimal_comma: false };
        (Mass::ZERO < value).then(|| Weighed { component: line.component.clone(), mass })
    };
    targets.lines.iter().filter_map(weighed).collect()
}
