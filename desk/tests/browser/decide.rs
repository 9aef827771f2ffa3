//! Deciding on the record page: what was kept is told where it was pressed, and the next that waits is offered.

use super::record::{JUDGED, LOG, judged};

#[tokio::test(flavor = "multi_thread")]
async fn an_answer_is_told_where_it_was_given_and_the_next_that_waits_is_offered() {
    let other = LOG.replacen("TC4", "CH 04", 1).replacen("TC5", "CH 05", 1);
    for (width, height) in [(1280, 800), (360, 740)] {
        let Some(browser) = judged(width, height, &other).await else {
            return;
        };
        let waiting = "return [...document.querySelectorAll('[data-deviation]')].map((one) => one.dataset.deviation).join('; ')";
        let two =
            "TC4 stands in the job and not in the log; TC5 stands in the job and not in the log";
        assert_eq!(browser.run(waiting).await, two);
        browser
            .run("document.querySelector('[data-deviation]').click()")
            .await;
        browser
            .run("const form = document.querySelector('#answer-for'); for (const one of form.querySelectorAll('#also input')) one.checked = false; \
                  const { reason, by } = form.elements; reason.value = 'never wired'; by.value = 'D. Moreau'; by.dispatchEvent(new Event('change', { bubbles: true }))")
            .await;
        browser.click("#answer-for button").await;
        browser
            .until(
                "the word that it is kept",
                "return document.querySelector('#answer-for .says').textContent.startsWith('Kept in the job file')",
            )
            .await;
        let seen = "const says = document.querySelector('#answer-for .says').getBoundingClientRect(); return says.top >= 0 && says.bottom <= innerHeight";
        browser.until("that word on the screen", seen).await;
        let form = "const { deviation, reason, by } = document.querySelector('#answer-for').elements; return [deviation.value, reason.value, by.value, document.querySelector('#make').elements.looked_at_by.value].join('; ')";
        assert_eq!(
            browser.run(form).await,
            "TC5 stands in the job and not in the log; ; D. Moreau; D. Moreau",
            "{width}: the next, with the name that was given"
        );
        browser.picture(&format!("record-answered-{width}")).await;
        browser.end().await;
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn an_answer_about_the_files_is_changed_and_taken_back_on_the_page() {
    let Some(browser) = judged(1280, 800, LOG).await else {
        return;
    };
    let choose = |value: &str| {
        format!(
            "document.querySelector('#given-box').open = true; document.querySelector('#given').elements.unit.value = '{value}'"
        )
    };
    browser.run(&choose("K")).await;
    browser.click("#given > button").await;
    let kelvins = "return document.querySelector('#given-box').textContent.includes('Unit of the temperatures: kelvins')";
    browser.until("the other unit", kelvins).await;
    browser.until("the findings", JUDGED).await;
    browser.run(&choose("")).await;
    browser.click("#given > button").await;
    browser
        .until(
            "the question again",
            "return document.querySelector('#answers select[name$=unit]') !== null",
        )
        .await;
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_failed_thermocouple_is_chosen_with_the_time_as_the_page_tells_it() {
    let rows = LOG.lines().enumerate().map(|(row, line)| {
        let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
        if row > 199 && cells.len() > 3 {
            cells[3] = "300.0".into();
        }
        cells.join(",") + "\n"
    });
    let log: String = rows.collect();
    let Some(browser) = judged(1280, 800, &log).await else {
        return;
    };
    browser
        .run("document.querySelector('[data-decide=TC3]').click()")
        .await;
    let form = "const { channel, from } = document.querySelector('#decide').elements; return `${channel.value} from ${from.value}`";
    let chosen = browser.run(form).await;
    let chosen = chosen.as_str().expect("a text");
    assert!(
        chosen.starts_with("TC3 from 3 h 1") && chosen.ends_with("min 59 s"),
        "just before a scan of a whole minute: {chosen}"
    );
    browser
        .run("const { reason, by } = document.querySelector('#decide').elements; reason.value = 'came off'; by.value = 'D. Moreau'")
        .await;
    browser.click("#decide button").await;
    let decided = "return document.querySelector('#decided').textContent.includes('TC3 leaves the set at 3 h 1')";
    browser.until("the decision", decided).await;
    browser.end().await;
}
