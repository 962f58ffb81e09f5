//! Terminations: looked at, pulled at, undone, cut back and made again.

use std::sync::Arc;

use faultwright_exercise::{Action, Line, Tool};
use faultwright_sim::Sign;
use faultwright_sim::joint::head::{Recess, Slot};

use super::person::Electrician;

impl Electrician {
    /// Screws a clamp down with the bit its head asks for.
    pub(super) fn torques(&mut self, port: &str) {
        self.takes_the_bit(port);
        let nm = self.specified(port);
        self.does(&format!("torque {port} {nm} ; verify {port}"));
    }

    /// Looks at a screw and takes the bit that its head asks for.
    pub(super) fn takes_the_bit(&mut self, port: &str) {
        self.does(&format!("look closely {port}"));
        let thing = self.thing(port);
        let view = self.attempt.view();
        let head = view
            .things
            .iter()
            .find(|seen| seen.thing == thing)
            .and_then(|seen| {
                seen.signs.iter().find_map(|(_, sign)| match sign {
                    Sign::ScrewHead(head) => Some(*head),
                    _ => None,
                })
            });
        if let Some(head) = head {
            let bit = match (head.recess, head.slot) {
                _ if head.takes_hex() => "hex",
                (Some(Recess::Square), _) => "square",
                (Some(Recess::Pozidriv), _) => "pozidriv",
                (Some(Recess::Phillips), _) => "phillips",
                (_, Some(Slot::Wide)) => "slotted-wide",
                _ => "slotted",
            };
            self.does_if_it_can(&format!("bit {bit}"));
        }
    }

    /// A conductor that is out goes in again, cut back first where its end was hurt.
    pub(super) fn lands_again(&mut self, port: &str, hurt: bool) {
        if hurt {
            self.cuts_and_makes(port);
        } else {
            self.does(&format!("insert {port} ; dress {port}"));
            self.torques(port);
        }
    }

    /// The conductor is out of its clamp.
    pub(super) fn out(&self, port: &str) -> bool {
        self.seen(port, |sign| matches!(sign, Sign::NotLanded))
    }

    /// Looks, pulls and takes the torque; true where the termination is not as it should be.
    pub(super) fn bad(&mut self, port: &str) -> bool {
        let began = self.attempt.now();
        self.takes_the_bit(port);
        self.does(&format!("pull {port}"));
        let moved = self.noticed_since(began, "pull-moves");
        let in_clamp = self.seen(port, |sign| {
            matches!(sign, Sign::InsulationInClamp | Sign::StrandsOut { .. })
        });
        self.does(&format!("check torque {port}"));
        let low = self.shown(Tool::TorqueDriver) < 0.4 * self.specified(port);
        moved || in_clamp || low
    }

    /// Cuts back to sound copper and makes the termination again.
    pub(super) fn remakes(&mut self, port: &str) {
        self.does(&format!("loosen {port}"));
        self.cuts_and_makes(port);
    }

    /// The conductor is out: back to sound copper, then in again.
    pub(super) fn cuts_and_makes(&mut self, port: &str) {
        let began = self.attempt.now();
        for _ in 0..8 {
            let action = format!("cut {port} 70");
            let site = Arc::clone(&self.attempt.job().site);
            let cut = Action::parse(&site, &action).expect("a line of the grammar");
            if self.attempt.check(&cut).is_err() {
                self.does(&format!("splice {port}"));
            }
            self.does(&action);
            let bright = self
                .attempt
                .lines()
                .iter()
                .rev()
                .find_map(|line| match line {
                    Line::Noticed { tick, say } if *tick >= began && say.key == "cut-back" => {
                        Some(say.clone())
                    }
                    _ => None,
                });
            if bright.is_some_and(|say| format!("{say:?}").contains("copper-bright")) {
                break;
            }
        }
        self.finishes(port);
    }

    /// A clean end into its clamp, to the value it asks for.
    pub(super) fn finishes(&mut self, port: &str) {
        self.does(&format!("strip {port} 16 ; insert {port} ; dress {port}"));
        self.torques(port);
    }

    pub(super) fn browned(&self, port: &str) -> bool {
        self.seen(port, |sign| {
            matches!(
                sign,
                Sign::Browned { .. } | Sign::DarkCopper | Sign::Discoloured
            )
        })
    }
}
