//! Nothing lost: saving that meets an obstacle, work left behind by a crash, settings between runs, jobs of later versions.

use std::path::{Path, PathBuf};

use eframe::App;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use refarad::app::{Folders, Window};
use refarad::files::job_file::previous;
use refarad::files::{demo, job, load};

use crate::harness::Bench;

/// A job on the disk and a place for what is kept between runs; gone with the test.
struct PanelContext {
    folder: tempfile::TempDir,
}

impl PanelContext {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        demo::write_unless_there(&folder.path().join("jobs"), false).unwrap();
        Self { folder }
    }

    fn job(&self) -> PathBuf {
        self.folder.path().join("jobs/observatory.json")
    }

    fn folders(&self) -> Folders {
        Folders { settings: self.folder.path().join("settings"), recovery: self.folder.path().join("recovery") }
    }

    /// The program as it starts with the job.
    fn start(&self) -> Bench {
        let loaded = load::load(&self.job(), &[]).unwrap();
        Bench::with(Window::holding(loaded, Some(self.job())).keeping_in(self.folders()))
    }

    /// The program as it starts with the demo.
    fn start_with_demo(&self) -> Bench {
        Bench::with(Window::holding(load::load_demo().unwrap(), None).keeping_in(self.folders()))
    }

    fn kept(&self) -> usize {
        std::fs::read_dir(self.folders().recovery).map_or(0, |entries| entries.count())
    }

    /// Somebody else saves the job under another name.
    fn change_outside(&self) {
        let mut theirs = job::read(&self.job()).unwrap().job;
        theirs.name = "Theirs".into();
        std::fs::write(self.job(), job::to_text(&theirs)).unwrap();
    }
}

fn save(bench: &mut Bench) {
    bench.press_with(Modifiers::COMMAND, Key::S);
}

fn type_path(bench: &mut Bench, path: &Path) {
    bench.harness.get_by_label("Path of the job file (*.json)").type_text(path.to_str().unwrap());
    bench.settle();
    bench.click_exactly("Save here");
}

fn name_in(path: &Path) -> String {
    job::read(path).unwrap().job.name
}

#[test]
fn somebody_elses_changes_are_noticed_before_they_are_overwritten_and_stay_beside() {
    let desk = PanelContext::new();
    let mut bench = desk.start();
    bench.click_exactly("Clear pick");
    desk.change_outside();
    save(&mut bench);
    bench.assert_says("Somebody else changed the file");
    assert_eq!(name_in(&desk.job()), "Theirs");
    bench.click_exactly("Overwrite it");
    assert!(!bench.harness.state().has_unsaved_changes());
    assert_eq!(job::read(&desk.job()).unwrap().job, *bench.job());
    assert_eq!(name_in(&previous(&desk.job())), "Theirs");
    bench.press_with(Modifiers::COMMAND, Key::Z);
    save(&mut bench);
    bench.assert_says("Saved to ");
}

#[test]
fn somebody_elses_changes_can_be_read_instead() {
    let desk = PanelContext::new();
    let mut bench = desk.start();
    bench.click_exactly("Clear pick");
    desk.change_outside();
    save(&mut bench);
    bench.click_exactly("Read it again");
    assert_eq!(bench.job().name, "Theirs");
    assert!(!bench.harness.state().has_unsaved_changes());
}

#[test]
fn somebody_elses_changes_can_be_left_alone_and_the_job_saved_under_another_name() {
    let desk = PanelContext::new();
    let mut bench = desk.start();
    bench.click_exactly("Clear pick");
    desk.change_outside();
    save(&mut bench);
    bench.click_exactly("Save under another name…");
    let other = desk.job().with_file_name("mine.json");
    type_path(&mut bench, &other);
    assert_eq!(name_in(&desk.job()), "Theirs");
    assert_eq!(job::read(&other).unwrap().job, *bench.job());
}

