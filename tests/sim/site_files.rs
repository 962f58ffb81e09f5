//! Site files: everything wrong is told at once, with its place; nothing a person writes makes a panic.

use faultwright_sim::text::{SITE_LIMIT, Source};
use faultwright_sim::{Problem, Site, ThingKind};
use proptest::prelude::{ProptestConfig, proptest};

use crate::kiln_kit::{site, text, thing};

fn problems(text: &str) -> Vec<Problem> {
    match Site::parse("test.ron", text) {
        Ok(_) => Vec::new(),
        Err(problems) => problems,
    }
}

/// Line and column, from 1, of the first place where `needle` stands.
fn place(text: &str, needle: &str) -> (usize, usize) {
    let at = text
        .find(needle)
        .unwrap_or_else(|| panic!("{needle} not in the file"));
    let before = &text[..at];
    (
        before.matches('\n').count() + 1,
        before.rsplit('\n').next().unwrap_or("").chars().count() + 1,
    )
}

#[test]
fn the_kiln_room_is_a_site() {
    let site = site();
    assert_eq!(site.name, "kiln-room");
    assert_eq!(site.info(thing("q2.a")).parent, Some(thing("q2")));
    assert_eq!(site.info(thing("q2.a")).inside, Some(thing("board")));
    assert_eq!(site.info(thing("q2")).parent, Some(thing("board")));
    assert_eq!(site.info(thing("feed.a")).parent, Some(thing("feed")));
    assert_eq!(
        site.info(thing("e1.a")).inside,
        Some(thing("kiln")),
        "tails are reached in the kiln's box"
    );
    assert_eq!(site.of_kind(ThingKind::Breaker).count(), 10);
    assert_eq!(
        site.port(thing("tb1.a_in")).expect("a port").core,
        Some(thing("whip.a"))
    );
    assert!(
        site.things
            .windows(2)
            .all(|pair| pair[0].at.0 <= pair[1].at.0),
        "numbered from left to right"
    );
    assert!(
        site.things
            .iter()
            .enumerate()
            .all(|(at, info)| usize::from(info.id.0) == at)
    );
    for info in &site.things {
        let (x, y) = info.at;
        assert!(
            (0.0..=site.size.0).contains(&x) && (0.0..=site.size.1).contains(&y),
            "{} off the wall",
            info.name
        );
    }
}

#[test]
fn boxes_hold_their_parts_and_parts_do_not_overlap() {
    let site = site();
    let inside = |outer: faultwright_sim::site::Rect, inner: faultwright_sim::site::Rect| {
        inner.x >= outer.x
            && inner.y >= outer.y
            && inner.x + inner.w <= outer.x + outer.w
            && inner.y + inner.h <= outer.y + outer.h
    };
    for part in &site.parts {
        if let Some(outer) = site
            .info(part.thing)
            .inside
            .and_then(|found| site.enclosure(found))
        {
            assert!(
                inside(outer.rect, part.rect),
                "{} sticks out of its box",
                site.name(part.thing)
            );
        }
    }
    for (at, one) in site.parts.iter().enumerate() {
        for two in &site.parts[at + 1..] {
            if site.info(one.thing).inside != site.info(two.thing).inside
                || site.info(one.thing).inside.is_none()
            {
                continue;
            }
            let (a, b) = (one.rect, two.rect);
            let apart =
                a.x + a.w <= b.x || b.x + b.w <= a.x || a.y + a.h <= b.y || b.y + b.h <= a.y;
            assert!(
                apart,
                "{} and {} overlap",
                site.name(one.thing),
                site.name(two.thing)
            );
        }
    }
}

#[test]
fn every_bad_element_is_told_with_its_own_line() {
    let bad = text()
        .replace(
            "poles: 2, amps: 50, serves: \"kiln\"",
            "poles: 2, amps: true, serves: \"kiln\"",
        )
        .replace(
            "\"q5\": Breaker(at: Slot(\"board\", 5)",
            "\"q5\": Breaker(at: Slot(\"board\", 55)",
        )
        .replace("screw: M6", "screw: M7")
        .replace("drives: \"k1\"", "drives: \"k9\"")
        .replace("reach: 900", "reach: -900")
        .replace("metres: 13.2", "metres: 13.2, colour: \"red\"");
    let found = problems(&bad);
    for needle in [
        "amps: true",
        "Slot(\"board\", 55)",
        "screw: M7",
        "drives: \"k9\"",
        "reach: -900",
        "colour: \"red\"",
    ] {
        let line = place(&bad, needle).0;
        assert!(
            found.iter().any(|problem| problem.line == line),
            "{needle} on line {line} not told: {found:#?}"
        );
    }
    assert!(
        found.windows(2).all(|pair| pair[0].line <= pair[1].line),
        "in the order of the file"
    );
}

#[test]
fn a_problem_says_file_place_path_found_and_accepted() {
    let bad = text().replace("screw: M6", "screw: M7");
    let told = problems(&bad)[0].to_string();
    assert!(told.starts_with("test.ron:"), "{told}");
    for part in ["parts.\"tb1\"", "M7", "M6"] {
        assert!(told.contains(part), "{told}");
    }
    let (line, column) = place(&bad, "M7");
    let first = &problems(&bad)[0];
    assert_eq!(first.line, line);
    assert!(
        first.column.abs_diff(column) <= 2,
        "column {} for {column}",
        first.column
    );
}

