// What must hold of every graph, as rapidcheck properties over 2 000 random graphs each.
#include <catch2/catch.hpp>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <memory>
#include <random>
#include <set>

#include "tests/kg/weigh/random_graph.h"
#include "tests/kg/weigh/small_graph.h"

using namespace saggar;
using namespace saggar::testing;

namespace {

constexpr std::size_t graphs_a_property = 2'000;
constexpr double rounding = 1e-12;

// rapidcheck reads its parameters once, before the first check; the number of cases is not left to the environment.
const bool enough_cases = [] {
    const char* const given = std::getenv("RC_PARAMS");
    const std::string all = (given ? std::string(given) : "seed=20260101") + " max_success=" + std::to_string(graphs_a_property);
    return setenv("RC_PARAMS", all.c_str(), 1) == 0;
}();

// Two thousand graphs side by side in one store.
struct Crowd {
    std::vector<RandomGraph> graphs;
    SmallGraph store;

    explicit Crowd(const RandomShape& shape = {}, std::uint64_t first = 0) {
        for (std::size_t i = 0; i < graphs_a_property; ++i) graphs.push_back(random_graph(first + i, shape));
    }
    void put_all() {
        for (const RandomGraph& graph : graphs) {
            for (const Record& record : graph.records()) store.add(record);
        }
        store.write();
    }
    std::vector<Masses> weights(const RandomGraph& graph) { return weights(graph, store.weigher()); }
    std::vector<Masses> weights(const RandomGraph& graph, Weigher& weigher) {
        std::vector<Masses> all;
        for (int i = 0; i < static_cast<int>(graph.claims.size()); ++i) all.push_back(weigher.masses(store.ref(graph.claim(i))));
        return all;
    }
};

// Calls the property once for each graph, in rapidcheck's hands; what it draws may vary from graph to graph.
template <class Property>
void for_each_graph(const std::string& what, Crowd& crowd, Property property) {
    std::size_t next = 0;
    const bool holds = rc::check(what, [&] {
        const RandomGraph& graph = crowd.graphs[next++ % crowd.graphs.size()];
        RC_LOG() << graph.name << '\n';
        property(graph);
    });
    CHECK(holds);
    CHECK(next >= graphs_a_property);
}

Crowd& usual() {
    static std::unique_ptr<Crowd> crowd = [] {
        auto made = std::make_unique<Crowd>();
        made->put_all();
        return made;
    }();
    return *crowd;
}

bool same(const std::vector<Masses>& a, const std::vector<Masses>& b) { return a == b; }  // bit for bit

}  // namespace

