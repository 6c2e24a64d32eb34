//! What happens on heating, of mixtures by rules and of components by their own limits.

use std::collections::HashMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::alert::Alert;
use super::context::Context;
use super::selector::{Selector, arranged};
use super::severity::Severity;
use super::subject::Member;
use crate::component::{Component, HeatLimit};
use crate::quantity::{Temperature, TemperatureDifference, TimeSpan};

/// A heater's temperature is not trusted better than this, so a note comes before a limit is reached
/// (common practice).
const MARGIN: TemperatureDifference = TemperatureDifference::new(10.0);

/// A row of `data/alerts/heat.toml`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct MixtureRow {
    id: String,
    name: String,
    at: Option<String>,
    below: Option<String>,
    times_from: Option<String>,
    #[serde(default)]
    needs_heat: bool,
    severity: Option<Severity>,
    what: String,
    source: String,
    sides: Vec<Vec<Selector>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MixtureFile {
    source: HashMap<String, String>,
    mixture: Vec<MixtureRow>,
}

/// A rule for a mixture.
struct MixtureRule {
    id: String,
    name: String,
    onset: Onset,
    /// Shorter heating is only noted.
    times_from: Option<TimeSpan>,
    /// What it comes to at the onset.
    severity: Severity,
    what: String,
    source: String,
    sides: Vec<Vec<Selector>>,
}

/// From where on it happens.
enum Onset {
    /// At this temperature.
    At(Temperature),
    /// Somewhere below this temperature.
    Below(Temperature),
    /// On heating, no temperature named.
    OnHeating,
    /// No temperature named, and worth saying unheated too.
    Any,
}

static MIXTURES: LazyLock<Vec<MixtureRule>> = LazyLock::new(|| {
    // A faulty file would give no rules, which the tests rule out.
    let file = toml::from_str::<MixtureFile>(include_str!("../../data/alerts/heat.toml"));
    let Ok(MixtureFile { source, mixture }) = file else { return Vec::new() };
    mixture.into_iter().filter_map(|row| row.rule(&source)).collect()
});

impl MixtureRow {
    fn rule(self, sources: &HashMap<String, String>) -> Option<MixtureRule> {
        let onset = match (&self.at, &self.below) {
            (Some(at), _) => Onset::At(at.parse().ok()?),
            (None, Some(below)) => Onset::Below(below.parse().ok()?),
            (None, None) if self.needs_heat => Onset::OnHeating,
            (None, None) => Onset::Any,
        };
        let usual =
            if matches!(onset, Onset::At(_) | Onset::Below(_)) { Severity::Warn } else { Severity::Note };
        let times_from = match &self.times_from {
            Some(text) => Some(text.parse().ok()?),
            None => None,
        };
        Some(MixtureRule {
            id: self.id,
            name: self.name,
            onset,
            times_from,
            severity: self.severity.unwrap_or(usual),
            what: self.what,
            source: sources.get(&self.source).cloned().unwrap_or(self.source),
            sides: self.sides,
        })
    }
}

impl MixtureRule {
    fn alert(&self, members: &[Member<'_>], context: &Context) -> Option<Alert> {
        let severity = self.severity_in(context)?;
        let sides: Vec<&[Selector]> = self.sides.iter().map(Vec::as_slice).collect();
        let places = arranged(&sides, members)?;
        let onset = match &self.onset {
            Onset::At(at) => format!("from {at}"),
            Onset::Below(below) => format!("below {below}"),
            Onset::OnHeating | Onset::Any => "with no temperature".to_owned(),
        };
        Some(alert(
            &self.id,
            severity,
            format!("heating {}", self.name),
            format!("{}listed {onset}: {}.", procedure(context), self.what),
            places.into_iter().map(|at| members[at].name.to_owned()).collect(),
            self.source.clone(),
        ))
    }

    fn severity_in(&self, context: &Context) -> Option<Severity> {
        let reached = if self.is_too_short(context) { Severity::Note } else { self.severity };
        match (&self.onset, context.heat) {
            (Onset::At(at), Some(heat)) if *at <= heat => Some(reached),
            (Onset::At(at), Some(heat)) => is_near(*at, heat).then_some(Severity::Note),
            (Onset::Below(below), Some(heat)) if *below <= heat => Some(reached),
            (Onset::At(_) | Onset::Below(_) | Onset::OnHeating, _) => {
                context.is_heated().then_some(Severity::Note)
            }
            (Onset::Any, _) if context.is_heated() => Some(reached),
            (Onset::Any, _) => Some(Severity::Note),
        }
    }

    /// True if the time is known and shorter than the rule is about.
    fn is_too_short(&self, context: &Context) -> bool {
        self.times_from.zip(context.time).is_some_and(|(from, time)| time < from)
    }
}

/// The ids of the rules for heated mixtures.
pub fn heat_rule_ids() -> impl Iterator<Item = &'static str> {
    MIXTURES.iter().map(|rule| rule.id.as_str())
}