#[test]
fn a_typed_name_that_is_taken_is_asked_about() {
    let desk = PanelContext::new();
    let taken = desk.job().with_file_name("taken.json");
    std::fs::write(&taken, "something else").unwrap();
    let mut bench = desk.start();
    bench.press_with(Modifiers { shift: true, ..Modifiers::COMMAND }, Key::S);
    type_path(&mut bench, &taken);
    bench.assert_says("There is a file of this name already");
    assert_eq!(std::fs::read(&taken).unwrap(), b"something else");
    bench.click_exactly("Replace it");
    assert_eq!(job::read(&taken).unwrap().job, *bench.job());
    assert_eq!(std::fs::read(previous(&taken)).unwrap(), b"something else");
}

#[test]
fn a_folder_that_vanished_is_one_clear_message_and_the_work_stays_until_it_is_back() {
    let desk = PanelContext::new();
    let mut bench = desk.start();
    bench.click_exactly("Clear pick");
    let (folder, away) = (desk.folder.path().join("jobs"), desk.folder.path().join("away"));
    std::fs::rename(&folder, &away).unwrap();
    save(&mut bench);
    bench.assert_says("The job is not saved");
    bench.assert_says("its folder is not there");
    assert!(bench.harness.state().has_unsaved_changes());
    assert_eq!(bench.position("Supply", "C1").pick, None);
    std::fs::rename(&away, &folder).unwrap();
    bench.click_exactly("Try again");
    assert!(!bench.harness.state().has_unsaved_changes());
    assert_eq!(job::read(&desk.job()).unwrap().job, *bench.job());
}

#[test]
fn a_write_protected_job_is_left_alone_and_said_so() {
    let desk = PanelContext::new();
    let before = std::fs::read(desk.job()).unwrap();
    let mut permissions = std::fs::metadata(desk.job()).unwrap().permissions();
    permissions.set_readonly(true);
    std::fs::set_permissions(desk.job(), permissions).unwrap();
    let mut bench = desk.start();
    bench.click_exactly("Clear pick");
    save(&mut bench);
    bench.assert_says("write-protected");
    bench.click_exactly("Cancel");
    assert!(bench.harness.state().has_unsaved_changes());
    assert_eq!(std::fs::read(desk.job()).unwrap(), before);
}

#[test]
fn work_that_was_not_saved_is_offered_at_the_next_start_and_comes_back() {
    let desk = PanelContext::new();
    let before = std::fs::read(desk.job()).unwrap();
    let mut bench = desk.start();
    bench.click_exactly("Clear pick");
    let work = bench.job().clone();
    drop(bench);
    assert_eq!(std::fs::read(desk.job()).unwrap(), before, "the job itself is never written unasked");

    let mut bench = desk.start_with_demo();
    bench.assert_says("There is work that was not saved");
    bench.assert_says(&format!("It belongs to {}", desk.job().display()));
    bench.assert_says("UTC");
    bench.click_exactly("Recover it");
    assert_eq!(*bench.job(), work);
    assert!(bench.harness.state().has_unsaved_changes());
    save(&mut bench);
    assert_eq!(job::read(&desk.job()).unwrap().job, work);
    assert_eq!(desk.kept(), 0);
}

#[test]
fn recovered_work_is_kept_again_until_it_is_saved() {
    let desk = PanelContext::new();
    let mut bench = desk.start_with_demo();
    bench.click_exactly("Clear pick");
    let work = bench.job().clone();
    for _ in 0..2 {
        drop(bench);
        bench = desk.start();
        bench.assert_says("It was never saved to a file");
        bench.click_exactly("Recover it");
        assert_eq!(*bench.job(), work);
        bench.settle();
        assert_eq!(desk.kept(), 2, "one recovery file and its lock");
    }
}

#[test]
fn recovered_work_does_not_overwrite_what_others_saved_meanwhile() {
    let desk = PanelContext::new();
    let mut bench = desk.start();
    bench.click_exactly("Clear pick");
    drop(bench);
    desk.change_outside();
    let mut bench = desk.start_with_demo();
    bench.click_exactly("Recover it");
    save(&mut bench);
    bench.assert_says("Somebody else changed the file");
    assert_eq!(name_in(&desk.job()), "Theirs");
}

