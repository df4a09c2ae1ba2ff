// A museum's open-access tables, which nobody here wrote, go through the command and give the answers that plain Python gave
// (answers.json, computed apart from saggar). The tables stay outside the project: the test runs where SAGGAR_TRIALS or
// ../shared/trials holds them, and says so where neither does.
#include <catch2/catch.hpp>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "tests/app/output_of.h"
#include "tests/kg/store/temporary_folder.h"

using saggar::testing::output_of;
using saggar::testing::TemporaryFolder;
namespace fs = std::filesystem;

namespace {

fs::path museum_tables() {
    const char* named = std::getenv("SAGGAR_TRIALS");
    const fs::path trials = named ? fs::path(named) : fs::path(SAGGAR_SOURCE_DIR) / ".." / "shared" / "trials";
    return trials / "museum";
}

// Asks the graph only through the command and compares with answers.json.
constexpr const char* asker = R"python(
import json, subprocess, sys
saggar, graph, answers = sys.argv[1], sys.argv[2], json.load(open(sys.argv[3]))
def ask(*words):
    return json.loads(subprocess.run([saggar, '--graph', graph, *words, '--json'], capture_output=True, text=True).stdout)
lines = [json.loads(line) for line in subprocess.run([saggar, '--graph', graph, 'export'], capture_output=True, text=True).stdout.splitlines()]
claims = {line['claim']['id']: line['claim'] for line in lines if 'claim' in line}
readings = [line['evidence'] for line in lines if 'evidence' in line]
objects = {line['entity']['key'] for line in lines if 'entity' in line and line['entity']['key'].startswith('piece:')}
labels = {line['entity']['key']: line['entity']['label']['text'] for line in lines if 'entity' in line and 'label' in line['entity']}
assert len(objects) == answers['objects'], len(objects)
to_party = [r for r in readings if claims[r['claim']]['object'].get('entity', '').startswith('party:')]
assert len(to_party) == answers['participant_rows'], len(to_party)
def several(relation, certain):
    by_object = {}
    for r in to_party:
        c = claims[r['claim']]
        if c['relation'] == relation and (not certain or 'certainty' not in r):
            by_object.setdefault(c['subject'], set()).add(c['object']['entity'])
    return sorted(key.split('-')[1] for key, who in by_object.items() if len(who) > 1)
assert several('designed-by', True) == sorted(answers['objects_with_two_or_more_designers']['ids'])
assert several('manufactured-by', False) == sorted(answers['objects_with_two_or_more_manufacturers']['ids'])
sellers = {}
for r in to_party:
    c = claims[r['claim']]
    if c['relation'] in ('sold-by', 'distributed-by', 'bought-from'):
        sellers.setdefault(labels[c['object']['entity']], set()).add(c['subject'])
for name, count in answers['retailer_distributor_vendor_by_objects']:
    assert len(sellers[name]) == count, (name, len(sellers[name]))
key = {label: k for k, label in labels.items() if k.startswith('party:')}
chain = answers['chain']
paths = ask('trace', key[chain['from']], '--to', key[chain['to']], '--best', '1')['paths']
assert len(paths[0]['steps']) == chain['edges_person_object_person'], len(paths[0]['steps'])
print('as answered')
)python";

}  // namespace

TEST_CASE("a museum's own tables give the answers computed apart from saggar") {
    const fs::path tables = museum_tables();
    if (!fs::exists(tables / "answers.json")) {
        WARN("the museum tables are not at " << tables.string() << ": not tested");
        return;
    }
    TemporaryFolder folder;
    const std::string graph = (folder.path() / "g").string();
    const std::string saggar = "'" SAGGAR_BIN_DIR "/saggar' --graph '" + graph + "' ";
    const std::string maps = SAGGAR_SOURCE_DIR "/examples/museum/";
    output_of(saggar + "start --vocabulary '" + maps + "vocabulary.json'");
    for (const std::string name : {"persons", "objects", "participants"}) {
        const std::string load =
            saggar + "load '" + (tables / (name + ".csv")).string() + "' --map '" + maps + name + ".csv-metadata.json'";
        CHECK(output_of(load).find(": entry ") != std::string::npos);
        CHECK(output_of(load).find("loaded before") != std::string::npos);
    }
    CHECK(output_of(saggar + "check").find("the graph is whole") != std::string::npos);
    std::ofstream(folder.path() / "ask.py") << asker;
    CHECK(output_of("/usr/bin/python3 '" + (folder.path() / "ask.py").string() + "' '" SAGGAR_BIN_DIR "/saggar' '" +
                  graph + "' '" + (tables / "answers.json").string() + "'") == "as answered\n");
}
