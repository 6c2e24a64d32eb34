//! Designs in any region: vertices against trying all planes, choices against chance, blocks and orders.

use approx::assert_relative_eq;
use meltbook::compose::mixture::{
    Arrangement, Bound, Constraint, Crossing, Model, OptimalError, Order, Point, PointKind, Process, Region,
    RegionError, arrange, candidates, d_optimal, fill, lattice, run_quality,
};
use meltbook::statistics::random::Chance;
use nalgebra::{DMatrix, DVector};
use proptest::prelude::*;

/// Bounds and up to two rules on 2 to 5 components, in steps of 1/20, so that planes meet in corners of all kinds.
fn asked() -> impl Strategy<Value = (Vec<Bound>, Vec<Constraint>)> {
    let bound = (0u8..=8, 0u8..=20).prop_map(|(low, more)| {
        let low = f64::from(low) / 20.0;
        Bound { low, high: (low + f64::from(more) / 20.0).min(1.0) }
    });
    (2usize..=5).prop_flat_map(move |q| {
        let rule = (prop::collection::vec(-2i8..=2, q), -10i8..=10, any::<bool>()).prop_map(
            |(coefficients, limit, below)| Constraint {
                coefficients: coefficients.into_iter().map(f64::from).collect(),
                low: if below { f64::NEG_INFINITY } else { f64::from(limit) / 10.0 },
                high: if below { f64::from(limit) / 10.0 } else { f64::INFINITY },
            },
        );
        (prop::collection::vec(bound.clone(), q), prop::collection::vec(rule, 0..=2))
    })
}

/// Every point in which as many planes meet as there are components, if it lies within all bounds and rules: slow,
/// and without any thought of edges.
fn by_all_planes(bounds: &[Bound], rules: &[Constraint]) -> Vec<Vec<f64>> {
    let q = bounds.len();
    let unit = |at: usize| (0..q).map(|other| f64::from(other == at)).collect::<Vec<f64>>();
    let mut planes: Vec<(Vec<f64>, f64)> = Vec::new();
    for (at, bound) in bounds.iter().enumerate() {
        planes.extend([(unit(at), bound.low), (unit(at), bound.high)]);
    }
    for rule in rules {
        let ends = [rule.low, rule.high].into_iter().filter(|end| end.is_finite());
        planes.extend(ends.map(|end| (rule.coefficients.clone(), end)));
    }
    let within = |x: &[f64]| {
        x.iter().zip(bounds).all(|(x, bound)| bound.low - 1e-9 <= *x && *x <= bound.high + 1e-9)
            && rules.iter().all(|rule| rule.low - 1e-9 <= rule.of(x) && rule.of(x) <= rule.high + 1e-9)
    };
    let mut found: Vec<Vec<f64>> = Vec::new();
    for chosen in subsets(planes.len(), q - 1) {
        let rows: Vec<&(Vec<f64>, f64)> = chosen.iter().map(|at| &planes[*at]).collect();
        let a = DMatrix::from_fn(q, q, |row, at| if row + 1 == q { 1.0 } else { rows[row].0[at] });
        let b = DVector::from_fn(q, |row, _| if row + 1 == q { 1.0 } else { rows[row].1 });
        if a.determinant().abs() < 1e-9 {
            continue;
        }
        let Some(x) = a.lu().solve(&b) else { continue };
        let x: Vec<f64> = x.iter().copied().collect();
        if within(&x) && !found.iter().any(|known| near(known, &x)) {
            found.push(x);
        }
    }
    found
}

fn near(one: &[f64], other: &[f64]) -> bool {
    one.iter().zip(other).all(|(one, other)| (one - other).abs() < 1e-7)
}

fn subsets(of: usize, size: usize) -> Vec<Vec<usize>> {
    if size == 0 {
        return vec![Vec::new()];
    }
    let with = |last: usize| subsets(last, size - 1).into_iter().map(move |set| [set, vec![last]].concat());
    (size - 1..of).flat_map(with).collect()
}

fn quadratic(q: usize) -> Model {
    Model::new(Order::Quadratic, q, Vec::new(), Crossing::Every)
}

fn rows(model: &Model, points: &[Point]) -> Vec<Vec<f64>> {
    points.iter().map(|point| model.row(&point.fractions, &[])).collect()
}

fn log_det(rows: &[Vec<f64>], places: &[usize]) -> f64 {
    let x = DMatrix::from_fn(places.len(), rows[0].len(), |row, at| rows[places[row]][at]);
    (x.transpose() * x).determinant().ln()
}

