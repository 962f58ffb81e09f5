//! Parts that fit and do not belong, brackets, openings, what the van does not have.

use std::sync::Arc;

use faultwright_exercise::Attempt;
use faultwright_sim::parts::breaker::Curve;
use faultwright_sim::{Change, Equipment, Leg, Mode, Particulars};

use super::{at_board, at_rail, clone_of, port_of, reasons, refusal, seed_where, told};
use crate::support::{play, site};
use crate::work::{bench, thing_of};

/// B is 3 to 5, C 5 to 10, D 10 to 20 times the rating (IEC 60898-1, MEMORY): a heater's circuit made for B keeps B, for
/// the loop of its earth fault.
#[test]
fn another_curve_fits_and_does_not_belong() {
    let done = |stock: &str| {
        let mut attempt = at_rail(4);
        play(
            &mut attempt,
            &format!(
                "loosen q1.a; loosen q1.b; loosen q1.c; loosen q1.a_in; loosen q1.b_in; loosen q1.c_in; remove q1; \
                 fit q1 {stock}; close board; hand over"
            ),
        );
        attempt.finish()
    };
    for (stock, curve, wrong) in [
        ("breaker-16-3p", Curve::B, false),
        ("breaker-16-3p-c", Curve::C, true),
        ("breaker-16-3p-d", Curve::D, true),
    ] {
        let finished = done(stock);
        let q1 = thing_of(finished.equipment().site(), "q1");
        assert_eq!(
            finished
                .equipment()
                .fitted(q1)
                .and_then(|fitted| fitted.curve),
            Some(curve)
        );
        let marking = format!("{curve:?}16");
        let signs = finished.equipment().signs(q1, true);
        assert!(
            signs.iter().any(
                |sign| matches!(sign, faultwright_sim::Sign::Marking { text } if *text == marking)
            ),
            "{marking}: {signs:?}"
        );
        let debrief = finished.debrief();
        assert_eq!(
            reasons(&debrief, "wrong-part").contains(&"reason-part-curve".to_owned()),
            wrong,
            "{stock}"
        );
    }
}

/// NEC 110.25 (SEEN): what takes the padlock stays on the breaker. It goes over to the new one.
#[test]
fn the_bracket_for_a_padlock_goes_over_to_the_new_breaker() {
    let new = "loosen q2.a; loosen q2.b; remove q2; fit q2 breaker-50-2p;";
    let done = |line: &str| {
        let mut attempt = at_board(2);
        play(&mut attempt, &format!("{line} close board; hand over"));
        attempt.finish().debrief()
    };
    assert_eq!(told(&done(new), "lock-kit-left").len(), 1);
    assert!(told(&done(&format!("{new} fit q2 lock-kit;")), "lock-kit-left").is_empty());
    assert!(told(&done(""), "lock-kit-left").is_empty());
    let attempt = at_board(2);
    assert_eq!(
        refusal(&attempt, "fit q2 lock-kit"),
        "refused-lock-kit-there"
    );
    assert_eq!(refusal(&attempt, "fit s1 lock-kit"), "refused-does-not-fit");
}

/// NEC 110.12(A) (SEEN): unused openings are closed. One site in three has an open knockout, one in four a cover that
/// lacks a screw (judgement).
#[test]
fn openings_are_closed_behind_one_s_own_work() {
    let board = |attempt: &Attempt| port_of(attempt, "board");
    let open = seed_where(at_board, |attempt| {
        clone_of(attempt).knockout_open(board(attempt))
    });
    let done = |seed: u64, line: &str| {
        let mut attempt = at_board(seed);
        play(
            &mut attempt,
            &format!("look board; {line} close board; hand over"),
        );
        attempt.finish().debrief()
    };
    assert_eq!(told(&done(open, ""), "knockout-left").len(), 1);
    assert!(told(&done(open, "fit board knockout-seal;"), "knockout-left").is_empty());
    let screwless = seed_where(at_board, |attempt| {
        clone_of(attempt).screws_missing(board(attempt)) > 0
    });
    assert_eq!(told(&done(screwless, ""), "screw-missing").len(), 1);
    assert!(told(&done(screwless, "fit board cover-screw;"), "screw-missing").is_empty());
    let whole = seed_where(at_board, |attempt| {
        let equipment = clone_of(attempt);
        !equipment.knockout_open(board(attempt)) && equipment.screws_missing(board(attempt)) == 0
    });
    assert_eq!(
        refusal(&at_board(whole), "fit board knockout-seal"),
        "refused-no-knockout"
    );
    assert_eq!(
        refusal(&at_board(whole), "fit board cover-screw"),
        "refused-no-screw-missing"
    );
    // Nobody answers for a box he has not had open.
    let mut elsewhere = Attempt::begin(bench(None, open));
    play(&mut elsewhere, "hand over");
    assert!(told(&elsewhere.finish().debrief(), "knockout-left").is_empty());
}

/// Not stocked: a board's interior, a main, an isolator (two days), a controller.
#[test]
fn what_the_van_does_not_have_is_refused_as_such() {
    let mut attempt = at_board(9);
    for part in ["m1", "bars"] {
        assert_eq!(
            refusal(&attempt, &format!("remove {part}")),
            "refused-not-stocked"
        );
    }
    play(&mut attempt, "loosen q2.a; loosen q2.b; remove q2");
    assert_eq!(
        refusal(&attempt, "fit q2 breaker-70-2p"),
        "refused-no-such-stock"
    );
    assert_eq!(
        refusal(&attempt, "fit q2 contactor-50"),
        "refused-does-not-fit"
    );
}

/// Coils pull in from 85 to 110 % of their voltage (IEC 60947-4-1, MEMORY): one for more never does, one for far less
/// burns open with its first blow.
#[test]
fn a_coil_of_another_voltage_holds_nothing() {
    let site = site("sauna");
    let k1 = thing_of(&site, "k1");
    let holds = |stock: &str| {
        let mut equipment = Equipment::new(Arc::clone(&site), &Particulars::default());
        let article = faultwright_sim::parts::stock::article(stock).expect("an article of the van");
        let fitted = article.fitted.expect("a device");
        equipment.apply(&Change::Fit { part: k1, fitted });
        equipment.apply(&Change::Controller(Mode::FullPower));
        let _ = equipment.advance(faultwright_sim::seconds(30));
        !equipment.pole_open(k1, Leg::A)
    };
    assert!(holds("contactor-20"));
    assert!(!holds("contactor-20-24v"));
}

/// What is printed on a rail breaker is its curve and its rating (IEC 60898-1, MEMORY).
#[test]
fn a_curve_from_stock_is_on_the_device_it_is_fitted_as() {
    let site = site("sauna");
    let q1 = thing_of(&site, "q1");
    let marked = |stock: Option<&str>| {
        let mut equipment = Equipment::new(Arc::clone(&site), &Particulars::default());
        if let Some(stock) = stock {
            let article =
                faultwright_sim::parts::stock::article(stock).expect("an article of the van");
            let fitted = article.fitted.expect("a device");
            equipment.apply(&Change::Fit { part: q1, fitted });
        }
        equipment
            .signs(q1, true)
            .iter()
            .find_map(|sign| match sign {
                faultwright_sim::Sign::Marking { text } => Some(text.clone()),
                _ => None,
            })
    };
    assert_eq!(marked(None).as_deref(), Some("B16"));
    assert_eq!(marked(Some("breaker-16-3p")).as_deref(), Some("B16"));
    assert_eq!(marked(Some("breaker-16-3p-d")).as_deref(), Some("D16"));
    assert_eq!(marked(Some("breaker-20-3p")).as_deref(), Some("B20"));
}
