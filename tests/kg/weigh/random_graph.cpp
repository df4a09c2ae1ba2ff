#include "tests/kg/weigh/random_graph.h"

#include <fmt/format.h>

#include <algorithm>
#include <random>

#include "kg/weigh/profile.h"

namespace saggar::testing {

namespace {

class Dice {
public:
    explicit Dice(std::uint64_t seed) : random_(seed) {}
    int below(int n) { return static_cast<int>(random_() % static_cast<std::uint64_t>(n)); }
    bool one_in(int n) { return below(n) == 0; }
    double chance() { return .05 + .01 * below(90); }
    template <class T>
    T pick(const std::vector<T>& from) {
        return from[static_cast<std::size_t>(below(static_cast<int>(from.size())))];
    }

private:
    std::mt19937_64 random_;
};

void add_families(RandomGraph& graph, Dice& dice) {
    for (int i = 0; i < 2; ++i) {
        const FamilyKind& kind = dice.pick(Profile::standard().families);
        graph.family_kind[i] = kind.name;
        graph.family_dependence[i] = kind.dependence;
        graph.family_unknown[i] = kind.unknown;
    }
}

void add_sources(RandomGraph& graph, Dice& dice, const RandomShape& shape) {
    const int count = 1 + dice.below(shape.most_sources);
    for (int i = 0; i < count; ++i) {
        RandomSource source;
        source.reliability = dice.chance();
        if (dice.one_in(3)) source.within = dice.pick<double>({0, .3, .8, 1});
        if (shape.families && dice.one_in(2)) source.family = dice.below(2);
        if (shape.copies && i > 0 && dice.one_in(3)) {
            source.copy_of = dice.below(i);
            source.copied = dice.pick<double>({1, 1, .7, .4});
            source.fidelity = dice.pick<double>({1, .9});
        }
        graph.sources.push_back(source);
    }
}

void add_readings(RandomGraph& graph, Dice& dice, const RandomShape& shape) {
    const int count = dice.below(shape.most_readings + 1);
    for (int i = 0; i < count; ++i) {
        RandomReading reading;
        reading.claim = dice.below(static_cast<int>(graph.claims.size()));
        reading.source = dice.below(static_cast<int>(graph.sources.size()));
        reading.against = shape.against && dice.one_in(3);
        if (shape.hedges && dice.one_in(4)) reading.certainty = dice.pick<double>({.93, .75, .5, .25, .8});
        if (shape.against && dice.one_in(8)) reading.mention = .1 * (1 + dice.below(10));
        if (shape.corrections && i > 0 && dice.one_in(5)) reading.corrects = dice.below(i);
        reading.indirect = shape.hedges && dice.one_in(8);
        graph.readings.push_back(reading);
    }
}

}  // namespace

RandomGraph random_graph(std::uint64_t seed, const RandomShape& shape) {
    Dice dice(seed * 2 + 1);
    RandomGraph graph;
    graph.name = "g" + std::to_string(seed);
    add_families(graph, dice);
    add_sources(graph, dice, shape);
    const int claims = 1 + dice.below(shape.most_claims);
    for (int i = 0; i < claims; ++i) graph.claims.push_back(!dice.one_in(3));
    add_readings(graph, dice, shape);
    for (int i = dice.below(shape.most_lists + 1); i > 0; --i) {
        graph.lists.push_back({dice.below(static_cast<int>(graph.sources.size())), !dice.one_in(3), dice.pick<double>({1, .9, .5})});
    }
    for (int i = dice.below(shape.most_arguments + 1); i > 0; --i) {
        RandomArgument argument;
        for (int j = 1 + dice.below(2); j > 0; --j) argument.premises.push_back(dice.below(claims));
        std::sort(argument.premises.begin(), argument.premises.end());
        argument.premises.erase(std::unique(argument.premises.begin(), argument.premises.end()), argument.premises.end());
        argument.conclusion = dice.below(claims);
        argument.against = shape.against && dice.one_in(4);
        argument.strength = dice.pick<double>({1, .9, .6, .2});
        graph.arguments.push_back(argument);
    }
    return graph;
}

Claim RandomGraph::claim(int index) const {
    const bool modeller = claims[static_cast<std::size_t>(index)];
    return Claim{subject(), modeller ? "modelled-by" : "treated-with",
                 {Value::Type::entity, fmt::format("{}:{}-{}", modeller ? "person" : "treatment", name, index), ""}, "", "", false};
}

Evidence RandomGraph::evidence(int index) const {
    const RandomReading& reading = readings[static_cast<std::size_t>(index)];
    Evidence evidence;
    evidence.claim = id_of(claim(reading.claim));
    evidence.source = source_key(reading.source);
    evidence.at = "page=" + std::to_string(index);  // tells readings of one source apart
    evidence.stance = reading.against ? Stance::against : Stance::in_favour;
    if (reading.certainty != 1) evidence.certainty = fmt::format("{}", reading.certainty);
    if (reading.indirect) evidence.reading = "indirect";
    evidence.mention = reading.mention;
    if (reading.corrects >= 0) evidence.corrects = id_of(this->evidence(reading.corrects));
    return evidence;
}

Listing RandomGraph::listing(int index) const {
    const RandomList& list = lists[static_cast<std::size_t>(index)];
    Listing listing;
    listing.source = source_key(list.source);
    listing.subject = subject();
    listing.relation = list.of_modellers ? "modelled-by" : "treated-with";
    listing.completeness = list.completeness;
    return listing;
}

Argument RandomGraph::argument(int index) const {
    const RandomArgument& from = arguments[static_cast<std::size_t>(index)];
    Argument argument;
    for (const int premise : from.premises) argument.premises.push_back(id_of(claim(premise)));
    std::sort(argument.premises.begin(), argument.premises.end());
    argument.conclusion = id_of(claim(from.conclusion));
    argument.stance = from.against ? Stance::against : Stance::in_favour;
    argument.strength = from.strength;
    argument.reason = "number " + std::to_string(index);
    return argument;
}

std::vector<Record> RandomGraph::records() const {
    std::vector<Record> all;
    for (int i = 0; i < static_cast<int>(sources.size()); ++i) {
        const RandomSource& from = sources[static_cast<std::size_t>(i)];
        Source source;
        source.key = source_key(i);
        source.reliability = from.reliability;
        source.dependence = from.within;
        if (from.family >= 0) {
            source.family = name + "-family-" + std::to_string(from.family);
            source.family_kind = family_kind[from.family];
        }
        if (from.copy_of >= 0) source.copied_from.push_back({source_key(from.copy_of), from.copied, from.fidelity});
        all.push_back(source);
    }
    for (int i = 0; i < static_cast<int>(claims.size()); ++i) all.push_back(claim(i));
    for (int i = 0; i < static_cast<int>(readings.size()); ++i) all.push_back(evidence(i));
    for (int i = 0; i < static_cast<int>(lists.size()); ++i) all.push_back(listing(i));
    for (int i = 0; i < static_cast<int>(arguments.size()); ++i) all.push_back(argument(i));
    return all;
}

}  // namespace saggar::testing
