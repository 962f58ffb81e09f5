//! Parts, conductors and boxes as left.

use faultwright_exercise::Severity::{Gate, Major, Minor};
use faultwright_exercise::{Attempt, Debrief};
use faultwright_sim::AsFound::OffByOwner;
use faultwright_sim::CauseKind::{UndersizedConductor, WornContact};

use super::scripts::{
    IEC, IEC_BACK, IEC_DEAD, OFF, SEED, US, US_BACK, US_DEAD, equipment_where, kiln, kiln_with,
    sauna, sauna_with, seeded,
};
use super::{Case, iec, us};
use crate::safety::worst;

pub(super) const CASES: &[Case] = &[
    us(
        "protection-lost",
        Gate,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            "loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 breaker-60-2p",
            US_BACK,
        ],
        &[
            US,
            OFF,
            US_DEAD,
            "loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 breaker-50-2p",
            US_BACK,
        ],
    ),
    iec(
        "protection-lost",
        Gate,
        sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_ROW_DEAD,
            IEC_OUT,
            "fit q1 breaker-20-3p",
            IEC_BACK,
        ],
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_ROW_DEAD,
            IEC_OUT,
            "fit q1 breaker-16-3p",
            IEC_BACK,
        ],
    ),
    us(
        "wrong-part",
        Major,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            "loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 breaker-40-2p",
            US_BACK,
        ],
        &[
            US,
            OFF,
            US_DEAD,
            "loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 breaker-50-2p",
            US_BACK,
        ],
    ),
    iec(
        "wrong-part",
        Major,
        sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_ROW_DEAD,
            IEC_OUT,
            "fit q1 breaker-16-3p-d",
            IEC_BACK,
        ],
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_ROW_DEAD,
            IEC_OUT,
            "fit q1 breaker-16-3p",
            IEC_BACK,
        ],
    ),
    us(
        "common-trip-lost",
        Major,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            "loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 breaker-50-1p-pair",
            US_BACK,
        ],
        &[
            US,
            OFF,
            US_DEAD,
            "loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 breaker-50-2p",
            US_BACK,
        ],
    ),
    us(
        "unlisted-part",
        Major,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            "loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 breaker-50-2p-other",
            US_BACK,
        ],
        &[
            US,
            OFF,
            US_DEAD,
            "loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 breaker-50-2p",
            US_BACK,
        ],
    ),
    us(
        "welded-left",
        Gate,
        welded_kiln,
        &["hand over"],
        &["go store ; switch q2 off ; lock q2 ; tag q2 ; tell cause ; make safe"],
    ),
    us(
        "pinhole-left",
        Minor,
        kiln,
        &[
            US,
            "open board ; volts q2.a.wire q2.b ; clear meter ; close board ; hand over",
        ],
        &[
            US,
            "open board ; volts q2.a.wire q2.b ; clear meter ; switch m1 off ; lock m1 ; tag m1 ; shield board",
            US_DEAD,
            "tape q2.a",
            US_BACK,
        ],
    ),
    iec(
        "pinhole-left",
        Minor,
        sauna,
        &[
            IEC,
            "open board ; volts q1.a.wire q1.b ; clear meter ; close board ; hand over",
        ],
        &[
            IEC,
            "open board ; volts q1.a.wire q1.b ; clear meter ; switch m1 off ; lock m1 ; tag m1 ; shield board",
            IEC_DEAD,
            "tape q1.a",
            IEC_BACK,
        ],
    ),
    us(
        "open-space",
        Major,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            "loosen q2.a ; loosen q2.b ; remove q2",
            US_BACK,
        ],
        &[
            US,
            OFF,
            US_DEAD,
            "loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 breaker-50-2p",
            US_BACK,
        ],
    ),
    iec(
        "open-space",
        Major,
        sauna,
        &[IEC, OFF, IEC_DEAD, IEC_ROW_DEAD, IEC_OUT, IEC_BACK],
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_ROW_DEAD,
            IEC_OUT,
            "fit q1 breaker-16-3p",
            IEC_BACK,
        ],
    ),
    us(
        "part-missing",
        Gate,
        kiln,
        &[
            "controller off ; switch s1 off ; open kiln ; remove e1 ; close kiln ; switch s1 on ; hand over",
        ],
        &[
            "controller off ; switch s1 off ; open kiln ; remove e1 ; fit e1 elements-9r0 ; close kiln ; switch s1 on ; hand over",
        ],
    ),
    iec(
        "part-missing",
        Gate,
        sauna,
        &[
            "controller off ; go anteroom ; switch s1 off ; go sauna-side ; open heater ; remove e1 ; close heater ; go anteroom ; switch s1 on ; hand over",
        ],
        &[
            "controller off ; go anteroom ; switch s1 off ; go sauna-side ; open heater ; remove e1 ; fit e1 elements-17r6 ; close heater ; go anteroom ; switch s1 on ; hand over",
        ],
    ),
    iec(
        "common-trip-lost",
        Major,
        sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_ROW_DEAD,
            IEC_OUT,
            "fit q1 breaker-16-1p-trio",
            IEC_BACK,
        ],
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_ROW_DEAD,
            IEC_OUT,
            "fit q1 breaker-16-3p",
            IEC_BACK,
        ],
    ),
    iec(
        "unlisted-part",
        Major,
        sauna,
        &[
            "controller off ; go anteroom ; switch s1 off ; go sauna-side ; open heater ; remove e1 ; fit e1 elements-26r5 ; close heater ; hand over",
        ],
        &[
            "controller off ; go anteroom ; switch s1 off ; go sauna-side ; open heater ; remove e1 ; fit e1 elements-17r6 ; close heater ; hand over",
        ],
    ),
    iec(
        "welded-left",
        Gate,
        welded_sauna,
        &["hand over"],
        &["go plant-room ; switch q1 off ; lock q1 ; tag q1 ; tell cause ; make safe"],
    ),
    us(
        "conductor-left",
        Gate,
        thin_kiln,
        &["hand over"],
        &["go store ; lock q2 ; tag q2 ; tell cause ; make safe"],
    ),
    iec(
        "conductor-left",
        Gate,
        sauna,
        &[TAIL_OUT, "repull tail wire-1m5-silicone ; hand over"],
        &[TAIL_OUT, "repull tail wire-2m5-silicone ; hand over"],
    ),
    us(
        "mixed-metals",
        Major,
        kiln,
        &[WHIP_OUT, "repull whip wire-6-al ; hand over"],
        &[WHIP_OUT, "repull whip wire-6-cu-200c ; hand over"],
    ),
    iec(
        "mixed-metals",
        Major,
        any_sauna,
        &[TAIL_OUT, "repull tail wire-6-al ; hand over"],
        &[TAIL_OUT, "repull tail wire-2m5-silicone ; hand over"],
    ),
    iec(
        "insulation-left",
        Gate,
        sauna,
        &[TAIL_OUT, "repull tail wire-2m5-pvc ; hand over"],
        &[TAIL_OUT, "repull tail wire-2m5-silicone ; hand over"],
    ),
    us(
        "directory-wrong",
        Minor,
        kiln,
        &["go store ; read directory board ; label q2 spare ; hand over"],
        &["go store ; read directory board ; label q2 spare ; label q2 kiln ; hand over"],
    ),
    iec(
        "directory-wrong",
        Minor,
        sauna,
        &["go plant-room ; read directory board ; label q1 spare ; hand over"],
        &["go plant-room ; read directory board ; label q1 spare ; label q1 sauna ; hand over"],
    ),
    us(
        "knockout-left",
        Minor,
        holed_kiln,
        &["go store ; open board ; close board ; hand over"],
        &[
            "go store ; switch m1 off ; open board ; fit board knockout-seal ; close board ; hand over",
        ],
    ),
    iec(
        "knockout-left",
        Minor,
        holed_sauna,
        &["go plant-room ; open board ; close board ; hand over"],
        &[
            "go plant-room ; switch m1 off ; open board ; fit board knockout-seal ; close board ; hand over",
        ],
    ),
    us(
        "screw-missing",
        Minor,
        unscrewed_kiln,
        &["go store ; open board ; close board ; hand over"],
        &["go store ; open board ; fit board cover-screw ; close board ; hand over"],
    ),
    iec(
        "screw-missing",
        Minor,
        unscrewed_sauna,
        &["go plant-room ; open board ; close board ; hand over"],
        &["go plant-room ; open board ; fit board cover-screw ; close board ; hand over"],
    ),
    us(
        "lock-kit-left",
        Minor,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            "loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 breaker-50-2p",
            US_BACK,
        ],
        &[
            US,
            OFF,
            US_DEAD,
            "loosen q2.a ; loosen q2.b ; remove q2 ; fit q2 breaker-50-2p ; fit q2 lock-kit",
            US_BACK,
        ],
    ),
    iec(
        "lock-kit-left",
        Minor,
        sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_ROW_DEAD,
            IEC_OUT,
            "fit q1 breaker-16-3p",
            IEC_BACK,
        ],
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_ROW_DEAD,
            IEC_OUT,
            "fit q1 breaker-16-3p ; fit q1 lock-kit",
            IEC_BACK,
        ],
    ),
];

