//! The sheet for the bench: the caution and the first board's picture on page 1, a row for each position to work through, then the
//! other boards, the parts, what was assumed, signature and next due date. One print for each unit. What else belongs to a board
//! has its place at the end of [`board_section`].

use std::collections::BTreeMap;

use super::fitting::{Charge, charges, how_to_fit, polarity, rating, size};
use super::html::{blank, escape, known, page, table};
use super::other_parts;
use super::true_size::true_sizes;
use crate::domain::safety::{DISCHARGE_OHM, NO_CAUTION, SAFE_V, STEPS, WHO_DECIDES};
use crate::domain::schema::contradictions;
use crate::domain::style::money;
use crate::domain::{Assumed, Can, Catalog, Date, Job, Mounting, Outcome, Position, Side, UnitType};
use crate::files::board_svg::{self, SHEET_WIDTH_MM};
use crate::files::photo::Photo;
use crate::physics::condition::Condition;
use crate::sizing::assumed::{CONSEQUENCES, ToMeasure, assumed_figures, to_measure};
use crate::sizing::old_part;
use crate::sizing::reasons::{all_known, figure};
use crate::sizing::{CatalogIndex, Contexts, Due, PositionSizing, Purchase, PurchaseLine, ShelfUse, Sizing};

/// Tables are repeated for each board of a kind up to this many; beyond it the sheet asks for copies.
const BOARDS_REPEATED: u32 = 8;

/// What is printed of a page of Letter, the lower of the two papers, mm.
const PAGE_MM: f64 = 256.0;
/// What stands above the caution and between it and a picture, mm.
const HEAD_MM: f64 = 38.0;
/// A lower picture of the first board goes to the next page, mm.
const LEAST_PICTURE_MM: f64 = 60.0;
/// The largest picture on a page with a table below it, mm.
const PICTURE_MM: f64 = 120.0;

/// `worksheet.html`, portrait. `photos` are those of the boards, in their order. `today` is printed as the day of the plan and sets the
/// due date of a rebuild done that day.
pub fn worksheet(
    job: &Job,
    catalog_index: &CatalogIndex,
    sizing: &Sizing,
    purchase: &Purchase,
    photos: &[Option<Photo>],
    today: Option<Date>,
) -> String {
    let catalog = catalog_index.catalog();
    let charges = charges(job, catalog, sizing);
    let (caution, caution_mm) = cautions(job, sizing, &charges);
    let left_mm = PAGE_MM - HEAD_MM - caution_mm;
    let mut body = head(job, today) + &caution;
    for at in 0..job.boards.len() {
        let photo = photos.get(at).and_then(Option::as_ref);
        let below_caution = (at == 0 && left_mm >= LEAST_PICTURE_MM).then_some(left_mm);
        body.push_str(&board_section(job, at, catalog, sizing, &charges, photo, below_caution));
    }
    let unit = other_parts::tables(job, None, "Unit");
    if !unit.is_empty() {
        body.push_str(&format!("<section class=\"keep\"><h2>On no board</h2>\n{unit}</section>\n"));
    }
    body.push_str(&parts_list(job, catalog, purchase));
    body.push_str(&handling(job, catalog, sizing));
    let measured = to_measure(job, catalog, sizing);
    body.push_str(&measure_first(job, sizing, &measured));
    body.push_str(&assumed(job, catalog, sizing, purchase, &measured));
    body.push_str(&signature(job, sizing, today));
    page(&format!("Worksheet: {}", job.name), body)
}

