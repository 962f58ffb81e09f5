//! The site file as it is written: shapes only. Everything in it is checked in [`super::check`].

use ron::value::RawValue;
use serde::Deserialize;

use super::Region;
use crate::text::Num;

#[derive(Deserialize)]
#[serde(rename = "Site", deny_unknown_fields)]
pub(super) struct RawSite<'a> {
    #[serde(borrow)]
    pub format: &'a RawValue,
    pub name: &'a RawValue,
    pub region: &'a RawValue,
    pub size: &'a RawValue,
    pub supply: &'a RawValue,
    pub places: &'a RawValue,
    pub boxes: &'a RawValue,
    pub parts: &'a RawValue,
    pub joints: &'a RawValue,
    pub runs: &'a RawValue,
}

#[derive(Deserialize, Clone, Copy)]
pub(super) enum RawRegion {
    Us,
}

impl From<RawRegion> for Region {
    fn from(raw: RawRegion) -> Self {
        match raw {
            RawRegion::Us => Self::Us,
        }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum RawSupply {
    Split { volts: Num, leg_ohm: Num },
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum RawPlace {
    Stand { x: Num, reach: Num, air: Num },
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum RawBox {
    Board {
        at: (Num, Num),
        size: (Num, Num, Num),
        place: String,
        spaces: u8,
        screws: u8,
    },
    Steel {
        at: (Num, Num),
        size: (Num, Num, Num),
        place: String,
        screws: u8,
        #[serde(default)]
        hangs_on: Option<String>,
    },
}

#[derive(Deserialize)]
pub(super) enum At {
    Slot(String, u8),
    In(String, Num, Num),
    Top(String),
    Wall(Num, Num),
}

#[derive(Deserialize, Clone, Copy)]
pub(super) enum Screw {
    M6,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum RawPart {
    Main {
        at: At,
        amps: Num,
    },
    Breaker {
        at: At,
        poles: u8,
        amps: Num,
        serves: String,
        #[serde(default)]
        other_load: Option<Num>,
    },
    Isolator {
        at: At,
        amps: Num,
        lockable: bool,
    },
    Block {
        at: At,
        screw: Screw,
    },
    Contactor {
        at: At,
        amps: Num,
        coil: Num,
    },
    Controller {
        at: At,
        drives: String,
        feels: String,
    },
    Bank {
        at: At,
        ohms: Num,
        heats: String,
    },
    Bars {
        at: At,
    },
    Chamber {
        at: At,
        size: (Num, Num),
        place: String,
    },
}

#[derive(Deserialize)]
#[serde(rename = "Joint", deny_unknown_fields)]
pub(super) struct RawJoint {
    #[serde(default)]
    pub torque: Option<Num>,
    #[serde(default)]
    pub marked: Option<bool>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum RawRun {
    Emt {
        cores: Vec<(String, String)>,
        awg: u8,
        earth_awg: u8,
        metres: Num,
        path: Vec<(Num, Num)>,
    },
    Flex {
        cores: Vec<(String, String)>,
        awg: u8,
        earth_awg: u8,
        metres: Num,
        path: Vec<(Num, Num)>,
    },
    Open {
        cores: Vec<(String, String)>,
        awg: u8,
        metres: Num,
    },
    Tails {
        cores: Vec<(String, String)>,
        awg: u8,
        metres: Num,
    },
}
