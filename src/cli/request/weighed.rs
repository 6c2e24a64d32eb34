//! `--weighed`: what the balance really showed.

use super::bottle::named_mass;
use super::size::comma_warning;
use crate::component::ComponentTable;
use crate::input::{Faults, Warning};
use crate::plan::Weighed;

/// Each `ChCl 32.48g`, in order.
pub(super) fn weighed(
    texts: &[String],
    table: &ComponentTable,
    faults: &mut Faults,
    warnings: &mut Vec<Warning>,
) -> Vec<Weighed> {
    let mut weighed = Vec::new();
    for text in texts {
        if let Some((component, mass)) = faults.collect(named_mass("--weighed", text, table)) {
            warnings.extend(comma_warning("--weighed", &mass));
            weighed.push(Weighed { component: component.id.clone(), mass });
        }
    }
    weighed
}
