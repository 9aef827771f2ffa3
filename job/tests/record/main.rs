//! What a person may rely on when a log becomes a record.

mod accepted;
mod confirmed;
mod mutated;
mod nights;
mod of_one_file;
mod other_weld;
mod same_names;

use job::record::{RawFile, Record, RecordError, Revision, basis, record};
use readings::Mapping;
use specimens::{Card, Situation};

/// The cycle card of a situation.
fn card_of(situation: &Situation) -> String {
    let Card {
        hold_low_c,
        hold_high_c,
        hold_h,
        heating_k_h,
        cooling_k_h,
        rates_above_c,
        spread_k,
        ..
    } = &situation.card;
    let named = |judged: bool| {
        let channels = situation.channels.iter().filter(|c| c.judged == judged);
        let names: Vec<String> = channels.map(|c| format!("{:?}", c.name)).collect();
        names
    };
    let judged = named(true);
    format!(
        "[card]\nhold_min_c = {hold_low_c}\nhold_max_c = {hold_high_c}\nhold_time_h = {hold_h}\nheating_rate_k_h = {heating_k_h}\n\
         cooling_rate_k_h = {cooling_k_h}\nrate_threshold_c = {rates_above_c}\nspread_k = {spread_k}\ncontrol = [{}]\n\
         monitor = [{}]\nspare = [{}]\n",
        judged[0],
        judged[1..].join(", "),
        named(false).join(", ")
    )
}

/// The log of a situation as a plain file.
fn log_of(situation: &Situation) -> Vec<u8> {
    let plain = specimens::dialects::ALL.iter().find(|d| d.id == "d01");
    let sheets = (plain.expect("the plain dialect").write)(&situation.record()).sheets;
    sheets[0].bytes().to_vec()
}

fn recorded(card: &str, log: &[u8], said: &[&str]) -> Result<Record, RecordError> {
    let mut mapping = Mapping::default();
    for pair in said {
        mapping.choose(pair).expect("a pair");
    }
    let raw = vec![RawFile {
        name: "log.csv".into(),
        bytes: log.to_vec(),
    }];
    record(
        &basis(card, "card.toml").expect("a card"),
        raw,
        &mapping,
        Revision::default(),
    )
}
