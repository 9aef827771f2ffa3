//! Names that a job file may use and the program knows, so that a form can offer them.

use rules::row::TableKind;

use crate::file::{CodeName, code_name};

/// Codes with a table, in the order of the data.
pub fn codes() -> Vec<&'static str> {
    let mut codes: Vec<&str> = code_tables().map(|table| table.code.as_str()).collect();
    codes.dedup();
    codes
}

/// Editions of a code that have a table, the code as people write it.
pub fn editions(code: &str) -> Vec<&'static str> {
    let code = match code_name(code, None) {
        CodeName::Known(code) => code,
        CodeName::Near(_) => return Vec::new(),
    };
    let of_code = code_tables().filter(|table| table.code == code);
    of_code
        .flat_map(|table| table.editions.iter().map(String::as_str))
        .collect()
}

/// Metals with their other names.
pub fn metals() -> Vec<&'static str> {
    let metals = materials::metals().iter();
    metals
        .flat_map(|metal| std::iter::once(&metal.name).chain(&metal.aliases))
        .map(String::as_str)
        .collect()
}

/// Blankets.
pub fn blankets() -> Vec<&'static str> {
    let blankets = materials::blankets().iter();
    blankets.map(|blanket| blanket.name.as_str()).collect()
}

/// Cables.
pub fn cables() -> Vec<&'static str> {
    let cables = materials::cables().iter();
    cables.map(|cable| cable.name.as_str()).collect()
}

fn code_tables() -> impl Iterator<Item = &'static rules::row::Table> {
    let tables = rules::shelf::tables().unwrap_or_default().iter();
    tables.filter(|table| table.kind == TableKind::Code)
}

#[cfg(test)]
mod tests {
    #[test]
    fn every_list_has_names_and_an_edition_belongs_to_its_code() {
        for list in [
            super::codes(),
            super::metals(),
            super::blankets(),
            super::cables(),
        ] {
            assert!(!list.is_empty());
        }
        for written in ["asme b31.3", "B31.3"] {
            assert!(super::editions(written).contains(&"2016"));
        }
        assert!(super::editions("no code").is_empty());
    }
}
