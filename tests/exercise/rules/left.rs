//! The state in which things are left.

use faultwright_exercise::Attempt;
use faultwright_exercise::Debrief;
use faultwright_exercise::Severity::{Gate, Major, Minor};
use faultwright_sim::AsFound::OffByOwner;
use faultwright_sim::CauseKind::{LooseLug, UndersizedConductor, WornContact};

use crate::safety::worst;

use super::scripts::{
    IEC, IEC_DEAD, IEC_REMADE, OFF, ON, SEED, US, US_DEAD, US_REMADE, dryer, equipment_where, kiln,
    kiln_with, sauna, sauna_with, seeded,
};
use super::{Case, iec, us};

const US_BACK: &str = "unshield board ; close board ; unlock m1 ; untag m1 ; warn ; switch m1 on ; go kiln-side ; hand over";
const IEC_BACK: &str = "unshield board ; close board ; unlock m1 ; untag m1 ; warn ; switch m1 on ; go sauna-side ; hand over";
const US_RUN: &str = "controller full ; wait 31min ; controller off ; hand over";

pub(super) const CASES: &[Case] = &[
    us(
        "will-burn",
        Gate,
        bad_kiln,
        &["hand over"],
        &["go store ; lock q2 ; tag q2 ; tell cause ; make safe"],
    ),
    iec(
        "will-burn",
        Gate,
        bad_sauna,
        &["hand over"],
        &["go plant-room ; lock q1 ; tag q1 ; tell cause ; make safe"],
    ),
    us(
        "will-return",
        Major,
        mild_kiln,
        &["hand over"],
        &[US, OFF, US_DEAD, US_REMADE, ON, "hand over"],
    ),
    iec(
        "will-return",
        Major,
        mild_sauna,
        &["hand over"],
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, ON, "hand over"],
    ),
    us(
        "torque",
        Major,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            "bit square ; loosen q2.a ; insert q2.a ; dress q2.a ; torque q2.a 2.0",
            US_BACK,
        ],
        &[US, OFF, US_DEAD, US_REMADE, US_BACK],
    ),
    iec(
        "torque",
        Major,
        sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            "loosen q1.a ; insert q1.a ; dress q1.a",
            IEC_BACK,
        ],
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, IEC_BACK],
    ),
    us(
        "over-torque",
        Minor,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            "bit square ; loosen q2.a ; insert q2.a ; dress q2.a ; torque q2.a 6",
            US_BACK,
        ],
        &[US, OFF, US_DEAD, US_REMADE, US_BACK],
    ),
    iec(
        "over-torque",
        Minor,
        sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            "bit pozidriv ; loosen q1.a ; insert q1.a ; dress q1.a ; torque q1.a 2.8",
            IEC_BACK,
        ],
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, IEC_BACK],
    ),
    us(
        "retorqued-sound",
        Minor,
        kiln,
        &[US, OFF, US_DEAD, "bit square ; torque q2.b 5.1", US_BACK],
        &[US, OFF, US_DEAD, "pull q2.b ; check torque q2.b", US_BACK],
    ),
    iec(
        "retorqued-sound",
        Minor,
        sauna,
        &[IEC, OFF, IEC_DEAD, "tighten q1.b", IEC_BACK],
        &[
            IEC,
            OFF,
            IEC_DEAD,
            "pull q1.b ; check torque q1.b",
            IEC_BACK,
        ],
    ),
    us(
        "termination",
        Major,
        kiln,
        &[US, OFF, US_DEAD, "loosen q2.a", US_BACK],
        &[US, OFF, US_DEAD, US_REMADE, US_BACK],
    ),
    iec(
        "termination",
        Major,
        sauna,
        &[IEC, OFF, IEC_DEAD, "loosen q1.a", IEC_BACK],
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, IEC_BACK],
    ),
    us(
        "earth-open",
        Gate,
        kiln,
        &[US, OFF, US_DEAD, "loosen bars.e", US_BACK],
        &[
            US,
            OFF,
            US_DEAD,
            "bit square ; loosen bars.e ; insert bars.e ; dress bars.e ; torque bars.e 2.3",
            US_BACK,
        ],
    ),
    iec(
        "earth-open",
        Gate,
        sauna,
        &[IEC, OFF, IEC_DEAD, "loosen bars.e", IEC_BACK],
        &[
            IEC,
            OFF,
            IEC_DEAD,
            "loosen bars.e ; insert bars.e ; dress bars.e ; torque bars.e 2.0",
            IEC_BACK,
        ],
    ),
    us(
        "damaged-left",
        Major,
        bad_kiln,
        &[US, OFF, US_DEAD, "bit square ; torque q2.a 5.1", US_BACK],
        &["go store ; lock q2 ; tag q2 ; tell cause ; make safe"],
    ),
    iec(
        "damaged-left",
        Major,
        bad_sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            "bit pozidriv ; torque q1.a 2.0",
            IEC_BACK,
        ],
        &["go plant-room ; lock q1 ; tag q1 ; tell cause ; make safe"],
    ),
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
        "cover-left-off",
        Gate,
        kiln,
        &[US, "open board ; hand over"],
        &[US, "open board ; close board ; hand over"],
    ),
    iec(
        "cover-left-off",
        Gate,
        sauna,
        &[IEC, "open board ; hand over"],
        &[IEC, "open board ; close board ; hand over"],
    ),
    us(
        "left-able-to-run",
        Gate,
        kiln,
        &["go store ; look q2 ; tell cause ; make safe"],
        &["go store ; switch q2 off ; lock q2 ; tag q2 ; tell cause ; make safe"],
    ),
    iec(
        "left-able-to-run",
        Gate,
        sauna,
        &["go plant-room ; look q1 ; tell cause ; make safe"],
        &["go plant-room ; switch q1 off ; lock q1 ; tag q1 ; tell cause ; make safe"],
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
    us(
        "proof-short",
        Minor,
        kiln,
        &["controller full ; wait 20min ; hand over"],
        &[US_RUN],
    ),
    iec(
        "proof-short",
        Minor,
        sauna,
        &["controller full ; wait 20min ; hand over"],
        &[US_RUN],
    ),
    us(
        "lock-left",
        Major,
        kiln,
        &["go store ; switch q6 off ; lock q6 ; hand over"],
        &["go store ; switch q6 off ; lock q6 ; unlock q6 ; switch q6 on ; hand over"],
    ),
    iec(
        "lock-left",
        Major,
        sauna,
        &["go plant-room ; switch q3 off ; lock q3 ; hand over"],
        &["go plant-room ; switch q3 off ; lock q3 ; unlock q3 ; switch q3 on ; hand over"],
    ),
    us(
        "left-off",
        Major,
        kiln,
        &["go store ; switch q6 off ; hand over"],
        &["go store ; switch q6 off ; switch q6 on ; hand over"],
    ),
    iec(
        "left-off",
        Major,
        sauna,
        &["go plant-room ; switch q3 off ; hand over"],
        &["go plant-room ; switch q3 off ; switch q3 on ; hand over"],
    ),
    us(
        "left-inside",
        Major,
        kiln,
        &[
            US,
            OFF,
            US_DEAD,
            "close board ; unlock m1 ; untag m1 ; warn ; switch m1 on ; hand over",
        ],
        &[US, OFF, US_DEAD, US_BACK],
    ),
    iec(
        "left-inside",
        Major,
        sauna,
        &[
            IEC,
            OFF,
            IEC_DEAD,
            "close board ; unlock m1 ; untag m1 ; warn ; switch m1 on ; hand over",
        ],
        &[IEC, OFF, IEC_DEAD, IEC_BACK],
    ),
    us(
        "left-on-full",
        Major,
        kiln,
        &["controller full ; wait 31min ; hand over"],
        &[US_RUN],
    ),
    iec(
        "left-on-full",
        Major,
        sauna,
        &["controller full ; wait 31min ; hand over"],
        &[US_RUN],
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
        "neutral-open",
        Gate,
        dryer,
        &[
            "controller off ; switch r1 off ; open dryer ; loosen tb1.n_in ; close dryer ; switch r1 on ; hand over",
        ],
        &[
            "controller off ; switch r1 off ; open dryer ; loosen tb1.n_in ; insert tb1.n_in ; tighten tb1.n_in ; close dryer ; switch r1 on ; hand over",
        ],
    ),
    iec(
        "neutral-open",
        Gate,
        sauna,
        &[
            "controller off ; go anteroom ; switch s1 off ; go sauna-side ; open heater ; loosen tb1.n_in ; close heater ; hand over",
        ],
        &[
            "controller off ; go anteroom ; switch s1 off ; go sauna-side ; open heater ; loosen tb1.n_in ; insert tb1.n_in ; tighten tb1.n_in ; close heater ; hand over",
        ],
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
    us(
        "torque-unwritten",
        Minor,
        kiln,
        &[US, OFF, US_DEAD, US_REMADE, US_BACK],
        &[
            US,
            OFF,
            US_DEAD,
            US_REMADE,
            "note lug by the annex table 5.1",
            US_BACK,
        ],
    ),
    iec(
        "torque-unwritten",
        Minor,
        sauna,
        &[IEC, OFF, IEC_DEAD, IEC_REMADE, IEC_BACK],
        &[
            IEC,
            OFF,
            IEC_DEAD,
            IEC_REMADE,
            "note clamps by the table 2.0",
            IEC_BACK,
        ],
    ),
];

const WHIP_OUT: &str = "controller off ; go store ; switch q2 off ; go kiln-side ; open kiln ; open s1-box ; loosen s1.a_out ; loosen s1.b_out ; loosen tb1.a_in ; loosen tb1.b_in";
const TAIL_OUT: &str = "controller off ; go anteroom ; switch s1 off ; go sauna-side ; open joint-box ; open heater ; loosen x1.a_out ; loosen x1.b_out ; loosen x1.c_out ; loosen x1.n_out ; loosen tb1.a_in ; loosen tb1.b_in ; loosen tb1.c_in ; loosen tb1.n_in";

/// Row clamps of the comb, dead behind the main.
const IEC_ROW_DEAD: &str = "prove ; test q1.a_in q1.b_in ; test q1.b_in q1.c_in ; test q1.a_in q1.c_in ; test q1.a_in earth.board ; test q1.b_in earth.board ; test q1.c_in earth.board ; prove";
const IEC_OUT: &str = "switch q1 off ; loosen q1.a ; loosen q1.b ; loosen q1.c ; loosen q1.a_in ; loosen q1.b_in ; loosen q1.c_in ; remove q1";

fn bad_kiln() -> Attempt {
    kiln_with(LooseLug, "q2.a", 5.0, OffByOwner)
}

fn bad_sauna() -> Attempt {
    sauna_with(LooseLug, "q1.a", 5.0, OffByOwner)
}

fn mild_kiln() -> Attempt {
    kiln_with(LooseLug, "q2.a", 2.0, OffByOwner)
}

fn mild_sauna() -> Attempt {
    sauna_with(LooseLug, "q1.a", 2.0, OffByOwner)
}

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
