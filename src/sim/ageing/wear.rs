//! Contacts worn by operations.
//!
//! Sound contacts last a counted life; replacing them then is upkeep, no fault that comes back. Contacts that are
//! already worn go on: `dx/dn = x / E` with each operation. So do faces whose plating is gone, a burnt stab or a pitted
//! breaker contact, with each heat cycle: a new breaker on a burnt stab is back within the year (trade experience).
//!
//! | parameter | value | unit | range | why |
//! |---|---|---|---|---|
//! | `LIFE` | 300000 | operations | 200000 .. 500000 | kiln contactors at rated resistive load (trade experience) |
//! | `FOLD` | 30000 | operations | 10000 .. 60000 | worn faces bounce and arc: a tenth of life doubles and more; common practice, no source |
//! | `BARE_FOLD` | 60 | heat cycles | 20 .. 200 | faces without plating pit and oxidise; common practice, no source |
//! | `WORN` | 0.5 | film factor | - | from here a pair counts as worn |

/// Operations a pair of sound contacts lasts.
pub const LIFE: f64 = 300_000.0;
/// Operations in which worn contacts get e times worse.
pub const FOLD: f64 = 30_000.0;
/// Heat cycles in which faces without plating get e times worse.
pub const BARE_FOLD: f64 = 60.0;
/// Film factor from which contacts count as worn.
pub const WORN: f64 = 0.5;

/// Years until contacts reach their counted life; `None` where nothing switches.
#[must_use]
pub fn due_years(operations: f64, a_week: f64) -> Option<f64> {
    (a_week > 0.0).then(|| ((LIFE - operations) / (a_week * 52.18)).max(0.0))
}
