//! What in a liquid makes a Karl Fischer titration read wrong, by reactive groups.

use std::sync::Arc;

use serde::Serialize;

use crate::component::{Component, ComponentId};
use crate::input::Warning;

/// Something that disturbs the titration.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Disturbance {
    /// A stable name.
    pub code: &'static str,
    /// The components that do it.
    pub components: Vec<ComponentId>,
    /// What happens, and how the result goes wrong.
    pub what: &'static str,
    /// What helps.
    pub way_out: &'static str,
    /// Who says so.
    pub source: &'static str,
}

/// One rule: components of any of `groups` or of these ids, but of none of `but_not`.
struct Rule {
    code: &'static str,
    groups: &'static [&'static str],
    ids: &'static [&'static str],
    but_not: &'static [&'static str],
    what: &'static str,
    way_out: &'static str,
    source: &'static str,
}

const MEMORY: &str = "general chemistry of the reagent, from memory";
const METHANOL_FREE: &str = "use a methanol-free or buffered reagent and titrate at once";

/// The acids that ASTM E203-24 names and the table holds; the standard names adipic acid too.
const NAMED_ACIDS: &[&str] = &["formic-acid", "acetic-acid", "adipic-acid"];

const RULES: &[Rule] = &[
    Rule {
        code: "slow_esterification",
        groups: &[],
        ids: NAMED_ACIDS,
        but_not: &[],
        what: "esterifies slowly in methanol, which makes water: the end point creeps and the result is too high",
        way_out: METHANOL_FREE,
        source: "ASTM E203-24, note 1",
    },
    Rule {
        code: "acid_may_esterify",
        groups: &["acid-organic"],
        ids: &[],
        but_not: NAMED_ACIDS,
        what: "a carboxylic acid, which may esterify in methanol and make water; a strong one also lowers the pH \
               and slows the titration",
        way_out: METHANOL_FREE,
        source: "after ASTM E203-24, note 1, for other acids from memory",
    },
    Rule {
        code: "carbonyl_makes_water",
        groups: &["ketone", "aldehyde"],
        ids: &[],
        but_not: &[],
        what: "a ketone or aldehyde, which forms a ketal or acetal with methanol and makes water; an aldehyde \
               also binds hydrogen sulfite, which takes water up",
        way_out: "use a reagent for ketones and aldehydes, without methanol",
        source: MEMORY,
    },
    Rule {
        code: "oxidises_iodide",
        groups: &[
            "oxidiser-strong",
            "oxidiser-mild",
            "manganese-dioxide",
            "iron-copper-oxidant",
            "peroxide",
            "hypochlorite",
        ],
        ids: &[],
        but_not: &["perchlorate-chlorate-nitrate"],
        what: "oxidises iodide to iodine, which is then not counted: the result is too low",
        way_out: "drive the water out in an oven into a clean cell, or reduce the oxidiser beforehand",
        source: MEMORY,
    },
    Rule {
        code: "reduces_iodine",
        groups: &["reducing-agent", "cyanide-sulfide-azide-sulfite", "zinc-metal"],
        ids: &[],
        // Carboxylic acids of that group do not reduce iodine in the cell.
        but_not: &["acid-organic"],
        what: "takes iodine up as water does: the result is too high",
        way_out: "drive the water out in an oven into a clean cell, or filter metal off",
        source: MEMORY,
    },
    Rule {
        code: "base_raises_ph",
        groups: &["base-strong"],
        ids: &[],
        but_not: &[],
        what: "a strong base: above about pH 8 side reactions take iodine up, and its neutralisation makes water; \
               the result is too high",
        way_out: "buffer the cell with benzoic or salicylic acid",
        source: MEMORY,
    },
    Rule {
        code: "oxide_makes_water",
        groups: &[],
        ids: &["zinc-oxide"],
        but_not: &[],
        what: "a metal oxide, which the acid of the reagent dissolves into salt and water: the result is too high",
        way_out: "filter it off, or drive the water out in an oven into a clean cell",
        source: MEMORY,
    },
];

impl Rule {
    fn meets(&self, component: &Component) -> bool {
        let of = |names: &[&str]| {
            names.iter().any(|name| component.in_group(name) || component.id.as_str() == *name)
        };
        (of(self.groups) || self.ids.contains(&component.id.as_str())) && !of(self.but_not)
    }
}

/// What disturbs the titration of a liquid of these components. That nothing is found proves nothing.
pub fn disturbances(components: &[Arc<Component>]) -> Vec<Disturbance> {
    let met = |rule: &Rule| {
        let components: Vec<ComponentId> =
            components.iter().filter(|component| rule.meets(component)).map(|c| c.id.clone()).collect();
        (!components.is_empty()).then_some(Disturbance {
            code: rule.code,
            components,
            what: rule.what,
            way_out: rule.way_out,
            source: rule.source,
        })
    };
    RULES.iter().filter_map(met).collect()
}

impl Disturbance {
    /// The same as a warning.
    pub fn warning(&self) -> Warning {
        let names: Vec<&str> = self.components.iter().map(ComponentId::as_str).collect();
        let message = format!("{}: {}; {} ({})", names.join(", "), self.what, self.way_out, self.source);
        Warning::new(self.code, message)
    }
}
