//! What a summary is to use.

use clap::Args;

use super::share::share;
use crate::input::Faults;
use crate::statistics::quantile::QuantileRule;
use crate::statistics::summary::SummaryRules;

/// The level of the tests for outliers.
const ALPHA: f64 = 0.05;

/// What can be asked of a summary.
#[derive(Debug, Args)]
pub(in crate::cli) struct SummaryRuleArgs {
    /// How quartiles are found: 6, 7 or 8 of Hyndman and Fan's definitions
    #[arg(long, value_name = "TYPE", default_value = "7", value_parser = ["6", "7", "8"])]
    quartiles: String,
    /// The share of all such cells that the tolerance interval is to hold
    #[arg(long, value_name = "PERCENT", default_value = "95%", allow_hyphen_values = true)]
    content: String,
    /// The confidence of the tolerance interval
    #[arg(long, value_name = "PERCENT", default_value = "95%", allow_hyphen_values = true)]
    confidence: String,
}

/// The rules; all faults come together.
pub(in crate::cli) fn summary_rules(args: &SummaryRuleArgs) -> Result<SummaryRules, Faults> {
    let mut faults = Faults::none();
    let content = faults.collect(share("--content", &args.content, 0.0, 1.0));
    let confidence = faults.collect(share("--confidence", &args.confidence, 0.0, 1.0));
    let quartiles = args.quartiles.parse().ok().and_then(QuantileRule::of_number).unwrap_or_default();
    let (content, confidence) = (content.unwrap_or_default(), confidence.unwrap_or_default());
    faults.or(SummaryRules { quartiles, content, confidence, alpha: ALPHA })
}

/// The rules of a call that asks for nothing else.
pub(in crate::cli) fn usual_summary_rules() -> SummaryRules {
    SummaryRules { quartiles: QuantileRule::default(), content: 0.95, confidence: 0.95, alpha: ALPHA }
}
