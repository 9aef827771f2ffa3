//! Answers on the record page: one for several deviations of one cause, and for files that contradict each other.

use desk::Entry;

use super::audit::audit;
use super::beside::plan_and_log;
use super::driver::Browser;

const WELD: &str = "MS-0301-FW04";

#[tokio::test(flavor = "multi_thread")]
async fn deviations_of_one_cause_are_answered_at_once_and_the_record_says_beforehand_what_stays_open()
 {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    plan_and_log(&browser);
    let folder = browser.project.folder(WELD).expect("the demo weld");
    let read = folder.job_file().expect("read");
    let left = "\n[[disposition]]\nchannel = \"TC5\"\nfrom = \"2.3 h\"\nreason = \"came off, seen hanging\"\nby = \"R. Osei\"\n";
    let text = format!("{}{left}", read.text);
    folder.save_job(&text, &read.fingerprint).expect("saved");
    browser.look(1440, 900, false).await;
    browser.open(&format!("/weld/{WELD}/record")).await;
    let offered = "return document.querySelector('[data-answers-all]') !== null";
    browser.until("the offer of one answer", offered).await;
    let open = "return document.querySelector('#stays-open').textContent";
    let before = browser.run(open).await;
    assert!(
        before
            .as_str()
            .is_some_and(|says| says.contains("2 deviations wait")),
        "{before}"
    );
    browser
        .run("document.querySelector('[data-answers-all]').click()")
        .await;
    browser.until("the form", "return document.querySelector('#answer-box').open && document.querySelectorAll('#also input:checked').length === 1").await;
    audit(&browser, "one answer for two deviations").await;
    browser
        .run("const form = document.querySelector('#answer-for').elements; form.reason.value = 'its wire was seen to hang'; form.by.value = 'R. Osei'; document.querySelector('#answer-for button').click()")
        .await;
    browser.until("that nothing waits", "return document.querySelectorAll('[data-deviation]').length === 0 && ['no deviation waits', 'questions of the rules are not answered'].every((words) => document.querySelector('#stays-open').textContent.includes(words))").await;
    let kept = folder.job_file().expect("read").text;
    assert_eq!(kept.matches("[[accepted]]").count(), 2, "{kept}");
    browser.end().await;
}

/// Minutes from 8:00 on, three thermocouples in °F.
fn log(from: usize, add: usize) -> String {
    let row = |m: usize| {
        let f = 100 + m + add;
        format!("2026-03-02 08:{m:02}:00,{f}.0,{f}.0,{f}.0\n")
    };
    let rows: String = (from..from + 20).map(row).collect();
    format!("time,TC1 (F),TC2 (F),TC3 (F)\n{rows}")
}

#[tokio::test(flavor = "multi_thread")]
async fn files_that_contradict_each_other_are_settled_by_a_choice_or_by_their_clock() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    let folder = browser.project.folder(WELD).expect("the demo weld");
    std::fs::create_dir(folder.logs_path()).expect("a folder");
    for (name, text) in [("first.csv", log(0, 0)), ("second.csv", log(15, 10))] {
        std::fs::write(folder.logs_path().join(name), text).expect("written");
    }
    browser.look(360, 740, false).await;
    browser.open(&format!("/weld/{WELD}/record")).await;
    browser
        .until(
            "the question",
            "return document.querySelector('[data-or-clock]') !== null",
        )
        .await;
    browser
        .run("const choice = document.querySelector('[data-or-clock]'); choice.value = 'clock'; choice.dispatchEvent(new Event('change', { bubbles: true }))")
        .await;
    assert_eq!(
        browser
            .run("return document.querySelector('#answers').checkValidity()")
            .await,
        false,
        "how far it was wrong is needed"
    );
    audit(&browser, "the question which file holds").await;
    browser
        .run("document.querySelector('#clock-was-wrong input').value = '600'; document.querySelector('#answers button').click()")
        .await;
    browser.until("the findings", "return document.querySelector('#answers') === null && document.querySelector('#findings .statement') !== null").await;
    let mapping = folder.mapping().expect("kept");
    assert!(mapping.contains("\"second.csv\" = \"600\""), "{mapping}");
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn one_answer_settles_the_unit_of_files_that_came_together_and_a_stray_log_is_left_out() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    let folder = browser.project.folder(WELD).expect("the demo weld");
    std::fs::create_dir(folder.logs_path()).expect("a folder");
    let silent = |from| log(from, 0).replace(" (F)", "");
    let stray = silent(0).replace("2026-03-02", "2026-03-01");
    for (name, text) in [
        ("stray.csv", stray),
        ("early.csv", silent(0)),
        ("late.csv", silent(20)),
    ] {
        std::fs::write(folder.logs_path().join(name), text).expect("written");
    }
    browser.look(360, 740, false).await;
    browser.open(&format!("/weld/{WELD}/record")).await;
    let asked = "return document.querySelectorAll('#answers select').length === 3";
    browser.until("a question for each file", asked).await;
    audit(&browser, "the same question of three files").await;
    browser
        .run("document.querySelector('[data-same]').click(); document.querySelector('#answers select').value = 'F'")
        .await;
    let shown = "return [...document.querySelectorAll('#answers select')].filter((one) => one.offsetHeight > 0).length";
    assert_eq!(browser.run(shown).await, 1, "one answer for all of them");
    browser
        .run("document.querySelector('#answers button').click()")
        .await;
    let heat = "return document.querySelector('#answers [data-key]') !== null";
    browser.until("the question of the heat", heat).await;
    audit(&browser, "whether it is one heat").await;
    browser
        .run("document.querySelector('#answers [data-key]').selected = true; document.querySelector('#answers button').click()")
        .await;
    browser.until("the findings", "return document.querySelector('#answers') === null && document.querySelector('#findings .statement') !== null").await;
    let kept = folder.mapping().expect("kept");
    let mapping = readings::Mapping::from_toml(&kept).expect("a mapping");
    for file in ["stray.csv", "early.csv", "late.csv"] {
        assert_eq!(mapping.said_of(file, "unit"), Some("F"), "{kept}");
    }
    let out: Vec<&str> = mapping.left_out().collect();
    assert_eq!(out, ["stray.csv"]);
    browser
        .run("document.querySelector('#given-box').open = true; const form = document.querySelector('#given'); form.elements['file.late.csv.unit'].value = 'C'; document.querySelector('#given > button').click()")
        .await;
    let changed = "return [...document.querySelectorAll('#given-box > p')].some((one) => one.textContent === 'Unit of the temperatures (late.csv): °C')";
    browser.until("the answer of one file", changed).await;
    browser.end().await;
}
