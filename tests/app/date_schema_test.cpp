// The JSON of `date` keeps to its schema (checked by python3-jsonschema where it is there), and unsound time rules are
// refused before a graph is made.
#include <catch2/catch.hpp>
#include <cstdio>
#include <fstream>
#include <string>

#include "tests/kg/store/temporary_folder.h"
#include "tests/python_reference.h"

using saggar::testing::TemporaryFolder;

namespace {

struct Said {
    int status = 0;
    std::string text;
};

Said run(const std::string& command) {
    Said said;
    std::FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
    REQUIRE(pipe);
    char buffer[4096];
    while (const std::size_t got = std::fread(buffer, 1, sizeof buffer, pipe)) said.text.append(buffer, got);
    said.status = WEXITSTATUS(::pclose(pipe));
    return said;
}

const std::string saggar_command = "'" SAGGAR_BIN_DIR "/saggar'";

}  // namespace

TEST_CASE("the JSON of date keeps to its schema") {
    if (!saggar::test::python_has("jsonschema")) {
        WARN("python3-jsonschema is not there: the schema is not checked");
        return;
    }
    TemporaryFolder folder;
    const std::string graph = saggar_command + " --graph '" + (folder.path() / "g").string() + "' ";
    std::ofstream(folder.path() / "claims.csv") << "subject,relation,object,source,certainty\n"
                                                   "item:jug,modelled-in,1934-10,source:journal,\n"
                                                   "piece:jug-1,instance-of,item:jug,source:letter,\n"
                                                   "piece:jug-1,made-in-year,1933-03,source:letter,\n"
                                                   "piece:jug-1,made-in-year,c. 1938,source:memo,probably\n";
    REQUIRE(run(graph + "start").status == 0);
    const Said loaded = run(graph + "load '" + (folder.path() / "claims.csv").string() + "'");
    INFO(loaded.text);
    REQUIRE(loaded.status == 0);
    const std::string script =
        "import json, jsonschema, sys\n"
        "schema = json.load(open('" SAGGAR_SOURCE_DIR
        "/app/schema/date.json'))\n"
        "jsonschema.Draft7Validator.check_schema(schema)\n"
        "jsonschema.validate(json.load(open(sys.argv[1])), schema)\n"
        "print('sound')\n";
    for (const char* key : {"piece:jug-1", "item:jug"}) {
        const Said answer = run(graph + "date " + key + " --json");
        INFO(answer.text);
        CHECK(answer.status == 0);
        CHECK(saggar::test::run_python(script, answer.text) == "sound\n");
    }
}

TEST_CASE("a vocabulary with unsound time rules starts no graph") {
    TemporaryFolder folder;
    std::ofstream(folder.path() / "v.json")
        << R"({"vocabulary": "v", "version": "1", "kinds": {"vase": {"label": "vase"}}, "relations": {},
               "time": {"points": [{"point": "blown", "of": ["vaze"], "from": "blown-in"}]}})";
    const std::string graph = (folder.path() / "g").string();
    const Said said = run(saggar_command + " --graph '" + graph + "' start --vocabulary '" +
                          (folder.path() / "v.json").string() + "'");
    CHECK(said.status == 2);
    CHECK(said.text.find("unknown kind \"vaze\" (did you mean \"vase\"?)") != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(graph));
}
