// Small random graphs for the property tests: sources with families and copies, claims, readings with hedges, silence
// and corrections, lists, arguments. Many of them live side by side in one store; `name` keeps their keys apart.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "kg/model/record.h"

namespace saggar::testing {

struct RandomSource {
    double reliability = .5;
    std::optional<double> within;
    int family = -1;                  // 0 or 1
    int copy_of = -1;                 // an earlier source
    double copied = 1, fidelity = 1;
};

struct RandomReading {
    int claim = 0, source = 0;
    bool against = false;
    double certainty = 1;
    std::optional<double> mention;    // silence
    int corrects = -1;                // an earlier reading
    bool indirect = false;
};

struct RandomList {
    int source = 0;
    bool of_modellers = true;         // of the at-most-one relation, else of decorations
    double completeness = 1;
};

struct RandomArgument {
    std::vector<int> premises;
    int conclusion = 0;
    bool against = false;
    double strength = 1;
};

struct RandomGraph {
    std::string name;
    double family_dependence[2] = {0, 0};
    std::string family_kind[2];
    bool family_unknown[2] = {false, false};
    std::vector<RandomSource> sources;
    std::vector<bool> claims;         // true: who modelled it (rivals of each other), false: a decoration
    std::vector<RandomReading> readings;
    std::vector<RandomList> lists;
    std::vector<RandomArgument> arguments;

    std::string subject() const { return "shape:" + name; }
    std::string source_key(int source) const { return "source:" + name + "-" + std::to_string(source); }
    Claim claim(int index) const;
    Evidence evidence(int reading) const;
    Listing listing(int list) const;
    Argument argument(int index) const;
    std::vector<Record> records() const;
};

// What a graph may hold.
struct RandomShape {
    int most_sources = 4, most_claims = 3, most_readings = 6, most_lists = 1, most_arguments = 2;
    bool families = true, copies = true, corrections = true, hedges = true, against = true;
};

RandomGraph random_graph(std::uint64_t seed, const RandomShape& shape = {});

}  // namespace saggar::testing
