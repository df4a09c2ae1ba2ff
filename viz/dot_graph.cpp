#include "viz/dot_graph.h"

#include <cstdio>
#include <cstdlib>

#include "kg/model/fault.h"

namespace saggar::viz {

namespace {

std::mutex& cgraph_lock() {
    static std::mutex lock;
    return lock;
}

// cgraph takes char* where it only reads.
char* text_of(const char* text) { return const_cast<char*>(text); }

}  // namespace

DotGraph::DotGraph(const char* name) : lock_(cgraph_lock()), graph_(agopen(text_of(name), Agdirected, nullptr)) {
    if (graph_ == nullptr) throw Fault("no memory for the diagram", "close other programs and try again");
}

DotGraph::~DotGraph() { agclose(graph_); }

Agnode_t* DotGraph::node(std::size_t index) {
    return agnode(graph_, text_of(("n" + std::to_string(index)).c_str()), 1);
}

Agedge_t* DotGraph::edge(std::size_t index, std::size_t from, std::size_t to) {
    return agedge(graph_, node(from), node(to), text_of(("e" + std::to_string(index)).c_str()), 1);
}

void DotGraph::set(const char* attribute, const std::string& value) {
    agattr(graph_, AGRAPH, text_of(attribute), text_of(value.c_str()));
}

void DotGraph::set_default(int kind, const char* attribute, const std::string& value) {
    agattr(graph_, kind, text_of(attribute), text_of(value.c_str()));
}

void DotGraph::set(void* object, const char* attribute, const std::string& value) {
    agsafeset(object, text_of(attribute), text_of(value.c_str()), text_of(""));
}

void DotGraph::set_html(void* object, const char* attribute, const std::string& html) {
    char* shared = agstrdup_html(graph_, text_of(html.c_str()));
    agsafeset(object, text_of(attribute), shared, text_of(""));
    agstrfree(graph_, shared);
}

std::string DotGraph::text() const {
    char* bytes = nullptr;
    std::size_t length = 0;
    std::FILE* stream = open_memstream(&bytes, &length);
    if (stream == nullptr) throw Fault("no memory for the diagram's text", "close other programs and try again");
    const int written = agwrite(graph_, stream);
    const int closed = std::fclose(stream);
    std::string text(bytes, length);
    std::free(bytes);
    if (written != 0 || closed != 0)
        throw Fault("the diagram's text could not be written", "close other programs and try again");
    return text;
}

}  // namespace saggar::viz
