//! A page and the pieces of one.

pub(super) use crate::files::notation::escaped as escape;
use crate::files::output::GENERATOR;
pub(super) use crate::sizing::reasons::known;

/// A blank to write on.
pub(super) fn blank(width_mm: u32) -> String {
    format!(r#"<span class="blank" style="width:{width_mm}mm"></span>"#)
}

/// A table from one description of its columns: heading and width in percent. `above` is a heading over all of them, `rows` the
/// rows; both are markup.
pub(super) fn table(class: &str, above: &str, columns: &[(&str, u32)], rows: &str) -> String {
    let widths: String = columns.iter().map(|(_, width)| format!("<col style=\"width:{width}%\">")).collect();
    let heads: String = columns.iter().map(|(name, _)| format!("<th>{name}</th>")).collect();
    let above = match above {
        "" => String::new(),
        above => format!("<tr><th class=\"which\" colspan=\"{}\">{above}</th></tr>", columns.len()),
    };
    format!(
        "<table class=\"{class}\"><colgroup>{widths}</colgroup><thead>{above}<tr>{heads}</tr></thead><tbody>\n{rows}</tbody></table>\n"
    )
}

/// The whole page, portrait; the size of the paper is the printer's, A4 or Letter. `title` is plain text, `body` is markup.
pub(super) fn page(title: &str, body: String) -> String {
    framed(title, STYLE, body)
}

/// A page with a look of its own. Pages of many positions are long: the frame is put around the body as it is.
pub(super) fn framed(title: &str, style: &str, mut body: String) -> String {
    let head = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"generator\" content=\"{GENERATOR}\">\n<title>{}</title>\n<style>{style}</style>\n</head>\n<body>\n",
        escape(title)
    );
    body.insert_str(0, &head);
    body.push_str("</body>\n</html>\n");
    body
}

/// Black on white, readable at arm's length.
const STYLE: &str = concat!("\n", include_str!("sheet.css"));

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_from_a_file_becomes_markup() {
        assert_eq!(escape("<b a='1'>&\"\u{7}"), "&lt;b a=&#39;1&#39;&gt;&amp;&quot; ");
        assert_eq!(escape("A\u{202e}B\u{2066}👍\u{200d}🔧 電解"), "AU+202EBU+2066👍\u{200d}🔧 電解");
        assert!(page("</title><script>", String::new()).contains("<title>&lt;/title&gt;&lt;script&gt;</title>"));
    }
}
