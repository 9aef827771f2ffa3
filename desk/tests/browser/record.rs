//! From logs to a record in a browser.

use std::fmt::Write;

use desk::Entry;

use super::audit::audit;
use super::driver::Browser;

const CARD: &str = include_str!("../../../jobs/cards/spool-repair.toml");
pub const LOG: &str = include_str!("../../../jobs/cards/spool-repair-log.csv");

pub const JUDGED: &str = "return document.querySelector('#findings .statement') !== null";
const DRAWN: &str = "return document.querySelectorAll('#chart .curve path').length > 2 && !document.querySelector('#chart').hasAttribute('aria-busy')";

/// A card `C1` with a log.
fn bring(browser: &Browser, card: &str, log: &str) {
    let folder = browser.project.create("C1", card).expect("made");
    std::fs::create_dir(folder.logs_path()).expect("a folder");
    std::fs::write(folder.logs_path().join("log.csv"), log).expect("written");
}

/// The name of who looked at how the files were understood.
const LOOKED: &str = "document.querySelector('#make').elements.looked_at_by.value = 'D. Moreau'";

/// A desk with the card and its log, judged, in a window of this size.
pub async fn judged(width: u32, height: u32, log: &str) -> Option<Browser> {
    let browser = Browser::before(Entry::at_the_machine()).await?;
    browser.look(width, height, false).await;
    bring(&browser, CARD, log);
    browser.open("/weld/C1/record").await;
    browser.until("the findings", JUDGED).await;
    Some(browser)
}

async fn number(browser: &Browser, key: &str) -> f64 {
    let script = format!("return Number(document.querySelector('#chart').dataset.{key})");
    browser.run(&script).await.as_f64().expect("a number")
}

#[tokio::test(flavor = "multi_thread")]
async fn logs_are_dropped_asked_about_judged_decided_and_recorded() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    browser.look(1440, 900, false).await;
    let silent = CARD.replace("unit = \"C\"\n", "");
    browser.project.create("C1", &silent).expect("made");
    browser.open("/weld/C1").await;
    browser
        .until(
            "the record page of a card",
            "return location.pathname === '/weld/C1/record'",
        )
        .await;
    browser.until("that a log is missing", "return document.querySelector('#findings').textContent.includes('before there is a log')").await;
    audit(&browser, "a record page without a log").await;
    browser.picture("record-empty").await;
    let drop = format!(
        "const log = new File([{LOG:?}], 'log.csv'); const carried = new DataTransfer(); carried.items.add(log); \
         document.querySelector('#drop').dispatchEvent(new DragEvent('drop', {{ dataTransfer: carried, bubbles: true }}))"
    );
    browser.run(&drop).await;
    browser
        .until(
            "the question for the unit",
            "return document.querySelector('#answers select[name$=unit]') !== null",
        )
        .await;
    assert_eq!(
        browser
            .run("return document.querySelector('#make button').disabled")
            .await,
        true,
        "nothing is made while anything is open"
    );
    audit(&browser, "a record page with a question").await;
    browser.picture("record-question").await;
    browser
        .run("document.querySelector('#answers select[name$=unit]').value = 'C'")
        .await;
    browser.click("#answers button").await;
    browser.until("the findings", JUDGED).await;
    browser.until("the chart", DRAWN).await;
    let folder = browser.project.folder("C1").expect("there");
    let mapping = folder.mapping().expect("kept");
    assert!(
        mapping.contains("[file.\"log.csv\"]\nunit = \"C\""),
        "{mapping}"
    );

    // A finding leads to its place, and brings its line forward.
    browser.click("#findings [data-show][data-channel]").await;
    browser.until("its place", "return document.querySelector('#chart .marked') !== null && document.querySelectorAll('#chart .curve.front').length === 1").await;
    assert!(number(&browser, "to").await - number(&browser, "from").await < 1.6);
    browser.picture("record-finding").await;

    // A decision needs its reason and its name before it is sent at all.
    browser.run("document.querySelector('#decide-box').open = true; const f = document.querySelector('#decide').elements; f.channel.value = 'TC3'; f.from.value = '1.5'; f.reason.value = 'plug pulled'").await;
    browser.click("#decide button").await;
    assert_eq!(
        browser
            .run("return document.querySelector('#decide').checkValidity()")
            .await,
        false
    );
    browser
        .run("document.querySelector('#decide').elements.by.value = 'D. Moreau'")
        .await;
    browser.click("#decide button").await;
    browser
        .until(
            "the decision",
            "return document.querySelector('#decided').textContent.includes('plug pulled')",
        )
        .await;
    browser.until("the chart", DRAWN).await;
    browser
        .until(
            "its dotted line",
            "return document.querySelector('#chart [data-channel=TC3] .failed') !== null",
        )
        .await;

    browser.click("#make input").await;
    browser.run(LOOKED).await;
    browser.click("#make button").await;
    browser
        .until(
            "the record",
            "return document.querySelector('.revisions a[href$=\"record.pdf\"]') !== null",
        )
        .await;
    browser.until("the findings", JUDGED).await;
    audit(&browser, "a recorded weld").await;
    let pdf = std::fs::read(folder.record_path().join("record.pdf")).expect("a record");
    assert!(
        job::record::verify(&pdf, env!("CARGO_PKG_VERSION"))
            .expect("made again")
            .agrees()
    );
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_record_is_verified_and_a_changed_byte_is_seen() {
    let Some(browser) = judged(1440, 900, LOG).await else {
        return;
    };
    browser.click("#make input").await;
    browser.run(LOOKED).await;
    browser.click("#make button").await;
    browser
        .until(
            "the record",
            "return document.querySelector('.revisions') !== null",
        )
        .await;
    browser.open("/verify").await;
    audit(&browser, "the verify page").await;
    let verify = |change: &str| {
        format!(
            "return fetch('/weld/C1/record/record.pdf').then((r) => r.arrayBuffer()).then((buffer) => {{ const bytes = new Uint8Array(buffer); {change}; \
             const carried = new DataTransfer(); carried.items.add(new File([bytes], 'sent.pdf')); \
             document.querySelector('#verdict').textContent = ''; \
             document.querySelector('#drop').dispatchEvent(new DragEvent('drop', {{ dataTransfer: carried, bubbles: true }})); return true }})"
        )
    };
    browser.run(&verify("")).await;
    browser.until("that it agrees", "return document.querySelector('#lines').textContent.includes('agrees') && document.querySelector('#verdict').textContent.includes('agrees')").await;
    browser.picture("verify").await;
    browser.run(&verify("bytes[bytes.length - 40] ^= 1")).await;
    browser.until("that it differs or can't be opened", "return document.querySelector('#lines').textContent.includes('DIFFERS') || document.querySelector('#drop-says').textContent.includes(\"can't\")").await;
    browser.end().await;
}

