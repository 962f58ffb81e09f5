//! How instruments and tools are set: each setting with its values as keys, the present one down.

use bevy_egui::egui::Ui;
use faultwright_desk::Words;
use faultwright_exercise::{Action, Arg, Bit, Say, Setting, View};

use super::{choice_key, head, key, remark, strong};
use crate::names;

/// Emissivities at hand, hundredths: as delivered, oxidised and bright metal; steps between them by the keys beside.
const EMISSIVITIES: [u8; 3] = [95, 65, 20];
/// One step of the emissivity, hundredths.
const STEP: u8 = 5;
/// Range of the emissivity, hundredths.
const RANGE: (u8, u8) = (10, 100);
/// Test voltages of the insulation tester, V.
const TEST_VOLTS: [u16; 3] = [250, 500, 1000];
/// Bits in the van.
const BITS: [Bit; 6] = [
    Bit::Slotted,
    Bit::SlottedWide,
    Bit::Phillips,
    Bit::Pozidriv,
    Bit::Hex,
    Bit::Square,
];

/// The settings; what is asked for.
pub fn ui(ui: &mut Ui, words: &Words, view: &View) -> Option<Action> {
    let mut asked = None;
    head(ui, words.key("window-settings"));
    strong(ui, words.key("window-set-clamp"));
    ui.horizontal_wrapped(|ui| {
        let max = view.max_hold;
        for (name, on) in [("window-set-now", false), ("window-set-max", true)] {
            if choice_key(ui, max == on, &words.key(name)).clicked() && max != on {
                asked = Some(Action::Set(Setting::Max(on)));
            }
        }
    });
    strong(ui, words.key("window-set-meter"));
    ui.horizontal_wrapped(|ui| {
        let low = view.low_impedance;
        for (name, on) in [("window-set-high", false), ("window-set-low", true)] {
            if choice_key(ui, low == on, &words.key(name)).clicked() && low != on {
                asked = Some(Action::Set(Setting::LowImpedance(on)));
            }
        }
    });
    strong(ui, words.key("window-set-emissivity"));
    ui.horizontal_wrapped(|ui| {
        let now = view.emissivity;
        let mut set = |hundredths: u8| {
            if hundredths != now {
                asked = Some(Action::Set(Setting::Emissivity(hundredths)));
            }
        };
        let mut values = EMISSIVITIES.to_vec();
        if !values.contains(&now) {
            values.push(now);
        }
        for hundredths in values {
            let value = words.arg(&Arg::Number(f64::from(hundredths) / 100.0, 2));
            if choice_key(ui, hundredths == now, &value).clicked() {
                set(hundredths);
            }
        }
        if key(ui, "−").clicked() {
            set(now.saturating_sub(STEP).max(RANGE.0));
        }
        if key(ui, "+").clicked() {
            set((now + STEP).min(RANGE.1));
        }
    });
    strong(ui, words.key("window-tool-insulation"));
    ui.horizontal_wrapped(|ui| {
        for volts in TEST_VOLTS {
            let chosen = view.insulation_volts == volts;
            let value = format!("{volts} V");
            if choice_key(ui, chosen, &value).clicked() && !chosen {
                asked = Some(Action::Set(Setting::InsulationVolts(volts)));
            }
        }
    });
    strong(ui, words.key("window-set-bit"));
    ui.horizontal_wrapped(|ui| {
        for bit in BITS {
            let chosen = view.bit == bit;
            if choice_key(ui, chosen, &names::bit(words, bit)).clicked() && !chosen {
                asked = Some(Action::Pick(bit));
            }
        }
    });
    for (tool, nm) in [
        ("window-tool-torque", view.driver_nm),
        ("window-tool-wrench", view.wrench_nm),
    ] {
        let line = Say::new("window-set-torque")
            .with("tool", Arg::Key(tool.to_owned()))
            .with("nm", Arg::NewtonMetres(nm));
        remark(ui, words.say(&line));
    }
    asked
}
