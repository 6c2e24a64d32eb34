//! The journal: what was written, changing it with the original staying visible, and keeping it whole.

mod archive;
mod backup;
mod change;
mod correct;
mod history;
mod restore;
mod strike;
mod verify;

pub(super) use archive::{ArchiveArgs, run as archive};
pub(super) use backup::{BackupArgs, run as backup};
pub(super) use correct::{CorrectArgs, run as correct};
pub(super) use history::{HistoryArgs, run as history};
pub(super) use restore::{RestoreArgs, run as restore};
pub(super) use strike::{StrikeArgs, run as strike};
pub(super) use verify::{VerifyArgs, run as verify};