const WHIP_OUT: &str = "controller off ; go store ; switch q2 off ; go kiln-side ; open kiln ; open s1-box ; loosen s1.a_out ; loosen s1.b_out ; loosen tb1.a_in ; loosen tb1.b_in";
const TAIL_OUT: &str = "controller off ; go anteroom ; switch s1 off ; go sauna-side ; open joint-box ; open heater ; loosen x1.a_out ; loosen x1.b_out ; loosen x1.c_out ; loosen x1.n_out ; loosen tb1.a_in ; loosen tb1.b_in ; loosen tb1.c_in ; loosen tb1.n_in";

/// Row clamps of the comb, dead behind the main.
const IEC_ROW_DEAD: &str = "prove ; test q1.a_in q1.b_in ; test q1.b_in q1.c_in ; test q1.a_in q1.c_in ; test q1.a_in earth.board ; test q1.b_in earth.board ; test q1.c_in earth.board ; prove";
const IEC_OUT: &str = "switch q1 off ; loosen q1.a ; loosen q1.b ; loosen q1.c ; loosen q1.a_in ; loosen q1.b_in ; loosen q1.c_in ; remove q1";

fn thin_kiln() -> Attempt {
    kiln_with(UndersizedConductor, "feed", 5.3, OffByOwner)
}

