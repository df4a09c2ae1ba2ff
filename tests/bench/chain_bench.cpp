#include <boost/graph/strong_components.hpp>
#include <optional>

#include "kg/graph/csr.h"
#include "kg/graph/view.h"
#include "kg/store/store.h"
#include "kg/weigh/weigher.h"
#include "queries/trace.h"
#include "tests/bench/measure.h"
#include "tests/bench/measurements.h"
#include "tests/bench/synthetic.h"

namespace saggar::bench {

namespace {

// From a piece to its item, its shape, a line on that shape, and the line's buyer: four steps.
constexpr const char* four_steps = "instance-of/of-shape/^built-on/commissioned-by";
// The same relations in any order and number.
constexpr const char* any_steps = "(instance-of|of-shape|^built-on|treated-with|^includes|commissioned-by|sold-by)+";

// Made up from the claim's number: the search is to be measured, not the weighing.
double made_up_support(ClaimRef claim) { return .3 + .65 * static_cast<double>(claim.number * 2654435761u % 1000) / 1000; }

struct Search {
    const Snapshot& snapshot;
    PathExpression path;
    ChainQuestion question;
    ChainLimits limits;

    Search(const Snapshot& of, const char* text) : snapshot(of) {
        Problems problems;
        path = parse_path(text, of.vocabulary(), problems).value();
        question.is_goal = [this](EntityId id) { return snapshot.kind_of(id) == "company"; };
        question.support = made_up_support;
        for (std::uint32_t id = 0; id < of.relation_bound(); ++id) {
            const auto use = of.vocabulary().find_use(of.relation_name(RelationId{id}));
            question.relation_index.push_back(use ? use->relation : path.unknown_relation());
        }
        limits.best = 1;
        limits.ties = 0;
    }
    template <class Graph>
    FoundChains from(EntityId start, const Graph& graph) {
        question.from = start;
        return find_chains(graph, path, question, limits);
    }
};

struct Timed {
    std::vector<double> view_first, view_again, csr;
    std::vector<double> settled;
    std::size_t found = 0;
};

Timed time_searches(Search& search, const Snapshot& snapshot, const GraphCsr& csr, const std::vector<EntityId>& starts) {
    Timed timed;
    for (const int round : {0, 1}) {  // the first round warms the block cache
        timed = Timed();
        for (const EntityId start : starts) {
            const GraphView view(snapshot);
            const Stopwatch first;
            const FoundChains found = search.from(start, view);
            timed.view_first.push_back(first.seconds() * 1e6);
            const Stopwatch again;
            const FoundChains second = search.from(start, view);
            timed.view_again.push_back(again.seconds() * 1e6);
            const Stopwatch in_memory;
            const FoundChains third = search.from(start, csr);
            timed.csr.push_back(in_memory.seconds() * 1e6);
            timed.found += !found.chains.empty();
            timed.settled.push_back(static_cast<double>(found.settled));
            if (second.settled != found.settled || third.settled != found.settled) throw std::runtime_error("searches differ");
        }
        (void)round;
    }
    return timed;
}

void add(Numbers& numbers, const std::string& name, const Timed& timed) {
    numbers[name + "_view_first_p50"] = percentile(timed.view_first, .5);
    numbers[name + "_view_again_p50"] = percentile(timed.view_again, .5);
    numbers[name + "_csr_p50"] = percentile(timed.csr, .5);
    numbers[name + "_settled_p50"] = percentile(timed.settled, .5);
    numbers[name + "_found"] = static_cast<double>(timed.found);
}

// A pass over every vertex and edge.
template <class Graph>
double components_seconds(const Graph& graph) {
    std::vector<int> component(num_vertices(graph));
    const Stopwatch watch;
    boost::strong_components(graph, boost::make_iterator_property_map(component.begin(), get(boost::vertex_index, graph)));
    return watch.seconds();
}

}  // namespace

Numbers chains(std::uint64_t claims, const std::filesystem::path& folder) {
    const Store store = Store::open(folder, Access::read);
    const auto snapshot = store.snapshot();
    Numbers numbers;
    const Stopwatch building;
    const GraphCsr csr(*snapshot);
    numbers["csr_build_ms"] = building.seconds() * 1e3;
    numbers["edges"] = static_cast<double>(csr.edge_count());
    numbers["vertices"] = static_cast<double>(csr.vertex_count());

    const Sizes n(claims);
    Random random(5);
    Search four(*snapshot, four_steps), any(*snapshot, any_steps);
    std::vector<EntityId> starts;
    // Pieces from which the four steps lead somewhere.
    for (int i = 0; i < 20000 && starts.size() < 300; ++i) {
        const EntityId piece = snapshot->need(key_of("piece", random.below(n.pieces)));
        if (!four.from(piece, csr).chains.empty()) starts.push_back(piece);
    }
    numbers["starts"] = static_cast<double>(starts.size());
    add(numbers, "four", time_searches(four, *snapshot, csr, starts));
    add(numbers, "any", time_searches(any, *snapshot, csr, starts));
    any.limits.best = 10;
    add(numbers, "ten", time_searches(any, *snapshot, csr, starts));

    numbers["components_csr_ms"] = components_seconds(csr) * 1e3;
    numbers["components_view_ms"] = components_seconds(GraphView(*snapshot)) * 1e3;

    // The whole question, weighed: the five best chains with their joint weight.
    std::vector<double> whole;
    for (std::size_t i = 0; i < starts.size() && i < 40; ++i) {
        Weigher weigher(*snapshot);
        TraceQuestion question;
        question.from = starts[i];
        question.to_kind = "company";
        question.via = four.path;
        const Stopwatch watch;
        trace(*snapshot, weigher, question);
        whole.push_back(watch.seconds() * 1e3);
    }
    numbers["trace_p50_ms"] = percentile(whole, .5);
    numbers["trace_p95_ms"] = percentile(whole, .95);
    return numbers;
}

}  // namespace saggar::bench
