use materials::{blankets, cables, metals, standard_names};

const PAGE: &str = include_str!("../../../docs/materials.md");

#[test]
fn the_page_lists_everything_there_is() {
    let mut names: Vec<&str> = metals().iter().map(|metal| metal.name.as_str()).collect();
    names.extend(blankets().iter().map(|blanket| blanket.name.as_str()));
    names.extend(cables().iter().map(|cable| cable.name.as_str()));
    for name in names {
        assert!(
            PAGE.contains(&format!("\n| {name} |")),
            "docs/materials.md lacks {name}"
        );
    }
    for name in standard_names() {
        assert!(
            PAGE.contains(&format!("`{name}`")),
            "docs/materials.md lacks {name}"
        );
    }
}

#[test]
fn the_page_lists_no_metal_that_is_gone() {
    let table = PAGE
        .split("## Metals")
        .nth(1)
        .and_then(|rest| rest.split("**Where").next())
        .expect("a table of metals");
    let rows = table.lines().filter(|line| line.starts_with("| ")).count();
    const HEAD: usize = 1;
    assert_eq!(rows - HEAD, metals().len());
}