#[test]
fn names_given_twice_are_caught() {
    let twice = text().replace(
        "\"q5\": Breaker(at: Slot(\"board\", 5)",
        "\"q6\": Breaker(at: Slot(\"board\", 5)",
    );
    let found = problems(&twice);
    assert!(
        found
            .iter()
            .any(|problem| problem.found.contains("\"q6\" a second time")),
        "{found:#?}"
    );
    let across = text()
        .replace("\"s1-box\": Steel", "\"store\": Steel")
        .replace("In(\"s1-box\"", "In(\"store\"");
    let found = problems(&across);
    assert!(
        found
            .iter()
            .any(|problem| problem.found.contains("\"store\" used twice")),
        "{found:#?}"
    );
}

#[test]
fn rules_of_the_trade_are_checked() {
    for (from, to, wanted) in [
        ("Slot(\"board\", 10)", "Slot(\"board\", 8)", "taken already"),
        (
            "(\"q2.b\", \"s1.b_in\")",
            "(\"q2.b\", \"s1.a_out\")",
            "(B) to s1.a_out (A)",
        ),
        (
            "(\"q2.b\", \"s1.b_in\")",
            "(\"q2.b\", \"s1.b_out\")",
            "s1.b_out",
        ),
        (
            "awg: 6, earth_awg: 10,\n                    metres: 13.2",
            "awg: 7, earth_awg: 10,\n                    metres: 13.2",
            "7",
        ),
        (
            "\"m1\": Main(at: Top(\"board\"), amps: 200),",
            "",
            "0 mains",
        ),
        ("hangs_on: \"drum\"", "hangs_on: \"barrel\"", "\"barrel\""),
        ("format: 1", "format: 2", "format 2"),
        ("volts: 240.0", "volts: inf", "inf"),
        ("leg_ohm: 0.02", "leg_ohm: NaN", "NaN"),
        ("region: Us", "region: Mars", "Mars"),
    ] {
        let bad = text().replacen(from, to, 1);
        assert_ne!(bad, text(), "{from}");
        let found = problems(&bad);
        assert!(
            found.iter().any(|problem| problem.found.contains(wanted)),
            "{to}: {found:#?}"
        );
    }
}

#[test]
fn hostile_texts_end_in_a_message() {
    let big = " ".repeat(SITE_LIMIT + 1);
    assert!(problems(&big)[0].accepted.contains("bytes"));
    for bad in [
        "",
        "\0\0\0\0",
        "Site(",
        "Site()",
        "[[[[",
        "\u{feff}Site(format: 1)",
        "Site(format: 1, format: 1)",
        "👻",
    ] {
        assert!(!problems(bad).is_empty(), "{bad:?}");
    }
    for (open, close) in [("[", "]"), ("(", ")"), ("Some(", ")"), ("{\"a\":", "}")] {
        let deep = format!(
            "Site(format: {}1{})",
            open.repeat(50_000),
            close.repeat(50_000)
        );
        assert!(!problems(&deep).is_empty());
    }
    let whole = text();
    // Cut at every tenth byte: a message each time.
    for end in (0..whole.len() - 3)
        .step_by(10)
        .filter(|&end| whole.is_char_boundary(end))
    {
        assert!(!problems(&whole[..end]).is_empty(), "cut at {end}");
    }
}

#[test]
fn islands_give_places_to_maps_and_lists() {
    let text = "{\n  \"a\": 1,\n  \"b\": [1, x, 3, true],\n}";
    let mut problems = Vec::new();
    let whole = Source::new("t.ron", text)
        .island(SITE_LIMIT, &mut problems)
        .expect("small");
    let mut numbers = Vec::new();
    for (key, island) in whole.map(&mut problems) {
        if key == "a" {
            numbers.extend(island.parse::<i32>(&mut problems));
        } else {
            for item in island.list(&mut problems) {
                numbers.extend(item.parse::<i32>(&mut problems));
            }
        }
    }
    assert_eq!(numbers, [1, 1, 3]);
    let places: Vec<_> = problems
        .iter()
        .map(|problem| (problem.line, problem.path.as_str()))
        .collect();
    assert_eq!(places, [(3, "\"b\"[1]"), (3, "\"b\"[3]")], "{problems:#?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// The shipped file with bytes changed: a site or a message, never a panic.
    #[test]
    fn mutated_files_never_panic(cuts in proptest::collection::vec((0.0..1.0f64, proptest::num::u8::ANY), 1..6)) {
        let mut bytes = text().into_bytes();
        for (at, byte) in cuts {
            let at = ((bytes.len() - 1) as f64 * at) as usize;
            if byte < 128 { bytes[at] = byte } else { bytes.remove(at); }
        }
        let text = String::from_utf8_lossy(&bytes).into_owned();
        if let Err(problems) = Site::parse("mutated.ron", &text) {
            assert!(!problems.is_empty());
        }
    }
}