#[test]
fn work_that_was_not_saved_can_wait_or_be_thrown_away() {
    let desk = PanelContext::new();
    let mut bench = desk.start();
    bench.click_exactly("Clear pick");
    drop(bench);
    let mut bench = desk.start();
    bench.click_exactly("Ask again next time");
    assert!(bench.position("Supply", "C1").pick.is_some());
    drop(bench);
    let mut bench = desk.start();
    bench.click_exactly("Discard it");
    assert_eq!(desk.kept(), 0);
    drop(bench);
    assert!(!desk.start().says("There is work that was not saved"));
}

#[test]
fn saving_taking_back_and_a_farewell_leave_nothing_to_recover() {
    let desk = PanelContext::new();
    let mut bench = desk.start();
    bench.click_exactly("Clear pick");
    assert_eq!(desk.kept(), 2);
    bench.press_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(desk.kept(), 0);
    bench.press_with(Modifiers::COMMAND, Key::Y);
    assert_eq!(desk.kept(), 2);
    save(&mut bench);
    assert_eq!(desk.kept(), 0);
    bench.press_with(Modifiers::COMMAND, Key::Z);
    bench.press_with(Modifiers::COMMAND, Key::Q);
    bench.click_exactly("Discard");
    bench.harness.state_mut().on_exit(None);
    assert_eq!(desk.kept(), 0);
}

#[test]
fn a_session_that_ends_without_an_answer_keeps_the_work() {
    let desk = PanelContext::new();
    let mut bench = desk.start();
    bench.click_exactly("Clear pick");
    bench.harness.state_mut().on_exit(None);
    drop(bench);
    desk.start().assert_says("There is work that was not saved");
}

#[test]
fn the_window_comes_back_as_it_was_left() {
    let desk = PanelContext::new();
    let mut bench = desk.start();
    bench.menu("View", "Light theme");
    bench.menu("View", "Larger");
    bench.press_with(Modifiers::COMMAND, Key::Num3);
    bench.harness.state_mut().on_exit(None);
    let scale = bench.harness.ctx.zoom_factor();
    assert!(scale > 1.0);
    drop(bench);
    desk.change_outside();
    let mut bench = desk.start_with_demo();
    assert_eq!(bench.harness.ctx.zoom_factor(), scale);
    assert!(!bench.harness.ctx.global_style().visuals.dark_mode);
    assert!(bench.says("Life of ") || bench.says("years"));
    bench.harness.get_by_role_and_label(egui::accesskit::Role::Button, "Job").click();
    bench.settle();
    bench.click("Recent jobs");
    bench.click("observatory.json in ");
    assert_eq!(bench.job().name, "Theirs");
}

#[test]
fn settings_that_cannot_be_read_are_told_and_the_usual_ones_used() {
    let desk = PanelContext::new();
    std::fs::create_dir_all(desk.folders().settings).unwrap();
    std::fs::write(desk.folders().settings.join("settings.json"), "{ not settings").unwrap();
    let mut bench = desk.start();
    bench.press(Key::F2);
    bench.assert_says("the settings could not be read");
    assert_eq!(bench.harness.ctx.zoom_factor(), 1.0);
}

#[test]
fn the_demo_saved_elsewhere_opens_again_on_its_own() {
    let desk = PanelContext::new();
    let folder = desk.folder.path().join("new");
    std::fs::create_dir(&folder).unwrap();
    std::fs::write(folder.join("parts.csv"), "somebody else's").unwrap();
    let mut bench = desk.start_with_demo();
    bench.click_exactly("Clear pick");
    save(&mut bench);
    type_path(&mut bench, &folder.join("mine.json"));
    assert!(!bench.harness.state().has_unsaved_changes());
    let again = load::load(&folder.join("mine.json"), &[]).unwrap();
    assert_eq!(again.job, *bench.job());
    assert_eq!(again.catalog_index.catalog().len(), demo::parts().unwrap().catalog.len());
    assert_eq!(std::fs::read(folder.join("parts.csv")).unwrap(), b"somebody else's");
}

