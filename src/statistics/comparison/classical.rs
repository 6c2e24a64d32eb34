//! Means of groups of one variance.

use super::{Adjustment, Judged, Member, NamedTest, Pair, Question, asked, effect, joint};
use crate::statistics::anova::Anova;
use crate::statistics::distribution::student_t_upper;
use crate::statistics::pairs::{PairTest, dunnett, tukey_kramer};
use crate::statistics::t_test::student;

pub(super) fn judge(members: &[Member], taking_part: &[usize], question: Question) -> Judged {
    let groups: Vec<&[f64]> = taking_part.iter().map(|&place| members[place].units.as_slice()).collect();
    if let ([pair], 2) = (asked(taking_part, question).as_slice(), taking_part.len()) {
        return one_pair(members, *pair, question.confidence);
    }
    let anova = Anova::of(&groups);
    let overall = anova.and_then(|anova| anova.test()).map(|test| NamedTest::of_f("anova", &test));
    let (tests, adjustment) = match question.baseline {
        Some(baseline) => {
            let place = taking_part.iter().position(|&place| place == baseline);
            let tests = place.and_then(|place| dunnett(&groups, place, question.confidence));
            (tests, Adjustment::Dunnett)
        }
        None => (tukey_kramer(&groups, question.confidence), Adjustment::TukeyKramer),
    };
    // q of the studentized range is √2 t.
    let t = |test: &PairTest| match adjustment {
        Adjustment::Dunnett => test.statistic.abs(),
        _ => test.statistic.abs() / std::f64::consts::SQRT_2,
    };
    let pairs = tests.unwrap_or_default().into_iter().map(|test| {
        let alone = 2.0 * student_t_upper(t(&test), test.df);
        joint(members, taking_part, &test, alone, question.confidence)
    });
    Judged { overall, pairs: pairs.collect(), adjustment }
}

fn one_pair(members: &[Member], (a, b): (usize, usize), confidence: f64) -> Judged {
    let test = student(&members[a].moments, &members[b].moments);
    let pair = test.map(|test| Pair {
        a,
        b,
        difference: test.difference,
        interval: Some(test.interval(confidence)),
        p: test.p,
        p_adjusted: test.p,
        effect: effect(members, (a, b), confidence),
    });
    let overall =
        test.map(|test| NamedTest { name: "student_t", statistic: test.t, df: vec![test.df], p: test.p });
    Judged { overall, pairs: pair.into_iter().collect(), adjustment: Adjustment::OnePair }
}
