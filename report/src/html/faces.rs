//! The typeface for the web: small subsets of the same three faces, under the name `Sheet Sans`.

use std::fmt::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

/// A face as a WOFF2 file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WebFace {
    /// A name for the file, for example `sheet-sans-regular.woff2`.
    pub file_name: &'static str,
    /// The value of `font-style`.
    pub style: &'static str,
    /// The value of `font-weight`.
    pub weight: &'static str,
    /// The file.
    pub woff2: &'static [u8],
}

/// The three faces, to be served as files.
#[must_use]
pub fn web_faces() -> [WebFace; 3] {
    let face = |file_name, style, weight, woff2| WebFace {
        file_name,
        style,
        weight,
        woff2,
    };
    [
        face(
            "sheet-sans-regular.woff2",
            "normal",
            "400",
            include_bytes!("../fonts/SheetSans-regular.woff2"),
        ),
        face(
            "sheet-sans-italic.woff2",
            "italic",
            "400",
            include_bytes!("../fonts/SheetSans-italic.woff2"),
        ),
        face(
            "sheet-sans-strong.woff2",
            "normal",
            "600",
            include_bytes!("../fonts/SheetSans-strong.woff2"),
        ),
    ]
}

/// The three faces as style rules that carry the files within.
#[must_use]
pub fn faces_css() -> String {
    let mut css = String::from(
        "/* Sheet Sans: a subset of Source Sans 3, © Adobe, SIL Open Font License 1.1 */\n",
    );
    for WebFace {
        style,
        weight,
        woff2,
        ..
    } in web_faces()
    {
        let _ = writeln!(
            css,
            "@font-face{{font-family:\"Sheet Sans\";font-style:{style};font-weight:{weight};font-display:swap;\
             src:url(data:font/woff2;base64,{}) format(\"woff2\")}}",
            STANDARD.encode(woff2)
        );
    }
    css
}
