//! Mixture designs against counting, exact arithmetic and published designs; sources in the README of
//! `tests/fixtures/statistics/mixture`, or beside the check.

use std::collections::BTreeSet;

use approx::assert_abs_diff_eq;
use meltbook::compose::mixture::{
    Bound, Crossing, Model, Order, PointKind, Region, axial, candidates, centroids, lattice, lattice_size,
};

use super::rows::rows;

macro_rules! fixture {
    ($name:literal) => {
        include_str!(concat!("../../fixtures/statistics/mixture/", $name))
    };
}

/// Points as whole numbers of 1e-12, so that sets of them can be compared in any order.
fn set(points: impl IntoIterator<Item = Vec<f64>>) -> BTreeSet<Vec<i64>> {
    points.into_iter().map(|point| point.iter().map(|x| (x * 1e12).round() as i64).collect()).collect()
}

fn numbers(text: &str) -> Vec<f64> {
    text.split(' ').map(|number| number.parse().unwrap()).collect()
}

/// Fractions such as `7/20`.
fn exact(text: &str) -> Vec<f64> {
    let one = |part: &str| {
        let (above, below) = part.split_once('/').unwrap_or((part, "1"));
        above.parse::<f64>().unwrap() / below.parse::<f64>().unwrap()
    };
    text.split(' ').map(one).collect()
}

#[test]
fn counts() {
    for row in rows(fixture!("design-counts.csv"), 16) {
        let (q, m) = (row.count("q_components"), row.count("m_lattice_degree"));
        assert_eq!(lattice(q, m).len(), row.count("simplex_lattice_points"));
        assert_eq!(lattice_size(q, m), Some(row.count("simplex_lattice_points")));
        assert_eq!(centroids(q).len(), row.count("simplex_centroid_points"));
        for (order, column) in [
            (Order::Linear, "scheffe_linear_terms"),
            (Order::Quadratic, "scheffe_quadratic_terms"),
            (Order::SpecialCubic, "scheffe_special_cubic_terms"),
            (Order::FullCubic, "scheffe_full_cubic_terms"),
        ] {
            let model = Model::new(order, q, Vec::new(), Crossing::Every);
            assert_eq!(model.terms.len(), row.count(column), "{q} components, {column}");
        }
    }
}

#[test]
fn lattices() {
    let listed = rows(fixture!("simplex-lattice-points.csv"), 26);
    for (q, m) in [(3, 2), (3, 3), (4, 2)] {
        let own = listed.iter().filter(|row| (row.count("q"), row.count("m")) == (q, m));
        let expected = own.map(|row| {
            numbers(row.text("numerators_over_m"))
                .iter()
                .map(|number| number / m as f64)
                .collect::<Vec<f64>>()
        });
        assert_eq!(set(lattice(q, m)), set(expected), "{{{q}, {m}}}");
    }
}

/// J. A. Cornell, Experiments with Mixtures, 3rd ed. 2002, 2.11, from memory: the axial points of three components
/// are (2/3, 1/6, 1/6) and so on, half-way between the centroid and a corner.
#[test]
fn axial_points() {
    let expected = ["2/3 1/6 1/6", "1/6 2/3 1/6", "1/6 1/6 2/3"].map(exact);
    assert_eq!(set(axial(3)), set(expected));
}

#[test]
fn extreme_vertices() {
    let all = rows(fixture!("extreme-vertices.csv"), 23);
    for case in ["invented-3a", "invented-3b", "invented-4a"] {
        let own: Vec<_> = all.iter().filter(|row| row.text("case") == case).collect();
        let (lower, upper) = (numbers(own[0].text("lower")), numbers(own[0].text("upper")));
        let region = region(&lower, &upper);
        let vertices = own.iter().filter(|row| row.text("kind") == "vertex");
        let expected = set(vertices.map(|row| exact(row.text("point_exact_fractions"))));
        assert_eq!(set(region.vertices().map(<[f64]>::to_vec)), expected, "{case}");
        assert_eq!(region.vertices().count(), expected.len(), "{case}");
        let mean = own.iter().find(|row| row.text("kind") == "mean_of_vertices").unwrap();
        for (own, expected) in region.centroid().iter().zip(exact(mean.text("point_exact_fractions"))) {
            assert_abs_diff_eq!(*own, expected, epsilon = 1e-12);
        }
    }
}

fn region(lower: &[f64], upper: &[f64]) -> Region {
    let bounds = lower.iter().zip(upper).map(|(low, high)| Bound { low: *low, high: *high }).collect();
    Region::new(bounds, Vec::new()).unwrap()
}

/// R. A. McLean and V. L. Anderson, Technometrics 8 (1966) 447: a flare of magnesium, sodium nitrate, strontium
/// nitrate and binder. Bounds and the fifteen points of its design from memory; each meets the bounds.
#[test]
fn published_flare() {
    let region = region(&[0.40, 0.10, 0.10, 0.03], &[0.60, 0.50, 0.50, 0.08]);
    let vertices = [
        [0.40, 0.10, 0.47, 0.03],
        [0.40, 0.10, 0.42, 0.08],
        [0.60, 0.10, 0.27, 0.03],
        [0.60, 0.10, 0.22, 0.08],
        [0.40, 0.47, 0.10, 0.03],
        [0.40, 0.42, 0.10, 0.08],
        [0.60, 0.27, 0.10, 0.03],
        [0.60, 0.22, 0.10, 0.08],
    ];
    let faces = [
        [0.50, 0.1000, 0.3450, 0.055],
        [0.50, 0.3450, 0.1000, 0.055],
        [0.40, 0.2725, 0.2725, 0.055],
        [0.60, 0.1725, 0.1725, 0.055],
        [0.50, 0.2350, 0.2350, 0.030],
        [0.50, 0.2100, 0.2100, 0.080],
    ];
    let of = |kind: PointKind| {
        set(candidates(&region).into_iter().filter(|point| point.kind == kind).map(|point| point.fractions))
    };
    assert_eq!(of(PointKind::Vertex), set(vertices.map(|point| point.to_vec())));
    assert_eq!(of(PointKind::Face), set(faces.map(|point| point.to_vec())));
    assert_eq!(of(PointKind::Edge).len(), 12, "the region is a box in three dimensions");
    assert_eq!(of(PointKind::Centre), set([vec![0.50, 0.2225, 0.2225, 0.055]]));
}
