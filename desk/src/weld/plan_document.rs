//! The document of a plan on the page of its weld: what the page itself already shows is left out, the rest is folded.

use maud::{Markup, PreEscaped, html};

/// What the page shows above, as the document heads it: the sheet to work from, and limits, remarks and bands.
const NEEDS: &str = "What the weld needs";

/// Parts that are called otherwise on the page, which has such a heading already.
const OTHERWISE: [(&str, &str); 2] = [
    (NEEDS, "What is heeded besides, preheat and bake-out"),
    (
        "How it will go",
        "Stages, temperatures and heat over the cycle",
    ),
];

/// The document inside the page that was written beside the PDF; `None` where it is no such page.
pub fn plan_document(page: &str) -> Option<Markup> {
    let from = page.find("<main>")? + "<main>".len();
    let to = page.rfind("</main>")?;
    let inside = page.get(from..to)?;
    let mut parts = inside.split("<h2");
    // Before the first part stands the sheet to work from, which the PDF is for.
    parts.next()?;
    let parts: Vec<(String, String)> = parts.filter_map(part).collect();
    Some(html! {
        @for (index, (title, body)) in parts.iter().enumerate() {
            details.group open[index == 0] { summary { span.title { (PreEscaped(title)) } } (PreEscaped(body)) }
        }
    })
}

/// Title and body of a part, with marks of their own, for the limits above have some of the same letters.
fn part(part: &str) -> Option<(String, String)> {
    let part = &part[part.find('>')? + 1..];
    let (title, body) = part.split_once("</h2>")?;
    let body = if title == NEEDS {
        beyond_the_limits(body)
    } else {
        body
    };
    let body = body
        .replace("\"mark-", "\"plan-mark-")
        .replace("\"#mark-", "\"#plan-mark-");
    let otherwise = OTHERWISE.iter().find(|(known, _)| *known == title);
    let title = otherwise.map_or(title, |(_, on_the_page)| on_the_page);
    (!body.trim().is_empty()).then(|| (title.to_owned(), body))
}

/// Limits, remarks and bands stand on the page already; what follows them does not.
fn beyond_the_limits(body: &str) -> &str {
    let rest = body.find("<h3>Bands").and_then(|bands| {
        let next = body[bands + 1..].find("<h3")?;
        body.get(bands + 1 + next..)
    });
    rest.unwrap_or(body)
}

#[cfg(test)]
mod tests {
    use super::plan_document;

    #[test]
    fn limits_and_the_site_sheet_stand_once_and_the_rest_is_folded() {
        let page = "<html><main><h1>Plan</h1><section>sheet</section><h2>What the prediction says</h2><p>a</p>\
                    <h2>What the weld needs</h2><p>limits</p><h3>Bands, full widths</h3><p>bands</p>\
                    <h3>Preheat</h3><p>b <a href=\"#mark-1\">x</a></p></main></html>";
        let told = plan_document(page).expect("a document").into_string();
        for gone in ["sheet", "limits", "bands", "<h1", "\"#mark-"] {
            assert!(!told.contains(gone), "{gone}: {told}");
        }
        assert_eq!(told.matches("<details").count(), 2);
        assert!(told.contains("What is heeded besides"), "{told}");
        assert!(told.contains("<h3>Preheat") && told.contains("#plan-mark-1"));
        assert!(plan_document("<p>no plan</p>").is_none());
    }
}
