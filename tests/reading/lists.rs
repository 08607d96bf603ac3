//! Lists of many kinds, read whole: `lists/*.list`, each with what a person reads in it written down first. Every list is hand-made in the
//! manner of a program, a shop, a country or a decade; makers, series and part numbers are invented.
//!
//! Over the line `---` stands what is expected: `as` what the list is, an `item` for each position or part with all its figures (a figure
//! that is read and not named there is a fault), an `ask` for each question with some of its words, an `aside` for each reason rows are set
//! aside with, a `left` for each row or cell that is listed as not used, an `answer` that is given before reading, `file` its name.

use std::collections::BTreeMap;
use std::path::Path;

use refarad::domain::Can;
use refarad::files::import::answer::Answer;
use refarad::files::import::{Report, Source, Target};
use refarad::files::table::Options;

/// A list with what is expected of it.
#[derive(Default)]
struct List {
    name: String,
    expected: BTreeMap<String, Vec<String>>,
    text: String,
}

impl List {
    fn read(path: &Path) -> Self {
        let whole = std::fs::read_to_string(path).unwrap();
        let (head, text) = whole.split_once("---\n").unwrap_or_else(|| panic!("{}: no line ---", path.display()));
        let mut list = Self { name: path.file_stem().unwrap().to_string_lossy().into_owned(), ..Self::default() };
        text.clone_into(&mut list.text);
        for line in head.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
            let (key, value) = line.split_once(' ').unwrap_or((line, ""));
            assert!(
                ["as", "item", "ask", "aside", "left", "answer", "file"].contains(&key),
                "{}: {line}",
                path.display()
            );
            list.expected.entry(key.to_owned()).or_default().push(value.trim().to_owned());
        }
        list
    }

    fn all(&self, key: &str) -> &[String] {
        self.expected.get(key).map_or(&[], Vec::as_slice)
    }
}

/// Every figure of a part, as an `item` names them.
fn figures(can: &Can) -> String {
    let numbers = [
        ("uf", can.capacitance_uf),
        ("v", can.rated_v),
        ("tol", can.tolerance_pct),
        ("min", can.temp_min_c),
        ("max", can.temp_max_c),
        ("life", can.endurance_h),
        ("ripple", can.ripple_a),
        ("hz", can.ripple_hz),
        ("esr", can.esr_mohm),
        ("esr_hz", can.esr_hz),
        ("tan", can.tan_delta),
        ("leak", can.leakage_ua),
        ("d", can.diameter_mm),
        ("h", can.height_mm),
        ("dmax", can.diameter_max_mm),
        ("hmax", can.height_max_mm),
        ("p", can.pitch_mm),
        ("lead", can.lead_d_mm),
    ];
    let numbers = numbers.into_iter().filter_map(|(name, value)| Some(format!("{name}={}", value?)));
    let words = [
        can.technology.map(|of| format!("{of:?}").to_lowercase()),
        can.mounting.map(|of| format!("{of:?}").to_lowercase()),
    ];
    numbers.chain(words.into_iter().flatten()).collect::<Vec<_>>().join(" ")
}

/// What came out of a list.
#[derive(Default)]
struct Out {
    target: Option<Target>,
    items: Vec<String>,
    asked: Vec<String>,
    aside: Vec<String>,
    left: Vec<String>,
}

impl Out {
    fn report(&mut self, report: Report) {
        self.asked.extend(report.questions.into_iter().map(|question| question.what));
        self.aside.extend(report.set_aside.into_iter().map(|set| set.reason));
        let listed = report.rejected.into_iter().filter(|listed| !listed.reason.starts_with("skipped"));
        self.left.extend(
            listed.map(|listed| format!("{} {}: {}: {}", listed.line, listed.field, listed.value, listed.reason)),
        );
    }
}

fn read(list: &List) -> Out {
    let name = list.all("file").first().map_or("list.csv", String::as_str);
    let mut out = Out::default();
    let sources = match Source::all_from_bytes(name.as_ref(), list.text.as_bytes(), None, &Options::default()) {
        Ok(sources) => sources,
        Err(error) => {
            out.left.push(error.to_string());
            return out;
        }
    };
    for mut source in sources {
        for answer in list.all("answer") {
            Answer::parse(answer).unwrap().apply(&mut source.mapping).unwrap();
        }
        out.target = Some(source.mapping.target);
        if source.mapping.target == Target::Parts {
            let import = source.parts();
            out.items
                .extend(import.parts.iter().map(|(_, part)| format!("{}: {}", part.part_number, figures(&part.can))));
            out.report(import.report);
        } else {
            let import = source.positions();
            let item = |position: &refarad::domain::Position| {
                format!("{}: {}", position.reference, figures(&position.original.can))
            };
            out.items.extend(import.positions.iter().map(|(_, position)| item(position)));
            out.report(import.report);
        }
    }
    out
}

/// What differs, in words.
fn faults(list: &List, out: &Out) -> Vec<String> {
    let mut faults = Vec::new();
    let target = out.target.map_or("nothing", |target| target.word()).to_owned();
    if list.all("as").first() != Some(&target) {
        faults.push(format!("read as {target}"));
    }
    let missing = |all: &[String], found: &dyn Fn(&String) -> bool, what: &str| -> Vec<String> {
        all.iter().filter(|one| !found(one)).map(|one| format!("{what}: {one}")).collect()
    };
    faults.extend(missing(list.all("item"), &|item| out.items.contains(item), "expected"));
    faults.extend(missing(&out.items, &|item| list.all("item").contains(item), "got instead"));
    for (key, got) in [("ask", &out.asked), ("aside", &out.aside), ("left", &out.left)] {
        let holds = |got: &String, wanted: &String| got.contains(wanted.as_str());
        let wanted = list.all(key);
        faults.extend(missing(wanted, &|one| got.iter().any(|got| holds(got, one)), &format!("no {key}")));
        faults.extend(missing(
            got,
            &|one| wanted.iter().any(|wanted| holds(one, wanted)),
            &format!("unexpected {key}"),
        ));
    }
    faults
}

#[test]
fn every_list_is_read_as_a_person_reads_it() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reading/lists");
    let mut paths: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let (mut right, mut asked, mut refused) = (0, 0, 0);
    let mut wrong = Vec::new();
    for path in &paths {
        let list = List::read(path);
        let out = read(&list);
        let faults = faults(&list, &out);
        match (faults.is_empty(), out.asked.is_empty(), out.items.is_empty()) {
            (false, ..) => wrong.push(format!("{}\n    {}", list.name, faults.join("\n    "))),
            (_, false, _) => asked += 1,
            (_, _, true) => refused += 1,
            _ => right += 1,
        }
    }
    println!("{} lists: {right} right at once, {asked} with questions, {refused} give nothing", paths.len());
    assert!(wrong.is_empty(), "{} lists are not read as expected:\n{}", wrong.len(), wrong.join("\n"));
    assert!(right > 0, "no list was found");
}
