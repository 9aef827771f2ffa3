//! Main paths, with a mouse, with a keyboard alone, and with a connection that drops.

use std::time::Duration;

use desk::Entry;

use super::driver::{Browser, DEMO};

const RESTED: &str = "return document.querySelectorAll('table.answer tbody tr').length > 5 && !document.querySelector('#rest').hasAttribute('aria-busy')";

/// The step of a turn in a job in inches; the first one goes to the next sixteenth only.
const SIXTEENTH_MM: f64 = 25.4 / 16.0;

#[tokio::test(flavor = "multi_thread")]
async fn a_weld_is_changed_and_saved_and_says_what_became_better() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    browser.look(1440, 900, false).await;
    browser.open("/weld/MS-0301-FW04").await;
    browser.until("the quick answer", RESTED).await;
    browser.fill("blanket.thickness", "60 mm").await;
    browser.until("a changed answer", "return [...document.querySelectorAll('table.answer td:nth-child(3)')].some((td) => /[+−]/.test(td.textContent))").await;
    assert_eq!(
        browser
            .run("return document.querySelector('#save').disabled")
            .await,
        false
    );
    browser.click("#save").await;
    browser
        .until(
            "saved",
            "return document.querySelector('#saved').textContent === 'Saved.'",
        )
        .await;
    let kept = browser
        .project
        .folder("MS-0301-FW04")
        .expect("there")
        .job_file()
        .expect("read")
        .text;
    assert_eq!(job::edit::get(&kept, "blanket.thickness"), "60 mm");
    let changed = DEMO
        .lines()
        .zip(kept.lines())
        .filter(|(old, new)| old != new)
        .count();
    assert_eq!(changed, 1, "comments and everything else stay");
    // A refusal stands beside its field.
    browser.fill("side[1].wall", "9").await;
    browser
        .until(
            "the refusal",
            "return !document.querySelector('#f-side-1--wall-fault').hidden",
        )
        .await;
    assert_eq!(
        browser
            .run("return document.querySelector('#f-side-1--wall').getAttribute('aria-invalid')")
            .await,
        "true"
    );
    browser.picture("weld-fault").await;
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_turn_is_moved_by_keys_alone() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    browser.look(1440, 900, false).await;
    browser.open("/weld/MS-0301-FW04").await;
    browser
        .until(
            "the turns",
            "return document.querySelectorAll('[data-turn]').length > 2",
        )
        .await;
    browser.until("the quick answer", RESTED).await;
    // From the top of the page, with the tab key, to the first turn.
    browser.run("document.querySelector('.skip').focus()").await;
    for _ in 0..12 {
        if browser
            .run("return document.activeElement.dataset.turn === '0'")
            .await
            == true
        {
            break;
        }
        browser.keys("\u{e004}").await;
    }
    let before = browser
        .run("return Number(document.activeElement.getAttribute('aria-valuenow'))")
        .await;
    browser.keys("\u{e012}\u{e012}\u{e012}").await;
    browser
        .until(
            "the file with its turns",
            "return document.querySelector('#file').value.includes('[[coil.section]]')",
        )
        .await;
    browser.until("the quick answer", RESTED).await;
    let after = browser.run("return Number(document.querySelector('[data-turn=\"0\"]').getAttribute('aria-valuenow'))").await;
    let [before, after] = [before, after].map(|mm| mm.as_f64().expect("a place"));
    let moved_mm = before - after;
    assert!(
        (moved_mm - 3.0 * SIXTEENTH_MM).abs() <= SIXTEENTH_MM,
        "{moved_mm} mm"
    );
    assert_eq!(
        browser
            .run("return document.activeElement.dataset.turn")
            .await,
        "0",
        "the focus stays on the turn"
    );
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn late_answers_take_nothing_back() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    browser.look(1440, 900, false).await;
    browser.open("/weld/MS-0301-FW04").await;
    browser.until("the quick answer", RESTED).await;
    browser.slow(300).await;
    let place =
        "return Number(document.querySelector('[data-turn=\"0\"]').getAttribute('aria-valuenow'))";
    let before = browser.run(place).await.as_f64().expect("a place");
    browser
        .run("document.querySelector('[data-turn=\"0\"]').focus()")
        .await;
    // Slower than a key repeats and faster than an answer comes, so that answers fall between the presses.
    for _ in 0..8 {
        browser.keys("\u{e012}").await;
        tokio::time::sleep(Duration::from_millis(120)).await;
    }
    browser.fill("weld.cap_width", "21 mm").await;
    browser.fill("blanket.thickness", "60 mm").await;
    browser.fill("coil.lead_length", "7 m").await;
    browser
        .until(
            "the last change",
            "return document.querySelector('#file').value.includes('7 m')",
        )
        .await;
    browser.until("the quick answer", RESTED).await;
    let after = browser.run(place).await.as_f64().expect("a place");
    let moved_mm = before - after;
    assert!(
        (moved_mm - 8.0 * SIXTEENTH_MM).abs() <= SIXTEENTH_MM,
        "{moved_mm} mm"
    );
    for typed in ["21 mm", "60 mm"] {
        let script = format!("return document.querySelector('#file').value.includes({typed:?})");
        assert_eq!(browser.run(&script).await, true, "{typed}");
    }
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_dropped_connection_and_a_faster_editor_lose_nothing() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    browser.look(1440, 900, false).await;
    browser.open("/weld/MS-0301-FW04").await;
    browser.until("the quick answer", RESTED).await;
    browser.fill("weld.cap_width", "21 mm").await;
    browser
        .until(
            "the change",
            "return document.querySelector('#file').value.includes('21 mm')",
        )
        .await;
    browser.until("the quick answer", RESTED).await;
    browser.offline(true).await;
    browser.fill("blanket.thickness", "55 mm").await;
    let no_answer =
        "return document.querySelector('#saved').textContent.includes('does not answer')";
    browser.until("plain words", no_answer).await;
    browser.click("#save").await;
    browser.until("plain words", no_answer).await;
    assert_eq!(
        browser
            .run("return document.querySelector('#file').value.includes('21 mm')")
            .await,
        true
    );
    browser.offline(false).await;
    let folder = browser.project.folder("MS-0301-FW04").expect("there");
    let read = folder.job_file().expect("read");
    folder
        .save_job(&format!("{DEMO}# by somebody else\n"), &read.fingerprint)
        .expect("saved");
    browser.click("#save").await;
    browser
        .until(
            "what could not be asked before",
            "return document.querySelector('#file').value.includes('55 mm')",
        )
        .await;
    browser
        .until(
            "the warning",
            "return document.querySelector('#saved').textContent.includes('Somebody else')",
        )
        .await;
    browser.picture("weld-conflict").await;
    browser.click("#saved button").await;
    browser.until("both versions", "return document.querySelector('.mine textarea')?.value.includes('21 mm') && document.querySelector('#file').value.includes('somebody else')").await;
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_cycle_is_stopped_and_then_computed_and_walked_through() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    browser.look(1440, 900, false).await;
    browser.open("/weld/MS-0301-FW04").await;
    browser.until("the quick answer", RESTED).await;
    browser.click("#run").await;
    browser
        .until(
            "a run that can be stopped",
            "return !document.querySelector('#stop').hidden",
        )
        .await;
    browser.click("#stop").await;
    browser
        .until(
            "stopped",
            "return document.querySelector('#run-says').textContent.startsWith('Stopped')",
        )
        .await;
    assert!(
        browser
            .project
            .folder("MS-0301-FW04")
            .expect("there")
            .plan_file("plan.json")
            .is_none()
    );
    browser.click("#run").await;
    browser
        .until(
            "the plan",
            "return document.querySelector('#walk svg') !== null",
        )
        .await;
    browser.until("the quick answer", RESTED).await;
    let walk = "const slider = document.querySelector('#walk input'); slider.value = slider.max / 2; \
                slider.dispatchEvent(new Event('input', { bubbles: true })); \
                return document.querySelector('#walk .now').textContent";
    assert!(
        browser
            .run(walk)
            .await
            .as_str()
            .expect("words")
            .contains(" h ")
    );
    browser
        .run("document.querySelector('#course-heading').scrollIntoView()")
        .await;
    browser.picture("course").await;
    super::audit::audit(&browser, "a planned weld").await;
    browser.long_picture("course-long", 1440, false).await;
    // The hold alone: lines that lie on each other over the whole cycle come apart.
    browser
        .run("document.querySelector('#walk .tools button').click()")
        .await;
    let hold = browser
        .run("const slider = document.querySelector('#walk input'); \
              const degrees = [...document.querySelectorAll('svg.walk text[text-anchor=end]')].map((one) => Number(one.textContent)); \
              return [Number(slider.min), Number(slider.max), Math.min(...degrees), Number(slider.value)]")
        .await;
    let [from_s, to_s, lowest_f, now_s]: [f64; 4] =
        serde_json::from_value(hold).expect("four numbers");
    assert!(
        from_s > 3600.0 && to_s - from_s < 2.0 * 3600.0,
        "{from_s} s to {to_s} s"
    );
    assert!((from_s..=to_s).contains(&now_s), "{now_s} s");
    assert!(lowest_f > 900.0, "the scale begins at {lowest_f} °F");
    browser.picture("course-hold").await;
    browser.look(360, 740, true).await;
    super::audit::audit(&browser, "a planned weld on a phone").await;
    browser.long_picture("course-long-phone", 360, true).await;
    browser.look(1440, 900, false).await;
    browser.open("/").await;
    browser
        .until(
            "planned",
            "return document.body.innerText.includes('planned')",
        )
        .await;
    browser.end().await;
}
