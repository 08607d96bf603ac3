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

/// The whole page, portrait; the size of the paper is the printer's, A4 or Letter. `title` is plain text, `body` is markup.
pub(super) fn page(title: &str, body: &str) -> String {
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"generator\" content=\"{GENERATOR}\">\n<title>{}</title>\n<style>\n@page {{ size: portrait; margin: 11mm 10mm 12mm 10mm; }}\nbody {{ max-width: 190mm; }}{STYLE}</style>\n</head>\n<body>\n{body}</body>\n</html>\n",
        escape(title)
    )
}

/// Black on white, readable at arm's length.
const STYLE: &str = "
* { box-sizing: border-box; }
html { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
body { font: 10.5pt/1.3 'Liberation Sans', Arial, Helvetica, sans-serif; color: #000; background: #fff; margin: 0 auto; }
@media screen { body { padding: 8mm; } }
h1 { font-size: 19pt; margin: 0 0 1mm; }
h2 { font-size: 14pt; margin: 4mm 0 1.5mm; break-after: avoid; }
h3 { font-size: 12pt; margin: 4mm 0 1mm; break-after: avoid; }
p { margin: 1mm 0; }
.head { display: flex; flex-wrap: wrap; gap: 2mm 9mm; margin: 2mm 0 3mm; }
.blank { display: inline-block; border-bottom: 0.3mm solid #000; height: 6.5mm; vertical-align: bottom; }
.caution { border: 1mm solid #000; padding: 2.5mm 4mm; margin: 3mm 0; break-inside: avoid; }
.caution h2 { margin: 0 0 1mm; }
.caution ol { margin: 1mm 0 0; padding-left: 6mm; font-size: 10pt; line-height: 1.2; }
.caution li { margin: 0.4mm 0; }
table { border-collapse: collapse; width: 100%; margin: 1mm 0 3mm; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
th, td { border: 0.25mm solid #444; padding: 1mm 1.4mm; text-align: left; vertical-align: top; overflow-wrap: anywhere; }
th { background: #e4e4e4; font-size: 9pt; }
.ref { font-size: 14pt; font-weight: bold; white-space: nowrap; overflow-wrap: normal; }
.ref.long { font-size: 10pt; white-space: normal; overflow-wrap: anywhere; }
.small { font-size: 9pt; }
table.small td, table.small th { padding: 0.4mm 1.2mm; }
th.which { font-size: 12pt; background: #fff; }
.part { font-weight: bold; }
.danger { font-weight: bold; border: 0.6mm solid #000; padding: 0 1mm; display: inline-block; }
.write { white-space: nowrap; line-height: 6.4mm; }
.box { display: block; width: 9mm; height: 9mm; border: 0.6mm solid #000; margin: 0.5mm auto; }
.bench, .checks { table-layout: fixed; }
.bench td { font-size: 8.4pt; line-height: 1.2; padding: 0.7mm 1.1mm; }
.bench td.ref { font-size: 13pt; }
.bench td.ref.long { font-size: 9.5pt; }
.board { break-before: page; }
.map { break-inside: avoid; margin: 1mm 0 2mm; }
.map svg { display: block; margin: 0 auto; max-width: 100%; height: auto; }
.keep { break-inside: avoid; }
.position { border-top: 0.4mm solid #000; padding-top: 0.4mm; margin-top: 1.4mm; }
.position h3 { margin: 0 0 0.3mm; font-size: 9.5pt; }
.position p.small { font-size: 6.9pt; line-height: 1.15; margin: 0.3mm 0; }
.two { display: grid; grid-template-columns: 53% 46%; gap: 0 1%; }
table.given, table.tight { line-height: 1.1; margin: 0.4mm 0; }
table.given td, table.tight td, table.tight th { border-width: 0.15mm; padding: 0.1mm 0.7mm; font-size: 6.6pt; overflow-wrap: normal; white-space: nowrap; }
table.tight td.words { white-space: normal; overflow-wrap: anywhere; }
table.given td:nth-child(odd) { background: #f0f0f0; }
.sum { font-size: 6.8pt; line-height: 1.15; margin: 0.4mm 0; }
td.date { white-space: nowrap; }
.digest { font-family: 'Liberation Mono', monospace; font-size: 6.8pt; }
.sign { display: flex; flex-wrap: wrap; gap: 5mm 10mm; margin-top: 6mm; break-inside: avoid; }
ul { margin: 1mm 0; padding-left: 6mm; }
";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_from_a_file_becomes_markup() {
        assert_eq!(escape("<b a='1'>&\"\u{7}"), "&lt;b a=&#39;1&#39;&gt;&amp;&quot; ");
        assert_eq!(escape("A\u{202e}B\u{2066}👍\u{200d}🔧 電解"), "AU+202EBU+2066👍\u{200d}🔧 電解");
        assert!(page("</title><script>", "").contains("<title>&lt;/title&gt;&lt;script&gt;</title>"));
    }
}
