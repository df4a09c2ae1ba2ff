#include "importers/bag/bag_manifest.h"

#include <catch2/catch.hpp>

#include "tests/importers/collect_folder.h"

using namespace saggar;
using namespace saggar::test;

namespace {

std::string manifest_problems(const std::string& text, bool payload = true) {
    Problems problems;
    TextInput input("m.txt", open_bytes(text), problems);
    read_bag_manifest(input, 4, payload);
    return problem_ids(problems);
}

}  // namespace

TEST_CASE("lines of manifests: checksum, blanks, path (RFC 8493, 2.1.3)", "[bag]") {
    Problems problems;
    TextInput input("m.txt", open_bytes("abCD  data/a b.txt\n0123 \t data/c%0Ad%0De%25f%20.txt\r\n"), problems);
    const auto files = read_bag_manifest(input, 4, true);
    REQUIRE(files.size() == 2);
    CHECK(files.at("data/a b.txt").checksum == "abcd");  // upper and lower case are the same
    CHECK(files.count("data/c\nd\re%f%20.txt") == 1);    // only LF, CR and % are encoded
    CHECK(manifest_problems("abcd data/a\nabcd data/a\n") == "bag-path-twice");
    CHECK(manifest_problems("abcddata/a\n") == "bag-manifest-line");
    CHECK(manifest_problems("abc data/a\n") == "bag-manifest-line");
    CHECK(manifest_problems("abcd \n") == "bag-manifest-line");
    CHECK(manifest_problems("xyzw data/a\n") == "bag-manifest-line");
    CHECK(manifest_problems("abcd other/a\n") == "bag-path");
    CHECK(manifest_problems("abcd bagit.txt\n", false).empty());
    CHECK(manifest_problems("abcd data/a\n", false) == "bag-path");  // 2.2.1
}

TEST_CASE("paths that could lead out of the bag are refused (RFC 8493, 5.1)", "[bag]") {
    for (const char* const path : {"/etc/passwd", "data/../../x", "data/..", "../x", "~/x", "~root/x", "data//x",
                                   "data/./x", "data\\..\\x", "C:/x", "c:x", ""}) {
        INFO(path);
        CHECK_FALSE(bag_path_danger(path).empty());
    }
    CHECK_FALSE(bag_path_danger(std::string("data/a\0b", 8)).empty());
    CHECK_FALSE(bag_path_danger("data/\xFF").empty());
    for (const char* const path : {"data/a", "data/a b/c.txt", "data/..a", "data/a..b", "data/a~", "data/\xC3\xA9"}) {
        INFO(path);
        CHECK(bag_path_danger(path).empty());
    }
    CHECK(manifest_problems("abcd data/%2E%2E/x\n").empty());  // not decoded, so it is a plain name
    CHECK(manifest_problems("abcd data/../../x\n") == "bag-path");
}

TEST_CASE("paths survive writing and reading", "[bag]") {
    for (const std::string path : {"a\nb", "a\rb", "100%", "%0A", "%250A", "plain"})
        CHECK(decode_bag_path(encode_bag_path(path)) == path);
    CHECK(encode_bag_path("a\nb%") == "a%0Ab%25");
    CHECK(decode_bag_path("a%0ab%0db%2") == "a\nb\rb%2");
}
