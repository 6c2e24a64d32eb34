//! The bottles of the book that batches to come would be weighed from.

use jiff::civil::Date;

use super::cost::{Cost, price_of};
use crate::component::{Component, ComponentId, Quality};
use crate::plan::{Correction, Supply};
use crate::quantity::Mass;
use crate::record::bottle::Bottle;
use crate::report::view::Shelf;

/// Less than this share of a need is what arithmetic leaves.
const NOTHING: f64 = 1e-12;

/// The bottles that may be used, in the order in which they would be: what expires first, then what came first.
pub(in crate::cli) struct Stores<'b> {
    usable: Vec<&'b Bottle>,
}

/// What a component needs out of the bottles.
pub(super) struct Drawn<'b> {
    /// Grams on the balance, what must be bought among them.
    pub(super) needed_g: f64,
    /// Grams in all usable bottles.
    pub(super) there_g: f64,
    /// Grams that no bottle has, of the quality of the last one.
    pub(super) short_g: f64,
    /// The bottles that it is drawn from, each with the grams that it gives.
    pub(super) from: Vec<(&'b Bottle, f64)>,
    /// The bottle with a price that came last of those that may be used: what must be bought is taken to cost as much.
    pub(super) buy_like: Option<&'b Bottle>,
}

impl<'b> Stores<'b> {
    /// Bottles past their date, empty or given to waste are left out.
    pub(in crate::cli) fn of(bottles: &'b [Bottle], today: Date) -> Self {
        let is_usable = |row: &&Bottle| Shelf::of(row, today).is_usable();
        let mut usable: Vec<&Bottle> = bottles.iter().filter(is_usable).collect();
        usable.sort_by_key(|row| (row.expires.is_none(), &row.expires, &row.received));
        Self { usable }
    }

    /// What a plan is to take each component from: its fullest bottle, out of which most of it comes.
    pub(in crate::cli) fn supplies(&self) -> Vec<Supply> {
        let mut supplies: Vec<Supply> = Vec::new();
        let mut fullest = self.usable.clone();
        fullest.sort_by(|one, other| other.left_g.total_cmp(&one.left_g));
        for row in fullest {
            let Some(component) = ComponentId::from_text(&row.component) else { continue };
            if !supplies.iter().any(|known| known.component == component) {
                let label = Some(row.code.to_string());
                let quality = row.quality.clone();
                supplies.push(Supply { component, label, quality, density: None, stock: None });
            }
        }
        supplies
    }

    /// Draws so much of a pure component without its water, bottle after bottle, each by its own quality as a plan
    /// corrects grams. What is missing is counted like the last bottle, or pure and dry where there is none.
    pub(super) fn draw(&self, component: &Component, anhydrous: Mass) -> Drawn<'b> {
        let own: Vec<&Bottle> =
            self.usable.iter().copied().filter(|row| row.component == component.id.as_str()).collect();
        let there_g = own.iter().map(|row| row.left_g).fold(0.0, |a, b| a + b);
        let priced = own.iter().copied().filter(|row| row.price.is_some() && 0.0 < row.net_g);
        let buy_like = priced.max_by(|one, other| one.received.cmp(&other.received));
        let mut drawn = Drawn { needed_g: 0.0, there_g, short_g: 0.0, from: Vec::new(), buy_like };
        let (mut rest, whole) = (anhydrous, anhydrous.get() * NOTHING);
        for row in &own {
            if rest.get() <= whole {
                return drawn;
            }
            let wanted = gross(rest, component, &row.quality);
            let taken = wanted.min(row.left_g);
            rest = rest * (1.0 - taken / wanted);
            drawn.needed_g += taken;
            drawn.from.push((row, taken));
        }
        if whole < rest.get() {
            let last = own.last().map_or_else(Quality::default, |row| row.quality.clone());
            drawn.short_g = gross(rest, component, &last);
            drawn.needed_g += drawn.short_g;
        }
        drawn
    }
}

/// Grams of a bottle's content that hold so much of the component. Added water is water, whatever its bottle says.
fn gross(anhydrous: Mass, component: &Component, quality: &Quality) -> f64 {
    let plain = Quality::default();
    Correction::of(anhydrous, component, if component.is_water() { &plain } else { quality }).gross.get()
}

impl Drawn<'_> {
    /// What it costs by the bottles that it comes from, and by the newest price what must be bought.
    pub(super) fn cost(&self, bottles: &[Bottle]) -> Cost {
        let mut cost = Cost::default();
        for (row, grams) in &self.from {
            cost.add(*grams, price_of(row, bottles));
        }
        if 0.0 < self.short_g {
            cost.add(self.short_g, self.buy_like.and_then(|row| price_of(row, bottles)));
        }
        cost
    }

    /// What the grams were counted as: "B1: assay 98%, basis dried, moisture 1.5%".
    pub(super) fn taken_as(&self) -> String {
        if self.from.is_empty() {
            return "no bottle: pure and dry".to_owned();
        }
        let mut parts: Vec<String> =
            self.from.iter().map(|(row, _)| format!("{}: {}", row.code, words(&row.quality))).collect();
        if 0.0 < self.short_g {
            parts.extend(self.from.last().map(|(row, _)| format!("to buy: like {}", row.code)));
        }
        parts.join("; ")
    }
}

fn words(quality: &Quality) -> String {
    let form = quality.form.as_ref().map(|form| form.name.clone());
    let assay =
        quality.assay.as_ref().map(|assay| format!("assay {}, basis {}", assay.text, quality.basis.word()));
    let moisture = quality.moisture.as_ref().map(|moisture| format!("moisture {}", moisture.text));
    let stated: Vec<String> = [form, assay, moisture].into_iter().flatten().collect();
    if stated.is_empty() { "nothing stated, so pure and dry".to_owned() } else { stated.join(", ") }
}
