//! When that which an entry records happened, which may be long before it was entered.

use jiff::Timestamp;
use jiff::tz::TimeZone;

use super::event::Event;

impl Event {
    /// When it happened, as far as the record says. A day alone counts as its noon, UTC.
    pub fn happened(&self) -> Option<Timestamp> {
        Some(match self {
            Self::Begun(_) | Self::Corrected(_) | Self::Struck(_) => return None,
            Self::BottleReceived(event) => {
                event.received.at(12, 0, 0, 0).to_zoned_datetime(TimeZone::UTC).ok()?.timestamp()
            }
            Self::BottleOpened(event) => event.at,
            Self::BottleDried(event) => event.at,
            Self::BottleWeighed(event) => event.at,
            Self::BottleDisposed(event) => event.at,
            Self::BatchStarted(event) => event.at,
            Self::BatchWeighed(event) => event.at,
            Self::BatchAdded(event) => event.at,
            Self::BatchBlended(event) => event.at,
            Self::BatchFinished(event) => event.at,
            Self::BatchWater(event) => event.at,
            Self::BatchAppearance(event) => event.at,
            Self::BatchMeasured(event) => event.at,
            Self::BatchReleased(event) => event.at,
            Self::BatchRejected(event) => event.at,
            Self::BatchWasted(event) => event.at,
            Self::BatchLeftWeighed(event) => event.at,
            Self::CellsBuilt(event) => event.at,
            Self::CellWeighed(event) => event.at,
            Self::CellRetired(event) => event.at,
            Self::ReadingTaken(event) => event.at,
            Self::LogImported(event) => event.at,
            Self::StudyPlanned(event) => event.at,
            Self::StudyAssigned(event) => event.at,
            Self::StudyLooked(event) => event.at,
        })
    }
}
