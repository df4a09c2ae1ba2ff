#include "importers/bag/bag_check.h"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <functional>

#include "importers/bag/write_bag.h"
#include "kg/model/sha512.h"
#include "tests/importers/collect_folder.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;
using namespace saggar::test;
namespace fs = std::filesystem;

namespace {

// A sound bag with two payload files, one of them with signs that are encoded, then changed by `change`; the problems found.
std::string after(const std::function<void(const fs::path&)>& change, std::string* text = nullptr) {
    testing::TemporaryFolder folder;
    const fs::path bag = folder.path() / "bag";
    BagContent content;
    content.written["a.txt"] = [](std::ostream& out) { out << "one"; };
    content.written["sub/50%\xC3\xA9.txt"] = [](std::ostream& out) { out << "two\n"; };
    content.info = {{"Source-Organization", "Nobody"}};
    write_bag(bag, content);
    change(bag);
    Problems problems;
    check_bag(bag, "bag", {}, problems);
    if (text) *text = all_problems(problems);
    return problem_ids(problems);
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    return text.replace(text.find(from), from.size(), to);
}

std::string hash_of(const std::string& bytes) {
    Sha512 hash;
    hash.feed(bytes);
    return hash.finish();
}

// Replaces a tag file and puts its new hash into the tag manifest.
void set_tag(const fs::path& bag, const std::string& name, const std::string& text) {
    const std::string before = hash_of(bytes_of(bag / name));
    put_file(bag / name, text);
    put_file(bag / "tagmanifest-sha512.txt", replaced(bytes_of(bag / "tagmanifest-sha512.txt"), before, hash_of(text)));
}

}  // namespace

// Section numbers: 2.1.1 to 2.2.3, 2.4, 3 and 6.1 compared with what other works link to as rfc8493#section-N (bag declaration,
// payload, payload manifest, tag manifest, bag metadata, fetch file, checksum algorithms, complete and valid bags, names of
// files); 5.1 with the draft of December 2016 ("Special directory characters"); 5.2 from memory.
TEST_CASE("a bag as written is whole and valid (RFC 8493, section 3)", "[bag]") {
    CHECK(after([](const fs::path&) {}).empty());
    after([](const fs::path& bag) {
        CHECK(bytes_of(bag / "bagit.txt") == "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n");      // 2.1.1
        CHECK(bytes_of(bag / "bag-info.txt") == "Source-Organization: Nobody\nPayload-Oxum: 7.2\n");           // 2.2.2
        CHECK_THAT(bytes_of(bag / "manifest-sha512.txt"), Catch::Contains("  data/sub/50%25\xC3\xA9.txt\n"));  // 2.1.3
    });
}

TEST_CASE("the declaration is held to its form (RFC 8493, 2.1.1)", "[bag]") {
    const auto with = [](const std::string& text) {
        return after([&](const fs::path& bag) { set_tag(bag, "bagit.txt", text); });
    };
    CHECK(with("BagIt-Version: 0.97\nTag-File-Character-Encoding: UTF-8\n").empty());
    CHECK(with("BagIt-Version: 1.0\r\nTag-File-Character-Encoding: UTF-8\r\n").empty());
    CHECK(with("BagIt-Version: 2.0\nTag-File-Character-Encoding: UTF-8\n") == "bag-declaration");
    CHECK(with("BagIt-Version: 1.0\n") == "bag-declaration");
    CHECK(with("BagIt-Version: 1.0\nTag-File-Character-Encoding: ISO-8859-1\n") == "bag-declaration");
    CHECK(with("Tag-File-Character-Encoding: UTF-8\nBagIt-Version: 1.0\n") == "bag-declaration");
    CHECK(with("BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\nMore: x\n") == "bag-declaration");
    CHECK(with("") == "bag-declaration");
}

TEST_CASE("missing, altered and extra files are told (RFC 8493, section 3)", "[bag]") {
    std::string text;
    CHECK(after([](const fs::path& bag) { fs::remove(bag / "data/a.txt"); }, &text) == "bag-missing bag-oxum");
    CHECK_THAT(text, Catch::Contains("bag/manifest-sha512.txt:1:131: error: data/a.txt is not there"));
    CHECK(after([](const fs::path& bag) { put_file(bag / "data/a.txt", "0ne"); }, &text) == "bag-altered");
    CHECK_THAT(text, Catch::Contains("^~~~~~~~~~"));
    CHECK(after([](const fs::path& bag) { put_file(bag / "data/b.txt", ""); }) == "bag-extra-file bag-oxum");
    CHECK(after([](const fs::path& bag) { fs::remove_all(bag / "data"); }) ==
          "bag-no-payload bag-missing bag-missing bag-oxum");
    CHECK(
        after([](const fs::path& bag) { put_file(bag / "note.txt", "other tag files are allowed (2.2.4)"); }).empty());
}