proptest! {
    #[test]
    fn vertices_are_all_and_nothing_else((bounds, rules) in asked()) {
        let expected = by_all_planes(&bounds, &rules);
        match Region::new(bounds, rules) {
            Ok(region) => {
                let found: Vec<&[f64]> = region.vertices().collect();
                prop_assert_eq!(found.len(), expected.len(), "{:?} and {:?}", found, expected);
                for point in &expected {
                    prop_assert!(found.iter().any(|own| near(own, point)), "{point:?} is missing");
                }
                for point in candidates(&region).iter().chain(&fill(&region, 100)) {
                    prop_assert!(region.holds(&point.fractions), "{point:?}");
                }
            }
            Err(error) => {
                prop_assert!(error != RegionError::TooMany);
                prop_assert!(expected.is_empty(), "{error}, but {expected:?}");
            }
        }
    }

    /// Blocks of whole replicates are orthogonal to any model, and every run is made once.
    #[test]
    fn whole_replicates_in_blocks_are_orthogonal(q in 2usize..=4, blocks in 2usize..=3, seed: u64) {
        let points: Vec<Point> =
            lattice(q, 2).into_iter().map(|x| Point::new(PointKind::Lattice, x)).collect();
        let model = quadratic(q);
        let arrangement = Arrangement { replicates: blocks, blocks, seed };
        let (runs, balance) = arrange(&points, &[], &arrangement, |x, z| model.row(x, z));
        let balance = balance.unwrap();
        prop_assert!(balance.off.is_empty());
        let mut standard: Vec<usize> = runs.iter().map(|run| run.standard).collect();
        standard.sort_unstable();
        prop_assert_eq!(standard, (1..=points.len() * blocks).collect::<Vec<_>>());
        for block in 1..=blocks {
            prop_assert_eq!(runs.iter().filter(|run| run.block == Some(block)).count(), points.len());
        }
    }

    /// The same seed draws the same order, and whole plots stay together.
    #[test]
    fn whole_plots_stay_together(seed: u64, replicates in 1usize..=3) {
        let heat = Process { name: "heat".into(), unit: None, levels: vec![60.0, 80.0], is_hard: true };
        let water = Process { name: "water".into(), unit: None, levels: vec![1.0, 3.0], is_hard: false };
        let points: Vec<Point> =
            lattice(3, 1).into_iter().map(|x| Point::new(PointKind::Lattice, x)).collect();
        let arrangement = Arrangement { replicates, blocks: 1, seed };
        let draw = || arrange(&points, &[heat.clone(), water.clone()], &arrangement, |_, _| Vec::new()).0;
        let runs = draw();
        prop_assert_eq!(&runs, &draw());
        prop_assert_eq!(runs.len(), 12 * replicates);
        prop_assert_eq!(runs.iter().filter_map(|run| run.plot).max(), Some(2 * replicates));
        for pair in runs.windows(2) {
            prop_assert!(pair[0].plot <= pair[1].plot, "plots follow one another");
            if pair[0].plot == pair[1].plot {
                prop_assert_eq!(pair[0].setting[0], pair[1].setting[0], "what is hard to change stays");
            }
        }
    }
}

/// The exchange is worth its name: it beats every one of 2,000 random subsets, and the order of the candidates and of
/// the components changes nothing.
#[test]
fn d_optimal_beats_chance_and_knows_no_order() {
    let bounds = [(0.2, 0.6), (0.1, 0.5), (0.0, 0.3), (0.05, 0.4)];
    let bounds: Vec<Bound> = bounds.into_iter().map(|(low, high)| Bound { low, high }).collect();
    let region = Region::new(bounds, Vec::new()).unwrap();
    let points: Vec<Point> = [candidates(&region), fill(&region, 300)].concat();
    let model = quadratic(4);
    let rows = rows(&model, &points);
    let order: Vec<usize> = (0..rows.len()).collect();
    let chosen = d_optimal(&rows, &[], 14, &order, (10, 1), |_, _| {}).unwrap();
    assert_relative_eq!(chosen.log_det, log_det(&rows, &chosen.places), max_relative = 1e-6);
    let mut chance = Chance::of_seed(2);
    let mut best = f64::NEG_INFINITY;
    for _ in 0..2000 {
        let mut deck = order.clone();
        chance.shuffle(&mut deck);
        best = best.max(log_det(&rows, &deck[..14]));
    }
    assert!(best < chosen.log_det, "chance {best}, exchange {}", chosen.log_det);
    assert!((0.0..=100.0).contains(&chosen.g_efficiency), "{}", chosen.g_efficiency);

    // The components in another order: columns are permuted, and the value is the same.
    let swapped: Vec<Vec<f64>> = points
        .iter()
        .map(|point| {
            let x = &point.fractions;
            model.row(&[x[2], x[0], x[3], x[1]], &[])
        })
        .collect();
    let again = d_optimal(&swapped, &[], 14, &order, (10, 1), |_, _| {}).unwrap();
    assert_relative_eq!(again.log_det, chosen.log_det, max_relative = 1e-9);
    assert_eq!(again.places, chosen.places);
}

