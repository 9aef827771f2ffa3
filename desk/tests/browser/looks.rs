//! Every page, small and large, light and dark: audited, and kept as pictures where that is wanted.

use desk::{Entry, Passphrases};

use super::audit::audit;
use super::beside::plan_and_log;
use super::driver::Browser;

/// Name, width, height.
const SIZES: [(&str, u32, u32); 4] = [
    ("phone", 360, 740),
    ("tablet", 768, 1024),
    ("desk", 1440, 900),
    ("wall", 1920, 1080),
];

/// Every size, light and dark; where no pictures are wanted, the two between are tried once.
fn looks() -> Vec<(String, u32, u32, bool)> {
    let pictures = std::env::var_os("DESK_SCREENSHOTS").is_some();
    let sizes = SIZES.into_iter().enumerate();
    let all = sizes.flat_map(|(index, (size, width, height))| {
        let once = !pictures && index % 2 == 1;
        let themes = [(false, "light"), (true, "dark")].into_iter();
        let themes = themes.filter(move |(dark, _)| !once || *dark == (index == 3));
        themes.map(move |(dark, theme)| (format!("{size}-{theme}"), width, height, dark))
    });
    all.collect()
}

const COMPUTED: &str = "return document.querySelectorAll('table.answer tbody tr').length > 5 && document.querySelectorAll('#pictures figure').length === 2";

const CHARTED: &str = "return document.querySelectorAll('#chart .curve path').length > 5 && !document.querySelector('#chart').hasAttribute('aria-busy')";

#[tokio::test(flavor = "multi_thread")]
async fn board_and_weld_owe_nobody_anything() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    browser
        .project
        .create("MS-0301-FW05", "purpose = \"nonsense\"\n")
        .expect("made");
    for (name, width, height, dark) in looks() {
        browser.look(width, height, dark).await;
        browser.open("/").await;
        audit(&browser, &format!("board, {name}")).await;
        browser.picture(&format!("board-{name}")).await;
        browser.open("/weld/MS-0301-FW04").await;
        browser.until("the quick answer", COMPUTED).await;
        browser.picture(&format!("weld-{name}")).await;
        audit(&browser, &format!("weld, {name}")).await;
        browser
            .long_picture(&format!("weld-long-{name}"), width, dark)
            .await;
    }
    browser.look(1440, 900, false).await;
    browser.open("/weld/MS-0301-FW05").await;
    browser
        .until(
            "the faults",
            "return document.querySelectorAll('.fault:not([hidden]), #faults p').length > 1",
        )
        .await;
    audit(&browser, "a weld whose job file is refused").await;
    browser.picture("weld-refused").await;
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn record_running_and_verify_owe_nobody_anything() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    plan_and_log(&browser);
    for (name, width, height, dark) in looks() {
        browser.look(width, height, dark).await;
        browser.open("/weld/MS-0301-FW04/record").await;
        browser.until("the chart", CHARTED).await;
        audit(&browser, &format!("record, {name}")).await;
        browser.picture(&format!("record-{name}")).await;
        browser
            .run("for (const one of document.querySelectorAll('details')) one.open = true")
            .await;
        audit(&browser, &format!("record with everything open, {name}")).await;
        browser
            .long_picture(&format!("record-long-{name}"), width, dark)
            .await;
        browser.look(width, height, dark).await;
        browser.open("/weld/MS-0301-FW04/running").await;
        audit(&browser, &format!("running, {name}")).await;
        browser.picture(&format!("running-{name}")).await;
        browser.open("/verify").await;
        audit(&browser, &format!("verify, {name}")).await;
        browser.picture(&format!("verify-{name}")).await;
    }
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn the_door_turns_away_and_lets_in() {
    let known = Passphrases::of("look", "act").expect("hashed");
    // Without TLS in the test, so that the cookie travels.
    let Some(browser) = Browser::before(Entry::on_site(known, false)).await else {
        return;
    };
    for (name, width, height, dark) in looks() {
        browser.look(width, height, dark).await;
        browser.open("/").await;
        audit(&browser, "the door").await;
        browser.picture(&format!("door-{name}")).await;
    }
    browser.keys("wrong\n").await;
    browser.until("the refusal", "return document.querySelector('[role=alert]')?.textContent.includes('No such passphrase') ?? false").await;
    audit(&browser, "the door after a wrong passphrase").await;
    browser.picture("door-wrong").await;
    browser.keys("look\n").await;
    browser
        .until(
            "the board",
            "return document.querySelector('h1')?.textContent === 'Welds'",
        )
        .await;
    let may = browser
        .run("return document.querySelector('#new-weld') === null")
        .await;
    assert_eq!(may, true, "who looks is offered nothing to do");
    browser.open("/weld/MS-0301-FW04").await;
    browser
        .until(
            "the drawing",
            "return document.querySelectorAll('svg.stage path').length > 10",
        )
        .await;
    assert_eq!(browser.run("return document.querySelector('#save') === null && document.querySelector('fieldset').disabled").await, true);
    browser.click("#leave").await;
    browser
        .until("the door", "return location.pathname === '/enter'")
        .await;
    browser.end().await;
}
