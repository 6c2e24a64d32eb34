//! `formula`.

use crate::golden;
use crate::run::answer;

const FORMULAS: [&str; 5] = ["ZnSO4·7H2O", "(CH3)3N(CH2CH2OH)Cl", "SO4^2-", "CaSO4·0.5H2O", "D2O"];

#[test]
fn formulas_are_weighed() {
    for (format, ending) in [("table", "txt"), ("json", "json"), ("csv", "csv")] {
        let mut arguments = vec!["formula"];
        arguments.extend(FORMULAS);
        arguments.extend(["--format", format]);
        golden::check(&format!("cli/formula.{ending}"), &answer(&arguments, 0));
    }
}
