//! The tour of a first visit to its end: a demo weld planned, its log judged, its record made.

use desk::Entry;

use super::audit::audit;
use super::driver::Browser;

/// Steps of the tour before the one that brings the log.
const ON_THE_WELD: usize = 5;
/// Steps on the record page.
const ON_THE_RECORD: usize = 5;

async fn next(browser: &Browser, step: usize) {
    let script = format!(
        "return document.querySelector('#tour p')?.textContent.startsWith('{step} of') ?? false"
    );
    browser.until(&format!("step {step}"), &script).await;
    browser
        .run("document.querySelector('#tour button').click()")
        .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn the_tour_goes_from_the_plan_to_the_record_and_is_never_in_the_way_again() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    browser.look(1440, 900, false).await;
    std::fs::remove_dir_all(browser.project.path().join("MS-0301-FW04")).expect("an empty project");
    browser.open("/").await;
    audit(&browser, "an empty board").await;
    browser.picture("board-empty").await;
    browser.click("#tour-begin").await;
    for step in 1..4 {
        next(&browser, step).await;
    }
    // The fourth step asks for the cycle; the tour goes on where it was when the page comes back with the plan.
    browser
        .until(
            "the fourth step",
            "return document.querySelector('#tour p').textContent.startsWith('4 of')",
        )
        .await;
    browser.run("document.querySelector('#run').click()").await;
    browser
        .until(
            "the plan",
            "return document.querySelector('#walk svg') !== null",
        )
        .await;
    browser.picture("tour-plan").await;
    // Changed and saved, the plan on the page is still of the text before, and goes on saying so.
    let flag = "return !document.querySelector('#verdict .plan-before').hidden";
    assert_eq!(browser.run(flag).await, false, "it is of this text");
    let was = browser
        .run("return document.querySelector('#file').value")
        .await;
    for (click, is_of_before) in [("#fewer", true), ("#save", true)] {
        browser
            .run(&format!("document.querySelector('{click}').click()"))
            .await;
        let settled = "return !document.querySelector('#short').hasAttribute('aria-busy') && document.querySelector('#save').disabled";
        let shown = if click == "#save" { settled } else { flag };
        browser.until(click, shown).await;
        assert_eq!(browser.run(flag).await, is_of_before, "{click}");
    }
    browser
        .run(&format!("const file = document.querySelector('#file'); file.value = {was}; file.dispatchEvent(new Event('input')); "))
        .await;
    browser
        .until(
            "the text of the plan",
            "return document.querySelector('#verdict .plan-before').hidden",
        )
        .await;
    browser.run("document.querySelector('#save').click()").await;
    browser
        .until(
            "that it is saved",
            "return document.querySelector('#saved').textContent === 'Saved.'",
        )
        .await;
    for step in 4..=ON_THE_WELD {
        next(&browser, step).await;
    }
    browser.until("the record page", "return location.pathname.endsWith('/record') && document.querySelector('#findings .statement') !== null").await;
    browser
        .until(
            "the failed thermocouple",
            "return document.querySelector('#findings').textContent.includes('detached')",
        )
        .await;
    browser.picture("tour-record").await;
    audit(&browser, "the tour on the record page").await;
    browser.run("document.querySelector('#make input').click(); document.querySelector('#make').elements.looked_at_by.value = 'R. Osei'; document.querySelector('#make button').click()").await;
    browser
        .until(
            "the record",
            "return document.querySelector('.revisions') !== null",
        )
        .await;
    for step in ON_THE_WELD + 1..=ON_THE_WELD + ON_THE_RECORD {
        next(&browser, step).await;
    }
    browser
        .until(
            "that it is over",
            "return document.querySelector('#tour') === null",
        )
        .await;
    let folder = browser.project.folder("Demo").expect("the demo weld");
    assert!(folder.record_path().join("record.pdf").is_file());
    let missing = folder.contents().missing();
    assert!(
        missing.iter().any(|missing| missing.contains("by name")),
        "{missing:?}"
    );
    for page in ["/", "/weld/Demo", "/weld/Demo/record"] {
        browser.open(page).await;
        let there = browser
            .run("return document.querySelector('#tour, #tour-begin') !== null")
            .await;
        assert_eq!(there, false, "{page}");
    }
    browser.end().await;
}
