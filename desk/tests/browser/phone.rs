//! Every page on a phone, and on paper.

use desk::{Entry, Passphrases};

use super::beside::plan_and_log;
use super::driver::Browser;

/// How much wider than the phone the page is, and each table or list that is wider than its place. A grid of more than
/// eight columns may be: it scrolls in its own box.
const TOO_WIDE: &str = "\
    const over = document.documentElement.scrollWidth - innerWidth; \
    const wrong = over > 0 ? [`the page by ${over} px`] : []; \
    for (const one of document.querySelectorAll('main table, main ul, main ol, main form')) \
        if (one.getBoundingClientRect().width > one.parentElement.clientWidth + 1 && !(one.closest('.wide') && one.tHead?.rows[0].cells.length > 8)) \
            wrong.push(`${one.tagName} ${one.textContent.trim().slice(0, 30)}`); \
    return wrong.join('; ')";

async fn fits(browser: &Browser, what: &str) {
    let wrong = browser.run(TOO_WIDE).await;
    assert_eq!(wrong, "", "{what} is wider than a phone");
}

#[tokio::test(flavor = "multi_thread")]
async fn nothing_is_wider_than_a_phone_of_360_px() {
    let known = Passphrases::of("look", "act").expect("hashed");
    // Without TLS in the test, so that the cookie travels.
    let Some(browser) = Browser::before(Entry::on_site(known, false)).await else {
        return;
    };
    plan_and_log(&browser);
    browser.look(360, 740, false).await;
    browser.open("/").await;
    fits(&browser, "the door").await;
    browser.keys("act\n").await;
    browser
        .until(
            "the board",
            "return document.querySelector('.board') !== null",
        )
        .await;
    fits(&browser, "the board").await;
    browser.open("/weld/MS-0301-FW04").await;
    browser
        .until("the weld", "return document.querySelectorAll('table.answer tbody tr').length > 5 && document.querySelector('#walk svg') !== null")
        .await;
    open_everything(&browser).await;
    fits(&browser, "the weld").await;
    browser.open("/weld/MS-0301-FW04/record").await;
    browser
        .until(
            "the findings",
            "return document.querySelector('#findings .statement') !== null",
        )
        .await;
    open_everything(&browser).await;
    fits(&browser, "the record").await;
    for page in ["/weld/MS-0301-FW04/running", "/verify"] {
        browser.open(page).await;
        fits(&browser, page).await;
    }
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_planned_weld_begins_folded_on_a_phone_and_each_part_is_a_press_away() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    plan_and_log(&browser);
    let came = "return document.querySelectorAll('table.answer tbody tr').length > 5 && document.querySelector('#walk svg') !== null";
    browser.look(360, 740, false).await;
    browser.open("/weld/MS-0301-FW04").await;
    browser.until("the weld", came).await;
    let screens = browser
        .run("return document.documentElement.scrollHeight / innerHeight")
        .await;
    let screens = screens.as_f64().expect("a number");
    // Unfolded it is some 35.
    assert!(screens < 15.0, "{screens} screens");
    let bands = "[...document.querySelectorAll('#needs summary')].find((one) => one.textContent.startsWith('Bands'))";
    browser.run(&format!("{bands}.click()")).await;
    assert_eq!(
        browser
            .run(&format!(
                "return {bands}.parentElement.querySelector('table').checkVisibility()"
            ))
            .await,
        true
    );
    for jump in ["needs", "wrap", "course", "went", "proven"] {
        browser
            .run(&format!(
                "document.querySelector('nav.jumps a[href=\"#{jump}-heading\"]').click()"
            ))
            .await;
        let seen = format!(
            "const box = document.querySelector('#{jump}-heading').getBoundingClientRect(); return box.top >= 0 && box.bottom <= innerHeight"
        );
        browser.until(jump, &seen).await;
    }
    browser.look(1440, 900, false).await;
    browser.open("/weld/MS-0301-FW04").await;
    browser.until("the weld", came).await;
    assert_eq!(
        browser
            .run("return document.querySelectorAll('#needs details').length")
            .await,
        0,
        "where there is room, all of it is seen"
    );
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_printed_record_page_keeps_names_and_definitions_and_loses_what_is_pressed() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    plan_and_log(&browser);
    browser.look(794, 1123, true).await;
    browser.open("/weld/MS-0301-FW04/record").await;
    browser
        .until(
            "the findings",
            "return document.querySelector('#findings .statement') !== null",
        )
        .await;
    browser.print().await;
    let seen = |selector: &str| {
        let script = format!(
            "return [...document.querySelectorAll({selector:?})].filter((one) => one.checkVisibility() && one.getBoundingClientRect().height > 0).length"
        );
        async { browser.run(&{ script }).await }
    };
    assert_eq!(
        seen("#findings th button[data-channel]").await,
        20,
        "names of both tables"
    );
    assert_ne!(seen("#definitions dd").await, 0, "definitions");
    assert_ne!(
        seen("details:has(#names) > p").await,
        0,
        "which thermocouples the log has"
    );
    assert_eq!(
        seen("form, .tools, #drop, input, [data-show]").await,
        0,
        "nothing to press"
    );
    let ground = browser
        .run("return getComputedStyle(document.documentElement).backgroundColor")
        .await;
    assert_eq!(
        ground, "rgb(255, 255, 255)",
        "white paper, however dark the screen was"
    );
    assert_eq!(
        browser
            .run("return document.documentElement.scrollWidth <= innerWidth")
            .await,
        true
    );
    browser.end().await;
}

async fn open_everything(browser: &Browser) {
    browser
        .run("for (const one of document.querySelectorAll('details')) one.open = true")
        .await;
}
