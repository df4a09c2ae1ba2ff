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
    plan.most_worlds = weighing::worlds_for(profile.half_width);
    const weighing::Tally tally = weighing::sample(figures, chances, plan);
    const auto share = [&](std::size_t root) { return static_cast<double>(tally.holds[root]) / static_cast<double>(tally.worlds); };
    sides.in_favour = share(0);
    sides.against = share(1);
    sides.both = share(2);
    return sides;
}

}  // namespace saggar
