//! How a batch stands: what the records of it come to by the planner's arithmetic. Nothing here is stored;
//! a correction of one mass changes all of it.

mod frozen;
mod mix;
mod verdict;
mod water;

use std::collections::BTreeMap;

use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};

use crate::component::{ComponentId, RatioBasis};
use crate::plan::{Made, Retarget, Targets, retarget};
use crate::record::Code;
use crate::record::batch::{FrozenLine, WaterMeasured};
use crate::record::life::{BatchLife, BatchStatus, PutIn, Recorded};
use crate::record::limit::Comparison;
use crate::record::schedule::{Look, looks};

pub use frozen::freeze;
pub(crate) use frozen::{balance as frozen_balance, targets};
pub use mix::{Lives, Mixer};
pub use water::{WaterResult, evaluate};

/// One measurement of water beside what was to be expected then.
#[derive(Debug, Clone, PartialEq)]
pub struct WaterPoint {
    /// Sequence of its entry.
    pub entry: u64,
    /// The measurement.
    pub measured: WaterMeasured,
    /// Its result.
    pub result: WaterResult,
    /// What the masses and bottles said at that time, as a mass fraction.
    pub predicted: Option<f64>,
    /// Standard uncertainty of that.
    pub predicted_uncertainty: Option<f64>,
}

/// How a batch stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// The zone in which its times are shown.
    pub zone: TimeZone,
    /// The records.
    pub life: BatchLife,
    /// What it is by what was put in; `None` while nothing is.
    pub made: Option<Made>,
    /// What it is by the last titration and what was put in since; `None` if it was never titrated.
    pub titrated: Option<Made>,
    /// The targets of its plan, with what is left in the bottles; `None` for a blend.
    pub targets: Option<Targets>,
    /// The rest to weigh, while it is being weighed.
    pub retarget: Option<Retarget>,
    /// The window of each planned component in grams, as all others stand.
    pub windows: Vec<(ComponentId, f64, f64)>,
    /// Water, in order.
    pub water: Vec<WaterPoint>,
    /// Each limit against the latest.
    pub comparisons: Vec<Comparison>,
    /// Planned looks.
    pub looks: Vec<Look>,
}

impl Standing {
    /// How the batch `code` of `lives` stands at `now`. `lives` holds every batch upstream of it; `left` says
    /// what bottles hold, in grams. `None` if `lives` does not hold it.
    pub fn of(lives: &Lives, code: &Code, left: &BTreeMap<Code, f64>, now: &ZonedDateTime) -> Option<Self> {
        let life = lives.get(code)?.clone();
        let (zone, now) = (now.time_zone().clone(), now.timestamp());
        let by_weighing = Mixer { lives, by_titration: false };
        let made = by_weighing.made_before(code, u64::MAX);
        let titrated = (!life.water.is_empty())
            .then(|| Mixer { lives, by_titration: true }.made_before(code, u64::MAX))
            .flatten();
        let targets = life.plan().map(|plan| targets(plan, left));
        let weighing = life.status == BatchStatus::Started;
        let retarget = targets
            .as_ref()
            .filter(|_| weighing)
            .and_then(|targets| retarget(targets, &by_weighing.counting_for(&life, targets)).ok());
        let windows = targets.as_ref().map(|targets| windows(&by_weighing, &life, targets));
        let water = life.water.iter().filter_map(|point| water_point(&by_weighing, code, point)).collect();
        let mut standing = Self {
            zone,
            looks: planned_looks(&life, now),
            made,
            titrated,
            targets,
            retarget,
            windows: windows.unwrap_or_default(),
            water,
            comparisons: Vec::new(),
            life,
        };
        standing.comparisons = verdict::comparisons(&standing, now);
        Some(standing)
    }

    /// What the ratio counts.
    pub fn basis(&self) -> RatioBasis {
        self.targets.as_ref().map_or(RatioBasis::Mole, |targets| targets.basis)
    }

    /// The ratio so far in the recipe's own numbers, with the standard uncertainty of each against the first;
    /// empty before the first part is in.
    pub fn ratio(&self) -> Vec<(String, f64, Option<f64>)> {
        let Some(made) = &self.made else { return Vec::new() };
        let Some(first) =
            made.ratios.first().map(|ratio| ratio.to.id.to_string()).or_else(|| self.lone_part())
        else {
            return Vec::new();
        };
        let own = self.own_number(&first);
        let mut ratio = vec![(first, own, None)];
        ratio.extend(made.ratios.iter().map(|other| {
            let u = other.standard_uncertainty() * own;
            (other.component.id.to_string(), other.value * own, Some(u))
        }));
        ratio
    }

    /// The first part, if it is in and no other is.
    fn lone_part(&self) -> Option<String> {
        let first = self.targets.as_ref()?.parts().next()?.component.to_string();
        let held = self.made.as_ref()?.composition.constituent(&first);
        held.map(|_| first)
    }

    fn own_number(&self, component: &str) -> f64 {
        let line = self.targets.as_ref().and_then(|targets| targets.line(component));
        line.and_then(|line| line.ratio()).unwrap_or(1.0)
    }

