//! From the text of a scenario file to a checked scenario: every fault is named, none hides another.

use std::collections::BTreeMap;

use faultwright_sim::site::PartSpec;
use faultwright_sim::text::{Field, Fields, Island, SITE_LIMIT, Source, check_format, nearest};
use faultwright_sim::{CauseKind, Problem, Site, Thing, Way};

use super::raw::{self, RawAnswer};
use super::{Answer, Candidate, HouseRules, Scenario, Share, Span, Spoken, house};
use crate::action::Topic;
use crate::grammar::Word;

/// Swing of a room's air over the day, K.
const DAY_SWING_K: std::ops::RangeInclusive<f64> = 0.0..=12.0;
/// Air temperatures a scenario may ask for, deg C.
const AIR_C: std::ops::RangeInclusive<f64> = -20.0..=60.0;
/// Heat in a joint at rated current, W: from nothing felt to a joint that has burnt open.
const JOINT_W: std::ops::RangeInclusive<f64> = 0.1..=60.0;
/// Current of a circuit with exchanged or worn elements, A.
const CIRCUIT_A: std::ops::RangeInclusive<f64> = 1.0..=200.0;
/// Section of a conductor that is too small, mm^2: the smallest in a house to the largest a lug of a branch takes.
const SECTION_MM2: std::ops::RangeInclusive<f64> = 1.5..=35.0;
/// Weight of a candidate or of a state as found.
const WEIGHT: std::ops::RangeInclusive<f64> = 0.001..=1000.0;

struct Reader<'a, 's> {
    source: Source<'a>,
    text: &'a str,
    site: &'s Site,
    problems: Vec<Problem>,
}

/// The name of the site, and the value's place.
pub(super) fn site_name(file: &str, text: &str) -> Result<(String, (usize, usize)), Vec<Problem>> {
    let source = Source::new(file, text);
    let mut problems = Vec::new();
    let found = source
        .island(SITE_LIMIT, &mut problems)
        .and_then(|island| Fields::of(&island, raw::NAME, raw::SCENARIO, &mut problems))
        .and_then(|fields| {
            let island = fields.get("site")?;
            let name = island.words("the name of a site", &mut problems)?;
            Some((name, source.place(island.offset())))
        });
    // What else is wrong in the file is told once its site is known.
    found.ok_or(problems)
}

pub(super) fn scenario(file: &str, text: &str, site: &Site) -> Result<Scenario, Vec<Problem>> {
    let source = Source::new(file, text);
    let mut reader = Reader {
        source,
        text,
        site,
        problems: Vec::new(),
    };
    let read = reader.read(file);
    let mut problems = reader.problems;
    match read {
        Some(scenario) if problems.is_empty() => Ok(scenario),
        _ => {
            problems.sort();
            Err(problems)
        }
    }
}

