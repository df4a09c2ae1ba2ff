// Naming a piece of a small graph from words, as the command line gives them.
#pragma once

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "queries/identify.h"
#include "tests/kg/weigh/small_graph.h"

namespace saggar::testing {

inline Sighting sighting(SmallGraph& graph, const std::string& words, bool seen = true) {
    Privacy privacy(graph.snapshot(), true);
    Problems problems;
    const auto read = read_sighting(graph.snapshot(), privacy, words, seen, "--seen", problems);
    INFO(words << (problems.list().empty() ? "" : to_text(problems.list().front())));
    REQUIRE(read);
    return *read;
}

inline IdentifyAnswer named(SmallGraph& graph, const std::vector<std::string>& seen, const std::vector<std::string>& not_seen = {},
                     IdentifyQuestion question = {}) {
    for (const std::string& words : seen) question.sightings.push_back(sighting(graph, words));
    for (const std::string& words : not_seen) question.sightings.push_back(sighting(graph, words, false));
    return identify(graph.snapshot(), graph.weigher(), question);
}

}  // namespace saggar::testing
