//! The record page where a weld has a plan: the plan, the power and the joint beside what was measured.

use std::ops::ControlFlow;

use desk::Entry;
use job::document::plan_files;
use job::plan::plan;

use super::audit::audit;
use super::driver::{Browser, DEMO};

const DEMO_LOG: &str = include_str!("../../../jobs/carbon-steel-line-log.csv");
const WELD: &str = "MS-0301-FW04";

const DRAWN: &str = "return document.querySelectorAll('#chart .curve path').length > 5 && !document.querySelector('#chart').hasAttribute('aria-busy')";

/// Names that lie on each other by more than a hair.
const ON_EACH_OTHER: &str = "\
    const names = [...document.querySelectorAll('svg.log .name, svg.log .limit-name, .station text')].map((one) => [one.textContent, one.getBoundingClientRect()]); \
    const wrong = []; \
    names.forEach(([a, p], i) => names.slice(i + 1).forEach(([b, q]) => { \
        const across = Math.min(p.right, q.right) - Math.max(p.left, q.left); \
        const down = Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top); \
        if (across > 1 && down > 7) wrong.push(`${a} / ${b}`); \
    })); \
    return wrong.join('; ')";

/// The demo weld gets its plan and the log of its heat.
pub fn plan_and_log(browser: &Browser) {
    let folder = browser.project.folder(WELD).expect("the demo weld");
    let job = job::read(DEMO, job::folder::JOB_FILE).expect("a sound file");
    let plan = plan(&job, &mut |_| ControlFlow::Continue(())).expect("a plan");
    let made = job::calendar::utc(std::time::SystemTime::UNIX_EPOCH);
    let files = plan_files(&plan, made).expect("its files");
    folder.save_plan(&files).expect("kept");
    std::fs::create_dir(folder.logs_path()).expect("a folder");
    std::fs::write(folder.logs_path().join("demo-log.csv"), DEMO_LOG).expect("written");
}

async fn count(browser: &Browser, selector: &str) -> u64 {
    let script = format!("return document.querySelectorAll({selector:?}).length");
    browser.run(&script).await.as_u64().expect("a count")
}

async fn opened() -> Option<Browser> {
    let browser = Browser::before(Entry::at_the_machine()).await?;
    plan_and_log(&browser);
    browser.look(1440, 900, false).await;
    browser.open(&format!("/weld/{WELD}/record")).await;
    browser.until("the chart", DRAWN).await;
    Some(browser)
}

#[tokio::test(flavor = "multi_thread")]
async fn plan_difference_and_power_stand_beside_what_was_measured() {
    let Some(browser) = opened().await else {
        return;
    };
    let measured = count(&browser, "#chart .name[data-channel]").await;
    assert_eq!(measured, 13, "every line has its name");
    let planned = count(&browser, "#chart [data-planned]").await;
    assert_eq!(planned, 10, "those that the plan fits");
    let panels = browser
        .run("return [...document.querySelectorAll('#chart .panel')].map((one) => one.textContent)")
        .await;
    let panels: Vec<String> = serde_json::from_value(panels).expect("texts");
    assert!(
        panels[0].contains("Measured less planned, °F"),
        "{panels:?}"
    );
    assert!(panels[1].contains("Power, kW"), "{panels:?}");
    let planned_power = count(&browser, "#chart [data-panel=beside-0] .track path").await;
    assert_eq!(
        planned_power, 1,
        "the planned power lies under the logged one"
    );
    // The log stays close to its plan but for the thermocouple that came off, which is not compared from then on.
    let widest = browser
        .run("return document.querySelector('#chart [data-panel=difference] > text.rim:last-of-type').textContent")
        .await;
    let widest = widest.as_str().expect("words");
    let amount: f64 = widest
        .split_whitespace()
        .find_map(|word| {
            word.trim_start_matches(['+', '−'])
                .parse()
                .ok()
                .filter(|_| word.starts_with(['+', '−']))
        })
        .expect("an amount");
    assert!(amount < 50.0, "{widest}");
    let says = browser
        .run("return document.querySelector('#findings').textContent")
        .await;
    assert!(
        says.as_str()
            .expect("words")
            .contains("TC5 is compared up to"),
        "{says}"
    );
    let on_each_other = browser.run(ON_EACH_OTHER).await;
    assert_eq!(
        on_each_other, "",
        "names of lines, limits and thermocouples"
    );
    browser
        .run("[...document.querySelectorAll('#chart .tools button')].find((one) => one.textContent === 'Beside the plan').click()")
        .await;
    assert_eq!(
        count(&browser, "#chart .track").await,
        0,
        "the plan steps aside"
    );
    assert_eq!(count(&browser, "#chart .panel").await, 1, "the power stays");
    audit(&browser, "the chart without its plan").await;
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_thermocouple_on_the_joint_and_its_line_answer_each_other() {
    let Some(browser) = opened().await else {
        return;
    };
    assert_eq!(count(&browser, "#joint .station").await, 13);
    let pressed = "return [...document.querySelectorAll('#joint [aria-pressed=true]')].map((one) => one.dataset.station).join()";
    let in_front = "return document.querySelector('#chart .curve.front')?.dataset.channel ?? ''";
    // From the drawing, by keys alone.
    browser
        .run("document.querySelector('#joint [tabindex=\"0\"]').focus()")
        .await;
    let first = browser
        .run("return document.activeElement.dataset.station")
        .await;
    browser.keys("\u{e014}").await;
    let second = browser
        .run("return document.activeElement.dataset.station")
        .await;
    assert_ne!(first, second, "an arrow goes on to the next");
    browser.keys("\u{e007}").await;
    assert_eq!(browser.run(pressed).await, second);
    assert_eq!(browser.run(in_front).await, second);
    assert_eq!(
        browser
            .run("return document.activeElement.dataset.station")
            .await,
        second,
        "the focus stays"
    );
    audit(&browser, "a line in front").await;
    // From the chart.
    browser.run("document.querySelector('#chart .name[data-channel=TC7]').scrollIntoView({ block: 'center' })").await;
    browser
        .run("document.querySelector('#findings [data-channel=TC7]').click()")
        .await;
    assert_eq!(browser.run(pressed).await, "TC7");
    // A finding points at the thermocouple and at the readings of its time.
    browser
        .run("document.querySelector('#findings [data-show][data-channel]').click()")
        .await;
    browser.until("its readings", "return document.querySelector('#joint .readings').textContent.includes('Readings at') && document.querySelector('#joint .dot.front') !== null").await;
    browser.end().await;
}
