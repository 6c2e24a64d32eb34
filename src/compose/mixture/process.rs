//! What else is set besides the composition: water, a salt level, a temperature.

/// A process variable.
#[derive(Debug, Clone, PartialEq)]
pub struct Process {
    /// What it is called.
    pub name: String,
    /// Its unit, if it has one.
    pub unit: Option<String>,
    /// The values to be set, rising.
    pub levels: Vec<f64>,
    /// True if it is set once for a whole plot, since changing it is slow.
    pub is_hard: bool,
}

/// A value for each process variable, in its unit.
pub type Setting = Vec<f64>;

impl Process {
    /// A value in the coded unit: −1 at the lowest level, 1 at the highest. 0 where there is one level.
    pub fn coded(&self, value: f64) -> f64 {
        let (low, high) = self.range();
        if low < high { (2.0 * value - low - high) / (high - low) } else { 0.0 }
    }

    /// The lowest and the highest level.
    pub fn range(&self) -> (f64, f64) {
        let low = self.levels.iter().copied().fold(f64::INFINITY, f64::min);
        let high = self.levels.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        (low, high)
    }
}

/// Every combination of levels; one empty setting without variables. The last variable changes fastest.
pub fn settings(variables: &[Process]) -> Vec<Setting> {
    let mut settings = vec![Setting::new()];
    for variable in variables {
        let further = |setting: &Setting| -> Vec<Setting> {
            variable.levels.iter().map(|level| [setting.as_slice(), &[*level]].concat()).collect()
        };
        settings = settings.iter().flat_map(further).collect();
    }
    settings
}
