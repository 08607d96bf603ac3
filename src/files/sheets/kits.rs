//! Packing lists, a bag for each unit, and labels for bags and bins on common sheets of labels.

use super::html::{blank, escape, framed, page, table};
use crate::domain::{Job, Place};
use crate::sizing::kits::{Kit, KitRow, kits as all_kits, spares};
use crate::sizing::{Purchase, PurchaseLine};

/// Bags listed one by one up to so many of a type; beyond it the list asks for copies.
const BAGS_LISTED: u64 = 40;

/// The places in words: `Supply C1, C2; Servo K1`.
fn places(job: &Job, places: &[Place]) -> String {
    let by_board = places.chunk_by(|a, b| a.board() == b.board());
    let words = by_board.map(|same| format!("{} {}", job.board_name(same[0].board()), job.references(same, ", ")));
    words.collect::<Vec<_>>().join("; ")
}

/// Which bag it is: its number among all units, and its type where there are several.
fn bag(kit: &Kit, before: u64, nth: u64, all: u64) -> String {
    let of = if kit.of.name.is_empty() { String::new() } else { format!(", {}", kit.of.name) };
    format!("unit {} of {all}{of}", before + nth)
}

/// `kits.html`: what goes into the bag of each unit, then the spares and what is still without a part.
fn kits(job: &Job, purchase: &Purchase) -> String {
    let kits = all_kits(job, purchase);
    let all: u64 = kits.iter().map(|kit| kit.bags).sum();
    let mut body = format!(
        "<h1>{}</h1>\n<p>Packing lists: a bag for each of {all} units, then the spares. Tick what lies in the bag.</p>\n",
        escape(&job.name)
    );
    let mut before = 0;
    for kit in &kits {
        let listed = |kit: &KitRow| {
            row(&kit.line.part_number, &kit.line.maker, &kit.pieces.to_string(), &places(job, &kit.places))
        };
        let rows: String = kit.rows.iter().map(listed).collect();
        for nth in 1..=kit.bags.min(BAGS_LISTED) {
            let class = if before + nth == 1 { "first" } else { "board" };
            body.push_str(&format!(
                "<section class=\"{class}\"><h2>Bag for {}</h2>\n<div class=\"head\"><span>Serial number {}</span><span>Packed by {}</span></div>\n{}</section>\n",
                escape(&bag(kit, before, nth, all)),
                blank(45),
                blank(45),
                table("list", "", &COLUMNS, &rows)
            ));
        }
        if kit.bags > BAGS_LISTED {
            body.push_str(&format!(
                "<p><b>Copy the last list for the other {} bags of this kind.</b></p>\n",
                kit.bags - BAGS_LISTED
            ));
        }
        before += kit.bags;
    }
    let spare = |line: &PurchaseLine| {
        let qty = spares(line).filter(|&qty| qty > 0)?;
        Some(row(&line.part_number, &line.maker, &qty.to_string(), "spares"))
    };
    let spare: String = purchase.lines.iter().filter_map(spare).collect();
    if !spare.is_empty() {
        body.push_str(&format!(
            "<section class=\"board\"><h2>Spares</h2>\n{}</section>\n",
            table("list", "", &COLUMNS, &spare)
        ));
    }
    let missing: Vec<String> = purchase.without_part.iter().map(|&place| escape(&job.full_name(place))).collect();
    if !missing.is_empty() {
        body.push_str(&format!("<p><b>In no bag, because still without a part: {}.</b></p>\n", missing.join(", ")));
    }
    page(&format!("Packing lists: {}", job.name), body)
}

const COLUMNS: [(&str, u32); 5] = [("", 4), ("Part", 38), ("Pieces", 8), ("Positions", 30), ("Lot, box", 20)];

fn row(part: &str, maker: &str, pieces: &str, at: &str) -> String {
    format!(
        "<tr><td><span class=\"box\"></span></td><td><span class=\"part\">{}</span> {}</td><td><b>{pieces}</b></td><td>{}</td><td></td></tr>\n",
        escape(part),
        escape(maker),
        escape(at)
    )
}

