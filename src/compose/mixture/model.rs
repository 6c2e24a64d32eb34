//! Scheffé's polynomials, alone or with process variables.

use super::process::Process;

/// How far the mixture part goes (H. Scheffé, J. R. Stat. Soc. B 20 (1958) 344).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Order {
    /// Σ βᵢ xᵢ.
    Linear,
    /// … + Σ βᵢⱼ xᵢ xⱼ.
    Quadratic,
    /// … + Σ βᵢⱼₖ xᵢ xⱼ xₖ.
    SpecialCubic,
    /// … + Σ γᵢⱼ xᵢ xⱼ (xᵢ − xⱼ).
    FullCubic,
}

/// How process variables act together with the composition.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Crossing {
    /// Each variable changes every coefficient of the mixture.
    Every,
    /// Each variable changes the linear coefficients alone (S. Kowalski, J. A. Cornell and G. G. Vining, Commun.
    /// Stat. Theory Methods 29 (2000) 2255).
    Linear,
    /// Each variable shifts the response by the same amount at every composition.
    Common,
}

/// A term: a product of fractions and coded process variables.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Term {
    /// The components whose fractions are multiplied; none for a shift.
    pub components: Vec<usize>,
    /// True for xᵢ xⱼ (xᵢ − xⱼ).
    pub is_difference: bool,
    /// The process variable, coded −1 to 1, that it is multiplied with.
    pub variable: Option<usize>,
}

/// A sum of terms.
#[derive(Debug, Clone, PartialEq)]
pub struct Model {
    /// The mixture part.
    pub order: Order,
    /// The terms in order.
    pub terms: Vec<Term>,
    q: usize,
    variables: Vec<Process>,
    blocks: Vec<String>,
}

impl Order {
    /// All, rising.
    pub const ALL: [Self; 4] = [Self::Linear, Self::Quadratic, Self::SpecialCubic, Self::FullCubic];

    /// Its name as typed.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Linear => "linear",
            Self::Quadratic => "quadratic",
            Self::SpecialCubic => "special-cubic",
            Self::FullCubic => "full-cubic",
        }
    }

    /// The mixture terms for so many components.
    fn terms(self, q: usize) -> Vec<Term> {
        let term = |components: Vec<usize>| Term { components, is_difference: false, variable: None };
        let pairs = || (0..q).flat_map(move |i| (i + 1..q).map(move |j| vec![i, j]));
        let mut terms: Vec<Term> = (0..q).map(|i| term(vec![i])).collect();
        if Self::Quadratic <= self {
            terms.extend(pairs().map(term));
        }
        if self == Self::FullCubic {
            terms.extend(pairs().map(|pair| Term { is_difference: true, ..term(pair) }));
        }
        if Self::SpecialCubic <= self {
            terms.extend(pairs().flat_map(|pair| {
                (pair[1] + 1..q).map(move |k| term(vec![pair[0], pair[1], k])).collect::<Vec<_>>()
            }));
        }
        terms
    }
}

impl Model {
    /// The model for `q` components and these process variables.
    pub fn new(order: Order, q: usize, variables: Vec<Process>, crossing: Crossing) -> Self {
        let mixture = order.terms(q);
        let mut terms = mixture.clone();
        for variable in 0..variables.len() {
            let with = |term: &Term| Term { variable: Some(variable), ..term.clone() };
            match crossing {
                Crossing::Every => terms.extend(mixture.iter().map(with)),
                Crossing::Linear => {
                    terms.extend(mixture.iter().filter(|term| term.components.len() == 1).map(with));
                }
                Crossing::Common => terms.push(Term {
                    components: Vec::new(),
                    is_difference: false,
                    variable: Some(variable),
                }),
            }
        }
        Self { order, terms, q, variables, blocks: Vec::new() }
    }

    /// The same with a shift for each block beside the terms; the shifts of all blocks add up to 0. One block is none.
    pub fn with_blocks(mut self, names: Vec<String>) -> Self {
        self.blocks = if names.len() < 2 { Vec::new() } else { names };
        self
    }

    /// The names of the blocks; none without a shift for them.
    pub fn blocks(&self) -> &[String] {
        &self.blocks
    }

    /// How many components it is for.
    pub fn q(&self) -> usize {
        self.q
    }

    /// The process variables.
    pub fn variables(&self) -> &[Process] {
        &self.variables
    }

    /// The value of each term for a composition and a setting in the variables' own units, in the mean of the blocks.
    pub fn row(&self, x: &[f64], setting: &[f64]) -> Vec<f64> {
        let coded: Vec<f64> =
            self.variables.iter().zip(setting).map(|(variable, value)| variable.coded(*value)).collect();
        let shifts = vec![0.0; self.blocks.len().saturating_sub(1)];
        self.terms.iter().map(|term| term.value(x, &coded)).chain(shifts).collect()
    }

    /// The same in a block, by its place.
    pub fn row_in(&self, x: &[f64], setting: &[f64], block: usize) -> Vec<f64> {
        let mut row = self.row(x, setting);
        let shifts = &mut row[self.terms.len()..];
        match shifts.get_mut(block) {
            Some(own) => *own = 1.0,
            // The last block is what is missing to a sum of 0.
            None => shifts.fill(-1.0),
        }
        row
    }

    /// The name of a column of a row: that of a term, or of a block.
    pub fn column_name<N: AsRef<str>>(&self, column: usize, components: &[N]) -> String {
        match self.terms.get(column) {
            Some(term) => self.name(term, components),
            None => {
                format!("block {}", self.blocks.get(column - self.terms.len()).map_or("", String::as_str))
            }
        }
    }

    /// The name of a term out of names of components: `x1*x2`, `x1*water`, `x1*x2*(x1-x2)`.
    pub fn name<N: AsRef<str>>(&self, term: &Term, components: &[N]) -> String {
        let mut factors: Vec<String> =
            term.components.iter().map(|component| components[*component].as_ref().to_owned()).collect();
        if let (true, [one, other]) = (term.is_difference, factors.as_slice()) {
            factors.push(format!("({one}-{other})"));
        }
        factors.extend(term.variable.map(|variable| self.variables[variable].name.clone()));
        factors.join("*")
    }
}

impl Term {
    fn value(&self, x: &[f64], coded: &[f64]) -> f64 {
        let mixture: f64 = self.components.iter().map(|component| x[*component]).product();
        let difference = match (self.is_difference, self.components.as_slice()) {
            (true, [one, other]) => x[*one] - x[*other],
            _ => 1.0,
        };
        mixture * difference * self.variable.map_or(1.0, |variable| coded[variable])
    }
}
