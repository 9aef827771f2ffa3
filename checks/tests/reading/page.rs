//! The published page of definitions is in step with the program.

use checks::Definitions;

const PAGE: &str = include_str!("../../../docs/reading-a-log.md");

#[test]
fn every_definition_stands_on_the_page_with_its_version_and_its_words() {
    let page: String = PAGE.split_whitespace().collect::<Vec<_>>().join(" ");
    for definition in Definitions::default().printed() {
        assert!(
            page.contains(&format!("`{}`", definition.id)),
            "{} is missing",
            definition.id
        );
        let words: String = definition
            .text
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ");
        assert!(
            page.contains(&words),
            "the page has other words for {}; wanted: {words}",
            definition.id
        );
    }
}
