// Graphs beside plain twins: any sequence of load, note, withdraw, settle, same and merge gives the same answers, as of
// every entry; merging is idempotent, commutative in claims and evidence, and associative; taking back restores every figure.
#include <rapidcheck.h>

#include <catch2/catch.hpp>

#include "kg/store/check.h"
#include "tests/app/twin_graphs.h"

using namespace saggar;
using namespace saggar::testing;

namespace {

struct Step {
    int graph, other, op, n;
};

std::vector<Step> some_steps(int graphs, int most) {
    std::vector<Step> steps;
    const int count = *rc::gen::inRange(4, most);
    for (int i = 0; i < count; ++i)
        steps.push_back({*rc::gen::inRange(0, graphs), *rc::gen::inRange(0, graphs), *rc::gen::inRange(0, 10), *rc::gen::inRange(0, 1000)});
    return steps;
}

void take(std::vector<TwinGraph>& graphs, const Step& step) {
    TwinGraph& graph = graphs[static_cast<std::size_t>(step.graph)];
    const int n = step.n;
    if (step.op < 4) {  // a note or a load
        std::vector<Record> records;
        for (int i = 0; i < (step.op == 0 ? 1 : 6); ++i) {
            records.push_back(some_claim((n + i * 3) % 24));
            records.push_back(some_reading((n + i * 3) % 24 + 24 * (n % 3), graph.name()));
        }
        const auto dated = some_dated(n, graph.name());
        if (n % 2) records.insert(records.end(), dated.begin(), dated.end());
        graph.load(records, step.op == 0 ? "note" : "load");
    } else if (step.op == 4) {
        const Argument argument = some_argument(n);
        graph.load({some_claim(n % 24), some_claim((n + 5) % 24), some_claim((n + 7) % 24), argument});
    } else if (step.op == 5) {
        graph.load({some_claim(n % 24), some_ruling(n)}, "settle");
    } else if (step.op == 6) {
        graph.load(some_identity(n), "same");
    } else if (step.op == 7 || step.op == 8) {
        std::vector<ContentId> all;
        for (const ContentId& id : graph.twin().now().visible()) all.push_back(id);
        if (!all.empty()) graph.withdraw(all[static_cast<std::size_t>(n) % all.size()]);
    } else if (step.graph != step.other) {
        graph.merge(graphs[static_cast<std::size_t>(step.other)]);
    }
}

void check_equal(const TwinGraph& graph, std::uint64_t entry) {
    const auto snapshot = graph.store().snapshot(entry);
    const PlainState& state = graph.twin().states.at(entry - 1);
    RC_ASSERT(visible_in(*snapshot) == state.visible());
    RC_ASSERT(standing_rulings(*snapshot) == standing_rulings(state));
    RC_ASSERT(difference(all_answers(*snapshot, true), all_answers(state)) == "");
}

std::vector<TwinGraph> some_graphs(int count) {
    std::vector<TwinGraph> graphs;
    for (int i = 0; i < count; ++i) graphs.emplace_back(std::string(1, static_cast<char>('a' + i)));
    return graphs;
}

std::vector<TwinGraph> graphs_after_steps(int count, int most) {
    auto graphs = some_graphs(count);
    for (const Step& step : some_steps(count, most)) take(graphs, step);
    return graphs;
}

// What merging is commutative and associative in: every record, and how often it was put and withdrawn.
std::map<ContentId, std::uint64_t> turns_in(const TwinGraph& graph) {
    const auto snapshot = graph.store().snapshot();
    std::map<ContentId, std::uint64_t> all;
    for (const auto& one : graph.twin().now().records) {
        for (const Span& span : snapshot->spans_of(one.first)) all[one.first] += span.until ? 2 : 1;
    }
    return all;
}

}  // namespace