TEST_CASE("a copy of an entered root changes nothing", "[properties]") {
    Crowd crowd({}, 100'000);
    crowd.put_all();
    const auto before = crowd.store.store().snapshot();
    Weigher weigher_before(*before);
    std::size_t copies = 0;
    for (const RandomGraph& graph : crowd.graphs) {
        if (graph.readings.empty()) continue;
        const int root = static_cast<int>(copies++ % graph.readings.size());
        Source copier;
        copier.key = "source:" + graph.name + "-copier";
        copier.reliability = .9;
        copier.copied_from.push_back({graph.source_key(graph.readings[static_cast<std::size_t>(root)].source), 1, copies % 2 ? 1 : .8});
        Evidence copy = graph.evidence(root);
        copy.source = copier.key;
        copy.corrects = {};
        crowd.store.add(copier);
        crowd.store.add(copy);
    }
    crowd.store.write();
    CHECK(copies > 1'500);
    for_each_graph("a copy changes nothing", crowd, [&](const RandomGraph& graph) {
        RC_ASSERT(same(crowd.weights(graph, weigher_before), crowd.weights(graph)));
    });
}

TEST_CASE("the order of entry is irrelevant", "[properties]") {
    Crowd shuffled;
    std::vector<Record> records;
    for (const RandomGraph& graph : shuffled.graphs) {
        for (const Record& record : graph.records()) records.push_back(record);
    }
    // Claims have to come before what is said of them; within that, any order.
    std::mt19937_64 random(7);
    std::shuffle(records.begin(), records.end(), random);
    std::stable_sort(records.begin(), records.end(), [](const Record& a, const Record& b) {
        return !std::holds_alternative<Claim>(b) && std::holds_alternative<Claim>(a);
    });
    for (const Record& record : records) shuffled.store.add(record);
    shuffled.store.write();
    for_each_graph("order", shuffled, [&](const RandomGraph& graph) {
        RC_ASSERT(same(usual().weights(graph), shuffled.weights(graph)));
    });
}

TEST_CASE("removing what was added restores the earlier numbers bit for bit", "[properties]") {
    Crowd crowd;
    crowd.put_all();
    std::vector<ContentId> added;
    for (const RandomGraph& graph : crowd.graphs) {
        Evidence more;
        more.claim = id_of(graph.claim(0));
        more.source = graph.source_key(0);
        more.at = "page=added";
        more.stance = added.size() % 3 ? Stance::in_favour : Stance::against;
        crowd.store.add(more);
        added.push_back(id_of(more));
    }
    crowd.store.write();
    std::size_t changed = 0;
    for (const RandomGraph& graph : crowd.graphs) changed += !same(usual().weights(graph), crowd.weights(graph));
    CHECK(changed > 1'000);
    for (const ContentId& id : added) crowd.store.add(Withdrawal{id, "was added for a test"});
    crowd.store.write();
    for_each_graph("restored", crowd, [&](const RandomGraph& graph) {
        RC_ASSERT(same(usual().weights(graph), crowd.weights(graph)));
    });
}

TEST_CASE("without any contradiction a new reading for never lowers support", "[properties]") {
    RandomShape shape;
    shape.most_lists = 0;
    shape.corrections = false;
    shape.against = false;
    Crowd crowd(shape, 200'000);
    for (RandomGraph& graph : crowd.graphs) graph.claims.assign(graph.claims.size(), false);  // no rivals
    crowd.put_all();
    const auto before = crowd.store.store().snapshot();
    Weigher weigher_before(*before);
    for (const RandomGraph& graph : crowd.graphs) {
        Evidence more;
        more.claim = id_of(graph.claim(static_cast<int>(graph.claims.size()) - 1));
        more.source = graph.source_key(static_cast<int>(graph.sources.size()) - 1);
        more.at = "page=added";
        crowd.store.add(more);
    }
    crowd.store.write();
    std::size_t raised = 0;
    for_each_graph("never lowers", crowd, [&](const RandomGraph& graph) {
        const auto old = crowd.weights(graph, weigher_before), now = crowd.weights(graph);
        for (std::size_t i = 0; i < old.size(); ++i) {
            RC_PRE(old[i].both < rounding && now[i].both < rounding);
            RC_ASSERT(*now[i].support() >= *old[i].support() - rounding);
            raised += *now[i].support() > *old[i].support() + rounding;
        }
    });
    CHECK(raised > 1'000);
}

TEST_CASE("the four masses are masses; support is at most possibility; rivals share one", "[properties]") {
    for_each_graph("masses", usual(), [&](const RandomGraph& graph) {
        const auto weights = usual().weights(graph);
        double rivals = 0;
        for (std::size_t i = 0; i < weights.size(); ++i) {
            const Masses& it = weights[i];
            for (const double mass : {it.for_only, it.against_only, it.both, it.neither}) RC_ASSERT(mass >= 0 && mass <= 1 + rounding);
            RC_ASSERT(std::abs(it.for_only + it.against_only + it.both + it.neither - 1) < rounding);
            if (it.consistent() <= 0) continue;
            RC_ASSERT(*it.support() <= *it.possibility() + rounding);
            RC_ASSERT(std::abs(*it.possibility() - (1 - *it.of_denial().support())) < rounding);
            if (graph.claims[i]) rivals += *it.support();
        }
        RC_ASSERT(rivals <= 1 + rounding);
    });
}

TEST_CASE("the possibility of a claim is one less the support of its denial", "[properties]") {
    // The denial of a claim that has no rivals is the claim with every reading turned round.
    RandomShape shape;
    shape.most_claims = 1;
    shape.most_lists = shape.most_arguments = 0;
    Crowd crowd(shape, 300'000), denied(shape, 300'000);
    for (Crowd* const both : {&crowd, &denied}) {
        for (RandomGraph& graph : both->graphs) {
            graph.claims.assign(1, false);
            for (RandomReading& reading : graph.readings) {
                reading.mention.reset();  // silence has no denial
                reading.against = reading.against != (both == &denied);
            }
        }
        both->put_all();
    }
    for_each_graph("denial", crowd, [&](const RandomGraph& graph) {
        const Masses it = crowd.weights(graph)[0], denial = denied.weights(graph)[0];
        RC_PRE(it.consistent() > 0);
        RC_ASSERT(std::abs(*it.possibility() - (1 - *denial.support())) < rounding);
    });
}

TEST_CASE("no claim exceeds its cap or its family's chance of being sound", "[properties]") {
    RandomShape shape;
    shape.most_arguments = 0;
    shape.copies = false;
    Crowd crowd(shape, 400'000);
    crowd.put_all();
    std::size_t bounded = 0;
    for_each_graph("bounded", crowd, [&](const RandomGraph& graph) {
        for (int c = 0; c < static_cast<int>(graph.claims.size()); ++c) {
            const Masses masses = crowd.store.weigher().masses(crowd.store.ref(graph.claim(c)));
            std::set<int> families, sources;
            for (const RandomReading& reading : graph.readings) {
                if (reading.claim != c) continue;
                sources.insert(reading.source);
                families.insert(graph.sources[static_cast<std::size_t>(reading.source)].family);
            }
            if (sources.size() == 1) {
                const RandomSource& source = graph.sources[static_cast<std::size_t>(*sources.begin())];
                const double phi = 1 - source.within.value_or(.5) * (1 - source.reliability);
                RC_ASSERT(masses.for_only <= phi + rounding);
                ++bounded;
            }
            if (families.size() == 1 && *families.begin() >= 0) {
                double most = 0;
                for (const RandomSource& source : graph.sources) {
                    if (source.family == *families.begin()) most = std::max(most, source.reliability);
                }
                RC_ASSERT(masses.for_only <= 1 - graph.family_dependence[*families.begin()] * (1 - most) + rounding);
                ++bounded;
            }
        }
    });
    CHECK(bounded > 1'000);
    SmallGraph capped;  // a hearsay source cannot be trusted beyond .40, whatever number is typed in
    const Claim claim = capped.claim("treated-with", "treatment:blue");
    capped.source("talk", .9).type = "hearsay";
    capped.reading(claim, "talk");
    capped.write();
    CHECK(capped.weigh(claim).support == Approx(.40));
}

TEST_CASE("arguments without evidence give nothing, in circles too; no evidence leaves all open", "[properties]") {
    RandomShape shape;
    shape.most_readings = 0;
    shape.most_lists = 0;
    shape.most_arguments = 6;
    shape.most_claims = 4;
    Crowd crowd(shape, 500'000);
    crowd.put_all();
    for_each_graph("nothing from nothing", crowd, [&](const RandomGraph& graph) {
        for (const Masses& it : crowd.weights(graph)) RC_ASSERT((it == Masses{0, 0, 0, 1}));
    });
}

TEST_CASE("dependence changes figures only where two readings meet", "[properties]") {
    std::size_t alone = 0, moved = 0;
    for_each_graph("dependence", usual(), [&](const RandomGraph& graph) {
        std::multiset<int> sources, families;
        for (const RandomReading& reading : graph.readings) sources.insert(reading.source);
        for (const RandomList& list : graph.lists) sources.insert(list.source);
        bool meet = false;
        for (const int source : sources) {
            const RandomSource& it = graph.sources[static_cast<std::size_t>(source)];
            meet = meet || sources.count(source) > 1 || it.copy_of >= 0;
            if (it.family >= 0) families.insert(it.family);
        }
        for (const int family : families) meet = meet || families.count(family) > 1;
        const Weight weight = usual().store.weigh(graph.claim(0));
        if (meet) {
            moved += weight.band.high() - weight.band.low() > rounding;
        } else {
            RC_ASSERT(weight.band.high() - weight.band.low() < rounding);
            ++alone;
        }
    });
    CHECK(alone > 200);
    CHECK(moved > 200);
}

TEST_CASE("one reading a side is cumulative fusion", "[properties]") {
    // Josang, Subjective Logic (2016), section 12.3: with uncertainties u1, u2, cumulative fusion has belief
    // (b1 u2 + b2 u1) / (u1 + u2 - u1 u2). A reading for of r is (r, 0, 1-r), one against of s is (0, s, 1-s).
    std::size_t next = 0;
    SmallGraph graph;
    std::vector<std::tuple<Claim, double, double>> pairs;
    std::mt19937_64 random(3);
    for (std::size_t i = 0; i < graphs_a_property; ++i) {
        const double r = .01 * static_cast<double>(1 + random() % 98), s = .01 * static_cast<double>(1 + random() % 98);
        const Claim claim = graph.claim("treated-with", "treatment:t" + std::to_string(i));
        graph.witness(claim, r);
        graph.witness(claim, s, Stance::against);
        pairs.emplace_back(claim, r, s);
    }
    graph.write();
    CHECK(rc::check("fusion", [&] {
        const auto& [claim, r, s] = pairs[next++ % pairs.size()];
        const Masses masses = graph.weigher().masses(graph.ref(claim));
        const double u1 = 1 - r, u2 = 1 - s, u = u1 + u2 - u1 * u2;
        RC_ASSERT(std::abs(*masses.support() - r * u2 / u) < rounding);
        RC_ASSERT(std::abs(1 - *masses.possibility() - s * u1 / u) < rounding);
    }));
}

TEST_CASE("exact and sampled answers agree within the half-width", "[properties]") {
    RandomShape shape;
    shape.most_sources = 6;
    shape.most_readings = 12;
    Crowd crowd(shape, 600'000);
    crowd.put_all();
    std::size_t sampled = 0, outside = 0;
    for_each_graph("sampled", crowd, [&](const RandomGraph& graph) {
        WeighOptions options;
        options.explain = false;
        options.node_budget = 1;  // anything beyond six chances in one part is sampled
        const Weight rough = crowd.store.weigh(graph.claim(0), options);
        if (rough.method == Method::exact || !rough.normalised) return;
        ++sampled;
        RC_ASSERT(rough.half_width <= .0101 || rough.worlds >= Profile::standard().most_worlds);
        const Masses exact = crowd.store.weigher().masses(crowd.store.ref(graph.claim(0)));
        outside += std::abs(rough.support - *exact.support()) > rough.half_width;
    });
    CHECK(sampled > 500);
    CHECK(outside * 100 <= sampled);  // 5 % are allowed; Hoeffding's bound is generous, so there are fewer
}
