//! Laws of limits and order: no order given changes the order found, a stricter limit is never met more often, and what
//! is not known is never met.

use meltbook::component::Moistness;
use meltbook::compose::candidates::{
    AlertLevel, Facts, Graded, LimitKind, Limits, LiquidFacts, Place, SignalLevel, Standing, Verdict, rank,
};
use proptest::prelude::*;

fn kelvins() -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(200.0..500.0, 0..3)
}

fn liquid() -> impl Strategy<Value = LiquidFacts> {
    (kelvins(), kelvins(), prop::option::of(250.0..400.0), kelvins()).prop_map(
        |(measured_k, least_k, seen_liquid_k, ideal_k)| LiquidFacts {
            measured_k,
            least_k,
            seen_liquid_k,
            ideal_k,
        },
    )
}

fn graded<T: Ord + Copy + std::fmt::Debug + 'static>(levels: Vec<T>) -> impl Strategy<Value = Graded<T>> {
    prop::collection::vec(prop::option::of(prop::sample::select(levels)), 1..4).prop_map(Graded::of)
}

const SIGNALS: [SignalLevel; 3] = [SignalLevel::None, SignalLevel::Warning, SignalLevel::Danger];
const ALERTS: [AlertLevel; 4] = [AlertLevel::None, AlertLevel::Note, AlertLevel::Warn, AlertLevel::Block];
const UPTAKES: [Moistness; 3] = [Moistness::None, Moistness::Moderate, Moistness::Strong];

fn facts() -> impl Strategy<Value = Facts> {
    let levels = (graded(SIGNALS.to_vec()), graded(ALERTS.to_vec()), graded(UPTAKES.to_vec()));
    let amounts = (prop::option::of(1.0..300.0), prop::option::of(0.0..500.0));
    (liquid(), levels, amounts).prop_map(|(liquid, (signal, alerts, hygroscopic), (price, house))| Facts {
        liquid,
        signal,
        alerts,
        price_per_kg: price,
        hygroscopic,
        house_batch_g: house,
    })
}

fn limits() -> impl Strategy<Value = Limits> {
    (
        prop::option::of(220.0..450.0),
        prop::option::of(prop::sample::select(SIGNALS[1..].to_vec())),
        prop::option::of(prop::sample::select(ALERTS[1..].to_vec())),
        prop::option::of(5.0..250.0),
        prop::option::of(prop::sample::select(UPTAKES[1..].to_vec())),
        prop::option::of(1.0..400.0),
    )
        .prop_map(|(liquid_at_k, hazards_below, alerts_below, price, hygroscopic_below, in_house_g)| {
            Limits {
                liquid_at_k,
                hazards_below,
                alerts_below,
                price_below_per_kg: price,
                hygroscopic_below,
                in_house_g,
            }
        })
}

/// The same limits, none of them easier to meet.
fn stricter(limits: &Limits) -> Limits {
    Limits {
        liquid_at_k: limits.liquid_at_k.map(|own| own - 30.0),
        hazards_below: limits.hazards_below.map(|_| SignalLevel::Warning),
        alerts_below: limits.alerts_below.map(|_| AlertLevel::Note),
        price_below_per_kg: limits.price_below_per_kg.map(|own| own / 2.0),
        hygroscopic_below: limits.hygroscopic_below.map(|_| Moistness::Moderate),
        in_house_g: limits.in_house_g.map(|own| own * 2.0),
    }
}

fn standings(limits: &Limits, all: &[(Facts, bool)]) -> Vec<Standing> {
    let of = |(at, (facts, refused)): (usize, &(Facts, bool))| {
        Standing::new(limits, facts, *refused, format!("candidate {at:03}"))
    };
    all.iter().enumerate().map(of).collect()
}

fn meeting(limits: &Limits, all: &[(Facts, bool)]) -> usize {
    standings(limits, all).iter().filter(|own| own.place() == Place::Meets).count()
}

fn names(list: &[Standing]) -> Vec<&str> {
    list.iter().map(|own| own.name.as_str()).collect()
}

proptest! {
    #[test]
    fn no_order_given_changes_the_order_found(
        limits in limits(),
        all in prop::collection::vec((facts(), any::<bool>()), 1..20),
        turn in 0_usize..20,
    ) {
        let mut one = standings(&limits, &all);
        let mut other = one.clone();
        let places = other.len();
        other.rotate_left(turn % places);
        other.reverse();
        rank(&mut one, |own| own);
        rank(&mut other, |own| own);
        prop_assert_eq!(names(&one), names(&other));
    }

    #[test]
    fn places_come_in_their_order(limits in limits(), all in prop::collection::vec((facts(), any::<bool>()), 1..20)) {
        let mut list = standings(&limits, &all);
        rank(&mut list, |own| own);
        let places: Vec<Place> = list.iter().map(Standing::place).collect();
        prop_assert!(places.is_sorted(), "{places:?}");
    }

    #[test]
    fn a_stricter_limit_is_never_met_more_often(
        limits in limits(),
        all in prop::collection::vec((facts(), any::<bool>()), 1..20),
    ) {
        prop_assert!(meeting(&stricter(&limits), &all) <= meeting(&limits, &all));
        for (facts, _) in &all {
            for ((kind, strict), (_, loose)) in stricter(&limits).judge(facts).into_iter().zip(limits.judge(facts)) {
                prop_assert!(strict != Verdict::Met || loose == Verdict::Met, "{kind:?}");
            }
        }
    }

    #[test]
    fn what_is_not_known_is_never_met_and_never_missed(limits in limits()) {
        let nothing = Facts {
            liquid: LiquidFacts::default(),
            signal: Graded { worst: None, complete: false },
            alerts: Graded { worst: None, complete: false },
            price_per_kg: None,
            hygroscopic: Graded { worst: None, complete: false },
            house_batch_g: None,
        };
        for (kind, verdict) in limits.judge(&nothing) {
            prop_assert_eq!(verdict, Verdict::NoData, "{:?}", kind);
        }
    }

    /// Where one more component is not known, nothing is met that was not before, and nothing is missed anew.
    #[test]
    fn a_gap_never_helps_and_never_harms(limits in limits(), own in facts()) {
        let gap = Facts {
            signal: Graded { complete: false, ..own.signal },
            alerts: Graded { complete: false, ..own.alerts },
            hygroscopic: Graded { complete: false, ..own.hygroscopic },
            price_per_kg: None,
            house_batch_g: None,
            ..own.clone()
        };
        for ((kind, with), (_, without)) in limits.judge(&gap).into_iter().zip(limits.judge(&own)) {
            if kind != LimitKind::LiquidAt {
                prop_assert!(with != Verdict::Met);
                prop_assert!(with != Verdict::NotMet || without == Verdict::NotMet);
            }
        }
    }

    /// Only the limits that are asked are judged, each once.
    #[test]
    fn each_limit_is_judged_once(limits in limits(), own in facts()) {
        let judged: Vec<LimitKind> = limits.judge(&own).into_iter().map(|(kind, _)| kind).collect();
        let asked: Vec<LimitKind> = LimitKind::ALL.into_iter().filter(|kind| limits.asks(*kind)).collect();
        prop_assert_eq!(judged, asked);
    }
}

