#include "importers/bag/read_bag.h"

#include <catch2/catch.hpp>

#include "importers/bag/write_bag.h"
#include "kg/model/record_json.h"
#include "kg/model/sha512.h"
#include "tests/importers/collect_folder.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;
using namespace saggar::test;
namespace fs = std::filesystem;

namespace {

std::string graph_line() {
    Entity shape;
    shape.key = "shape:lantern";
    shape.label.text = "Lantern";
    return to_json_line(shape) + "\n";
}

}  // namespace

TEST_CASE("a bag gives its records and its pictures", "[bag]") {
    testing::TemporaryFolder folder;
    put_file(folder.path() / "picture", "bytes of a picture");
    const std::string hash = sha512_of_file(folder.path() / "picture", Sha512::Kind::cut_to_256);
    BagContent content;
    content.written["graph.jsonl"] = [](std::ostream& out) { out << graph_line(); };
    content.copied["media/" + hash + ".jpg"] = folder.path() / "picture";
    write_bag(folder.path() / "bag", content);
    Problems problems;
    const CollectedFolder read = read_folder(folder.path() / "bag", problems);
    CHECK(all_problems(problems).empty());
    CHECK(read.records.only<Entity>().label.text == "Lantern");
    CHECK(read.pictures.at(hash + ".jpg") == hash);
}

TEST_CASE("nothing is read from a bag that is not valid, or holds no graph", "[bag]") {
    testing::TemporaryFolder folder;
    BagContent content;
    content.written["graph.jsonl"] = [](std::ostream& out) { out << graph_line(); };
    write_bag(folder.path() / "altered", content);
    put_file(folder.path() / "altered" / "data" / "graph.jsonl", graph_line() + "\n");
    Problems altered;
    CHECK(read_folder(folder.path() / "altered", altered).records.records.empty());
    CHECK(problem_ids(altered) == "bag-altered bag-oxum");
    BagContent other;
    other.written["letter.txt"] = [](std::ostream& out) { out << "Dear"; };
    write_bag(folder.path() / "other", other);
    Problems none;
    read_folder(folder.path() / "other", none);
    CHECK(problem_ids(none) == "bag-no-graph");
    content.written["media/" + std::string(64, 'a')] = [](std::ostream& out) { out << "x"; };
    write_bag(folder.path() / "named", content);
    Problems named;
    read_folder(folder.path() / "named", named);
    CHECK(problem_ids(named) == "bag-picture");
}