fn head(job: &Job, today: Option<Date>) -> String {
    let boards: Vec<String> = job
        .boards
        .iter()
        .map(|board| format!("{} × {}", figure(job.most_in_one(board)), escape(&board.name)))
        .collect();
    let units = match job.unit_types.as_slice() {
        [] => job.units.map_or_else(|| "unknown, counted as 1".to_owned(), figure),
        types => {
            let each = types.iter().map(|of| {
                format!(
                    "{} of type {} ({})",
                    figure(of.units_or_one()),
                    escape(&of.name),
                    escape(&of.boards.join(", "))
                )
            });
            format!("{}: {}", figure(job.units_in_all()), each.collect::<Vec<_>>().join(", "))
        }
    };
    let planned = today.map_or_else(|| "day unknown".to_owned(), |today| today.to_string());
    format!(
        "<h1>{}</h1>\n<p>Worksheet for one unit of {units}: print one for each. Boards in a unit: {}. Planned {planned}.</p>\n<div class=\"head\"><span>Serial number {}</span><span>Date {}</span><span>Technician {}</span></div>\n",
        escape(&job.name),
        boards.join(", "),
        blank(34),
        blank(28),
        blank(36)
    )
}

/// The caution, and how high it prints at most, mm.
fn cautions(job: &Job, sizing: &Sizing, charges: &[Option<Charge>]) -> (String, f64) {
    let mut charged = Vec::new();
    for (sized, charge) in sizing.positions.iter().zip(charges) {
        let Some(position) = job.position(sized.id) else { continue };
        if let Some(charge) = charge.as_ref().filter(|charge| charge.caution) {
            let board = job.boards.get(sized.id.board).map_or("", |board| &board.name);
            charged.push(format!(
                "<li><b>{} {}</b>: {} V ({}), {}, {}</li>",
                escape(board),
                escape(&position.reference),
                figure(charge.volt),
                charge.volt_of,
                charge.energy(),
                charge.time_to_safe()
            ));
        }
    }
    let unknown = sizing.positions.iter().zip(charges).filter(|(_, charge)| charge.is_none());
    let unknown: Vec<String> =
        unknown.filter_map(|(sized, _)| Some(escape(&job.position(sized.id)?.reference))).collect();
    let wrong = job.positions().flat_map(|(_, position)| {
        contradictions(position).into_iter().map(|(_, words)| format!("{}: {words}.", escape(&position.reference)))
    });
    let wrong: Vec<String> = wrong.collect();
    let mut below = vec![if charged.is_empty() {
        "<p>No position is known to be above 60 V or 10 J. Measure all the same.</p>".to_owned()
    } else {
        let ohm = DISCHARGE_OHM / 1e3;
        format!("<p class=\"small\">Above 60 V or 10 J, with the time through {ohm} kΩ to {SAFE_V} V:</p>")
    }];
    if !unknown.is_empty() {
        below.push(format!(
            "<p class=\"small\">Voltage or capacitance not known, treat as charged: <b>{}</b>.</p>",
            unknown.join(", ")
        ));
    }
    if !wrong.is_empty() {
        below.push(format!("<p class=\"small\">Entries that contradict each other: <b>{}</b></p>", wrong.join(" ")));
    }
    below.extend(other_parts::potting(job));
    below.push(format!("<p class=\"small\">{NO_CAUTION} The figures on this sheet are an aid. {WHO_DECIDES}</p>"));
    let steps = STEPS.map(|(word, text)| format!("<li><b>{word}</b> {text}</li>"));
    // Letters beside each other, height of a line and what is between, for each kind of text.
    let high = |texts: &[String], letters: usize, line_mm: f64| {
        let lines = texts.iter().map(|text| seen(text).div_ceil(letters) as f64 * line_mm + 0.9);
        lines.sum::<f64>()
    };
    let height_mm = 16.0 + high(&steps, 104, 4.3) + high(&charged, 54, 4.2) / 2.0 + 2.6 + high(&below, 112, 4.3);
    let list = format!("<ul class=\"small columns\">{}</ul>", charged.concat());
    below.insert(1, if charged.is_empty() { String::new() } else { list });
    let caution = format!(
        "<div class=\"caution\"><h2>Caution: these parts keep their charge after the power is off</h2>\n<ol>{}</ol>\n{}</div>\n",
        steps.concat(),
        below.concat()
    );
    (caution, height_mm)
}

