//! The law of terminations.

use faultwright_sim::cause::{damage, service_rise_k, termination};
use faultwright_sim::{Cause, CauseKind, Copper, Metal, PortSpec, Strip, Termination, Wear};
use proptest::prelude::{ProptestConfig, proptest};

use crate::kiln_kit::{at_full_power, joint_cause, near, rise, site, thing, with};

fn lug() -> PortSpec {
    site().port(thing("q2.a")).expect("a port").spec
}

#[test]
fn clean_metal_alone_cannot_overheat() {
    // Published failures at a tenth of the torque took 5 to 365 days (Benfer and Gottuk, SEEN): loss of force
    // alone does not make a hot joint; one newton on clean copper is below half a milliohm (COMPUTED, Holm).
    for percent in 0..=200 {
        for settled in [0.0, 1.0] {
            let joint = Termination {
                torque_nm: lug().torque_nm * f64::from(percent) / 100.0,
                settled,
                ..Termination::fresh(&lug())
            };
            assert!(
                joint.watts(&lug()) < 1.0,
                "{percent} % torque: {} W",
                joint.watts(&lug())
            );
        }
    }
}

#[test]
fn severity_in_watts_is_met_for_every_kind_of_joint() {
    for kind in [
        CauseKind::LooseLug,
        CauseKind::TightButBad,
        CauseKind::LooseStud,
    ] {
        for watts in [1.5, 3.0, 6.0, 12.0, 20.0, 35.0] {
            let bare = Termination::with_watts(&lug(), watts, kind);
            near(&format!("{kind:?}"), bare.watts(&lug()), watts, 0.01);
            let (with_damage, _) = termination(
                &lug(),
                &Cause {
                    kind,
                    thing: None,
                    watts,
                },
            );
            near(
                &format!("{kind:?} with damage"),
                with_damage.watts(&lug()),
                watts,
                0.01,
            );
        }
    }
}

#[test]
fn kinds_leave_what_a_hand_and_a_torque_tool_find() {
    let loose = Termination::with_watts(&lug(), 6.0, CauseKind::LooseLug);
    assert!(
        loose.torque_nm < 1.13,
        "below 10 lbf in (common practice): {}",
        loose.torque_nm
    );
    let short = Termination::with_watts(&lug(), 6.0, CauseKind::TightButBad);
    assert_eq!(
        (short.torque_nm, short.strip),
        (lug().torque_nm, Strip::Short),
        "tight, and bad all the same"
    );
    let stud = Termination::with_watts(&lug(), 6.0, CauseKind::LooseStud);
    assert!(
        stud.torque_nm < 0.1 * lug().torque_nm,
        "the nut turns by hand"
    );
    assert_eq!(
        Termination::with_watts(&lug(), 6.0, CauseKind::Healthy),
        Termination::sound(&lug())
    );
}

#[test]
fn dark_and_sanded_copper_start_at_two_to_four_times_normal() {
    let normal = Termination::fresh(&lug()).ohms(&lug()).0;
    for copper in [Copper::Dark, Copper::Sanded] {
        let start = Termination {
            copper,
            ..Termination::fresh(&lug())
        }
        .ohms(&lug())
        .0 / normal;
        assert!(
            (2.0..=4.0).contains(&start),
            "{copper:?} starts at {start} times"
        );
    }
}

#[test]
fn damage_follows_from_heat() {
    let mild = damage(1.5);
    assert_eq!(
        (mild.copper, mild.metal, mild.browned_mm, mild.face),
        (Copper::Bright, Metal::Sound, 0, Wear::Sound)
    );
    // From four watts on, wire end and device are spent (trade experience).
    let bad = damage(6.0);
    assert_eq!(
        (bad.copper, bad.metal, bad.face),
        (Copper::Dark, Metal::Burnt, Wear::Browned)
    );
    let worst = damage(14.0);
    assert_eq!(worst.face, Wear::Blistered);
    assert!(
        (30..=140).contains(&worst.browned_mm),
        "sleeve brown 3 to 14 cm: {}",
        worst.browned_mm
    );
    let mut last = damage(0.0);
    for tenth in 0..300 {
        let next = damage(f64::from(tenth) / 10.0);
        assert!(
            next.browned_mm >= last.browned_mm && next.face >= last.face,
            "damage never shrinks with heat"
        );
        last = next;
    }
}

#[test]
fn service_temperature_is_what_the_plant_shows() {
    for milliohm in [1.0, 3.0, 5.0] {
        let cause = joint_cause(CauseKind::LooseLug, "q2.a", milliohm);
        let (equipment, _) = at_full_power(&with(vec![cause]), 60);
        near(
            &format!("{milliohm} milliohm"),
            service_rise_k(cause.watts),
            rise(&equipment, "q2.a"),
            15.0,
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Less force, fewer strands and more film never make a better joint; nothing makes one that is no number.
    #[test]
    fn worse_is_never_better(
        torque in 0.0..8.0f64, less in 0.0..1.0f64, strands in 0.05..1.0f64, film in 0.0..500.0f64, more in 0.0..500.0f64,
    ) {
        let base = Termination { torque_nm: torque, strands_in: strands, film, settled: 1.0, ..Termination::fresh(&lug()) };
        let watts = base.watts(&lug());
        assert!(watts.is_finite() && watts > 0.0);
        let looser = Termination { torque_nm: torque * less, ..base.clone() };
        let thinner = Termination { strands_in: (strands * less).max(0.05), ..base.clone() };
        let filmier = Termination { film: film + more, ..base.clone() };
        for worse in [looser, thinner, filmier] {
            assert!(worse.watts(&lug()) >= watts * (1.0 - 1e-12));
        }
    }

    #[test]
    fn no_termination_is_out_of_range(torque: f64, strands: f64, film: f64, settled: f64) {
        let joint = Termination { torque_nm: torque, strands_in: strands, film, settled, ..Termination::fresh(&lug()) };
        let (ohm, volts) = joint.ohms(&lug());
        assert!(ohm.is_finite() && ohm > 0.0, "{ohm}");
        assert!((0.43..2.331).contains(&volts), "{volts}");
    }
}
