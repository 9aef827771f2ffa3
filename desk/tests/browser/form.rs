//! Filling the form of a weld: what is missing falls as values are given, mistakes lead to their fields, and what was
//! understood of what was typed stands at once.

use desk::Entry;

use super::audit::audit;
use super::driver::Browser;

const NEEDED: &str = "return document.querySelectorAll('#faults .needed a').length";

fn type_into(place: &str, value: &str) -> String {
    format!(
        "const at = document.getElementsByName({place:?})[0]; at.closest('details').open = true; at.focus(); at.value = {value:?}; at.dispatchEvent(new Event('change', {{ bubbles: true }}))"
    )
}

#[tokio::test(flavor = "multi_thread")]
async fn an_empty_weld_is_filled_and_the_page_keeps_one_account() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    browser.look(360, 740, false).await;
    browser
        .project
        .create("N-1", &job::pattern::empty(true))
        .expect("made");
    browser.open("/weld/N-1").await;
    browser
        .until(
            "what is needed",
            "return document.querySelectorAll('#faults .needed a').length > 20",
        )
        .await;
    audit(&browser, "an empty weld").await;
    let before = browser.run(NEEDED).await.as_u64().expect("a number");
    let says = format!(
        "return document.querySelector('#faults').textContent.includes('{before} values are still needed') && document.querySelector('.head .state').textContent.includes('{before} values of the job')"
    );
    assert_eq!(
        browser.run(&says).await,
        true,
        "account and head of the page"
    );
    browser.run(&type_into("side[1].wall", "0.688")).await;
    browser
        .until(
            "the unit",
            "return document.querySelector('#f-side-1--wall').value === '0.688 in'",
        )
        .await;
    browser
        .run(&type_into("blanket.material", "ceramic fiber"))
        .await;
    browser.until("what it is taken for", "return document.querySelector('#f-blanket-material-taken').textContent === 'Taken for ceramic fiber blanket 128 kg/m3'").await;
    let now = before - 2;
    let says = format!(
        "return document.querySelector('.head .state').textContent.includes('{now} values of the job') && document.querySelectorAll('#faults .needed a').length === {now}"
    );
    browser.until("the smaller account", &says).await;
    browser.run(&type_into("side[1].length", "20")).await;
    browser.until("both ways", "return document.querySelector('#f-side-1--length-fault').textContent.includes('\"20 ft\" or \"20 in\"') && document.querySelector('.head .state').textContent.includes('one thing in the job to put right')").await;
    browser.run("document.activeElement.blur(); document.querySelector('#group-side').open = false; document.querySelector('#faults .wrong a').click()").await;
    let there = "return document.activeElement.name === 'side[1].length' && document.querySelector('#group-side').open && document.activeElement.value === '20'";
    assert_eq!(browser.run(there).await, true, "the way to the field");
    browser.run(&type_into("side[1].group", "one")).await;
    browser.until("the refusal at the field", "const at = document.getElementsByName('side[1].group')[0]; return at.value === 'one' && document.querySelector('#f-side-1--group-fault').textContent.includes('allowed: a number')").await;
    browser
        .run("document.querySelector('[data-same]').click()")
        .await;
    browser.until("what was taken over", "return document.querySelector('#same-says').textContent.startsWith('Taken over from the first side: wall')").await;
    audit(&browser, "a weld that is half filled").await;
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn what_no_field_shows_leads_to_its_line_of_the_file() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    browser.look(1280, 800, false).await;
    browser
        .project
        .create("N-1", "units = \"si\"\nedtion = \"2022\"\n")
        .expect("made");
    browser.open("/weld/N-1").await;
    browser
        .until(
            "the mistake",
            "return document.querySelector('#faults .wrong a') !== null",
        )
        .await;
    browser
        .run("document.querySelector('#faults .wrong a').click()")
        .await;
    let at = "const file = document.querySelector('#file'); return document.activeElement === file && file.value.slice(file.selectionStart, file.selectionEnd) === 'edtion = \"2022\"'";
    assert_eq!(browser.run(at).await, true);
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_list_with_mistakes_can_be_read_on_a_phone() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    browser.look(360, 740, true).await;
    browser.open("/").await;
    browser.run("const list = document.querySelector('#weld-list'); list.elements.pasted.value = 'weld,side.wall\\nA-1,17.5 kg\\nA-2,18 mm\\n'; list.querySelector('button').click()").await;
    browser
        .until(
            "the mistakes",
            "return document.querySelectorAll('#listed tbody tr').length === 2",
        )
        .await;
    let wide = "return document.querySelector('#weld-list textarea').offsetWidth";
    assert!(
        browser.run(wide).await.as_u64().expect("a width") > 250,
        "room to paste a list"
    );
    let said = "const says = document.querySelector('#listed').textContent; return says.includes('Every row still needs: purpose') && says.split('The two sides: wall').length === 3 && !says.includes('side[')";
    assert_eq!(browser.run(said).await, true);
    audit(&browser, "a list with mistakes").await;
    browser.end().await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_board_of_long_words_is_no_wider_than_a_tablet() {
    let Some(browser) = Browser::before(Entry::at_the_machine()).await else {
        return;
    };
    let line =
        "main steam from the outlet of boiler 2 to the header of the turbine hall, second floor";
    let demo = include_str!("../../../jobs/thick-9cr-header.toml");
    let text = job::edit::set(demo, "identification.line", line).expect("set");
    let text = job::edit::set(&text, "weld.cap_width", "900 mm").expect("set");
    let text = job::edit::set(&text, "blanket.thickness", "").expect("set");
    browser.project.create("N-1", &text).expect("made");
    for width in [768, 900, 1280] {
        browser.look(width, 900, false).await;
        browser.open("/").await;
        let over = browser
            .run("return document.documentElement.scrollWidth - innerWidth")
            .await;
        assert!(
            over.as_i64().expect("a width") <= 0,
            "{width} px: {over} px too wide"
        );
    }
    browser.open("/?search=nowhere&state=run").await;
    let says = "return document.querySelector('main').textContent.includes('None of the 2 welds fits “nowhere” and the state run.')";
    assert_eq!(browser.run(says).await, true);
    browser.end().await;
}
