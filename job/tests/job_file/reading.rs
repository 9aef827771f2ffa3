//! A procedure may set every definition of how a log is read.

use crate::demos::DEMOS;

#[test]
fn every_definition_can_be_set_and_is_printed_as_it_was_set() {
    let text = DEMOS[1].1.replace(
        "[surroundings]",
        "[reading]\nhold_counts = \"total\"\nrate_window = \"30 min\"\nrate_windows_beside = [\"10 min\", \"1 h\"]\n\
         loss_depth_k = 12\nloss_time = \"7 min\"\ngap_factor = 3\nfilter_readings = 3\nremoval = \"with_evidence\"\n\
         interruption = \"new_attempt\"\nsettled_spread_binds = true\nfewest_thermocouples = 2\nhold_allowance_k = 1\n\
         [reading.failures]\njump = \"22 K\"\ndrift_rate_k_h = 9\nrange_high_c = 1200\n[surroundings]",
    );
    let job = job::read(&text, "job.toml").expect("a job");
    let printed: Vec<String> = job.reading.printed().into_iter().map(|d| d.text).collect();
    let printed = printed.join(" ");
    for words in [
        "All runs of all attempts together bind",
        "slope over 30 min (its window), with 10 and 60 min beside it",
        "Further than 12 K below for longer than 7 min",
        "longer than 3 times",
        "running median of 3 readings",
        "from the first evidence on",
        "With fewer than 2 in the soak band",
        "1 K wider and narrower",
        "jumps by 22 K",
        "more than 9 K/h",
        "between -50 and 1200 °C",
    ] {
        assert!(printed.contains(words), "{words}: {printed}");
    }
}

#[test]
fn a_definition_out_of_range_is_refused_with_both_numbers() {
    let text = DEMOS[1].1.replace(
        "[surroundings]",
        "[reading]\nrate_window = \"9 h\"\n[surroundings]",
    );
    let refusal = job::read(&text, "job.toml")
        .expect_err("refused")
        .to_string();
    assert!(
        refusal.contains("9 h") && refusal.contains("0.05 to 4"),
        "{refusal}"
    );
}
