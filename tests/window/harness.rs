//! The window in a test: built without a windowing system, stepped until nothing is left to do.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::accesskit::Role;
use egui::{self, Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use refarad::app::Window;
use refarad::domain::{Job, Position};
use refarad::files::load::{Loaded, load_demo};

/// Read once for all tests.
pub(crate) static DEMO: std::sync::LazyLock<Loaded> = std::sync::LazyLock::new(|| load_demo().unwrap());

/// A file let go over the window.
#[derive(Debug)]
struct Dropped(PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|error| error.to_string())
    }
}

/// A window under test.
pub(crate) struct Bench {
    pub(crate) harness: Harness<'static, Window>,
}

impl Bench {
    /// The demo job in a window of 1280 by 720 points. Every control must have a name: the harness checks that in each run.
    pub(crate) fn demo() -> Self {
        Self::with(Window::holding(DEMO.clone(), None))
    }

    /// The demo job after a change.
    pub(crate) fn demo_with(change: impl FnOnce(&mut Job)) -> Self {
        let mut loaded = DEMO.clone();
        change(&mut loaded.job);
        Self::with(Window::holding(loaded, None))
    }

    pub(crate) fn with(window: Window) -> Self {
        Self::sized(window, [1280.0, 720.0])
    }

    /// A window of another size, points.
    pub(crate) fn sized(window: Window, size: [f32; 2]) -> Self {
        let harness = Harness::builder()
            .with_size(size)
            .with_max_steps(12)
            .build_ui_state(|ui, window: &mut Window| window.ui(ui), window);
        // A library without its assertions would not show it.
        harness.ctx.options_mut(|options| options.warn_on_id_clash = true);
        let mut bench = Self { harness };
        bench.settle();
        bench
    }

    /// Draws until the window and its workers have nothing left to do.
    pub(crate) fn settle(&mut self) {
        // While work goes on every frame asks for the next: one is enough to begin it.
        self.harness.step();
        // What arrives may ask for more work in the frame that shows it.
        for _ in 0..9 {
            self.harness.state_mut().settle();
            // What turns while work goes on ends with it.
            let rests = self.harness.run_ok().is_some();
            if !self.harness.state().is_working() {
                assert!(
                    rests,
                    "the window goes on drawing though nothing is left to do: {:?}",
                    self.harness.ctx.repaint_causes()
                );
                break;
            }
        }
    }

    pub(crate) fn job(&self) -> &Job {
        self.harness.state().job()
    }

    pub(crate) fn position(&self, board: &str, reference: &str) -> &Position {
        let board = self.job().boards.iter().find(|b| b.name == board).unwrap();
        board.positions.iter().find(|p| p.reference == reference).unwrap()
    }

