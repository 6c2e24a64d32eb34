//! Laws of the classification of mixtures, on components of the built-in table put together at random.

use std::collections::BTreeMap;
use std::sync::Arc;

use meltbook::caution::{Context, Finding, Mixture, Scheme, Subject, review};
use meltbook::component::{Component, Composition};
use meltbook::quantity::Mass;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};

use crate::setup::table;

type Parts = Vec<(Arc<Component>, f64)>;

fn components() -> Vec<Arc<Component>> {
    table().iter().filter(|component| !component.is_water()).cloned().collect()
}

/// Components with masses in grams.
fn parts() -> impl Strategy<Value = Parts> {
    subsequence(components(), 1..6)
        .prop_flat_map(|chosen| {
            let masses = prop::collection::vec(0.01..50.0f64, chosen.len());
            (Just(chosen), masses)
        })
        .prop_map(|(chosen, masses)| chosen.into_iter().zip(masses).collect())
}

fn scheme() -> impl Strategy<Value = Scheme> {
    select(Scheme::ALL.to_vec())
}

fn composition(parts: &Parts, water: f64, unknown: f64) -> Composition {
    let mut composition =
        Composition { water: Mass::new(water), unknown: Mass::new(unknown), ..Composition::default() };
    for (component, mass) in parts {
        composition.add(component, None, Mass::new(*mass), true);
    }
    composition
}

fn mixture(composition: &Composition, scheme: Scheme) -> Mixture {
    let subject = Subject { composition: Some(composition), ..Subject::default() };
    review(&subject, &Context { scheme, ..Context::default() }).mixture.unwrap()
}

/// The kind of harm of a class, and how grave its category is: a larger number is graver.
fn graded(class: &str) -> (String, i32) {
    let (name, rest) = match class.split_once('(') {
        Some((head, bracket)) => (head.trim(), format!(" ({})", bracket.split([',', ')']).next().unwrap())),
        None => (class, String::new()),
    };
    let (kind, category) = name.rsplit_once(' ').unwrap_or((name, "0"));
    let figure: i32 = category.chars().next().and_then(|c| c.to_digit(10)).map_or(0, |n| n as i32);
    // Corrosion is graver than irritation of the same place, and damage than irritation of eyes.
    let (kind, figure) = match kind {
        "Skin Corr." => ("skin", 1),
        "Skin Irrit." => ("skin", figure),
        "Eye Dam." => ("eye", 1),
        "Eye Irrit." => ("eye", 2),
        other => (other, figure),
    };
    // Names of routes and effects stay with the kind.
    (format!("{kind}{rest}"), -figure)
}

fn grades(mixture: &Mixture) -> BTreeMap<String, i32> {
    let mut grades: BTreeMap<String, i32> = BTreeMap::new();
    for (kind, grade) in mixture.classes.iter().map(|class| graded(class)) {
        let known = grades.entry(kind).or_insert(grade);
        *known = (*known).max(grade);
    }
    grades
}

/// Each kind of harm of `less` is as grave, or graver, in `more`.
fn at_least_as_grave(more: &Mixture, less: &Mixture) -> Result<(), TestCaseError> {
    let (more, less) = (grades(more), grades(less));
    for (kind, grade) in &less {
        let there = more.get(kind).copied().unwrap_or(i32::MIN);
        prop_assert!(*grade <= there, "{kind}: {less:?} is not reached in {more:?}");
    }
    Ok(())
}

