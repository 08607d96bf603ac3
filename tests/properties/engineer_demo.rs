//! Every answer an engineer asks of the built-in demo (all of it invented) is there.

use std::sync::Arc;

use refarad::domain::PositionId;
use refarad::files::demo;
use refarad::sizing::board_plan::{PlanScope, plan_base};
use refarad::sizing::fitted::fitted;
use refarad::sizing::{
    CatalogIndex, PositionContext, duty, heat_opinion, old_part, parallel, size, spread, stored_energy, substitution,
};

#[test]
fn every_pick_of_the_demo_can_be_defended() {
    let job = demo::job().unwrap().job;
    let catalog_index = CatalogIndex::new(Arc::new(demo::parts().unwrap().catalog));
    let catalog = catalog_index.catalog();
    let sizing = size(&job, &catalog_index);
    let at = |id: PositionId| fitted(&job, catalog, &sizing, id);

    for (id, position) in job.positions() {
        let place = PositionContext::new(&job, catalog, id).unwrap();
        let can = at(id).unwrap().can;
        if let Some(damage) = duty::damage_by_phase(&place, &can) {
            println!("{} {}", position.reference, damage.sentence());
        }
        if let Some(heat) = heat_opinion::opinions(&place, &can) {
            println!("{} {}", position.reference, heat.sentence());
        }
        if let Some(found) = spread::of_part(&place, &can, &spread::Settings::usual()) {
            println!("{} {:?} {:?}", position.reference, found.years, found.reaches_target);
            assert!(found.years.p10 <= found.years.p50 && found.years.p50 <= found.years.p90);
        }
    }
    for group in parallel::groups(&job, catalog, at) {
        println!("{}: {:?}", group.name, group.unknown);
        let members: Vec<PositionId> = group.members.iter().map(|member| member.id).collect();
        for proposal in substitution::one_for_all(&job, &catalog_index, &members, 2).found {
            println!("  one for all: {} {}", catalog.part_number(proposal.part.id), proposal.note);
        }
        println!("  {:?}", substitution::two_for_one(&job, &catalog_index, members[0], 2).obstacles);
    }
    for board in 0..job.boards.len() {
        for part in old_part::board_by_condition(&job, catalog, board, Some(2026.75)) {
            let reference = &job.position(part.id).unwrap().reference;
            println!("{reference} {}: {}", part.assessment.condition.word(), part.sentence());
        }
        if job.boards[board].positions.is_empty() {
            // Nothing on it is sized, so there is nothing to plan.
            continue;
        }
        let scope = PlanScope { board: Some(board), accept_marginal: true, short_lived: true };
        let base = plan_base(&job, &catalog_index, &sizing, scope);
        let answer = base.answer(Some(30.0)).unwrap();
        let sized = &sizing.boards[board];
        println!("{:?} {:?} left out {:?}", sized.as_built.years, sized.as_chosen.years, base.left_out);
        for costed in &answer.over_horizon {
            println!(
                "  {:.1} years {:.2} total {:.2}",
                costed.plan.interval_years, costed.plan.parts_cost, costed.total_cost
            );
        }
        println!("  target {:?} extra {:?}", answer.for_target.as_ref().map(|p| p.parts_cost), answer.extra_for_target);
        println!("  ceilings {:?}", base.ceilings().first());
        let best = answer.best.unwrap();
        println!("  best {} {:?}", best.total_cost, base.worse_than_planned(&best.plan, &job, &catalog_index));
        assert!(answer.over_horizon.iter().all(|costed| costed.total_cost >= best.total_cost - 1e-9));
    }
    let energies: Vec<_> =
        job.positions().map(|(id, _)| stored_energy::stored_as_chosen(&job, catalog, &sizing, id).unwrap()).collect();
    assert!(energies.iter().any(|energy| energy.caution == Some(true) && energy.bleeder_ohm.is_some()));
}
