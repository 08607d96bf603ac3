//! A font of the desktop for the signs the built-in ones lack: makers and boards with Chinese, Japanese or Korean names.

use std::path::{Path, PathBuf};

use egui::epaint::text::{FontInsert, FontPriority, InsertFontFamily};
use egui::{Context, FontData, FontFamily};

use crate::files::bounded;

/// How the files of such fonts begin, in small letters; the first that is there is taken.
const BEGINNINGS: [&str; 14] = [
    "notosanscjk-regular",
    "notosanscjk",
    "sourcehansans",
    "notosanssc",
    "notosansjp",
    "wqy-microhei",
    "wqy-zenhei",
    "droidsansfallback",
    "msyh",
    "yugothm",
    "meiryo",
    "malgun",
    "hiragino sans gb",
    "unifont",
];
/// The largest of them have some 20 MB.
const FONT_BYTES_MAX: u64 = 64 << 20;
/// How deep folders of fonts are looked through.
const LEVELS: usize = 5;

/// Looks for such a font on another thread and draws with it once it is there. A desktop without one shows boxes for such signs.
pub(crate) fn add_when_found(ctx: Context) {
    let look = move || {
        let Some(font) = found_in(&folders()).and_then(|path| bounded::read(&path, FONT_BYTES_MAX).ok()) else {
            return;
        };
        let last = |family| InsertFontFamily { family, priority: FontPriority::Lowest };
        let families = vec![last(FontFamily::Proportional), last(FontFamily::Monospace)];
        ctx.add_font(FontInsert::new("of the desktop", FontData::from_owned(font), families));
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

/// The best of the known fonts below these folders.
fn found_in(folders: &[PathBuf]) -> Option<PathBuf> {
    let mut files = Vec::new();
    folders.iter().for_each(|folder| collect(folder, LEVELS, &mut files));
    let rank = |path: &PathBuf| {
        let name = path.file_name()?.to_str()?.to_lowercase();
        let is_font = [".ttc", ".otf", ".ttf"].iter().any(|ending| name.ends_with(ending));
        BEGINNINGS.iter().position(|beginning| is_font && name.starts_with(beginning))
    };
    files.into_iter().filter_map(|path| Some((rank(&path)?, path))).min().map(|(_, path)| path)
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
mod tests {
    use super::*;

    #[test]
    fn the_best_known_font_is_found_wherever_it_lies_and_no_other_file() {
        let folder = tempfile::tempdir().unwrap();
        let deep = folder.path().join("truetype/wqy");
        std::fs::create_dir_all(&deep).unwrap();
        for name in ["DejaVuSans.ttf", "NotoSansCJK-Regular.txt"] {
            std::fs::write(deep.join(name), "").unwrap();
        }
        let found = || found_in(&[folder.path().join("gone"), folder.path().to_owned()]);
        assert_eq!(found(), None);
        std::fs::write(deep.join("wqy-zenhei.ttc"), "").unwrap();
        assert_eq!(found(), Some(deep.join("wqy-zenhei.ttc")));
        std::fs::write(folder.path().join("NotoSansCJK-Regular.ttc"), "").unwrap();
        assert_eq!(found(), Some(folder.path().join("NotoSansCJK-Regular.ttc")));
    }
}
