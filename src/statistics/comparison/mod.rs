//! Several groups compared: which test for which question, all pairs, and batches as the unit where there are several.

mod classical;
mod ranks;
mod unequal;

use super::anova::{Anova, Components, FTest};
use super::batches::{Batches, NestedAnova, batch_means};
use super::effect_size::{EffectSize, effect_size};
use super::moments::Moments;
use super::pairs::{PairTest, pairs};
use super::t_test::mean_interval;
use super::variance_test::{bartlett, brown_forsythe, levene};

/// The values of one group: a list of cells for each batch. Where no batches are known it is one list.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// What it is called.
    pub name: String,
    /// The values, batch by batch; no batch is empty.
    pub batches: Batches,
}

/// What is assumed of the values.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// Means of about normal values whose variances may differ.
    Welch,
    /// Means of about normal values of one variance.
    Classical,
    /// Nothing but their order.
    Ranks,
}

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Question {
    /// What is assumed.
    pub method: Method,
    /// The place of the group that all others are compared with; without it every pair is compared.
    pub baseline: Option<usize>,
    /// Confidence (0 to 1) of the limits.
    pub confidence: f64,
}

/// What stands for one independent value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// A cell.
    Cell,
    /// The mean of a batch.
    Batch,
}

/// How the pairs are judged together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Adjustment {
    /// There is one pair.
    OnePair,
    /// Games and Howell; the limits hold for all pairs together.
    GamesHowell,
    /// Tukey and Kramer; the limits hold for all pairs together.
    TukeyKramer,
    /// Dunnett; the limits hold for all pairs together.
    Dunnett,
    /// Holm; each interval holds on its own.
    Holm,
}

/// A test by its name.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedTest {
    /// A stable name in snake_case.
    pub name: &'static str,
    /// The statistic.
    pub statistic: f64,
    /// Degrees of freedom: none, one, or above and below the line.
    pub df: Vec<f64>,
    /// Significance.
    pub p: f64,
}

/// Two groups compared.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// Place of the first.
    pub a: usize,
    /// Place of the second.
    pub b: usize,
    /// First less second: of the means, or by ranks the median of all differences.
    pub difference: f64,
    /// Its limits; by ranks `None` where so few values can't give any.
    pub interval: Option<[f64; 2]>,
    /// Significance of this pair alone.
    pub p: f64,
    /// Significance among all pairs.
    pub p_adjusted: f64,
    /// The difference in units of the spread.
    pub effect: Option<EffectSize>,
}

/// A group as it took part.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// What it is called.
    pub name: String,
    /// Every cell.
    pub cells: Vec<f64>,
    /// How many batches, where batches are known.
    pub batches: usize,
    /// What the tests were made with: cells, or means of batches.
    pub units: Vec<f64>,
    /// Number, mean and variance of those.
    pub moments: Moments,
    /// Limits of their mean.
    pub interval: Option<[f64; 2]>,
    /// Variance between and within batches of this group alone, where it has several batches.
    pub components: Option<Components>,
}

/// The whole comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// What was asked.
    pub question: Question,
    /// What stands for one independent value.
    pub unit: Unit,
    /// Every group, in the order given.
    pub members: Vec<Member>,
    /// Places of groups with too few values to take part.
    pub left_out: Vec<usize>,
    /// The test that all groups are alike; of two groups that is the test of their difference.
    pub overall: Option<NamedTest>,
    /// Tests that all variances are equal.
    pub spread: Vec<NamedTest>,
    /// The pairs.
    pub pairs: Vec<Pair>,
    /// How they are judged together.
    pub adjustment: Adjustment,
    /// Batches within groups, where they are the unit and hold several cells.
    pub nested: Option<NestedAnova>,
}

/// What a method gives: the test over all, the pairs, and how they are judged together.
struct Judged {
    overall: Option<NamedTest>,
    pairs: Vec<Pair>,
    adjustment: Adjustment,
}

