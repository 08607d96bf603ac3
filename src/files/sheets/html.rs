//! A page and the pieces of one.

pub(super) use crate::files::notation::escaped as escape;
use crate::files::output::GENERATOR;
use crate::sizing::reasons::figure;

/// A figure with its unit, or the word for not known.
pub(super) fn known(value: Option<f64>, unit: &str) -> String {
    value.map_or_else(|| "unknown".to_owned(), |value| format!("{} {unit}", figure(value)))
}

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
const STYLE: &str = "
@page { size: portrait; margin: 9mm 10mm; }
* { box-sizing: border-box; }
html { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
body { max-width: 189.6mm; font: 10.5pt/1.3 'Liberation Sans', Arial, Helvetica, sans-serif; color: #000; background: #fff; margin: 0 auto; }
@media screen { body { padding: 8mm; } }
h1 { font-size: 19pt; margin: 0 0 1mm; }
h2 { font-size: 14pt; margin: 3mm 0 1.5mm; break-after: avoid; }
h3 { font-size: 12pt; margin: 3mm 0 1mm; break-after: avoid; }
p { margin: 1mm 0; }
.head { display: flex; flex-wrap: wrap; gap: 1mm 9mm; margin: 1mm 0 2mm; }
.blank { display: inline-block; border-bottom: 0.3mm solid #000; height: 6.5mm; vertical-align: bottom; }
.caution { border: 1mm solid #000; padding: 2mm 4mm; margin: 2mm 0; break-inside: avoid; }
.caution h2 { margin: 0 0 1mm; }
.caution ol { margin: 1mm 0 0; padding-left: 6mm; font-size: 10pt; line-height: 1.2; }
.caution li { margin: 0.3mm 0; break-inside: avoid; }
table { border-collapse: collapse; width: 100%; margin: 1mm 0 3mm; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
th, td { border: 0.25mm solid #444; padding: 1mm 1.4mm; text-align: left; vertical-align: top; overflow-wrap: anywhere; }
th { background: #e4e4e4; font-size: 9pt; overflow-wrap: normal; }
.ref { font-size: 14pt; font-weight: bold; white-space: nowrap; overflow-wrap: normal; }
.ref.long { font-size: 10pt; white-space: normal; overflow-wrap: anywhere; }
.small { font-size: 9pt; }
table.small td, table.small th { padding: 0.4mm 1.2mm; }
th.which { font-size: 12pt; background: #fff; }
.part { font-weight: bold; }
.danger { font-weight: bold; border: 0.5mm solid #000; padding: 0.2mm 1mm; display: inline-block; }
.write { white-space: nowrap; line-height: 6.4mm; }
.box { display: block; width: 7mm; height: 7mm; border: 0.5mm solid #000; margin: 0.5mm auto; }
.bench, .checks, .list { table-layout: fixed; }
.bench th { font-size: 8pt; padding: 0.6mm 1mm; }
.bench th.which { font-size: 12pt; }
.bench td { font-size: 8.4pt; line-height: 1.2; padding: 0.6mm 1mm; }
.bench td .small { font-size: 8pt; }
.bench td.ref { font-size: 13pt; }
.bench td.ref.long { font-size: 9.5pt; }
.list td { font-size: 8.5pt; line-height: 1.15; padding: 0.4mm 1mm; height: 5.6mm; vertical-align: middle; }
.list th { font-size: 8.5pt; padding: 0.4mm 1mm; }
.list .box { width: 4mm; height: 4mm; border-width: 0.35mm; }
.list .blank { height: 4.6mm; }
.board { break-before: page; }
.map { break-inside: avoid; margin: 1mm 0; }
.map svg { display: block; margin: 0 auto; max-width: 100%; height: auto; }
.sizes { display: flex; flex-wrap: wrap; gap: 1.5mm 3mm; align-items: flex-end; }
.sizes div { text-align: center; font-size: 8pt; line-height: 1.1; width: min-content; min-width: 28mm; break-inside: avoid; }
.sizes svg { display: block; margin: 0 auto 0.5mm; }
.columns { columns: 2; column-gap: 6mm; }
.keep { break-inside: avoid; }
div.position, .position p, .two { break-inside: avoid; }
.position { border-top: 0.4mm solid #000; padding-top: 0.2mm; margin-top: 0.6mm; }
.position h3 { margin: 0; font-size: 9pt; break-after: avoid; }
.position p { font-size: 8pt; line-height: 1.08; margin: 0.1mm 0; }
.goods td, .goods th { font-size: 8pt; line-height: 1.1; padding: 0.2mm 1mm; height: 4.8mm; vertical-align: middle; }
.line .blank { height: 5.2mm; }
.goods { margin: 0.6mm 0 1mm; }
.line { display: flex; justify-content: space-between; align-items: center; gap: 4mm; font-size: 9pt; }
.line .box { width: 5mm; height: 5mm; margin: 0; }
.two { display: grid; grid-template-columns: 62% 37%; gap: 0 1%; }
p.given { display: flex; flex-wrap: wrap; gap: 0 2.4mm; }
p.checks span.check { margin-right: 1mm; }
table.tight { line-height: 1.1; margin: 0.4mm 0; }
table.tight td, table.tight th { border-width: 0.15mm; padding: 0.1mm 0.7mm; font-size: 8pt; overflow-wrap: normal; white-space: nowrap; }
table.overview td, table.overview th { padding: 0.5mm 0.8mm; white-space: normal; }
table.tight td.words { white-space: normal; overflow-wrap: anywhere; }
td.date { white-space: nowrap; }
.digest { font-family: 'Liberation Mono', monospace; font-size: 8pt; }
.sign { display: flex; flex-wrap: wrap; gap: 5mm 10mm; margin-top: 4mm; break-inside: avoid; }
ul { margin: 1mm 0; padding-left: 6mm; }
";

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
