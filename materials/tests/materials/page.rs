use std::path::{Path, PathBuf};

use materials::{blankets, cables, metals, standard_names, works};

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

fn data_files(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("data")
        .join(folder);
    let entries = std::fs::read_dir(folder).expect("a folder of data files");
    entries
        .map(|entry| entry.expect("readable").path())
        .collect()
}

#[test]
fn every_data_file_is_read() {
    assert_eq!(data_files("metals").len(), metals().len());
    assert_eq!(data_files("blankets").len(), blankets().len());
    assert_eq!(data_files("cables").len(), cables().len());
    assert_eq!(data_files("standards").len(), standard_names().len());
}

#[test]
fn every_work_in_the_bibliography_is_cited() {
    let folders = ["metals", "blankets", "cables", "standards", ""];
    let files = folders.iter().flat_map(|folder| data_files(folder));
    let texts: String = files
        .filter(|path| path.is_file() && !path.ends_with("sources.toml"))
        .map(|path| std::fs::read_to_string(path).expect("a text"))
        .collect();
    for key in works().keys() {
        assert!(
            texts.contains(&format!("work = \"{key}\"")),
            "no file cites {key}"
        );
    }
}