TEST_CASE("graphs and their plain twins answer alike, as of every entry", "[merge]") {
    CHECK(rc::check("graphs equal twins", [] {
        const auto graphs = graphs_after_steps(2, 26);
        for (const TwinGraph& graph : graphs) {
            RC_ASSERT(graph.store().last_entry() == graph.twin().states.size());
            for (std::uint64_t entry = 1; entry <= graph.store().last_entry(); ++entry) {
                RC_ASSERT(visible_in(*graph.store().snapshot(entry)) == graph.twin().states[entry - 1].visible());
                check_equal(graph, entry);
            }
            RC_ASSERT(check(graph.store()).damage.empty());
        }
    }));
}

TEST_CASE("merging again changes nothing", "[merge]") {
    CHECK(rc::check("idempotent", [] {
        auto graphs = graphs_after_steps(2, 20);
        graphs[0].merge(graphs[1]);
        const std::uint64_t last = graphs[0].store().last_entry();
        const MergeReport report = graphs[0].merge(graphs[1]);
        RC_ASSERT(report.first_entry == 0u);
        RC_ASSERT(report.counts.all() == 0u);
        RC_ASSERT(graphs[0].store().last_entry() == last);
        // Nor does merging back what came from here.
        const TwinGraph copy(graphs[0], "copy");
        graphs[1].merge(graphs[0]);
        RC_ASSERT(graphs[0].merge(graphs[1]).first_entry == 0u);
    }));
}

TEST_CASE("merging a into b and b into a gives the same claims and evidence", "[merge]") {
    CHECK(rc::check("commutative", [] {
        auto graphs = graphs_after_steps(2, 24);
        TwinGraph a(graphs[0], "a"), b(graphs[1], "b");
        a.merge(graphs[1]);
        b.merge(graphs[0]);
        RC_ASSERT(turns_in(a) == turns_in(b));
        RC_ASSERT(visible_in(*a.store().snapshot()) == visible_in(*b.store().snapshot()));
        RC_ASSERT(standing_rulings(*a.store().snapshot()) == standing_rulings(*b.store().snapshot()));
        RC_ASSERT(difference(all_answers(*a.store().snapshot(), true), all_answers(*b.store().snapshot(), true)) == "");
    }));
}

TEST_CASE("merging is associative", "[merge]") {
    CHECK(rc::check("associative", [] {
        auto graphs = graphs_after_steps(3, 30);
        TwinGraph left(graphs[0], "a"), right(graphs[0], "a"), middle(graphs[1], "b");
        left.merge(graphs[1]);
        left.merge(graphs[2]);
        middle.merge(graphs[2]);
        right.merge(middle);
        RC_ASSERT(turns_in(left) == turns_in(right));
        RC_ASSERT(visible_in(*left.store().snapshot()) == visible_in(*right.store().snapshot()));
        RC_ASSERT(answers_of(*left.store().snapshot()) == answers_of(*right.store().snapshot()));
    }));
}

TEST_CASE("taking back a merge or any entries restores every figure bit for bit", "[merge]") {
    CHECK(rc::check("undone", [] {
        auto graphs = graphs_after_steps(2, 20);
        TwinGraph& graph = graphs[0];
        const std::uint64_t before = graph.store().last_entry();
        const std::string answers = all_answers(*graph.store().snapshot(), false);
        const auto visible = visible_in(*graph.store().snapshot());
        if (*rc::gen::inRange(0, 2)) {
            graph.merge(graphs[1]);
        } else {
            const int steps = *rc::gen::inRange(1, 4);
            for (int i = 0; i < steps; ++i) take(graphs, {0, 1, *rc::gen::inRange(0, 9), *rc::gen::inRange(0, 1000)});
        }
        if (graph.store().last_entry() == before) return;
        graph.undo(before + 1, graph.store().last_entry());
        RC_ASSERT(visible_in(*graph.store().snapshot()) == visible);
        RC_ASSERT(difference(all_answers(*graph.store().snapshot(), false), answers) == "");
        RC_ASSERT(check(graph.store()).damage.empty());
    }));
}
