//! Turning a screw: what torque makes and what too much of it breaks.
//!
//! | torque, share of the specified | what happens | why |
//! |---|---|---|
//! | up to 1.25 | it holds what it was given | a torque tool's tolerance and practice: within 20 % counts as made to specification |
//! | 1.25 to 1.5 | strands under the screw are cut, up to a quarter of them | common practice, no source; solid copper and ring tongues stand it |
//! | above 1.5 | the thread strips: 0.3 of the torque is left, plating and thread are gone | common practice, no source |
//! | above 2 | a moulding round the clamp cracks as well | common practice, no source |
//!
//! More torque never makes a hotter joint until something breaks; then the price is the damage.

use super::{Conductor, Metal, PortSpec, Termination};

/// Beyond this share of the specified torque strands are cut.
pub const CUTS: f64 = 1.25;
/// Beyond this share the thread strips.
pub const STRIPS: f64 = 1.5;
/// Beyond this share a moulding cracks.
pub const CRACKS: f64 = 2.0;
/// Share of strands cut just before the thread strips.
const CUT_AT_MOST: f64 = 0.25;
/// What a stripped thread still holds, share of the specified torque.
pub const STRIPPED_HOLD: f64 = 0.3;

/// Does a moulding crack when the screw of that clamp is turned until so much torque (N m) resists?
#[must_use]
pub fn cracks(spec: &PortSpec, nm: f64) -> bool {
    nm > CRACKS * spec.torque_nm
}

impl Termination {
    /// The same termination with its screw turned until so much torque (N m) resists.
    #[must_use]
    pub fn tightened(&self, spec: &PortSpec, nm: f64) -> Self {
        let share = nm / spec.torque_nm;
        let mut made = self.clone();
        made.settled = 0.0;
        if share > STRIPS {
            made.torque_nm = STRIPPED_HOLD * spec.torque_nm;
            made.metal = Metal::Burnt;
        } else {
            made.torque_nm = nm.max(0.0);
        }
        if share > CUTS && spec.conductor == Conductor::Stranded {
            let beyond = ((share - CUTS) / (STRIPS - CUTS)).min(1.0);
            made.cut = made.cut.max(CUT_AT_MOST * beyond);
        }
        made
    }
}
