//! Findings on a person's own hazard data, with the place in the file.

use std::ops::Range;

use crate::caution::{HazardFault, HazardFinding, check_hazard};
use crate::component::Component;
use crate::input::{Fault, Faults, Place, Warning};

/// What is wrong in the hazard data of a table is a fault, all of it at once; what is only open comes as a warning.
pub(in crate::cli) fn hazard_warnings(
    origin: &str,
    text: &str,
    components: &[Component],
) -> Result<Vec<Warning>, Faults> {
    let mut faults = Faults::none();
    let mut warnings = Vec::new();
    for component in components {
        for finding in check_hazard(component) {
            let place = Place::in_text(origin, text, span(text, component, &finding));
            match fault(&finding, place) {
                Some(fault) => faults.push(fault),
                None => warnings.push(Warning::new("hazard_data_open", finding.message)),
            }
        }
    }
    faults.or(warnings)
}

fn fault(finding: &HazardFinding, place: Place) -> Option<Fault> {
    let message = finding.message.as_str();
    let fault = match finding.code {
        HazardFault::UnknownCode => Fault::new("unknown_hazard_code", message, place),
        HazardFault::ClassWithoutCode => Fault::new("class_without_code", message, place),
        HazardFault::Contradiction => Fault::new("hazard_contradiction", message, place),
        HazardFault::NoIndex => Fault::new("missing_index", message, place),
        HazardFault::Doubt => return None,
    };
    Some(fault.with_hint(finding.hint.as_str()))
}

/// Where the finding stands: its text after the id of the component, else the id.
fn span(text: &str, component: &Component, finding: &HazardFinding) -> Range<usize> {
    let id = format!("\"{}\"", component.id);
    let start = text.find(&id).unwrap_or(0);
    let rest = &text[start..];
    let end = rest.find("[[component]]").unwrap_or(rest.len());
    let about = finding.about.as_ref().and_then(|about| {
        let quoted = format!("\"{about}\"");
        let at = rest[..end].find(&quoted).map(|at| (at, quoted.len()));
        at.or_else(|| rest[..end].find(about.as_str()).map(|at| (at, about.len())))
    });
    about.map_or(start..(start + id.len()).min(text.len()), |(at, length)| start + at..start + at + length)
}
