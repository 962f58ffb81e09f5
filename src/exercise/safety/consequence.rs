//! What electricity and heat do to a body, soberly: an order of magnitude, no more.
//!
//! - Body: I = U / Z, Z by touch voltage and path (`shock`).
//! - Skin: burn thresholds by surface and time of contact (`burn`).
//! - Arc: prospective current and who cuts it off (`arc`).

mod arc;
mod burn;
mod shock;

pub(crate) use arc::arc;
pub(crate) use burn::{burn, burns_from};
pub(crate) use shock::{Hand, Path, Shock, body_current};