fn left(debrief: &Debrief, rule: &str) -> bool {
    worst(debrief, rule).is_some()
}

fn welded_kiln() -> Attempt {
    let start = || kiln_with(WornContact, "k1.a_out", 12.0, OffByOwner);
    equipment_where(start, &["hand over"], |debrief| {
        left(debrief, "welded-left")
    })
}

fn welded_sauna() -> Attempt {
    let start = || sauna_with(WornContact, "k1.a_out", 10.0, OffByOwner);
    equipment_where(start, &["hand over"], |debrief| {
        left(debrief, "welded-left")
    })
}

fn holed_kiln() -> Attempt {
    let script = ["go store ; open board ; close board ; hand over"];
    equipment_where(kiln, &script, |debrief| left(debrief, "knockout-left"))
}

fn holed_sauna() -> Attempt {
    let script = ["go plant-room ; open board ; close board ; hand over"];
    equipment_where(sauna, &script, |debrief| left(debrief, "knockout-left"))
}

fn unscrewed_kiln() -> Attempt {
    let script = ["go store ; open board ; close board ; hand over"];
    equipment_where(kiln, &script, |debrief| left(debrief, "screw-missing"))
}

fn unscrewed_sauna() -> Attempt {
    let script = ["go plant-room ; open board ; close board ; hand over"];
    equipment_where(sauna, &script, |debrief| left(debrief, "screw-missing"))
}

/// The sauna with all that any van carries.
fn any_sauna() -> Attempt {
    seeded("cold-side", SEED, |scenario| scenario.stock.clear())
}
