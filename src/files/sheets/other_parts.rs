//! The tables of other parts and test points on the worksheet.

use super::html::{blank, escape, table};
use crate::domain::safety::DIG_OUT;
use crate::domain::schema::spoken;
use crate::domain::{Job, OtherPart, TestPoint};
use crate::sizing::other_parts::{lasts, warnings};
use crate::sizing::reasons::{all_known, figure};

/// Said at every part in potting.
pub(super) const DIG_OUT_MARK: &str = "<span class=\"danger\">dig out</span> ";

/// The tables of a board, or with `None` of what is on no board; empty where there is nothing. `name` is markup.
pub(super) fn tables(job: &Job, board: Option<usize>, name: &str) -> String {
    let parts: String =
        job.all_other_parts().filter(|(id, _)| id.board == board).map(|(_, part)| part_row(part)).collect();
    let points: String =
        job.all_test_points().filter(|(id, _)| id.board == board).map(|(_, point)| point_row(point)).collect();
    let titled = |title: &str, columns: &[(&str, u32)], rows: &str| match rows {
        "" => String::new(),
        rows => table("bench", &format!("{name}: {title}"), columns, rows),
    };
    titled("other parts", &PARTS, &parts) + &titled("test points, before the unit goes back", &POINTS, &points)
}

/// The caution on potting; `None` where nothing is potted.
pub(super) fn potting(job: &Job) -> Option<String> {
    let positions = job.positions().any(|(_, position)| position.potted == Some(true));
    let others = job.all_other_parts().any(|(_, part)| part.potted == Some(true));
    (positions || others).then(|| format!("<p class=\"small\"><b>Dig out.</b> {DIG_OUT}</p>"))
}

const PARTS: [(&str, u32); 7] = [
    ("Position", 9),
    ("Old part", 18),
    ("New part", 25),
    ("Why, lasts", 21),
    ("Before", 11),
    ("After", 11),
    ("Done", 5),
];

const POINTS: [(&str, u32); 5] =
    [("Test point", 10), ("What to measure", 41), ("Expected", 20), ("Found", 24), ("Done", 5)];

fn text(text: Option<&String>) -> String {
    text.map_or_else(String::new, |text| escape(text))
}

fn part_row(part: &OtherPart) -> String {
    let (old, new) = (&part.original, &part.replacement);
    let coil = |volt: Option<f64>, ohm: Option<f64>, contacts: Option<&String>| {
        let mut said = all_known(&[(volt, "V"), (ohm, "Ω")]);
        said.extend(contacts.map(|contacts| escape(contacts)));
        if said.is_empty() { String::new() } else { format!("<br>{}", said.join(", ")) }
    };
    let number = part.part_number().map_or_else(
        || "<span class=\"danger\">no part yet</span>".to_owned(),
        |number| format!("<span class=\"part\">{}</span>", escape(number)),
    );
    let cautions: String =
        warnings(part).iter().map(|told| format!("<br><span class=\"danger\">{}</span>", escape(told))).collect();
    let why = part.why.map_or_else(|| "reason unknown".to_owned(), |why| spoken(why.into()));
    let lasts = lasts(part).map_or_else(String::new, |told| format!("<br>{told}"));
    let note = part.note.as_ref().map_or_else(String::new, |note| format!("<br>{}", escape(note)));
    format!(
        "<tr><td class=\"ref\">{}</td><td>{}{}, {} ×<br>{}{}</td><td>{number} {}{}{cautions}{note}</td><td class=\"small\">{why}{lasts}</td><td class=\"small\">{}<br>{}</td><td class=\"small\">{}<br>{}</td><td><span class=\"box\"></span>{}</td></tr>\n",
        escape(&part.reference),
        if part.potted == Some(true) { DIG_OUT_MARK } else { "" },
        escape(&part.kind_word()),
        figure(part.quantity_or_one()),
        text(old.label.as_ref()),
        coil(old.coil_v, old.coil_ohm, old.contacts.as_ref()),
        text(new.maker.as_ref()),
        coil(new.coil_v, new.coil_ohm, new.contacts.as_ref()),
        text(part.measured_before.as_ref()),
        blank(17),
        text(part.measured_after.as_ref()),
        blank(17),
        blank(7),
    )
}

fn point_row(point: &TestPoint) -> String {
    let found = point.found.map_or_else(String::new, |found| {
        let wrong = if point.is_right() == Some(false) { ", outside" } else { "" };
        format!("<br>measured: {} {}{wrong}", figure(found), text(point.unit.as_ref()))
    });
    format!(
        "<tr><td class=\"ref\">{}</td><td>{}</td><td>{}</td><td>{} {}<span class=\"small\">{found}</span></td><td><span class=\"box\"></span>{}</td></tr>\n",
        escape(&point.reference),
        text(point.measure.as_ref()),
        escape(&point.expected()),
        blank(30),
        text(point.unit.as_ref()),
        blank(7),
    )
}