/// Alerts of mixtures and components for the heat that the context gives.
pub(super) fn alerts(members: &[Member<'_>], context: &Context) -> Vec<Alert> {
    let of_mixtures = MIXTURES.iter().filter_map(|rule| rule.alert(members, context));
    let of_components = members
        .iter()
        .filter_map(|member| member.component)
        .flat_map(|component| [flash_alert(component, context), limit_alert(component, context)])
        .flatten();
    of_mixtures.chain(of_components).collect()
}

/// Heat against the flash points of a component.
fn flash_alert(component: &Component, context: &Context) -> Option<Alert> {
    let limits: Vec<&HeatLimit> = component.heat_limit.iter().filter(|limit| is_flash_point(limit)).collect();
    let lowest = lowest(&limits)?;
    let severity = severity_at(lowest, context.heat?)?;
    let name = &component.name;
    let message = format!(
        "{}listed flash point of {name}: {}. Keep flames, sparks and hot surfaces away and work in a fume hood.",
        procedure(context),
        listed(&limits)
    );
    let id = format!("FLASH-{}", component.id.as_str().to_uppercase());
    Some(alert(
        &id,
        severity,
        format!("flash point of {name}"),
        message,
        vec![name.clone()],
        sources(&limits),
    ))
}

/// Heat against what else happens to a component on heating. All entries are shown, since sources
/// disagree; the lowest decides.
fn limit_alert(component: &Component, context: &Context) -> Option<Alert> {
    let mut limits: Vec<&HeatLimit> =
        component.heat_limit.iter().filter(|limit| !is_flash_point(limit)).collect();
    limits.sort_by(|a, b| kelvin(a).total_cmp(&kelvin(b)));
    let without_temperature = limits.iter().any(|limit| limit.at.is_none());
    let reached = context.heat.zip(lowest(&limits)).and_then(|(heat, lowest)| severity_at(lowest, heat));
    let unnamed =
        (without_temperature && (context.is_heated() || context.to_dryness)).then_some(Severity::Note);
    let severity = reached.max(unnamed)?;
    let name = &component.name;
    let message = format!("{}listed for {name}: {}.", procedure(context), listed(&limits));
    let id = format!("HEAT-{}", component.id.as_str().to_uppercase());
    Some(alert(&id, severity, format!("heating {name}"), message, vec![name.clone()], sources(&limits)))
}

fn alert(
    id: &str,
    severity: Severity,
    title: String,
    message: String,
    because: Vec<String>,
    source: String,
) -> Alert {
    Alert {
        id: id.to_owned(),
        severity,
        title,
        message: sentence(&message),
        reason: "What is written of it in the source named, not a limit measured for this mixture."
            .to_owned(),
        because,
        codes: Vec::new(),
        way_past: severity.usual_way_past(),
        source,
    }
}

/// The text with a capital at its start.
fn sentence(text: &str) -> String {
    let mut rest = text.chars();
    rest.next().map(|first| first.to_uppercase().chain(rest).collect()).unwrap_or_default()
}

fn severity_at(limit: Temperature, heat: Temperature) -> Option<Severity> {
    if limit <= heat { Some(Severity::Warn) } else { is_near(limit, heat).then_some(Severity::Note) }
}

fn is_near(limit: Temperature, heat: Temperature) -> bool {
    limit - heat <= MARGIN
}

fn is_flash_point(limit: &HeatLimit) -> bool {
    limit.what.starts_with("flash point")
}

fn kelvin(limit: &HeatLimit) -> f64 {
    limit.at.map_or(f64::INFINITY, Temperature::kelvin)
}

fn lowest(limits: &[&HeatLimit]) -> Option<Temperature> {
    limits.iter().filter_map(|limit| limit.at).min_by(|a, b| a.kelvin().total_cmp(&b.kelvin()))
}

/// "133 °C, melting …; 152 °C, …". A flash point is told by its temperature alone.
fn listed(limits: &[&HeatLimit]) -> String {
    let one = |limit: &&HeatLimit| match (limit.at, is_flash_point(limit)) {
        (Some(at), true) => at.to_string(),
        (Some(at), false) => format!("{at}, {}", limit.what),
        (None, _) => limit.what.clone(),
    };
    let mut entries: Vec<String> = limits.iter().map(one).collect();
    entries.dedup();
    entries.join("; ")
}

fn sources(limits: &[&HeatLimit]) -> String {
    let mut sources: Vec<&str> = Vec::new();
    for limit in limits {
        if !sources.contains(&limit.source.as_str()) {
            sources.push(&limit.source);
        }
    }
    sources.join("; ")
}

/// "heated to 90 °C for 2 h; ", or nothing if no heat is given.
fn procedure(context: &Context) -> String {
    match (context.heat, context.time) {
        (Some(heat), Some(time)) => format!("heated to {heat} for {} h; ", time.hours()),
        (Some(heat), None) => format!("heated to {heat}; "),
        _ => String::new(),
    }
}
