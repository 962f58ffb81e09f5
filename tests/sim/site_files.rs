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
    for (key, island) in whole.map(&mut problems).expect("a map") {
        if key == "a" {
            numbers.extend(island.parse::<i32>(&mut problems));
        } else {
            for item in island.list("a list `[value, ...]`", &mut problems) {
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

/// All problems of the shipped file in which the first `from` was replaced by `to`.
fn spoiled(from: &str, to: &str) -> (String, Vec<Problem>) {
    let whole = text();
    assert!(whole.contains(from), "{from} is not in the file");
    let bad = whole.replacen(from, to, 1);
    let found = problems(&bad);
    (bad, found)
}

#[test]
fn one_slip_gives_one_problem_whatever_refers_to_it() {
    for (from, to) in [
        ("\"k1\": Contactor(", "\"k1\": Contacter("),
        ("\"drum\": Chamber(", "\"drum\": Chambr("),
        ("\"board\": Board(", "\"board\": Bord("),
        ("\"store\": Stand(", "\"store\": Stnd("),
        (
            "\"kiln-side\": Stand(x: 4150",
            "\"kiln-side\": Stand(x: \"4150\"",
        ),
        ("\"m1\": Main(", "\"m1\": Mian("),
        ("at: Top(\"board\")", "at: Top(board)"),
        ("Slot(\"board\", 2)", "Slot(\"board\", 200)"),
        ("poles: 2, amps: 50", "poles: 3, amps: 50"),
        ("screw: M6", "screw: M7"),
        ("\"s1-box\": Steel(at: (3560", "\"s1-box\": Steel(at: (left"),
        ("spaces: 24", "spaces: 23"),
        ("amps: 60, lockable", "amp: 60, lockable"),
        ("    joints: {", "    joint: {"),
        ("hangs_on: \"drum\"", "hangs_on: \"drumm\""),
        ("\"s1\": Isolator", "\"S1\": Isolator"),
        ("(\"s1.a_out\"", "(\"s11.a_out\""),
        (
            "(\"tb1.a_out\", \"k1.a_in\")",
            "(\"tb1.a_out\", \"k1.a_inn\")",
        ),
    ] {
        let (bad, found) = spoiled(from, to);
        assert_eq!(found.len(), 1, "{to}: {found:#?}");
        assert_eq!(found[0].line, place(&bad, to).0, "{to}: {}", found[0]);
    }
}

#[test]
fn several_slips_in_one_part_are_all_told() {
    let (bad, found) = spoiled(
        "\"k1\": Contactor(at: In(\"kiln\", 120, 260), amps: 50, coil: 24)",
        "\"k1\": Contactor(at: In(\"kiln\", wide, 260), amps: lots, coil: 2.4, colour: 1)",
    );
    let told: Vec<(&str, &str)> = found
        .iter()
        .map(|problem| (problem.path.as_str(), problem.found.as_str()))
        .collect();
    assert_eq!(
        told,
        [
            ("parts.\"k1\".at[1]", "`wide`"),
            ("parts.\"k1\".amps", "`lots`"),
            ("parts.\"k1\".coil", "`2.4`"),
            ("parts.\"k1\"", "the field `colour`"),
        ]
    );
    assert_eq!((found[1].line, found[1].column), place(&bad, "lots"));
}

#[test]
fn what_was_found_is_quoted_and_what_is_accepted_is_in_the_writers_terms() {
    for (from, to, at, wanted) in [
        (
            "amps: 50, serves",
            "amps: true, serves",
            "true",
            "`true`; accepted: a number from 6 to 125 A",
        ),
        (
            "spaces: 24",
            "spaces: 24.5",
            "24.5",
            "`24.5`; accepted: a whole number from 2 to 84",
        ),
        (
            "lockable: true",
            "lockable: yes",
            "yes",
            "`yes`; accepted: true or false",
        ),
        ("region: Us", "region: 3", "3,", "`3`; accepted: `Us`"),
        (
            "size: (6400, 2600)",
            "size: 6400",
            "6400",
            "`6400`; accepted: two numbers (x, y)",
        ),
        (
            "torque: 2.75",
            "torque: heavy",
            "heavy",
            "`heavy`; accepted: a number from 0.1 to 60 N m",
        ),
        (
            "name: \"kiln-room\"",
            "name: kiln-room",
            "kiln-room,",
            "`kiln-room`; accepted: one value",
        ),
        (
            "awg: 6, earth_awg",
            "awg: 7, earth_awg",
            "7, earth_awg",
            "`7`; accepted: `4`, `6`, `8`",
        ),
        (
            "path: [(880, 640)",
            "path: [(880)",
            "(880)",
            "`(880)`; accepted: two numbers (x, y)",
        ),
        (
            "at: Top(\"board\")",
            "at: Up(\"board\")",
            "Up(",
            "`Up`; accepted: `Top(...)`",
        ),
        (
            "drives: \"k1\"",
            "drives: \"k9\"",
            "\"k9\"",
            "\"k9\"; accepted: the name of a contactor: \"k1\"",
        ),
        (
            "Site(",
            "Sit(",
            "Sit(",
            "`Sit`; accepted: `Site(name: value, ...)`",
        ),
    ] {
        let (bad, found) = spoiled(from, to);
        assert_eq!(found.len(), 1, "{to}: {found:#?}");
        let told = found[0].to_string();
        let (line, column) = place(&bad, at);
        assert!(
            told.starts_with(&format!("test.ron:{line}:{column}: ")),
            "{at}: {told}"
        );
        assert!(
            told.contains(&format!("found {wanted}")),
            "{wanted}: {told}"
        );
        for name in [
            "Raw",
            "f64",
            "u8",
            "struct",
            "enum",
            "tuple",
            "something else",
            "std",
        ] {
            assert!(
                !told.contains(name),
                "a reader does not know {name}: {told}"
            );
        }
    }
}

#[test]
fn broken_brackets_and_quotes_are_told_with_their_path() {
    for (from, to, path) in [
        ("amps: 50, serves", "amps: , serves", "parts.\"q2\".amps"),
        ("reach: 900", "reach 900", "places.\"store\""),
        ("(880, 330)", "(880 330)", "runs.\"feed\".path[1]"),
        (
            "serves: \"fan\"",
            "serves: \"fan\\q\"",
            "parts.\"q10\".serves",
        ),
    ] {
        let (_, found) = spoiled(from, to);
        assert_eq!(found.len(), 1, "{to}: {found:#?}");
        assert_eq!(found[0].path, path, "{to}: {}", found[0]);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 250, failure_persistence: None, ..ProptestConfig::default() })]

    /// The shipped sites with bytes changed, put in or taken out: a site, or messages that are whole.
    #[test]
    fn sites_with_changed_bytes_are_read_or_told(
        cuts in proptest::collection::vec((0.0..1.0f64, proptest::num::u8::ANY, 0..3u8), 1..5),
    ) {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../scenarios/sites");
        for entry in std::fs::read_dir(folder).expect("a folder") {
            let mut bytes = std::fs::read(entry.expect("an entry").path()).expect("readable");
            for &(at, byte, how) in &cuts {
                let at = ((bytes.len() - 1) as f64 * at) as usize;
                match how {
                    0 => bytes[at] = byte,
                    1 => bytes.insert(at, byte),
                    _ => { bytes.remove(at); }
                }
            }
            let text = String::from_utf8_lossy(&bytes).into_owned();
            for problem in Site::parse("changed.ron", &text).err().unwrap_or_default() {
                assert_eq!(problem.file, "changed.ron");
                assert!(problem.line >= 1 && problem.column >= 1, "{problem}");
                assert!(!problem.found.is_empty() && !problem.accepted.is_empty(), "{problem}");
                // A question mark stands for a step without a name, unless one was put into a name.
                let asked = cuts.iter().any(|&(_, byte, _)| byte == b'?');
                assert!(asked || !problem.path.contains('?'), "{problem}");
            }
        }
    }
}
