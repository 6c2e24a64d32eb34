//! Practice at the bench: topics with points, chosen for what is at hand.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::context::{Condition, Context};
use super::selector::Selector;
use super::subject::Member;

/// A topic with the points that are shown.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Practice {
    /// The topic's name for scripts, such as `sealed_cell`.
    pub topic: String,
    /// Its heading.
    pub title: String,
    /// Its points, a sentence each.
    pub points: Vec<String>,
    /// The source.
    pub source: String,
}

/// The topic that says who decides; it is shown with every review.
const DEFERRAL: &str = "deferral";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PracticeFile {
    source: String,
    topic: Vec<Topic>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Topic {
    id: String,
    title: String,
    points: Vec<Point>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Point {
    text: String,
    #[serde(default)]
    any: Vec<Selector>,
    #[serde(default)]
    when: Vec<Condition>,
    /// Something carries one of these H codes; a lettered form counts.
    #[serde(default)]
    h_codes: Vec<String>,
}

static FILE: LazyLock<PracticeFile> = LazyLock::new(|| {
    // A faulty file would give no topics, which the tests rule out.
    let file = toml::from_str(include_str!("../../data/alerts/practice.toml"));
    file.unwrap_or(PracticeFile { source: String::new(), topic: Vec::new() })
});

/// All topics with all their points, the deferral among them.
pub fn all_practice() -> Vec<Practice> {
    topics(|_| true, |_| true)
}

/// The topics for what is at hand, or all if the context asks for it. The deferral is not among them.
pub(super) fn practice(members: &[Member<'_>], context: &Context) -> Vec<Practice> {
    let shown = |point: &Point| context.all_practice || point.is_for(members, context);
    topics(|topic| topic.id != DEFERRAL, shown)
}

/// Who decides: the sentences that go with every review.
pub(super) fn deferral() -> Vec<String> {
    let topic = topics(|topic| topic.id == DEFERRAL, |_| true);
    topic.into_iter().flat_map(|practice| practice.points).collect()
}

fn topics(wanted: impl Fn(&Topic) -> bool, shown: impl Fn(&Point) -> bool) -> Vec<Practice> {
    let practice = |topic: &Topic| Practice {
        topic: topic.id.clone(),
        title: topic.title.clone(),
        points: topic.points.iter().filter(|point| shown(point)).map(|point| point.text.clone()).collect(),
        source: FILE.source.clone(),
    };
    let topics = FILE.topic.iter().filter(|topic| wanted(topic)).map(practice);
    topics.filter(|practice| !practice.points.is_empty()).collect()
}

impl Point {
    /// True for what is at hand; a point that names no materials, conditions or codes is for everything.
    fn is_for(&self, members: &[Member<'_>], context: &Context) -> bool {
        let always = self.any.is_empty() && self.when.is_empty() && self.h_codes.is_empty();
        let in_context = self.when.iter().any(|condition| context.holds(*condition));
        let at_hand = members.iter().any(|member| self.any.iter().any(|selector| selector.fits(member)));
        always || in_context || at_hand || members.iter().any(|member| self.is_for_class(member))
    }

    fn is_for_class(&self, member: &Member<'_>) -> bool {
        let carried = member.component.map(|component| component.hazard.codes.as_slice()).unwrap_or_default();
        carried.iter().any(|code| self.h_codes.iter().any(|wanted| code.starts_with(wanted.as_str())))
    }
}
