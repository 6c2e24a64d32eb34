//! Which materials a rule means.

use serde::Deserialize;

use super::subject::Member;

/// One way to be meant by a rule: groups that must all be there, or a component by its id.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(from = "String")]
pub(super) enum Selector {
    /// All of these groups, written `water-reactive+chloride-acidic`.
    Groups(Vec<String>),
    /// This component or a hydrate of it, written `component:phenol`.
    Component(String),
}

impl From<String> for Selector {
    fn from(text: String) -> Self {
        match text.strip_prefix("component:") {
            Some(id) => Self::Component(id.to_owned()),
            None => Self::Groups(text.split('+').map(str::to_owned).collect()),
        }
    }
}

impl Selector {
    pub(super) fn fits(&self, member: &Member<'_>) -> bool {
        match self {
            Self::Groups(names) => names.iter().all(|name| member.in_group(name)),
            Self::Component(id) => member.is_component(id),
        }
    }
}

/// For each side, the members that stand on it in some arrangement that gives every side a member of its
/// own; `None` if there is no such arrangement. Without sides, an arrangement without members.
pub(super) fn arranged(sides: &[&[Selector]], members: &[Member<'_>]) -> Option<Vec<usize>> {
    let candidates: Vec<Vec<usize>> = sides
        .iter()
        .map(|side| {
            let fits = |at: &usize| side.iter().any(|selector| selector.fits(&members[*at]));
            (0..members.len()).filter(fits).collect()
        })
        .collect();
    let mut taking_part = vec![false; members.len()];
    let found = arrange(&candidates, &mut Vec::new(), &mut taking_part);
    found.then(|| (0..members.len()).filter(|at| taking_part[*at]).collect())
}

fn arrange(sides: &[Vec<usize>], chosen: &mut Vec<usize>, taking_part: &mut [bool]) -> bool {
    let Some(side) = sides.get(chosen.len()) else {
        chosen.iter().for_each(|at| taking_part[*at] = true);
        return true;
    };
    let mut found = false;
    for at in side {
        if !chosen.contains(at) {
            chosen.push(*at);
            found |= arrange(sides, chosen, taking_part);
            chosen.pop();
        }
    }
    found
}