TEST_CASE("tag files are held against their manifest (RFC 8493, 2.2.1)", "[bag]") {
    CHECK(after([](const fs::path& bag) { put_file(bag / "bag-info.txt", "Payload-Oxum: 7.2\n"); }) == "bag-altered");
    CHECK(after([](const fs::path& bag) { put_file(bag / "tagmanifest-sha512.txt", ""); }) == "bag-extra-file");
    CHECK(after([](const fs::path& bag) { fs::remove(bag / "tagmanifest-sha512.txt"); }).empty());
    CHECK(after([](const fs::path& bag) {
              put_file(bag / "tagmanifest-sha512.txt",
                       bytes_of(bag / "tagmanifest-sha512.txt") + std::string(128, 'a') + "  tagmanifest-sha512.txt\n");
          }) == "bag-path");
}

TEST_CASE("Payload-Oxum is counted (RFC 8493, 2.2.2)", "[bag]") {
    std::string text;
    CHECK(after([](const fs::path& bag) { set_tag(bag, "bag-info.txt", "Note: x\nPayload-Oxum: 8.2\n"); }, &text) ==
          "bag-oxum");
    CHECK_THAT(text, Catch::Contains("bag/bag-info.txt:2:14: error: the payload is 7.2 (bytes.files), not 8.2"));
    CHECK(after([](const fs::path& bag) { set_tag(bag, "bag-info.txt", "PAYLOAD-OXUM: 7.2\n"); }).empty());
}

TEST_CASE("a bag must have a manifest that can be checked (RFC 8493, 2.1.3 and 2.4)", "[bag]") {
    const auto as_md5 = [](const fs::path& bag) {
        fs::remove(bag / "tagmanifest-sha512.txt");
        fs::rename(bag / "manifest-sha512.txt", bag / "manifest-md5.txt");
    };
    CHECK(after(as_md5) == "bag-algorithm bag-no-manifest");
    // sha256sum(1) makes the other manifest; checked by our own SHA-256.
    const auto as_sha256 = [](const fs::path& bag) {
        fs::remove(bag / "tagmanifest-sha512.txt");
        fs::remove(bag / "manifest-sha512.txt");
        fs::rename(bag / "data/sub/50%\xC3\xA9.txt", bag / "data/plain.txt");
        REQUIRE(std::system(("cd '" + bag.string() + "' && sha256sum data/a.txt data/plain.txt > manifest-sha256.txt")
                                .c_str()) == 0);
    };
    CHECK(after(as_sha256).empty());
    CHECK(after([&](const fs::path& bag) {
              as_sha256(bag);
              put_file(bag / "data/a.txt", "eno");
          }) == "bag-altered");
}

TEST_CASE("nothing is fetched (RFC 8493, 2.2.3 and 5.2)", "[bag]") {
    CHECK(after([](const fs::path& bag) { put_file(bag / "fetch.txt", "https://example.org/x 3 data/x.txt\n"); }) ==
          "bag-fetch");
}

TEST_CASE("links and special files are refused (RFC 8493, 5.1)", "[bag]") {
    CHECK(after([](const fs::path& bag) {
              fs::remove(bag / "data/a.txt");
              fs::create_symlink("/etc/passwd", bag / "data/a.txt");
          }).substr(0, 16) == "bag-special-file");
    CHECK(after([](const fs::path& bag) { fs::create_directory_symlink("/", bag / "data/out"); }) ==
          "bag-special-file");
    CHECK(after([](const fs::path& bag) {
              REQUIRE(std::system(("mkfifo '" + (bag / "data/pipe").string() + "'").c_str()) == 0);
          }) == "bag-special-file");
}

TEST_CASE("names that other systems confuse are told (RFC 8493, section 6)", "[bag]") {
    // The file came back from a system that decomposes names: e with acute as two code points.
    CHECK(after([](const fs::path& bag) {
              fs::rename(bag / "data/sub/50%\xC3\xA9.txt", bag / "data/sub/50%e\xCC\x81.txt");
          }) == "bag-other-form bag-extra-file");
    CHECK(after([](const fs::path& bag) { fs::rename(bag / "data/a.txt", bag / "data/A.txt"); }) ==
          "bag-other-form bag-extra-file");
    // Two names in one bag that fall together elsewhere.
    CHECK(after([](const fs::path& bag) {
              fs::copy_file(bag / "data/a.txt", bag / "data/A.TXT");
              fs::remove(bag / "tagmanifest-sha512.txt");
              fs::remove(bag / "bag-info.txt");
              put_file(bag / "manifest-sha512.txt",
                       bytes_of(bag / "manifest-sha512.txt") + hash_of("one") + "  data/A.TXT\n");
          }) == "bag-alike-names");
}

TEST_CASE("sha512sum accepts the bag", "[bag]") {
    after([](const fs::path& bag) {
        // A name without encoded signs: sha512sum knows nothing of RFC 8493's encoding.
        fs::remove_all(bag);
        BagContent content;
        content.written["a b.txt"] = [](std::ostream& out) { out << "one"; };
        write_bag(bag, content);
        CHECK(std::system(("cd '" + bag.string() +
                           "' && sha512sum --quiet --strict -c manifest-sha512.txt tagmanifest-sha512.txt")
                              .c_str()) == 0);
        CHECK_THROWS(write_bag(bag, content));  // never into what is there
        BagContent out;
        out.written["../../x"] = [](std::ostream&) {};
        CHECK_THROWS(write_bag(bag / "other", out));
        CHECK_FALSE(fs::exists(bag.parent_path() / "x"));
    });
}
