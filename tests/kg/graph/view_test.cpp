#include "kg/graph/view.h"

#include <boost/concept/assert.hpp>
#include <boost/graph/graph_concepts.hpp>
#include <catch2/catch.hpp>

#include "kg/graph/csr.h"
#include "tests/kg/graph/random_graph.h"

using namespace saggar;
using testing::MapGraph;
using testing::RandomGraph;

// Both graphs model the concepts of Boost.Graph that its search algorithms ask for.
BOOST_CONCEPT_ASSERT((boost::GraphConcept<GraphView>));
BOOST_CONCEPT_ASSERT((boost::IncidenceGraphConcept<GraphView>));
BOOST_CONCEPT_ASSERT((boost::BidirectionalGraphConcept<GraphView>));
BOOST_CONCEPT_ASSERT((boost::VertexListGraphConcept<GraphView>));
BOOST_CONCEPT_ASSERT((boost::GraphConcept<GraphCsr>));
BOOST_CONCEPT_ASSERT((boost::IncidenceGraphConcept<GraphCsr>));
BOOST_CONCEPT_ASSERT((boost::BidirectionalGraphConcept<GraphCsr>));
BOOST_CONCEPT_ASSERT((boost::VertexListGraphConcept<GraphCsr>));

namespace {

// The claims at one entity as the graph gives them, in both directions, against the map's.
template <class Graph>
void check_edges(const Graph& graph, const MapGraph& twin) {
    std::size_t edges = 0;
    for (auto range = vertices(graph); range.first != range.second; ++range.first) {
        const GraphVertex v = *range.first;
        std::set<MapGraph::Edge> out, in;
        for (auto e = out_edges(v, graph); e.first != e.second; ++e.first) {
            REQUIRE(source(*e.first, graph) == v);
            CHECK((*e.first).claim.subject == entity_of(v));
            out.insert({entity_of(target(*e.first, graph)).value, (*e.first).claim.number});
        }
        for (auto e = in_edges(v, graph); e.first != e.second; ++e.first) {
            REQUIRE(target(*e.first, graph) == v);
            CHECK((*e.first).claim.subject == entity_of(source(*e.first, graph)));
            in.insert({entity_of(source(*e.first, graph)).value, (*e.first).claim.number});
        }
        const std::uint64_t id = entity_of(v).value;
        CHECK(out == (twin.out.count(id) ? twin.out.at(id) : std::set<MapGraph::Edge>{}));
        CHECK(in == (twin.in.count(id) ? twin.in.at(id) : std::set<MapGraph::Edge>{}));
        CHECK(out_degree(v, graph) == out.size());
        CHECK(in_degree(v, graph) == in.size());
        CHECK(degree(v, graph) == out.size() + in.size());
        edges += out.size();
    }
    CHECK(edges == twin.edges);
}

std::vector<Link> listed(const GraphCsr& graph, EntityId id) {
    std::vector<Link> out;
    for (const Link& link : graph.links(id)) out.push_back(link);
    return out;
}

}  // namespace

TEST_CASE("view, compact copy and map hold the same edges", "[graph]") {
    for (const std::uint32_t seed : {1u, 2u, 3u}) {
        const RandomGraph made(seed, 40, 30 * seed, seed == 2 ? 0 : 20'000);
        const GraphView view(made.snapshot());
        const GraphCsr csr(made.snapshot());
        CHECK(num_vertices(view) == num_vertices(csr));
        CHECK(num_vertices(view) >= 40);
        check_edges(view, made.twin);
        check_edges(csr, made.twin);
        CHECK(csr.edge_count() == made.twin.edges);
    }
}

TEST_CASE("an earlier entry has its own graph", "[graph]") {
    const RandomGraph made(4, 30, 100);
    REQUIRE(made.twin.edges < made.twin_before.edges);
    const auto before = made.snapshot_before();
    check_edges(GraphView(*before), made.twin_before);
    check_edges(GraphCsr(*before), made.twin_before);
    CHECK(GraphCsr(*before).entry() == before->entry());
}

TEST_CASE("both graphs give links in the same order", "[graph]") {
    const RandomGraph made(5, 20, 120);
    const GraphView view(made.snapshot());
    const GraphCsr csr(made.snapshot());
    for (std::uint64_t id = 1; id < made.snapshot().entity_bound(); ++id) {
        const std::span<const Link> links = view.links(EntityId{id});
        CHECK(std::vector<Link>(links.begin(), links.end()) == listed(csr, EntityId{id}));
        CHECK(csr.links(EntityId{id}).size() == links.size());
    }
}

TEST_CASE("what a view has read stays where it is", "[graph]") {
    // One entity with more links than a block holds, and many small ones before and after.
    const RandomGraph made(6, 400, 3000);
    const RandomGraph hub(7, 2, 3000);  // 2 entities, four relations: few links, but parallel ones
    const GraphView view(made.snapshot());
    std::vector<std::span<const Link>> held;
    std::vector<std::vector<Link>> copies;
    for (std::uint64_t id = 1; id < made.snapshot().entity_bound(); ++id) {
        held.push_back(view.links(EntityId{id}));
        copies.emplace_back(held.back().begin(), held.back().end());
    }
    for (std::size_t i = 0; i < held.size(); ++i) {
        CHECK(std::vector<Link>(held[i].begin(), held[i].end()) == copies[i]);
        CHECK(view.links(EntityId{i + 1}).data() == held[i].data());
    }
    CHECK(view.touched() == held.size());
    check_edges(GraphView(hub.snapshot()), hub.twin);
}

TEST_CASE("an empty graph is a graph", "[graph]") {
    const RandomGraph made(8, 1, 0);
    CHECK(num_vertices(GraphView(made.snapshot())) == 1);
    CHECK(GraphCsr(made.snapshot()).edge_count() == 0);
}

TEST_CASE("a choice gives those of all links that it takes, in their order", "[graph]") {
    const RandomGraph made(9, 25, 300);
    const GraphView view(made.snapshot());
    const std::uint32_t relations = made.snapshot().relation_bound();
    REQUIRE(relations > 3);
    for (std::uint32_t mask = 0; mask < 256; mask += 5) {
        LinkChoice choice;
        for (std::uint32_t id = 1; id < relations; ++id) {
            if (mask & (1u << (id % 4))) choice.add(RelationId{id}, true);
            if (mask & (16u << (id % 4))) choice.add(RelationId{id}, false);
        }
        const LinkChoiceNumber number = view.choose(choice);
        CHECK(number != 0);
        CHECK(view.choose(choice) == number);
        for (std::uint64_t id = 1; id < made.snapshot().entity_bound(); ++id) {
            std::vector<Link> expected;
            for (const Link& link : view.links(EntityId{id}))
                if (choice.takes(link.claim.relation, link.forward)) expected.push_back(link);
            const std::span<const Link> links = view.links(EntityId{id}, number);
            REQUIRE(std::vector<Link>(links.begin(), links.end()) == expected);
        }
    }
}
