use super::*;

#[test]
fn figures_stand_as_typed_with_what_their_format_shows() {
    let cases = [
        ("General", 4.7, "4.7"),
        ("0", 4.7, "4.7"),
        ("0.00", 4.7, "4.7"),
        ("0.0\" µF\"", 4.7, "4.7 µF"),
        ("0\\V", 25.0, "25V"),
        ("General\" uF\"", 470.0, "470 uF"),
        ("0%", 0.2, "20%"),
        ("0.0%", 0.07, "7%"),
        ("0000", 603.0, "0603"),
        ("#,##0.00\\ [$€-407]", 1234.5, "1234.5 €"),
        ("\"$\"#,##0.00", 0.35, "$0.35"),
        ("[Red]0.0", 0.1 + 0.2, "0.3"),
        ("0.00E+00", 1.5e-6, "0.0000015"),
        ("#,##0_);(#,##0)", 1500.0, "1500"),
        ("0\" pieces in the box of the month\"", 3.0, "3"),
        ("@", 5.0, "5"),
    ];
    for (code, value, shown) in cases {
        assert_eq!(Around::of_format(code).figure(value), shown, "{code}");
    }
}

#[test]
fn a_displayed_text_gives_the_unit_and_the_cell_the_figure() {
    let cases = [("4,7 µF", 4.7, "4.7 µF"), ("5", 4.7, "4.7"), ("0603", 603.0, "0603"), ("20 %", 0.2, "20%")];
    for (text, value, shown) in cases {
        assert_eq!(Around::of_display(text).figure(value), shown, "{text}");
    }
    assert_eq!(Around::of_display("€ 12.50").figure(12.5), "€ 12.5");
    assert_eq!(Around::of_display("n/a").figure(1.0), "1");
}

#[test]
fn dates_and_times_are_told_apart() {
    assert_eq!(moment((2024, 10, 16, 0, 0, 0, 0), 45581.0), "2024-10-16");
    assert_eq!(moment((2024, 10, 16, 12, 30, 0, 0), 45581.52083), "2024-10-16 12:30");
    assert_eq!(moment((1899, 12, 31, 6, 0, 5, 0), 0.25), "06:00:05");
}
