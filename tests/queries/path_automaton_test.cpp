#include "queries/path_automaton.h"

#include <catch2/catch.hpp>
#include <rapidcheck.h>

#include <queue>

#include "kg/model/fault.h"
#include "tests/queries/path_twin.h"

using namespace saggar;
using twin::Pairs;
using twin::Triple;

namespace {

const Vocabulary& letters() {
    static const Vocabulary vocabulary = [] {
        Problems problems;
        auto read = Vocabulary::parse(R"({"vocabulary": "letters", "version": "1", "kinds": {"t": {"label": "t"}},
            "relations": {"a": {"from": ["t"], "to": ["t"], "inverse": "a-of", "label": "a"},
                          "b": {"from": ["t"], "to": ["t"], "inverse": "b-of", "label": "b"},
                          "c": {"from": ["t"], "to": ["t"], "label": "c"},
                          "s": {"from": ["t"], "to": ["t"], "symmetric": true, "label": "s"}}})",
                                      problems);
        REQUIRE(read);
        return *read;
    }();
    return vocabulary;
}

PathExpression path_of(const std::string& text) {
    Problems problems;
    auto path = parse_path(text, letters(), problems);
    if (!path) throw std::runtime_error(text + ": " + to_text(problems.list().front()));
    return *path;
}

// All pairs the machine connects: a breadth-first walk over (node, state) from every node.
Pairs walked(const PathExpression& path, int nodes, const std::vector<Triple>& triples) {
    Pairs out;
    for (int start = 0; start < nodes; ++start) {
        PathMachine machine(path);
        std::set<std::pair<int, PathMachine::State>> seen{{start, machine.start()}};
        std::queue<std::pair<int, PathMachine::State>> queue;
        queue.push({start, machine.start()});
        while (!queue.empty()) {
            const auto at = queue.front();
            queue.pop();
            if (machine.accepts(at.second)) out.insert({start, at.first});
            const auto visit = [&](int node, PathMachine::State state) {
                if (state != PathMachine::stuck && seen.insert({node, state}).second) queue.push({node, state});
            };
            for (const Triple& t : triples) {
                if (t.subject == at.first) visit(t.object, machine.step(at.second, t.relation, true));
                if (t.object == at.first) visit(t.subject, machine.step(at.second, t.relation, false));
            }
        }
    }
    return out;
}

constexpr int small = 5;

std::vector<Triple> random_triples() {
    const auto count = *rc::gen::inRange(0, 9);
    std::vector<Triple> triples;
    for (int i = 0; i < count; ++i) {
        const int subject = *rc::gen::inRange(0, small);
        const auto relation = static_cast<RelationIndex>(*rc::gen::inRange(0, 5));  // 4: not in the vocabulary
        const int object = *rc::gen::inRange(0, small);
        triples.push_back({subject, relation, object});
    }
    return triples;
}

// A random path as text; depth is bounded, so recursion here is too.
std::string random_path(int depth) {
    const int choice = *rc::gen::inRange(0, depth == 0 ? 4 : 11);
    const std::vector<std::string> names{"a", "b", "c", "s", "a-of", "b-of"};
    const auto name = [&names] { return *rc::gen::elementOf(names); };
    switch (choice) {
        case 0:
        case 1:
        case 2: return name();
        case 3: {
            std::string set;
            const int count = *rc::gen::inRange(0, 4);
            for (int i = 0; i < count; ++i) {
                if (i) set += '|';
                if (*rc::gen::inRange(0, 2)) set += '^';
                set += name();
            }
            return "!(" + set + ")";
        }
        case 4:
        case 5: {
            const std::string left = random_path(depth - 1);
            return "(" + left + "/" + random_path(depth - 1) + ")";
        }
        case 6:
        case 7: {
            const std::string left = random_path(depth - 1);
            return "(" + left + "|" + random_path(depth - 1) + ")";
        }
        case 8: return "^(" + random_path(depth - 1) + ")";
        case 9: return "(" + random_path(depth - 1) + ")?";
        default: return "(" + random_path(depth - 1) + ")" + (*rc::gen::inRange(0, 2) ? "+" : "*");
    }
}

}  // namespace

TEST_CASE("the machine and the twin connect the same pairs", "[path_automaton]") {
    CHECK(rc::check("machine equals sets of pairs", [] {
        const std::string text = random_path(4);
        const PathExpression path = path_of(text);
        const std::vector<Triple> triples = random_triples();
        RC_LOG(text);
        RC_ASSERT(walked(path, small, triples) == twin::pairs_of(path, small, triples));
    }));
}