/// J. Kiefer, Ann. Math. Stat. 32 (1961) 298: the D-optimal design for Scheffé's quadratic on the whole simplex is the
/// {q, 2} lattice, each point as often, and its G-efficiency is 100 %.
#[test]
fn d_optimal_on_the_simplex_is_the_lattice() {
    let region = Region::whole(3).unwrap();
    let points: Vec<Point> = [candidates(&region), fill(&region, 300)].concat();
    let rows = rows(&quadratic(3), &points);
    let order: Vec<usize> = (0..rows.len()).collect();
    // It is told after every run that was looked at, so that somebody who waits sees it go on within one start.
    let mut told: Vec<(usize, usize)> = Vec::new();
    let chosen =
        d_optimal(&rows, &[], 6, &order, (10, 1), |start, looked| told.push((start, looked))).unwrap();
    assert!(told.windows(2).all(|pair| pair[0] < pair[1]), "{told:?}");
    assert!((0..10).all(|start| told.iter().filter(|own| own.0 == start).count() >= 6), "{told:?}");
    let found: Vec<&Vec<f64>> = chosen.places.iter().map(|at| &points[*at].fractions).collect();
    for point in lattice(3, 2) {
        assert!(found.iter().any(|own| near(own, &point)), "{point:?} in {found:?}");
    }
    assert_relative_eq!(chosen.g_efficiency, 100.0, max_relative = 1e-9);
}

#[test]
fn what_can_not_be_told_is_named() {
    let model = quadratic(3);
    // Without x3 nothing of it can be told, nor of its pairs.
    let points: Vec<Point> =
        lattice(2, 4).into_iter().map(|x| Point::new(PointKind::Listed, vec![x[0], x[1], 0.0])).collect();
    let rows = rows(&model, &points);
    let order: Vec<usize> = (0..rows.len()).collect();
    let error = d_optimal(&rows, &[], 6, &order, (3, 1), |_, _| {}).unwrap_err();
    assert_eq!(error, OptimalError::NotEstimable(vec![2, 4, 5]));
    let (runs, _) =
        arrange(&points, &[], &Arrangement { replicates: 1, blocks: 1, seed: 1 }, |_, _| Vec::new());
    let quality = run_quality(&model, &runs);
    assert_eq!((quality.not_estimable, quality.df_error, quality.df_pure), (vec![2, 4, 5], -1, 0));
    let few = d_optimal(&rows[..3], &[], 3, &order[..3], (3, 1), |_, _| {}).unwrap_err();
    assert_eq!(few, OptimalError::TooFewRuns { runs: 3, terms: 6 });
}

#[test]
fn regions_at_their_edge() {
    let region = |bounds: &[(f64, f64)]| {
        Region::new(bounds.iter().map(|(low, high)| Bound { low: *low, high: *high }).collect(), Vec::new())
    };
    let vertices = |bounds: &[(f64, f64)]| -> Vec<Vec<f64>> {
        region(bounds).unwrap().vertices().map(<[f64]>::to_vec).collect()
    };
    assert_eq!(region(&[]).unwrap_err(), RegionError::Nothing);
    assert_eq!(vertices(&[(0.0, 1.0)]), [[1.0]], "one component alone is all");
    assert!(matches!(region(&[(0.6, 1.0), (0.6, 1.0)]), Err(RegionError::TooMuch(_))));
    assert!(matches!(region(&[(0.0, 0.4), (0.0, 0.4)]), Err(RegionError::TooLittle(_))));
    assert!(matches!(region(&[(0.5, 0.4), (0.0, 1.0)]), Err(RegionError::BadBound { component: 0, .. })));
    assert!(matches!(region(&[(f64::NAN, 1.0), (0.0, 1.0)]), Err(RegionError::BadBound { .. })));
    // Bounds that leave one composition, and those that pin one component.
    assert_eq!(vertices(&[(0.5, 1.0), (0.5, 1.0)]), [[0.5, 0.5]]);
    let pinned = vertices(&[(0.3, 0.3), (0.0, 1.0), (0.0, 1.0)]);
    assert_eq!(pinned.len(), 2);
    assert!(pinned.iter().all(|point| (point[0] - 0.3).abs() < 1e-12));
    let flat = region(&[(0.3, 0.3), (0.0, 1.0), (0.0, 1.0)]).unwrap();
    assert_eq!(flat.faces().unwrap().iter().map(|face| face.dimension).collect::<Vec<_>>(), [1]);
    assert!(!flat.is_simplex() && Region::whole(3).unwrap().is_simplex());
}
