//! What a walkthrough expects, and whether it is met.

use faultwright_exercise::{Arg, Attempt, Debrief, Ending, Line, Shown, Tool, Word as _};

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Sense {
    Below,
    AtMost,
    Above,
    AtLeast,
}

impl Sense {
    fn holds(self, a: f64, b: f64) -> bool {
        match self {
            Self::Below => a < b,
            Self::AtMost => a <= b,
            Self::Above => a > b,
            Self::AtLeast => a >= b,
        }
    }
}

#[derive(Debug, Clone, PartialEq)]
pub(super) enum Expectation {
    Shown(Tool, Sense, f64),
    Noticed(String),
    Over(Option<Ending>),
    Rule {
        id: String,
        there: bool,
    },
    Gate(String),
    Fact {
        id: String,
        name: String,
        sense: Sense,
        number: f64,
    },
    Loss {
        key: String,
        there: bool,
    },
    Mark {
        part: String,
        sense: Sense,
        number: f64,
    },
    Competent(bool),
}

pub(super) fn met_so_far(
    attempt: &Attempt,
    expectation: &Expectation,
) -> Option<Result<(), String>> {
    match expectation {
        Expectation::Shown(tool, sense, number) => {
            let last = attempt.lines().iter().rev().find_map(|line| match line {
                Line::Read(reading) if reading.technique.tool() == *tool => Some(reading.shown),
                _ => None,
            });
            Some(match last {
                Some(shown) if sense.holds(shown_number(shown), *number) => Ok(()),
                Some(shown) => Err(format!("{shown:?}")),
                None => Err("no reading of that instrument".to_owned()),
            })
        }
        Expectation::Noticed(key) => {
            let there = attempt
                .lines()
                .iter()
                .any(|line| matches!(line, Line::Noticed { say, .. } if say.key == *key));
            Some(if there {
                Ok(())
            } else {
                Err(format!("{key} was not noticed"))
            })
        }
        Expectation::Over(ending) => Some(if attempt.over() == *ending {
            Ok(())
        } else {
            Err(format!("{:?}", attempt.over()))
        }),
        _ => None,
    }
}

pub(super) fn met_at_the_end(debrief: &Debrief, expectation: &Expectation) -> Result<(), String> {
    let rules = || {
        let ids: Vec<&str> = debrief
            .breaches
            .iter()
            .map(|told| told.breach.rule)
            .collect();
        format!("rules {}", ids.join(", "))
    };
    match expectation {
        Expectation::Rule { id, there } => {
            (debrief.breaches.iter().any(|told| told.breach.rule == id) == *there)
                .then_some(())
                .ok_or_else(rules)
        }
        Expectation::Gate(id) => debrief
            .verdict
            .gates
            .iter()
            .any(|breach| breach.rule == id)
            .then_some(())
            .ok_or_else(|| {
                let ids: Vec<&str> = debrief
                    .verdict
                    .gates
                    .iter()
                    .map(|breach| breach.rule)
                    .collect();
                format!("gates {}", ids.join(", "))
            }),
        Expectation::Fact {
            id,
            name,
            sense,
            number,
        } => {
            let facts: Vec<f64> = debrief
                .breaches
                .iter()
                .filter(|told| told.breach.rule == id)
                .flat_map(|told| {
                    told.breach
                        .facts
                        .iter()
                        .filter(|(fact, _)| fact == name)
                        .filter_map(|(_, arg)| arg_number(arg))
                })
                .collect();
            if facts.iter().any(|fact| sense.holds(*fact, *number)) {
                Ok(())
            } else {
                let all: Vec<_> = debrief
                    .breaches
                    .iter()
                    .filter(|told| told.breach.rule == id)
                    .map(|told| &told.breach.facts)
                    .collect();
                Err(format!("facts {all:?}"))
            }
        }
        Expectation::Loss { key, there } => {
            (debrief.losses.iter().any(|loss| loss.say.key == *key) == *there)
                .then_some(())
                .ok_or_else(|| {
                    let keys: Vec<&str> = debrief
                        .losses
                        .iter()
                        .map(|loss| loss.say.key.as_str())
                        .collect();
                    format!("losses {}", keys.join(", "))
                })
        }
        Expectation::Mark {
            part,
            sense,
            number,
        } => match debrief.verdict.marks.iter().find(|mark| mark.part == part) {
            Some(mark) if sense.holds(mark.got, *number) => Ok(()),
            _ => Err(format!("marks {:?}", debrief.verdict.marks)),
        },
        Expectation::Competent(wanted) => (debrief.verdict.competent == *wanted)
            .then_some(())
            .ok_or_else(|| {
                let losses: Vec<_> = debrief
                    .losses
                    .iter()
                    .map(|loss| (loss.say.key.as_str(), loss.points))
                    .collect();
                format!(
                    "{} of {}, {}, losses {losses:?}",
                    debrief.verdict.got,
                    debrief.verdict.of,
                    rules()
                )
            }),
        Expectation::Shown(..) | Expectation::Noticed(_) | Expectation::Over(_) => Ok(()),
    }
}

