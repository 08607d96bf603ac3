use super::*;

#[test]
fn numbers_read_back_to_the_same_value() {
    for value in [0.0, 1.0, 0.1 + 0.2, 1e-97, 6.02e23, -131_400.0] {
        assert_eq!(number(Some(value)).parse::<f64>().unwrap(), value);
    }
    for unknown in [None, Some(f64::INFINITY), Some(f64::NEG_INFINITY), Some(f64::NAN)] {
        assert_eq!((number(unknown), computed(unknown)), (String::new(), String::new()));
    }
}

#[test]
fn computed_figures_lose_the_noise_of_the_arithmetic_and_keep_far_more_than_six_digits() {
    assert_eq!(computed(Some(0.1 + 0.2)), "0.3");
    assert_eq!(computed(Some(31.4 - 31.0)), "0.4");
    assert_eq!(computed(Some(131_400.0)), "131400");
    assert_eq!(computed(Some(1.0 / 3.0)), "0.333333333333");
    assert_eq!(computed(None), "");
}

#[test]
fn texts_that_start_like_a_formula_are_disarmed() {
    assert_eq!(neutral_text("=1+1"), "'=1+1");
    assert_eq!(neutral_text("TALUS-10"), "TALUS-10");
    assert_eq!(neutral_text("\t=1\u{7}"), "' =1 ");
    assert_eq!(neutral_text("C1\u{202e}2\n👍\u{200d}🔧"), "C1U+202E2 👍\u{200d}🔧");
    for text in ["=1", "'TALUS", "TALUS", "'", ""] {
        assert_eq!(bare_text(&neutral_text(text)), text);
    }
}
