// What the verbs answer with --json keeps to the documented shapes in app/schema (JSON Schema draft-07, checked by
// python3-jsonschema, an implementation that is not ours).
#include <catch2/catch.hpp>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>
#include <vector>

#include "tests/app/output_of.h"
#include "tests/kg/store/temporary_folder.h"
#include "tests/python_reference.h"

using saggar::testing::output_of;
using saggar::testing::TemporaryFolder;

namespace {

struct Asked {
    const char* schema;
    const char* command;
};

const std::vector<Asked> questions = {
    {"weigh", "weigh 'line:northern commissioned-by company:northern-provident'"},
    {"weigh", "weigh 'shape:tern comprises article:tureen' --what-if source:quance-2015=0.2"},
    {"weigh", "weigh 'shape:tern comprises article:tureen' --without source:quance-2015 --without source:order-book-2"},
    {"weigh", "weigh 'shape:lantern modelled-by person:maud-ennersley' --base-rate 0.2"},
    {"trace", "trace line:northern --to-kind company --via '(built-on|commissioned-by|^sold-by)+'"},
    {"trace", "trace shape:halyard --to-kind person --best 3"},
    {"trace", "trace shape:fathom --to company:meridian-sky-lines"},
    {"compare", "compare shape:fathom shape:tern"},
    {"compare", "compare shape:fathom shape:tern shape:lantern --relation comprises"},
    {"compare", "compare shape:fathom shape:tern --time"},
    {"compare", "compare person:ilse-kroyden person:maud-ennersley"},
    {"identify", "identify --seen 'has-feature feature:rope-handle' --seen 'article-of jug' --not-seen 'has-feature thumb-rest'"},
    {"identify", "identify --kind shape --seen 'glazed-in ochre-tide' --seen 'made-in-year 1950'"},
    {"find", "find lantern"},
    {"find", "find qqqzzz"},
    {"history", "history"},
    {"history", "history shape:tern"},
    {"check", "check"},
    {"cite", "cite shape:pinnace"},
    {"show", "show shape:lantern"},
    {"show", "show source:hale-1979"},
    {"show", "show piece:halyard-jug-unmarked"},
};

}  // namespace

TEST_CASE("the JSON of every verb keeps to its schema") {
    if (!saggar::test::python_has("jsonschema")) {
        WARN("python3-jsonschema is not there: the schemas are not checked");
        return;
    }
    TemporaryFolder folder;
    const std::string graph = (folder.path() / "g").string();
    ::setenv("SAGGAR", SAGGAR_BIN_DIR "/saggar", 1);
    const std::string loaded = output_of("sh '" SAGGAR_SOURCE_DIR "/examples/skerrow/load.sh' '" + graph + "'");
    const std::string script = (folder.path() / "check.py").string();
    std::ofstream(script) << "import json, jsonschema, sys\n"
                             "schema = json.load(open(sys.argv[1]))\n"
                             "jsonschema.Draft7Validator.check_schema(schema)\n"
                             "jsonschema.validate(json.load(sys.stdin), schema)\n"
                             "print('sound')\n";
    for (const Asked& one : questions) {
        const std::string said = output_of("'" SAGGAR_BIN_DIR "/saggar' --graph '" + graph + "' " + one.command +
                                           " --json | /usr/bin/python3 '" + script +
                                           "' '" SAGGAR_SOURCE_DIR "/app/schema/" + one.schema + ".json'");
        INFO(one.command);
        CHECK(said == "sound\n");
    }
}
