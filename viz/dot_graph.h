// A cgraph graph with an owner, and its text. The only place where graphs are opened, closed and written.
//
// cgraph keeps global state: calls from several threads must not overlap. A process-wide lock is held while a
// DotGraph lives.
#pragma once

#include <graphviz/cgraph.h>

#include <mutex>
#include <string>

namespace saggar::viz {

class DotGraph {
public:
    explicit DotGraph(const char* name);
    ~DotGraph();
    DotGraph(const DotGraph&) = delete;
    DotGraph& operator=(const DotGraph&) = delete;

    Agnode_t* node(std::size_t index);                                            // named n<index>
    Agedge_t* edge(std::size_t index, std::size_t from, std::size_t to);          // named e<index>
    void set(const char* attribute, const std::string& value);                    // of the graph
    void set_default(int kind, const char* attribute, const std::string& value);  // AGNODE or AGEDGE
    // Plain text value of one node or edge.
    static void set(void* object, const char* attribute, const std::string& value);
    // An HTML-like label: `html` is made by this program and holds no user text.
    void set_html(void* object, const char* attribute, const std::string& html);

    std::string text() const;

private:
    std::unique_lock<std::mutex> lock_;
    Agraph_t* graph_;
};

}  // namespace saggar::viz