/// Compares groups. The unit is the batch where at least two groups have several of them.
pub fn compare(groups: &[Group], question: Question) -> Comparison {
    let several = groups.iter().filter(|group| 1 < group.batches.len()).count();
    let unit = if several < 2 { Unit::Cell } else { Unit::Batch };
    let members: Vec<Member> =
        groups.iter().map(|group| Member::of(group, unit, question.confidence)).collect();
    let least = if question.method == Method::Welch { 2 } else { 1 };
    let (taking_part, left_out): (Vec<usize>, Vec<usize>) =
        (0..members.len()).partition(|&place| least <= members[place].units.len());
    let judged = match question.method {
        Method::Welch => unequal::judge(&members, &taking_part, question),
        Method::Classical => classical::judge(&members, &taking_part, question),
        Method::Ranks => ranks::judge(&members, &taking_part, question),
    };
    let nested = (unit == Unit::Batch)
        .then(|| NestedAnova::of(&groups.iter().map(|group| group.batches.clone()).collect::<Vec<_>>()))
        .flatten();
    Comparison {
        question,
        unit,
        spread: spread(&members),
        members,
        left_out,
        overall: judged.overall,
        pairs: judged.pairs,
        adjustment: judged.adjustment,
        nested,
    }
}

impl Member {
    fn of(group: &Group, unit: Unit, confidence: f64) -> Self {
        let cells = group.batches.concat();
        let units = if unit == Unit::Batch { batch_means(&group.batches) } else { cells.clone() };
        let moments = Moments::of(&units);
        let batches: Vec<&[f64]> = group.batches.iter().map(Vec::as_slice).collect();
        Self {
            name: group.name.clone(),
            batches: batches.len(),
            components: Anova::of(&batches).map(|anova| anova.components()),
            interval: mean_interval(&moments, confidence).filter(|_| 0.0 < moments.variance),
            cells,
            units,
            moments,
        }
    }
}

impl NamedTest {
    fn of_f(name: &'static str, test: &FTest) -> Self {
        Self { name, statistic: test.f, df: vec![test.df1, test.df2], p: test.p }
    }
}

/// Brown and Forsythe's, Levene's and Bartlett's tests, as far as there are values for them.
fn spread(members: &[Member]) -> Vec<NamedTest> {
    let several: Vec<&Member> = members.iter().filter(|member| 1 < member.units.len()).collect();
    let values: Vec<&[f64]> = several.iter().map(|member| member.units.as_slice()).collect();
    let moments: Vec<Moments> = several.iter().map(|member| member.moments).collect();
    let f = |name: &'static str, test: Option<FTest>| test.map(|test| NamedTest::of_f(name, &test));
    let bartlett = bartlett(&moments).map(|test| NamedTest {
        name: "bartlett",
        statistic: test.chi_squared,
        df: vec![test.df],
        p: test.p,
    });
    [f("brown_forsythe", brown_forsythe(&values)), f("levene", levene(&values)), bartlett]
        .into_iter()
        .flatten()
        .collect()
}

/// The pairs asked for, by their places among all groups: each other with the baseline, or every two.
fn asked(taking_part: &[usize], question: Question) -> Vec<(usize, usize)> {
    match question.baseline {
        Some(baseline) if taking_part.contains(&baseline) => {
            taking_part.iter().filter(|&&place| place != baseline).map(|&place| (place, baseline)).collect()
        }
        Some(_) => Vec::new(),
        None => pairs(taking_part.len()).map(|(a, b)| (taking_part[a], taking_part[b])).collect(),
    }
}

fn effect(members: &[Member], (a, b): (usize, usize), confidence: f64) -> Option<EffectSize> {
    effect_size(&members[a].moments, &members[b].moments, confidence)
}

/// A pair judged among all, with its significance alone.
fn joint(members: &[Member], taking_part: &[usize], test: &PairTest, p: f64, confidence: f64) -> Pair {
    let (a, b) = (taking_part[test.first], taking_part[test.second]);
    Pair {
        a,
        b,
        difference: test.difference,
        interval: Some(test.interval),
        p,
        p_adjusted: test.p_adjusted,
        effect: effect(members, (a, b), confidence),
    }
}

/// Fills in significance by Holm's adjustment.
fn adjusted_by_holm(mut pairs: Vec<Pair>) -> Vec<Pair> {
    let alone: Vec<f64> = pairs.iter().map(|pair| pair.p).collect();
    for (pair, adjusted) in pairs.iter_mut().zip(super::adjust::holm(&alone)) {
        pair.p_adjusted = adjusted;
    }
    pairs
}
