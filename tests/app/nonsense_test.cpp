// Nonsense that would spoil a weight is refused on load, at its place and with a next step.
#include "tests/app/table_graph.h"

using saggar::testing::Said;
using saggar::testing::TableGraph;

TEST_CASE("numbers that are no chances, and grades nobody knows, are refused at their place", "[nonsense]") {
    struct Nonsense {
        const char* table;
        const char* place;  // line and column
        const char* text;   // what offends
    };
    const Nonsense tables[] = {
        {"key,reliability\na,1.5\n", ":2:3: error", "1.5"},
        {"key,reliability\na,-0.1\n", ":2:3: error", "-0.1"},
        {"key,dependence\na,2\n", ":2:3: error", "2"},
        {"key,grade\na,excellent\n", ":2:3: error", "excellent"},
        {"key,copied_from\na,source:b (chance 1.2)\n", ":2:", "1.2"},
        {"subject,relation,object,source,certainty\nshape:a,treated-with,treatment:b,s,1.7\n", ":2:", "1.7"},
        {"subject,relation,object,stance,source,completeness\nshape:a,comprises,*,lists-all,s,3\n", ":2:", "3"},
        {"subject,relation,object,stance,source,mention\nshape:a,comprises,article:b,silent,s,1.1\n", ":2:", "1.1"},
        {"subject,relation,object,stance,premises,strength,reason\nshape:a,comprises,article:b,argued,shape:c "
         "comprises article:b,1.4,so\n",
         ":2:", "1.4"},
    };
    for (const Nonsense& nonsense : tables) {
        TableGraph graph;
        const Said said = graph.try_load(nonsense.table);
        INFO(nonsense.table << said.out << said.err);
        CHECK(said.status == 1);
        CHECK(said.err.find(nonsense.place) != std::string::npos);
        CHECK(said.err.find(nonsense.text) != std::string::npos);
        CHECK(said.err.find("next:") != std::string::npos);
        CHECK(graph.say({"history"}).out.find("load") == std::string::npos);  // nothing of the file was taken in
    }
}