    /// Clicks the one control whose name starts so.
    pub(crate) fn click(&mut self, name_starts: &str) {
        let found = |node: &egui_kittest::Node<'_>| {
            node.accesskit_node().label().is_some_and(|label| label.starts_with(name_starts))
                && node.accesskit_node().role() != Role::Label
        };
        let nodes: Vec<_> = self.harness.root().children_recursive().filter(found).collect();
        assert_eq!(nodes.len(), 1, "controls named {name_starts}…");
        nodes[0].click();
        drop(nodes);
        self.settle();
    }

    /// Clicks the one button with exactly this name.
    pub(crate) fn click_exactly(&mut self, name: &str) {
        self.harness.get_by_role_and_label(Role::Button, name).click();
        self.settle();
    }

    /// The names of the rows of candidates in sight.
    pub(crate) fn candidate_rows(&self) -> Vec<String> {
        let verdict = |name: &String| name.split(": ").nth(1).is_some_and(|rest| !rest.contains("V "));
        let names = self.harness.root().children_recursive().filter_map(|node| {
            let node = node.accesskit_node();
            if node.role() == Role::ListBoxOption { node.label() } else { None }
        });
        names.filter(verdict).collect()
    }

    /// Presses the one button of this name wherever it stands in a scrolled list, as assistive technology does.
    pub(crate) fn press_button(&mut self, name: &str) {
        let button = |node: &egui_kittest::Node<'_>| {
            let node = node.accesskit_node();
            node.role() != Role::Label && node.label().as_deref() == Some(name)
        };
        self.harness.root().children_recursive().find(button).expect("a control of that name").click_accesskit();
        self.settle();
    }

    /// The name of what has the keyboard.
    pub(crate) fn focused(&self) -> String {
        let node = self.harness.root().children_recursive().find(|node| node.accesskit_node().is_focused());
        node.and_then(|node| node.accesskit_node().label()).unwrap_or_default()
    }

    /// Opens a menu and clicks an entry.
    pub(crate) fn menu(&mut self, menu: &str, entry: &str) {
        self.harness.get_by_role_and_label(Role::Button, menu).click();
        self.settle();
        self.click(entry);
    }

    /// Replaces the text of a field by typing, then leaves the field.
    pub(crate) fn enter(&mut self, field: &str, text: &str) {
        self.type_into(field, text);
        self.press(Key::Enter);
    }

    /// Replaces the text of a field by typing and stays in it.
    pub(crate) fn type_into(&mut self, field: &str, text: &str) {
        let node = self.harness.get_by_role_and_label(Role::TextInput, field);
        node.focus();
        self.settle();
        self.press_with(Modifiers::COMMAND, Key::A);
        self.press(Key::Delete);
        self.harness.get_by_role_and_label(Role::TextInput, field).type_text(text);
        self.settle();
    }

    /// The text that stands in a field.
    pub(crate) fn text_of(&self, field: &str) -> String {
        self.harness.get_by_role_and_label(Role::TextInput, field).accesskit_node().value().unwrap_or_default()
    }

    /// Clicks a row while a modifier is held.
    pub(crate) fn click_with(&mut self, modifiers: Modifiers, name_starts: &str) {
        let starts = |node: &egui_kittest::Node<'_>| {
            let node = node.accesskit_node();
            node.role() == Role::ListBoxOption && node.label().is_some_and(|label| label.starts_with(name_starts))
        };
        let node = self.harness.root().children_recursive().find(starts).expect("a row of that name");
        node.click_modifiers(modifiers);
        self.settle();
    }

    pub(crate) fn press(&mut self, key: Key) {
        self.harness.key_press(key);
        self.settle();
    }

    pub(crate) fn press_with(&mut self, modifiers: Modifiers, key: Key) {
        self.harness.key_press_modifiers(modifiers, key);
        self.settle();
    }

    /// Drops files on the window, all at once.
    pub(crate) fn drop_files(&mut self, paths: impl IntoIterator<Item = PathBuf>) {
        let dropped = paths.into_iter().map(|path| Arc::new(Dropped(path)) as _);
        self.harness.input_mut().dropped_files.extend(dropped);
        self.settle();
    }

    /// The name of the selected row of the list of positions or of candidates (`inside` its name).
    pub(crate) fn selected_rows(&self) -> Vec<String> {
        let selected = |node: &egui_kittest::Node<'_>| {
            node.accesskit_node().role() == Role::ListBoxOption && node.accesskit_node().is_selected() == Some(true)
        };
        let name = |node: egui_kittest::Node<'_>| node.accesskit_node().label().unwrap_or_default();
        self.harness.root().children_recursive().filter(selected).map(name).collect()
    }

    /// Whether some text on the window contains these words.
    pub(crate) fn says(&self, words: &str) -> bool {
        let told = |node: egui_kittest::Node<'_>| {
            let node = node.accesskit_node();
            let holds = |text: Option<String>| text.is_some_and(|text| text.contains(words));
            // What stands greyed in an empty field is read, too.
            holds(node.label()) || holds(node.value()) || holds(node.placeholder().map(str::to_owned))
        };
        self.harness.root().children_recursive().any(told)
    }

    /// Whether some text on the window is exactly this.
    pub(crate) fn says_exactly(&self, words: &str) -> bool {
        let is = |text: Option<String>| text.as_deref() == Some(words);
        let told =
            |node: egui_kittest::Node<'_>| is(node.accesskit_node().label()) || is(node.accesskit_node().value());
        self.harness.root().children_recursive().any(told)
    }

    #[track_caller]
    pub(crate) fn assert_says(&self, words: &str) {
        assert!(self.says(words), "the window does not say: {words}\n{:?}", self.harness.root());
    }
}

/// What a person uses.
pub(crate) fn is_control(role: Role) -> bool {
    matches!(
        role,
        Role::Button
            | Role::CheckBox
            | Role::ComboBox
            | Role::TextInput
            | Role::SpinButton
            | Role::Slider
            | Role::Link
            | Role::RadioButton
            | Role::Canvas
    )
}
