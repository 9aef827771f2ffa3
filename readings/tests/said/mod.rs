//! A file as it is read, with what a person said of it.

use readings::{Log, Mapping, Reading, read};

pub fn with(text: &str, said: &[&str]) -> Reading {
    let mut mapping = Mapping::default();
    said.iter()
        .for_each(|pair| mapping.choose(pair).expect("a pair"));
    read("log", text.as_bytes(), &mapping)
}

pub fn log(text: &str) -> Log {
    let reading = with(text, &[]);
    reading
        .log
        .unwrap_or_else(|| panic!("{:?} {:?}", reading.questions, reading.complaints))
}