/// How many letters of a piece of markup are seen.
fn seen(markup: &str) -> usize {
    markup.split('<').map(|piece| piece.rsplit('>').next().unwrap_or_default().chars().count()).sum()
}

fn chosen(catalog: &Catalog, sized: &PositionSizing) -> Option<Can> {
    sized.choice.part.map(|part| catalog.can(part.id))
}

fn board_section(
    job: &Job,
    at: usize,
    catalog: &Catalog,
    sizing: &Sizing,
    charges: &[Option<Charge>],
    photo: Option<&Photo>,
    below_caution_mm: Option<f64>,
) -> String {
    let board = &job.boards[at];
    let per_unit = job.most_in_one(board);
    let room_mm = [SHEET_WIDTH_MM, below_caution_mm.unwrap_or(PICTURE_MM)];
    let sides =
        [Side::Top, Side::Bottom].map(|side| board_svg::for_sheet(job, catalog, sizing, (at, side), room_mm, photo));
    let maps: Vec<String> = sides.into_iter().flatten().collect();
    let page = if below_caution_mm.is_some() || (maps.is_empty() && at > 0) { "" } else { " class=\"board\"" };
    let mut section = format!("<section{page}><h2>Board {}</h2>\n", escape(&board.name));
    if maps.is_empty() {
        section.push_str("<p>No position of this board was located, so there is no map.</p>\n");
    }
    for svg in maps {
        section.push_str(&format!("<div class=\"map\">{svg}</div>\n"));
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and the limit")]
    let repeats = per_unit.ceil().clamp(1.0, f64::from(BOARDS_REPEATED)) as u32;
    let sized = sizing.positions.iter().zip(charges);
    let of_board: Vec<_> = sized.skip(sizing.positions.partition_point(|sized| sized.id.board < at)).collect();
    let of_board = &of_board[..of_board.partition_point(|(sized, _)| sized.id.board == at)];
    let rows: String = of_board
        .iter()
        .filter_map(|(sized, charge)| Some(row(job, job.position(sized.id)?, sized, catalog, charge.as_ref())))
        .collect();
    for copy in 1..=repeats {
        let name = match repeats {
            1 => escape(&board.name),
            _ => format!("{} {copy} of {}", escape(&board.name), figure(per_unit)),
        };
        if !rows.is_empty() {
            let above = format!("{name} &#8195; Serial number {}", blank(40));
            section.push_str(&table("bench", &above, &COLUMNS, &rows));
        }
        section.push_str(&other_parts::tables(job, Some(at), &name));
    }
    if per_unit > f64::from(BOARDS_REPEATED) {
        section.push_str(&format!(
            "<p><b>Copy this table for the boards {} to {}.</b></p>",
            BOARDS_REPEATED + 1,
            figure(per_unit)
        ));
    }
    let of_board: Vec<&PositionSizing> = of_board.iter().map(|(sized, _)| *sized).collect();
    section + &true_sizes(job, catalog, &of_board) + "</section>\n"
}

const COLUMNS: [(&str, u32); 8] = [
    ("Position", 9),
    ("Old part", 15),
    ("New part", 21),
    ("Polarity, how to fit", 18),
    ("Stored energy", 14),
    ("Measured before, at&#8195;&#8195;&#8195;Hz", 9),
    ("Measured after, at&#8195;&#8195;&#8195;Hz", 9),
    ("Done", 5),
];

fn row(job: &Job, position: &Position, sized: &PositionSizing, catalog: &Catalog, charge: Option<&Charge>) -> String {
    let old = &position.original.can;
    let new = chosen(catalog, sized);
    let label = position.original.label.clone().unwrap_or_else(|| rating(old));
    let new_part = match (sized.choice.part, &new, &position.pick) {
        (Some(part), Some(can), _) => {
            let verdict = match sized.choice.verdict {
                Outcome::Pass if sized.choice.passes_on_assumed_stress() => {
                    " <span class=\"danger\">pass on assumed stress</span>".to_owned()
                }
                Outcome::Pass => String::new(),
                other => format!(" <span class=\"danger\">{}</span>", other.word()),
            };
            let maker = escape(catalog.maker(part.id));
            format!(
                "<span class=\"part\">{}</span> {maker}<br>{}<br>{}{verdict}",
                escape(&catalog.told(job, part.id)),
                rating(can),
                size(can)
            )
        }
        (_, _, Some(pick)) => format!("<span class=\"part\">{}</span><br>not in the catalogue", escape(pick)),
        _ => "<span class=\"danger\">no part yet</span>".to_owned(),
    };
    let fit = match (&new, sized.choice.part) {
        (Some(can), Some(part)) => how_to_fit(position, can, &part.evaluation).join("; "),
        _ => "ask the engineer".to_owned(),
    };
    let charge = match charge {
        Some(charge) => {
            let energy = format!("{} V {}, {}", figure(charge.volt), charge.volt_of, charge.energy());
            let energy = if charge.caution { format!("<span class=\"danger\">{energy}</span>") } else { energy };
            format!("{energy}<br>{}", charge.discharge())
        }
        None => "<span class=\"danger\">unknown</span><br>treat as charged".to_owned(),
    };
    let long = if position.reference.chars().count() > 5 { " long" } else { "" };
    format!(
        "<tr><td class=\"ref{long}\">{}</td><td>{}<br>{}{}{}</td><td>{new_part}</td><td><b>{}</b><br>{}</td><td>{charge}</td><td>{}</td><td>{}</td><td><span class=\"box\"></span>{}</td></tr>\n",
        escape(&position.reference),
        escape(&label),
        size(old),
        if position.traced_from.is_some() { " (from the photo, to about 1 mm)" } else { "" },
        condition(position),
        escape(&polarity(position, new.as_ref())),
        if position.potted == Some(true) {
            format!("{}{}", other_parts::DIG_OUT_MARK, escape(&fit))
        } else {
            escape(&fit)
        },
        write_in(),
        write_in(),
        blank(7),
    )
}

/// Blanks for one measurement.
fn write_in() -> String {
    format!("<span class=\"write\">{} µF</span><br><span class=\"write\">{0} mΩ</span>", blank(9))
}

/// What was measured on the part when the board was traced.
fn condition(position: &Position) -> String {
    let Some(measured) = &position.measured else { return String::new() };
    let worn = old_part::condition(position).0.condition;
    if worn == Condition::Unknown {
        return String::new();
    }
    let values = all_known(&[(measured.capacitance_uf, "µF"), (measured.esr_mohm, "mΩ")]);
    format!("<br><span class=\"small\">measured: {} ({})</span>", values.join(", "), worn.word())
}

fn parts_list(job: &Job, catalog: &Catalog, purchase: &Purchase) -> String {
    let types = job.unit_types_or_one();
    let names: Vec<String> = match types.as_slice() {
        [_] => vec!["Pieces".to_owned()],
        types => types.iter().map(|of| escape(&of.name)).collect(),
    };
    let shelf = purchase.lines.iter().any(|line| !line.from_shelf.is_empty());
    let mut columns = vec![("Part", 33), ("Rating", 17)];
    columns.extend(names.iter().map(|name| (name.as_str(), 7)));
    columns.push(("Positions", 20));
    if shelf {
        columns.push(("From the shelf", 14));
    }
    columns.push(("Lot, date code", 16));
    let row = |line: &PurchaseLine| {
        let at: Vec<String> = line.places.iter().map(|&place| escape(&job.full_name(place))).collect();
        let pieces = |of: &UnitType| -> String {
            let pieces: f64 = line.places.iter().map(|&place| job.pieces_in(of, place)).sum();
            format!("<td><b>{}</b></td>", figure(pieces))
        };
        let used: Vec<String> = line.from_shelf.iter().map(|used: &ShelfUse| escape(&used.note())).collect();
        format!(
            "<tr><td><span class=\"part\">{}</span> {}</td><td>{}</td>{}<td>{}</td>{}<td></td></tr>\n",
            escape(&line.told),
            escape(&line.maker),
            line.part.map(|id| rating(&catalog.can(id))).unwrap_or_default(),
            types.iter().map(pieces).collect::<String>(),
            at.join(", "),
            if shelf { format!("<td>{}</td>", used.join("<br>")) } else { String::new() }
        )
    };
    let rows: String = purchase.lines.iter().map(row).collect();
    let missing: Vec<String> = purchase.without_part.iter().map(|&place| escape(&job.full_name(place))).collect();
    let missing = if missing.is_empty() {
        String::new()
    } else {
        format!("<p><b>Still without a part: {}.</b></p>", missing.join(", "))
    };
    format!(
        "<section><h2>Parts for one unit</h2>\n{}{missing}\n<p class=\"small\">Note lot and date code: the next rebuild needs them.</p></section>\n",
        table("list", "", &columns, &rows)
    )
}

/// Storage, reflow and cleaning (published, Cornell Dubilier SMT guide and KEMET polymer profile; Chemi-Con E1001 chapter 6,
/// contents only).
fn handling(job: &Job, catalog: &Catalog, sizing: &Sizing) -> String {
    let smd: Vec<String> = sizing
        .positions
        .iter()
        .filter(|sized| chosen(catalog, sized).is_some_and(|can| can.mounting == Some(Mounting::Smd)))
        .filter_map(|sized| Some(escape(&job.position(sized.id)?.reference)))
        .collect();
    let reflow = if smd.is_empty() {
        String::new()
    } else {
        format!(
            "<li><b>Reflow</b> of SMD cans ({}): at most two passes, peak by size as the maker prints (230 to 250 °C), never a third.</li>",
            smd.join(", ")
        )
    };
    format!(
        "<section class=\"keep\"><h2>Handling</h2><ul class=\"small\"><li><b>Spares</b>: stored over 2 years they are re-formed before use (rated voltage through 100 Ω up to 100 V, else 1 kΩ, 1 h, then 12 to 48 h rest).</li>{reflow}<li><b>Caution</b>: halogenated cleaners and fumigants attack the can through its seal. Clean with none of them, and do not store parts where crates are fumigated.</li></ul></section>\n"
    )
}

/// What has to be measured before a pass on assumed stress is a pass: a row for each position, a column for each figure.
fn measure_first(job: &Job, sizing: &Sizing, items: &[ToMeasure]) -> String {
    if items.is_empty() {
        return String::new();
    }
    let long = Assumed::DC.with(Assumed::RIPPLE);
    let one = |which: Assumed| items.iter().find(|item| item.figure.which == which);
    let taken: Vec<_> = CONSEQUENCES.iter().filter_map(|(which, worse)| Some((one(*which)?, worse))).collect();
    let cost = job.currency.as_deref().map_or_else(|| "Parts".to_owned(), |code| format!("Parts, {}", escape(code)));
    let heads: Vec<String> = taken.iter().map(|(item, worse)| format!("{}: {worse}", item.figure.words)).collect();
    // The longest entries: `up to 180 V peak`, `11 A at 120 Hz`.
    let parts = taken.iter().map(|(item, _)| if long.contains(item.figure.which) { 3 } else { 2 });
    let all: u32 = parts.clone().sum();
    let mut columns = vec![("Position", 14)];
    columns.extend(heads.iter().map(String::as_str).zip(parts.map(|parts| 77 * parts / all)));
    columns.push((&cost, 9));
    let row = |of_position: &[ToMeasure]| {
        let first = of_position.first()?;
        let cell =
            |(column, _): &(&ToMeasure, _)| match of_position.iter().find(|i| i.figure.which == column.figure.which) {
                Some(item) => format!("<td>{} {}</td>", escape(&item.figure.value), blank(13)),
                None => "<td>–</td>".to_owned(),
            };
        Some(format!(
            "<tr><td>{}</td>{}<td>{}</td></tr>\n",
            escape(&job.full_name(first.id.into())),
            taken.iter().map(cell).collect::<String>(),
            first.cost.map_or_else(|| "unknown".to_owned(), money),
        ))
    };
    let rows: String = items.chunk_by(|one, next| one.id == next.id).filter_map(row).collect();
    format!(
        "<section class=\"keep\"><h2>To measure first</h2><p>{}. These parts pass only on stress that nobody entered: measure beside what was taken. Under each figure, what a worse one does. Dearest first.</p>{}</section>\n",
        sizing.counts().words(),
        table("small", "", &columns, &rows)
    )
}

/// What was taken of other figures than the `measured` ones, which have a table of their own.
fn assumed(job: &Job, catalog: &Catalog, sizing: &Sizing, purchase: &Purchase, measured: &[ToMeasure]) -> String {
    let mut by_figure: BTreeMap<&str, BTreeMap<String, Vec<String>>> = BTreeMap::new();
    let places = Contexts::new(job, catalog);
    for sized in &sizing.positions {
        let Some(position) = job.position(sized.id) else { continue };
        let Some((part, context)) = sized.choice.part.zip(places.at(sized.id)) else {
            continue;
        };
        let all = assumed_figures(&context, &catalog.can(part.id), &part.evaluation, part.evaluation.assumed);
        for figure in all {
            if !measured.iter().any(|item| item.id == sized.id && item.figure.which == figure.which) {
                let at = by_figure.entry(figure.words).or_default().entry(escape(figure.taken())).or_default();
                at.push(escape(&position.reference));
            }
        }
    }
    let told = |(taken, at): (String, Vec<String>)| format!("{taken} {}", at.join(", ")).trim_start().to_owned();
    let mut items: Vec<String> = by_figure
        .into_iter()
        .map(|(words, taken)| {
            let all: Vec<String> = taken.into_iter().map(told).collect();
            format!("<li><b>{words}</b>: {}</li>", all.join("; "))
        })
        .collect();
    items.extend(purchase.notes.iter().map(|note| format!("<li>{}</li>", escape(note))));
    if items.is_empty() {
        return "<section class=\"keep\"><h2>Assumed</h2><p>Nothing.</p></section>\n".to_owned();
    }
    format!(
        "<section><h2>Assumed</h2><p>Not from the parts' own data and not entered, with what was taken:</p><ul class=\"small columns\">{}</ul></section>\n",
        items.join("")
    )
}

fn signature(job: &Job, sizing: &Sizing, today: Option<Date>) -> String {
    let due = Due::of(job, sizing);
    let limit = due.limited_by.map_or_else(String::new, |place| {
        format!(", set by {}, whose part is used up first", escape(&job.full_name(place)))
    });
    let when = match due.years {
        None => "The interval is not known: ask the engineer before the unit goes back.".to_owned(),
        Some(years) => {
            let example = today
                .and_then(|today| Some(format!(" Done on {today} it is due on <b>{}</b>.", due.date(today)?)))
                .unwrap_or_default();
            format!("The next rebuild is due <b>{} years</b> after this one{limit}.{example}", figure(years))
        }
    };
    let unknown: Vec<String> = due.unknown.iter().map(|&place| escape(&job.full_name(place))).collect();
    let unknown = if unknown.is_empty() {
        String::new()
    } else {
        format!("<p><b>Life not known at {}: it may be due sooner.</b></p>", unknown.join(", "))
    };
    let target = known(job.interval_years, "years");
    format!(
        "<section class=\"keep\"><h2>Next due, signature</h2><p>{when} Interval asked for: {target}.</p>{unknown}\n<div class=\"sign\"><span>All positions done and checked {}</span><span>Date {}</span><span>Next due {}</span><span>Checked by {}</span></div></section>\n",
        blank(55),
        blank(35),
        blank(35),
        blank(55)
    )
}
