// Random lineages for the property tests, from a seed alone.
#pragma once

#include <random>
#include <vector>

#include "kg/weigh/lineage.h"

namespace saggar::weighing {

struct RandomLineage {
    Lineage lineage;
    std::vector<Event> roots;
};

// `variables` chances, some of them 0 or 1, `gates` gates with two to five inputs, `roots` roots.
inline RandomLineage random_lineage(std::uint64_t seed, std::size_t variables, std::size_t gates, std::size_t roots) {
    std::mt19937_64 random(seed);
    const auto below = [&](std::size_t n) { return static_cast<std::size_t>(random() % n); };
    RandomLineage made;
    std::vector<Event> events;
    for (std::size_t i = 0; i < variables; ++i) {
        const std::size_t kind = below(12);
        const double chance = kind == 0 ? 0 : kind == 1 ? 1 : static_cast<double>(below(1001)) / 1000;
        events.push_back(made.lineage.chance(chance));
    }
    for (std::size_t i = 0; i < gates; ++i) {
        std::vector<Event> inputs;
        const std::size_t count = 2 + below(4);
        for (std::size_t j = 0; j < count; ++j) {
            const std::size_t back = below(3) == 0 ? below(events.size()) : below(std::min<std::size_t>(events.size(), 12));
            const Event event = events[events.size() - 1 - back];
            inputs.push_back(below(4) == 0 ? !event : event);
        }
        events.push_back(below(2) ? made.lineage.all_of(inputs) : made.lineage.any_of(inputs));
    }
    for (std::size_t i = 0; i < roots; ++i) {
        const Event event = events[events.size() - 1 - below(std::min<std::size_t>(events.size(), 8))];
        made.roots.push_back(below(3) == 0 ? !event : event);
    }
    return made;
}

}  // namespace saggar::weighing
