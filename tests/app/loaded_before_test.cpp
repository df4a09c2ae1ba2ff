// Files that are loaded a second time.
#include <catch2/catch.hpp>

#include "tests/app/command.h"

using namespace saggar::testing;
using Catch::Matchers::Contains;

namespace {

constexpr char rows[] = "subject,relation,object,source\nshape:a,numbered,12,source:x\nshape:a,numbered,13,source:x\n";

}  // namespace

TEST_CASE("a file whose load was taken back can be loaded again", "[load]") {
    const CommandGraph graph;
    CHECK_THAT(graph.load("rows.csv", rows), Contains("entry 2: 2 things, 2 claims, 2 readings"));
    CHECK(graph.said("load rows.csv") == "rows.csv: loaded before, as entry 2; nothing to do\n");
    graph.said("withdraw --entry 2 --reason 'the wrong file'");
    CHECK(graph.said("load rows.csv") == "rows.csv: entry 4: 2 claims, 2 readings\n");
    CHECK(graph.said("load rows.csv") == "rows.csv: loaded before, as entry 4; nothing to do\n");
}

TEST_CASE("a file of which a part was taken back is told so, and brings nothing back", "[load]") {
    const CommandGraph graph;
    graph.load("rows.csv", rows);
    graph.said("withdraw 'shape:a numbered 12' --reason 'misread'");
    CHECK(graph.said("load rows.csv") == "rows.csv: loaded before, as entry 2, of which 1 record was withdrawn since; nothing to do\n");
    CHECK(graph.said("show shape:a").find("numbered 12") == std::string::npos);
}

TEST_CASE("a table whose metadata was changed is another file", "[load]") {
    const CommandGraph graph;
    const auto members = [](const std::string& field) {
        return R"("tableSchema":{"aboutUrl":"piece:{name}","columns":[{"titles":"name","name":"name"},)"
               R"({"titles":"words","name":"words","propertyUrl":"field:)" + field + R"("}]})";
    };
    CHECK_THAT(graph.load_mapped("t.csv", "name,words\njug,blue\n", members("remark")), Contains("entry 2"));
    CHECK_THAT(graph.said("load t.csv"), Contains("loaded before"));
    CHECK_THAT(graph.load_mapped("t.csv", "name,words\njug,blue\n", members("also")), Contains("entry 3"));
}
