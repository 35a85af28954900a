//! The vet was advised: urgent until a fact answers it.

use super::{Due, Urgency, What};
use chrono::NaiveDate;

/// Due on the day it was advised.
pub(super) fn due(since: NaiveDate) -> Due {
    Due { what: What::Vet, day: since, urgency: Urgency::Urgent }
}