fn shown_number(shown: Shown) -> f64 {
    match shown {
        Shown::Amps(number)
        | Shown::MaxAmps(number)
        | Shown::Volts(number)
        | Shown::LowVolts(number)
        | Shown::Millivolts(number)
        | Shown::Celsius(number)
        | Shown::NewtonMetres(number)
        | Shown::Ohms(number)
        | Shown::Milliohms(number)
        | Shown::Megohms(number)
        | Shown::Milliseconds(number) => number,
        Shown::Lamp(volts) => f64::from(volts),
        Shown::Beep(beeps) => f64::from(u8::from(beeps)),
        Shown::Over => f64::INFINITY,
        Shown::Blank => f64::NAN,
    }
}

fn arg_number(arg: &Arg) -> Option<f64> {
    match arg {
        Arg::Number(number, _)
        | Arg::Celsius(number)
        | Arg::Kelvin(number)
        | Arg::Volts(number)
        | Arg::Millivolts(number)
        | Arg::Amps(number)
        | Arg::Ohms(number)
        | Arg::NewtonMetres(number)
        | Arg::Watts(number)
        | Arg::Percent(number) => Some(*number),
        Arg::Time(ticks) | Arg::Clock(ticks) => Some(*ticks as f64 / 64.0),
        Arg::Say(say) => say.args.iter().find_map(|(_, arg)| arg_number(arg)),
        Arg::Text(_) | Arg::Key(_) => None,
    }
}

pub(super) fn expectation(words: &[&str]) -> Option<Expectation> {
    Some(match words {
        ["shown", tool, sense, number] => Expectation::Shown(
            Tool::from_word(tool)?,
            sense_word(sense)?,
            number.parse().ok()?,
        ),
        ["noticed", key] => Expectation::Noticed((*key).to_owned()),
        ["over", "hurt"] => Expectation::Over(Some(Ending::Hurt)),
        ["over", "handed-over"] => Expectation::Over(Some(Ending::HandedOver)),
        ["over", "made-safe"] => Expectation::Over(Some(Ending::MadeSafe)),
        ["over", "no"] => Expectation::Over(None),
        ["rule", id] => Expectation::Rule {
            id: (*id).to_owned(),
            there: true,
        },
        ["no", "rule", id] => Expectation::Rule {
            id: (*id).to_owned(),
            there: false,
        },
        ["gate", id] => Expectation::Gate((*id).to_owned()),
        ["fact", id, name, sense, number] => Expectation::Fact {
            id: (*id).to_owned(),
            name: (*name).to_owned(),
            sense: sense_word(sense)?,
            number: number.parse().ok()?,
        },
        ["loss", key] => Expectation::Loss {
            key: (*key).to_owned(),
            there: true,
        },
        ["no", "loss", key] => Expectation::Loss {
            key: (*key).to_owned(),
            there: false,
        },
        ["mark", part, sense, number] => Expectation::Mark {
            part: (*part).to_owned(),
            sense: sense_word(sense)?,
            number: number.parse().ok()?,
        },
        ["competent"] => Expectation::Competent(true),
        ["no", "competent"] => Expectation::Competent(false),
        _ => return None,
    })
}

fn sense_word(word: &str) -> Option<Sense> {
    Some(match word {
        "<" => Sense::Below,
        "<=" => Sense::AtMost,
        ">" => Sense::Above,
        ">=" => Sense::AtLeast,
        _ => return None,
    })
}