/// Twenty-four thermocouples each second, 24 × 20,900 readings.
fn long_log() -> (String, String) {
    let names: Vec<String> = (1..=24).map(|n| format!("TC{n}")).collect();
    let quoted: Vec<String> = names.iter().map(|n| format!("\"{n}\"")).collect();
    let card = CARD
        .replace(
            "[\"TC1\", \"TC2\"]",
            &format!("[{}]", quoted[..22].join(", ")),
        )
        .replace("[\"TC3\"]", &format!("[{}]", quoted[22]))
        .replace("spare = [\"TC4\"]\n", "")
        .replace("edge = [\"TC5\"]\n", &format!("edge = [{}]\n", quoted[23]));
    let mut log = format!("time,{}\n", names.join(","));
    for s in 0..20_900_u32 {
        let t = f64::from(s);
        let c = if t < 10_800.0 {
            20.0 + t / 18.0
        } else if t < 14_400.0 {
            620.0
        } else {
            620.0 - (t - 14_400.0) / 20.0
        };
        let _ = write!(
            log,
            "2026-10-20 {:02}:{:02}:{:02}",
            7 + s / 3600,
            s / 60 % 60,
            s % 60
        );
        for n in 0..24 {
            let _ = write!(
                log,
                ",{:.1}",
                c - f64::from(n) * 0.4 + f64::from((s * 7 + n * 13) % 11) * 0.1
            );
        }
        log.push('\n');
    }
    (card, log)
}