    /// What is missing from the uncertainty of the ratio.
    pub fn unstated(&self) -> Vec<String> {
        let mut unstated: Vec<String> = Vec::new();
        for source in self.made.iter().flat_map(|made| &made.ratios).flat_map(|ratio| &ratio.budget.unstated)
        {
            // What was left in the flask before a later addition is weighed by nobody, and a ratio does not ask.
            let source = source.replace(&format!(", for {}", self.life.code), "");
            let of_flask = source.starts_with(&format!("mass of {}:", self.life.code));
            if !of_flask && !unstated.contains(&source) {
                unstated.push(source);
            }
        }
        unstated
    }

    /// The next planned look: the first that is open after the last that was done.
    pub fn next_look(&self) -> Option<&Look> {
        let after = self.looks.iter().rposition(|look| look.done.is_some()).map_or(0, |last| last + 1);
        self.looks.iter().skip(after).find(|look| look.done.is_none())
    }

    /// What was weighed of a component, in grams; `None` if nothing.
    pub fn weighed_g(&self, component: &str) -> Option<f64> {
        let mut masses = self
            .life
            .put_in
            .iter()
            .filter_map(|put| match &put.what {
                PutIn::Component(weighed) if weighed.component.as_str() == component => {
                    Some(weighed.mass.value.get())
                }
                _ => None,
            })
            .peekable();
        masses.peek().is_some().then(|| masses.sum())
    }

    /// The window of a planned component in grams, as all others stand.
    pub fn window(&self, component: &str) -> Option<(f64, f64)> {
        let window = self.windows.iter().find(|(id, ..)| id.as_str() == component)?;
        Some((window.1, window.2))
    }

    /// What was put in that the plan does not name: other components, other batches.
    pub fn unplanned(&self) -> Vec<&PutIn> {
        let planned = |id: &ComponentId| {
            self.life.plan().is_some_and(|plan| plan.lines.iter().any(|line| line.component.id == *id))
        };
        let put_in = self.life.put_in.iter().map(|put| &put.what);
        put_in
            .filter(|put| match put {
                PutIn::Component(weighed) => !planned(&weighed.component),
                PutIn::Batch(_) => true,
            })
            .collect()
    }

    /// The bottles that a planned component was really taken from, else the one that was planned.
    pub fn bottles_of(&self, line: &FrozenLine) -> Option<String> {
        let mut codes: Vec<String> = Vec::new();
        for put in &self.life.put_in {
            if let PutIn::Component(weighed) = &put.what
                && weighed.component == line.component.id
                && let Some(code) = weighed.from.as_ref().map(ToString::to_string)
                && !codes.contains(&code)
            {
                codes.push(code);
            }
        }
        let planned = || line.bottle.as_ref().map(ToString::to_string);
        if codes.is_empty() { planned() } else { Some(codes.join(", ")) }
    }

    /// Water now, as a mass fraction, and whether a titration stands behind it.
    pub fn water_now(&self) -> Option<(f64, bool)> {
        let titrated = self.titrated.as_ref().map(|made| (made.water.fraction.get(), true));
        titrated.or_else(|| self.made.as_ref().map(|made| (made.water.fraction.get(), false)))
    }
}

/// A window grows with the batch that the other components make. What is left in bottles does not matter here,
/// nor how the others' masses will be rounded.
fn windows(mixer: &Mixer<'_>, life: &BatchLife, targets: &Targets) -> Vec<(ComponentId, f64, f64)> {
    let mut endless = Targets { step: None, ..targets.clone() };
    endless.lines.iter_mut().for_each(|line| line.left = None);
    let counting = mixer.counting_for(life, targets);
    let lines = life.plan().map(|plan| plan.lines.as_slice()).unwrap_or_default();
    let window = |line: &FrozenLine| {
        let (low, high) = line.window_g?;
        let others: Vec<_> =
            counting.iter().filter(|weighed| weighed.component != line.component.id).cloned().collect();
        let growth = retarget(&endless, &others).ok()?.growth;
        Some((line.component.id.clone(), low * growth, high * growth))
    };
    lines.iter().filter_map(window).collect()
}

fn water_point(mixer: &Mixer<'_>, code: &Code, point: &Recorded<WaterMeasured>) -> Option<WaterPoint> {
    let predicted = mixer.made_before(code, point.entry);
    Some(WaterPoint {
        entry: point.entry,
        result: evaluate(&point.what)?,
        measured: point.what.clone(),
        predicted: predicted.as_ref().map(|made| made.water.fraction.get()),
        predicted_uncertainty: predicted.as_ref().map(|made| made.water.standard_uncertainty().get()),
    })
}

/// The looks of a batch that is made and of which some is left.
fn planned_looks(life: &BatchLife, now: Timestamp) -> Vec<Look> {
    let Some(finished) = life.finished.as_ref() else { return Vec::new() };
    if life.status == BatchStatus::Rejected || life.left_g() <= 1e-9 {
        return Vec::new();
    }
    let looked: Vec<_> =
        life.appearance.iter().map(|look| (look.what.occasion.clone(), look.what.at)).collect();
    looks(finished.what.at, &looked, now)
}
