//! Every key named in the window's sources has wording.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use faultwright::names;
use faultwright_desk::Words;
use faultwright_sim::parts::stock::articles;

fn keys(folder: &Path, found: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder)
        .expect("the sources are there")
        .flatten()
    {
        let path = entry.path();
        if path.is_dir() {
            keys(&path, found);
            continue;
        }
        let text = fs::read_to_string(&path).expect("a source file is text");
        let quoted = text.split('"').skip(1).step_by(2);
        found.extend(
            quoted
                .filter(|word| {
                    (word.starts_with("window-") || word.starts_with("debrief-text-"))
                        && !word.ends_with('-')
                        && word
                            .chars()
                            .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')
                })
                .map(str::to_owned),
        );
    }
}

/// A stock name in a list was shown as the scenario's file writes it.
#[test]
fn everything_in_the_vans_has_a_name_in_words() {
    let articles = articles();
    assert!(articles.len() > 30, "{}", articles.len());
    for article in articles {
        assert!(names::known_stock(article.id), "{}", article.id);
    }
}

#[test]
fn every_key_named_in_the_window_has_wording() {
    let mut found = BTreeSet::new();
    keys(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("src/game"),
        &mut found,
    );
    assert!(found.len() > 100, "{}", found.len());
    let words = Words::english();
    for key in found {
        let said = words.key(&key);
        assert!(!said.contains('⟨'), "no wording for '{key}'");
    }
}
