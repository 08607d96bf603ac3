use super::*;

#[test]
fn what_is_said_is_read_as_people_type_it_and_what_is_not_stays_unknown() {
    let mut job = Job::default();
    for (name, typed) in [
        ("units", "3"),
        ("spare_pct", "7,5 %"),
        ("hours_per_year", "3000 h"),
        ("interval_years", ""),
        ("currency", "EUR"),
    ] {
        say(&mut job, name, typed).unwrap();
    }
    let said = (job.units, job.spare_pct, job.hours_per_year, job.interval_years, job.currency.as_deref());
    assert_eq!(said, (Some(3.0), Some(7.5), Some(3000.0), None, Some("EUR")));
    add_phase(&mut job, "", "").unwrap();
    assert!(job.conditions.is_empty());
    add_phase(&mut job, "2", "55 °C").unwrap();
    add_phase(&mut job, "", "40").unwrap();
    let phases: Vec<_> = job.conditions.phases.iter().flatten().map(|phase| (phase.share, phase.ambient_c)).collect();
    assert_eq!(phases, [(Some(2.0), Some(55.0)), (Some(1.0), Some(40.0))]);
    assert!(add_phase(&mut job, "2", "").is_err() && add_phase(&mut job, "", "warm").is_err());
    assert!(say(&mut job, "spare_pct", "-1").is_err() && say(&mut job, "colour", "red").is_err());
}

#[test]
fn an_ambient_is_one_figure_or_two() {
    let said = |text: &str| {
        let mut job = Job::default();
        say_ambient(&mut job, text)
            .map(|()| (job.conditions.ambient_min_c, job.conditions.phases.unwrap()[0].ambient_c))
    };
    assert_eq!(said("40"), Ok((None, Some(40.0))));
    assert_eq!(said("-5 .. 40 °C"), Ok((Some(-5.0), Some(40.0))));
    for wrong in ["", "warm", "40..5", "5..", "..40", "NaN"] {
        assert!(said(wrong).is_err(), "{wrong}");
    }
}
