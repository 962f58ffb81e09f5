//! Fields of a struct of the file, each by its kind: faulty ones are told and stood in for.

use super::parts::{ACROSS, RawWays};
use super::{Named, named, pair};
use crate::parts::conductor::Gauge;
use crate::parts::motor::Across;
use crate::site::{Keeps, Way};
use crate::text::{Fields, Island, Problem};

/// A struct's fields, and where problems go.
pub(super) struct Reader<'a, 'p> {
    pub(super) fields: Fields<'a>,
    pub(super) problems: &'p mut Vec<Problem>,
}

impl<'a> Reader<'a, '_> {
    pub(super) fn number(&mut self, name: &str, least: f64, most: f64, unit: &str) -> f64 {
        let island = self.fields.get(name);
        island
            .and_then(|island| island.number(least..=most, "", unit, self.problems))
            .unwrap_or(least)
    }

    pub(super) fn whole(&mut self, name: &str, least: u8, most: u8) -> Option<u8> {
        let limits = u32::from(least)..=u32::from(most);
        let value = self.fields.get(name)?.whole(limits, "", self.problems)?;
        u8::try_from(value).ok()
    }

    pub(super) fn point(&mut self, name: &str, least: f64, most: f64) -> (f64, f64) {
        let island = self.fields.get(name);
        island
            .and_then(|island| pair(island, least, most, self.problems))
            .unwrap_or((least, least))
    }

    pub(super) fn truth(&mut self, name: &str) -> bool {
        let island = self.fields.get(name);
        island
            .and_then(|island| island.truth(self.problems))
            .unwrap_or(false)
    }

    /// The two ways a motor lies between, or all three legs.
    pub(super) fn motor_across(&mut self) -> Across {
        let mut known: Vec<(&str, Across)> = ACROSS
            .iter()
            .map(|&(word, (one, two))| (word, Across::Two(one, two)))
            .collect();
        known.push(("ABC", Across::Three));
        self.fields
            .get("across")
            .and_then(|island| island.one_of(&known, self.problems))
            .unwrap_or(Across::Two(Way::A, Way::N))
    }

    /// The two ways a load lies between.
    pub(super) fn across(&mut self) -> Option<(Way, Way)> {
        self.fields.get("across")?.one_of(ACROSS, self.problems)
    }

    pub(super) fn named(&mut self, name: &str, what: &str) -> Option<Named<'a>> {
        named(self.fields.get(name)?, what, self.problems)
    }

    /// One name, or a list of them.
    pub(super) fn names(&mut self, name: &str, what: &str) -> Vec<Named<'a>> {
        let Some(island) = self.fields.get(name) else {
            return Vec::new();
        };
        if !island.text().starts_with('[') {
            return named(island, what, self.problems).into_iter().collect();
        }
        let accepted = format!("{what}, or a list of them");
        if island.text()[1..].trim_start().starts_with(']') {
            self.problems.push(island.problem("`[]`", accepted));
            return Vec::new();
        }
        let list = island.list(&accepted, self.problems);
        list.iter()
            .filter_map(|item| named(item, what, self.problems))
            .collect()
    }

    pub(super) fn pair_of_names(&mut self, name: &str, what: &str) -> Option<[Named<'a>; 2]> {
        let island = self.fields.get(name)?;
        let [one, two] = island.tuple("`(\"port\", \"port\")`", self.problems)?;
        let one = named(&one, what, self.problems);
        let two = named(&two, what, self.problems);
        Some([one?, two?])
    }

    /// Letters of ways, such as `"abn"`; the two legs A and B where nothing is said. `e` stands for an earth that goes
    /// on to further conductors.
    pub(super) fn ways(&mut self, name: &str) -> RawWays<'a> {
        let usual = vec![Way::A, Way::B];
        let Some(island) = self.fields.get(name) else {
            return RawWays {
                island: None,
                sound: true,
                ways: usual,
            };
        };
        let what = "letters of legs, neutral and earth, each once and in order, such as \"abcn\"";
        let letters: Option<String> = island.value(|| what.to_owned(), self.problems);
        let Some(letters) = letters else {
            return RawWays {
                island: None,
                sound: false,
                ways: usual,
            };
        };
        let known = Way::ALL.into_iter();
        let ways: Vec<Way> = known.filter(|way| letters.contains(way.letter())).collect();
        let sound: String = ways.iter().map(|way| way.letter()).collect();
        if !ways.iter().any(|way| way.carries()) || sound != letters {
            self.problems.push(island.problem(island.quoted(), what));
            return RawWays {
                island: None,
                sound: false,
                ways: usual,
            };
        }
        RawWays {
            island: Some(island.clone()),
            sound: true,
            ways,
        }
    }

    /// What a controller keeps to; the firing program where nothing is said.
    pub(super) fn keeps(&mut self, name: &str) -> Keeps {
        let Some(island) = self.fields.get(name) else {
            return Keeps::Program;
        };
        let found = island.variant(&["Thermostat"], &["Program"], self.problems);
        let Some((_, Some(inner))) = found else {
            return Keeps::Program;
        };
        let known = [("at", true), ("within", true), ("most", true)];
        let Some(fields) = Fields::of(&inner, "", &known, self.problems) else {
            return Keeps::Program;
        };
        let mut reader = Reader {
            fields,
            problems: self.problems,
        };
        Keeps::Thermostat {
            at_c: reader.number("at", 20.0, 300.0, "deg C"),
            within_k: reader.number("within", 1.0, 60.0, "K"),
            most_c: reader.number("most", 30.0, 400.0, "deg C"),
        }
    }

    /// A size by number of AWG in one field or by mm^2 in another; one of the two must be there.
    pub(super) fn gauge(&mut self, whole: &Island<'a>, awg: &str, mm2: &str) -> Gauge {
        let (by_awg, by_mm2) = (self.fields.get(awg), self.fields.get(mm2));
        let (island, metric) = match (by_awg, by_mm2) {
            (Some(island), None) => (island, false),
            (None, Some(island)) => (island, true),
            (one, _) => {
                let accepted = format!("one of the fields `{awg}`, `{mm2}`");
                self.problems.push(match one {
                    Some(_) => whole.problem(format!("`{awg}` and `{mm2}`"), accepted),
                    None => whole.problem(format!("no field `{awg}`"), accepted),
                });
                return Gauge::ALL[0];
            }
        };
        let mut sizes: Vec<(String, Gauge)> = Gauge::ALL
            .into_iter()
            .filter(|size| matches!(size, Gauge::Mm2(_)) == metric)
            .map(|size| (size.number(), size))
            .collect();
        sizes.sort_by_key(|(_, size)| *size);
        let found = sizes.iter().find(|(number, _)| number == island.text());
        if found.is_none() {
            let numbers: Vec<String> = sizes.iter().map(|(size, _)| format!("`{size}`")).collect();
            self.problems
                .push(island.problem(island.quoted(), numbers.join(", ")));
        }
        found.map_or(Gauge::ALL[0], |(_, size)| *size)
    }
}
