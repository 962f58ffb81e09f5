//! Settings of instruments in the grammar.

use crate::action::Setting;
use crate::say::Say;

/// The setting as a line of the grammar.
pub(super) fn setting_line(setting: Setting) -> String {
    let on = |on: bool| if on { "on" } else { "off" };
    match setting {
        Setting::Emissivity(hundredths) => {
            format!("set emissivity {:.2}", f64::from(hundredths) / 100.0)
        }
        Setting::Max(max) => format!("set max {}", on(max)),
        Setting::LowImpedance(low) => format!("set low-impedance {}", on(low)),
        Setting::InsulationVolts(volts) => format!("set insulation-volts {volts}"),
    }
}

/// A setting and its value.
///
/// # Errors
/// What can be set, and to what.
pub(super) fn parse_setting(what: &str, value: &str) -> Result<Setting, Say> {
    let found = || {
        Say::new("grammar-setting")
            .text("found", format!("{what} {value}"))
            .text(
                "accepted",
                "emissivity 0.10 ... 1.00, max on | off, low-impedance on | off, insulation-volts 250 | 500 | 1000",
            )
    };
    let on = || match value {
        "on" => Ok(true),
        "off" => Ok(false),
        _ => Err(found()),
    };
    match what {
        "emissivity" => {
            let wanted: f64 = value.parse().map_err(|_not| found())?;
            if !(0.1..=1.0).contains(&wanted) {
                return Err(found());
            }
            Ok(Setting::Emissivity((100.0 * wanted).round() as u8))
        }
        "max" => on().map(Setting::Max),
        "low-impedance" => on().map(Setting::LowImpedance),
        "insulation-volts" => match value {
            "250" => Ok(Setting::InsulationVolts(250)),
            "500" => Ok(Setting::InsulationVolts(500)),
            "1000" => Ok(Setting::InsulationVolts(1000)),
            _ => Err(found()),
        },
        _ => Err(found()),
    }
}