#[tokio::test(flavor = "multi_thread")]
async fn half_a_million_readings_are_drawn_from_a_bounded_number_of_points_at_every_zoom() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    browser.look(1440, 900, false).await;
    let (card, log) = long_log();
    bring(&browser, &card, &log);
    browser.open("/weld/C1/record").await;
    browser.until("the findings", JUDGED).await;
    browser.until("the chart", DRAWN).await;
    let read = browser
        .run("return fetch('/weld/C1/record/judged').then((r) => r.json()).then((j) => j.chart.readings)")
        .await;
    assert!(read.as_u64().expect("a count") > 500_000, "{read}");
    let bounded = async |what: &str| {
        let (columns, points) = (
            number(&browser, "columns").await,
            number(&browser, "points").await,
        );
        assert!(
            columns > 100.0 && columns <= 1500.0,
            "{what}: {columns} columns"
        );
        // The lowest and the highest of a column, and one column more on each side.
        assert!(
            points > 1000.0 && points <= 24.0 * 2.0 * (columns + 2.0),
            "{what}: {points} points for {columns} columns"
        );
    };
    bounded("the whole log").await;
    let sent = browser.run("return fetch('/weld/C1/record/chart?from=0&to=6&columns=99999').then((r) => r.json()).then((j) => j.series.reduce((sum, one) => sum + one.length / 2, 0))").await;
    assert!(
        sent.as_f64().expect("a count") <= 24.0 * 2.0 * 1502.0,
        "more columns than any screen has are not answered: {sent}"
    );
    browser.picture("record-half-a-million").await;
    let mut width = number(&browser, "to").await - number(&browser, "from").await;
    browser
        .run("document.querySelector('#chart .field-of-view').focus()")
        .await;
    for step in 0..5 {
        browser.keys("+").await;
        let narrower = format!(
            "const d = document.querySelector('#chart').dataset; return d.to - d.from < {width} * 0.6"
        );
        browser.until("a closer view", &narrower).await;
        browser.until("its points", DRAWN).await;
        bounded(&format!("zoom {step}")).await;
        width = number(&browser, "to").await - number(&browser, "from").await;
    }
    browser.keys("\u{e014}").await;
    let from = number(&browser, "from").await;
    assert!(from > 1.0, "the arrow moved it: {from}");
    browser.picture("record-half-a-million-near").await;
    browser.keys("0").await;
    browser
        .until(
            "the whole log",
            "return Number(document.querySelector('#chart').dataset.from) === 0",
        )
        .await;
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_dropped_connection_keeps_what_was_typed_and_a_wrong_file_is_set_aside() {
    let Some(browser) = judged(360, 740, LOG).await else {
        return;
    };
    browser.run("document.querySelector('#decide-box').open = true; const f = document.querySelector('#decide').elements; f.channel.value = 'TC3'; f.from.value = '1.5'; f.reason.value = 'plug pulled'; f.by.value = 'D. Moreau'").await;
    browser.offline(true).await;
    browser.click("#decide button").await;
    browser.until("plain words", "return document.querySelector('#decide .says').textContent.includes('does not answer')").await;
    assert_eq!(
        browser
            .run("return document.querySelector('#decide').elements.reason.value")
            .await,
        "plug pulled"
    );
    browser.offline(false).await;
    browser.click("#decide button").await;
    browser
        .until(
            "the decision",
            "return document.querySelector('#decided').textContent.includes('plug pulled')",
        )
        .await;
    // A file that is not what its name says is told of, and goes again.
    let list = "const list = new File(['bread, 2'], 'list.csv'); const drop = new Event('drop', { bubbles: true }); \
                drop.dataTransfer = { files: [list] }; document.querySelector('#drop').dispatchEvent(drop)";
    browser.run(list).await;
    browser.until("plain words", "return document.querySelector('#findings').textContent.includes('list.csv holds no readings')").await;
    browser
        .run("document.querySelector('[data-aside=\"list.csv\"]').click()")
        .await;
    browser.until("the log alone", "return document.querySelector('[data-aside=\"list.csv\"]') === null && document.querySelector('#findings .statement') !== null").await;
    let folder = browser.project.folder("C1").expect("there");
    let aside = std::fs::read_to_string(folder.path().join("set-aside/list.csv"));
    assert_eq!(aside.expect("kept"), "bread, 2");
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn from_log_to_record_by_keys_alone() {
    let Some(browser) = judged(1440, 900, LOG).await else {
        return;
    };
    browser.until("the chart", DRAWN).await;
    browser.run("document.querySelector('.skip').focus()").await;
    let reach = async |what: &str, script: &str| {
        for _ in 0..80 {
            if browser.run(script).await == true {
                return;
            }
            browser.keys("\u{e004}").await;
        }
        panic!("{what} can't be reached by the tab key");
    };
    reach(
        "the chart",
        "return document.activeElement.className === 'field-of-view'",
    )
    .await;
    browser.keys("+").await;
    browser
        .until(
            "a closer view",
            "return Number(document.querySelector('#chart').dataset.from) > 0",
        )
        .await;
    reach(
        "a finding's place",
        "return document.activeElement.dataset.show !== undefined",
    )
    .await;
    browser.keys("\u{e007}").await;
    browser
        .until(
            "its mark",
            "return document.querySelector('#chart .marked') !== null",
        )
        .await;
    reach(
        "the confirmation",
        "return document.activeElement.name === 'confirmed'",
    )
    .await;
    browser.keys(" ").await;
    reach(
        "the name",
        "return document.activeElement.name === 'looked_at_by'",
    )
    .await;
    browser.keys("D. Moreau").await;
    reach("the button", "return document.activeElement.closest('#make') !== null && document.activeElement.tagName === 'BUTTON'").await;
    browser.keys("\u{e007}").await;
    browser
        .until(
            "the record",
            "return document.querySelector('.revisions') !== null",
        )
        .await;
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_form_that_a_finding_opens_comes_whole_and_is_not_under_the_chart() {
    let other = LOG.replacen("TC4", "CH 04", 1);
    let Some(browser) = judged(1440, 900, &other).await else {
        return;
    };
    browser.until("the chart", DRAWN).await;
    browser
        .run("document.querySelector('[data-deviation]').click()")
        .await;
    let seen = "const form = document.querySelector('#answer-for'), top = form.elements.deviation.getBoundingClientRect(), end = form.querySelector('button').getBoundingClientRect(); \
                const shown = (box) => form.contains(document.elementFromPoint(box.left + 8, box.top + box.height / 2)); \
                return shown(top) && shown(end) && document.activeElement === form.elements.reason";
    browser.until("the form, whole", seen).await;
    browser.end().await;
}
