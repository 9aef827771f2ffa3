//! Turns are moved, and what came of it stands beside what caused it.

use desk::Entry;

use super::audit::audit;
use super::driver::Browser;

const RESTED: &str = "return document.querySelectorAll('table.answer tbody tr').length > 5 && !document.querySelector('#rest').hasAttribute('aria-busy')";

/// The middles of all turns, from the file.
const TURNS: &str = "return [...document.querySelectorAll('[data-turn]')].map((one) => Number(one.querySelector('circle').getAttribute('cx')))";

async fn opened(width: u32, height: u32) -> Option<Browser> {
    let browser = Browser::before(Entry::at_the_machine()).await?;
    browser.look(width, height, false).await;
    browser.open("/weld/MS-0301-FW04").await;
    browser.until("the quick answer", RESTED).await;
    Some(browser)
}

#[tokio::test(flavor = "multi_thread")]
async fn what_became_better_or_worse_stands_beside_the_buttons_with_its_reason() {
    let Some(browser) = opened(1440, 900).await else {
        return;
    };
    for (width, height) in [(1440, 900), (360, 740)] {
        browser.look(width, height, false).await;
        browser.open("/weld/MS-0301-FW04").await;
        browser.until("the quick answer", RESTED).await;
        browser
            .run("document.querySelector('#fewer').click()")
            .await;
        browser.until("the comparison", "return /better|worse/.test(document.querySelector('#short').textContent) && document.querySelector('#short .because') !== null").await;
        let says = browser
            .run("return document.querySelector('#short').textContent")
            .await;
        let says = says.as_str().expect("words");
        assert!(
            says.contains("current +") && says.contains("Fewer turns make less field"),
            "{says}"
        );
        let far = browser
            .run("document.querySelector('#fewer').scrollIntoView({ block: 'center' }); \
                  return document.querySelector('#short').getBoundingClientRect().top - document.querySelector('#fewer').getBoundingClientRect().bottom")
            .await;
        let far = far.as_f64().expect("a distance");
        // Beside it where there is room, else below.
        assert!(
            (-160.0..160.0).contains(&far),
            "{width}: {far} px below the button"
        );
        assert_eq!(
            browser
                .run("return document.querySelector('#short-says').getAttribute('role')")
                .await,
            "status",
            "it is read aloud when it comes"
        );
        browser
            .run("document.querySelector('#short-all').click()")
            .await;
        browser.until("the table", "const box = document.querySelector('table.answer').getBoundingClientRect(); return box.top >= 0 && box.top < innerHeight").await;
        audit(&browser, "a compared weld").await;
    }
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_turn_stops_where_it_touches_its_neighbor_by_keys_and_by_hand() {
    let Some(browser) = opened(1440, 900).await else {
        return;
    };
    let gap = "const all = [...document.querySelectorAll('[data-turn] circle')].map((one) => [Number(one.getAttribute('cx')), Number(one.getAttribute('r'))]); \
               return Math.abs(all[1][0] - all[0][0]) / (2 * all[0][1])";
    let touches =
        "return document.querySelector('#turns-says').textContent.includes('touches turn')";
    browser
        .run("document.querySelector('[data-turn=\"0\"]').focus()")
        .await;
    browser
        .run("for (let i = 0; i < 60; i += 1) document.querySelector('[data-turn=\"0\"]').dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight', shiftKey: true, bubbles: true }))")
        .await;
    browser.until("the contact in words", touches).await;
    let by_keys = browser.run(gap).await.as_f64().expect("a gap");
    assert!((0.999..1.02).contains(&by_keys), "{by_keys} cables apart");
    browser.until("the file that can be used", "return document.querySelector('#file').value.includes('[[coil.section]]') && document.querySelector('#stale').hidden && document.querySelector('#faults').textContent === ''").await;
    browser.until("the quick answer", RESTED).await;
    // Far past the neighbor with the mouse: it stays this side of it.
    browser.open("/weld/MS-0301-FW04").await;
    browser.until("the quick answer", RESTED).await;
    let before = browser.run(TURNS).await;
    browser
        .run("const svg = document.querySelector('svg.stage'); const box = svg.getBoundingClientRect(); \
              const at = document.querySelector('[data-turn=\"0\"] circle').getBoundingClientRect(); const y = (at.top + at.bottom) / 2; \
              svg.setPointerCapture = () => {}; \
              const send = (kind, x) => svg.dispatchEvent(new PointerEvent(kind, { clientX: x, clientY: y, pointerId: 1, bubbles: true })); \
              send('pointerdown', (at.left + at.right) / 2); send('pointermove', box.right - 80); send('pointerup', box.right - 80)")
        .await;
    browser.until("the contact in words", touches).await;
    let by_hand = browser.run(gap).await.as_f64().expect("a gap");
    assert!((0.999..1.02).contains(&by_hand), "{by_hand} cables apart");
    let after = browser.run(TURNS).await;
    let [was, is] = [&before[1], &after[1]].map(|px| px.as_f64().expect("a place"));
    assert!(
        (was - is).abs() < 0.5,
        "the neighbor stays: {was} px, {is} px"
    );
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn the_cable_comes_no_nearer_than_the_blanket_and_leaving_asks_first() {
    let Some(browser) = opened(1440, 900).await else {
        return;
    };
    let leaves = "const asked = new Event('beforeunload', { cancelable: true }); dispatchEvent(asked); return !asked.defaultPrevented";
    assert_eq!(browser.run(leaves).await, true, "nothing was changed yet");
    let height = "return Number(document.querySelector('svg.stage').getAttribute('height'))";
    let before = browser.run(height).await;
    browser
        .run(
            "const slider = document.querySelector('#standoff'); slider.value = slider.max; \
              slider.dispatchEvent(new Event('input', { bubbles: true }))",
        )
        .await;
    assert_eq!(
        browser.run(height).await,
        before,
        "in hand, the drawing keeps its height"
    );
    browser
        .run("const slider = document.querySelector('#standoff'); slider.value = 0; \
              for (const kind of ['input', 'change']) slider.dispatchEvent(new Event(kind, { bubbles: true }))")
        .await;
    browser.until("the blanket", "return document.querySelector('#standoff-says').textContent.includes('on the blanket')").await;
    browser
        .until(
            "the change",
            "return document.querySelector('#file').value.includes('[[coil.section]]')",
        )
        .await;
    assert_eq!(
        browser.run(leaves).await,
        false,
        "a change that is not saved"
    );
    // While the answer is on its way, what stood there does not stand for it.
    browser.until("the quick answer", "return document.querySelector('#short-says').textContent !== '' && !document.querySelector('#short').hasAttribute('aria-busy')").await;
    browser.slow(1500).await;
    browser
        .run("document.querySelector('#fewer').click()")
        .await;
    browser
        .until(
            "that it is being computed",
            "return document.querySelector('#short-says').textContent === 'Computing the answer …'",
        )
        .await;
    browser.slow(0).await;
    browser.until("the answer", "return document.querySelector('#short .moved') !== null && !document.querySelector('#short').hasAttribute('aria-busy')").await;
    browser.open("/weld/MS-0301-FW04").await;
    browser.until("the quick answer", RESTED).await;
    // Typed, and the field not left yet.
    browser
        .run("const field = document.querySelector('#f-identification-line'); field.closest('details').open = true; field.focus(); field.value = 'another line'")
        .await;
    assert_eq!(browser.run(leaves).await, false, "what is being typed");
    browser
        .run("document.activeElement.value = document.activeElement.dataset.shown")
        .await;
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_coil_beside_the_weld_says_what_it_needs_where_the_turns_are_moved() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    let turns: Vec<cycle::setup::Turn> = [400.0, 425.0]
        .map(|axial| cycle::setup::Turn {
            axial: quantity::Millimeters::from_mm(axial),
            standoff: quantity::Millimeters::from_mm(50.8),
        })
        .to_vec();
    let folder = browser.project.folder("MS-0301-FW04").expect("there");
    let read = folder.job_file().expect("read");
    let text = job::edit::set_turns(&read.text, &turns).expect("set");
    folder.save_job(&text, &read.fingerprint).expect("saved");
    browser.look(1440, 900, false).await;
    browser.open("/weld/MS-0301-FW04").await;
    browser.until("the words", "return document.querySelector('#short').textContent.includes('No current was found') && document.querySelector('#short').textContent.includes('over the heated band')").await;
    audit(&browser, "a coil that holds nothing").await;
    // The file itself is sound, and nothing says otherwise.
    assert_eq!(
        browser
            .run("return document.querySelector('#stale').hidden")
            .await,
        true
    );
    browser
        .run("document.querySelector('#propose').click()")
        .await;
    browser.until("whose turns they are", "return document.querySelector('#turns-whose').textContent.includes('by habit; the plan proposes its own') && document.querySelector('#turns-will').textContent.includes('One more or less spreads all turns')").await;
    browser.until("the quick answer", RESTED).await;
    browser.until("that it is over", "return document.querySelector('.failed') === null && !document.querySelector('#short').textContent.includes('No current')").await;
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn the_drawing_stays_in_view_as_a_strip_and_what_is_below_keeps_its_place() {
    let Some(browser) = opened(1366, 768).await else {
        return;
    };
    for (width, height) in [(1366, 768), (360, 740)] {
        browser.look(width, height, false).await;
        browser.open("/weld/MS-0301-FW04").await;
        browser.until("the quick answer", RESTED).await;
        let long = "return document.documentElement.scrollHeight";
        let whole = browser.run(long).await.as_f64().expect("a height");
        browser.run("scrollTo(0, 1400)").await;
        browser.until("the strip", "return document.querySelector('#stage').classList.contains('strip') && document.querySelector('#stage').getBoundingClientRect().top === 0").await;
        let folded = browser.run(long).await.as_f64().expect("a height");
        assert!(
            (whole - folded).abs() <= 1.0,
            "{whole} px, folded {folded} px"
        );
        let part = browser
            .run("return document.querySelector('#stage').offsetHeight / innerHeight")
            .await;
        let part = part.as_f64().expect("a part");
        assert!(part < 0.4, "{width}: the strip takes {part} of the screen");
        let seen = browser
            .run("return document.querySelectorAll('#stage [data-turn]').length > 5 && document.querySelector('#short').getBoundingClientRect().bottom <= innerHeight")
            .await;
        assert_eq!(seen, true, "{width}: turns and the short answer");
        audit(&browser, "a weld with its drawing folded").await;
        browser.run("scrollTo(0, 0)").await;
        browser
            .until(
                "the whole drawing",
                "return !document.querySelector('#stage').classList.contains('strip')",
            )
            .await;
    }
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_turn_is_moved_by_buttons_where_a_finger_is_broader_than_it() {
    let Some(browser) = opened(360, 740).await else {
        return;
    };
    assert_eq!(
        browser
            .run("return document.querySelector('#one-turn').hidden")
            .await,
        true,
        "no turn is in hand yet"
    );
    browser
        .run("document.querySelector('[data-turn=\"3\"]').focus()")
        .await;
    let says = "return document.querySelector('#one-turn-says').textContent";
    let before = browser.run(says).await;
    assert!(before.as_str().expect("words").starts_with("Turn 4 of "));
    let lowest = browser
        .run("return Math.min(...[...document.querySelectorAll('#one-turn button')].map((one) => one.offsetHeight))")
        .await;
    assert!(lowest.as_f64().expect("px") >= 44.0, "{lowest}");
    browser
        .run("for (let i = 0; i < 6; i += 1) document.querySelector('[data-move=\"1\"]').click()")
        .await;
    browser
        .until(
            "the file",
            "return document.querySelector('#file').value.includes('[[coil.section]]')",
        )
        .await;
    browser.until("the quick answer", RESTED).await;
    assert_ne!(browser.run(says).await, before);
    let turns = "return document.querySelectorAll('[data-turn]').length";
    let count = browser.run(turns).await.as_u64().expect("a count");
    // All of them: what was done stands in words, every gap is as much smaller, and the middle stays.
    let span = "const at = [...document.querySelectorAll('[data-turn] circle')].map((one) => Number(one.getAttribute('cx'))); return [at[0] + at.at(-1), Math.abs(at[0] - at.at(-1)) / at.length]";
    let wide = browser.run(span).await;
    browser
        .run("document.querySelector('#closer').click()")
        .await;
    let words = browser
        .run("return document.querySelector('#turns-says').textContent")
        .await;
    let words = words.as_str().expect("words");
    assert!(
        words.starts_with(&format!("{count} turns, ")) && words.contains(" in from first to last."),
        "{words}"
    );
    let narrow = browser.run(span).await;
    let px = |of: &serde_json::Value, at: usize| of[at].as_f64().expect("px");
    assert!(px(&narrow, 1) < px(&wide, 1), "{wide} {narrow}");
    assert!(
        (px(&narrow, 0) - px(&wide, 0)).abs() < 1.0,
        "{wide} {narrow}"
    );
    browser
        .run("for (let i = 0; i < 60; i += 1) document.querySelector('#closer').click()")
        .await;
    browser
        .until(
            "the contact in words",
            "return document.querySelector('#turns-says').textContent.includes('touches turn')",
        )
        .await;
    browser.until("a file that can be used", "return document.querySelector('#stale').hidden && document.querySelector('#faults').textContent === '' && !document.querySelector('#short').hasAttribute('aria-busy')").await;
    browser.run("document.querySelector('#back').click()").await;
    browser.until("the saved turns", "return document.querySelector('#turns-says').textContent === '' && document.querySelector('#save-here').hidden && !document.querySelector('#short').hasAttribute('aria-busy')").await;
    browser
        .run("document.querySelector('[data-turn=\"3\"]').focus()")
        .await;
    let count = browser.run(turns).await.as_u64().expect("a count");
    browser
        .run("document.querySelector('#take-turn').click(); document.querySelector('#take-turn').click()")
        .await;
    browser
        .until(
            "one less",
            &format!(
                "return document.querySelectorAll('[data-turn]').length === {}",
                count - 1
            ),
        )
        .await;
    browser
        .until(
            "the answer",
            "return !document.querySelector('#short').hasAttribute('aria-busy')",
        )
        .await;
    assert_eq!(
        browser.run(turns).await.as_u64(),
        Some(count - 1),
        "a second press takes no other"
    );
    let in_hand = "return !document.querySelector('#one-turn').hidden || document.querySelector('.turn.chosen') !== null";
    assert_eq!(browser.run(in_hand).await, false, "nothing is in hand");
    browser.end().await;
}