/// How far a finding is over its limit: 1 at the limit, more beyond.
fn reach(found: &Finding) -> f64 {
    let value = found.sum.value.unwrap_or(0.0);
    if found.sum.at_least { value / found.sum.limit } else { found.sum.limit / value }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(300) })]

    /// Splitting a component into two lines, and the order of lines, change nothing.
    #[test]
    fn lines_of_a_component_add_up(parts in parts(), scheme in scheme(), share in 0.01..0.99f64, at in 0..6usize) {
        let whole = composition(&parts, 5.0, 1.0);
        let mut split = parts.clone();
        let at = at % split.len();
        let (component, mass) = split[at].clone();
        split[at].1 = mass * share;
        split.push((component, mass * (1.0 - share)));
        split.reverse();
        let (one, two) = (mixture(&whole, scheme), mixture(&composition(&split, 5.0, 1.0), scheme));
        prop_assert_eq!(&one.classes, &two.classes);
        prop_assert_eq!(&one.h_codes, &two.h_codes);
        prop_assert_eq!(one.gaps.len(), two.gaps.len());
    }

    /// More of a component in the place of water makes no class milder.
    #[test]
    fn classes_are_monotone_in_concentration(
        parts in parts(), scheme in scheme(), more in 0.1..30.0f64, at in 0..6usize,
    ) {
        let less = composition(&parts, 40.0, 0.0);
        let mut richer = parts.clone();
        let at = at % richer.len();
        richer[at].1 += more;
        let richer = composition(&richer, 40.0 - more, 0.0);
        at_least_as_grave(&mixture(&richer, scheme), &mixture(&less, scheme))?;
    }

    /// What is unknown never makes a mixture look cleaner than water in its place.
    #[test]
    fn the_unknown_never_cleans(parts in parts(), scheme in scheme(), rest in 0.1..60.0f64) {
        let known = mixture(&composition(&parts, rest, 0.0), scheme);
        let unknown = mixture(&composition(&parts, 0.0, rest), scheme);
        at_least_as_grave(&unknown, &known)?;
        prop_assert!(unknown.gaps.iter().any(|gap| gap.component.is_none()));
        prop_assert!(known.unknown_pct <= unknown.unknown_pct);
    }

    /// Adding a component lowers no class further than the same mass of water would: only dilution lowers.
    #[test]
    fn only_dilution_lowers_a_class(
        parts in parts(), scheme in scheme(), further in select(components()), mass in 0.01..50.0f64,
    ) {
        let diluted = mixture(&composition(&parts, 3.0 + mass, 0.0), scheme);
        let mut more = parts;
        more.push((further, mass));
        at_least_as_grave(&mixture(&composition(&more, 3.0, 0.0), scheme), &diluted)?;
    }

    /// Every class that is shown has reached its limit by its own sum, and every other has not.
    #[test]
    fn sums_agree_with_classes(parts in parts(), scheme in scheme(), water in 0.0..40.0f64) {
        let mixture = mixture(&composition(&parts, water, 0.5), scheme);
        for found in &mixture.reached {
            prop_assert!(1.0 - 1e-6 <= reach(found), "{found:?}");
            prop_assert!(!found.sum.parts.is_empty());
        }
        for found in &mixture.not_reached {
            prop_assert!(!found.sum.is_reached(), "{found:?}");
        }
        // Every component without data is named as a gap, whatever else is found.
        for (component, _) in parts.iter().filter(|(c, _)| c.hazard.basis == meltbook::component::HazardBasis::NoneFound) {
            let root = component.hydrate_of.as_ref().unwrap_or(&component.id).to_string();
            let named = mixture.gaps.iter().any(|gap| gap.component.as_deref() == Some(root.as_str()));
            prop_assert!(named, "{root}");
        }
    }
}

/// Found by chance: a trace of aluminium chloride, of which data are known, beside its hydrate, of which none are, made
/// the hydrate known, and phenol in it less toxic than water in place of that trace.
#[test]
fn a_trace_of_another_form_makes_nothing_known() {
    let of = |id: &str| Arc::clone(table().find(id).unwrap_or_else(|error| panic!("{error}")));
    let parts = vec![(of("phenol"), 5.750_749), (of("aluminium-chloride-hexahydrate"), 11.208_902)];
    let diluted = mixture(&composition(&parts, 3.01, 0.0), Scheme::Ghs);
    let mut more = parts;
    more.push((of("aluminium-chloride"), 0.01));
    let found = mixture(&composition(&more, 3.0, 0.0), Scheme::Ghs);
    at_least_as_grave(&found, &diluted).unwrap_or_else(|error| panic!("{error}"));
    assert!(found.gaps.iter().any(|gap| gap.component.as_deref() == Some("aluminium-chloride")));
}
