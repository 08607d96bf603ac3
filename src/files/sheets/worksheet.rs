//! The sheet for the bench: the caution and the first board's picture on page 1, a row for each position to work through, then the
//! other boards, the parts, what was assumed, signature and next due date. One print for each unit. What else belongs to a board
//! has its place at the end of [`board_section`].

use super::fitting::{Charge, charges, how_to_fit, polarity, rating, size};
use super::html::{blank, escape, known, page};
use super::other_parts;
use crate::domain::safety::{NO_CAUTION, STEPS, WHO_DECIDES};
use crate::domain::schema::contradictions;
use crate::domain::style::money;
use crate::domain::{Can, Catalog, Date, Job, Mounting, Outcome, Position, Side, UnitType};
use crate::files::board_svg;
use crate::files::photo::Photo;
use crate::physics::condition::{Condition, assess};
use crate::physics::esr;
use crate::sizing::assumed::{assumed_words, to_measure};
use crate::sizing::reasons::figure;
use crate::sizing::{CatalogIndex, Contexts, Due, PositionSizing, Purchase, ShelfUse, Sizing};

/// Tables are repeated for each board of a kind up to this many; beyond it the sheet asks for copies.
const BOARDS_REPEATED: u32 = 8;

/// `worksheet.html`, portrait. `photos` are those of the boards, in their order. `today` is printed as the day of the plan and sets the
/// due date of a rebuild done that day.
#[must_use]
pub fn worksheet(
    job: &Job,
    catalog_index: &CatalogIndex,
    sizing: &Sizing,
    purchase: &Purchase,
    photos: &[Option<Photo>],
    today: Option<Date>,
) -> String {
    let catalog = catalog_index.catalog();
    let mut body = head(job, today);
    let charges = charges(job, catalog, sizing);
    body.push_str(&cautions(job, sizing, &charges));
    for at in 0..job.boards.len() {
        let photo = photos.get(at).and_then(Option::as_ref);
        body.push_str(&board_section(job, at, catalog, sizing, &charges, photo));
    }
    let unit = other_parts::tables(job, None, "Unit");
    if !unit.is_empty() {
        body.push_str(&format!("<section class=\"board\"><h2>On no board</h2>\n{unit}</section>\n"));
    }
    body.push_str(&parts_list(job, catalog, purchase));
    body.push_str(&handling(job, catalog, sizing));
    body.push_str(&measure_first(job, catalog, sizing));
    body.push_str(&assumed(job, catalog, sizing, purchase));
    body.push_str(&signature(job, sizing, today));
    page(&format!("Worksheet: {}", job.name), &body)
}

