//! A deviation that waits for an answer is closed by a name and a reason, and both stay on the record.

use checks::Origin;
use specimens::situations;

use super::{card_of, log_of, recorded};

#[test]
fn a_cell_that_could_not_be_read_waits_until_somebody_answers() {
    let situation = situations::named("straight").expect("a situation");
    let card = card_of(&situation);
    assert!(
        recorded(&card, &log_of(&situation), &[])
            .expect("a record")
            .all_met()
    );
    let mut text = String::from_utf8(log_of(&situation)).expect("text");
    let line = text.lines().nth(400).expect("a line").to_owned();
    let harmed = line.replacen(',', ",o", 1);
    text = text.replace(&line, &harmed);
    let open = recorded(&card, text.as_bytes(), &[]).expect("a record");
    assert!(!open.all_met());
    let said = &open
        .deviations
        .iter()
        .find(|d| d.open)
        .expect("an open deviation")
        .says;
    assert!(said.contains("line 401"), "{said}");
    let answered = format!(
        "{card}[[accepted]]\ndeviation = \"one place of the log could not be read\"\nreason = \"smudge on the memory card\"\n\
         by = \"I. Varga\"\n"
    );
    let closed = recorded(&answered, text.as_bytes(), &[]).expect("a record");
    assert!(closed.all_met(), "{:?}", closed.deviations);
    let said = &closed.deviations[0].says;
    assert!(
        said.contains("I. Varga") && said.contains("smudge"),
        "{said}"
    );
}

#[test]
fn what_is_accepted_and_not_there_is_told() {
    let situation = situations::named("straight").expect("a situation");
    let card = format!(
        "{}[[accepted]]\ndeviation = \"the moon was full\"\nreason = \"so it was\"\nby = \"I. Varga\"\n",
        card_of(&situation)
    );
    let record = recorded(&card, &log_of(&situation), &[]).expect("a record");
    assert!(
        record
            .deviations
            .iter()
            .any(|d| d.says.contains("that there is not: the moon"))
    );
}

#[test]
fn taking_out_the_readings_that_broke_a_limit_waits_for_an_answer_and_what_they_broke_stays_told() {
    let situation = situations::named("overshoot-20-min").or(situations::named("overshoot-10-min"));
    let situation = situation.expect("a situation");
    let first = &situation.channels[0].name;
    let out = situation.channels.iter().map(|channel| {
        format!(
            "[[disposition]]\nchannel = {:?}\nfrom = \"0 h\"\nreason = \"reads too high\"\nby = \"I. Varga\"\n",
            channel.name
        )
    });
    let card = card_of(&situation) + &out.take(situation.channels.len() - 1).collect::<String>();
    let record = recorded(&card, &log_of(&situation), &[]).expect("a record");
    assert!(!record.all_met());
    let told: Vec<&str> = record.deviations.iter().map(|d| d.says.as_str()).collect();
    let left = told
        .iter()
        .any(|says| says.starts_with(&format!("{first} left the set")));
    assert!(left, "{told:?}");
    assert!(
        told.iter()
            .any(|says| says.starts_with("with every thermocouple kept in the set")),
        "{told:?}"
    );
}

#[test]
fn what_would_be_found_with_all_kept_is_told_by_the_thermocouples_of_the_finding_without_spares() {
    let situation = situations::named("overshoot-20-min").or(situations::named("overshoot-10-min"));
    let situation = situation.expect("a situation");
    let [judged @ .., spare] = situation.channels.as_slice() else {
        panic!("two channels at least")
    };
    let spare = format!("{:?}", spare.name);
    let card = card_of(&situation).replacen(&format!(", {spare}]"), "]", 1);
    let card = card.replacen("spare = []", &format!("spare = [{spare}]"), 1);
    assert!(card.contains(&format!("spare = [{spare}]")), "{card}");
    let kept = recorded(&card, &log_of(&situation), &[]).expect("a record");
    let out = judged[1..].iter().map(|channel| {
        format!(
            "[[disposition]]\nchannel = {:?}\nfrom = \"0 h\"\nreason = \"reads too high\"\nby = \"I. Varga\"\n",
            channel.name
        )
    });
    let out = card.clone() + &out.collect::<String>();
    let record = recorded(&out, &log_of(&situation), &[]).expect("a record");
    let prefix = "with every thermocouple kept in the set, ";
    let told = record.deviations.iter();
    let told: Vec<&str> = told.filter_map(|d| d.says.strip_prefix(prefix)).collect();
    assert!(!told.is_empty(), "{:?}", record.deviations);
    let found = kept.findings.findings.iter().map(|finding| {
        let by = kept.findings.names_for(&finding.limit.kind);
        finding.sentence(Origin::Measured, kept.basis.units, &by)
    });
    let found: Vec<String> = found.collect();
    for says in told {
        assert!(
            found.iter().any(|sentence| sentence == says),
            "{says}\n{found:#?}"
        );
    }
}

#[test]
fn a_unit_against_the_word_of_the_file_waits_for_a_name() {
    let situation = situations::named("straight").expect("a situation");
    let record = recorded(&card_of(&situation), &log_of(&situation), &["unit=F"]);
    let record = record.expect("a record");
    let open: Vec<&str> = record
        .deviations
        .iter()
        .filter(|d| d.open)
        .map(|d| d.says.as_str())
        .collect();
    assert!(
        open.iter().any(|says| says.contains("the file says °C")),
        "{open:?}"
    );
}

#[test]
fn words_that_may_mean_any_deviation_are_refused() {
    let situation = situations::named("straight").expect("a situation");
    let card = format!(
        "{}[[accepted]]\ndeviation = \"\"\nreason = \"all of them\"\nby = \"I. Varga\"\n",
        card_of(&situation)
    );
    let refused = job::record::basis(&card, "card.toml").expect_err("refused");
    assert!(refused.to_string().contains("its first words"), "{refused}");
}
