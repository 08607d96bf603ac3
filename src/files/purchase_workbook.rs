//! The order as a workbook: totals that count themselves, marks where the stock is below the order, ready to be printed.

use std::borrow::Cow;

use rust_xlsxwriter::{Color, DocProperties, ExcelDateTime, Format, Formula, Workbook, Worksheet, XlsxError};

use super::columns::Cell;
use super::notation::plain;
use super::purchase::{clean, column_names, columns};
use crate::domain::Job;
use crate::domain::style::counted;
use crate::sizing::{Purchase, PurchaseLine};

/// Paper of the printed list: A4, as ECMA-376 part 1, 18.3.1.63 numbers it.
const A4: u8 = 9;

/// The workbook: the list with totals as formulas, what is open and what was counted by default, and the currency rates. The same order gives the
/// same bytes.
///
/// A text longer than a workbook cell may be is cut with a mark; amounts beyond what a number can say stay empty.
///
/// # Errors
/// None in practice: writing to memory.
pub fn xlsx(job: &Job, purchase: &Purchase) -> Result<Vec<u8>, XlsxError> {
    let mut workbook = Workbook::new();
    // Otherwise the moment of writing would stand in the file, and no two would be equal.
    let day = ExcelDateTime::from_ymd(2000, 1, 1)?;
    workbook.set_properties(&DocProperties::new().set_title(plain(&job.name)).set_creation_datetime(&day));
    list(workbook.add_worksheet(), job, purchase)?;
    open_questions(workbook.add_worksheet(), job, purchase)?;
    rates(workbook.add_worksheet(), purchase)?;
    workbook.save_to_buffer()
}

/// A text as it may stand in a workbook cell: nothing in it is hidden, and it is no longer than a cell may be (32 767 UTF-16 units; ECMA-376
/// part 1, 18.18.93 ST_Xstring, as spreadsheets apply it).
pub fn cut(text: &str) -> Cow<'_, str> {
    const MOST: usize = 32_767;
    const MARK: &str = " [cut: longer than a cell may be]";
    let text = plain(text);
    if text.len() <= MOST || text.encode_utf16().count() <= MOST {
        return text;
    }
    let mut left = MOST - MARK.len();
    let fits = |c: &char| left.checked_sub(c.len_utf16()).map(|rest| left = rest).is_some();
    Cow::Owned(text.chars().take_while(fits).chain(MARK.chars()).collect())
}

/// The number of a column, and its letter.
fn at(name: &str) -> (u16, char) {
    (0u16..).zip('A'..='Z').zip(column_names()).find(|(_, column)| *column == name).map_or((0, 'A'), |(at, _)| at)
}

/// What a cell of the list holds where it is worked out from others: pieces times price, and that in the currency of the job.
fn formula(purchase: &Purchase, line: &PurchaseLine, name: &str, row: u32) -> Option<String> {
    let cell = |name: &str| format!("{}{}", at(name).1, row + 1);
    match name {
        "line_total" => {
            line.order_qty.zip(line.unit_price).map(|_| format!("={}*{}", cell("order_qty"), cell("unit_price")))
        }
        "total_job" => {
            line.line_total?;
            let rate = (2..).zip(purchase.rates.keys()).find(|(_, code)| *code == line.currency())?.0;
            Some(format!("={}*Rates!$B${rate}", cell("line_total")))
        }
        _ => None,
    }
}

fn list(sheet: &mut Worksheet, job: &Job, purchase: &Purchase) -> Result<(), XlsxError> {
    let bold = Format::new().set_bold();
    let [each, sum] = ["#,##0.0000", "#,##0.00"].map(|format| Format::new().set_num_format(format));
    let short = Format::new().set_bold().set_background_color(Color::RGB(0x00FF_D9D9));
    sheet.set_name("Order")?.set_freeze_panes(1, 1)?;
    for (column, name) in (0u16..).zip(column_names()) {
        sheet.write_string_with_format(0, column, name, &bold)?;
    }
    let mut row = 1;
    for line in &purchase.lines {
        for (column, (name, cell)) in (0u16..).zip(columns()) {
            let format = match name {
                "unit_price" => &each,
                "line_total" | "total_job" => &sum,
                "stock" if line.stock_short() => &short,
                _ => &Format::new(),
            };
            match cell(&(job, line)) {
                Cell::Number(Some(value)) if !value.is_finite() => {}
                Cell::Number(Some(value)) => match formula(purchase, line, name, row) {
                    Some(text) => {
                        let sum_of = Formula::new(text).set_result(value.to_string());
                        sheet.write_formula_with_format(row, column, sum_of, format)?;
                    }
                    None => {
                        sheet.write_number_with_format(row, column, value, format)?;
                    }
                },
                Cell::Text(text) if !text.is_empty() => {
                    sheet.write_string(row, column, cut(&text))?;
                }
                Cell::Number(None) | Cell::Computed(_) | Cell::Text(_) => {}
            }
        }
        row += 1;
    }
    totals(sheet, job, purchase, row)?;
    sheet.set_autofit_max_width(320).autofit();
    // For the buyer's folder: the whole width on one page, the headings on each, which page of how many.
    sheet.set_landscape().set_paper_size(A4).set_print_fit_to_pages(1, 0).set_repeat_rows(0, 0)?;
    sheet.set_header(format!("&L{}", plain(&job.name).replace('&', "&&"))).set_footer("&L&F, &A&RPage &P of &N");
    Ok(())
}

