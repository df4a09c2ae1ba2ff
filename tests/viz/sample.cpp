#include "sample.h"

namespace saggar::viz::sample {

namespace {

DiagramNode node(std::string kind, Outline outline, std::string label) {
    DiagramNode result;
    result.key = kind + ":" + label;
    result.kind = std::move(kind);
    result.outline = outline;
    result.label = std::move(label);
    return result;
}

DiagramEdge edge(std::size_t from, std::size_t to, std::string label, double weight) {
    DiagramEdge result;
    result.from = from;
    result.to = to;
    result.label = std::move(label);
    result.weight = weight;
    return result;
}

}  // namespace

Diagram chain() {
    Diagram d;
    d.name = "chain";
    d.title = "Who commissioned the Northern line?";
    d.description =
        "One chain leads from the line Northern to the company Northern Provident; joint weight 0.71. It rests on "
        "three sources.";
    d.nodes = {node("line", Outline::box, "Northern"), node("shape", Outline::box, "Lantern"),
               node("company", Outline::lintel, "Northern Provident Co-operative Grocers"),
               node("person", Outline::pill, "Maud Ennersley")};
    d.nodes[0].focus = true;
    d.nodes[2].note = "active 1921/1964";
    d.edges = {edge(0, 1, "was built on the shape", 0.93), edge(1, 2, "was commissioned by", 0.64),
               edge(1, 3, "was modelled by", 0.31), edge(3, 2, "worked for", 0.12)};
    d.edges[0].cited_for = {1, 2};
    d.edges[1].cited_for = {1};
    d.edges[1].cited_against = {3};
    d.edges[1].disputed = true;
    d.edges[2].cited_for = {2};
    d.edges[2].ruled = true;
    d.edges[3].cited_for = {3};
    d.citations = {{1,
                    "Memo, Wrenholt to Ennersley, 4 March 1934, box 3, folder 12, Works papers, Garrow Quay Record "
                    "Office, Garrow Quay."},
                   {2,
                    "Maud Ennersley, working journal, 11 April 1934, p. 57: \"the grocers want the Lantern plain\", "
                    "box 1, Ennersley papers, "
                    "Garrow Quay Record Office, Garrow Quay."},
                   {3, "\"New wares for the grocery trade\", Pottery Buyers' Circular, June 1934, p. 8."}};
    d.made_from = "Graph entry 812; weighing profile 1 (conventions, not facts).";
    return d;
}

Diagram claim() {
    Diagram d;
    d.name = "argument";
    d.title = "Pinnace was modelled by Maud Ennersley";
    d.description = "Argued for 0.52, argued against 0.18, contradictory 0.21, open 0.09.";
    d.flow = Flow::up;
    d.nodes = {node("claim", Outline::card, "Pinnace was modelled by Maud Ennersley"),
               node("journal", Outline::folded, "Ennersley's working journal, 1936"),
               node("letter", Outline::folded, "Wrenholt to Calloway & Dunne, 2 May 1936"),
               node("trade notice", Outline::folded, "Circular, 1937"),
               node("guide", Outline::folded, "A collector's guide that copies the notice")};
    d.nodes[0].weight = 0.66;
    d.nodes[0].disputed = true;
    d.nodes[0].focus = true;
    for (const std::size_t from : {1u, 2u}) {
        DiagramEdge e;
        e.from = from;
        e.role = LineRole::evidence;
        e.stance = Stance::in_favour;
        e.weight = from == 1 ? 0.9 : 0.5;
        e.cited_for = {static_cast<int>(from)};
        d.edges.push_back(e);
    }
    DiagramEdge against;
    against.from = 3;
    against.role = LineRole::evidence;
    against.stance = Stance::against;
    against.weight = 0.7;
    against.cited_against = {3};
    d.edges.push_back(against);
    DiagramEdge copy;
    copy.from = 4;
    copy.to = 3;
    copy.role = LineRole::copy;
    d.edges.push_back(copy);
    d.citations = {{1, "Journal, p. 3."}, {2, "Letter, 2 May 1936."}, {3, "Circular, 1937, p. 4."}};
    d.cautions = {"Old glazes can hold lead: do not use for food unless tested."};
    return d;
}

Diagram large(std::size_t count) {
    Diagram d;
    d.name = "neighbourhood";
    d.title = "Many boxes";
    for (std::size_t i = 0; i < count; ++i)
        d.nodes.push_back(node("item", Outline::rounded, "Item number " + std::to_string(i)));
    for (std::size_t i = 1; i < count; ++i)
        d.edges.push_back(edge(i / 3, i, "includes", 0.5 + 0.001 * static_cast<double>(i % 400)));
    for (std::size_t i = 10; i < count; i += 2) d.edges.push_back(edge(i - 7, i, "was replaced by", 0.4));
    return d;
}

Diagram labels(const std::vector<std::string>& labels) {
    Diagram d;
    d.name = "labels";
    d.title = labels.front();
    d.description = labels.front();
    for (const auto& label : labels) {
        d.nodes.push_back(node(label, Outline::folded, label));
        d.nodes.back().note = label;
        if (d.nodes.size() > 1) {
            d.edges.push_back(edge(0, d.nodes.size() - 1, label, 0.7));
            d.edges.back().cited_for = {static_cast<int>(d.nodes.size() - 1)};
            d.edges.back().key = label;
            d.citations.push_back({static_cast<int>(d.nodes.size() - 1), label});
        }
    }
    d.cautions = {labels.front()};
    d.left_out = labels.front();
    d.made_from = labels.back();
    d.legend = {{"*", labels.front()}};
    return d;
}

const std::vector<std::string>& hostile() {
    static const std::vector<std::string> texts = {
        "<script>alert(1)</script>",
        "<b>Lantern</b>",
        "&lt;b&gt;Lantern&lt;/b&gt;",
        "\"x\" onload=\"alert(1)\"",
        "'single' & \"double\" \\ back",
        "name \\N graph \\G left \\l right \\r",
        "&#92;N and \\\\N and &amp;N",
        "]]> <!-- --> <![CDATA[",
        "{ a | b } < c >",
        "javascript:alert(1)",
        "\u0634\u0643\u0644 \u0627\u0644\u0641\u0627\u0646\u0648\u0633 (Lantern) 1934",
        "\u05E4\u05E0\u05E1, shape 7",
        "turned \u202Eround",
        std::string(500, 'w'),
        "teapot \U0001FAD6 and cup \u2615 and family \U0001F468\u200D\U0001F469\u200D\U0001F467",
        "broken \xC3\x28 bytes \xFF\xFE end",
        std::string("nul \0 inside", 12),
        "tab\tand\nline end\r\nand bell\x07",
        "<TABLE><TR><TD></TD></TR></TABLE>",
        "",
        "Sèvres 青花 \u1EA4m trà",
    };
    return texts;
}

}  // namespace saggar::viz::sample