/// A sheet of labels as stationers sell it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum LabelPaper {
    /// A4, 3 by 8 labels of 70 x 37 mm without gaps.
    A4,
    /// US Letter, 3 by 10 labels of 66.7 x 25.4 mm, 3.2 mm between the columns.
    Letter,
}

impl LabelPaper {
    /// Labels on a sheet.
    const fn on_a_sheet(self) -> usize {
        match self {
            Self::A4 => 24,
            Self::Letter => 30,
        }
    }

    const fn style(self) -> &'static str {
        match self {
            Self::A4 => {
                "\n@page { size: A4; margin: 0; } .sheet { width: 210mm; height: 296.5mm; padding: 0.5mm 0 0; grid-template-columns: repeat(3, 70mm); grid-auto-rows: 37mm; } .label { padding: 3.5mm 4.5mm; font-size: 10pt; } .part { font-size: 13pt; }"
            }
            Self::Letter => {
                "\n@page { size: Letter; margin: 0; } .sheet { width: 215.9mm; height: 279mm; padding: 12.7mm 4.76mm 0; grid-template-columns: repeat(3, 66.67mm); column-gap: 3.18mm; grid-auto-rows: 25.4mm; } .label { padding: 1.5mm 3mm; font-size: 8pt; } .part { font-size: 10.5pt; }"
            }
        }
    }
}

/// `labels.html` and `labels_letter.html`: for every part a bin, for every unit a bag and what goes into it.
fn labels(job: &Job, purchase: &Purchase, paper: LabelPaper) -> String {
    let label = |head: &str, part: &str, qty: &str, at: &str| {
        format!(
            "<div class=\"label\"><p class=\"what\">{}</p><p class=\"part\">{} <b>{}</b></p><p class=\"at\">{}</p><p class=\"lot\">Lot</p></div>\n",
            escape(head),
            escape(part),
            escape(qty),
            escape(at)
        )
    };
    let pieces = |qty: Option<u64>| qty.map_or_else(|| "× ?".to_owned(), |qty| format!("× {qty}"));
    let mut all: Vec<String> = purchase
        .lines
        .iter()
        .map(|line| label("Bin", &line.part_number, &pieces(line.need_qty), &places(job, &line.places)))
        .collect();
    let kits = all_kits(job, purchase);
    let (units, mut before): (u64, u64) = (kits.iter().map(|kit| kit.bags).sum(), 0);
    for kit in &kits {
        for nth in 1..=kit.bags.min(BAGS_LISTED) {
            let head = bag(kit, before, nth, units);
            let sum = kit.rows.iter().map(|row| row.pieces).sum();
            all.push(label(&head, &job.name, &pieces(Some(sum)), "the whole bag"));
            all.extend(
                kit.rows.iter().map(|row| {
                    label(&head, &row.line.part_number, &pieces(Some(row.pieces)), &places(job, &row.places))
                }),
            );
        }
        before += kit.bags;
    }
    let sheets: String = all
        .chunks(paper.on_a_sheet())
        .map(|sheet| format!("<section class=\"sheet\">\n{}</section>\n", sheet.concat()))
        .collect();
    framed(&format!("Labels: {}", job.name), &format!("{}{LABELS}", paper.style()), sheets)
}

/// What does not fit on a label is cut at its edge: a label never runs into its neighbour.
const LABELS: &str = concat!("\n", include_str!("labels.css"));

/// The packing lists and both kinds of labels: file names and pages.
pub fn packing(job: &Job, purchase: &Purchase) -> [(&'static str, String); 3] {
    [
        ("kits.html", kits(job, purchase)),
        ("labels.html", labels(job, purchase, LabelPaper::A4)),
        ("labels_letter.html", labels(job, purchase, LabelPaper::Letter)),
    ]
}
