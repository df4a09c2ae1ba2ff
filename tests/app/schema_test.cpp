// Answers of the command line hold to the JSON Schemas of app/schema, judged by another implementation of JSON Schema
// (Python's jsonschema, draft 2020-12). Skipped where that is not installed.
#include <catch2/catch.hpp>

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "tests/kg/store/temporary_folder.h"
#include "tests/python_reference.h"

using saggar::testing::TemporaryFolder;

namespace {

const std::string here = SAGGAR_SOURCE_DIR;

std::string text_of_file(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

// The first line of `input` is the schema's path, the rest the answer.
const std::string judge = R"(
import json, sys, jsonschema
head, answer = open(sys.argv[1]).read().split("\n", 1)
schema = json.load(open(head))
jsonschema.Draft202012Validator.check_schema(schema)
for error in jsonschema.Draft202012Validator(schema).iter_errors(json.loads(answer)):
    print(list(error.absolute_path), error.message)
)";

}  // namespace

TEST_CASE("JSON answers hold to their schemas", "[schema]") {
    if (!saggar::test::python_has("jsonschema")) {
        WARN("python3-jsonschema is not installed; schemas are not checked");
        return;
    }
    TemporaryFolder folder;
    const std::string graph = (folder.path() / "graph").string(), out = (folder.path() / "out").string();
    const std::string saggar = "SOURCE_DATE_EPOCH=1767225600 '" SAGGAR_BIN_DIR "/saggar' --graph '" + graph + "' ";
    REQUIRE(std::system(("SAGGAR='" SAGGAR_BIN_DIR "/saggar' sh '" + here + "/examples/skerrow/load.sh' '" + graph + "' >/dev/null 2>&1").c_str()) == 0);
    const std::vector<std::pair<std::string, std::string>> answers = {
        {"disputes", "disputes --json --most 1000"},
        {"disputes", "disputes --json --with-private --most 1000"},
    };
    for (const auto& [schema, command] : answers) {
        INFO(command);
        REQUIRE(std::system((saggar + command + " > '" + out + "'").c_str()) == 0);
        const auto errors = saggar::test::run_python(judge, here + "/app/schema/" + schema + ".json\n" + text_of_file(out));
        REQUIRE(errors);
        CHECK(*errors == "");
    }
}
