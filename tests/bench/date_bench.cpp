#include "kg/store/store.h"
#include "queries/date_constraints.h"
#include "queries/dating.h"
#include "queries/dating_years.h"
#include "tests/bench/measure.h"
#include "tests/bench/measurements.h"
#include "tests/bench/synthetic.h"

namespace saggar::bench {

namespace {

struct Dated {
    std::vector<double> limits, gather_ms, date_ms, contradictions;
};

// The whole question with a weigher of its own, as the command line asks it.
void date_one(const Snapshot& snapshot, const TimeRules& rules, EntityId thing, Dated& dated) {
    DatingQuestion question;
    question.thing = thing;
    Weigher weigher(snapshot);
    const Stopwatch gathering;
    const DateConstraints constraints = date_constraints(snapshot, rules, thing, {});
    dated.gather_ms.push_back(gathering.seconds() * 1e3);
    const Stopwatch watch;
    const DatingAnswer answer = date_thing(snapshot, weigher, rules, question);
    dated.date_ms.push_back(watch.seconds() * 1e3);
    dated.limits.push_back(static_cast<double>(constraints.limits.size()));
    dated.contradictions.push_back(static_cast<double>(answer.contradictions.size()));
}

void add(Numbers& numbers, const std::string& name, const Dated& dated) {
    numbers[name + "_asked"] = static_cast<double>(dated.limits.size());
    numbers[name + "_limits_p50"] = percentile(dated.limits, .5);
    numbers[name + "_limits_max"] = percentile(dated.limits, 1);
    numbers[name + "_contradictions_p50"] = percentile(dated.contradictions, .5);
    numbers[name + "_gather_p50_ms"] = percentile(dated.gather_ms, .5);
    numbers[name + "_p50_ms"] = percentile(dated.date_ms, .5);
    numbers[name + "_p95_ms"] = percentile(dated.date_ms, .95);
}

}  // namespace

Numbers dates(std::uint64_t claims, const std::filesystem::path& folder) {
    const Store store = Store::open(folder, Access::read);
    const auto snapshot = store.snapshot();
    const TimeRules rules = TimeRules::of(snapshot->vocabulary());
    const Sizes n(claims);
    Numbers numbers;
    Random random(7);
    Dated pieces, shapes;
    for (int i = 0; i < 100; ++i) date_one(*snapshot, rules, snapshot->need(key_of("piece", random.below(n.pieces))), pieces);
    // Shapes with up to 2 000 limits in reach, the fuller half of that.
    for (std::uint64_t i = 0; i < n.shapes && shapes.limits.size() < 40; ++i) {
        const EntityId shape = snapshot->need(key_of("shape", i));
        const std::size_t limits = date_constraints(*snapshot, rules, shape, {}).limits.size();
        if (limits >= 1000 && limits <= 2000) date_one(*snapshot, rules, shape, shapes);
    }
    add(numbers, "pieces", pieces);
    add(numbers, "shapes", shapes);
    return numbers;
}

}  // namespace saggar::bench