#[test]
fn a_liquidus_is_judged_by_what_decides() {
    let verdict = |measured: &[f64], seen: Option<f64>, ideal: &[f64], at: f64| {
        let measured_k = measured.to_vec();
        let least_k = Vec::new();
        liquid_verdict(LiquidFacts { measured_k, least_k, seen_liquid_k: seen, ideal_k: ideal.to_vec() }, at)
    };
    // Every set below, every set above, and in between.
    assert_eq!(verdict(&[], None, &[280.0, 300.0], 300.0), Verdict::Met);
    assert_eq!(verdict(&[], None, &[280.0, 300.0], 279.0), Verdict::NotMet);
    assert_eq!(verdict(&[], None, &[280.0, 300.0], 290.0), Verdict::DataDisagree);
    // Measured comes before ideal, both ways.
    assert_eq!(verdict(&[285.0], None, &[350.0], 298.15), Verdict::Met);
    assert_eq!(verdict(&[320.0], None, &[280.0], 298.15), Verdict::NotMet);
    // Seen as a liquid at 293 K: it was liquid at 298 K. Below that nobody looked, and the prediction has the word.
    assert_eq!(verdict(&[], Some(293.0), &[350.0], 298.15), Verdict::Met);
    assert_eq!(verdict(&[], Some(293.0), &[350.0], 290.0), Verdict::NotMet);
    assert_eq!(verdict(&[], Some(293.0), &[], 290.0), Verdict::NoData);
}

fn liquid_verdict(liquid: LiquidFacts, at: f64) -> Verdict {
    let facts = Facts {
        liquid,
        signal: Graded::known(SignalLevel::None),
        alerts: Graded::known(AlertLevel::None),
        price_per_kg: None,
        hygroscopic: Graded::known(Moistness::None),
        house_batch_g: None,
    };
    Limits { liquid_at_k: Some(at), ..Limits::default() }.judge(&facts)[0].1
}

/// A eutectic is the lowest temperature at which anything of a pair is wholly liquid (common practice): another
/// composition melts no lower, and how much higher it does not tell.
#[test]
fn a_eutectic_of_another_composition_says_no_and_never_yes() {
    let verdict = |measured: &[f64], ideal: &[f64], at: f64| {
        let (measured_k, ideal_k) = (measured.to_vec(), ideal.to_vec());
        liquid_verdict(LiquidFacts { measured_k, least_k: vec![244.0], seen_liquid_k: None, ideal_k }, at)
    };
    assert_eq!(verdict(&[], &[], 240.0), Verdict::NotMet);
    assert_eq!(verdict(&[], &[], 260.0), Verdict::NoData);
    // A melting point below it contradicts it; at a temperature below both, both say no.
    assert_eq!(verdict(&[207.15], &[], 253.15), Verdict::DataDisagree);
    assert_eq!(verdict(&[207.15], &[], 220.0), Verdict::DataDisagree);
    assert_eq!(verdict(&[207.15], &[], 200.0), Verdict::NotMet);
    // Seen as a liquid above the eutectic, it was one; below it, it may have been supercooled.
    let seen = |seen: f64, at: f64| {
        let (measured_k, least_k) = (vec![207.15], vec![244.0]);
        let seen_liquid_k = Some(seen);
        liquid_verdict(LiquidFacts { measured_k, least_k, seen_liquid_k, ideal_k: Vec::new() }, at)
    };
    assert_eq!(seen(288.0, 298.15), Verdict::Met);
    assert_eq!(seen(288.0, 253.15), Verdict::DataDisagree);
    assert_eq!(seen(240.0, 298.15), Verdict::DataDisagree);
    // One above it has the word.
    assert_eq!(verdict(&[250.0], &[], 253.15), Verdict::Met);
    assert_eq!(verdict(&[250.0], &[], 247.0), Verdict::NotMet);
    // So has a prediction above it; one below it is refuted.
    assert_eq!(verdict(&[], &[250.0], 253.15), Verdict::Met);
    assert_eq!(verdict(&[], &[230.0], 240.0), Verdict::NotMet);
    assert_eq!(verdict(&[], &[230.0], 253.15), Verdict::DataDisagree);
}
