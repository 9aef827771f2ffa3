//! With the tour open, nothing that can be reached lies under its bar, in small windows too.

use desk::Entry;

use super::beside::plan_and_log;
use super::driver::Browser;

const SIZES: [(u32, u32); 3] = [(1280, 720), (768, 1024), (360, 740)];

/// Focuses one after the other and says which of them is not in view, or has something else over its middle; what is
/// wrong at once is looked at again when the page has drawn itself.
const COVERED: &str = "return (async () => { \
    const frame = () => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))); \
    for (let was = -1, still = 0; still < 10; ) { await frame(); still = scrollY === was ? still + 1 : 0; was = scrollY; } \
    const all = document.querySelectorAll('main a[href], main button, main input, main select, main textarea, main summary, main [tabindex=\"0\"], #tour button'); \
    const name = (one) => `${one.tagName} ${one.id || one.name || one.textContent.trim().slice(0, 30)}`; \
    const fault = (one) => { \
        if (document.activeElement !== one) return `${name(one)} takes no focus`; \
        const box = one.getBoundingClientRect(); \
        const small = box.height <= innerHeight / 2; \
        const bar = document.querySelector('#tour')?.getBoundingClientRect().top ?? innerHeight; \
        if (small && !one.closest('#tour') && (box.top < -1 || box.bottom > bar + 1)) return `${name(one)}: ${Math.round(box.top)} to ${Math.round(box.bottom)}, the bar begins at ${Math.round(bar)}`; \
        const over = document.elementFromPoint((box.left + box.right) / 2, small ? (box.top + box.bottom) / 2 : Math.max(box.top, 0) + 20); \
        return over && !one.contains(over) && !over.contains(one) && !one.closest('svg') ? `${name(one)} lies under ${name(over)}` : null; \
    }; \
    const wrong = []; \
    for (const one of all) { \
        if (one.disabled || !one.checkVisibility() || one.closest('fieldset:disabled')) continue; \
        one.focus(); \
        if (fault(one)) await frame(); \
        wrong.push(fault(one)); \
    } \
    return wrong.filter(Boolean).join('; '); \
    })()";

async fn tour_on(browser: &Browser, page: &str, came: &str) {
    browser.open(page).await;
    let kept = "sessionStorage.setItem('tour', JSON.stringify({ address: '/weld/MS-0301-FW04', step: location.pathname.endsWith('record') ? 7 : 2 }))";
    browser.run(kept).await;
    browser.open(page).await;
    browser.until("the page", came).await;
    browser
        .until(
            "the tour",
            "return document.querySelector('#tour') !== null",
        )
        .await;
    browser
        .run("for (const one of document.querySelectorAll('main details')) one.open = true")
        .await;
}

#[tokio::test(flavor = "multi_thread")]
async fn everything_that_takes_the_focus_is_seen_whole_beside_the_tour() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    plan_and_log(&browser);
    let pages = [
        (
            "/weld/MS-0301-FW04/record",
            "return document.querySelectorAll('#chart .curve path').length > 5 && !document.querySelector('#chart').hasAttribute('aria-busy')",
        ),
        (
            "/weld/MS-0301-FW04",
            "return document.querySelectorAll('table.answer tbody tr').length > 5 && document.querySelector('#walk svg') !== null",
        ),
    ];
    for (width, height) in SIZES {
        browser.look(width, height, false).await;
        for (page, came) in pages {
            tour_on(&browser, page, came).await;
            let wrong = browser.run(COVERED).await;
            assert_eq!(wrong, "", "{page} at {width} x {height}");
        }
    }
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_question_and_a_refusal_are_seen_whole_beside_the_tour() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    let folder = browser
        .project
        .folder("MS-0301-FW04")
        .expect("the demo weld");
    std::fs::create_dir(folder.logs_path()).expect("a folder");
    std::fs::write(
        folder.logs_path().join("a.csv"),
        "time,TC1,TC2\n2026-03-02 08:00,20,20\n2026-03-02 08:01,21,21\n2026-03-02 08:02,22,22\n",
    )
    .expect("written");
    let came = "return document.querySelector('#answers') !== null";
    for (width, height) in SIZES {
        browser.look(width, height, false).await;
        tour_on(&browser, "/weld/MS-0301-FW04/record", came).await;
        let wrong = browser.run(COVERED).await;
        assert_eq!(wrong, "", "{width} x {height}");
        browser.offline(true).await;
        browser
            .run("const choice = document.querySelector('#answers select'); choice.value = choice.options[1].value; document.querySelector('#answers button').click()")
            .await;
        browser.until("the refusal", "return document.querySelector('#answers .says').textContent.includes('does not answer')").await;
        let seen = browser
            .run("const says = document.querySelector('#answers .says').getBoundingClientRect(); return says.top >= 0 && says.bottom <= document.querySelector('#tour').getBoundingClientRect().top + 1")
            .await;
        assert_eq!(seen, true, "the refusal at {width} x {height}");
        browser.offline(false).await;
    }
    browser.end().await;
}
