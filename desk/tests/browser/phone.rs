//! Every page on a phone.

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

async fn open_everything(browser: &Browser) {
    browser
        .run("for (const one of document.querySelectorAll('details')) one.open = true")
        .await;
}
