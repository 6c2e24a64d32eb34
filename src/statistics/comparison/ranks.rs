//! Groups of which nothing but the order is used.

use super::{Adjustment, Judged, Member, NamedTest, Pair, Question, adjusted_by_holm, asked, effect};
use crate::statistics::kruskal_wallis::kruskal_wallis;
use crate::statistics::mann_whitney::{mann_whitney, shift};

pub(super) fn judge(members: &[Member], taking_part: &[usize], question: Question) -> Judged {
    let values = |place: usize| members[place].units.as_slice();
    let asked = asked(taking_part, question);
    let pair = |&(a, b): &(usize, usize)| {
        let test = mann_whitney(values(a), values(b))?;
        let shift = shift(values(a), values(b), question.confidence)?;
        let effect = effect(members, (a, b), question.confidence);
        let (p, interval) = (test.p, shift.interval);
        Some(Pair { a, b, difference: shift.estimate, interval, p, p_adjusted: p, effect })
    };
    let found: Vec<Pair> = asked.iter().filter_map(pair).collect();
    if let ([(a, b)], 2) = (asked.as_slice(), taking_part.len()) {
        let test = mann_whitney(values(*a), values(*b));
        let name = if test.is_some_and(|test| test.exact) { "mann_whitney_exact" } else { "mann_whitney" };
        let overall = test.map(|test| NamedTest { name, statistic: test.u, df: Vec::new(), p: test.p });
        return Judged { overall, pairs: found, adjustment: Adjustment::OnePair };
    }
    let groups: Vec<&[f64]> = taking_part.iter().map(|&place| values(place)).collect();
    let overall = kruskal_wallis(&groups).map(|test| NamedTest {
        name: if test.exact { "kruskal_wallis_exact" } else { "kruskal_wallis" },
        statistic: test.h,
        df: vec![test.df],
        p: test.p,
    });
    Judged { overall, pairs: adjusted_by_holm(found), adjustment: Adjustment::Holm }
}