impl<'a> Reader<'a, '_> {
    fn fields(
        &mut self,
        island: &Island<'a>,
        name: &'static str,
        known: &[Field],
    ) -> Option<Fields<'a>> {
        Fields::of(island, name, known, &mut self.problems)
    }

    fn fault(
        &mut self,
        island: &Island<'_>,
        found: impl Into<String>,
        accepted: impl Into<String>,
    ) {
        self.problems.push(island.problem(found, accepted));
    }

    /// Reads every field before giving up on any: a later `?` only drops what is already known to be faulty.
    fn read(&mut self, file: &str) -> Option<Scenario> {
        let whole = self.source.island(SITE_LIMIT, &mut self.problems)?;
        let fields = self.fields(&whole, raw::NAME, raw::SCENARIO)?;
        if let Some(island) = fields.get("format") {
            check_format(island, &mut self.problems);
        }
        let site = fields
            .get("site")
            .and_then(|island| self.site_named(island));
        let title = fields.get("title").and_then(|island| self.spoken(island));
        let complaint = fields
            .get("complaint")
            .and_then(|island| self.spoken(island));
        let starts_s = fields.get("starts").and_then(|island| self.clock(island));
        let minutes = fields
            .get("minutes")
            .and_then(|island| self.minutes(island));
        let before = fields
            .get("before")
            .and_then(|island| raw::before(island, &mut self.problems));
        let since = self.optional(&fields, "since", 0.0..=1440.0, "minutes", 30.0);
        let as_found = fields.get("as_found").map(|island| self.as_found(island));
        let store_c = self.span(&fields, "board_air", AIR_C, "deg C");
        let kiln_c = self.span(&fields, "appliance_air", AIR_C, "deg C");
        let day_swing_k = match fields.get("day_swing") {
            Some(island) => {
                let what = "half of the day's swing of the board's air";
                island.number(DAY_SWING_K, what, "K", &mut self.problems)
            }
            None => Some(0.0),
        };
        let breaker_k = match fields.get("breaker") {
            Some(island) => raw::span(island, -20.0..=20.0, "K", &mut self.problems).map(Some),
            None => Some(None),
        };
        let ask = fields.get("ask").map(|island| self.answers(island));
        let causes = fields.get("causes").map(|island| self.causes(island));
        let interruption = match fields.get("interruption") {
            Some(island) => island.number(0.0..=1.0, "a chance", "", &mut self.problems),
            None => Some(0.25),
        };
        let ware = match fields.get("ware") {
            Some(island) => island.number(0.0..=1.0, "a chance", "", &mut self.problems),
            None => Some(0.0),
        };
        let house = match fields.get("house") {
            Some(island) => house::house(island, self.site, &mut self.problems),
            None => Some(HouseRules::default()),
        };
        let stock = fields
            .get("stock")
            .map_or_else(Vec::new, |island| self.stock(island));
        Some(Scenario {
            file: file.to_owned(),
            text: self.text.to_owned(),
            site: site?,
            title: title?,
            complaint: complaint?,
            starts_s: starts_s?,
            minutes: minutes?,
            before: before?,
            since_minutes: since?,
            as_found: as_found?,
            store_c: store_c?,
            kiln_c: kiln_c?,
            day_swing_k: day_swing_k?,
            breaker_k: breaker_k?,
            ask: ask?,
            causes: causes?,
            interruption: interruption?,
            ware: ware?,
            house: house?,
            stock,
        })
    }

    fn span(
        &mut self,
        fields: &Fields<'a>,
        name: &str,
        limits: std::ops::RangeInclusive<f64>,
        unit: &str,
    ) -> Option<Span> {
        fields
            .get(name)
            .and_then(|island| raw::span(island, limits, unit, &mut self.problems))
    }

    fn optional(
        &mut self,
        fields: &Fields<'a>,
        name: &str,
        limits: std::ops::RangeInclusive<f64>,
        unit: &str,
        otherwise: f64,
    ) -> Option<Span> {
        if fields.get(name).is_none() {
            return Some(Span {
                low: otherwise,
                high: otherwise,
            });
        }
        self.span(fields, name, limits, unit)
    }

    fn site_named(&mut self, island: &Island<'a>) -> Option<String> {
        let name = island.words("the name of a site", &mut self.problems)?;
        if name != self.site.name {
            let accepted = format!("the site {:?}", self.site.name);
            self.fault(island, format!("{name:?}"), accepted);
        }
        Some(name)
    }

    fn spoken(&mut self, island: &Island<'a>) -> Option<Spoken> {
        let mut spoken = Spoken::new();
        for (language, words) in island.map(&mut self.problems)? {
            if let Some(text) = words.words("what is said in that language", &mut self.problems) {
                if text.trim().is_empty() {
                    self.fault(&words, "no words", "what is said in that language");
                }
                spoken.insert(language, text);
            } else {
                // Named already; the language counts as given.
                spoken.insert(language, String::new());
            }
        }
        if !spoken.contains_key("en") {
            let found = if spoken.is_empty() {
                "no language"
            } else {
                "no English"
            };
            self.fault(
                island,
                found,
                "a map { \"en\": \"...\" }, other languages beside it",
            );
        }
        Some(spoken)
    }

    fn minutes(&mut self, island: &Island<'a>) -> Option<u32> {
        island.whole(1..=600, "minutes", &mut self.problems)
    }

    fn clock(&mut self, island: &Island<'a>) -> Option<u32> {
        let accepted = "a time of day \"HH:MM\", 00:00 to 23:59";
        let text = island.words(accepted, &mut self.problems)?;
        let two = |part: &str, below: u32| -> Option<u32> {
            (part.len() == 2)
                .then(|| part.parse().ok())
                .flatten()
                .filter(|n| *n < below)
        };
        let seconds = text
            .split_once(':')
            .and_then(|(hours, minutes)| Some((two(hours, 24)? * 60 + two(minutes, 60)?) * 60));
        if seconds.is_none() {
            self.fault(island, format!("{text:?}"), accepted);
        }
        seconds
    }

    fn as_found(&mut self, island: &Island<'a>) -> Vec<(faultwright_sim::AsFound, f64)> {
        let mut states = Vec::new();
        let before = self.problems.len();
        for (word, weight) in island.map(&mut self.problems).unwrap_or_default() {
            let state = raw::AS_FOUND.iter().find(|(known, _)| *known == word);
            let weight_read = weight.number(WEIGHT, "a weight", "", &mut self.problems);
            match (state, weight_read) {
                (Some((_, state)), Some(weight)) => states.push((*state, weight)),
                (None, _) => {
                    self.fault(
                        &weight,
                        format!("{word:?}"),
                        "\"running\", \"tripped\", \"off\"",
                    );
                }
                (Some(_), None) => {}
            }
        }
        if states.is_empty() && self.problems.len() == before {
            self.fault(
                island,
                "no state",
                "at least one of \"running\", \"tripped\", \"off\"",
            );
        }
        // One order, whatever the order of the file.
        states.sort_by_key(|(state, _)| *state);
        states
    }

    fn answers(&mut self, island: &Island<'a>) -> BTreeMap<Topic, Answer> {
        let mut answers = BTreeMap::new();
        let Some(topics) = island.map(&mut self.problems) else {
            return answers;
        };
        // Topics that were begun, or written with a slip of the pen: told once.
        let mut begun = Vec::new();
        for (word, answer) in topics {
            let words = Topic::WORDS.iter().map(|(_, word)| *word);
            let Some(topic) = Topic::from_word(&word) else {
                let accepted: Vec<String> = words.clone().map(|word| format!("{word:?}")).collect();
                self.fault(&answer, format!("{word:?}"), accepted.join(", "));
                begun.extend(nearest(&word, words).and_then(Topic::from_word));
                continue;
            };
            begun.push(topic);
            match raw::answer(&answer, &mut self.problems) {
                Some(RawAnswer::Derived(history)) => {
                    answers.insert(topic, Answer::Derived(history));
                }
                Some(RawAnswer::Text(list)) => {
                    let texts = self.texts(&list);
                    answers.insert(topic, Answer::Text(texts));
                }
                None => {}
            }
        }
        for (topic, word) in Topic::WORDS {
            if !begun.contains(topic) {
                self.fault(island, "no such topic", format!("an answer to {word:?}"));
            }
        }
        answers
    }

    fn texts(&mut self, list: &Island<'a>) -> Vec<Spoken> {
        let accepted = "a list `[{ \"en\": \"...\" }, ...]`";
        let before = self.problems.len();
        let items = list.list(accepted, &mut self.problems);
        if items.is_empty() && self.problems.len() == before {
            self.fault(list, "no answer", accepted);
        }
        items.iter().filter_map(|item| self.spoken(item)).collect()
    }

    fn causes(&mut self, island: &Island<'a>) -> Vec<Candidate> {
        let before = self.problems.len();
        let items = island.list(
            "a list `[(cause: ..., weight: ...), ...]`",
            &mut self.problems,
        );
        if items.is_empty() && self.problems.len() == before {
            self.fault(island, "no cause", "at least one (cause: ..., weight: ...)");
        }
        items
            .iter()
            .filter_map(|item| self.candidate(item))
            .collect()
    }

    fn candidate(&mut self, island: &Island<'a>) -> Option<Candidate> {
        let fields = self.fields(island, "", raw::CANDIDATE)?;
        let weight = self.weight(&fields);
        let root = self.share(island, &fields);
        let mut together = Vec::new();
        if let Some(list) = fields.get("together") {
            let shape = "a list `[(cause: ...), ...]`";
            for item in list.list(shape, &mut self.problems) {
                let fields = self.fields(&item, "", raw::CONTRIBUTOR);
                together.extend(fields.and_then(|fields| self.share(&item, &fields)));
            }
        }
        Some(Candidate {
            root: root?,
            weight: weight?,
            together,
        })
    }

    fn weight(&mut self, fields: &Fields<'a>) -> Option<f64> {
        let island = fields.get("weight")?;
        island.number(WEIGHT, "a weight", "", &mut self.problems)
    }

    fn share(&mut self, island: &Island<'a>, fields: &Fields<'a>) -> Option<Share> {
        let kind = fields
            .get("cause")?
            .one_of(&raw::KINDS, &mut self.problems)?;
        let places = self.places(island, fields, kind);
        let (wanted, limits, unit) = match kind {
            CauseKind::LooseLug
            | CauseKind::TightButBad
            | CauseKind::LooseStud
            | CauseKind::WornContact
            | CauseKind::WeakStab
            | CauseKind::FailingNeighbour
            | CauseKind::IntermittentJoint
            | CauseKind::BladeSpread
            | CauseKind::CombBeside
            | CauseKind::LooseNeutral
            | CauseKind::WrongInsulation => (Some("watts"), JOINT_W, "W"),
            CauseKind::WrongElements
            | CauseKind::WornElements
            | CauseKind::ShortedElement
            | CauseKind::DraggingMotor
            | CauseKind::HotRow => (Some("amps"), CIRCUIT_A, "A"),
            CauseKind::UndersizedConductor => (Some("mm2"), SECTION_MM2, "mm2"),
            CauseKind::OpenElement
            | CauseKind::LeakyElement
            | CauseKind::TouchingElement
            | CauseKind::Healthy => (None, JOINT_W, "W"),
        };
        for name in raw::SEVERITIES {
            if let Some(island) = fields.get(name).filter(|_| wanted != Some(name)) {
                let accepted = wanted.map_or_else(
                    || "no severity: nothing is wrong".to_owned(),
                    |wanted| format!("`{wanted}` for this cause"),
                );
                self.problems
                    .push(island.problem(format!("`{name}`"), accepted));
            }
        }
        let severity = match wanted {
            None => None,
            Some(name) => match fields.get(name) {
                Some(island) => Some(raw::span(island, limits, unit, &mut self.problems)?),
                // A neutral without watts is out of its clamp.
                None if kind == CauseKind::LooseNeutral => None,
                None => {
                    self.fault(island, "no severity", format!("the field `{name}`"));
                    return None;
                }
            },
        };
        Some(Share {
            kind,
            places,
            severity,
        })
    }

    fn places(&mut self, island: &Island<'a>, fields: &Fields<'a>, kind: CauseKind) -> Vec<Thing> {
        let Some(list) = fields.get("at") else {
            let what = match kind {
                CauseKind::UndersizedConductor => Some("the field `at` with runs of the site"),
                kind if kind.in_watts() => Some("the field `at` with terminations of the site"),
                _ => None,
            };
            if let Some(what) = what {
                self.fault(island, "no place", what);
            }
            return Vec::new();
        };
        let accepted: Vec<&str> = self
            .site
            .things
            .iter()
            .filter(|info| may_hold(self.site, kind, info.id))
            .map(|info| info.name.as_str())
            .collect();
        let accepted = if accepted.is_empty() {
            "no place".to_owned()
        } else {
            accepted.join(", ")
        };
        let mut places = Vec::new();
        for item in list.list("a list of places `[\"...\", ...]`", &mut self.problems) {
            let Some(name) = item.words("the name of a place for this cause", &mut self.problems)
            else {
                continue;
            };
            match self
                .site
                .thing(&name)
                .filter(|thing| may_hold(self.site, kind, *thing))
            {
                Some(thing) if places.contains(&thing) => {
                    self.fault(&item, format!("{name:?} a second time"), "each place once");
                }
                Some(thing) => places.push(thing),
                None => self.fault(&item, format!("{name:?}"), accepted.clone()),
            }
        }
        places
    }

    fn stock(&mut self, island: &Island<'a>) -> Vec<String> {
        let articles = faultwright_sim::parts::stock::articles();
        let mut names = Vec::new();
        let shape = "a list of articles `[\"...\", ...]`";
        for item in island.list(shape, &mut self.problems) {
            let Some(name) = item.words("the name of an article", &mut self.problems) else {
                continue;
            };
            if articles.iter().any(|article| article.id == name) {
                names.push(name);
            } else {
                let accepted: Vec<&str> = articles.iter().map(|article| article.id).collect();
                self.fault(&item, format!("{name:?}"), accepted.join(", "));
            }
        }
        names
    }
}