/// The sums below the list: per currency, in the currency of the job, handling of the lines, all together.
fn totals(sheet: &mut Worksheet, job: &Job, purchase: &Purchase, first: u32) -> Result<(), XlsxError> {
    let bold = Format::new().set_bold();
    let money = Format::new().set_num_format("#,##0.00").set_bold();
    let [(total, total_letter), (currency, currency_letter), (own, own_letter), (note, _)] =
        ["line_total", "currency", "total_job", "note"].map(at);
    let range = |letter: char| format!("{letter}2:{letter}{first}");
    let totals = &purchase.totals;
    let mut row = first;
    let without = purchase.lines.iter().filter(|line| line.to_order() && line.line_total.is_none()).count();
    for (code, sum) in &totals.per_currency {
        sheet.write_string_with_format(row, 0, "Total", &bold)?;
        if sum.is_finite() {
            let (codes, sums) = (range(currency_letter), range(total_letter));
            let text = format!("=SUMIF({codes},\"{}\",{sums})", code.replace('"', "\"\""));
            let sum_of = Formula::new(text).set_result(clean(*sum).to_string());
            sheet.write_formula_with_format(row, total, sum_of, &money)?;
        }
        sheet.write_string_with_format(row, currency, cut(code), &bold)?;
        if without > 0 {
            let text = format!("not in it: {}", counted(without, "line without a price", "lines without a price"));
            sheet.write_string_with_format(row, note, text, &bold)?;
        }
        row += 1;
    }
    let Some(code) = purchase.currency.code.as_deref() else { return Ok(()) };
    let handling = format!("={}*{}", totals.lines, job.line_cost.unwrap_or(0.0));
    let both = format!("={own_letter}{}+{own_letter}{}", row + 1, row + 2);
    let sums = [
        (format!("Parts in {code}"), format!("=SUM({})", range(own_letter)), totals.known_job),
        (format!("Handling of {}", counted(totals.lines, "order line", "order lines")), handling, totals.lines_cost),
        (format!("Total in {code}"), both, totals.known_job + totals.lines_cost),
    ];
    for (name, text, value) in sums.into_iter().filter(|sum| sum.2.is_finite()) {
        sheet.write_string_with_format(row, 0, cut(&name), &bold)?;
        let sum_of = Formula::new(text).set_result(clean(value).to_string());
        sheet.write_formula_with_format(row, own, sum_of, &money)?;
        if totals.unknown_lines > 0 {
            let [one, more] = ["line without a price that compares", "lines without a price that compares"];
            let text = format!("not in it: {}", counted(totals.unknown_lines, one, more));
            sheet.write_string_with_format(row, note, text, &bold)?;
        }
        row += 1;
    }
    Ok(())
}

fn open_questions(sheet: &mut Worksheet, job: &Job, purchase: &Purchase) -> Result<(), XlsxError> {
    sheet.set_name("Open")?;
    let without = purchase.without_part.iter().map(|&place| format!("{}: still without a part", job.full_name(place)));
    let lines: Vec<String> = purchase.notes.iter().cloned().chain(without).collect();
    let lines = if lines.is_empty() { vec!["Nothing is open.".to_owned()] } else { lines };
    for (row, text) in (0u32..).zip(lines) {
        sheet.write_string(row, 0, cut(&text))?;
    }
    sheet.set_column_width(0, 90)?.set_paper_size(A4).set_print_fit_to_pages(1, 0);
    Ok(())
}

/// The rates the totals count with: changed here, they change there.
fn rates(sheet: &mut Worksheet, purchase: &Purchase) -> Result<(), XlsxError> {
    let bold = Format::new().set_bold();
    let own = purchase.currency.code.as_deref().unwrap_or("the job's currency");
    sheet.set_name("Rates")?.write_string_with_format(0, 0, "Currency", &bold)?;
    sheet.write_string_with_format(0, 1, cut(&format!("{own} for one")), &bold)?;
    for (row, (code, rate)) in (1u32..).zip(&purchase.rates) {
        sheet.write_string(row, 0, cut(code))?.write_number(row, 1, *rate)?;
    }
    sheet.autofit();
    Ok(())
}
