// saggar-render: the layout program. DOT on standard input, positions (positions.h) on standard output.
//
// Graphviz may call exit(), assert, overflow its stack or run for minutes on an unlucky graph; here that harms nobody.
// Exit status: 0 laid out, 1 the input is no graph of n0.. and e0.. or Graphviz complained, 2 too large.
#include <graphviz/gvc.h>

#include <cstdio>
#include <cstdlib>
#include <iostream>
#include <iterator>
#include <string>

#include "viz/render/limits.h"
#include "viz/render/positions.h"

extern "C" {
extern gvplugin_library_t gvplugin_dot_layout_LTX_library;
}

namespace {

using namespace saggar::viz;

std::string complaints;

int note_complaint(char* text) {
    complaints += text;
    return 0;
}

[[noreturn]] void give_up(int status, const std::string& why) {
    std::cerr << why << '\n';
    std::exit(status);
}

// "n17" -> 17. Names are ours; anything else is refused.
std::size_t index_of(const char* name, char letter, std::size_t count) {
    char* end = nullptr;
    if (name == nullptr || name[0] != letter) give_up(1, "a name in the graph is not ours");
    const auto index = std::strtoul(name + 1, &end, 10);
    if (end == name + 1 || *end != '\0' || index >= count) give_up(1, "a name in the graph is not ours");
    return index;
}

class Reader {
public:
    explicit Reader(Agraph_t* graph) : graph_(graph), height_(GD_bb(graph).UR.y) {}

    Positions read() {
        Positions result;
        result.width = GD_bb(graph_).UR.x;
        result.height = height_;
        result.nodes.resize(static_cast<std::size_t>(agnnodes(graph_)));
        result.edges.resize(static_cast<std::size_t>(agnedges(graph_)));
        for (Agnode_t* node = agfstnode(graph_); node != nullptr; node = agnxtnode(graph_, node)) {
            result.nodes[index_of(agnameof(node), 'n', result.nodes.size())] = flipped(ND_coord(node));
            for (Agedge_t* edge = agfstout(graph_, node); edge != nullptr; edge = agnxtout(graph_, edge)) {
                result.edges[index_of(agnameof(edge), 'e', result.edges.size())] = edge_position(edge);
            }
        }
        return result;
    }

private:
    Point flipped(const pointf& point) const { return {point.x, height_ - point.y}; }

    EdgePosition edge_position(Agedge_t* edge) const {
        EdgePosition result;
        if (ED_label(edge) != nullptr && ED_label(edge)->set) result.label = flipped(ED_label(edge)->pos);
        const splines* route = ED_spl(edge);
        if (route == nullptr || route->size < 1) give_up(1, "a line could not be routed");
        const bezier& curve = route->list[0];
        for (int i = 0; i < curve.size; ++i) result.curve.push_back(flipped(curve.list[i]));
        if (curve.sflag != 0) result.tail_tip = flipped(curve.sp);
        if (curve.eflag != 0) result.head_tip = flipped(curve.ep);
        return result;
    }

    Agraph_t* graph_;
    double height_;
};

}  // namespace

int main() {
    obey(WorkLimits{});
    const std::string dot((std::istreambuf_iterator<char>(std::cin)), std::istreambuf_iterator<char>());
    agseterrf(note_complaint);
    Agraph_t* graph = agmemread(dot.c_str());
    if (graph == nullptr) give_up(1, "the input is not a graph");
    if (static_cast<std::size_t>(agnnodes(graph)) > kMostNodes ||
        static_cast<std::size_t>(agnedges(graph)) > kMostEdges) {
        give_up(2, "the graph is too large to be laid out");
    }
    static lt_symlist_t plugins[] = {{"gvplugin_dot_layout_LTX_library", &gvplugin_dot_layout_LTX_library},
                                     {nullptr, nullptr}};
    GVC_t* context = gvContextPlugins(plugins, 0);
    if (gvLayout(context, graph, "dot") != 0 || !complaints.empty())
        give_up(1, complaints.empty() ? "no layout was found" : complaints);
    std::cout << to_text(Reader(graph).read());
    std::cout.flush();
    // The graph is not freed: the process ends here.
    std::_Exit(std::cout ? 0 : 1);
}
