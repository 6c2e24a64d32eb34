//! One worked case of `tests/fixtures/practice`: its inputs, and a check that no answer is left out.

use std::cell::RefCell;
use std::collections::BTreeSet;

use meltbook::plan::Supply;

use crate::setup::bottle;

/// One case, and which of its answers were checked.
pub struct Case {
    pub id: String,
    tolerance: f64,
    /// Its inputs, for those that are lists.
    pub input: toml::Table,
    pub expect: toml::Table,
    checked: RefCell<BTreeSet<String>>,
}

/// All cases of the fixture.
pub fn cases() -> Vec<Case> {
    let file: toml::Table = include_str!("../../fixtures/practice/worked_examples.toml").parse().unwrap();
    let case = |case: &toml::Value| Case {
        id: case["id"].as_str().unwrap().to_owned(),
        tolerance: number(&case["rel_tol"]),
        input: case["input"].as_table().unwrap().clone(),
        expect: case["expect"].as_table().unwrap().clone(),
        checked: RefCell::default(),
    };
    file["case"].as_array().unwrap().iter().map(case).collect()
}

fn number(value: &toml::Value) -> f64 {
    value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64)).unwrap()
}

/// The case of an id.
pub fn case(id: &str) -> Case {
    cases().into_iter().find(|case| case.id == id).unwrap()
}

impl Case {
    /// A number of the input.
    pub fn input(&self, key: &str) -> f64 {
        number(&self.input[key])
    }

    /// A list of numbers of the input.
    pub fn inputs(&self, key: &str) -> Vec<f64> {
        self.input[key].as_array().unwrap().iter().map(number).collect()
    }

    /// The fixture's "ChCl:Urea = 1:2" in the program's notation.
    pub fn mixture(&self, key: &str) -> String {
        let text = self.input[key].as_str().unwrap();
        text.replace(" = ", " ").replace("OxalicAcid", "oxalic-acid")
    }

    fn expected(&self, key: &str) -> f64 {
        self.checked.borrow_mut().insert(key.to_owned());
        number(&self.expect[key])
    }

    /// An answer, within the tolerance of the case.
    #[track_caller]
    pub fn check(&self, key: &str, value: f64) {
        let (id, expected) = (&self.id, self.expected(key));
        assert!((value / expected - 1.0).abs() <= self.tolerance, "{id} {key}: {value}, not {expected}");
    }

    /// Every answer of the case must have been checked.
    #[track_caller]
    pub fn finish(self) {
        let all: BTreeSet<String> = self.expect.keys().cloned().collect();
        let left: Vec<_> = all.difference(&self.checked.borrow()).cloned().collect();
        assert!(left.is_empty(), "{}: not checked: {left:?}", self.id);
    }

    /// The two bottles of W02, W03 and W14.
    pub fn assayed_bottles(&self) -> Vec<Supply> {
        let flag = |name: &str| {
            let assay = self.input(&format!("assay_{name}_dry_basis"));
            let moisture = self.input(&format!("moisture_{name}"));
            format!("{name} assay={assay} basis=dried moisture={moisture} g/g")
        };
        vec![bottle(&flag("ChCl")), bottle(&flag("Urea"))]
    }
}
