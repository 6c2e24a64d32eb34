//! Means of groups whose variances may differ.

use super::{Adjustment, Judged, Member, NamedTest, Pair, Question, adjusted_by_holm, asked, effect, joint};
use crate::statistics::anova::welch_anova;
use crate::statistics::moments::Moments;
use crate::statistics::pairs::games_howell;
use crate::statistics::t_test::welch;

pub(super) fn judge(members: &[Member], taking_part: &[usize], question: Question) -> Judged {
    let moments: Vec<Moments> = taking_part.iter().map(|&place| members[place].moments).collect();
    let alone = |(a, b): (usize, usize)| {
        let test = welch(&members[a].moments, &members[b].moments)?;
        let pair = Pair {
            a,
            b,
            difference: test.difference,
            interval: Some(test.interval(question.confidence)),
            p: test.p,
            p_adjusted: test.p,
            effect: effect(members, (a, b), question.confidence),
        };
        Some((pair, NamedTest { name: "welch_t", statistic: test.t, df: vec![test.df], p: test.p }))
    };
    let asked = asked(taking_part, question);
    if let ([pair], 2) = (asked.as_slice(), taking_part.len()) {
        let (pairs, overall) = alone(*pair).unzip();
        return Judged { overall, pairs: pairs.into_iter().collect(), adjustment: Adjustment::OnePair };
    }
    let overall = welch_anova(&moments).map(|test| NamedTest::of_f("welch_anova", &test));
    let alone: Vec<Pair> = asked.into_iter().filter_map(|pair| alone(pair).map(|(pair, _)| pair)).collect();
    if question.baseline.is_some() {
        return Judged { overall, pairs: adjusted_by_holm(alone), adjustment: Adjustment::Holm };
    }
    let tests = games_howell(&moments, question.confidence).unwrap_or_default();
    let pairs = tests
        .iter()
        .zip(&alone)
        .map(|(test, alone)| joint(members, taking_part, test, alone.p, question.confidence));
    Judged { overall, pairs: pairs.collect(), adjustment: Adjustment::GamesHowell }
}
