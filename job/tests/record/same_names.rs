//! A name of a card that fits two columns of a log is asked about; neither of them is taken.

use job::record::RecordError;
use specimens::situations;

use super::{card_of, log_of, recorded};

#[test]
fn a_name_that_two_columns_carry_waits_for_an_answer() {
    let situation = situations::named("straight").expect("a situation");
    let card = card_of(&situation);
    let [first, second] = [0, 1].map(|place: usize| situation.channels[place].name.clone());
    let text = String::from_utf8(log_of(&situation)).expect("text");
    let (head, rows) = text.split_once('\n').expect("a head");
    let text = format!("{}\n{rows}", head.replace(&second, &first));
    let refused = recorded(&card, text.as_bytes(), &[]).err();
    let told = refused
        .as_ref()
        .map(ToString::to_string)
        .unwrap_or_default();
    assert!(
        matches!(refused, Some(RecordError::SeveralFit { .. })),
        "{told}"
    );
    let again = format!("{first} #2");
    assert!(told.contains(&again) && told.contains("name."), "{told}");
    let answer = format!("name.{again}={second}");
    let record = recorded(&card, text.as_bytes(), &[&answer]).expect("a record");
    assert!(record.matched.missing.is_empty());
}
