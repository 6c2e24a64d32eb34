//! Something that a person should know and that stops nothing.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

/// One warning, as a value: how it looks on a screen or in JSON is decided elsewhere.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Warning {
    /// A stable name for scripts, in snake_case.
    pub code: Cow<'static, str>,
    /// What to know: lower case, no full stop.
    pub message: String,
}

impl Warning {
    /// A warning by its stable name and what it says.
    pub fn new(code: impl Into<Cow<'static, str>>, message: impl Into<String>) -> Self {
        Self { code: code.into(), message: message.into() }
    }
}
