#include "kg/weigh/sides.h"

#include <array>

#include "kg/weigh/case_lineage.h"
#include "kg/weigh/chances.h"
#include "kg/weigh/figures.h"
#include "kg/weigh/gather.h"
#include "kg/weigh/profile.h"
#include "kg/weigh/sample.h"

namespace saggar {

Sides sides_of(Gatherer& gatherer, const Profile& profile, ClaimRef claim) {
    const Case its = gatherer.gather({&claim, 1});
    CaseLineage lineage(its);
    const std::array<weighing::Event, 3> events = {lineage.supported(0), lineage.refuted(0), lineage.contradiction(0)};
    const weighing::Figures figures(lineage.lineage(), events, profile.nodes);
    const std::vector<double> chances = Chances(its, {}).of(lineage.terms());
    Sides sides;
    sides.exact = figures.exact();
    if (sides.exact) {
        const std::vector<double> values = figures.values(chances);
        sides.in_favour = values[0];
        sides.against = values[1];
        sides.both = values[2];
        return sides;
    }
    weighing::SamplePlan plan;
    for (const std::uint8_t byte : its.claims[0].id.bytes) plan.seed = plan.seed * 257 + byte;
    plan.enough = weighing::worlds_for(profile.half_width);
    const weighing::Tally tally = weighing::Sampler(figures).run(chances, plan);
    sides.in_favour = tally.values[0];
    sides.against = tally.values[1];
    sides.both = tally.values[2];
    return sides;
}

}  // namespace saggar
