//! Habits at the kiln room: what is dead and alive again, what is exchanged there.

use std::sync::Arc;

use faultwright_exercise::{Action, Tool};
use faultwright_sim::{Handle, Sign};

use super::kiln::BANKS;
use super::person::Electrician;

impl Electrician {
    /// Milliohms between leads that were placed dead, by a few minutes at full power with the covers on: the meter is
    /// read where it lies, the clamp at the kiln. On volts: a pole that opens puts the whole supply across the leads.
    pub(super) fn milliohms(&mut self, at_board: bool) -> f64 {
        let began = self.attempt.now();
        self.does("go kiln-side ; controller full");
        self.does(if at_board {
            "go store ; watch 2min"
        } else {
            "watch 2min"
        });
        let volts = self.shown(Tool::Meter);
        self.does("go kiln-side ; watch 1min ; controller off");
        // A breaker that opened by itself is not closed again before its circuit was looked at.
        if self.noticed_since(began, "noticed-lamp-out")
            || self.noticed_since(began, "noticed-lamp-dark")
            || self.noticed_since(began, "noticed-clunk")
        {
            self.tripped = true;
            self.does("look closely s1");
        }
        1000.0 * volts / self.highest_amps(began)
    }

    /// The whole board dead at the board: main off, locked, tagged, cover off, barrier in, proved at the kiln's breaker.
    pub(super) fn board_dead(&mut self) {
        self.opens_board();
        self.does("shield board");
        self.proves_pairs(&[["q2.a", "q2.b"], ["q6.a", "q6.b"]], "board");
    }

    /// The same for a breaker that is to come out: the bars it plugs on to are tested before the barrier covers them.
    pub(super) fn bars_dead(&mut self) {
        self.opens_board();
        let pairs = [["bus.a", "bus.b"], ["q2.a", "q2.b"], ["q6.a", "q6.b"]];
        self.proves_pairs(&pairs, "board");
        self.does("shield board");
    }

    pub(super) fn opens_board(&mut self) {
        self.does("go store");
        if self.handle("q2") != Some(Handle::Off) {
            self.does("switch q2 off");
        }
        self.does("switch m1 off ; lock m1 ; tag m1 ; wear gloves, visor ; open board");
        if self.tripped {
            self.tripped = false;
            self.does("look closely q2");
        }
    }

    /// Cover on, then main: the kiln's breaker stays off.
    pub(super) fn others_alive(&mut self) {
        if self.shielded() {
            self.does("unshield board");
        }
        self.does(
            "close board ; take off gloves, visor ; untag m1 ; unlock m1 ; warn ; switch m1 on",
        );
    }

    /// The kiln's breaker as well.
    pub(super) fn board_alive(&mut self) {
        self.others_alive();
        self.does("switch q2 on");
    }

    /// Load off first, isolator off and locked, breaker proved off by the lock at the board; kiln box open and proved.
    pub(super) fn kiln_dead(&mut self) {
        self.does("go kiln-side ; controller off ; go store");
        if self.handle("q2") != Some(Handle::Off) {
            self.does("switch q2 off");
        }
        self.does("lock q2 ; tag q2 ; go kiln-side ; wear gloves, visor ; open kiln");
        self.proves_dead("tb1.a_in", "tb1.b_in", "kiln");
    }

    pub(super) fn isolates(&mut self, at_board: bool) {
        if at_board {
            self.board_dead();
        } else {
            self.kiln_dead();
        }
    }

    pub(super) fn revives(&mut self, at_board: bool) {
        if at_board {
            self.board_alive();
        } else {
            self.kiln_alive();
        }
    }

    /// Half an hour and more at full power, read where the probe or the leads sit, then the clamp at the kiln.
    pub(super) fn full_load(&mut self, at_board: bool) {
        self.does("go kiln-side ; controller full");
        if at_board {
            self.does("go store ; watch 35min ; go kiln-side ; watch 2min");
        } else {
            self.does("watch 35min");
        }
        self.does("controller off");
    }

    pub(super) fn kiln_alive(&mut self) {
        self.does(
            "close kiln ; take off gloves, visor ; warn ; go store ; untag q2 ; unlock q2 ; switch q2 on",
        );
    }

    /// The bank whose tag is of another voltage, where the tags can be seen.
    pub(super) fn wrong_bank(&mut self) -> Option<&'static str> {
        BANKS.into_iter().find(|bank| {
            self.does(&format!("look closely {bank}"));
            self.seen(
                bank,
                |sign| matches!(sign, Sign::TagElement { volts, .. } if *volts < 230.0),
            )
        })
    }

    /// Takes an element out, and waits where the chamber turns out too hot.
    pub(super) fn removes_cold(&mut self, bank: &str) {
        for _ in 0..12 {
            let began = self.attempt.now();
            self.does(&format!("remove {bank}"));
            if !self.noticed_since(began, "saw-chamber-hot") {
                return;
            }
            self.does("wait 2h");
        }
        panic!("the chamber stays hot: {}", self.script.join("\n"));
    }

    /// Waits, with the load off, until the lid can be lifted.
    pub(super) fn lets_the_chamber_cool(&mut self) {
        self.does("go kiln-side");
        for _ in 0..12 {
            self.does("look closely e1");
            if self.seen("e1", |sign| matches!(sign, Sign::TagElement { .. })) {
                return;
            }
            self.does("wait 4h");
        }
        panic!("the chamber stays hot: {}", self.script.join("\n"));
    }

    /// The breaker, out already, goes on a clean pair of spaces; what it leaves is closed and marked.
    pub(super) fn moves_the_breaker(&mut self) {
        let site = Arc::clone(&self.attempt.job().site);
        let away = Action::parse(&site, "move q2 18").expect("a line of the grammar");
        for port in ["q2.a", "q2.b"] {
            if let Err(why) = self.attempt.check(&away)
                && why.key == "refused-does-not-reach"
                && format!("{why:?}").contains(port)
            {
                self.does(&format!("splice {port}"));
            }
        }
        self.does("move q2 18 ; fit q2 breaker-50-2p");
        self.does("blank board 2 ; blank board 4 ; mark board 2 ; mark board 4");
    }

    /// The feed pulled anew, with the board dead and open; its ends made at both boxes.
    pub(super) fn pulls_the_feed(&mut self) {
        self.does("loosen q2.a ; loosen q2.b ; go kiln-side ; open s1-box");
        self.proves_dead("s1.a_in", "s1.b_in", "s1-box");
        self.does("loosen s1.a_in ; loosen s1.b_in ; repull feed wire-6-cu");
        for port in ["s1.a_in", "s1.b_in"] {
            self.finishes(port);
        }
        self.does("close s1-box ; go store");
        for port in ["q2.a", "q2.b"] {
            self.finishes(port);
        }
    }

    /// Another contactor, with the kiln box dead and open.
    pub(super) fn changes_the_contactor(&mut self) {
        let pairs = [["k1.a_in", "k1.b_in"], ["k1.a_out", "k1.b_out"]];
        self.proves_pairs(&pairs, "kiln");
        for port in pairs.concat() {
            self.does(&format!("loosen {port}"));
        }
        self.does("remove k1 ; open k1 ; fit k1 contactor-50");
        for port in pairs.concat() {
            self.cuts_and_makes(port);
        }
    }
}
