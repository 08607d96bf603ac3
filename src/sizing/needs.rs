//! What nobody has said of a position that its checks cannot do without.

use super::PositionContext;

/// What can be missing, in the order in which it matters: its name after "needs", the field that says it, what it is.
macro_rules! needs {
    ($($need:ident $word:literal $path:literal, $what:literal;)*) => {
        /// Something to be found out, in the order in which it matters.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Need { $(#[doc = $what] $need,)* }

        impl Need {
            /// What it is called after "needs".
            pub const fn word(self) -> &'static str {
                [$($word),*][self as usize]
            }

            /// The field that says it.
            pub const fn path(self) -> &'static str {
                [$($path),*][self as usize]
            }
        }
    };
}

needs! {
    Capacitance "capacitance" "original.capacitance_uf", "What the old part holds.";
    Voltage "voltage" "stress.dc_v", "What it sees, or was rated for.";
    Ambient "ambient" "stress.phases", "How hot it is there.";
    Ripple "ripple" "stress.ripple", "What flows through it.";
    Role "role" "role", "What it does.";
    Mounting "mounting" "original.mounting", "How it is fixed.";
    Diameter "diameter" "space.diameter_max_mm", "Room beside it.";
    Height "height" "space.height_max_mm", "Room above it.";
    Pitch "lead spacing" "space.pitch_mm", "Distance of its holes.";
    Hours "hours a year" "job.hours_per_year", "Hours a year.";
    Interval "interval" "job.interval_years", "Years until the next rebuild.";
}

/// `needs: ripple, height`; nothing where nothing is needed.
pub fn in_words(needs: &[Need]) -> Option<String> {
    (!needs.is_empty()).then(|| format!("needs: {}", names(needs)))
}

/// `ripple, height`.
pub fn names(needs: &[Need]) -> String {
    needs.iter().map(|need| need.word()).collect::<Vec<_>>().join(", ")
}

/// What the checks of a position cannot do without, the most important first; figures that are assumed count as said.
pub fn needs(context: &PositionContext) -> Vec<Need> {
    let position = context.position;
    let (can, room) = (&position.original.can, &context.room);
    let no_target = context.target_h.is_none();
    let missing = [
        (Need::Capacitance, can.capacitance_uf.or(position.needs.capacitance_min_uf).is_none()),
        (Need::Voltage, position.stress.dc_v.or(can.rated_v).is_none()),
        (Need::Ambient, context.duty().is_none()),
        (Need::Ripple, context.lines().is_none()),
        (Need::Role, position.role.is_none()),
        (Need::Mounting, can.mounting.is_none()),
        (Need::Diameter, room.diameter_max_mm.is_none()),
        (Need::Height, room.height_max_mm.is_none()),
        (Need::Pitch, room.hole_pitch_mm.is_none() && can.mounting != Some(crate::domain::Mounting::Smd)),
        (Need::Hours, no_target && context.hours_per_year.is_none()),
        (Need::Interval, no_target && context.hours_per_year.is_some()),
    ];
    missing.into_iter().filter_map(|(need, is_missing)| is_missing.then_some(need)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Outcome;
    use crate::domain::schema;
    use crate::sizing::testing::{HERE, can, catalog_index, job_of, part, position};
    use crate::sizing::{size, size_position};

    type Take = fn(&mut crate::domain::Position);

    #[test]
    fn what_is_taken_away_is_needed_and_leaves_the_outcome_unknown() {
        let whole = position();
        let needed = |change: &dyn Fn(&mut crate::domain::Position)| {
            let mut position = whole.clone();
            change(&mut position);
            let job = job_of(vec![position]);
            let sized = size_position(&job, &catalog_index(&[part("A", None, can())]), HERE).unwrap();
            (sized.needs, sized.choice.verdict)
        };
        assert_eq!(needed(&|_| ()).0, []);
        let taken: [(Take, Need); 3] = [
            (|p| p.role = None, Need::Role),
            (|p| p.original.can.mounting = None, Need::Mounting),
            (|p| (p.stress.ripple, p.original.can.ripple_a) = (None, None), Need::Ripple),
        ];
        for (take, need) in taken {
            assert_eq!(needed(&take), (vec![need], Outcome::Unknown));
        }
    }

    #[test]
    fn hours_come_before_the_interval_and_each_need_has_its_field() {
        let mut job = job_of(vec![position()]);
        job.boards[0].positions[0].needs.life_h = None;
        (job.hours_per_year, job.interval_years) = (None, None);
        let parts = catalog_index(&[part("A", None, can())]);
        let first = |job: &crate::domain::Job| size(job, &parts).positions[0].needs.clone();
        assert_eq!(first(&job), [Need::Hours]);
        job.hours_per_year = Some(4000.0);
        assert_eq!(in_words(&first(&job)).unwrap(), "needs: interval");
        let all =
            [Need::Capacitance, Need::Voltage, Need::Ambient, Need::Ripple, Need::Role, Need::Hours, Need::Interval];
        assert!(all.iter().all(|need| schema::find(need.path()).is_some()));
    }
}