#[test]
fn a_job_of_a_later_version_is_read_only_and_loses_no_field_under_another_name() {
    let desk = PanelContext::new();
    let text = std::fs::read_to_string(desk.job()).unwrap();
    let newer = text.replacen("\"version\": 1", "\"version\": 2, \"aura\": {\"deep\": [1, null, \"x\"]}", 1);
    assert_ne!(newer, text);
    std::fs::write(desk.job(), &newer).unwrap();
    let mut bench = desk.start();
    bench.assert_says("read only: of a later version");
    bench.click_exactly("Clear pick");
    save(&mut bench);
    assert_eq!(std::fs::read_to_string(desk.job()).unwrap(), newer);
    bench.press_with(Modifiers { shift: true, ..Modifiers::COMMAND }, Key::S);
    type_path(&mut bench, &desk.job());
    assert_eq!(std::fs::read_to_string(desk.job()).unwrap(), newer, "not even by its own name");
    bench.press_with(Modifiers { shift: true, ..Modifiers::COMMAND }, Key::S);
    let copy = desk.job().with_file_name("copy.json");
    type_path(&mut bench, &copy);
    assert!(std::fs::read_to_string(&copy).unwrap().contains("aura"));
    assert!(!bench.says("read only: of a later version"));
}

#[test]
fn a_picture_bomb_as_photo_of_a_job_is_refused_in_words_and_the_job_opens() {
    let desk = PanelContext::new();
    // The head of a PNG of 20000 by 20000 pixels, within the sides allowed: 1.6 GB unpacked.
    let mut png = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\x4e\x20\0\0\x4e\x20\x08\x06\0\0\0".to_vec();
    let crc = png[12..].iter().fold(!0u32, |crc, &byte| {
        (0..8).fold(crc ^ u32::from(byte), |c, _| if c & 1 == 1 { 0xEDB8_8320 ^ (c >> 1) } else { c >> 1 })
    });
    png.extend((!crc).to_be_bytes());
    png.extend(b"\0\0\0\x10IDAT\x78\xda\xec\xc1\x01\0\0\0\0\0\0\0\0\0\0");
    std::fs::write(desk.job().with_file_name("bomb.png"), png).unwrap();
    let mut bombed = job::read(&desk.job()).unwrap().job;
    bombed.boards[0].photo = Some("bomb.png".into());
    std::fs::write(desk.job(), job::to_text(&bombed)).unwrap();
    let mut bench = desk.start();
    bench.press_with(Modifiers::COMMAND, Key::Num1);
    bench.press(Key::F2);
    bench.assert_says("The photo is not shown: ");
    bench.assert_says("save a smaller copy");
    assert_eq!(*bench.job(), bombed);
}

#[test]
fn parts_that_are_only_in_memory_come_back_with_unsaved_work_however_often() {
    let desk = PanelContext::new();
    let own = b"part_number,capacitance_uf,rated_v\nOWN-1,10,25\n=OWN-2,22,35\n".to_vec();
    let own = refarad::files::parts::from_bytes(vec![("a.csv".into(), own)]).unwrap();
    let mut loaded = load::load_demo().unwrap();
    loaded.job.catalogs.clear();
    loaded.catalog_index = refarad::sizing::CatalogIndex::new(std::sync::Arc::new(own.catalog));
    let mut bench = Bench::with(Window::holding(loaded, None).keeping_in(desk.folders()));
    bench.click_exactly("Clear pick");
    let work = bench.job().clone();
    assert_eq!(desk.kept(), 3, "the job, its lock and its parts");
    for _ in 0..2 {
        drop(bench);
        bench = desk.start_with_demo();
        bench.click_exactly("Recover it");
        assert_eq!(*bench.job(), work);
        bench.settle();
        assert_eq!(desk.kept(), 3);
        bench.assert_says("The unsaved work is back");
    }
    save(&mut bench);
    let saved = desk.folder.path().join("jobs/own.json");
    type_path(&mut bench, &saved);
    assert_eq!(desk.kept(), 0);
    let again = load::load(&saved, &[]).unwrap();
    let catalog = again.catalog_index.catalog();
    assert!(catalog.len() == 2 && catalog.find("OWN-1").is_some() && catalog.find("=OWN-2").is_some());
}