fn head(job: &Job, today: Option<Date>) -> String {
    let boards: Vec<String> = job
        .boards
        .iter()
        .map(|board| format!("{} × {}", figure(board.per_unit_or_one()), escape(&board.name)))
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

fn cautions(job: &Job, sizing: &Sizing, charges: &[Option<Charge>]) -> String {
    let mut charged = String::new();
    for (sized, charge) in sizing.positions.iter().zip(charges) {
        let Some(position) = job.position(sized.id) else { continue };
        if let Some(charge) = charge.as_ref().filter(|charge| charge.caution) {
            let board = job.boards.get(sized.id.board).map_or("", |board| &board.name);
            charged.push_str(&format!(
                "<li><b>{} {}</b>: {} V ({}), {}, {}</li>",
                escape(board),
                escape(&position.reference),
                figure(charge.volt),
                charge.volt_of,
                charge.energy(),
                charge.discharge()
            ));
        }
    }
    let unknown = sizing.positions.iter().zip(charges).filter(|(_, charge)| charge.is_none());
    let unknown: Vec<String> =
        unknown.filter_map(|(sized, _)| Some(escape(&job.position(sized.id)?.reference))).collect();
    let unknown = if unknown.is_empty() {
        String::new()
    } else {
        format!("<p>Voltage or capacitance not known, treat as charged: <b>{}</b>.</p>", unknown.join(", "))
    };
    let charged = if charged.is_empty() {
        "<p>No position is known to be above 60 V or 10 J. Measure all the same.</p>".to_owned()
    } else {
        format!("<p>Above 60 V or 10 J:</p><ul class=\"small\" style=\"columns:2\">{charged}</ul>")
    };
    let wrong = job.positions().flat_map(|(_, position)| {
        contradictions(position).into_iter().map(|(_, words)| format!("{}: {words}.", escape(&position.reference)))
    });
    let wrong: Vec<String> = wrong.collect();
    let wrong = if wrong.is_empty() {
        String::new()
    } else {
        format!("<p>Entries that contradict each other: <b>{}</b></p>", wrong.join(" "))
    };
    let potting = other_parts::potting(job);
    let steps: String = STEPS.iter().map(|(word, text)| format!("<li><b>{word}</b> {text}</li>")).collect();
    format!(
        "<div class=\"caution\"><h2>Caution: these parts keep their charge after the power is off</h2>\n\
<ol>{steps}</ol>\n{charged}{unknown}{wrong}\
{potting}<p class=\"small\">{NO_CAUTION} The figures on this sheet are an aid. {WHO_DECIDES}</p></div>\n"
    )
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
) -> String {
    let board = &job.boards[at];
    let per_unit = board.per_unit_or_one();
    // The picture of the first board stands below the caution.
    let page = if at == 0 { "" } else { " class=\"board\"" };
    let mut section = format!("<section{page}><h2>Board {}</h2>\n", escape(&board.name));
    let sides = [Side::Top, Side::Bottom].map(|side| board_svg::for_sheet(job, catalog, sizing, at, side, photo));
    let maps: Vec<String> = sides.into_iter().flatten().collect();
    if maps.is_empty() {
        section.push_str("<p>No position of this board was located, so there is no map.</p>\n");
    }
    for svg in maps {
        section.push_str(&format!(
            "<div class=\"map\">{svg}<p class=\"small\">Light: new part, largest body. Dashed: old part. Bar: negative side. Hatched areas: stay out.</p></div>\n"
        ));
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
        section.push_str(&table(&name, &rows));
        section.push_str(&other_parts::tables(job, Some(at), &name));
    }
    if per_unit > f64::from(BOARDS_REPEATED) {
        section.push_str(&format!(
            "<p><b>Copy this table for the boards {} to {}.</b></p>",
            BOARDS_REPEATED + 1,
            figure(per_unit)
        ));
    }
    section + "</section>\n"
}

const HEADINGS: [(&str, u32); 8] = [
    ("Position", 10),
    ("Old part", 15),
    ("New part", 18),
    ("Polarity, how to fit", 19),
    ("Stored energy", 11),
    ("Measured before", 10),
    ("Measured after", 10),
    ("Done", 7),
];

fn table(copy: &str, rows: &str) -> String {
    let columns =
        HEADINGS.iter().map(|(_, width)| format!("<col style=\"width:{width}%\">")).collect::<Vec<_>>().concat();
    let headings = HEADINGS.iter().map(|(name, _)| format!("<th>{name}</th>")).collect::<Vec<_>>().concat();
    format!(
        "<table class=\"bench\"><colgroup>{columns}</colgroup><thead><tr><th class=\"which\" colspan=\"{}\">{copy} &#8195; Serial number {}</th></tr><tr>{headings}</tr></thead><tbody>\n{rows}</tbody></table>\n",
        HEADINGS.len(),
        blank(40)
    )
}

fn row(job: &Job, position: &Position, sized: &PositionSizing, catalog: &Catalog, charge: Option<&Charge>) -> String {
    let old = &position.original.can;
    let new = chosen(catalog, sized);
    let label = position.original.label.clone().unwrap_or_else(|| rating(old));
    let new_part = match (sized.choice.part, &new, &position.pick) {
        (Some(part), Some(can), _) => {
            let verdict = match sized.choice.verdict {
                Outcome::Pass if sized.choice.passes_on_assumed_stress() => {
                    "<br><span class=\"danger\">pass on assumed stress</span>".to_owned()
                }
                Outcome::Pass => String::new(),
                other => format!("<br><span class=\"danger\">{}</span>", other.word()),
            };
            let maker = escape(catalog.maker(part.id));
            format!(
                "<span class=\"part\">{}</span><br>{maker}<br>{}{verdict}",
                escape(&catalog.told(job, part.id)),
                rating(can)
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
            let energy = format!("{} V {}<br>{}", figure(charge.volt), charge.volt_of, charge.energy());
            let energy = if charge.caution { format!("<span class=\"danger\">{energy}</span>") } else { energy };
            format!("{energy}<br>{}", charge.discharge())
        }
        None => "<span class=\"danger\">unknown</span><br>treat as charged".to_owned(),
    };
    let long = if position.reference.chars().count() > 5 { " long" } else { "" };
    format!(
        "<tr><td class=\"ref{long}\">{}</td><td>{}<br>{}{}{}</td><td>{new_part}{}</td><td><b>{}</b><br>{}</td><td>{charge}</td><td>{}</td><td>{}</td><td><span class=\"box\"></span>{}</td></tr>\n",
        escape(&position.reference),
        escape(&label),
        size(old),
        if position.traced_from.is_some() { " (from the photo, to about 1 mm)" } else { "" },
        condition(position),
        new.as_ref().map_or_else(String::new, |can| format!("<br>{}", size(can))),
        escape(&polarity(position, new.as_ref())),
        if position.potted == Some(true) {
            format!("{}{}", other_parts::DIG_OUT_MARK, escape(&fit))
        } else {
            escape(&fit)
        },
        write_in(),
        write_in(),
        blank(9),
    )
}

/// Blanks for one measurement.
fn write_in() -> String {
    format!(
        "<span class=\"write\">{} µF</span><br><span class=\"write\">{} mΩ</span><br><span class=\"write small\">at {} Hz</span>",
        blank(9),
        blank(8),
        blank(7)
    )
}

/// What was measured on the part when the board was traced.
fn condition(position: &Position) -> String {
    let Some(measured) = &position.measured else { return String::new() };
    let nominal = position.original.can.capacitance_uf;
    let esr_at = measured.esr_hz.and_then(|hz| esr::at_hz(&position.original.can, hz)).map(|e| e.mohm);
    let ratio = |value: Option<f64>, reference: Option<f64>| Some(value? / reference.filter(|r| *r > 0.0)?);
    let worn = assess(ratio(measured.capacitance_uf, nominal), ratio(measured.esr_mohm, esr_at));
    let word = match worn.condition {
        Condition::Unknown => return String::new(),
        Condition::Sound => "sound",
        Condition::Ageing => "ageing",
        Condition::WornOut => "worn out",
    };
    let values = [(measured.capacitance_uf, "µF"), (measured.esr_mohm, "mΩ")];
    let values: Vec<String> =
        values.into_iter().filter_map(|(v, unit)| Some(format!("{} {unit}", figure(v?)))).collect();
    format!("<br><span class=\"small\">measured: {} ({word})</span>", values.join(", "))
}

fn parts_list(job: &Job, catalog: &Catalog, purchase: &Purchase) -> String {
    let mut rows = String::new();
    let types = job.unit_types_or_one();
    for line in &purchase.lines {
        let at: Vec<String> = line.places.iter().map(|&place| escape(&job.full_name(place))).collect();
        let in_one = |of: &UnitType| figure(line.places.iter().map(|&place| job.pieces_in(of, place)).sum());
        let mut per_unit: Vec<String> = types.iter().map(in_one).collect();
        if per_unit.iter().any(|pieces| *pieces != per_unit[0]) {
            per_unit =
                per_unit.iter().zip(&types).map(|(pieces, of)| format!("{}: {pieces}", escape(&of.name))).collect();
        } else {
            per_unit.truncate(1);
        }
        let rated = line.part.map(|id| rating(&catalog.can(id))).unwrap_or_default();
        let shelf: Vec<String> = line.from_shelf.iter().map(|used: &ShelfUse| escape(&used.note())).collect();
        rows.push_str(&format!(
            "<tr><td><span class=\"part\">{}</span><br>{}</td><td>{rated}</td><td><b>{}</b></td><td class=\"small\">{}</td><td class=\"small\">{}</td><td>{}</td></tr>\n",
            escape(&line.told),
            escape(&line.maker),
            per_unit.join("<br>"),
            at.join(", "),
            shelf.join("<br>"),
            blank(32)
        ));
    }
    let missing: Vec<String> = purchase.without_part.iter().map(|&place| escape(&job.full_name(place))).collect();
    let missing = if missing.is_empty() {
        String::new()
    } else {
        format!("<p><b>Still without a part: {}.</b></p>", missing.join(", "))
    };
    format!(
        "<section><h2>Parts for one unit</h2>\n<table><thead><tr><th>Part</th><th>Rating</th><th>Pieces</th><th>Positions</th><th>From the shelf</th><th>Lot, date code</th></tr></thead><tbody>\n{rows}</tbody></table>{missing}\n<p class=\"small\">Parts stored longer than 2 years are re-formed before use. Note lot and date code: the next rebuild needs them.</p></section>\n"
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

/// What has to be measured before a pass on assumed stress is a pass.
fn measure_first(job: &Job, catalog: &Catalog, sizing: &Sizing) -> String {
    let rows: String = to_measure(job, catalog, sizing)
        .iter()
        .filter_map(|item| {
            let (board, position) = (job.boards.get(item.id.board)?, job.position(item.id)?);
            let cost = item.cost.map_or_else(|| "unknown".to_owned(), money);
            Some(format!(
                "<tr><td>{} {}</td><td>{}</td><td>{}</td><td>{cost}</td><td>{}</td></tr>\n",
                escape(&board.name),
                escape(&position.reference),
                escape(&item.figure.sentence()),
                item.consequence,
                blank(30)
            ))
        })
        .collect();
    if rows.is_empty() {
        return String::new();
    }
    let currency = job.currency.as_deref().map_or_else(String::new, |code| format!(", {}", escape(code)));
    format!(
        "<section class=\"keep\"><h2>To measure first</h2><p>{}. These parts pass only on stress that nobody entered. Dearest first.</p><table class=\"small\"><thead><tr><th>Position</th><th>Taken</th><th>If it is worse</th><th>Parts{currency}</th><th>Measured</th></tr></thead><tbody>\n{rows}</tbody></table></section>\n",
        sizing.counts().words()
    )
}

fn assumed(job: &Job, catalog: &Catalog, sizing: &Sizing, purchase: &Purchase) -> String {
    let mut by_figure: std::collections::BTreeMap<String, Vec<String>> = std::collections::BTreeMap::new();
    let places = Contexts::new(job, catalog);
    for sized in &sizing.positions {
        let Some(position) = job.position(sized.id) else { continue };
        let Some((part, context)) = sized.choice.part.zip(places.at(sized.id)) else {
            continue;
        };
        for sentence in assumed_words(&context, &catalog.can(part.id), &part.evaluation) {
            by_figure.entry(escape(&sentence)).or_default().push(escape(&position.reference));
        }
    }
    let mut items: Vec<String> =
        by_figure.into_iter().map(|(name, refs)| format!("<li><b>{name}</b>: {}</li>", refs.join(", "))).collect();
    items.extend(purchase.notes.iter().map(|note| format!("<li>{}</li>", escape(note))));
    if items.is_empty() {
        return "<section class=\"keep\"><h2>Assumed</h2><p>Nothing.</p></section>\n".to_owned();
    }
    format!(
        "<section class=\"keep\"><h2>Assumed</h2><p>Not from the parts' own data and not entered, with what was taken:</p><ul class=\"small\">{}</ul></section>\n",
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
    let unknown: Vec<String> =
        due.unknown.iter().filter_map(|id| Some(escape(&job.position(*id)?.reference))).collect();
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