/// Can a cause of this kind sit in this thing?
fn may_hold(site: &Site, kind: CauseKind, thing: Thing) -> bool {
    let part_of = |thing| site.part(thing).map(|part| &part.spec);
    let live = |way: Way| way.leg().is_some();
    let any = site.port(thing).filter(|port| live(port.way));
    let port = any.filter(|port| port.core.is_some());
    let holder = port.and_then(|port| part_of(port.part));
    match kind {
        CauseKind::LooseLug | CauseKind::TightButBad => matches!(
            holder,
            Some(PartSpec::Breaker { .. } | PartSpec::Isolator { .. } | PartSpec::Contactor { .. })
        ),
        CauseKind::IntermittentJoint => matches!(
            holder,
            Some(
                PartSpec::Breaker { .. }
                    | PartSpec::Isolator { .. }
                    | PartSpec::Contactor { .. }
                    | PartSpec::Block { .. }
            )
        ),
        CauseKind::LooseStud => matches!(holder, Some(PartSpec::Block { .. })),
        // A pole is named by its load side.
        CauseKind::WornContact => match any.and_then(|port| part_of(port.part)) {
            Some(PartSpec::Breaker { .. }) => port.is_some(),
            Some(PartSpec::Contactor { .. }) => site.name(thing).ends_with("_out"),
            _ => false,
        },
        CauseKind::WeakStab => matches!(holder, Some(PartSpec::Breaker { .. })),
        CauseKind::UndersizedConductor => site.run(thing).is_some_and(|run| {
            !run.lay.in_a_box() && run.cores.iter().any(|core| live(core.way))
        }),
        // A neighbour feeds a circuit that is not drawn, and carries a load.
        CauseKind::FailingNeighbour => any
            .filter(|port| port.core.is_none())
            .and_then(|port| part_of(port.part))
            .is_some_and(
                |spec| matches!(spec, PartSpec::Breaker { other_load_a, .. } if *other_load_a > 0.0),
            ),
        CauseKind::WrongElements
        | CauseKind::WornElements
        | CauseKind::OpenElement
        | CauseKind::ShortedElement => {
            matches!(part_of(thing), Some(PartSpec::Bank { .. }))
        }
        // Without an earthed sheath beside it an element leaks to nothing.
        CauseKind::LeakyElement | CauseKind::TouchingElement => {
            matches!(part_of(thing), Some(PartSpec::Bank { sheathed: true, .. }))
        }
        CauseKind::BladeSpread => {
            matches!(holder, Some(PartSpec::Receptacle { .. })) && site.name(thing).ends_with("_in")
        }
        CauseKind::CombBeside => {
            matches!(holder, Some(PartSpec::Breaker { .. })) || site.name(thing).ends_with("_in")
        }
        CauseKind::LooseNeutral => {
            site.info(thing).kind == faultwright_sim::ThingKind::Bars
                || site
                    .port(thing)
                    .is_some_and(|port| port.way == Way::N && port.core.is_some())
        }
        CauseKind::WrongInsulation => port.is_some(),
        CauseKind::DraggingMotor => matches!(part_of(thing), Some(PartSpec::Motor { .. })),
        CauseKind::HotRow => matches!(
            part_of(thing),
            Some(PartSpec::Breaker { other_load_a, .. }) if *other_load_a > 0.0
        ),
        CauseKind::Healthy => false,
    }
}