TEST_CASE("the examples of the Recommendation connect what it says", "[path_automaton]") {
    const RelationIndex a = letters().find_use("a")->relation, b = letters().find_use("b")->relation;
    // SPARQL 1.1 section 9.3: order -item-> z1, z2; z1, z2 -price-> 5. Item/price connects order and 5 (as a set, once).
    const std::vector<Triple> order{{0, a, 1}, {0, a, 2}, {1, b, 3}, {2, b, 3}};
    CHECK(walked(path_of("a/b"), 4, order) == Pairs{{0, 3}});
    // Section 9.2: all the people who know someone ?x knows; ?x itself is not filtered out here.
    CHECK(walked(path_of("b/^b"), 4, order) == Pairs{{1, 1}, {1, 2}, {2, 1}, {2, 2}});
    // Section 9.2: nodes connected but not by a (either way round).
    CHECK(walked(path_of("!(a|^a)"), 4, order) == Pairs{{1, 3}, {2, 3}, {3, 1}, {3, 2}});
    // Section 9.1: !^iri speaks of reversed steps only.
    CHECK(walked(path_of("!^a"), 4, order) == Pairs{{3, 1}, {3, 2}});
    CHECK(walked(path_of("!a"), 4, order) == Pairs{{1, 3}, {2, 3}});
    // Section 9.4: cycles do no harm; a node reaches itself by + round the cycle, and by * in no step.
    const std::vector<Triple> ring{{0, a, 1}, {1, a, 2}, {2, a, 0}};
    CHECK(walked(path_of("a+"), 4, ring).size() == 9);
    CHECK(walked(path_of("a*"), 4, ring).size() == 10);
    CHECK(walked(path_of("a?"), 4, ring) == Pairs{{0, 0}, {0, 1}, {1, 1}, {1, 2}, {2, 2}, {2, 0}, {3, 3}});
}

TEST_CASE("a symmetric relation is walked either way", "[path_automaton]") {
    const RelationIndex s = letters().find_use("s")->relation;
    const std::vector<Triple> one{{0, s, 1}};
    CHECK(walked(path_of("s"), 2, one) == Pairs{{0, 1}, {1, 0}});
    CHECK(walked(path_of("^s"), 2, one) == Pairs{{0, 1}, {1, 0}});
    CHECK(walked(path_of("!s"), 2, one).empty());
    CHECK(walked(path_of("!^s"), 2, one).empty());
    CHECK(walked(path_of("!a"), 2, one) == Pairs{{0, 1}, {1, 0}});
}

TEST_CASE("the machine reads every chain in one way", "[path_automaton]") {
    // Both branches fit the same chain; the states of the two are one state of the machine.
    PathMachine machine(path_of("(a|a/a?)/b"));
    const RelationIndex a = letters().find_use("a")->relation, b = letters().find_use("b")->relation;
    const auto first = machine.step(machine.start(), a, true);
    CHECK(machine.positions(first).size() == 2);
    CHECK(machine.accepts(machine.step(first, b, true)));
    CHECK(machine.step(first, b, false) == PathMachine::stuck);
}

TEST_CASE("steps with the same future lead to one state", "[path_automaton]") {
    PathMachine machine(path_of("(a|^b|s)+"));
    const RelationIndex a = letters().find_use("a")->relation, b = letters().find_use("b")->relation;
    const auto first = machine.step(machine.start(), a, true);
    CHECK(machine.step(machine.start(), b, false) == first);
    CHECK(machine.step(first, b, false) == first);
    CHECK(machine.states() == 2);
    PathMachine star(path_of("(a|b)*"));
    CHECK(star.step(star.start(), a, true) == star.start());
}

TEST_CASE("a path that needs too many states is refused", "[path_automaton]") {
    // "The n-th step from the end is a": 2^n states (a standard example, e.g. Hopcroft and Ullman 1979, exercise 2.8).
    std::string text = "(a|b)*/a";
    for (int i = 0; i < 20; ++i) text += "/(a|b)";
    PathMachine machine(path_of(text));
    const RelationIndex a = letters().find_use("a")->relation, b = letters().find_use("b")->relation;
    const auto read_all = [&] {
        PathMachine::State state = machine.start();
        std::uint32_t random = 1;
        for (int i = 0; i < 100000; ++i) {
            random = random * 1664525u + 1013904223u;
            state = machine.step(state, random >> 31 ? a : b, true);
        }
    };
    CHECK_THROWS_AS(read_all(), LimitFault);
}

TEST_CASE("the worst nesting is read in good time", "[path_automaton]") {
    std::string inside = "a";
    for (std::size_t i = 1; i < 200; ++i) inside += "|b";
    std::string text = inside;
    while (text.size() + 4 < longest_path) text = "^(" + text + ")+";
    const PathExpression path = path_of(text.substr(0, text.size()));
    CHECK(PathPositions(path).count() == 201);
}
