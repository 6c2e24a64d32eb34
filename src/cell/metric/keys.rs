//! The names of metrics with their keys.

use crate::cell::resistance::Method;

/// One name with what can stand behind it.
pub(super) struct Form {
    /// The name.
    pub(super) name: &'static str,
    /// Keys that must stand there.
    pub(super) needs: &'static [&'static str],
    /// Keys that may.
    pub(super) may: &'static [&'static str],
    /// A text that parses.
    pub(super) example: &'static str,
}

/// All of them.
pub(super) const FORMS: [Form; 8] = [
    Form { name: "voltage", needs: &["day"], may: &[], example: "voltage day=14" },
    Form { name: "loaded", needs: &["day", "load"], may: &[], example: "loaded day=14 load=100ohm" },
    Form { name: "current", needs: &["day"], may: &[], example: "current day=14" },
    Form {
        name: "resistance",
        needs: &["day", "method"],
        may: &["within", "load"],
        example: "resistance day=14 method=open-to-loaded",
    },
    Form { name: "slope", needs: &["from", "to"], may: &[], example: "slope from=7 to=42" },
    Form {
        name: "capacity",
        needs: &["cut-off"],
        may: &["load", "current", "per"],
        example: "capacity cut-off=0.9V per=g",
    },
    Form {
        name: "energy",
        needs: &["cut-off"],
        may: &["load", "current", "per"],
        example: "energy cut-off=0.9V",
    },
    Form {
        name: "retention",
        needs: &["cut-off", "fresh"],
        may: &["load", "current"],
        example: "retention cut-off=0.9V fresh=3",
    },
];

/// The methods by their words in a metric.
pub(super) const METHODS: [(&str, Method); 4] = [
    ("open-to-loaded", Method::OpenToLoaded),
    ("short-circuit", Method::ShortCircuit),
    ("two-loads", Method::TwoLoads),
    ("voltage-drop", Method::VoltageDrop),
];

impl Form {
    /// The form of a name.
    pub(super) fn of(name: &str) -> Option<&'static Self> {
        FORMS.iter().find(|form| form.name == name)
    }

    /// All its keys.
    pub(super) fn keys(&self) -> Vec<&'static str> {
        self.needs.iter().chain(self.may).copied().collect()
    }
}

/// The word of a method.
pub(super) fn method_word(method: Method) -> &'static str {
    METHODS.iter().find(|(_, known)| *known == method).map_or("", |(word, _)| word)
}
