#include "viz/svg.h"

#include <catch2/catch.hpp>
#include <functional>
#include <pugixml.hpp>
#include <set>

#include "sample.h"
#include "viz/spoken.h"
#include "viz/text/clean.h"
#include "viz/text/measure.h"

using namespace saggar::viz;
using Catch::Matchers::Contains;

namespace {

pugi::xml_document parsed(const std::string& svg) {
    pugi::xml_document document;
    const auto result =
        document.load_buffer(svg.data(), svg.size(), pugi::parse_default | pugi::parse_ws_pcdata_single);
    INFO(result.description());
    REQUIRE(result);
    return document;
}

void each(const pugi::xml_node& node, const std::function<void(const pugi::xml_node&)>& visit) {
    visit(node);
    for (const auto& child : node.children()) each(child, visit);
}

std::string squeezed(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c != ' ') out += c;
    }
    return out;
}

std::string all_text(const pugi::xml_node& node) {
    std::string out;
    each(node, [&out](const pugi::xml_node& n) {
        if (n.type() == pugi::node_pcdata) out += n.value();
    });
    return squeezed(out);
}

}  // namespace

TEST_CASE("hostile labels come out of SVG as text and nothing else") {
    const auto diagram = sample::labels(sample::hostile());
    const auto document = parsed(to_svg(diagram));
    static const std::set<std::string> allowed = {"svg",    "title", "desc", "g",   "rect",
                                                  "circle", "line",  "path", "text"};
    each(document.document_element(), [](const pugi::xml_node& node) {
        if (node.type() != pugi::node_element) return;
        CHECK(allowed.count(node.name()) == 1);
        for (const auto& attribute : node.attributes()) {
            const std::string name = attribute.name();
            CHECK(name.rfind("on", 0) != 0);
            CHECK(name.find("href") == std::string::npos);
            CHECK(name != "style");
        }
    });
    for (std::size_t i = 0; i < diagram.nodes.size(); ++i) {
        const auto id = "s-n" + std::to_string(i);
        const auto group = document.select_node(("//*[@id='" + id + "']").c_str()).node();
        REQUIRE(group);
        CHECK_THAT(all_text(group), Contains(squeezed(clean_line(diagram.nodes[i].label))));
    }
    for (const auto& citation : diagram.citations)
        CHECK_THAT(all_text(document), Contains(squeezed(clean_line(citation.text))));
}

// Roles: W3C "WAI-ARIA Graphics Module 1.0" (2018); naming: "SVG Accessibility API Mappings 1.0".
TEST_CASE("a screen reader gets title, description, roles and an order") {
    const auto document = parsed(to_svg(sample::chain()));
    const auto svg = document.document_element();
    CHECK(std::string(svg.attribute("role").value()) == "graphics-document");
    CHECK(std::string(svg.attribute("aria-label").value()) == "Who commissioned the Northern line?");
    CHECK(svg.attribute("aria-describedby").value() == std::string(svg.child("desc").attribute("id").value()));
    CHECK(std::string(svg.child("title").child_value()) == "Who commissioned the Northern line?");
    std::vector<std::string> order;
    each(svg, [&order](const pugi::xml_node& node) {
        if (std::string(node.attribute("role").value()) != "graphics-symbol") return;
        CHECK(std::string(node.attribute("tabindex").value()) == "0");
        order.emplace_back(node.attribute("aria-label").value());
    });
    REQUIRE(order.size() == 8);
    CHECK(order[0] == "line: Northern");
    CHECK(order[2] == "company: Northern Provident Co-operative Grocers; active 1921/1964");
    CHECK(order[5] ==
          "Lantern was commissioned by Northern Provident Co-operative Grocers; weight 0.64; cited for by 1; cited "
          "against by 3; disputed");
}

TEST_CASE("ids are unique and begin with the prefix") {
    SvgOptions options;
    options.id_prefix = "p7";
    std::set<std::string> ids;
    each(parsed(to_svg(sample::chain(), options)), [&ids](const pugi::xml_node& node) {
        const std::string id = node.attribute("id").value();
        if (id.empty()) return;
        CHECK(id.rfind("p7-", 0) == 0);
        CHECK(ids.insert(id).second);
    });
    CHECK(ids.size() > 8);
}

TEST_CASE("every line of text lies on the sheet") {
    for (const auto& diagram : {sample::chain(), sample::claim(), sample::labels(sample::hostile())}) {
        const auto document = parsed(to_svg(diagram));
        const double width = document.document_element().attribute("width").as_double();
        const double height = document.document_element().attribute("height").as_double();
        each(document, [&](const pugi::xml_node& node) {
            if (std::string(node.name()) != "text") return;
            const auto face = std::string(node.attribute("font-weight").value()) == "bold" ? Face::bold : Face::book;
            const double w = text_width(node.child_value(), node.attribute("font-size").as_double(), face);
            const double x = node.attribute("x").as_double();
            const bool middle = std::string(node.attribute("text-anchor").value()) == "middle";
            INFO(node.child_value());
            CHECK((middle ? x - w / 2 : x) >= 0);
            CHECK((middle ? x + w / 2 : x + w) <= width);
            CHECK(node.attribute("y").as_double() <= height);
        });
    }
}

TEST_CASE("weights are told by number and by line style") {
    const auto svg = to_svg(sample::chain());
    CHECK_THAT(svg, Contains(">0.93 \u00B7 for [1, 2]<"));
    CHECK_THAT(svg, Contains("stroke-dasharray=\"8 4\"") && Contains("stroke-dasharray=\"2 4\"") &&
                        Contains("stroke-width=\"3.2\""));
    CHECK_THAT(svg, Contains("weight under 0.20") && Contains("the sources contradict each other"));
}

TEST_CASE("equal diagrams give equal pictures") { CHECK(to_svg(sample::claim()) == to_svg(sample::claim())); }

TEST_CASE("a line that no source draws says that it is inferred, in the picture, aloud and in the legend") {
    Diagram diagram = sample::labels({"Teapot no. 19", "Fathom"});
    DiagramEdge edge;
    edge.to = 1;
    edge.label = "is an example of";
    edge.weight = .85;
    edge.inferred = true;
    diagram.edges = {edge};
    const std::string inferred = all_text(parsed(to_svg(diagram)).document_element());
    CHECK_THAT(inferred, Contains(squeezed("0.85 \u00B7 inferred")));
    CHECK_THAT(inferred, Contains(squeezed("no source says it")));
    CHECK_THAT(spoken(diagram, edge), Contains("; inferred"));
    diagram.edges[0].cited_for = {1};
    diagram.edges[0].inferred = false;
    diagram.citations = {{1, "A list."}};
    CHECK_THAT(all_text(parsed(to_svg(diagram)).document_element()), !Contains("inferred"));
}
