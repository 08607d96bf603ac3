//! Fonts of the desktop for the signs the built-in ones lack: Chinese, Japanese or Korean names of makers and boards, emoji, symbols.

use std::path::{Path, PathBuf};

use egui::epaint::text::{FontInsert, FontPriority, InsertFontFamily};
use egui::{Context, FontData, FontFamily};

use crate::files::bounded;

/// How the files of such fonts begin, in small letters, apart by bars; of each list the first that is there is taken.
const BEGINNINGS: [&str; 2] = [
    "notosanscjk-regular|notosanscjk|sourcehansans|notosanssc|notosansjp|wqy-microhei|wqy-zenhei|droidsansfallback|msyh|\
     yugothm|meiryo|malgun|hiragino sans gb|unifont",
    "notoemoji|symbola|seguiemj|seguisym|notosanssymbols2|apple symbols|dejavusans.ttf",
];
/// The largest of them have some 20 MB.
const FONT_BYTES_MAX: u64 = 64 << 20;
/// How deep folders of fonts are looked through.
const LEVELS: usize = 5;

/// Looks for such fonts on another thread and draws with them once they are there. A desktop without them shows boxes for such signs.
pub(crate) fn add_when_found(ctx: Context) {
    let look = move || {
        for path in found_in(&folders()) {
            let Ok(font) = bounded::read(&path, FONT_BYTES_MAX) else { continue };
            let last = |family| InsertFontFamily { family, priority: FontPriority::Lowest };
            let families = vec![last(FontFamily::Proportional), last(FontFamily::Monospace)];
            ctx.add_font(FontInsert::new(&path.to_string_lossy(), FontData::from_owned(font), families));
        }
        ctx.request_repaint();
    };
    // Without a thread the built-in fonts have to do.
    let _ = std::thread::Builder::new().name("refarad font".into()).spawn(look);
}

/// Where systems keep fonts.
fn folders() -> Vec<PathBuf> {
    let own = directories::UserDirs::new().and_then(|dirs| dirs.font_dir().map(Path::to_owned));
    let of_all =
        ["/usr/share/fonts", "/usr/local/share/fonts", "/System/Library/Fonts", "/Library/Fonts", r"C:\Windows\Fonts"];
    own.into_iter().chain(of_all.map(PathBuf::from)).collect()
}

/// The best of each list of known fonts below these folders.
fn found_in(folders: &[PathBuf]) -> Vec<PathBuf> {
    let mut files = Vec::new();
    folders.iter().for_each(|folder| collect(folder, LEVELS, &mut files));
    let best = |beginnings: &&str| -> Option<PathBuf> {
        let rank = |path: &PathBuf| {
            let name = path.file_name()?.to_str()?.to_lowercase();
            let is_font = [".ttc", ".otf", ".ttf"].iter().any(|ending| name.ends_with(ending));
            beginnings.split('|').position(|beginning| is_font && name.starts_with(beginning))
        };
        let ranked = files.iter().filter_map(|path| Some((rank(path)?, path)));
        ranked.min().map(|(_, path)| path.clone())
    };
    BEGINNINGS.iter().filter_map(best).collect()
}

fn collect(folder: &Path, levels: usize, files: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
        match entry.file_type() {
            Ok(kind) if kind.is_dir() && levels > 0 => collect(&entry.path(), levels - 1, files),
            Ok(kind) if !kind.is_dir() => files.push(entry.path()),
            _ => {}
        }
    }
}

#[cfg(test)]
#[path = "../../../tests/window/inside/system_font.rs"]
mod tests;
