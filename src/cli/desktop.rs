//! `refarad desktop`: the entry and the icon by which a Linux desktop lists the program.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::app::icon;
use crate::files::output::{Outputs, Replace};

use super::failure::Failure;
use super::write::Over;

/// Sizes of the icon that desktops look for, pixels.
const SIDES: [u32; 3] = [48, 128, 256];

/// Arguments of `refarad desktop`.
#[derive(clap::Args)]
pub(super) struct Args {
    /// Folder of shared data: ~/.local/share for one person, /usr/local/share for all
    folder: PathBuf,
    #[command(flatten)]
    over: Over,
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let program = std::env::current_exe().map_err(Failure::system("the path of the program"))?;
    let mut outputs = Outputs::new(Vec::new(), args.over.overwrite);
    for side in SIDES {
        let png = icon::png(side).ok_or_else(|| Failure::expected("icon", "a picture that can be packed"))?;
        let place = format!("icons/hicolor/{side}x{side}/apps/refarad.png");
        outputs.add(args.folder.join(place), png, Replace::Own);
    }
    outputs.add(args.folder.join("applications/refarad.desktop"), entry(&program), Replace::Own);
    for path in outputs.write()? {
        say!("{}", path.display());
    }
    Ok(ExitCode::SUCCESS)
}

/// The entry (freedesktop.org Desktop Entry Specification 1.5).
fn entry(program: &Path) -> String {
    format!(
        "[Desktop Entry]\nType=Application\nVersion=1.5\nName=Refarad\nGenericName=Capacitor replacement\n\
         Comment=Choose replacement electrolytic capacitors and show how long they last\nExec={} %f\nIcon=refarad\n\
         Terminal=false\nCategories=Science;Electronics;Engineering;\nStartupWMClass=refarad\n",
        quoted(&program.display().to_string())
    )
}

/// An argument of `Exec`: in quotes, with what has a meaning there made harmless, once for the quotes and once for the file.
fn quoted(argument: &str) -> String {
    let mut out = String::from("\"");
    for c in argument.chars() {
        match c {
            '\\' => out.push_str("\\\\\\\\"),
            '"' | '`' | '$' => out.extend(["\\\\", c.encode_utf8(&mut [0; 4])]),
            '%' => out.push_str("%%"),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_entry_starts_the_program_wherever_it_lies() {
        let entry = entry(Path::new("/opt/my tools/100%/refarad"));
        assert!(entry.contains("\nExec=\"/opt/my tools/100%%/refarad\" %f\n"), "{entry}");
        assert!(entry.starts_with("[Desktop Entry]\n") && entry.lines().skip(1).all(|line| line.contains('=')));
    }

    #[test]
    fn signs_with_a_meaning_are_made_harmless() {
        assert_eq!(quoted("a$b\"c\\d"), r#""a\\$b\\"c\\\\d""#);
    }
}
