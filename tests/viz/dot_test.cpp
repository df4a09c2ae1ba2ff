#include "viz/dot.h"

#include <catch2/catch.hpp>

#include "kg/model/fault.h"
#include "sample.h"
#include "viz/dot_graph.h"
#include "viz/text/clean.h"

using namespace saggar;
using namespace saggar::viz;
using Catch::Matchers::Contains;

namespace {

// The text a reader of the file gets back for an attribute, read by cgraph itself.
std::string attribute_of_node(const std::string& dot, std::size_t index, const char* attribute) {
    Agraph_t* graph = agmemread(dot.c_str());
    REQUIRE(graph != nullptr);
    Agnode_t* node = agnode(graph, const_cast<char*>(("n" + std::to_string(index)).c_str()), 0);
    REQUIRE(node != nullptr);
    const std::string value = agget(node, const_cast<char*>(attribute));
    agclose(graph);
    return value;
}

// Undoes what Graphviz does to a label: "\\" is "\", "\n" a line end, "&amp;" an ampersand (Graphviz, "escString").
std::string as_shown(const std::string& label) {
    std::string out;
    for (std::size_t i = 0; i < label.size(); ++i) {
        if (label[i] == '\\' && i + 1 < label.size()) {
            ++i;
            if (label[i] == '\\')
                out += '\\';
            else if (label[i] == 'n')
                out += '\n';
            else
                FAIL("an escape that is not ours: \\" << label[i]);
        } else if (label.compare(i, 5, "&amp;") == 0) {
            out += '&';
            i += 4;
        } else {
            CHECK(label[i] != '&');
            out += label[i];
        }
    }
    return out;
}

std::string squeezed(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c != ' ' && c != '\n') out += c;
    }
    return out;
}

}  // namespace

TEST_CASE("equal diagrams give equal DOT") { CHECK(to_dot(sample::chain()) == to_dot(sample::chain())); }

TEST_CASE("hostile labels come out of DOT as text") {
    const auto diagram = sample::labels(sample::hostile());
    const auto dot = to_dot(diagram);
    for (std::size_t i = 0; i < diagram.nodes.size(); ++i) {
        const auto shown = squeezed(as_shown(attribute_of_node(dot, i, "label")));
        CHECK_THAT(shown, Contains(squeezed(clean_line(diagram.nodes[i].label))));
    }
}

TEST_CASE("weights, sides and citations stand in the file") {
    const auto dot = to_dot(sample::claim());
    CHECK_THAT(dot, Contains("arrowhead=tee") && Contains("0.90") && Contains("\u2212 against") &&
                        Contains("Circular, 1937, p. 4."));
    CHECK_THAT(to_dot(sample::chain()),
               Contains("style=dashed") && Contains("style=dotted") && Contains("0.64 \u00B7 for [1], against [3]"));
}

TEST_CASE("a diagram that names what is not there is refused") {
    auto diagram = sample::chain();
    diagram.edges[0].to = 99;
    CHECK_THROWS_AS(to_dot(diagram), UsageFault);
    diagram = sample::chain();
    diagram.nodes[0].citations = {9};
    CHECK_THROWS_AS(to_dot(diagram), UsageFault);
}
